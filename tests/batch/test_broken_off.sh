#!/bin/bash
# A batch that is killed, interrupted, out of room or wrongly begun: what it made is whole, and it goes on to the same bytes.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh
. tests/support/batch.sh

intake few 24 --short --bad 20
ends 1 "a run of few rows" batch few one --jobs 1 --no-register --print-run
names_nobody "with a print run nobody is named" "$scratch/few/intake.csv" "$scratch/one" "$scratch/out" "$scratch/err"

# Twenty times it is killed, at moments spread over its length, and goes on.
seed=20
for ((kill = 1; kill <= 20; kill++)); do
	seed=$(((seed * 1103515245 + 12345) % 2147483648))
	batch_away few killed --jobs 2 --no-register --print-run --resume >/dev/null 2>&1 &
	run=$!
	sleep "0.$(printf %03d $((20 + seed / 65536 % 380)))"
	kill -KILL "$run" 2>/dev/null
	wait "$run" 2>/dev/null
	find "$scratch/killed" >>"$scratch/names" 2>/dev/null
done
half=$(find "$scratch/killed" -name '*.pdf' ! -name 'print-run*' -exec sh -c 'tail -c 6 "$1" | grep -q EOF || echo "$1"' - {} \;)
same "killed twenty times, no half packet stands under its name" "" "$half"
ends 1 "and with --resume it comes to its end" batch few killed --jobs 2 --no-register --print-run --resume
same_folder "with the same folder as an undisturbed one" one killed

# SIGINT goes unheard in a shell's background, so a child of python hears it.
interrupted() {
	python3 -c '
import os, signal, subprocess, sys, time
packets = sys.argv[1]
run = subprocess.Popen(sys.argv[2:], preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler))
while run.poll() is None and not (os.path.isdir(packets) and os.listdir(packets)):
    time.sleep(0.01)
run.send_signal(signal.SIGINT)
sys.exit(run.wait())' "$@"
}
ends 3 "Ctrl-C ends it with 3" interrupted "$scratch/broken-off/packets" "$program" batch \
	"$scratch/few/intake.csv" --map "$scratch/few/map.yaml" --clinic "$clinic" --out "$scratch/broken-off" \
	--as-of "$day" --jobs 1 --no-register --print-run
holds "and it says how to go on" "$scratch/err" "the same command with --resume goes on"
names_nobody "and names nobody" "$scratch/few/intake.csv" "$scratch/broken-off" "$scratch/out" "$scratch/err"
ends 1 "it goes on" batch few broken-off --jobs 2 --no-register --print-run --resume
same_folder "to the same folder" one broken-off

# What it leaves on the way has nobody's name in its own name.
names_nobody "no file that was there while it ran has a patient's name in its own" "$scratch/few/intake.csv" \
	"$scratch/killed" "$scratch/names"

# A worker that dies costs its patient a second try, and then that patient alone.
intake three 3 --short --bad 0
ends 0 "a run of three" batch three three-made --jobs 1 --no-register
batch_away three dying-once --jobs 1 --no-register >"$scratch/out" 2>"$scratch/err" &
run=$!
until worker=$(cat "/proc/$run/task/$run/children" 2>/dev/null) && [ -n "$worker" ] || ! kill -0 "$run" 2>/dev/null; do
	:
done
kill -SEGV ${worker:-}
wait "$run"
same "a worker that dies once costs nothing" "killed 0" "${worker:+killed} $?"
same_folder "but a second try" three-made dying-once
# workers_die RUN: kills each worker of it as soon as it is there, until the run ends; ends as that does.
workers_die() {
	local task
	while kill -0 "$1" 2>/dev/null; do
		for task in $(cat "/proc/$1/task/$1/children" 2>/dev/null); do
			kill -SEGV "$task" 2>/dev/null
		done
	done
	wait "$1"
}
# The sanitizer of leaks has a child of its own at the end, which is no worker.
ASAN_OPTIONS="${ASAN_OPTIONS:-}:detect_leaks=0" batch_away three dying --jobs 1 --no-register >"$scratch/out" 2>"$scratch/err" &
run=$!
workers_die "$run"
same "a run whose workers die all the time ends, with nothing made" 4 $?
same "and each patient is refused for it" "3" "$(grep -c 'worker-died' "$scratch/dying/refused.csv")"
names_nobody "and nobody is named" "$scratch/three/intake.csv" "$scratch/dying" "$scratch/out" "$scratch/err"
# A worker that dies after it saved leaves a packet that no ledger has, or half of one: as these would be.
ASAN_OPTIONS="${ASAN_OPTIONS:-}:detect_leaks=0" batch_away three dying-late --jobs 1 --no-register --name-by code \
	>"$scratch/out" 2>"$scratch/err" &
