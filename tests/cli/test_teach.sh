#!/bin/bash
# The teach-back page asks for what the patient has, and what is right there is what her own pages say.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

packet_text "$samples/plans/mara.yaml" "$scratch/mara"
page_text "$scratch/mara" "Show me" | tr -s ' ' >"$scratch/page"
holds "it is the staff's" "$scratch/page" "For clinic staff. Not for the patient." "staff page" "alone with help again"
# In the order of the file, so that a line's end does not matter.
pdftotext -raw "$scratch/mara.pdf" - | tr '\n' ' ' | sed 's/\xc2\xa0/ /g' >"$scratch/in_order"
holds "what is first, and when" "$scratch/in_order" "“Which medicine is first on Fri 4 Dec, and when?”" "Sampletide, 08:00 (page 2)."
# The page of the action and its step, and that page has that step: not the page that gets things ready.
for row in "line 20|Sampletide: draw and inject|7|Draw it" "all|Mockuline: inject|5|Inject" \
	"0.5 mL|Examplin 125 mcg: draw and inject|7|Draw it" "1 mL|Examplin 250 mcg: draw and inject|7|Same syringe" \
	"1.5 mL|Fictivane: draw and inject|7|Draw it"; do
	IFS='|' read -r mark title step action <<<"$row"
	n=$(page_number "$scratch/mara" "$title")
	holds "$mark, and the step that it is set in" "$scratch/page" "$mark Step $step, page $n"
	page_text "$scratch/mara" "$title" >"$scratch/action"
	holds "$title has step $step" "$scratch/action" "$action"
	passes "$title numbers a step $step" grep -qE "(^| )$step( |$)" "$scratch/action"
done
n=$(page_number "$scratch/mara" "Examplin 125 mcg: draw and inject")
holds "the needles are changed in step 9" "$scratch/page" "touch. Step 9, page $n"
n=$(page_number "$scratch/mara" "Examplin 125 mcg: get ready")
holds "and mixed in step 5" "$scratch/page" "shake. Step 5, page $n"
n=$(page_number "$scratch/mara" "Fictivane: exact time")
holds "the exact time" "$scratch/page" "Says Mon 14 Dec, 22:30;" "alarms (page $n)."
holds "the rest of a shared vial, the needle, the sharps" "$scratch/page" "Label on it, fridge, until the" \
	"Thick one emptied, thin one" "Sharps box, no cap back on."
holds "whom to call at night" "$scratch/page" "Calls 000 555 0199. Page 1:" "emergency number."

packet_text "$samples/plans/mara-2.yaml" "$scratch/second"
page_text "$scratch/second" "Show me" | tr -s ' ' >"$scratch/page"
holds "a new version asks for the new line" "$scratch/page" "line 25"
lacks "and for no dose that is over" "$scratch/page" "0.5 mL"

packet_text "$samples/plans/odile.yaml" "$scratch/odile"
awk -v RS='\f' '/Show me/' "$scratch/odile" | tr -s ' ' >"$scratch/page"
holds "a call, and an amount that it sets" "$scratch/page" "On Thursday; rings it" "“We call on" "“We call and say" "225 units.”" \
	"0.9 mL" "dial 150"
holds "how much liquid, open tag" "$scratch/page" "How much liquid" "add 1.4 mL"
lacks "what she does not have is not asked" "$scratch/page" "insulin" "What do you do with the rest"
tap_end
