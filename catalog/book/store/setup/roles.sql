-- SPDX-License-Identifier: GPL-3.0-or-later
-- Run once after schema.sql, by the account that owns the tables and may create roles. Nobody is given UPDATE or DELETE of entries,
-- statements and files; the owner's own is refused by triggers.
CREATE ROLE seamwright_station NOLOGIN;
CREATE ROLE seamwright_reader NOLOGIN;
REVOKE ALL ON SCHEMA seamwright FROM PUBLIC;
REVOKE ALL ON ALL TABLES IN SCHEMA seamwright FROM PUBLIC;
GRANT USAGE ON SCHEMA seamwright TO seamwright_station, seamwright_reader;
GRANT SELECT ON ALL TABLES IN SCHEMA seamwright TO seamwright_station, seamwright_reader;
-- Only ever added:
GRANT INSERT ON seamwright.entry, seamwright.statement, seamwright.attachment TO seamwright_station;
-- These follow from the entries, or stand beside them; `book verify` holds them against the entries.
GRANT INSERT, UPDATE, DELETE ON seamwright.person, seamwright.mark, seamwright.carried, seamwright.replaced TO seamwright_station;
GRANT INSERT, UPDATE ON seamwright.sealed_key TO seamwright_station;
GRANT INSERT, UPDATE, DELETE ON seamwright.personal, seamwright.draft TO seamwright_station;
-- Whoever writes locks this table for a moment.
GRANT UPDATE ON seamwright.turn TO seamwright_station;
