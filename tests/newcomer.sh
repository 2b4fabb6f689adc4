#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# newcomer.sh ROOT: walks a new user's path on a bare Debian 12 made by debootstrap: the two commands of the README from a clone, the
# invented workshop, a frame of one's own. Prints how long each step took, and every surprise: an exit code, a word or a file that was not to
# be expected. Ends with 1 when there was any. As root, with a mirror at hand (SEAMWRIGHT_MIRROR).
set -eu
root=$1 clean=$root/.build/newcomer
mkdir -p "$root/.build"
mountpoint -q "$clean/proc" && umount "$clean/proc"
rm -rf "$clean"
debootstrap --variant=minbase --include=ca-certificates bookworm "$clean" "${SEAMWRIGHT_MIRROR:-http://deb.debian.org/debian}" > "$root/.build/newcomer.log" || {
  tail -n 20 "$root/.build/newcomer.log"; exit 1; }
git -C "$root" archive --prefix=home/new/seamwright/ HEAD | tar -x -C "$clean"
mount -t proc proc "$clean/proc"
trap 'umount "$clean/proc"' EXIT
surprises=0
surprise() { surprises=$((surprises + 1)); printf 'SURPRISE: %s\n' "$*"; }
inside() { chroot "$clean" env -i PATH=/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin HOME=/home/new sh -c "cd /home/new && $1"; }
step() { # NAME EXIT COMMAND [WORDS THAT MUST COME]
  begun=$(date +%s) code=0
  inside "$3" > "$clean/out" 2> "$clean/err" || code=$?
  printf '%5d s  exit %d  %4d lines  %s\n' $(($(date +%s) - begun)) "$code" "$(wc -l < "$clean/out")" "$1"
  [ "$code" = "$2" ] || { surprise "$1: exit $code, not $2"; tail -n 5 "$clean/err"; }
  [ -z "${4:-}" ] || grep -q "$4" "$clean/out" || surprise "$1 does not say: $4"
}
program=/home/new/seamwright/.build/release/app/cli/seamwright
step "app/run: set-up, build, rating" 1 "seamwright/app/run" "Most effective measures"
grep -q "packages" "$clean/err" || surprise "app/run does not say what it installs"
[ -s "$clean/home/new/orchard-trike-rating.html" ] || surprise "app/run left no page"
step "app/run again" 1 "seamwright/app/run" "Most effective measures"
[ "$(inside 'cd seamwright && find . -newer README.md -not -path "./.build/*" -type f | grep -v CMakePresets.json | wc -l')" = 0 ] || surprise "the tree was written to"
step "by a symbolic link" 0 "ln -sf /home/new/seamwright/app/run /usr/local/bin/trike && trike --version"
ln -sf "$program" "$clean/usr/local/bin/seamwright"
step "demo" 0 "seamwright demo workshop" "Try first"
step "rate the demonstration" 1 "seamwright rate workshop/trike --method spectral" "Further details"
step "rate its redesign" 0 "seamwright rate workshop/trike-b --method spectral"
step "compare both" 1 "seamwright compare workshop/trike workshop/trike-b --method spectral"
step "gaps of a frame" 1 "seamwright gaps OT-0001 --book workshop/shop.book"
step "a recorded ride" 0 "seamwright ride workshop/samples/ride.csv"
step "own frame" 0 "seamwright new mine --wheelbase 1300 --track 820"
step "own frame rated" 1 "seamwright rate mine --method spectral --html mine.html" "Most effective measures"
step "own frame: what would help" 1 "seamwright suggest mine --weld W10.L --method spectral"
step "a misspelt command" 2 "seamwright raet mine"
grep -q "nearest: rate" "$clean/err" || surprise "no nearest command"
printf '%d surprises\n' "$surprises"
[ "$surprises" = 0 ]
