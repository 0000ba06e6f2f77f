#!/bin/bash
# The notice on top of a new version says each change, from which day and why, and nothing else.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

packet_text "$samples/plans/mara.yaml" "$scratch/first"
lacks "a first version has no notice" "$scratch/first" "Your plan has changed" "notice 1 of"
packet_text "$samples/plans/mara-2.yaml" "$scratch/second"
same "the notice is the first page" 1 "$(page_number "$scratch/second" "Your plan has changed")"
page_text "$scratch/second" "Your plan has changed" | tr -s ' ' >"$scratch/page"
holds "its pages are numbered apart" "$scratch/page" "C1" "notice 1 of 2"
page_text "$scratch/second" "notice 2 of 2" >"$scratch/back"
holds "its back is for notes" "$scratch/back" "Notes" "C2"
page_text "$scratch/second" "Your injection plan" >"$scratch/overview"
holds "the plan's pages begin with 1" "$scratch/overview" "page 1 of"
# The course begins on Friday 4 December: the 12th is its ninth day.
holds "from which day" "$scratch/page" "Saturday 12 December," "day 9" "until Friday 11 December" \
	"from Saturday 12 December"
holds "why, in the clinic's words" "$scratch/page" "The blood test showed that you"
# In the order of the file, so that what stands in columns is not cut up.
pdftotext -raw "$scratch/second.pdf" - | tr -s ' \n' ' ' | sed 's/\xc2\xa0/ /g' >"$scratch/in_order"
holds "old to new" "$scratch/in_order" "Sampletide" "20 syringe units" "25 syringe units" "line 25"
holds "what stays" "$scratch/page" \
	"Nothing else changes: Mockuline, Examplin, Nonsensol and Fictivane stay as before."
holds "what becomes of the old pages" "$scratch/page" "Tear up every page that says version 1." \
	"look for “version 1” in the bottom line"

# version NAME SED...: the second version, altered; its notice's pages with single spaces.
version() {
	local name=$1 edit
	shift
	folder=$(copy_samples "$name")
	for edit; do
		sed -i "$edit" "$folder/plans/mara-2.yaml"
	done
	packet_text "$folder/plans/mara-2.yaml" "$scratch/$name"
	awk -v RS='\f' '/notice [0-9] of/' "$scratch/$name" | tr -s ' ' >"$scratch/page"
}

version moved 's/2026-12-14 22:30/2026-12-15 00:30/; s/2026-12-16 10:30/2026-12-16 12:30/'
holds "a dose that moves over midnight names both moments" "$scratch/page" "Mon 14 Dec," "22:30" \
	"Tue 15 Dec, 00:30" "5,000 units, as before"
holds "a visit that moves" "$scratch/page" "Procedure" "Wed 16 Dec, 12:30"
version later 's/2026-12-14 22:30/2026-12-15 22:30/; s/2026-12-16 10:30/2026-12-17 10:30/'
holds "a dose that moves by a day is one row" "$scratch/page" "Tue 15 Dec, 22:30"
same "not one that is gone and one that is new" 0 "$(grep -c "No dose" "$scratch/page")"
holds "a day more of what goes on until then" "$scratch/page" "nothing" "250 mcg"
version stopped 's/^changes:/&\n  - {item: thin, from: 2026-12-11, stop: yes}/'
holds "a line that ends" "$scratch/page" "Mockuline" "0.25 mg" "Stop" "put the box away" "Friday 11 December,"
version skipped 's/^changes:/&\n  - {item: thin, from: 2026-12-12, until: 2026-12-12, skip: yes}/'
holds "a day without" "$scratch/page" "Mockuline" "Sat 12 Dec" "No dose"
lacks "is no end" "$scratch/page" "put the box away"
version time 's/^changes:/&\n  - {item: ready, from: 2026-12-12, at: ["20:30"]}/'
holds "another time of day" "$scratch/page" "at 21:30" "at 20:30" "1 tablet, as before"
version same '/item: calm, from/d; /^changes:/d'
holds "a version without another dose says so" "$scratch/page" "Your doses stay as" \
	"Tear up every page that says version 1."
lacks "and names no day" "$scratch/page" "The change starts on"
tap_end
