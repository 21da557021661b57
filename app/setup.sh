# SPDX-License-Identifier: GPL-3.0-or-later
# What app/run and tests/run share: installing what is missing, configuring, building. Sourced, not run.
set -euo pipefail

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)

build_packages=(
  g++ cmake ninja-build ccache mold
  qt6-base-dev qt6-charts-dev qt6-svg-dev libqt6opengl6-dev libgl-dev libegl-dev libopengl-dev libegl1 libgl1-mesa-dri
  nlohmann-json3-dev libspdlog-dev libexpected-dev libcli11-dev libceres-dev
  libgtest-dev libbenchmark-dev libfcl-dev libglpk-dev fonts-dejavu-core
)
test_packages=(python3 python3-fluids python3-jsonschema python3-matplotlib python3-scipy assimp-testmodels)

as_root() {
  if [ "$(id -u)" -eq 0 ]; then
    "$@"
  elif command -v sudo >/dev/null; then
    sudo "$@"
  else
    echo "Packages are missing and neither root nor sudo is at hand. Install them and try again:" >&2
    echo "  $*" >&2
    exit 1
  fi
}

# Installs the named Debian packages that are not there yet; says nothing when all are.
install_missing() {
  local missing
  missing=$(comm -13 \
    <(dpkg-query -W -f='${db:Status-Abbrev} ${Package}\n' "$@" 2>/dev/null | awk '$1=="ii"{print $2}' | sort -u) \
    <(printf '%s\n' "$@" | sort -u))
  [ -z "$missing" ] && return 0
  echo "Installing: $(echo $missing)"
  local log
  log=$(mktemp)
  # shellcheck disable=SC2086
  { as_root apt-get update -qq && as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq \
    --no-install-recommends $missing; } >"$log" 2>&1 || {
    cat "$log" >&2
    echo "The packages could not be installed; what apt-get said stands above." >&2
    exit 1
  }
  rm -f "$log"
}

# Configures a preset if need be and builds the named targets (all when none is named).
build() {
  local preset=$1
  shift
  cd "$root"
  if [ ! -f "build/$preset/build.ninja" ]; then
    cmake --preset "$preset" >"/tmp/bellmouth-configure.$$" 2>&1 || {
      cat "/tmp/bellmouth-configure.$$"
      rm -f "/tmp/bellmouth-configure.$$"
      return 1
    }
    rm -f "/tmp/bellmouth-configure.$$"
  fi
  if [ $# -gt 0 ]; then
    cmake --build "build/$preset" --target "$@"
  else
    cmake --build "build/$preset"
  fi
}
