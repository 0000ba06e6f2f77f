#!/bin/bash
# What is printed is what was computed: for every dose of every sample plan the packet holds the dose in the order's
# unit, the share of the box and the mark, and holds no other; tests/cli/agreement.py says how it looks.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

agree() {
	python3 tests/cli/agreement.py "$@"
}

for plan in "${plans[@]}"; do
	"$program" packet "$samples/plans/$plan.yaml" -o "$scratch/$plan.pdf" >/dev/null 2>&1
	"$program" workings --json "$samples/plans/$plan.yaml" >"$scratch/$plan.json" 2>/dev/null
	passes "$plan: each day of the grid has its doses and marks, and no mark without a dose" \
		agree grid "$scratch/$plan.json" "$scratch/$plan.pdf"
	passes "$plan: each medicine's sheet says dose, box and mark, and no other amount" \
		agree sheets "$scratch/$plan.json" "$scratch/$plan.pdf"
	passes "$plan: labels of shared vials say when each was mixed and until when it keeps" \
		agree splits "$scratch/$plan.json" "$scratch/$plan.pdf"
	passes "$plan: the check page has each dose and mark, and points to the sheet" \
		agree check-page "$scratch/$plan.json" "$scratch/$plan.pdf"
	passes "$plan: the supplies are those of the workings" \
		agree supplies "$scratch/$plan.json" "$scratch/$plan.pdf"
done

# The checker must see one wrong figure: the first FROM of the workings becomes TO, and the packet stays.
sees() {
	local name=$1 words=$2 what=$3 plan=$4 from=$5 to=$6
	sed "0,/$from/s//$to/" "$scratch/$plan.json" >"$scratch/altered.json"
	refuses "one wrong figure is seen: $name" "$words" agree "$what" "$scratch/altered.json" "$scratch/$plan.pdf"
}

sees "a mark in the grid" "('Vacuprine', '150 units', '0.7 mL')" grid ione '"mark": "0.6 mL"' '"mark": "0.7 mL"'
sees "a dose in the grid" "('Examplin', '150 mcg', '0.5 mL')" grid mara '"dose": "125 mcg"' '"dose": "150 mcg"'
sees "a day" "('Oleumine', '50 mg', '1 mL')" grid tamsin '"date": "2026-12-12"' '"date": "2026-12-24"'
sees "a mark on a sheet" "'Your syringe shows line 21' computed" sheets mara '"mark": "line 20"' '"mark": "line 21"'
sees "a liquid to add" "has no 'add 1.5 mL'" sheets ione '"mark": "1.4 mL"' '"mark": "1.5 mL"'
sees "a box's share" "'Box says 375 units: take 160 units' computed" \
	sheets ione '"takes": "150 units"' '"takes": "160 units"'
sees "a volume" "the label gives 3/5 mL" sheets ione '"volume_exact": "3\/5"' '"volume_exact": "1\/2"'
sees "a time on a label" "Use by Sat 5 Dec, 21:00" splits mara '"by": "2026-12-05 22:00"' '"by": "2026-12-05 21:00"'
sees "a right reading" "readings of 0.5, 0.52, 0.43 mL for a mark of 0.6 mL" \
	splits mara '"mark": "0.5 mL"' '"mark": "0.6 mL"'
sees "a mark of the check page" "lacks 'push out to 0.2 mL'" check-page tamsin '"mark": "0.3 mL"' '"mark": "0.2 mL"'
sees "a count of supplies" "'need': 11" supplies ione '"needed": 10' '"needed": 11'
tap_end
