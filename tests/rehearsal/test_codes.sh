#!/bin/bash
# Every finding code has a test that names it. What no test of a module says by its place and sentence is said here.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh
here=tests/rehearsal

folder=$(copy_samples codes)
echo "kind,id,seal,who,when" >"$folder/signatures.csv"

# says LINE NAME COMMAND...: the command says this line, word for word; the scratch folder is left out of names.
says() {
	local line=$1 name=$2
	shift 2
	"$@" >"$scratch/raw" 2>&1
	sed "s|$folder/||g; s|$scratch/||g" "$scratch/raw" >"$scratch/said"
	grep -qxF -- "$line" "$scratch/said"
	result $? "$name"
}

# altered PLAN FILE SED LINE: a plan, checked with one thing altered, says this line.
altered() {
	local path=$2
	[ "$2" = plan ] && path=plans/$1.yaml
	sed -i "$3" "$folder/$path"
	says "$4" "$(sed 's/.*\[\(.*\)\]/\1/' <<<"$4"): $1, $3" "$program" check "$folder/plans/$1.yaml"
	cp "$samples/$path" "$folder/$path"
}

# --- A plan. In line 2 'born' of Mara is at column 44: 10 + 6 + 19 + 8 characters come before its value.

altered mara plan 's/born: 1997/born: 2027/' \
	"plans/mara.yaml:2:44: stop: born on 2027-02-14 is not before 2026-12-03, the day this plan speaks from; check both years [born-after]"
altered mara plan 's/born: 1997-02-14/born: 2026-12-03/' \
	"plans/mara.yaml:2:44: stop: born on 2026-12-03 is not before 2026-12-03, the day this plan speaks from; check both years [born-after]"
# 16 on the very day is not a child, nor is 65 too old: only the day after each is doubted.
altered mara plan 's/born: 1997-02-14/born: 2010-12-04/' \
	"plans/mara.yaml:2:44: caution: born on 2010-12-04 makes the patient 15 years old; check the year [age-unlikely]"
altered mara plan 's/born: 1997-02-14/born: 1960-12-03/' \
	"plans/mara.yaml:2:44: caution: born on 1960-12-03 makes the patient 66 years old; check the year [age-unlikely]"
for born in 2010-12-03 1960-12-04; do
	sed -i "s/born: 1997-02-14/born: $born/" "$folder/plans/mara.yaml"
	ends 0 "born on $born is accepted" "$program" check "$folder/plans/mara.yaml"
	lacks "and nothing is said of the age" "$scratch/err" "age-unlikely"
	cp "$samples/plans/mara.yaml" "$folder/plans/mara.yaml"
done
altered mara plan 's/born: 1997-02-14, //' \
	"plans/mara.yaml:2:10: caution: the sheet has no date of birth to tell this patient from another; add 'born' [birth-missing]"
altered mara plan 's/record: "LQ-0001", //' \
	"plans/mara.yaml:2:10: caution: the sheet has no record number to tell this patient from another; add 'record' [record-missing]"
# 28 days of December, 31 + 28 + 31 + 30 + 31 to the end of May, and 4 or 5 of June: 183 or 184 days.
altered ione plan 's/2026-12-05/2027-06-05/' \
	"plans/ione.yaml:8:23: caution: 'stimulation' on 2027-06-05 is 184 days after 2026-12-03, the day this plan speaks from; check both years [date-far-off]"
altered ione plan 's/2026-12-05/2025-12-05/' \
	"plans/ione.yaml:8:23: caution: 'stimulation' on 2025-12-05 is 363 days before 2026-12-03, the day this plan speaks from; check both years [date-far-off]"
sed -i 's/2026-12-05/2027-06-04/' "$folder/plans/ione.yaml"
ends 0 "half a year ahead is accepted" "$program" check "$folder/plans/ione.yaml"
lacks "and nothing is said of the year" "$scratch/err" "date-far-off"
cp "$samples/plans/ione.yaml" "$folder/plans/ione.yaml"
altered ione plan 's/from: 5/from: 50/' \
	"plans/ione.yaml:9:46: caution: no day of 'growth' gets this dose of the plan; check the day it is from [dose-never-given]"
