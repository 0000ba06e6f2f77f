#!/bin/bash
# Signatures: over the meaning of an entry, one for what a clinic keeps, two by different people for a plan.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

folder=$(copy_samples sign)
plan=$folder/plans/mara.yaml
signatures=$folder/signatures.csv
rm "$signatures"

# state: signed or draft, of the plan as it is now.
state() {
	"$program" workings --json "$plan" 2>"$scratch/err" | sed -n 's/^ "state": "\(.*\)",$/\1/p'
}

# code: what the packet's content comes to.
code() {
	"$program" workings --json "$plan" 2>/dev/null | sed -n 's/^ "code": "\(.*\)",$/\1/p'
}

lines() {
	wc -l <"$signatures"
}

# --- From nothing to signed

same "nothing signed: a draft" draft "$(state)"
holds "the plan is named" "$scratch/err" "mara.yaml:2:1: caution: " "[seal-missing]"
holds "so is each entry that it uses" "$scratch/err" "clinic.yaml:2:1: caution: the clinic 'clinic.yaml' is not signed" \
	"'half-first'" "'examplin'" "'sampletide'" "'mockuline'" "'nonsensol'" \
	"'fictivane'" "'syringe-1'" "'syringe-3'" "'insulin-50'" "'filled-05'"
lacks "and none that it does not use" "$scratch/err" "'oleumine'" "'support'"

# the clinic itself, and each medicine, syringe and protocol
entries=$((1 + $(cat "$folder/formulary.yaml" "$folder/syringes.yaml" | grep -c '^  - id: ') +
	$(find "$folder/protocols" -name '*.yaml' | wc -l)))
ends 0 "one person signs the clinic's entries" "$program" sign "$folder" --by "P. Quibble, pharmacist"
holds "all of them" "$scratch/out" "$entries signed by P. Quibble, pharmacist"
same "a line for each, below the heads" $((entries + 1)) "$(lines)"
same "what each column is" "kind,id,seal,who,when" "$(head -n 1 "$signatures")"
passes "a name with a comma is quoted, a seal is a SHA-256" \
	grep -qE '^medicine,examplin,[0-9a-f]{64},"P\. Quibble, pharmacist",[0-9]{4}-[0-9]{2}-[0-9]{2}$' "$signatures"
ends 0 "signing again" "$program" sign "$folder" --by "P. Quibble, pharmacist"
same "adds nothing" $((entries + 1)) "$(lines)"
same "the plan is still a draft" draft "$(state)"
same "only the plan is missing now" 1 "$(grep -c seal-missing "$scratch/err")"

before=$(code)
ends 0 "one person signs the plan" "$program" sign "$plan" --by "N. Thrum, nurse"
same "one is not enough" draft "$(state)"
holds "and that is said" "$scratch/err" "second"
ends 0 "the same person signs again" "$program" sign "$plan" --by "N. Thrum, nurse"
same "that makes no second person" draft "$(state)"
ends 0 "and again, with spaces around the name" "$program" sign "$plan" --by "  N. Thrum, nurse "
same "nor does that" draft "$(state)"
same "nothing was added" $((entries + 2)) "$(lines)"
ends 0 "another person signs it" "$program" sign "$plan" --by 'D. "Dot" Wimble'
same "now it is signed" signed "$(state)"
same "without a word" "" "$(cat "$scratch/err")"
same "signing changes no code" "$before" "$(code)"
"$program" packet "$plan" -o "$scratch/signed.pdf" >/dev/null 2>&1
pdftotext -layout "$scratch/signed.pdf" "$scratch/signed"
holds "the check page names both" "$scratch/signed" "N. Thrum, nurse" 'D. "Dot" Wimble'
lacks "no page says DRAFT" "$scratch/signed" "DRAFT"

# --- What changes no meaning leaves the seal whole

