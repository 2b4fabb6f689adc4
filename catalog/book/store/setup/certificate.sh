#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# certificate.sh HOST [LOGIN...]: an authority of the shop's own, the server's certificate for HOST, and one for each account. Run it
# where nobody else reads; authority.key then goes to a drawer. On the server: server.crt, server.key and authority.crt into the data
# folder, owned by postgres; in postgresql.conf ssl = on, ssl_ca_file = 'authority.crt', ssl_min_protocol_version = 'TLSv1.3'; in
# pg_hba.conf one line only:   hostssl seamwright all samenet cert
set -eu
umask 077
host=$1
shift
sign() { # NAME EXTENSION
  openssl req -new -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -keyout "$1.key" -subj "/CN=$3" -out "$1.csr"
  printf '%s\n' "$2" > "$1.ext"
  openssl x509 -req -in "$1.csr" -CA authority.crt -CAkey authority.key -CAcreateserial -days 825 -extfile "$1.ext" -out "$1.crt"
  rm "$1.csr" "$1.ext"
}
[ -f authority.crt ] ||
  openssl req -x509 -new -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 3650 -subj "/CN=record book authority" -keyout authority.key -out authority.crt
[ -f server.crt ] || sign server "subjectAltName = DNS:$host" "$host"
for login in "$@"; do
  sign "account-$login" "extendedKeyUsage = clientAuth" "$login"
done
