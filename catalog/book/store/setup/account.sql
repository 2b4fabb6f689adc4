-- SPDX-License-Identifier: GPL-3.0-or-later
-- One account for each person: psql -v login=anna -v person=W-A -f account.sql. `person` is the id in the book, and the account writes
-- entries of that person alone; run the last line again for a station that several people share. It has no password: the certificate of
-- the same name (certificate.sh) opens it, or set one by \password, which shows it to nobody. Who only looks gets seamwright_reader.
CREATE ROLE :"login" LOGIN IN ROLE seamwright_station;
INSERT INTO seamwright.account VALUES(:'login', :'person');
