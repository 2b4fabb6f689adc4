SELECT c.relname AS object, 'column ' || a.attname || ' ' || format_type(a.atttypid, a.atttypmod) || CASE WHEN a.attnotnull THEN ' not null' ELSE '' END || ' ' || coalesce(k.collname, '') AS told
FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped LEFT JOIN pg_collation k ON k.oid = a.attcollation
WHERE n.nspname = 'seamwright' AND c.relkind <> 'i' AND c.relkind <> 'S'
UNION ALL SELECT c.relname, 'kind ' || c.relkind::text || CASE WHEN c.relrowsecurity OR c.relhasrules OR c.relhassubclass OR c.relpersistence <> 'p' THEN ' odd' ELSE '' END
FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname = 'seamwright' AND c.relkind NOT IN ('i', 'S')
UNION ALL SELECT i.relname, pg_get_indexdef(i.oid) || CASE WHEN x.indisvalid THEN '' ELSE ' invalid' END
FROM pg_index x JOIN pg_class i ON i.oid = x.indexrelid JOIN pg_namespace n ON n.oid = i.relnamespace WHERE n.nspname = 'seamwright'
UNION ALL SELECT c.relname, pg_get_triggerdef(t.oid) || ' ' || t.tgenabled::text
FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid JOIN pg_namespace n ON n.oid = c.relnamespace WHERE n.nspname = 'seamwright' AND NOT t.tgisinternal
UNION ALL SELECT p.proname, 'function ' || md5(p.prosrc) || CASE WHEN p.prosecdef THEN ' definer' ELSE '' END || ' ' || coalesce(p.proconfig::text, '')
FROM pg_proc p JOIN pg_namespace n ON n.oid = p.pronamespace WHERE n.nspname = 'seamwright'
ORDER BY 1, 2
