#!/usr/bin/env bash
# Installs the build into a folder of its own, looks at what came, and builds a small outside project against it.
# Usage: install_test.sh BUILD SOURCE
set -euo pipefail
build=$1 source=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
there() { [ -s "$work/usr/$1" ] || { echo "not installed: $1" >&2; exit 1; }; }

cmake --install "$build" --prefix "$work/usr" >"$work/install.log"
there bin/culmwright
there share/man/man1/culmwright.1
there share/bash-completion/completions/culmwright
there share/culmwright/templates/tube.json
there share/culmwright/templates/schema/tube.schema.json

# The page for man has no fault that its formatter would warn of, and tells of every command.
groff -man -Tutf8 -ww -z "$work/usr/share/man/man1/culmwright.1" 2>"$work/man.log"
[ ! -s "$work/man.log" ] || { cat "$work/man.log" >&2; exit 1; }
for command in new survey propose check template guide make; do
  grep -q "^\.SS $command\$" "$work/usr/share/man/man1/culmwright.1"
done

# Completion, as bash would ask for it.
completed() {
  bash -c '. "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _culmwright; echo "${COMPREPLY[@]}"' \
    bash "$work/usr/share/bash-completion/completions/culmwright" "$@"
}
[ "$(completed culmwright ran)" = rank ]
[ "$(completed culmwright survey --pap)" = --paper ]
[ "$(completed culmwright survey --paper l)" = letter ]

cmake -S "$source/tests/install/outside_project" -B "$work/outside" -DCMAKE_PREFIX_PATH="$work/usr" >"$work/outside.log"
cmake --build "$work/outside" >>"$work/outside.log" || { cat "$work/outside.log" >&2; exit 1; }
girth=$("$work/outside/outside" "$source/examples/workshop/tubes/pipe-01.json")
echo "girth of the straight pipe at 100: $girth"
