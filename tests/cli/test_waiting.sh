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
holds "what to write down" "$scratch/page" "Its day 1 is" "ring one, write the date" "Mon Tue Wed Thu Fri Sat Sun" \
	"day" "month" "Who called" "Read it back" "Examplin: day 1 is …, I take 250 mcg, I"
same "no date" "" "$(months "$scratch/page")"
lacks "no year" "$scratch/page" "2027"
# Four days from day 1, whichever day the call was on; the fourth is the last.
holds "the look-up begins with the day that is named" "$scratch/page" "Tick the row of the weekday that you ringed." \
	"If day 1 is day 2 day 3 day 4" "20:00 20:00 20:00 20:00"
holds "its last day, and a box for each" "$scratch/page" "Day 4 is the last one." "done? 1 2 3 4 last"
for row in "Monday Tuesday Wednesday Thursday" "Tuesday Wednesday Thursday Friday" \
	"Wednesday Thursday Friday Saturday" "Thursday Friday Saturday Sunday" \
	"Friday Saturday Sunday Monday" "Saturday Sunday Monday Tuesday" "Sunday Monday Tuesday Wednesday"; do
	holds "day 1 is a ${row%% *}" "$scratch/page" " $row"
done
lacks "the day of the call makes no day" "$scratch/ione" "We call on Monday" "day of our call"
page_text "$scratch/ione" "Day by day" >"$scratch/grid"
n=$(page_number "$scratch/ione" "Examplin: wait for our call" "write it down")
holds "the grid leads there" "$scratch/grid" "page $n"
page_text "$scratch/ione" "Your injection plan" >"$scratch/overview"
holds "the overview leads there" "$scratch/overview" "page $n"

packet_text "$samples/plans/odile.yaml" "$scratch/odile"
page_text "$scratch/odile" "Placebix: wait for our call" "write it down" | tr -s ' ' >"$scratch/page"
same "an amount that is open too: no date but the visit's" "9 Dec" "$(months "$scratch/page")"
n=$(page_number "$scratch/odile" "Placebix: which number?" "we said")
holds "its amounts to tick, and where their numbers are" "$scratch/page" "75 units" "112.5 units" "150 units" \
	"tick one: see page $n"
# A visit on day 4 of this medicine: three days after day 1.
holds "a visit that is counted from it" "$scratch/page" "Blood test, 08:30" "If day 1 is day 2 day 3 day 4" \
	"22:00 22:00 22:00" " Monday Tuesday Wednesday Thursday" " Sunday Monday Tuesday Wednesday" \
	"Day 3 is the last one." "done? 1 2 3 last 4"
page_text "$scratch/odile" "Placebix: which number?" "we said" | tr -s ' ' >"$scratch/page"
same "the pen's numbers: no date" "" "$(months "$scratch/page")"
holds "each amount turned to itself" "$scratch/page" "Turn until the window says 75." \
	"Turn until the window says 112.5." "Turn until the window says 150."
holds "nothing is written by hand" "$scratch/page" "amount: tick one, never write another" "ask for a new sheet"

# 375 units and 1.4 mL with 0.1 mL of powder: 375 in 1.5 mL, 250 in 1 mL.
page_text "$scratch/odile" "Vacuprine: which line?" "we said" | tr -s ' ' >"$scratch/page"
holds "from which day on it is ticked, and what to do without a call" "$scratch/page" \
	"From day 6 on: tick the amount we tell you after the scan." "No call" "before your dose is due? Call us first."
holds "150 / 250 = 0.6 mL" "$scratch/page" "0.6 mL" "the line numbered 0.6"
holds "187.5 / 250 = 0.75 mL" "$scratch/page" "0.75 mL" "small line 5 after the number 0.7"
holds "225 / 250 = 0.9 mL" "$scratch/page" "0.9 mL" "the line numbered 0.9"
holds "the box that this holds for" "$scratch/page" "The box says 375 units. If yours says anything else, call"
for amount in "150 units" "187.5 units" "225 units"; do
	n=$(page_number "$scratch/odile" "Vacuprine $amount: get ready")
	holds "$amount: how to get it ready" "$scratch/page" "how: page $n"
