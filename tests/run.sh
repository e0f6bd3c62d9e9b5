#!/usr/bin/env bash
# Installs what is missing, builds, and runs every test. The last line is "N passed, N failed".
set -uo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
# shellcheck source=tests/setup.sh
. "$root/tests/setup.sh"
cd "$root" || exit 1

ensure_packages tests || exit 1
build || exit 1

log=$(mktemp)
trap 'rm -f "$log"' EXIT
LC_ALL=C ctest --preset release -j2 --no-tests=error 2>&1 | tee "$log" | grep -v ' Passed ' | grep -v '^ *Start '
status=${PIPESTATUS[0]}

# "97% tests passed, 3 tests failed out of 120"; a test that could not be started counts as failed there.
summary=$(grep -E 'tests passed, [0-9]+ tests? failed out of [0-9]+' "$log" | tail -n 1)
total=$(sed -n 's/.* out of \([0-9]*\).*/\1/p' <<<"$summary")
failed=$(sed -n 's/.*passed, \([0-9]*\) tests* failed.*/\1/p' <<<"$summary")
if [ -z "$total" ] || [ -z "$failed" ]; then
  say "ctest gave no summary." >&2
  exit 1
fi
[ "$failed" -gt 0 ] && [ "$status" -eq 0 ] && status=1
say "$((total - failed)) passed, $failed failed"
exit "$status"
