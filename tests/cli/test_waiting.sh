#!/bin/bash
# What waits for a call: its page names no date, its look-up is right for every weekday, and each amount that the call
# may set has its own line. Expected by hand from the protocols and the formulary in samples/.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

# months TEXT: every month that is named, but for those of birth and signature in the foot.
months() {
	grep -oE '\b[0-9]{1,2} (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)' "$1" |
		grep -vE '^(30 Aug|9 Apr|25 Nov)$' | sort -u | xargs
}

packet_text "$samples/plans/ione.yaml" "$scratch/ione"
page_text "$scratch/ione" "Examplin: wait for our call" "write it down" | tr -s ' ' >"$scratch/page"
holds "nothing to do until the call, in the protocol's words" "$scratch/page" "Do not start yet" \
	"We call you when the scan shows the right size." "Until we call:"
holds "what to write down" "$scratch/page" "Day 1 is" "ring one, write the date" "Mon Tue Wed Thu Fri Sat Sun" \
	"day" "month" "Who called" "Read it back" "I take 250 mcg, I stop at"
same "no date" "" "$(months "$scratch/page")"
lacks "no year" "$scratch/page" "2027"
# Four days from the day of the call; the fourth is the last.
holds "the look-up's head" "$scratch/page" "We call on day 1 day 2 day 3 day 4" "20:00 20:00 20:00 last, 20:00"
for row in "Monday Monday Tuesday Wednesday Thursday" "Tuesday Tuesday Wednesday Thursday Friday" \
	"Wednesday Wednesday Thursday Friday Saturday" "Thursday Thursday Friday Saturday Sunday" \
	"Friday Friday Saturday Sunday Monday" "Saturday Saturday Sunday Monday Tuesday" \
	"Sunday Sunday Monday Tuesday Wednesday"; do
	holds "a call on ${row%% *}" "$scratch/page" "$row"
done
page_text "$scratch/ione" "Day by day" >"$scratch/grid"
n=$(page_number "$scratch/ione" "Examplin: wait for our call" "write it down")
holds "the grid leads there" "$scratch/grid" "page $n"
page_text "$scratch/ione" "Your injection plan" >"$scratch/overview"
holds "the overview leads there" "$scratch/overview" "page $n"

packet_text "$samples/plans/odile.yaml" "$scratch/odile"
page_text "$scratch/odile" "Placebix: wait for our call" "write it down" | tr -s ' ' >"$scratch/page"
same "an amount that is open too: still no date" "" "$(months "$scratch/page")"
n=$(page_number "$scratch/odile" "Placebix: which number?" "we said")
holds "its amounts to tick, and where their numbers are" "$scratch/page" "75 units" "112.5 units" "150 units" \
	"tick one, its line: page $n"
# A visit on day 4 of this medicine: three days after day 1.
holds "a visit that is counted from it" "$scratch/page" "visit, 08:30" "Monday Monday Tuesday Wednesday Thursday" \
	"Sunday Sunday Monday Tuesday Wednesday"
page_text "$scratch/odile" "Placebix: which number?" "we said" | tr -s ' ' >"$scratch/page"
same "the pen's numbers: no date" "" "$(months "$scratch/page")"
holds "each amount turned to itself" "$scratch/page" "Turn until the window says dial 75." \
	"Turn until the window says dial 112.5." "Turn until the window says dial 150."
holds "nothing is written by hand" "$scratch/page" "amount: tick one, never write another" "ask for a new sheet"

# 375 units and 1.4 mL with 0.1 mL of powder: 375 in 1.5 mL, 250 in 1 mL.
page_text "$scratch/odile" "Vacuprine: which line?" "we said" | tr -s ' ' >"$scratch/page"
holds "150 / 250 = 0.6 mL" "$scratch/page" "0.6 mL" "the line numbered 0.6"
holds "187.5 / 250 = 0.75 mL" "$scratch/page" "0.75 mL" "small line 5 after the number 0.7"
holds "225 / 250 = 0.9 mL" "$scratch/page" "0.9 mL" "the line numbered 0.9"
holds "the box that this holds for" "$scratch/page" "The box says 375 units. If yours says anything else, call"
for amount in "150 units" "187.5 units" "225 units"; do
	n=$(page_number "$scratch/odile" "Vacuprine $amount: get ready")
	holds "$amount: how to get it ready" "$scratch/page" "how: page $n"
done

page_text "$scratch/odile" "Examplin: we may call sooner" "write it down" | tr -s ' ' >"$scratch/page"
# Day 7 of a course that begins on Friday 4 December is Thursday the 10th.
holds "a start that a call may bring forward keeps its known day" "$scratch/page" "Thursday 10" \
	"if the scan shows the right size sooner" "No call: start on that day."
lacks "its last day moves with its first, so none is named" "$scratch/page" "last, 20:00"

# A day that an event will fix: nobody is waited for, and the look-up begins with day 1.
folder=$(copy_samples event)
sed -i 's/start: {call: {[^}]*}}/start: {event: later, day: 1}/
	s/^events:/&\n  - {id: later, label: {en: "Later"}, own_day: 1}/' "$folder/protocols/call-start.yaml"
packet_text "$folder/plans/ione.yaml" "$scratch/event"
page_text "$scratch/event" "Examplin: wait for the day" "write it down" | tr -s ' ' >"$scratch/page"
holds "it waits for the day" "$scratch/page" "We tell you the day as soon as we know it." "find day 1, then read on" \
	"Sunday Monday Tuesday Wednesday"
lacks "and for no call" "$scratch/page" "We call on" "Until we call"
same "no date either" "" "$(months "$scratch/page")"

# A dose to the minute whose event has no date: its time is not any time, and there is one day to find.
folder=$(copy_samples timed)
sed -i 's/, trigger: "2026-12-14 22:30", retrieval: "2026-12-16 10:30"//' "$folder/plans/mara.yaml"
packet_text "$folder/plans/mara.yaml" "$scratch/timed"
page_text "$scratch/timed" "Fictivane: wait for the day" "write it down" | tr -s ' ' >"$scratch/page"
holds "its time is written down too" "$scratch/page" "The time" "I take 5,000 units, I stop at"
lacks "one day needs no look-up" "$scratch/page" "Which day is which?"
page_text "$scratch/timed" "Fictivane: get ready" >"$scratch/page"
holds "its sheet waits for the time" "$scratch/page" "days not known yet · at the time we tell you"
lacks "nowhere is it any time" "$scratch/timed" "any time"
tap_end
