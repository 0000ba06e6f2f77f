#!/bin/bash
# Workings: amounts that a call may set have their lines; a refused plan has its reasons; a second check minds units.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

folder=$(copy_samples workings)
plan=$folder/plans/ione.yaml

# --- What a call may set

# 375 units in 1.4 mL and 0.1 mL of powder are 250 units in 1 mL: 150 units are 0.6 mL, 187.5 are 0.75, 225 are 0.9.
may_become='{call: {en: "after the scan"}}, may_become: [150 units, 187.5 units, 225 units]'
sed -i "s/dose: 187.5 units/dose: $may_become/" "$plan"

ends 0 "a plan with amounts that a call sets" "$program" workings --json "$plan"
python3 -c '
import json, sys
doses = [dose for dose in json.load(sys.stdin)["doses"] if dose["item"] == "growth"]
for dose in doses:
    print(dose["n"], dose["dose"], *("{}: {} {}".format(one["dose"], one["draws"][-1]["volume_exact"], one["draws"][-1]["mark"])
                                     for one in dose.get("may_become", [])), sep=" | ")
' <"$scratch/out" >"$scratch/options"
holds "each amount has its line" "$scratch/options" \
	"6 | None | 150 units: 3/5 0.6 mL | 187.5 units: 3/4 0.75 mL | 225 units: 9/10 0.9 mL"
holds "a known amount has none" "$scratch/options" "4 | 150 units"
ends 0 "the same to read" "$program" workings "$plan"
sed 's/\xc2\xa0/ /g' "$scratch/out" >"$scratch/text"
holds "each amount is worked out" "$scratch/text" "Vacuprine, if a call sets it (150 units): 0.6 mL" \
	"Vacuprine, if a call sets it (187.5 units): 0.75 mL" "Vacuprine, if a call sets it (225 units): 0.9 mL"
lacks "a row without a detail has no empty bracket" "$scratch/text" "()"

code() {
	"$program" workings --json "$plan" 2>/dev/null | sed -n 's/^ "code": "\(.*\)",$/\1/p'
}
before=$(code)
sed -i 's/187.5 units, 225 units\]/200 units, 225 units]/' "$plan"
passes "another amount that a call may set is another sheet" test "$before" != "$(code)"
# 226 units are 0.904 mL, between two lines; 250 are over the item's most, 225.
sed 's/200 units, 225 units\]/200 units, 226 units]/' "$plan" >"$folder/plans/between.yaml"
ends 1 "an amount between two lines" "$program" workings --json "$folder/plans/between.yaml"
holds "is refused where it is written" "$scratch/err" "between.yaml:9:129: stop: " "[volume-between-lines]"
sed 's/200 units, 225 units\]/200 units, 250 units]/' "$plan" >"$folder/plans/over.yaml"
ends 1 "an amount over the limit" "$program" workings --json "$folder/plans/over.yaml"
holds "is refused where it is written" "$scratch/err" \
	"over.yaml:9:129: stop: 250 units is over the most allowed, 225 units, for Vacuprine"

# --- Refused: the object all the same, with the reasons and without doses

passes "the object is JSON, with no doses and the finding" python3 -c '
import json, sys
object = json.load(sys.stdin)
assert object["plan"] == "over" and object["code"] is None and object["state"] is None, object
assert object["doses"] == [] and object["supplies"] == [], object
assert [(f["level"], f["code"], f["line"], f["column"]) for f in object["findings"]] == \
       [("stop", "dose-over-limit", 9, 129)], object["findings"]
' <"$scratch/out"
ends 3 "a plan that is not there" "$program" workings --json "$folder/plans/nobody.yaml"
holds "has an object as well" "$scratch/out" '"plan": "nobody.yaml"' '"code": "file-unreadable"'
ends 1 "to read, a refused plan has nothing" "$program" workings "$folder/plans/over.yaml"
same "nothing on standard output" "" "$(cat "$scratch/out")"

# --- A second check with a unit that is not the blank's: 20 syringe units are 0.2 mL and line 20.

answer() {
	printf 'blank,answer\n1a,"%s"\n1b,"%s"\n' "$1" "$2" >"$scratch/answers.csv"
	"$program" workings "$folder/plans/mara.yaml" --compare "$scratch/answers.csv" 2>&1 | grep answer-differs >"$scratch/differs"
}
answer "0.2 mL" 20
same "the unit beside the blank" "" "$(cat "$scratch/differs")"
answer "0.2" "20 syringe units"
same "the unit of the scale" "" "$(cat "$scratch/differs")"
answer "0.2 mg" 20
holds "a mass where a volume is asked for" "$scratch/differs" "'0.2 mg' for blank 1a"
answer 0.2 "20 mL"
holds "a volume for a line in units" "$scratch/differs" "'20 mL' for blank 1b"
answer 0.2 "20 mg"
holds "a mass for a line" "$scratch/differs" "'20 mg' for blank 1b"
answer "0,2" 20
holds "a decimal comma, where the clinic has a point" "$scratch/differs" "'0,2' for blank 1a"
sed -i 's/^country: GB/country: ES/' "$folder/clinic.yaml"
answer "0,2" 20
same "a decimal comma, where the clinic has one" "" "$(cat "$scratch/differs")"
answer "0.2" 20
holds "and a point there is no decimal mark" "$scratch/differs" "'0.2' for blank 1a"
cp "$samples/clinic.yaml" "$folder"

# --- A powder's own volume, where the label implies it: 250 mcg at 200 mcg in 1 mL are 1.25 mL, of 1 mL of liquid

