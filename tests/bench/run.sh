#!/bin/bash
# How fast packets are made, as ratios: these carry from machine to machine, milliseconds do not.
#
#   tests/bench/run.sh PROGRAM BENCH-PROGRAMS [ROWS [MANY-ROWS]]
#
#   one packet    from process start to file, beside a run of the same program that does nothing
#   the floor     every stage of a packet, beside painting and finishing alone (bench_packets.c)
#   a batch       one process beside two
#   its memory    a run of few rows beside one of ten times as many
#   supply plan   the best one for many doses (bench_supply.c)
#
# What is compared takes turns, so that a busy moment of the machine falls on both.
set -euo pipefail
program=$1
programs=$2
rows=${3:-100}
many=${4:-1000}
starts=41
turns=3
day=2026-12-03
plan=samples/plans/mara.yaml
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
export LC_ALL=C

# quiet COMMAND...: it may end with 1, which says that a row was refused.
quiet() {
	"$@" >/dev/null 2>&1 || [ $? -eq 1 ]
}

# timed FILE COMMAND...: appends a line to FILE: the seconds that passed, and those of the processor in and for it.
TIMEFORMAT='%3R %3U %3S'
timed() {
	local record=$1
	shift
	{ time quiet "$@"; } 2>>"$record"
}

# passed FILE, processor FILE: the seconds of its lines, in order; middle: the middle one of them.
passed() {
	awk '{ print $1 }' "$1" | sort -n
}
processor() {
	awk '{ print $2 + $3 }' "$1" | sort -n
}
middle() {
	awk '{ line[NR] = $1 } END { print line[int((NR + 1) / 2)] }'
}

# intake NAME ROWS: an invented export in $folder/NAME.
intake() {
	python3 tests/batch/make-intake.py "$folder/$1" --rows "$2" --bad 0 --languages \
		"$(sed -n 's/^languages: \[\(.*\)\]/\1/p' samples/clinic.yaml | tr -d ' ')"
}

# batch NAME OPTION...: a run of it, into a folder that is gone afterwards.
batch() {
	local name=$1
	shift
	rm -rf "$folder/out"
	"$program" batch "$folder/$name/intake.csv" --map "$folder/$name/map.yaml" --clinic samples --as-of "$day" \
		--out "$folder/out" --no-register "$@"
}

# peak NAME: the most memory, in kB, that a process of its run took.
peak() {
	rm -rf "$folder/out"
	python3 -c 'import resource, subprocess, sys
subprocess.call(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)' "$program" batch "$folder/$1/intake.csv" \
		--map "$folder/$1/map.yaml" --clinic samples --as-of "$day" --out "$folder/out" --no-register --jobs 1
}

# --- One packet. The first run of each reads the program, its libraries and fonts from disk; it is not counted.

"$program" --version >/dev/null
"$program" packet "$plan" -o "$folder/packet.pdf" >/dev/null
for ((run = 0; run < starts; run++)); do
	timed "$folder/nothing" "$program" --version
	timed "$folder/packet" "$program" packet "$plan" -o "$folder/packet.pdf"
done
awk -v nothing="$(passed "$folder/nothing" | middle)" -v packet="$(passed "$folder/packet" | middle)" -v runs="$starts" \
	-v best="$(passed "$folder/packet" | head -n 1)" -v worst="$(passed "$folder/packet" | tail -n 1)" \
	-v nothing_processor="$(processor "$folder/nothing" | middle)" \
	-v packet_processor="$(processor "$folder/packet" | middle)" 'BEGIN {
	printf "one packet, medians of %d interleaved runs, process start to file\n", runs
	printf "  does nothing (--version)   %7.1f ms     1.00   (the processor'"'"'s time %.1f ms)\n", nothing * 1000,
		nothing_processor * 1000
	printf "  packet                     %7.1f ms  %7.2f   (the processor'"'"'s time %.1f ms; %.1f to %.1f ms)\n",
		packet * 1000, packet / nothing, packet_processor * 1000, best * 1000, worst * 1000
}'

# --- The floor.

intake some "$rows"
"$programs/bench_packets" "$folder/some/intake.csv" "$folder/some/map.yaml" "$day" "$folder"

# --- A batch, with its files written and synced.

for ((turn = 0; turn < turns; turn++)); do
	timed "$folder/one" batch some --jobs 1
	timed "$folder/two" batch some --jobs 2
	timed "$folder/printed" batch some --jobs 1 --print-run
done
made=$(find "$folder/out/packets" -name '*.pdf' | wc -l)
awk -v one="$(passed "$folder/one" | middle)" -v two="$(passed "$folder/two" | middle)" -v made="$made" -v turns="$turns" \
	-v printed="$(passed "$folder/printed" | middle)" -v processors="$(nproc)" 'BEGIN {
	printf "batch of %d packets, medians of %d interleaved runs, process start to end, %d processors\n", made, turns,
		processors
	printf "  one process                %7.1f a second    1.00\n", made / one
	printf "  two processes              %7.1f a second    %.2f\n", made / two, one / two
	printf "  one, and the print run     %7.1f a second    %.2f\n", made / printed, one / printed
}'

# --- Memory.

intake many "$many"
few_peak=$(peak some)
many_started=$EPOCHREALTIME
many_peak=$(peak many)
awk -v few="$few_peak" -v many="$many_peak" -v rows="$rows" -v many_rows="$many" \
	-v took="$((${EPOCHREALTIME/./} - ${many_started/./}))" 'BEGIN {
	printf "memory, the most that a process of a run took\n"
	printf "  %6d rows                %7.1f MB\n", rows, few / 1024
	printf "  %6d rows                %7.1f MB   (%+.1f MB; 10,000 rows at this speed: %.0f minutes)\n", many_rows,
		many / 1024, (many - few) / 1024, took / many_rows * 1e4 / 6e7
}'

# --- The supply plan.

"$programs/bench_supply"