run=$!
until [ -d "$scratch/dying-late/plans" ] || ! kill -0 "$run" 2>/dev/null; do
	:
done
touch "$scratch/dying-late/"{packets/K7Q4-MX2T-9.pdf,plans/K7Q4-MX2T-9.yaml,packets/K7Q4-MX2T-9.pdf.Ab12Cd,packets/notes.txt}
workers_die "$run"
same "a run by code whose workers die ends the same way" 4 $?
same "and leaves no packet that no ledger has, but what is not its own" "notes.txt" \
	"$(ls -A "$scratch/dying-late/packets" "$scratch/dying-late/plans" | grep -v ':$' | grep .)"
same "what is refused and what is in the ledger is the same" \
	"$(sed 1d "$scratch/dying-late/refused.csv" | wc -l)" "$(grep -c ,refused, "$scratch/dying-late/ledger.csv")"

# --- What is refused before anything is made.

mkdir "$scratch/mine" && echo keep >"$scratch/mine/notes.txt"
ends 3 "a folder with other files ends with 3" batch few mine
holds "and says what to do" "$scratch/err" "holds other files; name an empty folder, or a new one" "[folder-in-use]"
same "and is left alone" "notes.txt keep" "$(ls -A "$scratch/mine") $(cat "$scratch/mine/notes.txt")"
ends 3 "a finished run is not run over" batch few one
holds "and the way to go on is named" "$scratch/err" "go on with it by --resume, or name another folder" "[folder-has-run]"
ends 3 "another intake does not go on in its folder" batch three one --resume --no-register --print-run
holds "and it says what differs" "$scratch/err" "the intake differs" "[run-differs]"
ends 3 "nor do other options" batch few one --resume --no-register
holds "and it says so" "$scratch/err" "an option differs" "[run-differs]"
(
	flock 9
	batch few one --resume --no-register --print-run >"$scratch/out" 2>"$scratch/err"
) 9<"$scratch/one"
holds "two runs in one folder" "$scratch/err" "has a run at work in it" "[run-at-work]"
ends 4 "a folder that is no finished run's is no earlier run" batch few never --previous "$scratch/few"
holds "and it says so" "$scratch/err" "is not the folder of a finished run" "[previous-unfinished]"
echo "Record;Name" >"$scratch/three/intake.csv"
ends 4 "an intake that is refused whole ends with 4" batch three never
holds "with the reason" "$scratch/err" "[column-missing]"
same "and nothing stands in its folder" "" "$(ls -A "$scratch/never")"
for wrong in "--jobs 0" "--jobs many" "--shard 3" "--shard 17/16" "--name-by name" "--shard 1/2 --print-run"; do
	ends 2 "'$wrong' is a fault of the command line" batch few never $wrong
done
ends 2 "a run without a map" "$program" batch "$scratch/few/intake.csv" --out "$scratch/never"
ends 2 "a run without a folder" "$program" batch "$scratch/few/intake.csv" --map "$scratch/few/map.yaml"

# --- What the system does.

mkdir "$scratch/data" && cp -R templates "$scratch/data"
ends 3 "without its fonts a run ends with 3" env FILLMARK_DATA="$scratch/data" "$program" batch \
	"$scratch/few/intake.csv" --map "$scratch/few/map.yaml" --clinic "$clinic" --out "$scratch/fontless" --as-of "$day"
