#!/bin/bash
# The set-up installs what is missing, only that, and says so; stand-ins for the package tools record what they are told.
set -uo pipefail
. tests/support/tap.sh
setup=$PWD/scripts/setup.sh
bin=$scratch/bin
mkdir "$bin"
for tool in bash env grep rm; do ln -s "$(command -v $tool)" "$bin/$tool"; done

# tool NAME: a stand-in for a command, its body on standard input.
tool() {
	{ echo '#!/bin/bash' && cat; } >"$bin/$1"
	chmod +x "$bin/$1"
}
tool dpkg-query <<<'case " $MISSING " in *" ${!#} "*) exit 1 ;; *) echo -n installed ;; esac'
tool apt-cache <<<'shift; for p in "$@"; do echo "$p:"; echo "  Candidate: $CANDIDATE"; done'
# While the file STALE is there the lists are old, and installing fails until they are refreshed.
tool apt-get <<<'echo "apt-get $*" >>"$RECORD"; [ "$1" = update ] && rm -f "$STALE"; [ ! -e "$STALE" ]'
tool id <<<'echo "$USER_ID"'

# run GROUP...: the set-up under the stand-ins; what apt-get was told is in $scratch/record.
run() {
	: >"$scratch/record"
	PATH=$bin RECORD=$scratch/record STALE=$scratch/stale "$setup" "$@" >"$scratch/said" 2>&1
}
install='apt-get install -y -q --no-install-recommends'
export MISSING= CANDIDATE=1.0 USER_ID=0

run build check
[ $? -eq 0 ] && [ ! -s "$scratch/record" ] && grep -q 'packages are there' "$scratch/said"
result $? "nothing missing: touches nothing and says so"

MISSING="libcyaml-dev" run build
[ "$(cat "$scratch/record")" = "$install libcyaml-dev" ] && grep -q 'installing libcyaml-dev' "$scratch/said"
result $? "installs the one that is missing and says which"

MISSING="libcmocka-dev" run build
[ $? -eq 0 ] && [ ! -s "$scratch/record" ]
result $? "building needs no test packages"

MISSING="libcyaml-dev qpdf" CANDIDATE='(none)' run build check
[ "$(cat "$scratch/record")" = $'apt-get update -q\n'"$install libcyaml-dev qpdf" ]
result $? "no lists yet: refreshes them first"

touch "$scratch/stale"
MISSING="qpdf" run check
[ $? -eq 0 ] && [ "$(cat "$scratch/record")" = "$install qpdf"$'\napt-get update -q\n'"$install qpdf" ]
result $? "old lists: refreshes them and tries again"

MISSING="qpdf" USER_ID=1000 run check
[ $? -eq 1 ] && [ ! -s "$scratch/record" ] && grep -q 'apt-get install qpdf' "$scratch/said"
result $? "neither root nor sudo: fails and names the command"

tool sudo <<<'echo "sudo" >>"$RECORD"; exec "$@"'
MISSING="qpdf" USER_ID=1000 run check
[ $? -eq 0 ] && [ "$(cat "$scratch/record")" = $'sudo\n'"$install qpdf" ]
result $? "not root: goes through sudo"

rm "$bin/dpkg-query"
run build
[ $? -eq 0 ] && [ ! -s "$scratch/record" ] && grep -q 'not a Debian system' "$scratch/said"
result $? "another system: says what must be there"

run nonsense
[ $? -eq 2 ]
result $? "an unknown group is a fault of the command line"
tap_end