sed -i '/id: examplin-kit/,/id: sampletide/{/displacement:/d}' "$folder/formulary.yaml"
sed -i 's|concentration: 250 mcg/mL|concentration: 200 mcg/mL|; s|250 mcg, day_most: 250 mcg|200 mcg, day_most: 200 mcg|' "$folder/formulary.yaml"
sed -i 's/dose: 125 mcg, split: yes}, {from: 7, dose: 250 mcg}/dose: 200 mcg}/' "$folder/protocols/half-first.yaml"
cp "$samples/plans/mara.yaml" "$folder/plans/mara.yaml"
"$program" workings "$folder/plans/mara.yaml" 2>"$scratch/err" | sed 's/\xc2\xa0/ /g' >"$scratch/text"
holds "is in the working" "$scratch/text" \
	"The label says 200 mcg in 1 mL: 1 mL liquid, 0.25 mL powder."
cp "$samples/formulary.yaml" "$folder"

# --- A window: so long before or after its time a dose is on time still

cp -R "$samples/protocols" "$folder"
cp "$samples/plans/mara.yaml" "$folder/plans/mara.yaml"
sed -i '/id: thin/,/start:/s/at: \[morning\]/&\n    window: 90 min/' "$folder/protocols/half-first.yaml"
"$program" workings "$folder/plans/mara.yaml" 2>/dev/null | sed 's/\xc2\xa0/ /g' >"$scratch/text"
same "the working of its doses says it" 1 "$(grep -cF "On time: up to 90 min early or late." "$scratch/text")"
"$program" workings --json "$folder/plans/mara.yaml" 2>/dev/null >"$scratch/json"
same "each of its doses has it, and no other" "6 thin" "$(python3 -c '
import json, sys
items = [dose["item"] for dose in json.load(sys.stdin)["doses"] if dose.get("window") == "90 min"]
print(len(items), *sorted(set(items)))' <"$scratch/json")"
# late_says NAME WORDS: on the sheet of that plan as it is now
late_says() {
	packet_text "$folder/plans/mara.yaml" "$scratch/window"
	pdftotext "$scratch/window.pdf" - | tr -s ' \n' ' ' | sed 's/\xc2\xa0/ /g' >"$scratch/text"
	holds "$1" "$scratch/text" "$2"
}
late_says "its sheet says it as clock times, before the words on a late dose" "On time: 06:30 to 09:30. After that:"
sed -i 's/at: \[morning\]\(.*\)/at: ["23:00"]\1/' "$folder/protocols/half-first.yaml"
late_says "and as a time where it ends on another day" "Up to 90 min early or late is on time. After that:"
# Clocks go back in the night to 25 October: half past midnight of the other days is half past one there.
sed -i 's/at: \["23:00"\]/at: ["04:30"]/; s/window: 90 min/window: 4 h/' "$folder/protocols/half-first.yaml"
late_says "where the clocks are left alone, as clock times" "On time: 00:30 to 08:30. After that:"
sed -i 's/as_of: .*/as_of: 2026-10-18/; s/^events: .*/events: {stimulation: 2026-10-19, trigger: "2026-10-29 22:30", retrieval: "2026-10-31 10:30"}/' \
	"$folder/plans/mara.yaml"
late_says "where they change between two doses, as a time" "Up to 4 h early or late is on time. After that:"
cp "$samples/plans/mara.yaml" "$folder/plans/mara.yaml"
# The rest of a box keeps for 26 h: an hour either way is just within, 90 minutes are not. 20:00, an hour early, and 26 h.
cp "$samples/protocols/half-first.yaml" "$folder/protocols"
sed -i '/id: blocker/,/start:/s/at: \[evening\]/&\n    window: 1 h/' "$folder/protocols/half-first.yaml"
late_says "a label counts from the earliest that the first half is on time" "Use by Sat 5 Dec, 21:00"
late_says "and so does its working" "19:00 + 26 h = Sat 5 Dec, 21:00"
cp "$samples/protocols/half-first.yaml" "$folder/protocols"
sed -i '/id: blocker/,/start:/s/at: \[evening\]/&\n    window: 90 min/' "$folder/protocols/half-first.yaml"
ends 1 "a window that something else leaves no room for" "$program" workings "$folder/plans/mara.yaml"
holds "is refused where it is written" "$scratch/err" "half-first.yaml:25:13: stop: 'blocker' may be 1 h 30 min early or late" \
	"[window-too-wide]"
cp "$samples/protocols/half-first.yaml" "$folder/protocols"

# --- A file that is no list of answers

# refused_file LINE NAME: of answers.csv as it is now
refused_file() {
	ends 1 "$2" "$program" workings "$folder/plans/mara.yaml" --compare "$scratch/answers.csv"
	sed -i "s|$scratch/||" "$scratch/err"
	same "$2: only that is said" "$1" "$(cat "$scratch/err")"
}
: >"$scratch/answers.csv"
refused_file "answers.csv: stop: there is nothing in this file; write a row for each blank, as in 1a,0.5 [empty-file]" \
	"an empty file"
head -c 100 "$program" >"$scratch/answers.csv"
refused_file "answers.csv: stop: this is no text in UTF-8; save the answers as CSV in UTF-8 [not-utf8]" "a program"
printf '1a,0.2\n1b,\033[2J20\n' >"$scratch/answers.csv"
ends 1 "an escape sequence" "$program" workings "$folder/plans/mara.yaml" --compare "$scratch/answers.csv"
holds "is named" "$scratch/err" "answers.csv:2:1: stop: this row holds U+001B, which is a control character; delete it"
lacks "and not repeated" "$scratch/err" $'\033'
printf '\357\273\277blank,answer\n1a,0.2\n' >"$scratch/answers.csv"
"$program" workings "$folder/plans/mara.yaml" --compare "$scratch/answers.csv" >/dev/null 2>"$scratch/err"
lacks "a byte order mark of a spreadsheet is no blank" "$scratch/err" "[unknown-blank]" "blank 1a"
tap_end
