#!/bin/bash
# A clinic's own words, order of pages and steps: what it may change without a line of C, and what it is told.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

folder=$(copy_samples own)
plan=$folder/plans/mara.yaml
mkdir "$folder/words" "$folder/templates" "$folder/templates/steps"
words=$folder/words/en.yaml
pages=$folder/templates/pages.yaml
steps=$folder/templates/steps/solution-vial.yaml

state() {
	"$program" workings --json "$plan" 2>"$scratch/err" | sed -n 's/^ "state": "\(.*\)",$/\1/p'
}

# refused NAME FILE TEXT FINDINGS...: with this file, packet is refused with these findings; then the file is gone.
refused() {
	local name=$1 file=$2 text=$3
	shift 3
	printf '%s\n' "$text" >"$file"
	ends 1 "$name: refused" "$program" packet "$plan" -o "$scratch/none.pdf"
	holds "$name: said where and why" "$scratch/err" "$@"
	passes "$name: nothing is printed" test ! -e "$scratch/none.pdf"
	rm "$file"
}

# --- Words, key by key

printf 'language: en\nwords:\n  overview.question: "Ring us whenever you like."\n' >"$words"
passes "own words: a packet" packet_text "$plan" "$scratch/text"
holds "the clinic's words are printed" "$scratch/text" "Ring us whenever you like."
lacks "and not the program's" "$scratch/text" "22:30. Unsure? Stop, call."
holds "all other words stay" "$scratch/text" "Your medicines at a glance"
same "unsigned words make a draft" draft "$(state)"
holds "which is said at their place" "$scratch/err" "words/en.yaml:1:1: caution: " "[seal-missing]"
"$program" sign "$folder" --by "P. Quibble, pharmacist" >/dev/null 2>&1
same "signed, they do not" signed "$(state)"
sed -i 's/whenever/when/' "$words"
same "changed, they do again" draft "$(state)"
holds "as their seal is broken" "$scratch/err" "words/en.yaml:1:1: caution: " "[seal-broken]"
rm "$words"

refused "an unknown key" "$words" 'language: en
words:
  overview.qestion: "Ring us."' \
	"words/en.yaml:3:3: stop: unknown key 'overview.qestion'; did you mean 'overview.question'? [unknown-key]"
refused "a place that nothing fills" "$words" 'language: en
words: {overview.exact_dose: "{nme}, exact"}' \
	"words/en.yaml:2:9: stop: 'overview.exact_dose' has no {nme} to fill in; did you mean 'name'? [unknown-placeholder]"
refused "a place that is left out" "$words" 'language: en
words:
  line.numbered: "the numbered line"' \
	"words/en.yaml:3:3: stop: 'line.numbered' leaves out {number}, which the sheet needs; put it in [unused-placeholder]"
refused "words that keep patients safe" "$words" 'language: en
words:
  before.disclaimer: "All is well."' \
	"words/en.yaml:3:3: stop: the words 'before.disclaimer' keep patients safe and stay as they are; delete the key [words-fixed]"
refused "a step's words with a place of no step" "$words" 'language: en
words:
  step.wash.text: "Wash, {nurse}."' \
	"words/en.yaml:3:3: stop: 'step.wash.text' has no {nurse} to fill in [unknown-placeholder]"

# --- A language that the program does not speak

sed -i 's/^languages: .*/languages: [en, es, fr]/' "$folder/clinic.yaml"
sed 's/^language: .*/language: fr/' "$plan" >"$folder/plans/french.yaml"
printf 'language: fr\nwords:\n  overview.title: "Votre plan"\n' >"$folder/words/fr.yaml"
ends 1 "a language with a single word of it" "$program" packet "$folder/plans/french.yaml" -o "$scratch/none.pdf"
holds "is refused for each text that it lacks" "$scratch/err" "in 'fr'" "[text-missing]"
lacks "never filled up with another" "$scratch/err" "Your injection plan"
rm "$folder/words/fr.yaml" "$folder/plans/french.yaml"
sed -i 's/^languages: .*/languages: [en, es]/' "$folder/clinic.yaml"

# --- A text that one language lacks

sed -i 's/, es: "evita que todo empiece antes"//' "$folder/formulary.yaml"
ends 1 "a Spanish sheet with an English purpose" "$program" packet "$folder/plans/paloma.yaml" -o "$scratch/none.pdf"
holds "is refused where it is written" "$scratch/err" "formulary.yaml:31:14: stop: " "'es'" "[text-missing]"
passes "an English sheet is printed all the same" packet_text "$plan" "$scratch/text"
cp "$samples/formulary.yaml" "$folder/formulary.yaml"

# --- Pages in another order, and fewer

