#!/bin/bash
# One dose changed in a plan: grid, medicine's sheet, drawing, supplies, check page and workings change together.
# The figures are worked out by hand beside each case.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

folder=$(copy_samples change)

# alter PLAN FROM TO: every FROM of a plan becomes TO.
alter() {
	sed -i "s/$2/$3/g" "$folder/plans/$1.yaml"
}

# tag_at PDF PAGE FIRST SECOND: where the middle of the page's largest tag with these words stands, in mm from the left.
tag_at() {
	pdftotext -bbox -f "$2" -l "$2" "$1" - | python3 -c '
import re, sys
words = [(float(a), float(b), float(c), float(d), t) for a, b, c, d, t in re.findall(
    "<word xMin=\"([^\"]+)\" yMin=\"([^\"]+)\" xMax=\"([^\"]+)\" yMax=\"([^\"]+)\">(.*?)</word>", sys.stdin.read())]
pairs = [(max(f[3] - f[1], s[3] - s[1]), (f[0] + s[2]) / 2) for f in words for s in words
         if f[4] == sys.argv[1] and s[4] == sys.argv[2] and 0 < s[0] - f[2] < 12 and abs(f[3] - s[3]) < 12]
print(round(max(pairs)[1] * 25.4 / 72, 2) if pairs else "nowhere")' "$3" "$4"
}

# moved NAME EXPECTED BEFORE AFTER [SLID]: so many mm further; to a third of a millimetre, as digits differ in width, and
# to what a tag slides aside to stay clear of the flange, while its point stays.
moved() {
	python3 -c '
import sys
expected, before, after, slid = map(float, sys.argv[1:])
sys.exit(0 if -0.34 - slid < after - before - expected < 0.34 else f"moved by {after - before} mm")' \
		"$2" "$3" "$4" "${5:-0}" >"$scratch/said" 2>&1
	result $? "$1"
}

# grid_rows TEXT WORDS...: how many lines of the day-by-day grid hold all the words.
grid_rows() {
	local text=$1 words
	shift
	page_text "$text" "Day by day" >"$scratch/rows"
	for words; do
		grep -F -- "$words" "$scratch/rows" >"$scratch/kept"
		mv "$scratch/kept" "$scratch/rows"
	done
	wc -l <"$scratch/rows"
}

# --- Vacuprine: 375 units in 1.4 + 0.1 = 1.5 mL, 250 units in 1 mL. 150 units are 0.6 mL; 225 units are 0.9 mL.

plan=$folder/plans/ione.yaml
packet_text "$plan" "$scratch/before"
same "before: four days of 150 units" 4 "$(grid_rows "$scratch/before" "150 units")"
same "before: each with its mark" 4 "$(grid_rows "$scratch/before" "0.6 mL")"
back=$(page_number "$scratch/before" "Vacuprine" ": draw and inject" "150 units")
at_before=$(tag_at "$scratch/before.pdf" "$back" 0.6 mL)

alter ione "dose: 150 units" "dose: 225 units"
ends 0 "the changed plan makes a packet" packet_text "$plan" "$scratch/after"
same "the grid: four days of 225 units" 4 "$(grid_rows "$scratch/after" "225 units")"
same "the grid: each with its new mark" 4 "$(grid_rows "$scratch/after" "0.9 mL")"
same "the grid: none of the old dose" 0 "$(grid_rows "$scratch/after" "150 units")"
same "the grid: none of the old mark" 0 "$(grid_rows "$scratch/after" "0.6 mL")"
same "the grid: the other doses stay" 6 "$(grid_rows "$scratch/after" "187.5 units")"

page_text "$scratch/after" "Vacuprine" ": get ready" "225 units" >"$scratch/front"
holds "the front: the new amount, in all three ways" "$scratch/front" "225 units" "0.9 mL" "Box says 375 units: take"
lacks "the front: nothing of the old one" "$scratch/front" "150 units" "0.6 mL"
page_text "$scratch/after" "Vacuprine" ": draw and inject" "225 units" >"$scratch/back"
holds "the back: the new line, in words and steps" "$scratch/back" "0.9 mL" "line numbered 0.9"
passes "the back: once in the tag, and again in a step" test "$(grep -c "0\.9 mL" "$scratch/back")" -ge 2
lacks "the back: nothing of the old one" "$scratch/back" "150 units" "0.6 mL" "line numbered 0.6"
back=$(page_number "$scratch/after" "Vacuprine" ": draw and inject" "225 units")
at_after=$(tag_at "$scratch/after.pdf" "$back" 0.9 mL)
# 0.3 mL further on a scale of 57 mm for 1 mL
moved "the drawing: the line moved by 17.1 mm" 17.1 "$at_before" "$at_after" 0.6

page_text "$scratch/after" "Check page" "Vacuprine" >"$scratch/check"
# 0.9 of 57 mm; one line of 90 is 1.1 %
holds "the check page: the new working" "$scratch/check" "225 units" "× 1.5 mL = 0.9 mL" "51.3 mm from zero" "(1.1 %)"
lacks "the check page: nothing of the old one" "$scratch/check" "150 units" "0.6 mL"

