# SPDX-License-Identifier: GPL-3.0-or-later
# Shared by app/run and tests/run: packages, presets, configure, build. Sourced, with $root set. Failure to set up exits 4.
# Messages go to stderr: stdout belongs to results.

say() { printf '%s\n' "$*" >&2; }
fail_setup() { say "set-up failed: $*"; exit 4; }

# What apt is about to do: so many packages, so much to fetch, so much on the disk.
told_by_apt() {
  LC_ALL=C apt-get install --print-uris -y --no-install-recommends "$@" 2>/dev/null | sed -n \
    -e 's/^.* \([0-9][0-9]*\) newly installed.*/packages: \1/p' \
    -e 's/^Need to get \([^/]* [kM]B\).*of archives.*/, \1 to fetch/p' \
    -e 's/^After this operation, \(.* [kM]B\) of additional disk space.*/, \1 on the disk/p' | tr -d '\n'
}

need_packages() {
  command -v dpkg-query >/dev/null || fail_setup "this needs Debian or a relative (dpkg-query is missing)"
  missing=
  for package in "$@"; do
    status=$(dpkg-query -W -f '${db:Status-Abbrev}' "$package" 2>/dev/null) || status=
    case "$status" in ii*) ;; *) missing="$missing $package" ;; esac
  done
  [ -n "$missing" ] || return 0
  sudo=
  if [ "$(id -u)" != 0 ]; then
    command -v sudo >/dev/null || fail_setup "not root and no sudo; install by hand:$missing"
    sudo=sudo
    say "Packages are missing; sudo may ask for your password to install them."
  fi
  export DEBIAN_FRONTEND=noninteractive
  # Another apt is waited for, ten minutes at most; apt says so.
  apt="apt-get -o DPkg::Lock::Timeout=600 -o APT::Get::Lock::Timeout=600"
  say "Reading which packages there are."
  $sudo $apt update > /dev/null || fail_setup "apt-get could not read the lists of packages"
  # shellcheck disable=SC2086
  say "Installing ($(told_by_apt $missing)):$(printf '%s' "$missing" | tr -s ' \n' ' ')"
  # shellcheck disable=SC2086
  $sudo $apt install -y -q --no-install-recommends $missing >&2 || fail_setup "apt-get could not install:$missing"
}

# CMake wants this file at the top; the presets themselves stand in .cmake/presets.json.
write_presets() {
  [ -f "$root/CMakePresets.json" ] ||
    printf '{ "version": 4, "include": [".cmake/presets.json"] }\n' 2>/dev/null > "$root/CMakePresets.json" ||
    fail_setup "cannot write $root/CMakePresets.json"
}

# One line that is written anew on a terminal; elsewhere a line for each tenth.
show_progress() { # WHAT
  started=$(date +%s) tenth=0
  while IFS= read -r line; do
    case "$line" in "["[1-9]*/[1-9]*"]"*) ;; *) continue ;; esac
    step=${line#[} step=${step%%]*}
    now=${step%%/*} all=${step#*/}
    seconds=$(($(date +%s) - started))
    left=$((seconds * (all - now) / now))
    if [ -t 2 ]; then
      printf '\r%s: %s of %s, about %s min %02d s left \033[K' "$1" "$now" "$all" $((left / 60)) $((left % 60)) >&2
    elif [ $((now * 10 / all)) -gt $tenth ]; then
      tenth=$((now * 10 / all))
      say "$1: $now of $all after $seconds s"
    fi
  done
  [ ! -t 2 ] || printf '\r\033[K' >&2
}

# Built means that nothing it is made of, and no setting, has changed since.
is_built() { # PRESET NAME
  stamp="$root/.build/$1.$2.built"
  [ -f "$stamp" ] && [ ! "$root/.build/$1/CMakeCache.txt" -nt "$stamp" ] && [ -z "$(cd "$root" && find CMakeLists.txt .cmake app engine catalog reports tests -newer "$stamp" ! -name '*.pyc' ! -type d -print -quit)" ]
}

# build PRESET [TARGET...]: configures and builds; the log stands in .build/PRESET.log and its end is shown when it fails.
build() {
  preset=$1
  shift
  name=$(printf '%s' "${*:-all}" | tr ' ' '+')
  ! is_built "$preset" "$name" || return 0
  log="$root/.build/$preset.log" outcome="$root/.build/$preset.outcome"
  if [ -e "$root/.build" ] && [ ! -w "$root/.build" ]; then
    fail_setup "$root/.build was made by $(stat -c %U "$root/.build"): run this as that user, or in a copy of the tree of your own"
  fi
  mkdir -p "$root/.build" || fail_setup "cannot write $root/.build"
  say "Building $name ($preset) on $(nproc) cores; the log stands in .build/$preset.log."
  if [ ! -f "$root/.build/$preset/.ninja_log" ]; then
    case "$name" in all) minutes=16 ;; *) minutes=10 ;; esac # of processor time, measured on two cores
    say "The first time takes about $(((minutes + $(nproc) - 1) / $(nproc))) min."
  fi
  (cd "$root" && cmake --preset "$preset") > "$log" 2>&1 || { tail -n 40 "$log" >&2; fail_setup "CMake could not configure"; }
  : > "$outcome.begun"
  { (cd "$root" && cmake --build --preset "$preset" ${1:+--target "$@"}) 2>&1 && echo built > "$outcome" || echo failed > "$outcome"; } |
    tee -a "$log" | show_progress "building"
  [ "$(cat "$outcome")" = built ] || { tail -n 40 "$log" >&2; fail_setup "the build failed"; }
  mv "$outcome.begun" "$root/.build/$preset.$name.built" # as old as the build's beginning: what changed meanwhile is built again
}

build_packages="g++ cmake ninja-build pkg-config libeigen3-dev libspectra-dev libboost-dev catch2 libtomlplusplus-dev
  libmuparser-dev nlohmann-json3-dev libcli11-dev libfmt-dev libsodium-dev libsqlite3-dev libpq-dev qt6-base-dev libqt6opengl6-dev qt6-svg-dev libqrencode-dev libocct-modeling-algorithms-dev libocct-data-exchange-dev libtbb-dev libgmsh-dev libsuitesparse-dev libopenblas0-serial libfontconfig-dev fonts-liberation fonts-dejavu-core librapidcheck-dev libbenchmark-dev pybind11-dev python3-dev"
test_packages="postgresql calculix-ccx gmsh openssl xvfb libgl1-mesa-dri poppler-utils zbar-tools slurm-wlm munge python3-numpy python3-pytest python3-scipy hunspell hunspell-en-gb hunspell-de-de"