done

# Which days an amount is for: 150 units until day 5; from day 6 on every amount is for whom it was told.
tr -s ' ' <"$scratch/odile" | sed 's/\xc2\xa0/ /g' >"$scratch/leads"
holds "a sheet says from when it holds only if a call says so" "$scratch/leads" \
	"150 units · days 1 to 5, later only if we tell you · evening, 20:00" \
	"187.5 units · only if we tell you, from day 6 · evening, 20:00" \
	"225 units · only if we tell you, from day 6 · evening, 20:00"
lacks "and none is for all days" "$scratch/leads" "days 1 to 10" "days 6 to 10"
holds "days that a call may bring forward" "$scratch/leads" "250 mcg · days 7 to 10, or sooner if we call · evening, 20:00"
holds "a pen whose amount is open too: its time is known" "$scratch/leads" \
	"Pen · 900 units · days not known yet · bedtime, 22:00" "only if we tell"
# A long head breaks after a dot: then a line follows that has words.
same "no head ends in a dot" 0 "$(grep -A1 -E '·( page [0-9]+ of [0-9]+)?$' "$scratch/leads" | grep -cE '^ *$')"
folder=$(copy_samples between)
sed -i 's/^      - {from: 6, dose: {call.*/&\n      - {from: 8, dose: 150 units}/' "$folder/protocols/by-call.yaml"
packet_text "$folder/plans/odile.yaml" "$scratch/between"
tr -s ' ' <"$scratch/between" | sed 's/\xc2\xa0/ /g' >"$scratch/leads"
holds "an amount before and after the days of the call" "$scratch/leads" \
	"150 units · days 1 to 5, 8 to 10, other days only if we tell you"

page_text "$scratch/odile" "Examplin: we may call sooner" "write it down" | tr -s ' ' >"$scratch/page"
# Day 7 of a course that begins on Friday 4 December is Thursday the 10th.
holds "a start that a call may bring forward keeps its known day" "$scratch/page" "Thursday 10" \
	"if the scan shows the right size sooner" "by then? Call us before you start." \
	"our call counts: cross out Examplin on page 2 and go by this page."
# The end is the day before the timed injection's, Sunday the 13th; from the first day of all, the 4th, it is the 10th.
holds "all days that a sooner start can have" "$scratch/page" "No dose after Sunday 13 December." \
	"If day 1 is days 2, 9 days 3, 10 day 4 day 5 day 6 day 7" "week 1 1 2 3 4 5 6 7" "week 2 8 9 10" \
	"Fri Sat Sun Mon Tue Wed Thu" "Thu Fri Sat Sun – – –" "Each week begins on the weekday"
# Day 1 on Wednesday the 9th: day 5 is Sunday the 13th, the last. On Tuesday the 8th: day 6.
holds "and none after its end" "$scratch/page" " Wed Thu Fri Sat Sun – –" " Tue Wed Thu Fri Sat Sun –" " Mon Tue Wed Thu Fri Sat Sun"
lacks "no day of them is the last" "$scratch/page" "is the last one" " last"

# Two days before its known day only these two are left for the call to name, and that day itself.
folder=$(copy_samples soon)
sed -i 's/^as_of: .*/as_of: 2026-12-08/' "$folder/plans/odile.yaml"
packet_text "$folder/plans/odile.yaml" "$scratch/soon"
page_text "$scratch/soon" "Examplin: we may call sooner" "write it down" | tr -s ' ' >"$scratch/page"
holds "days that day 1 may still be" "$scratch/page" " Tuesday Wednesday Thursday" " Wednesday Thursday Friday" \
	" Thursday Friday Saturday"
same "and no others" 3 "$(grep -cE '^ ?(Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day ' "$scratch/page")"

n=$(page_number "$scratch/odile" "Examplin: we may call sooner")
page_text "$scratch/odile" "Day by day" | tr -s ' ' >"$scratch/grid"
holds "its first day in the grid says so, and where to look then" "$scratch/grid" "unless we call sooner: page $n"
same "and no other day does" 1 "$(grep -c "unless we call sooner" "$scratch/grid")"
page_text "$scratch/odile" "Your injection plan" | tr -s ' ' >"$scratch/overview"
holds "the overview says to take it" "$scratch/overview" "take it then, or sooner if we call"