altered ione plan 's/count: 10, expires: 2027-03/count: 10/' \
	"plans/ione.yaml:11:5: caution: no expiry of 'vacuprine-vial' is given, so it is counted for every day; read it off the box [expiry-missing]"
altered ione plan '/examplin/{s/.*/&\n&/}' \
	"plans/ione.yaml:13:5: caution: 'examplin-kit' stands here as it stands above; delete one row if it is the same box [dispensed-twice]"

# --- A protocol and a medicine list.

again='  - id: again\n    medicine: mockuline\n    at: [morning]\n    start: {event: stimulation, day: 5}'
again+='\n    end: {event: trigger, day: 0}\n    doses: [{from: 1, dose: 0.25 mg}]'
altered mara protocols/half-first.yaml "s/^  - id: finish/$again\n&/" \
	"protocols/half-first.yaml:40:29: caution: 'thin' and 'again' both give Mockuline at 2026-12-08 08:00; delete one if it is the same order [given-twice]"
altered mara formulary.yaml 's/route: subcutaneous/route: oral/' \
	"formulary.yaml:13:9: stop: 'examplin-kit' has the container 'powder-vial', and Examplin is given by the oral route; mend 'route' or 'container' [route-differs]"
altered mara formulary.yaml '/id: fictivane$/,/sites/s/route: subcutaneous/route: oral/' \
	"formulary.yaml:98:9: stop: 'fictivane-vial' has the container 'solution-vial', and Fictivane is given by the oral route; mend 'route' or 'container' [route-differs]"
altered mara formulary.yaml '/id: nonsensol$/,/limits/s/route: oral/route: subcutaneous/' \
	"formulary.yaml:83:9: stop: 'nonsensol-tablets' has the container 'counted', and Nonsensol is given by the subcutaneous route; mend 'route' or 'container' [route-differs]"
altered tilda formulary.yaml '/id: placebix$/,/sites/s/route: subcutaneous/route: intramuscular/' \
	"formulary.yaml:129:9: stop: 'placebix-pen' has the container 'pen', and Placebix is given by the intramuscular route; mend 'route' or 'container' [route-differs]"
altered tamsin formulary.yaml '/id: pretendol$/,/sites/s/route: subcutaneous/route: intramuscular/' \
	"formulary.yaml:68:9: stop: a part of 'pretendol-syringe' cannot be given into the muscle: its needle would be bare before the patient lies down; order whole syringes, or a vial [part-in-muscle]"
altered mara syringes.yaml '/id: syringe-1/,/measured/s/needle: none/needle: fixed/' \
	"formulary.yaml:13:9: stop: 'examplin-kit' is drawn up with a needle of its own, and 'syringe-1' has a fixed one; choose another syringe [needle-fixed]"
altered mara formulary.yaml '/id: mockuline-syringe/,/storage/s/volume: 0.5 mL/volume: 5 mL/' \
	"formulary.yaml:55:17: stop: 'mockuline-syringe' comes filled with more than 'filled-05' holds; mend 'volume' or 'syringe' [volume-over-syringe]"
# Each of these three is a guard left out of a record: the dose is made all the same, and the staff's page says so.
altered mara formulary.yaml '/limits: {least: 125 mcg/d' \
	"formulary.yaml:3:5: caution: Examplin has no 'least' and 'most', and a limit is the only guard against a dose ten times off; add 'least' and 'most' to its 'limits' [limits-missing]"
altered mara formulary.yaml 's/{least: 125 mcg, most/{most/' \
	"formulary.yaml:3:5: caution: Examplin has no 'least', and a limit is the only guard against a dose ten times off; add 'least' to its 'limits' [limits-missing]"
altered mara formulary.yaml 's/most: 250 mcg, day_most: 250 mcg, gap/gap/' \
	"formulary.yaml:3:5: caution: Examplin has no 'most', and a limit is the only guard against a dose ten times off; add 'most' to its 'limits' [limits-missing]"
altered mara formulary.yaml '/id: fictivane-vial/,/storage/{/needles:/d}' \
	"formulary.yaml:98:9: caution: 'fictivane-vial' is injected with 'syringe-3', which has no needle of its own, and none is stated; add 'needles: {giving: ...}' [needle-missing]"
