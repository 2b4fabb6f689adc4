#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs the library by itself, builds docs/example against it and runs it.
set -eu
source=$1 build=$2
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
cmake --install "$build" --component library --prefix "$place/usr" > /dev/null
[ "$(grep -cv '^ *//' "$source/docs/example/life.cpp")" -le 30 ] || { echo "the example has grown beyond 30 lines"; exit 1; }
cmake -G Ninja -S "$source/docs/example" -B "$place/build" -DCMAKE_PREFIX_PATH="$place/usr" > "$place/log" || { cat "$place/log"; exit 1; }
cmake --build "$place/build" > "$place/log" 2>&1 || { cat "$place/log"; exit 1; }
said=$("$place/build/life")
# By hand: W = pi/4 (r^4 - (r-t)^4) / r = 2161 mm3, 2 * 60 N m / W = 55.54 MPa, 10^11.855 / 55.54^3 = 4.18 million.
[ "$said" = "range 55.5 MPa, 4.18e+06 cycles" ] || { echo "said: $said"; exit 1; }
