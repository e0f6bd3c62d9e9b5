# shellcheck shell=bash
# Packages and build, shared by tests/run.sh and examples/run.sh. Sourced, not run:
#
#     root=<the checkout>; . "$root/tests/setup.sh"
#     ensure_packages          what the build needs; or: ensure_packages tests
#     build                    everything, or: build TARGET…
#
# Installs what is missing with apt-get where that is possible and allowed, and otherwise names it and stops.

packages=(
  g++ cmake ninja-build ccache
  libocct-foundation-dev libocct-modeling-data-dev libocct-modeling-algorithms-dev libocct-data-exchange-dev
  libtbb-dev libcgal-dev lib3mf-dev libcli11-dev nlohmann-json3-dev catch2 libeigen3-dev libglpk-dev libceres-dev libcairo2-dev libfreetype-dev fonts-dejavu-extra
)
programs=(g++ cmake ninja)  # by which the packages are known where dpkg is not

# The tests also hold the files that the program writes against other readers.
test_packages=(librsvg2-bin groff-base poppler-utils mupdf-tools fontconfig admesh gmsh libxml2-utils python3-jsonschema)
test_programs=(rsvg-convert pdftoppm mutool admesh gmsh xmllint)

say() { printf '%s\n' "$*"; }

missing_packages() {
  local name
  for name in "${packages[@]}"; do
    [ "$(dpkg-query -W -f '${db:Status-Status}' "$name" 2>/dev/null)" = installed ] || printf '%s\n' "$name"
  done
}

missing_programs() {
  local name
  for name in "${programs[@]}"; do
    command -v "$name" >/dev/null 2>&1 || printf '%s\n' "$name"
  done
}

name_what_is_needed() {
  say "Needed, by their names in Debian 12:" >&2
  say "  ${packages[*]}" >&2
}

ensure_packages() {
  local missing
  if [ "${1:-}" = tests ]; then
    packages+=("${test_packages[@]}")
    programs+=("${test_programs[@]}")
  fi
  if ! command -v dpkg-query >/dev/null 2>&1; then
    missing=$(missing_programs | tr '\n' ' ')
    [ -z "$missing" ] && return 0
    say "Not found: ${missing% }. There is no dpkg here to install it with." >&2
    name_what_is_needed
    return 1
  fi
  missing=$(missing_packages | tr '\n' ' ')
  [ -z "$missing" ] && return 0
  if ! command -v apt-get >/dev/null 2>&1; then
    say "Missing packages: ${missing% }. There is no apt-get here to install them with." >&2
    return 1
  elif [ "$(id -u)" -ne 0 ]; then
    say "Missing packages. Install them first, or run this as root:" >&2
    say "  sudo apt-get install --no-install-recommends $missing" >&2
    return 1
  else
    say "Installing: $missing"
    export DEBIAN_FRONTEND=noninteractive
    # One word a package.
    # shellcheck disable=SC2086
    apt-get update -qq && apt-get install -y -qq --no-install-recommends $missing >/dev/null
  fi
}

# Prints the end of the build's own output, and only when it fails.
quietly() {
  local log
  log=$(mktemp)
  if "$@" >"$log" 2>&1; then
    rm -f "$log"
    return 0
  fi
  tail -n 60 "$log" >&2
  rm -f "$log"
  say "Failed: $*" >&2
  return 1
}

build() {
  local target targets=()
  for target in "$@"; do targets+=(--target "$target"); done
  say "Building (the first time takes minutes) …"
  if ! quietly cmake -S "$root" --preset release; then
    name_what_is_needed
    return 1
  fi
  quietly cmake --build "$root/build/release" --parallel "$(nproc 2>/dev/null || echo 2)" "${targets[@]}"
}