altered mara formulary.yaml '/id: fictivane-vial/,/storage/s/, giving: {[^}]*}//' \
	"formulary.yaml:98:9: stop: 'fictivane-vial' is drawn with one needle and injected with another, which is not stated; add 'needles: {giving: ...}' [needle-unknown]"
altered wilma formulary.yaml '/id: phialone-ampoule/,/storage/s/{mixing: .*filter: yes}/{filter: yes}/' \
	"formulary.yaml:291:9: stop: 'phialone-ampoule' is drawn with one needle and injected with another, which is not stated; add 'needles: {giving: ...}' [needle-unknown]"
altered wilma formulary.yaml '/id: phialone-ampoule/,/storage/s/length: 16 mm/length: 17 mm/' \
	"formulary.yaml:295:83: caution: a needle of 17 mm is unlikely under the skin, where 16 mm is the usual most; check it, and the 'route' of Phialone [needle-unlikely]"
altered tamsin formulary.yaml '/id: oleumine-vial/,/storage/s/length: 38 mm/length: 24 mm/' \
	"formulary.yaml:154:83: caution: a needle of 24 mm is unlikely into the muscle, where 25 mm is the usual least; check it, and the 'route' of Oleumine [needle-unlikely]"
altered tamsin formulary.yaml '/id: oleumine-vial/,/storage/s/mixing: {[^}]*}, //' \
	"formulary.yaml:148:9: caution: 'oleumine-vial' is drawn and injected with one needle, which is bare while the patient lies down and the skin is wiped; add 'needles: {mixing: ...}' [needle-bare]"
# Without a thick needle the filter needle draws, and another injects.
sed -i '/id: phialone-ampoule/,/storage/s/{mixing: {[^}]*}, /{/' "$folder/formulary.yaml"
ends 0 "a filter needle and one to inject with are enough" "$program" check "$folder/plans/wilma.yaml"
cp "$samples/formulary.yaml" "$folder/formulary.yaml"
altered ione formulary.yaml '/id: vacuprine-vial/,/storage/{/displacement/d}' \
	"formulary.yaml:112:9: caution: the powder of 'vacuprine-vial' is taken to add nothing to the liquid; copy the label's concentration once mixed, or its 'displacement' [displacement-missing]"
# A volume too large for any container is still told in the limit's unit: 50 mL of 50 mg/mL are 2,500 mg, of 100 mg at
# most; 3 mL of 1 mg/mL are 3 mg, of 0.3 mg at most.
altered tamsin protocols/support.yaml 's/dose: 50 mg/dose: 50 mL/' \
	"protocols/support.yaml:14:29: stop: 50 mL is over the most allowed, 100 mg, for Oleumine; check the order [dose-over-limit]"
altered tamsin protocols/support.yaml 's/dose: 0.3 mg/dose: 3 mL/' \
	"protocols/support.yaml:26:29: stop: 3 mL is 10 times the most allowed, 0.3 mg, for Pretendol [dose-over-limit]"
# A cylinder 6.5 mm thick and 5.7 mm long holds 0.19 mL; 30 mm long, 0.995 mL; 31 mm long, 1.03 mL.
altered mara syringes.yaml 's/scale_length: 57 mm/scale_length: 5.7 mm/' \
	"syringes.yaml:3:5: stop: a syringe as thick and long as 'barrel' and 'scale_length' say cannot hold the capacity of 'syringe-1'; measure it again [scale-impossible]"
altered mara syringes.yaml 's/scale_length: 57 mm/scale_length: 30 mm/' \
	"syringes.yaml:3:5: stop: a syringe as thick and long as 'barrel' and 'scale_length' say cannot hold the capacity of 'syringe-1'; measure it again [scale-impossible]"
sed -i 's/scale_length: 57 mm/scale_length: 31 mm/' "$folder/syringes.yaml"
ends 0 "a barrel that just holds its capacity is accepted" "$program" check "$folder/plans/mara.yaml"
cp "$samples/syringes.yaml" "$folder/syringes.yaml"
altered mara syringes.yaml 's/scale_length: 43 mm/scale_length: 300 mm/' \
	"plans/mara.yaml:2:1: stop: the syringe 'insulin-50' is longer than the page is wide and cannot be drawn in true size [syringe-too-long]"