# Events that have no date at all: what is to come is there without one.
folder=$(copy_samples undated)
sed -i 's/, trigger: "2026-12-14 22:30", retrieval: "2026-12-16 10:30"//' "$folder/plans/mara.yaml"
packet_text "$folder/plans/mara.yaml" "$scratch/undated"
page_text "$scratch/undated" "Your injection plan" | tr -s ' ' >"$scratch/overview"
holds "the procedure's day is still to be named" "$scratch/overview" "Procedure" "day not known"

# Where mornings and evenings have pages of their own, a day with nothing but a timed injection in the evening.
packet_text "$samples/plans/paloma.yaml" "$scratch/halves"
n=$(page_number "$scratch/halves" "Fictivane: hora exacta")
page_text "$scratch/halves" "Mañanas" | tr -s ' ' >"$scratch/page"
holds "the mornings' page does not leave it empty" "$scratch/page" "11 mar 15 dic 22:30 Fictivane: página $n"

# A day that an event will fix: nobody is waited for, and the look-up begins with day 1.
folder=$(copy_samples event)
sed -i 's/start: {call: {[^}]*}}/start: {event: later, day: 1}/
	s/^events:/&\n  - {id: later, label: {en: "Later"}, own_day: 1}/' "$folder/protocols/call-start.yaml"
packet_text "$folder/plans/ione.yaml" "$scratch/event"
page_text "$scratch/event" "Examplin: wait for the day" "write it down" | tr -s ' ' >"$scratch/page"
holds "it waits for the day" "$scratch/page" "We tell you the day as soon as we know it." "If day 1 is" \
	"Sunday Monday Tuesday Wednesday"
lacks "and for no call" "$scratch/page" "We call you" "Until we call"
same "no date either" "" "$(months "$scratch/page")"

# look_up NAME SED: the page of the medicine that waits, with the protocol altered.
look_up() {
	local folder
	folder=$(copy_samples "$1")
	sed -i "$2" "$folder/protocols/call-start.yaml"
	packet_text "$folder/plans/ione.yaml" "$scratch/$1"
	page_text "$scratch/$1" "Which day is which?" | tr -s ' ' >"$scratch/page"
}
tablets='s/examplin/nonsensol/; s/250 mcg/1 tablet/'
waits='medicine: examplin/,/doses:/'

look_up weeks "/$waits s/end: {days: 4}/end: {days: 10}/"
holds "ten days: what is a week apart shares a column" "$scratch/page" \
	"If day 1 is days 2, 9 days 3, 10 day 4 day 5 day 6 day 7" "Fri Sat Sun Mon Tue Wed Thu" "week 1 1 2 3 4 5 6 7" \
	"week 2 8 9 10 last" "Day 10 is the last one."
look_up spaced "/$waits { s/end: {days: 4}/end: {doses: 4}/; s/at: .*/&\n    every: 10 days/; $tablets; }"
holds "every ten days: each has its weekday and its week" "$scratch/page" "If day 1 is day 31 day 11 day 21" \
	" Monday Wednesday Thursday Sunday" "week 1 1" "week 2 11" "week 3 21" "week 5 31 last" "Day 31 is the last one."
lacks "a week without a dose has no row" "$scratch/page" "week 4"
look_up told "/$waits s/    end: {days: 4}//"
holds "no end: until they say so" "$scratch/page" "week 2 8 9 10" "Go on until we tell you to stop."
lacks "and no last one" "$scratch/page" "is the last one" " last"
look_up twice "/$waits { s/at: .*/at: [morning, evening]/; s/250 mcg/125 mcg/; s/end: {days: 4}/end: {days: 2}/; }"
holds "twice a day: a box for each time" "$scratch/page" "08:00, 20:00 08:00, 20:00" "1 08:00 2 08:00" "20:00 20:00"
look_up fixed "/$waits { s/at: .*/&\n    weekdays: [mon, thu]/; $tablets; }"
holds "fixed weekdays: which" "$scratch/page" "From day 1 on, only on these days: Monday, Thursday."
lacks "and no day is counted on from day 1" "$scratch/page" "If day 1 is" "day 2"
look_up bound "/$waits s/end: {days: 4}/end: {event: halt, day: 1}/
	s/^events:/&\n  - {id: halt, label: {en: Halt}, own_day: 1}/"
