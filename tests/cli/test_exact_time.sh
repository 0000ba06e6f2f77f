#!/bin/bash
# The page of a dose to the minute: which night, which alarms, how many hours until what follows, and what if.
# Every expected time is worked out by hand beside it.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

# exact NAME SED...: the demonstration plan, altered; its page of the exact time, with single spaces.
exact() {
	local name=$1 edit
	shift
	folder=$(copy_samples "$name")
	plan=$folder/plans/mara.yaml
	for edit; do
		sed -i "$edit" "$plan" "$folder/protocols/half-first.yaml" "$folder/formulary.yaml" "$folder/clinic.yaml"
	done
	packet_text "$plan" "$scratch/$name"
	page_text "$scratch/$name" "exact time" "What if" | tr -s ' ' >"$scratch/page"
}

exact evening
holds "before midnight: the weekday alone, the time, and a second way to read it" "$scratch/page" \
	"Monday 14 December" "22:30" "half past 10 at night" "shows 10:30 pm" "All times are London time."
lacks "no night between two days" "$scratch/page" "In the night from" "already" "still"
holds "what the line of hours shows" "$scratch/page" "Arrow: your time. Dark bar: 20:00 to 06:00."
front=$(page_number "$scratch/evening" "Fictivane: get ready")
n=$(page_number "$scratch/evening" "exact time" "What if")
holds "alarms 30 minutes before and at the time" "$scratch/page" "22:00 22:30"
holds "what each is for, and that nobody injects at the first" "$scratch/page" "Get ready: page $front, then" \
	"$((n + 1)) up to step 9." "Inject: page $((n + 1)), from step" "10 on." "Inject at alarm 2, not before."
# 22:30 on the 14th to 10:30 on the 16th: 1.5 h to midnight, 24 h, 10.5 h
holds "36 hours to the procedure" "$scratch/page" "36 h" "Wed 16 Dec, 10:30" "Procedure: 36 h later"
holds "the clinic's own words when late, and whom to call by day and by night" "$scratch/page" \
	"Inject now. Note the time." "Call now: Day 000 555 0142, Night 000 555 0199"
holds "its mark and its amount" "$scratch/page" "1.5 mL" "5,000 units"
same "it is the front of a sheet" 1 "$((n % 2))"
page_text "$scratch/evening" "Fictivane: draw and inject" >"$scratch/back"
same "how to draw it up is on its back" "$((n + 1))" "$(page_number "$scratch/evening" "Fictivane: draw and inject")"
holds "the back has the same mark" "$scratch/back" "1.5 mL" "5,000 units"
page_text "$scratch/evening" "Fictivane: get ready" >"$scratch/front"
holds "and that page says where the next steps are" "$scratch/front" "page $((n + 1))"
page_text "$scratch/evening" "Day by day" >"$scratch/grid"
holds "the grid's band leads to it" "$scratch/grid" "page $n"

exact night 's/2026-12-14 22:30/2026-12-15 00:30/; s/2026-12-16 10:30/2026-12-16 12:30/' \
	's/time_is: procedure}/time_is: procedure, arrive_before: 90 min}/'
holds "after midnight: both days" "$scratch/page" "In the night from" "Monday 14 to Tuesday 15 December" "00:30" \
	"half an hour after midnight" "shows 12:30 am"
holds "the alarms say which day it is by then" "$scratch/page" "00:00 00:30" "already Tuesday 15"
# 12:30 less 90 minutes is 11:00; from 00:30 on the 15th: 34.5 h and 36 h
holds "arrival and procedure, with the hours between" "$scratch/page" "34 h 30 min" "1 h 30 min" \
	"Wed 16 Dec, 11:00" "be here" "Wed 16 Dec, 12:30" "Procedure: 36 h later"

exact midnight 's/2026-12-14 22:30/2026-12-15 00:10/; s/2026-12-16 10:30/2026-12-16 12:10/'
holds "an alarm before midnight is of the day before" "$scratch/page" "23:40" "still Monday 14" "already Tuesday 15"

exact months 's/2026-12-14 22:30/2027-01-01 00:15/; s/2026-12-16 10:30/2027-01-02 12:15/; s/2026-12-04/2026-12-21/'
holds "a night between two months names both" "$scratch/page" "Thursday 31 December to Friday" "1 January" \
	"15 minutes after midnight" "shows 12:15 am"

# Clocks in London go back on Sunday 25 October 2026, 02:00 to 01:00: 23:30 to 10:30 two days later is 35 h on the
# clock's face and 36 h in fact.
exact back 's/2026-12-14 22:30/2026-10-24 23:30/; s/2026-12-16 10:30/2026-10-26 10:30/' \
	's/stimulation: 2026-12-04/stimulation: 2026-10-14/; s/as_of: 2026-12-03/as_of: 2026-10-13/'
holds "clocks go back in between: the hours that pass" "$scratch/page" "Saturday 24 October" \
	"half an hour before midnight" "Procedure: 36 h later" "Clocks go back by 1 h on Sunday 25 October."
# 03:10 in the night that they go back, 30 minutes earlier is 02:40, after the change
exact after 's/2026-12-14 22:30/2026-10-25 03:10/; s/2026-12-16 10:30/2026-10-26 15:10/' \
	's/stimulation: 2026-12-04/stimulation: 2026-10-14/; s/as_of: 2026-12-03/as_of: 2026-10-13/' 's/most: 30 h}/most: 40 h}/'
holds "a dose in that night is warned of too" "$scratch/page" "Saturday 24 to Sunday 25 October" "03:10" "02:40" \
	"Clocks go back by 1 h on Sunday 25 October." "10 minutes past 3 at night"
# Clocks go forward on Sunday 28 March 2027, 01:00 to 02:00: 22:30 on the 27th to 11:30 on the 29th is 36 h
exact forward 's/2026-12-14 22:30/2027-03-27 22:30/; s/2026-12-16 10:30/2027-03-29 11:30/' \
	's/stimulation: 2026-12-04/stimulation: 2027-03-17/; s/as_of: 2026-12-03/as_of: 2027-03-16/'
holds "clocks go forward in between" "$scratch/page" "36 h" "Mon 29 Mar, 11:30" \
	"Clocks go forward by 1 h on Sunday 28 March."
# 02:20 on that night: 30 minutes earlier is 00:50, for 01:00 to 02:00 does not exist
exact gap 's/2026-12-14 22:30/2027-03-28 02:20/; s/2026-12-16 10:30/2027-03-29 14:20/' \
	's/stimulation: 2026-12-04/stimulation: 2027-03-17/; s/as_of: 2026-12-03/as_of: 2027-03-16/' 's/most: 30 h}/most: 40 h}/'
holds "the first alarm is 30 minutes that pass" "$scratch/page" "02:20" "00:50" "Saturday 27 to Sunday 28 March"

exact away 's/^dispensed:/away: [{from: 2026-12-13, to: 2026-12-15, zone: Europe\/Madrid, keep: hours}]\n&/'
# Madrid is an hour ahead of London in winter
holds "away from home: whose clock, and what it is at home" "$scratch/page" "23:30" "Go by the clock in Madrid." \
	"At home it is then 22:30."

exact warm 's/syringe: syringe-3$/&\n        warm_up: 45 min/'
# 45 minutes to warm and 20 more before 22:30
holds "what has to warm is taken out sooner" "$scratch/page" "21:25" "Let it warm 45 min first." \
	"Inject at alarm 2, not before."

exact wordless '/Inject now. Note the time/d'
holds "without the clinic's words it only says to call" "$scratch/page" "Call before you inject, also at night."
lacks "and makes up no rule" "$scratch/page" "Inject now"
tap_end
