#!/bin/bash
# A version in the middle of a course: what was done before it is told apart from what is to do, on every page that counts.
# Expected by hand from samples/plans/mara-2.yaml: it speaks from 11 December, day 8 of the course.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

# words_of TEXT TITLE...: a page's words with one space between.
words_of() {
	page_text "$@" | sed 's/\xc2\xa0/ /g' | tr -s ' \n' ' '
	echo
}

packet_text "$samples/plans/mara-2.yaml" "$scratch/second"
words_of "$scratch/second" "Day by day" >"$scratch/grid"
holds "the grid says where to go on" "$scratch/grid" "Days 1 to 7 are past. A dose was missed? Tell us. Go on here with day 8."
words_of "$scratch/second" "Your injection plan" >"$scratch/overview"
holds "the overview has a sign for it" "$scratch/overview" "past, before this version"
holds "what was given on them stays in the grid" "$scratch/grid" "125 mcg first" "second half"
lacks "days that are over have no sheet" "$scratch/second" "Examplin 125 mcg: get ready" "Examplin 125 mcg: draw" "Examplin: one vial"
words_of "$scratch/second" "Examplin 250 mcg: draw and inject" >"$scratch/page"
holds "days to come have theirs" "$scratch/page" "250 mcg · days 7 to 10 · evening"
words_of "$scratch/second" "Check page" >"$scratch/page"
holds "staff see what was done" "$scratch/page" "days 1 to 6, past · evening"
# Sampletide has two amounts, each a sheet: pages 3 and 5; Mockuline is on 7; so Examplin's one sheet begins on 9.
same "no page is named that is not there" "Examplin page 9" "$(grep -oE 'Examplin page[s]? [0-9, ]*[0-9]' "$scratch/overview" | head -n 1)"

# Examplin: three vials for the six half doses and one for day 7 are used up; days 8 to 10 take one each, and of the 8
# four are left. Mockuline: days 5 to 7 took three of six. Tablets: seven of thirty. Sampletide's vial serves all days.
page_text "$scratch/second" "Your supplies" | tr -s ' ' >"$scratch/supplies"
# counts NAME: need, have and what is to get, of the row below this name; "none" is no number.
counts() {
	awk -v name="$1" '$0 ~ "^ *" name "( +[0-9]|$)" { row = 1 } row && /[0-9] [0-9]+( none| [0-9]+)?$/ {
		sub(/ none$/, ""); sub(/^.*[^0-9 ] +/, ""); print; exit }' "$scratch/supplies" | xargs
}
holds "supplies are counted from that day on" "$scratch/supplies" "Counted for every dose from Fri 11 Dec until Wed 16 Dec" \
	"What was left over from before counts too."
same "a vial in use: one needed, one there" "1 1" "$(counts Sampletide | grep -oE '[0-9]+ [0-9]+$')"
same "filled syringes" "3 3" "$(counts Mockuline | grep -oE '[0-9]+ [0-9]+$')"
same "kits" "3 4" "$(counts Examplin | grep -oE '[0-9]+ [0-9]+$')"
same "tablets" "3 23" "$(counts Nonsensol | grep -oE '[0-9]+ [0-9]+$')"
# Three insulin syringes; three kits hold a syringe and two needles each, and the last injection has its own.
same "insulin syringes: three to get" "3 0 3" "$(counts "U-100 insulin syringe" | grep -oE '[0-9]+ [0-9]+ [0-9]+$')"
same "syringes of the kits still to be opened" "3 3" "$(counts "1 mL syringe" | grep -oE '[0-9]+ [0-9]+$')"
lacks "a sharps box is there" "$scratch/supplies" "Sharps box"

words_of "$scratch/second" "Show me" >"$scratch/teach"
holds "the patient shows what goes and what is new" "$scratch/teach" "“Which pages do you tear" \
	"Every page that says version 1." "“What changes, and from" "page C1"
lacks "and nothing that is over" "$scratch/teach" "What do you do with the rest" "0.5 mL"

# The first version has nothing behind it.
packet_text "$samples/plans/mara.yaml" "$scratch/first"
lacks "a first version has no past" "$scratch/first" "before this version" "Go on here" "left over from before" "tear up"
words_of "$scratch/first" "Your supplies" >"$scratch/supplies"
holds "and counts all of it" "$scratch/supplies" "Counted for every dose in this plan" "Sharps box"

# On its second day one day is behind it; on its last day nothing is ahead of some medicines.
folder=$(copy_samples later)
sed -i 's/^as_of: .*/as_of: 2026-12-05/' "$folder/plans/mara.yaml"
packet_text "$folder/plans/mara.yaml" "$scratch/later"
words_of "$scratch/later" "Day by day" >"$scratch/grid"
holds "one day" "$scratch/grid" "Day 1 is past. A dose was missed? Tell us. Go on here with day 2."
sed -i 's/^as_of: .*/as_of: 2026-12-14/' "$folder/plans/mara.yaml"
packet_text "$folder/plans/mara.yaml" "$scratch/later"
words_of "$scratch/later" "Your supplies" >"$scratch/supplies"
holds "what is still needed" "$scratch/supplies" "Fictivane"
lacks "and what is not" "$scratch/supplies" "Mockuline" "Examplin" "insulin syringe"

"$program" replace "$samples/plans/mara-2.yaml" --language es --large-print -o "$scratch/es.pdf" >/dev/null 2>&1
pdftotext -layout "$scratch/es.pdf" - | sed 's/\xc2\xa0/ /g' | tr -s ' \n' ' ' >"$scratch/page"
holds "in Spanish and large print" "$scratch/page" "Los días 1 a 7 ya pasaron." \
	"Lo que sobró de antes también cuenta."
tap_end
