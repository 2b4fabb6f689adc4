#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# fuzz.sh ROOT TARGET: fuzzes one reader for SEAMWRIGHT_FUZZ_SECONDS (ten minutes). Inputs that reach something new go to
# .build/fuzz-found/TARGET; one that breaks a promise is left there as crash-*, and ends this with a failure.
set -eu
root=$1 target=$2 seconds=${SEAMWRIGHT_FUZZ_SECONDS:-600}
found="$root/.build/fuzz-found/$target"
mkdir -p "$found/new"
cd "$found"
printf 'fuzzing %s for %s s\n' "$target" "$seconds"
SEAMWRIGHT_FUZZ=$target "$root/.build/fuzz/tests/fuzz/fuzz_readers" -max_len=20000 -timeout=20 -rss_limit_mb=4096 \
  -max_total_time="$seconds" -print_final_stats=1 "$found/new" "$root/tests/fuzz/corpus/$target" 2> log || {
  tail -n 30 log
  printf 'broken: %s, see %s\n' "$target" "$found"
  exit 255 # xargs starts no more
}
printf '%s: %s\n' "$target" "$(grep -o 'number_of_executed_units: .*' log)"