holds "and says which are missing" "$scratch/err" "the font folder '$scratch/data/fonts' cannot be read" "[fonts-missing]"
same "and nothing stands in its folder" "" "$(ls -A "$scratch/fontless")"
cp -R fonts "$scratch/data" && rm "$scratch/data/fonts/AtkinsonHyperlegibleNext-SemiBold.ttf"
ends 3 "nor does it begin without one of them" env FILLMARK_DATA="$scratch/data" "$program" batch \
	"$scratch/few/intake.csv" --map "$scratch/few/map.yaml" --clinic "$clinic" --out "$scratch/fontless" --as-of "$day"
holds "and says which" "$scratch/err" "has no Atkinson Hyperlegible Next SemiBold" "[fonts-missing]"
cp -R fonts "$scratch/data"
FILLMARK_DATA=$scratch/data batch_away few vanishing --jobs 1 --no-register >"$scratch/out" 2>"$scratch/err" &
run=$!
until [ -n "$(ls "$scratch/vanishing/packets" 2>/dev/null)" ] || ! kill -0 "$run" 2>/dev/null; do
	sleep 0.01
done
mv "$scratch/data/fonts/NotoSans-Bold.ttf" "$scratch"
wait "$run"
same "a font that vanishes on the way ends it with 3" 3 $?
holds "and says so, and how to go on" "$scratch/err" "fonts are no longer the ones that it began with" "--resume"
mv "$scratch/NotoSans-Bold.ttf" "$scratch/data/fonts"
FILLMARK_DATA=$scratch/data ends 1 "with the font again it goes on" batch few vanishing --no-register --resume
same_folder "to the same packets" one/packets vanishing/packets
ends 3 "a folder that cannot be made ends with 3" batch few one/run.json/out
holds "with the reason" "$scratch/err" "nothing can be written to" "[file-unwritable]"
mkdir "$scratch/small"
if [ "$(id -u)" -eq 0 ] && mount -t tmpfs -o size=600k none "$scratch/small" 2>/dev/null; then
	ends 3 "a full disk ends with 3" batch few small/out --no-register --print-run --jobs 2
	holds "and says so, and how to go on" "$scratch/err" "No space left on device" "--resume" "[batch-failed]"
	names_nobody "and names nobody" "$scratch/few/intake.csv" "$scratch/small/out" "$scratch/out" "$scratch/err"
	same "with no half file" "" "$(find "$scratch/small" -name '*.pdf.*')"
	room=$(($(cat "$scratch/one/packets/"* "$scratch/one/plans/"* | wc -c) / 1024 + 4 * 50 + 300))
	mount -o remount,size="${room}k" "$scratch/small"
	ends 3 "room for the packets alone ends with 3" batch few small/out --no-register --print-run --resume
	holds "and says what could not be made" "$scratch/err" "No space left on device" "[print-run-failed]"
	same "and the packets stand" "$(ls "$scratch/one/packets")" "$(ls "$scratch/small/out/packets")"
	mount -o remount,size=64m "$scratch/small"
	ends 1 "with room again it goes on" batch few small/out --no-register --print-run --resume
	same_folder "to the same folder" one small/out
	mkdir "$scratch/small/shut" && mount -o remount,ro "$scratch/small"
	ends 3 "a folder that is read-only ends with 3" batch few small/shut
	holds "and says so" "$scratch/err" "Read-only file system"
	umount "$scratch/small"
else
	skip "a full disk, and one that is read-only" "mounting a small disk needs root"
fi
if [ "$(id -u)" -ne 0 ]; then
	chmod a-w "$clinic"
	ends 3 "a register that cannot be written ends with 3" batch few no-register
	chmod u+w "$clinic"
else
	rm -f "$clinic/issued.csv" && mkdir "$clinic/issued.csv"
	ends 3 "a register that cannot be written ends with 3" batch few no-register
fi
holds "and says how to do without it" "$scratch/err" "leave it alone by --no-register" "[register-unwritable]"
rm -rf "$clinic/issued.csv" && echo "name,telephone" >"$clinic/issued.csv"
ends 3 "a file that is no register is not written on" batch few other-register
holds "and says so" "$scratch/err" "is not 'code,record,version,as_of', so it is no list of sheets; move it away"
same "and is as it was" "name,telephone" "$(cat "$clinic/issued.csv")"
tap_end
