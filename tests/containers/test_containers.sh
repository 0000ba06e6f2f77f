#!/bin/bash
# One plan for each kind of container: its lines, counts and containers worked out by hand in expected/PLAN.txt, and what
# the sheet tells the patient to do. The table's form is that of tests/regimens/compare.py.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh
containers=tests/containers

# as_by_hand PLAN: the plan's workings, as JSON, are the table's.
as_by_hand() {
	"$program" workings --json "$containers/clinic/plans/$1.yaml" >"$scratch/$1.json" 2>"$scratch/$1.err"
	[ -s "$scratch/$1.json" ] || { cat "$scratch/$1.err" && return 1; }
	python3 tests/regimens/compare.py "$containers/expected/$1.txt" <"$scratch/$1.json"
}

for table in "$containers"/expected/*.txt; do
	plan=$(basename "$table" .txt)
	passes "$plan: as worked out by hand" as_by_hand "$plan"
done

# sheets PLAN: makes the plan's packet and reads its text.
sheets() {
	ends 0 "$1: makes a packet" packet_text "$containers/clinic/plans/$1.yaml" "$scratch/$1"
}

# Days 1 and 4 open a vial and mix; the other days draw from what is mixed, and have no liquid to add.
sheets many-doses
page_text "$scratch/many-doses" "Manydose 1 mg: get ready" "days 1 and 4" >"$scratch/mixing"
holds "many-doses: the sheet of days 1 and 4 mixes" "$scratch/mixing" "liquid" "Swirl" "cap off" "Mix"
page_text "$scratch/many-doses" "Manydose 1 mg: get ready" "days 2, 3, 5" >"$scratch/later"
holds "many-doses: the other one draws with a new syringe" "$scratch/later" "mixed vial" "empty 1 mL" "Air into the vial"
lacks "many-doses: the other one does not mix" "$scratch/later" "liquid syringe" "Swirl" "Vial cap off" "Mix "
same "many-doses: both keep the vial" 2 \
	"$(pdftotext -raw "$scratch/many-doses.pdf" - | tr '\n' ' ' | grep -oi 'vial needed again? Put it back' | wc -l | tr -d ' ')"

# Both halves are drawn at once: the second waits in a closed syringe, and nothing is drawn on the second day.
sheets measured
page_text "$scratch/measured" "Measurine: draw and inject, continued" >"$scratch/draw"
holds "measured: a second syringe is drawn to the same line and closed" "$scratch/draw" "Draw to 0.6 mL too" "Close it"
page_text "$scratch/measured" "one vial, two days" >"$scratch/split"
page_text "$scratch/measured" "Second day, start here" >>"$scratch/split"
holds "measured: the closed syringe is kept" "$scratch/split" "Keep the closed syringe" \
	"Lay out: closed syringe, thin needle, wipe, sharps box"
holds "measured: so is its label" "$scratch/measured" "tape it on the closed syringe"
lacks "measured: no vial is kept or drawn from again" "$scratch/split" "Keep the vial" "on the vial" "New syringe"
page_text "$scratch/measured" "Your supplies" >"$scratch/supplies"
holds "measured: a cap is counted" "$scratch/supplies" "Closed syringe cap"
passes "measured: the workings say what the half waits in" grep -q '"kept_in": "syringe"' "$scratch/measured.json"

# 8 mg: both injections stand in the day's cell.
sheets ampoule
page_text "$scratch/ampoule" "Day by day" >"$scratch/grid"
same "ampoule: three marks of 1 mL, one of 1.4 mL" "3 1" \
	"$(grep -o '\b1 mL' "$scratch/grid" | wc -l | tr -d ' ') $(grep -o '\b1.4 mL' "$scratch/grid" | wc -l | tr -d ' ')"
tap_end
