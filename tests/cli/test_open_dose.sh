#!/bin/bash
# A dose that waits for a call has a day of its own count and no date, in any output, until the clinic has called.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

folder=$(copy_samples open)
plan=$folder/plans/ione.yaml

# doses_of JSON ITEM KEY: the values of a key in the doses of an item, in order; a missing key is '-'.
doses_of() {
	python3 -c '
import json, sys
doses = [dose for dose in json.load(open(sys.argv[1]))["doses"] if dose["item"] == sys.argv[2]]
print(*[json.dumps(dose[sys.argv[3]]).strip("\"") if sys.argv[3] in dose else "-" for dose in doses])' "$@"
}

# dates TEXT: the days of the year named in it, each once; born and signed stand in every foot.
dates() {
	grep -oE '\b[0-9]{1,2} (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b' "$1" |
		grep -vE '^(30 Aug|25 Nov)$' | sort -u | sort -n | xargs
}

"$program" workings --json "$plan" >"$scratch/open.json" 2>/dev/null
same "four open doses: no date" "null null null null" "$(doses_of "$scratch/open.json" blocker date)"
same "but a day each, counted from the call" "1 2 3 4" "$(doses_of "$scratch/open.json" blocker day)"
same "and the time of day, which is known" "20:00 20:00 20:00 20:00" "$(doses_of "$scratch/open.json" blocker time)"
same "a dated dose has no day beside its date" "- - - - - - - - - -" "$(doses_of "$scratch/open.json" growth day)"
same "its dates are those of the plan" \
	"2026-12-05 2026-12-06 2026-12-07 2026-12-08 2026-12-09 2026-12-10 2026-12-11 2026-12-12 2026-12-13 2026-12-14" \
	"$(doses_of "$scratch/open.json" growth date)"
"$program" workings "$plan" 2>/dev/null | sed 's/\xc2\xa0/ /g' >"$scratch/open.words"
same "in words: days 1 to 4" "day 1 day 2 day 3 day 4" \
	"$(grep -E 'Examplin +250 mcg +\[' "$scratch/open.words" | grep -oE '^day [0-9]+' | xargs)"

packet_text "$plan" "$scratch/open"
same "the packet names no date but those of the other doses" \
	"5 Dec 6 Dec 7 Dec 8 Dec 9 Dec 10 Dec 11 Dec 12 Dec 13 Dec 14 Dec" "$(dates "$scratch/open")"
for title in "get ready" "draw and inject"; do
	page_text "$scratch/open" "Examplin: $title" >"$scratch/page"
	holds "Examplin: $title: its days are not known" "$scratch/page" "days not known yet"
	same "Examplin: $title: no date at all" "" "$(dates "$scratch/page")"
done
page_text "$scratch/open" "Day by day" >"$scratch/grid"
holds "the grid: it waits for the call, with a place to write the day" "$scratch/grid" \
	"Examplin: only when the clinic calls" "when the scan shows the right size" "start" "day" "month"
same "the grid: its amount once, in that place" 1 "$(grep -c "250 mcg" "$scratch/grid")"
same "the grid: no line to hit on any day" 0 "$(grep -cE '\b1 mL$|\b1 mL  ' "$scratch/grid")"
page_text "$scratch/open" "Your injection plan" >"$scratch/overview"
holds "the overview says so too" "$scratch/overview" "day not known yet"

# called DATE: the clinic has called: the days are known, and are printed.
called() {
	cp "$samples/plans/ione.yaml" "$plan"
	sed -i "s/^dispensed:/called: [{item: blocker, on: $1}]\n&/" "$plan"
	"$program" workings --json "$plan" >"$scratch/called.json" 2>/dev/null
	packet_text "$plan" "$scratch/called"
	page_text "$scratch/called" "Day by day" >"$scratch/grid"
}

called 2026-12-08
same "called for 8 December: four days from it" "2026-12-08 2026-12-09 2026-12-10 2026-12-11" \
	"$(doses_of "$scratch/called.json" blocker date)"
same "and no count of days any more" "- - - -" "$(doses_of "$scratch/called.json" blocker day)"
same "the grid: four cells" 4 "$(grep -c "250 mcg" "$scratch/grid")"
lacks "nothing waits any more" "$scratch/called" "only when the clinic calls" "not known yet"
passes "packet and workings agree" python3 tests/cli/agreement.py grid "$scratch/called.json" "$scratch/called.pdf"

called 2026-12-16
same "called for 16 December: days after all others" "2026-12-16 2026-12-17 2026-12-18 2026-12-19" \
	"$(doses_of "$scratch/called.json" blocker date)"
holds "and now those dates are printed" "$scratch/called" "16 Dec" "17 Dec" "18 Dec" "19 Dec"
passes "each with its dose" python3 tests/cli/agreement.py grid "$scratch/called.json" "$scratch/called.pdf"

# --- When the clinic expects to call

expecting=$(copy_samples expecting)
sed -i 's/start: {call: {en: .*/start: {call: {en: "when the scan is right"}, expected: {en: "about day 6"}}/' \
	"$expecting/protocols/call-start.yaml"
"$program" packet "$expecting/plans/ione.yaml" -o "$scratch/expecting.pdf" >/dev/null 2>&1
pdftotext "$scratch/expecting.pdf" - | tr '\n' ' ' | sed 's/\xc2\xa0/ /g' >"$scratch/expecting"
holds "it stands beside what the call waits for" "$scratch/expecting" \
	"We call you when the scan is right, about day 6. Until then: do not start."
tap_end
