#!/bin/bash
# Runs test programs and scripts, as many at once as there are processors, and adds up what they say.
#
#   scripts/run-tests.sh LOGS TEST...
#
# Each test speaks the Test Anything Protocol: a plan '1..N', then 'ok' and 'not ok' lines; cmocka does when asked.
# A test that says less than it planned, plans nothing, crashes or hangs counts as failed. Each has an empty folder
# of its own in TMPDIR. UNDER is put before each command (valgrind). The last line is 'N passed, N failed'.
set -uo pipefail
logs=$1
shift
rm -rf "$logs"
mkdir -p "$logs"
export CMOCKA_MESSAGE_OUTPUT=TAP
export LSAN_OPTIONS="suppressions=$PWD/tests/lsan.supp:print_suppressions=0"
export ASAN_OPTIONS="detect_stack_use_after_return=1:strict_string_checks=1"
export UBSAN_OPTIONS="print_stacktrace=1"
export FILLMARK_DATA="${FILLMARK_DATA:-$PWD}"

run_one() {
	local name=${1//\//_} started=$EPOCHREALTIME
	local log=$logs/$name
	mkdir -p "$log.tmp"
	TMPDIR=$PWD/$log.tmp timeout -k 5 "${TEST_SECONDS:-300}" ${UNDER:-} "$1" >"$log.out" 2>"$log.err" </dev/null
	echo "$? $(((${EPOCHREALTIME/./} - ${started/./}) / 1000))" >"$log.status"
	rm -rf "$log.tmp"
}
export -f run_one
export logs
printf '%s\0' "$@" | LC_ALL=C xargs -0 -r -P "$(nproc)" -I{} bash -c 'run_one "$1"' run {}

passed=0 failed=0 skipped=0
for test in "$@"; do
	log=$logs/${test//\//_}
	read -r status milliseconds <"$log.status"
	planned=$(sed -n 's/^1\.\.\([0-9]*\).*/\1/p' "$log.out" | head -n 1)
	skips=$(grep -cE '^(not )?ok .*# SKIP' "$log.out")
	good=$(grep -E '^ok ' "$log.out" | grep -vc '# SKIP')
	bad=$(grep -E '^not ok ' "$log.out" | grep -vc '# SKIP')
	missing=$((${planned:-0} - skips - good - bad))
	complaint=
	if [ "$missing" -gt 0 ]; then
		complaint="$missing of $planned tests did not report"
		bad=$((bad + missing))
	elif [ "${planned:-0}" -eq 0 ]; then
		complaint="ran no test"
		bad=$((bad + 1))
	elif [ "$status" -ne 0 ] && [ "$bad" -eq 0 ]; then
		complaint="all tests passed, yet it ended badly"
		bad=1
	fi
	[ "$status" -eq 124 ] && complaint="$complaint, stopped after ${TEST_SECONDS:-300} seconds"
	printf '%-48s %4d passed, %d failed%s  %6d ms\n' "${test#build/*/}" "$good" "$bad" \
		"$([ "$skips" -gt 0 ] && echo ", $skips skipped")" "$milliseconds"
	if [ "$bad" -gt 0 ]; then
		[ -n "$complaint" ] && echo "    $complaint (exit status $status)"
		grep -E -A 20 '^not ok |^# ' "$log.out" | grep -vE '^(ok |--|1\.\.)|# SKIP' | head -n 60 | sed 's/^/    /'
		head -n 60 "$log.err" | sed 's/^/    /'
	fi
	passed=$((passed + good)) failed=$((failed + bad)) skipped=$((skipped + skips))
done
echo "$passed passed, $failed failed$([ "$skipped" -gt 0 ] && echo ", $skipped skipped")"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