# unchanged NAME: the plan as it is now makes the very packet that was signed.
unchanged() {
	"$program" packet "$plan" -o "$scratch/now.pdf" >"$scratch/said" 2>&1 &&
		cmp "$scratch/signed.pdf" "$scratch/now.pdf" >>"$scratch/said" 2>&1
	result $? "$1"
	cp "$samples/plans/mara.yaml" "$plan"
	cp "$samples"/*.yaml "$folder"
	cp "$samples"/protocols/*.yaml "$folder/protocols"
}

sed -i 's/^version:/# seen again on Friday\n\n&/; s/$/   # checked/' "$plan"
unchanged "comments and empty lines in the plan"
{
	grep -v '^patient:\|^dispensed:\|^  - ' "$samples/plans/mara.yaml" | tac
	grep -A9 '^dispensed:' "$samples/plans/mara.yaml"
	grep '^patient:' "$samples/plans/mara.yaml"
} >"$plan"
same "(the plan's keys stand in another order)" "events version as_of" \
	"$(grep -oE '^(events|version|as_of)' "$plan" | xargs)"
unchanged "another order of the plan's keys"
sed -i 's/{from: 1, dose: 20 syringe units}/{dose: "20 syringe units", from: 1}/; s/^paper: a4/paper: "a4"/' "$plan"
unchanged "quotes, and another order within an entry"
python3 - "$folder/formulary.yaml" <<'END'
import re, sys
head, *medicines = re.split(r"(?m)^  - id: ", open(sys.argv[1], encoding="utf-8").read())
open(sys.argv[1], "w", encoding="utf-8").write(head + "".join("  - id: " + entry for entry in reversed(medicines)))
END
sed -i 's/^  - id: examplin$/  # the one with the kit\n&/' "$folder/formulary.yaml"
medicines() {
	grep -oE '^  - id: .*' "$1/formulary.yaml"
}
same "(the medicines stand in another order)" "$(medicines "$samples" | tac)" "$(medicines "$folder")"
same "another order of the medicines, and a comment" signed "$(state)"
cp "$samples/formulary.yaml" "$folder"
sed -i 's/limits: {least: 125 mcg, most: 250 mcg/limits: {most: 250 mcg, least: 125 mcg/' "$folder/formulary.yaml"
unchanged "another order of a medicine's limits"

# --- What changes the meaning breaks it

# breaks NAME FILE SED ENTRY: with the file changed, the plan is a draft, and the entry named is the one that changed;
# with the file mended, it is signed.
breaks() {
	local name=$1 file=$folder/$2
	cp "$file" "$scratch/kept"
	sed -i "$3" "$file"
	same "$name: a draft" draft "$(state)"
	holds "$name: the entry is named" "$scratch/err" "$4" "[seal-"
	cp "$scratch/kept" "$file"
	same "$name: signed again once it is as it was" signed "$(state)"
}

breaks "another dose in the plan" plans/mara.yaml 's/dose: 20 syringe/dose: 19 syringe/' "'mara'"
breaks "another day" plans/mara.yaml 's/stimulation: 2026-12-04/stimulation: 2026-12-05/' "'mara'"
breaks "another person" plans/mara.yaml 's/Mara Quillfeather/Mara Quillfether/' "'mara'"
breaks "another dose in the protocol" protocols/half-first.yaml \
	's/{from: 7, dose: 250 mcg}/{from: 7, dose: 200 mcg}/' "'half-first'"
breaks "another clock time" protocols/half-first.yaml 's/at: \["21:30"\]/at: ["21:45"]/' "'half-first'"
breaks "another strength" formulary.yaml 's/strength: 5 mg\/mL/strength: 4 mg\/mL/' "'sampletide'"
breaks "another limit" formulary.yaml \
	's/limits: {least: 0.5 mg, most: 2 mg,/limits: {least: 0.5 mg, most: 1.5 mg,/' "'sampletide'"
breaks "other words on a missed dose" formulary.yaml 's/Never two together/Never three together/' "'examplin'"
breaks "another length of a scale" syringes.yaml 's/scale_length: 57 mm/scale_length: 58 mm/' "'syringe-1'"
breaks "another telephone number" clinic.yaml 's/000 555 0142/000 555 0143/' "'clinic.yaml'"
breaks "another hour at which the day begins" clinic.yaml 's/day_begins: "04:00"/day_begins: "03:00"/' "'clinic.yaml'"
breaks "another evening, of the clinic and of the protocol" clinic.yaml 's/evening: "20:00"/evening: "20:30"/' "'half-first'"

sed -i 's/dose: 20 syringe/dose: 19 syringe/' "$plan"
"$program" packet "$plan" -o "$scratch/draft.pdf" >/dev/null 2>&1
pdftotext -layout "$scratch/draft.pdf" "$scratch/draft"
same "a broken seal: DRAFT on every page" "$(pdfinfo "$scratch/draft.pdf" | sed -n 's/^Pages: *//p')" \
	"$(grep -c 'DRAFT · not signed' "$scratch/draft")"
lacks "nobody's name stands under another dose" "$scratch/draft" "N. Thrum" "Wimble"
cp "$samples/plans/mara.yaml" "$plan"

# --- One entry alone

sed -i 's/Never two together/Never four together/' "$folder/formulary.yaml"
before=$(lines)
ends 0 "one entry is signed by its id" "$program" sign "$folder" examplin --by "P. Quibble, pharmacist"
same "one line more" $((before + 1)) "$(lines)"
same "signed" signed "$(state)"

# --- What cannot be signed

before=$(cksum <"$signatures")
ends 1 "an entry that there is not" "$program" sign "$folder" exampline --by "P. Quibble, pharmacist"
holds "is named" "$scratch/err" "'exampline'" "[unknown-entry]"
ends 1 "no name" "$program" sign "$folder" examplin --by ""
ends 1 "a name of two lines" "$program" sign "$folder" examplin --by $'P. Quibble\nmedicine,examplin'
sed 's/dose: 20 syringe units/dose: 45 syringe units/' "$plan" >"$folder/plans/refused.yaml"
# line 45 is 0.45 mL and 2.25 mg; the most is 2 mg
ends 1 "a plan that is refused" "$program" sign "$folder/plans/refused.yaml" --by "N. Thrum, nurse"
holds "with the reason" "$scratch/err" "[dose-over-limit]"
ends 3 "a plan that is not there" "$program" sign "$folder/plans/nobody.yaml" --by "N. Thrum, nurse"
same "nothing was added by any of them" "$before" "$(cksum <"$signatures")"

# A line that was cut while it was written counts for nothing.
cp "$signatures" "$scratch/whole.csv"
head -c -20 "$scratch/whole.csv" >"$signatures"
same "a cut line is no signature" draft "$(state)"
tap_end