echo 'order: [supplies, overview, medicine, before, check]' >"$pages"
passes "own pages: a packet" packet_text "$plan" "$scratch/text"
same "the supplies come first" 1 "$(page_number "$scratch/text" "Your supplies")"
lacks "the grid is left out" "$scratch/text" "Tick each box when it is done."
same "unsigned, it is a draft" draft "$(state)"
holds "which is said" "$scratch/err" "pages.yaml" "[seal-missing]"
rm "$pages"
refused "a page that is none" "$pages" 'order: [overview, gird, medicine, before, check]' \
	"templates/pages.yaml:1:19: stop: unknown page 'gird'; did you mean 'grid'? [unknown-page]"
refused "a page twice" "$pages" 'order: [overview, overview, medicine, before, check]' \
	"templates/pages.yaml:1:19: stop: the page 'overview' is here twice; delete one [duplicate-id]"
refused "a packet without its medicines" "$pages" 'order: [overview, grid, before, check]' \
	"templates/pages.yaml:1:9: stop: the order leaves out 'medicine', without which no packet is printed; put it in [page-missing]"

# --- Steps

cat >"$steps" <<'END'
technique: solution-vial
steps:
  - {id: wash, picture: wash-hands, side: front}
  - {id: light, picture: look-clear, side: front, when: [multi-dose]}
  - {id: never, picture: look-clear, side: front, when: ["!multi-dose", split]}
  - {id: draw, picture: draw-line, side: back}
  - {id: sharps, picture: sharps-box, side: back}
END
ends 1 "a step without words" "$program" packet "$plan" -o "$scratch/none.pdf"
holds "is refused in each language" "$scratch/err" \
	"solution-vial.yaml:4:5: stop: the step 'light' has no words 'step.light.title' in 'en'; add them to words/en.yaml [text-missing]" \
	"solution-vial.yaml:4:5: stop: the step 'light' has no words 'step.light.text' in 'es'; add them to words/es.yaml [text-missing]"
sed -i '/never/d' "$steps"
printf 'language: en\nwords:\n  step.light.title: "Window"\n  step.light.text: "Look at {name} by the window."\n' >"$words"
printf 'language: es\nwords:\n  step.light.title: "Ventana"\n  step.light.text: "Mire {name} a la ventana."\n' \
	>"$folder/words/es.yaml"
passes "own steps with own words: a packet" packet_text "$plan" "$scratch/text"
holds "they are printed, filled in" "$scratch/text" "Window" "Look at Sampletide by" "the window."
lacks "where their condition holds" "$scratch/text" "Look at Fictivane"
lacks "and the program's are gone" "$scratch/text" "Air into the vial"
holds "what is laid out is the program's still" "$scratch/text" "Lay these on a clean table"
same "unsigned, it is a draft" draft "$(state)"
holds "which is said at the steps" "$scratch/err" "solution-vial.yaml:1:1: caution: " "[seal-missing]"
"$program" sign "$folder" --by "P. Quibble, pharmacist" >/dev/null 2>&1
same "signed, it is not" signed "$(state)"
sed -i 's/when: \[multi-dose\]/when: [air-equal]/' "$steps"
sed -i '/id: fictivane-vial/a\        air: equal' "$folder/formulary.yaml"
passes "steps by the label's word on air: a packet" packet_text "$plan" "$scratch/text"
holds "they are printed where it wants air" "$scratch/text" "Look at Fictivane"
lacks "and nowhere else" "$scratch/text" "Look at Sampletide"
cp "$samples/formulary.yaml" "$folder/formulary.yaml"
rm "$words" "$folder/words/es.yaml" "$steps"

refused "a condition that is none" "$steps" 'technique: solution-vial
steps:
  - {id: wash, picture: wash-hands, side: front, when: [warmth]}' \
	"solution-vial.yaml:3:5: stop: unknown condition 'warmth'; did you mean 'warm'? [unknown-condition]"
refused "a picture that is none" "$steps" 'technique: solution-vial
steps:
  - {id: wash, picture: wash-hand, side: front}' \
	"solution-vial.yaml:3:5: stop: unknown step picture 'wash-hand'; did you mean 'wash-hands'? [unknown-picture]"
refused "a thing that is none" "$steps" 'technique: solution-vial
lay_out: [solution-vial, syringes]' \
	"solution-vial.yaml:2:26: stop: unknown thing to lay out 'syringes'; did you mean 'syringe'? [unknown-thing]"
refused "a thing's condition that is none" "$steps" 'technique: solution-vial
lay_out: [solution-vial ?!swpa, thin-needle swap]' \
	"solution-vial.yaml:2:11: stop: unknown condition 'swpa'; did you mean 'swap'? [unknown-condition]" \
	"solution-vial.yaml:2:33: stop: 'swap' is no condition; write it as '?swap', or leave it out [unknown-condition]"
refused "a key that is none" "$steps" 'technique: solution-vial
layout: [syringe]' \
	"solution-vial.yaml:2:1: stop: unknown key 'layout'; did you mean 'lay_out'? [unknown-key]"
tap_end
