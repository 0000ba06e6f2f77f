#!/bin/bash
# The same sheet again: as a whole or an item's pages, larger, on other paper; never another code or page number.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

plan=$samples/plans/mara.yaml
"$program" packet "$plan" -o "$scratch/whole.pdf" >"$scratch/whole.said" 2>&1
pdftotext -layout "$scratch/whole.pdf" "$scratch/whole.txt"
code=$(grep -oE '[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]' "$scratch/whole.said")

# replaced NAME OPTIONS...: makes again.pdf and again.txt.
replaced() {
	local name=$1
	shift
	ends 0 "$name: ends with 0" "$program" replace "$plan" -o "$scratch/again.pdf" "$@"
	pdftotext -layout "$scratch/again.pdf" "$scratch/again.txt"
}

# code_on_every_page TEXT: as often as there are pages.
code_on_every_page() {
	[ "$(grep -c "$code" "$1")" -eq "$(tr -dc '\f' <"$1" | wc -c)" ]
}

replaced "the whole packet"
passes "asked for nothing, it is the packet byte for byte" cmp "$scratch/whole.pdf" "$scratch/again.pdf"

replaced "one medicine" --only blocker
passes "its code is the packet's, on every page" code_on_every_page "$scratch/again.txt"
only_its_pages() {
	! awk -v RS='\f' 'NF && !/Examplin/' "$scratch/again.txt" | grep .
}
passes "no page of another medicine" only_its_pages
# Its pages are known by their titles; they are the packet's own, with all that stands on them.
pages_of_examplin() {
	awk -v RS='\f' -v ORS='\f' '/^ *Examplin[ :]/' "$scratch/whole.txt"
}
all_of_its_pages() {
	[ "$(pages_of_examplin | tr -dc '\f' | wc -c)" -gt 2 ] && diff <(pages_of_examplin) "$scratch/again.txt"
}
passes "all of its pages, each with the number it has in the packet" all_of_its_pages
passes "a strict reader finds no fault" qpdf --check "$scratch/again.pdf"

replaced "two medicines" --only thin --only finish
holds "both are there" "$scratch/again.txt" "Mockuline: " "Fictivane: "
lacks "and no third" "$scratch/again.txt" "Examplin 125 mcg: get ready"

replaced "other paper" --paper letter
passes "other paper has the same code" code_on_every_page "$scratch/again.txt"
same "and its own size" "612 x 792 pts (letter)" "$(pdfinfo "$scratch/again.pdf" | sed -n 's/^Page size: *//p')"

replaced "in black alone" --mono
passes "the words in black are those in colour" cmp "$scratch/whole.txt" "$scratch/again.txt"

# Every amount with its unit that the patient's normal pages say.
amounts() {
	sed '/Check page/,$d' "$1" | tr '\n' ' ' | sed 's/\xc2\xa0/ /g' | grep -oE '[0-9][0-9.,]* (mcg|mg|mL|units|syringe units|tablet)\b' | sort -u
}
replaced "in large print" --large-print
passes "large print has the same code" code_on_every_page "$scratch/again.txt"
says_the_same_amounts() {
	[ "$(amounts "$scratch/whole.txt" | wc -l)" -gt 8 ] && ! comm -23 <(amounts "$scratch/whole.txt") <(amounts "$scratch/again.txt") | grep .
}
passes "and says every amount" says_the_same_amounts
takes_more_pages() {
	[ "$(pdfinfo "$scratch/again.pdf" | sed -n 's/^Pages: *//p')" -gt "$(pdfinfo "$scratch/whole.pdf" | sed -n 's/^Pages: *//p')" ]
}
passes "on more pages" takes_more_pages
passes "in which a strict reader finds no fault" qpdf --check "$scratch/again.pdf"
replaced "one medicine in large print" --large-print --only finish
lacks "is that medicine alone" "$scratch/again.txt" "Examplin: get ready" "Mockuline: inject"

(cd "$scratch" && "$program" replace "$plan" >out 2>err)
passes "without -o it stands beside no packet of that name" test -s "$scratch/mara-replacement.pdf"

refused() {
	local code=$1 name=$2
	shift 2
	ends "$code" "$name" "$program" replace "$@"
	cat "$scratch/err" "$scratch/out" >"$scratch/both"
}
refused 1 "an item that is not in the plan" "$plan" --only bloker -o "$scratch/none.pdf"
holds "is refused with the nearest" "$scratch/both" "[item-not-in-plan]" "did you mean 'blocker'?"
sed '/^doses:/a changes: [{item: ready, from: 2026-12-04, stop: yes, because: {en: "not needed", es: "no hace falta"}}]' \
	"$plan" >"$scratch/without.yaml"
refused 1 "an item that has no page of its own" "$scratch/without.yaml" --clinic "$samples" --only calm --only ready -o "$scratch/none.pdf"
holds "is refused by name" "$scratch/both" "'ready' has no page of its own" "[item-without-pages]"
refused 1 "a language that the clinic has not" "$plan" --language tlh -o "$scratch/none.pdf"
holds "is refused" "$scratch/both" "'tlh' is not one of the clinic's languages" "[language-not-spoken]"
refused 2 "a paper that there is not" "$plan" --paper a5 -o "$scratch/none.pdf"
holds "is a fault of the command line" "$scratch/both" "--paper takes 'letter' or 'a4'"
refused 2 "a packet's own file" "$scratch/whole.pdf" -o "$scratch/none.pdf"
holds "is refused with what to name instead" "$scratch/both" "name the plan that it was made from"
passes "and none of these wrote a file" test ! -e "$scratch/none.pdf"
passes "no register was written" test ! -e "$samples/issued.csv"
tap_end