# --- The data folder without the steps of a container.

mkdir "$scratch/data"
cp -R fonts templates "$scratch/data"
rm "$scratch/data/templates/steps/prefilled-syringe.yaml"
says "formulary.yaml:52:9: stop: there are no steps for the technique 'prefilled-syringe'; add templates/steps/prefilled-syringe.yaml [technique-unknown]" \
	"technique-unknown: a technique without a file" \
	env FILLMARK_DATA="$scratch/data" "$program" check "$folder/plans/mara.yaml"

# --- The command line.

says "fillmark: stop: --syringe: '1 mL:0.3 mL' is not a scale; write a capacity and a step that divides it, such as '1 mL:0.01 mL' [bad-scale]" \
	"bad-scale: a step that does not divide the capacity" \
	"$program" draw "0.5 mL" --from "1 mg/1 mL" --syringe "1 mL:0.3 mL"
mkdir "$scratch/alone"
cp "$samples/plans/mara.yaml" "$scratch/alone"
says "fillmark: stop: no folder at or above 'alone/mara.yaml' has a clinic.yaml; name the clinic's folder with --clinic [clinic-not-found]" \
	"clinic-not-found: a plan that lies in no clinic's folder" "$program" check "$scratch/alone/mara.yaml"
ends 3 "a packet in a folder that does not exist" "$program" packet "$folder/plans/mara.yaml" -o "$scratch/none/packet.pdf"
cp "$scratch/err" "$scratch/unwritable"
says "fillmark: stop: 'none/packet.pdf' cannot be written: No such file or directory; make its folder first, or name another place [file-unwritable]" \
	"file-unwritable: the packet" cat "$scratch/unwritable"

# --- Answers of a second check.

# compare ROWS LINE NAME
compare() {
	printf "$1" >"$scratch/answers.csv"
	says "$2" "$3" "$program" workings "$folder/plans/mara.yaml" --compare "$scratch/answers.csv"
}

compare 'blank,answer\n1a,0.2,mL\n' \
	"answers.csv:2:1: stop: this row has 3 columns; write the blank's name and the answer: 1a,0.5 [bad-answer]" \
	"bad-answer: a row of three columns"
compare 'blank,answer\n1a,0.2\n99z,1\n' \
	"answers.csv:3:1: stop: there is no blank '99z' on this plan's second check [unknown-blank]" \
	"unknown-blank: a name that no blank has"
compare 'blank,answer\n1a,0.2\n1b,20\n1a,0.2\n' "answers.csv:4:1: stop: blank 1a is answered twice [duplicate-answer]" \
	"duplicate-answer: one blank twice"

# --- All codes.

# A code of one word must stand as one, in brackets or quotes: as a mere word it may mean anything.
named() {
	case $1 in
	*-*) grep -rqE "(^|[^a-z-])$1([^a-z-]|\$)" tests --include='test_*' --include=mutations.txt ;;
	*) grep -rqE "\[$1\]|\"$1\"" tests --include='test_*' --include=mutations.txt ;;
	esac
}

all_named() {
	local code status=0
	while IFS= read -r code; do
		named "$code" || grep -q "^$code: ." "$here/untested.txt" || { echo "no test names '$code'" && status=1; }
	done <"$scratch/codes"
	return $status
}

known() {
	local code status=0
	while IFS= read -r code; do
		grep -qx "$code" "$scratch/codes" || { echo "there is no '$code'" && status=1; }
	done < <(sed -n 's/^\([a-z-]*\): .*/\1/p' "$here/untested.txt")
	return $status
}

passes "the codes of the source are found" python3 "$here/codes.py"
cp "$scratch/said" "$scratch/codes"
passes "there are well over a hundred" test "$(wc -l <"$scratch/codes")" -gt 150
passes "every code is named by a test, or untested.txt says why not" all_named
passes "every code of untested.txt exists" known
tap_end
