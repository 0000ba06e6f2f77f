#!/bin/bash
# What a command ends with, what it says, and that nothing is left behind where it refused.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

folder=$(copy_samples exits)
cd "$scratch" || exit
mkdir made

# said NAME WORDS...: what the last command of `ends` said on standard error.
said() {
	local name=$1
	shift
	holds "$name" "$scratch/err" "$@"
}

# nothing_made NAME: no packet, not even the beginning of one.
nothing_made() {
	same "$1" "" "$(ls -A "$scratch/made")"
	rm -rf "$scratch/made"
	mkdir "$scratch/made"
}

packet() {
	"$program" packet "$1" -o "$scratch/made/packet.pdf"
}

# --- 0

ends 0 "--help" "$program" --help
holds "it names every command" "$scratch/out" check packet workings draw sign
same "it goes to standard output alone" "" "$(cat "$scratch/err")"
ends 0 "--version" "$program" --version
passes "one line, a name and a number" grep -qE '^fillmark [0-9]+\.[0-9]+\.[0-9]+$' "$scratch/out"
ends 0 "check a good plan" "$program" check "$folder/plans/mara.yaml"
same "it says nothing" "" "$(cat "$scratch/out" "$scratch/err")"
ends 0 "check a clinic's folder" "$program" check "$folder"
ends 0 "check all plans at once" "$program" check "$folder"/plans/*.yaml
same "check writes nothing" "$(cd "$samples" && find . | sort)" "$(cd "$folder" && find . | sort)"

# --- A draft is made, and says so.

ends 0 "a plan that is not signed makes a packet" packet "$folder/plans/rosalind-draft.yaml"
said "and a caution, with file, line and column" "rosalind-draft.yaml:2:1: caution: " "[seal-missing]"
holds "results go to standard output" "$scratch/out" "packet.pdf: " "DRAFT"
pages=$(pdfinfo made/packet.pdf | sed -n 's/^Pages: *//p')
count_pages() {
	pdftotext -layout "$1" - | awk -v RS='\f' -v words="$2" 'index($0, words) { n++ } END { print n + 0 }'
}
same "each page has the band" "$pages" "$(count_pages made/packet.pdf "DRAFT · not yet checked · do not use")"
same "each page's foot says it" "$pages" "$(count_pages made/packet.pdf "DRAFT · not signed")"
same "no page says that it is signed" 0 "$(count_pages made/packet.pdf "· signed")"
for plan in ione mara tamsin; do
	packet "$folder/plans/$plan.yaml" >out 2>err
	pages=$(pdfinfo made/packet.pdf | sed -n 's/^Pages: *//p')
	same "$plan, signed: no page says DRAFT" 0 "$(count_pages made/packet.pdf DRAFT)"
	same "$plan, signed: each page says when" "$pages" "$(count_pages made/packet.pdf "· signed 25 Nov 2026")"
done
ends 0 "--quiet" "$program" packet --quiet "$folder/plans/rosalind-draft.yaml" -o made/packet.pdf
same "it says nothing of cautions or results" "" "$(cat out err)"
rm made/packet.pdf

# --- 1: refused

: >"$folder/plans/empty.yaml"
ends 1 "an empty file" packet "$folder/plans/empty.yaml"
said "it is named, and why" "empty.yaml" "stop: " "nothing in this file"
nothing_made "nothing is made of it"

sed 's/^version: 1/verison: 1/' "$folder/plans/mara.yaml" >"$folder/plans/typo.yaml"
line=$(grep -n '^verison' "$folder/plans/typo.yaml" | cut -d: -f1)
ends 1 "a mistyped key" packet "$folder/plans/typo.yaml"
said "where it is, and what was meant" "typo.yaml:$line:1: stop: " "'verison'" "did you mean 'version'?" "[unknown-key]"
nothing_made "nothing is made of it"

sed -e 's/^version: 1/verison: 1/' -e 's/^language: en/langage: en/' -e 's/{from: 1, dose: 20/{from: 1, dsoe: 20/' \
	"$folder/plans/mara.yaml" >"$folder/plans/typos.yaml"
ends 1 "three mistyped keys" "$program" check "$folder/plans/typos.yaml"
said "are all said in one go" "did you mean 'version'?" "did you mean 'language'?" "did you mean 'dose'?"

# ten times the most allowed (call-start.yaml: 225 units)
sed 's/dose: 150 units/dose: "2,250 units"/' "$folder/plans/ione.yaml" >"$folder/plans/tenfold.yaml"
line=$(grep -n '2,250' "$folder/plans/tenfold.yaml" | cut -d: -f1)
ends 1 "ten times the most allowed" packet "$folder/plans/tenfold.yaml"
said "where, how much too much, and for what" "tenfold.yaml:$line:" \
	"stop: 2,250 units is 10 times the most allowed, 225 units" "Vacuprine" "[dose-over-limit]"
nothing_made "nothing is made of it"
ends 1 "workings of it" "$program" workings --json "$folder/plans/tenfold.yaml"
ends 1 "check of it" "$program" check "$folder/plans/tenfold.yaml"
ends 1 "check of it with good ones" "$program" check "$folder/plans/mara.yaml" "$folder/plans/tenfold.yaml" \
	"$folder/plans/tamsin.yaml"
