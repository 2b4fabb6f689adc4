#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Makes the packages, installs them on a clean Debian 12 made by debootstrap, and uses them there.
set -eu
root=$1
packages=$root/.build/packages clean=$root/.build/clean-root
rm -rf "$packages" "$clean"
(cd "$root/.build/release" && cpack -B "$packages" > "$packages.log") || { cat "$packages.log"; exit 1; }
debootstrap --variant=minbase bookworm "$clean" "${SEAMWRIGHT_MIRROR:-http://deb.debian.org/debian}" > "$packages.log" || {
  tail -n 20 "$packages.log"; exit 1; }
mkdir "$clean/debs"
cp "$packages"/*.deb "$clean/debs"
inside() { chroot "$clean" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin DEBIAN_FRONTEND=noninteractive "$@"; }
inside sh -c "apt-get install -y --no-install-recommends /debs/*.deb g++ cmake make" > "$packages.log" 2>&1 || {
  tail -n 40 "$packages.log"; exit 1; }
inside seamwright --version
inside seamwright new /tmp/job --name "Clean root"
status=0
inside seamwright rate /tmp/job --method spectral --pdf /tmp/rating.pdf > "$packages.log" || status=$?
[ "$status" = 1 ] || { echo "rate: exit $status"; exit 1; } # the demonstration's layout has findings
inside sh -c 'head -c 4 /tmp/rating.pdf | grep -q %PDF'
inside sh -c 'seamwright shape /tmp/job > /dev/null || [ $? = 1 ]'
inside seamwright export /tmp/job --out /tmp/frame.step
inside sh -c 'head -c 13 /tmp/frame.step | grep -q ISO-10303-21'
status=0
inside env QT_QPA_PLATFORM=offscreen HOME=/tmp timeout 5 seamwright-desktop /tmp/job || status=$?
[ "$status" = 124 ] || { echo "the window did not stay: exit $status"; exit 1; }
for file in man/man1/seamwright.1.gz applications/seamwright.desktop icons/hicolor/scalable/apps/seamwright.svg \
            mime/packages/seamwright.xml bash-completion/completions/seamwright zsh/vendor-completions/_seamwright; do
  inside sh -c "test -s /usr/share/$file || test -s /usr/share/${file%.gz}" || { echo "not installed: $file"; exit 1; }
done
inside sh -c 'cp -r /usr/share/doc/seamwright*/example /tmp/example && cd /tmp/example && cmake . > /dev/null && cmake --build . > /dev/null &&
  ./life && ./new_job /tmp/example-job && ./rate_job /tmp/example-job &&
  SEAMWRIGHT_WORKER=/usr/lib/seamwright/seamwright-worker ./solids /tmp/example-job'
ls -l "$packages"/*.deb
echo "packages install and run on a clean root; they stand in $packages"
