#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The shipped program through its command line: exit codes, outputs, nothing left behind.
set -eu
program=$1
root=$2
demo="$root/catalog/examples/orchard-trike"
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
fail() { printf 'failed: %s\n' "$*" >&2; exit 1; }
expect() { # CODE NAME COMMAND...
  code=$1 name=$2
  shift 2
  got=0
  "$@" > "$folder/out" 2> "$folder/err" || got=$?
  [ "$got" = "$code" ] || { cat "$folder/err" >&2; fail "$name: exit $got, expected $code"; }
}
expect 1 "the demonstration has findings" "$program" rate "$demo" --method spectral --html "$folder/page.html"
grep -q 'falls short' "$folder/out" || fail "no verdict"
grep -q 'does not replace rig tests' "$folder/out" || fail "no caution on the terminal"
grep -q 'does not replace rig tests' "$folder/page.html" || fail "no caution on the page"
expect 1 "one weld explained" "$program" rate "$demo" --method spectral --weld W16 --explain
grep -q 'Table B-1' "$folder/out" || fail "no source in the explanation"
expect 1 "German" "$program" --language de rate "$demo" --method spectral
grep -q 'genügt nicht' "$folder/out" || fail "no German verdict"
expect 1 "JSON" "$program" rate "$demo" --method spectral --json
python3 -c 'import json,sys; d=json.load(open(sys.argv[1])); assert d["format"]=="seamwright.rating/1" and len(d["welds"])>=60 and d["failure_probability"] is None' "$folder/out" || fail "JSON"
expect 3 "missing job" "$program" rate "$folder/none" --html "$folder/left.html"
expect 3 "empty duty" "$program" rate "$demo" --duty /dev/null
expect 2 "no command" "$program"
expect 2 "wrong option" "$program" rate "$demo" --wrong
expect 0 "help" "$program" --help
[ ! -e "$folder/left.html" ] || fail "a file was left behind"
