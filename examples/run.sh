#!/usr/bin/env bash
# Installs what is missing, builds the program, and makes everything for the workshop of the example: drill guides,
# paper templates, key cups and records, in examples/out/. The program prints the table of what it made.
set -uo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
# shellcheck source=tests/setup.sh
. "$root/tests/setup.sh"
cd "$root" || exit 1

ensure_packages || exit 1
build culmwright || exit 1

out=examples/out
build/release/exporters/culmwright make examples/workshop/workshop.json --out "$out"
status=$?

# The first file of a kind, and what it is.
show() {
  local file
  file=$(find "$out" -path "$out/$1" -type f 2>/dev/null | sort | head -n 1)
  [ -n "$file" ] && printf '  %-46s %s\n' "$file" "$2"
}

printf '\n%d files in %s/. Open first:\n' "$(find "$out" -type f 2>/dev/null | wc -l)" "$out"
show '*/survey.svg' "the piece as measured"
show '*/templates/*.pdf' "the paper to wrap around it, at true size"
show '*/mock-up/patches.pdf' "outlines to cut from foam and feel"
show '*/guides/*.stl' "a drill guide, as it lies on the printer"
show '*/cups/*.stl' "a key cup"
show '*/tube.step' "the finished tube, for a CAD program"
show '*/record.json' "every number of it"
exit "$status"