"$program" workings --json "$plan" >"$scratch/after.json" 2>/dev/null
same "workings: four doses of 225 units" 4 "$(grep -c '"dose": "225 units"' "$scratch/after.json")"
same "workings: four marks" 4 "$(grep -c '"mark": "0.9 mL"' "$scratch/after.json")"
same "workings: four exact volumes" 4 "$(grep -c '"volume_exact": "9/10"' "$scratch/after.json")"
lacks "workings: nothing of the old dose" "$scratch/after.json" '"dose": "150 units"' '"0.6 mL"' '"3/5"'
"$program" workings "$plan" 2>/dev/null | sed 's/\xc2\xa0/ /g' >"$scratch/after.words"
holds "workings in words: the new line" "$scratch/after.words" "225 units / 375 units × 1.5 mL = 0.9 mL"
passes "and packet and workings still agree" \
	python3 tests/cli/agreement.py grid "$scratch/after.json" "$scratch/after.pdf"
passes "on each sheet too" \
	python3 tests/cli/agreement.py sheets "$scratch/after.json" "$scratch/after.pdf"
code='[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]'
grep -oE "$code" "$scratch/before" | sort -u >"$scratch/codes"
same "one code on all pages before" 1 "$(wc -l <"$scratch/codes")"
grep -oE "$code" "$scratch/after" | sort -u >>"$scratch/codes"
same "and another one after" 2 "$(sort -u "$scratch/codes" | wc -l)"
same "and the signatures were for the other dose: DRAFT on every page" \
	"$(pdfinfo "$scratch/after.pdf" | sed -n 's/^Pages: *//p')" "$(grep -c 'DRAFT.*not signed' "$scratch/after")"

# --- Sampletide: 5 mg in 1 mL by an insulin syringe. Line 20 is 0.2 mL and 1 mg; line 15 is 0.15 mL and 0.75 mg.

plan=$folder/plans/mara.yaml
packet_text "$plan" "$scratch/before"
back=$(page_number "$scratch/before" "Sampletide: draw and inject")
at_before=$(tag_at "$scratch/before.pdf" "$back" line 20)
alter mara "dose: 20 syringe units" "dose: 15 syringe units"
ends 0 "a dose in lines of a syringe, changed" packet_text "$plan" "$scratch/after"
same "the grid: ten days of it" 10 "$(grid_rows "$scratch/after" "15 syringe units")"
same "the grid: ten marks" 10 "$(grid_rows "$scratch/after" "line 15")"
same "the grid: none of the old" 0 "$(grid_rows "$scratch/after" "line 20")"
page_text "$scratch/after" "Sampletide: get ready" >"$scratch/front"
holds "the front: the box's unit too" "$scratch/front" "15 syringe" "0.75 mg" "line 15"
lacks "the front: nothing of the old" "$scratch/front" "20 syringe" "line 20"
back=$(page_number "$scratch/after" "Sampletide: draw and inject")
# 5 lines back on a scale of 43 mm for 50
moved "the drawing: the line moved back by 4.3 mm" -4.3 "$at_before" "$(tag_at "$scratch/after.pdf" "$back" line 15)"
page_text "$scratch/after" "Check page" "Sampletide" >"$scratch/check"
holds "the check page: the new working" "$scratch/check" \
	"15 syringe units = 0.15 mL" "0.75 mg" "12.9 mm from zero" "(6.7 %)"
# a vial of 2.8 mL holds 14 mg; ten times 0.75 mg leave 6.5 mg, and the course has an end
holds "the supplies: more is left in the vial" "$scratch/after" "Thrown away 6.5 mg; left in the last opened one 0 mg."

# --- The same plan, changed on one day: 250 mcg from the second vial on. The half doses before stay.

change='{item: blocker, from: 2026-12-08, dose: 250 mcg, because: {en: "after the scan"}}'
sed -i "s/^dispensed:/changes: [$change]\n&/" "$plan"
ends 0 "a change by date" packet_text "$plan" "$scratch/changed"
same "the grid: four half doses are left" 4 "$(grid_rows "$scratch/changed" "125 mcg" "syringe units")"
same "the grid: six full ones" 6 "$(grid_rows "$scratch/changed" "250 mcg" "syringe units")"
"$program" workings --json "$plan" >"$scratch/changed.json" 2>/dev/null
# two vials for four halves, one for each of six full doses
passes "the vials are counted anew" python3 -c '
import json, sys
needed = {s["product"]: s["needed"] for s in json.load(open(sys.argv[1]))["supplies"]}
sys.exit(0 if needed["examplin-kit"] == 8 else str(needed))' "$scratch/changed.json"
passes "packet and workings agree" python3 tests/cli/agreement.py grid "$scratch/changed.json" "$scratch/changed.pdf"
passes "the labels are those of the vials still shared" \
	python3 tests/cli/agreement.py splits "$scratch/changed.json" "$scratch/changed.pdf"
tap_end