holds "an end that an event will fix" "$scratch/page" "Go on until the last day that we name."
folder=$(copy_samples dated)
sed -i "/$waits s/end: {days: 4}/end: {event: halt, day: 1}/
	s/^events:/&\n  - {id: halt, label: {en: Halt}, own_day: 1}/" "$folder/protocols/call-start.yaml"
sed -i 's/^events: {/&halt: 2026-12-13, /' "$folder/plans/ione.yaml"
packet_text "$folder/plans/ione.yaml" "$scratch/dated"
page_text "$scratch/dated" "Which day is which?" | tr -s ' ' >"$scratch/page"
holds "an end that is known: as many days as a start today would have" "$scratch/page" \
	"No dose after Sunday 13 December." "week 2 8 9 10 11"
look_up visits "s/^visits:/&\n  - {event: blocker, day: 2, at: \"09:15\"}\n  - {event: blocker, day: 0, label: {en: Talk}}/"
holds "every visit of it: on a day of a dose too, and before" "$scratch/page" "Visit, 09:15" \
	"Talk: the day before day 1."

# A sooner start with amounts by day: what more days would bring is not guessed.
folder=$(copy_samples amounts)
sed -i 's/doses: \[{from: 1, dose: 250 mcg}\]/doses: [{from: 1, dose: 125 mcg}, {from: 3, dose: 250 mcg}]/' \
	"$folder/protocols/by-call.yaml"
packet_text "$folder/plans/odile.yaml" "$scratch/amounts"
page_text "$scratch/amounts" "Examplin: we may call sooner" "Which day is which?" | tr -s ' \n' ' ' >"$scratch/page"
holds "it is asked for" "$scratch/page" "More than 4 days? Ask us for a new sheet when we call." "done? 1 2 3 4"

# In Spanish, and in large print, the same look-up.
"$program" replace "$samples/plans/ione.yaml" --language es --only blocker -o "$scratch/es.pdf" >/dev/null 2>&1
pdftotext -layout "$scratch/es.pdf" - | tr -s ' ' >"$scratch/page"
holds "in Spanish" "$scratch/page" "Marque la fila del día que rodeó." "El día 4 es el último." \
	" lunes martes miércoles jueves" "Si el día 1 es día 2 día 3 día 4"
"$program" replace "$samples/plans/ione.yaml" --large-print --only blocker -o "$scratch/large.pdf" >/dev/null 2>&1
pdftotext -layout "$scratch/large.pdf" - | tr -s ' ' >"$scratch/page"
holds "in large print" "$scratch/page" " Sunday Monday Tuesday Wednesday" "Day 4 is the last one." "done? 1 2 3 4 last"

# A dose to the minute whose event has no date: its time is not any time, and there is one day to find.
folder=$(copy_samples timed)
sed -i 's/, trigger: "2026-12-14 22:30", retrieval: "2026-12-16 10:30"//' "$folder/plans/mara.yaml"
packet_text "$folder/plans/mara.yaml" "$scratch/timed"
page_text "$scratch/timed" "Fictivane: wait for the day" "write it down" | tr -s ' ' >"$scratch/page"
holds "its time is written down too" "$scratch/page" "The time" "Fictivane: day 1 is …, I take 5,000 units,"
lacks "one day needs no look-up" "$scratch/page" "Which day is which?"
page_text "$scratch/timed" "Fictivane: get ready" >"$scratch/page"
holds "its sheet waits for the time" "$scratch/page" "days not known yet · at the time we tell you"
lacks "nowhere is it any time" "$scratch/timed" "any time"
tap_end
