-- SPDX-License-Identifier: GPL-3.0-or-later
-- A record book on a server: the tables of a file book, and rows that refuse what no station may do. Run once, by the account that is to
-- own the book, in a database of its own in UTF-8.
CREATE SCHEMA seamwright;
SET LOCAL search_path = seamwright, pg_temp;

CREATE TABLE book(id TEXT COLLATE "C" PRIMARY KEY);
CREATE TABLE entry(seq BIGINT PRIMARY KEY, time TEXT COLLATE "C" NOT NULL, author TEXT COLLATE "C" NOT NULL, kind TEXT COLLATE "C" NOT NULL,
  payload TEXT COLLATE "C" NOT NULL, prev TEXT COLLATE "C" NOT NULL, hash TEXT COLLATE "C" NOT NULL UNIQUE, signature TEXT COLLATE "C" NOT NULL);
CREATE TABLE statement(seq BIGINT PRIMARY KEY, seen TEXT COLLATE "C" NOT NULL, links TEXT COLLATE "C" NOT NULL);
CREATE TABLE attachment(sha256 TEXT COLLATE "C" PRIMARY KEY, bytes BYTEA NOT NULL);
-- These follow from the entries, or stand beside them.
CREATE TABLE person(id TEXT COLLATE "C" PRIMARY KEY, stamp TEXT COLLATE "C" NOT NULL, role TEXT COLLATE "C" NOT NULL,
  public_key TEXT COLLATE "C" NOT NULL, since BIGINT NOT NULL, revoked BIGINT NOT NULL);
CREATE TABLE mark(name TEXT COLLATE "C", value TEXT COLLATE "C", seq BIGINT, PRIMARY KEY(name, value, seq));
CREATE TABLE carried(name TEXT COLLATE "C", value TEXT COLLATE "C", frame TEXT COLLATE "C", PRIMARY KEY(name, value, frame));
CREATE INDEX carried_frame ON carried(frame);
CREATE TABLE replaced(seq BIGINT PRIMARY KEY, by BIGINT NOT NULL);
CREATE TABLE sealed_key(person TEXT COLLATE "C" PRIMARY KEY, sealed TEXT COLLATE "C" NOT NULL);
CREATE TABLE personal(person TEXT COLLATE "C" PRIMARY KEY, salt TEXT COLLATE "C" NOT NULL, details TEXT COLLATE "C" NOT NULL);
CREATE TABLE draft(id BIGINT GENERATED ALWAYS AS IDENTITY PRIMARY KEY, person TEXT COLLATE "C" NOT NULL, time TEXT COLLATE "C" NOT NULL,
  kind TEXT COLLATE "C" NOT NULL, payload TEXT COLLATE "C" NOT NULL);
-- Who writes locks this one; a lock of a table is held before a transaction has seen anything, so that it sees what the last writer left.
CREATE TABLE turn();
-- An account of the server writes entries of these people alone.
CREATE TABLE account(login NAME, person TEXT COLLATE "C", PRIMARY KEY(login, person));

CREATE FUNCTION only_grows() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'rows of % are only ever added', TG_TABLE_NAME USING ERRCODE = 'insufficient_privilege';
END $$;
CREATE TRIGGER only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON book FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
CREATE TRIGGER only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON entry FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
CREATE TRIGGER only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON statement FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
CREATE TRIGGER only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON attachment FOR EACH STATEMENT EXECUTE FUNCTION only_grows();

CREATE FUNCTION follows() RETURNS trigger LANGUAGE plpgsql SET search_path = seamwright, pg_temp AS $$
DECLARE
  before RECORD;
BEGIN
  IF NOT pg_has_role(session_user, (SELECT relowner FROM pg_class WHERE oid = TG_RELID), 'MEMBER')
     AND NOT EXISTS (SELECT FROM account WHERE login = session_user AND person = NEW.author) THEN
    RAISE EXCEPTION 'account % does not write for %', session_user, NEW.author USING ERRCODE = 'insufficient_privilege';
  END IF;
  SELECT seq, hash INTO before FROM entry ORDER BY seq DESC LIMIT 1;
  IF NEW.seq <> coalesce(before.seq, 0) + 1 OR NEW.prev <> coalesce(before.hash, '') THEN
    RAISE EXCEPTION 'entry % does not follow the last one', NEW.seq USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER follows BEFORE INSERT ON entry FOR EACH ROW EXECUTE FUNCTION follows();

CREATE FUNCTION of_last() RETURNS trigger LANGUAGE plpgsql SET search_path = seamwright, pg_temp AS $$
BEGIN
  IF NEW.seq IS DISTINCT FROM (SELECT max(seq) FROM entry) THEN
    RAISE EXCEPTION 'statement % is not of the last entry', NEW.seq USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER of_last BEFORE INSERT ON statement FOR EACH ROW EXECUTE FUNCTION of_last();
