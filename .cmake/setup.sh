# SPDX-License-Identifier: GPL-3.0-or-later
# Shared by app/run and tests/run: packages, presets, configure, build. Sourced, with $root set. Failure to set up exits 4.
# Messages go to stderr: stdout belongs to results.

fail_setup() { printf 'set-up failed: %s\n' "$*" >&2; exit 4; }

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
  fi
  printf 'installing:%s\n' "$missing" >&2
  export DEBIAN_FRONTEND=noninteractive
  # shellcheck disable=SC2086
  { $sudo apt-get update && $sudo apt-get install -y --no-install-recommends $missing; } >&2 ||
    fail_setup "apt-get could not install:$missing"
}

# CMake wants this file at the top; the presets themselves stand in .cmake/presets.json.
write_presets() {
  [ -f "$root/CMakePresets.json" ] ||
    printf '{ "version": 4, "include": [".cmake/presets.json"] }\n' > "$root/CMakePresets.json" ||
    fail_setup "cannot write CMakePresets.json"
}

# build PRESET [TARGET...]: configures and builds; the log stands in .build/PRESET.log and is shown when it fails.
build() {
  preset=$1
  shift
  log="$root/.build/$preset.log"
  mkdir -p "$root/.build" || fail_setup "cannot write $root/.build"
  printf 'building (%s); the log stands in .build/%s.log\n' "$preset" "$preset" >&2
  (cd "$root" && cmake --preset "$preset" && cmake --build --preset "$preset" ${1:+--target "$@"}) > "$log" 2>&1 || {
    tail -n 40 "$log" >&2
    fail_setup "the build failed"
  }
}

build_packages="g++ cmake ninja-build pkg-config libeigen3-dev libspectra-dev libboost-dev catch2 libtomlplusplus-dev
  libmuparser-dev nlohmann-json3-dev libcli11-dev libfmt-dev libsodium-dev libsqlite3-dev qt6-base-dev libqt6opengl6-dev qt6-svg-dev libqrencode-dev libocct-modeling-algorithms-dev libocct-data-exchange-dev libtbb-dev libgmsh-dev libsuitesparse-dev libopenblas0-serial fonts-liberation fonts-dejavu-core librapidcheck-dev libbenchmark-dev"
test_packages="calculix-ccx gmsh openssl xvfb libgl1-mesa-dri poppler-utils zbar-tools slurm-wlm munge python3-numpy python3-scipy"
