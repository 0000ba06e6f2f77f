#!/bin/bash
# The second check: its sheet holds no answer, and every wrong answer is found.
set -u
. tests/support/tap.sh
program=$FILLMARK
plan=samples/plans/mara.yaml

# Worked out by hand from the plan, the labels and the scales.
cat >"$scratch/right.csv" <<'CSV'
blank,answer
1a,0.2
1b,20
2a,0.5
2b,all
3a,0.5
3b,0.5
4a,1
4b,1
5a,1
6a,1.5 mL
6b,1.5
7a,22:00
7b,Saturday
8a,36
9a,1
10a,6
11a,7
12a,10
13a,1
CSV

agrees() { "$program" workings "$plan" --compare "$scratch/right.csv" 2>/dev/null | grep -q '^all 19 answers agree$'; }
passes "answers worked out by hand agree" agrees

# differs BLANK ANSWER: that one wrong answer is refused at its row, and the right one is not told.
differs() {
	sed "s/^$1,.*/$1,$2/" "$scratch/right.csv" >"$scratch/wrong.csv"
	! "$program" workings "$plan" --compare "$scratch/wrong.csv" >/dev/null 2>"$scratch/messages" &&
		grep -q "wrong.csv:[0-9]*:1: stop: '$2' for blank $1 .*\[answer-differs\]" "$scratch/messages" &&
		[ "$(wc -l <"$scratch/messages")" = 1 ]
}
for wrong in "1a 0.02" "1b 2" "2b 0.5" "3b 0.05" "6b 15" "7a 20:00" "7b Sunday" "8a 37" "11a 10"; do
	passes "a wrong answer is found: $wrong" differs $wrong
done

missing() {
	grep -v '^8a' "$scratch/right.csv" >"$scratch/short.csv"
	! "$program" workings "$plan" --compare "$scratch/short.csv" >/dev/null 2>"$scratch/messages" &&
		grep -q 'blank 8a .* has no answer \[answer-missing\]' "$scratch/messages"
}
passes "a missing answer is found" missing

unknown() {
	{ cat "$scratch/right.csv"; echo 99z,1; } >"$scratch/more.csv"
	! "$program" workings "$plan" --compare "$scratch/more.csv" >/dev/null 2>"$scratch/messages" &&
		grep -q "there is no blank '99z'" "$scratch/messages"
}
passes "an answer to no question is found" unknown

# Nothing in the file says an answer: neither a line, a volume, a use-by time nor a count.
no_answer() {
	"$program" workings "$plan" --blind -o "$scratch/blind.pdf" 2>/dev/null || return 1
	pdftotext -layout "$scratch/blind.pdf" "$scratch/blind.txt"
	! grep -Eq 'line 20|0\.2 mL|1\.5 mL|22:00|Saturday|Sat 5 Dec|36 h|line 0\.5' "$scratch/blind.txt"
}
passes "the sheet tells no answer" no_answer
tap_end
