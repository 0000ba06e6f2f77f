#!/bin/bash
# How long a packet takes, from process start to file, beside a run of the same program that does nothing.
#
#   tests/bench/run.sh PROGRAM [RUNS]
#
# The two take turns, so that a busy moment of the machine falls on both; medians, because one slow run says nothing.
# Ratios carry from machine to machine, milliseconds do not.
set -euo pipefail
program=$1
runs=${2:-41}
plan=samples/plans/mara.yaml
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
export LC_ALL=C

# timed FILE COMMAND...: appends the microseconds that the command took to FILE.
timed() {
	local record=$1 started=$EPOCHREALTIME
	shift
	"$@" >/dev/null
	echo $((${EPOCHREALTIME/./} - ${started/./})) >>"$record"
}

# median FILE: the middle one of its numbers.
median() {
	sort -n "$1" | sed -n "$(((runs + 1) / 2))p"
}

# The first run of each reads the program, its libraries and fonts from disk; it is not counted.
"$program" --version >/dev/null
"$program" packet "$plan" -o "$folder/packet.pdf" >/dev/null
for ((run = 0; run < runs; run++)); do
	timed "$folder/nothing" "$program" --version
	timed "$folder/packet" "$program" packet "$plan" -o "$folder/packet.pdf"
done

awk -v nothing="$(median "$folder/nothing")" -v packet="$(median "$folder/packet")" -v runs="$runs" \
	-v best="$(sort -n "$folder/packet" | head -n 1)" -v worst="$(sort -n "$folder/packet" | tail -n 1)" 'BEGIN {
	printf "medians of %d interleaved runs, process start to file\n", runs
	printf "  does nothing (--version)   %7.1f ms     1.0\n", nothing / 1000
	printf "  packet                     %7.1f ms  %6.1f   (%.1f to %.1f ms)\n", packet / 1000, packet / nothing,
		best / 1000, worst / 1000
}'
