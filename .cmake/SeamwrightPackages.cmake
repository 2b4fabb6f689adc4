# SPDX-License-Identifier: GPL-3.0-or-later
# Libraries that pkg-config knows, by the same names for the build and for who uses the installed library.
pkg_check_modules(tomlplusplus REQUIRED IMPORTED_TARGET tomlplusplus)
pkg_check_modules(muparser REQUIRED IMPORTED_TARGET muparser)
pkg_check_modules(sodium REQUIRED IMPORTED_TARGET libsodium)
pkg_check_modules(sqlite REQUIRED IMPORTED_TARGET sqlite3)
pkg_check_modules(postgres REQUIRED IMPORTED_TARGET libpq)
