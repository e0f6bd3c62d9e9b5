#!/usr/bin/env bash
# Installs what is missing, builds the program, and makes everything for the workshop of the example:
# drill guides, paper templates, key cups and records, in examples/out/.
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

count() { find "$1" -path "$2" -type f 2>/dev/null | wc -l; }

first=
printf '\n%-22s %9s %7s %5s\n' "in $out/" templates guides cups
for record in "$out"/*/record.json; do
  [ -e "$record" ] || continue
  dir=$(dirname "$record")
  printf '%-22s %9d %7d %5d\n' "$(basename "$dir")" "$(count "$dir" '*/templates/*.svg')" \
    "$(count "$dir" '*/guides/*.stl')" "$(count "$dir" '*/cups/*.stl')"
  [ -n "$first" ] || first=$(find "$dir/templates" -name '*.svg' 2>/dev/null | sort | head -n 1)
done
[ -n "$first" ] && printf '\nOpen first: %s\n' "$first"
exit "$status"