ends 1 "--quiet" "$program" packet --quiet "$folder/plans/tenfold.yaml" -o made/packet.pdf
said "never keeps back a stop" "[dose-over-limit]"
nothing_made "nothing is made of it"

# 201 / 250 = 0.804 mL, and the 1 mL syringe has a line every 0.01 mL
sed 's/dose: 150 units/dose: 201 units/' "$folder/plans/ione.yaml" >"$folder/plans/between.yaml"
ends 1 "a dose between two lines" packet "$folder/plans/between.yaml"
said "both lines are named" "0.804 mL" "0.8 mL" "0.81 mL"
nothing_made "nothing is made of it"

for wrong in '.5 tablet' '1,5 tablets' '150' '150 U' '1e3 units' '-75 units' '0 units' '150 unitz'; do
	sed "s/dose: 150 units/dose: \"$wrong\"/" "$folder/plans/ione.yaml" >"$folder/plans/wrong.yaml"
	ends 1 "a dose written '$wrong'" packet "$folder/plans/wrong.yaml"
	line=$(grep -nF -- "\"$wrong\"" "$folder/plans/wrong.yaml" | cut -d: -f1)
	said "is refused where it stands" "wrong.yaml:$line:" "stop: "
done
nothing_made "nothing is made of any"

sed 's/^protocol: .*/protocol: half-frist/' "$folder/plans/mara.yaml" >"$folder/plans/unknown.yaml"
ends 1 "a protocol that there is not" packet "$folder/plans/unknown.yaml"
said "which, and the nearest" "unknown.yaml:" "'half-frist'" "half-first"

# 22:30 on the 14th to 10:30 on the 16th is 36 h; 20:30 would be 38 h, and the protocol allows 1 h more or less
sed 's/2026-12-14 22:30/2026-12-14 20:30/' "$folder/plans/mara.yaml" >"$folder/plans/hours.yaml"
ends 1 "an exact time that is not the stated hours before" packet "$folder/plans/hours.yaml"
said "how many they are" "38 h" "36 h"
nothing_made "nothing is made of any"

mkdir -p lonely && cp "$folder/plans/mara.yaml" lonely/
ends 1 "a plan without a clinic" packet lonely/mara.yaml
said "is told what to do" "clinic.yaml" "--clinic"
ends 0 "--clinic names one" "$program" packet lonely/mara.yaml --clinic "$folder" -o made/one.pdf
ends 0 "FILLMARK_CLINIC names one" env FILLMARK_CLINIC="$folder" "$program" packet lonely/mara.yaml -o made/two.pdf
passes "the same packet" cmp made/one.pdf made/two.pdf
rm made/*.pdf

# --- 2: the command line

ends 2 "no command" "$program"
ends 2 "an unknown command" "$program" pakcet "$folder/plans/mara.yaml"
said "it is named" "'pakcet'" "--help"
ends 2 "an unknown option" "$program" packet "$folder/plans/mara.yaml" --colour red
said "it is named, with its command" "'--colour'" "packet"
ends 2 "another command's option" "$program" packet "$folder/plans/mara.yaml" --json
ends 2 "another command's option, before the command" \
	"$program" --json packet "$folder/plans/mara.yaml" -o made/packet.pdf
ends 2 "an option without its value" "$program" packet "$folder/plans/mara.yaml" -o
ends 2 "packet of nothing" "$program" packet
ends 2 "packet of two plans" "$program" packet "$folder/plans/mara.yaml" "$folder/plans/ione.yaml"
ends 2 "check of nothing" "$program" check
ends 2 "workings of nothing" "$program" workings
ends 2 "sign without a name" "$program" sign "$folder/plans/mara.yaml"
same "standard output is left alone" "" "$(cat out)"
nothing_made "nothing is made"

# --- 3: the system

ends 3 "a plan that is not there" packet "$folder/plans/nobody.yaml"
said "it is named" "nobody.yaml" "[file-unreadable]"
ends 3 "check of a file that is not there" "$program" check "$folder/plans/nobody.yaml"
ends 3 "a clinic that is not there" "$program" check "$folder/plans/mara.yaml" --clinic "$scratch/nowhere"
nothing_made "nothing is made"
ends 3 "a folder that is not there" "$program" packet "$folder/plans/mara.yaml" -o "$scratch/made/none/packet.pdf"
said "why it cannot be written" "none/packet.pdf" "No such file or directory"
ends 3 "a folder in the file's place" "$program" packet "$folder/plans/mara.yaml" -o "$scratch/made"
same "it is still a folder, and empty" "" "$(ls -A made)"
same "and nothing lies beside it" "made" "$(ls -d made*)"
if [ "$(id -u)" -eq 0 ]; then
	skip "a folder that is read-only" "root may write everywhere"
else
	chmod 500 made
	ends 3 "a folder that is read-only" packet "$folder/plans/mara.yaml"
	chmod 700 made
fi
tap_end
