#!/bin/bash
# Eleven regimens, each with its days, doses, lines, containers and counts worked out by hand in expected/PLAN.txt.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh
regimens=tests/regimens

# workings PLAN: as JSON, to $scratch/PLAN.json.
workings() {
	"$program" workings --json "$regimens/clinic/plans/$1.yaml" >"$scratch/$1.json" 2>"$scratch/$1.err"
}

# as_by_hand TABLE PLAN: a plan without workings has what the program said about it instead.
as_by_hand() {
	if [ ! -s "$scratch/$2.json" ]; then
		cat "$scratch/$2.err"
		return 1
	fi
	python3 "$regimens/compare.py" "$1" <"$scratch/$2.json"
}

for table in "$regimens"/expected/*.txt; do
	plan=$(basename "$table" .txt)
	workings "$plan"
	passes "$plan: as worked out by hand" as_by_hand "$table" "$plan"
	passes "$plan: its pages can be made" "$program" check "$regimens/clinic/plans/$plan.yaml"
done

# The same wall-clock time 36 h earlier is wrong when the clocks go back in between: 19:30 summer time is 18:30 UTC, and
# from there to Monday 07:30 UTC are 5.5 + 24 + 7.5 = 37 h.
refuses "two-timed-by-the-clock: 36 h on the clock are 37 h" "'trigger' is 37 h before 'retrieval'" \
	"$program" workings --json "$regimens/clinic/plans/two-timed-by-the-clock.yaml"

# The comparison must see one wrong figure: in PLAN's table the first FROM becomes TO.
sees() {
	local name=$1 plan=$2 from=$3 to=$4
	sed "0,/^[^#].*$from/s/^\([^#].*\)$from/\1$to/" "$regimens/expected/$plan.txt" >"$scratch/altered.txt"
	refuses "one wrong figure is seen: $name" "by hand, + by the program" \
		as_by_hand "$scratch/altered.txt" "$plan"
}

sees "a time" trip-keeping-hours "15:00" "20:00"
sees "a dose" patches "4 patches |" "2 patches |"
sees "a line" long-quiet "line 10" "line 11"
sees "a volume" two-timed "3\/10 mL" "3\/100 mL"
sees "a liquid to add" trace-daily "4.8 mL" "4.6 mL"
sees "a setting of the pen" until-told "dial 75" "dial 150"
sees "a container" until-told "#3" "#2"
sees "a rest" oil-and-inserts "leaves 50 mg" "leaves 0 mg"
sees "a last day" trace-daily "09-20" "09-21"
sees "an hour to keep until" half-blocker-called "22:00" "23:00"
sees "a count" alternating "needed 9" "needed 10"
sees "a day short" pen-and-powder "2026-06-13\$" "2026-06-14"
sees "a date where there is none" half-blocker-waiting "day 1" "Mon 2026-05-04"
grep -v '^steady 6' "$regimens/expected/backwards.txt" >"$scratch/altered.txt"
refuses "a dose that the table lacks is seen" "+ steady 6 | Wed 2026-11-18" \
	as_by_hand "$scratch/altered.txt" backwards
tap_end
