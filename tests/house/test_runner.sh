#!/bin/bash
# The test runner must count what fails in every way a test program can fail.
set -uo pipefail
. tests/support/tap.sh
runner=$PWD/scripts/run-tests.sh
cd "$scratch" || exit

# closes STATUS LINE NAME BODY: a run of one program with this body ends with this status and this last line.
closes() {
	local status
	printf '#!/bin/bash\n%s\n' "$4" >program
	chmod +x program
	TEST_SECONDS=2 "$runner" logs ./program >said 2>&1
	status=$?
	[ $status -eq "$1" ] && [ "$(tail -n 1 said)" = "$2" ]
	result $? "$3"
}

closes 0 "2 passed, 0 failed" "two good tests" 'echo 1..2; echo "ok 1 - a"; echo "ok 2 - b"'
closes 1 "1 passed, 1 failed" "a failed test" 'echo 1..2; echo "ok 1 - a"; echo "not ok 2 - b"; exit 1'
closes 1 "1 passed, 1 failed" "a failed test that exits well" 'echo 1..2; echo "ok 1 - a"; echo "not ok 2 - b"'
closes 1 "1 passed, 2 failed" "a crash half-way" 'echo 1..3; echo "ok 1 - a"; kill -SEGV $$'
closes 1 "1 passed, 1 failed" "a bad ending after good tests" 'echo 1..1; echo "ok 1 - a"; exit 9'
closes 1 "0 passed, 1 failed" "a program that plans nothing" 'true'
closes 1 "0 passed, 1 failed" "a program that says nothing and fails" 'exit 3'
closes 1 "0 passed, 1 failed" "a program that hangs" 'echo 1..1; sleep 60'
closes 0 "1 passed, 0 failed, 1 skipped" "a skipped test" 'echo 1..2; echo "ok 1 - a"; echo "ok 2 - b # SKIP no"'
closes 1 "0 passed, 0 failed, 1 skipped" "nothing but skips" 'echo 1..1; echo "not ok 1 # SKIP a"'
tap_end
