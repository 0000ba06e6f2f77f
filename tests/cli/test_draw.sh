#!/bin/bash
# One dose to its line, without a clinic. Rows of tests/published/draws.csv, by their number and source there; what is
# expected is what the row says, written as the program prints it.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

# field KEY...: the values of the last answer, a line each.
field() {
	python3 -c '
import json, sys
answer = json.load(open(sys.argv[1]))
for key in sys.argv[2:]:
    print(json.dumps(answer[key]).strip("\""))' "$scratch/out" "$@" 2>&1 | paste -sd '|'
}

codes() {
	python3 -c '
import json, sys
print(*[finding["level"] + " " + finding["code"] for finding in json.load(open(sys.argv[1]))["findings"]], sep=", ")' \
		"$scratch/out" 2>&1
}

# on_a_line ROW VOLUME EXACT SYRINGE MARK DOSE OPTION...
on_a_line() {
	local row=$1 expected="$2|$3|$4|$5|false|$5|$5"
	shift 5
	ends 0 "$row: $*" "$program" draw "$@" --json
	same "$row: its volume, syringe and mark" "$expected" \
		"$(field volume volume_exact syringe mark between_marks below above)"
}

# between ROW VOLUME EXACT BELOW ABOVE DOSE OPTION...: refused, and both neighbours are named.
between() {
	local row=$1 expected="$2|$3|null|true|$4|$5" below=$4 above=$5
	shift 5
	ends 1 "$row: $*" "$program" draw "$@" --json
	same "$row: no mark, and the lines on both sides" "$expected" \
		"$(field volume volume_exact mark between_marks below above)"
	same "$row: why" "stop volume-between-lines" "$(codes)"
	holds "$row: said to whoever reads the screen too" "$scratch/err" "stop: " "$below" "$above" "[volume-between-lines]"
}

# refused ROW CODE DOSE OPTION...
refused() {
	local row=$1 code=$2
	shift 2
	ends 1 "$row: $*" "$program" draw "$@" --json
	same "$row: no mark" null "$(field mark)"
	same "$row: why" "stop $code" "$(codes)"
}

# --- on a line

on_a_line "D015, LEU-US" "0.1 mL" 1/10 u100-0.3mL "line 10" "0.5 mg" --from "5 mg/mL" --syringe u100-0.3mL
on_a_line "D035, FOLB-US" "0.27 mL" 27/100 u100-0.3mL "line 27" "225 units" --from "350 units/0.42 mL" \
	--syringe u100-0.3mL
on_a_line "D036, FOLB-US" "0.36 mL" 9/25 1mL "0.36 mL" "300 IU" --from "975 IU/1.17 mL" --syringe 1mL
on_a_line "D003, HCG-US" "2.5 mL" 5/2 3mL "2.5 mL" "2,500 units" --from "10,000 units" --diluent "10 mL" --syringe 3mL
on_a_line "D040, HMG-AU" "0.25 mL" 1/4 1mL "0.25 mL" "150 units" --from "1200 units" --diluent "2 mL" \
	--concentration "600 units/mL" --syringe 1mL
on_a_line "D065, ARMY-0904" "0.75 mL" 3/4 1mL "0.75 mL" "15000 units" --from "20000 units/mL"
on_a_line "D075, INS-222" "0.045 mL" 9/200 u100-0.3mL-half "line 4.5" "4.5 units" --from "100 units/mL" \
	--syringe u100-0.3mL-half
on_a_line "D078, U500-NL" "0.41 mL" 41/100 u500-0.5mL "line 205" "205 units" --from "500 units/mL" --syringe u500-0.5mL
on_a_line "D081, AMOX-HB" "1 mL" 1/1 1mL "1 mL" "50 mg" --from "250 mg" --diluent "4.8 mL" --displacement "0.2 mL" \
	--syringe 1mL
on_a_line "D101, DONW" "0.5 mL" 1/2 1mL "0.5 mL" "0.05 mg" --from "100 mcg/mL"
on_a_line "D060, ENOX-US" "0.75 mL" 3/4 "1 mL:0.025 mL" "0.75 mL" "75 mg" --from "80 mg/0.8 mL" \
	--syringe "1 mL:0.025 mL"

# a scale that is not the dose: made, with a word of caution
ends 0 "D076, U500-CD: 100 units of 500 in 1 mL by a syringe for 100" \
	"$program" draw "100 units" --from "500 units/mL" --syringe u100-1mL-fine --json
same "D076, U500-CD: line 20, not 100" "line 20" "$(field mark)"
same "D076, U500-CD: the trap is named" "caution scale-is-not-dose" "$(codes)"

# --- between two lines

between "D008, HCG-DIL" "0.3333 mL" 3333/10000 "0.33 mL" "0.34 mL" "3333 units" --from "10000 units" \
	--diluent "1 mL" --syringe 1mL
between "D023, FOLA-MDV" "0.125 mL" 1/8 "line 12" "line 13" "75 IU" --from "600 IU/mL" --syringe u100-0.3mL
between "D028, FOLA-MDV" "0.1875 mL" 3/16 "line 18.5" "line 19" "112.5 IU" --from "600 IU/mL" --syringe u100-0.3mL-half
between "D048, GH-333" "about 0.15015 mL" 50/333 "line 15" "line 16" "0.5 mg" --from "5 mg" --diluent "1.5 mL" \
	--concentration "3.33 mg/mL" --syringe u100-0.3mL
between "D056, SUMA-US" "about 0.166667 mL" 1/6 "0.16 mL" "0.17 mL" "2 mg" --from "6 mg/0.5 mL" --syringe 1mL
between "D061, ENOX-US" "0.72 mL" 18/25 "0.7 mL" "0.725 mL" "72 mg" --from "80 mg/0.8 mL" --syringe "1 mL:0.025 mL"
between "D083, AMOX-HB" "2.08 mL" 52/25 "2 mL" "2.1 mL" "100 mg" --from "250 mg" --diluent "5 mL" \
	--displacement "0.2 mL" --syringe 3mL
between "D091, CTX-US" "about 1.428571 mL" 10/7 "1.4 mL" "1.5 mL" "500 mg" --from "1000 mg" --diluent "2.1 mL" \
	--concentration "350 mg/mL" --syringe 3mL

# --- refused

refused "D018, LEU-US" no-syringe-holds "2 mg" --from "5 mg/mL" --syringe u100-0.3mL
same "D018, LEU-US: the volume is still said" "0.4 mL|2/5" "$(field volume volume_exact)"
same "D018, LEU-US: the last line is below it, none above" "line 30|null" "$(field below above)"
holds "D018, LEU-US: two injections would do" "$scratch/err" "at least 2 injections"
refused "D063, ENOX-US" unit-mismatch "8000 IU" --from "80 mg/0.8 mL"
refused "D108, HCG-US" unit-mismatch "5 mg" --from "10000 units" --diluent "1 mL"
refused "D110, MEM" dose-over-container "10000 units" --from "5000 units" --diluent "1 mL"
holds "D110, MEM: two containers" "$scratch/err" "needs 2 containers"
refused "D111, LEU-US" not-positive "0 mg" --from "5 mg/mL"
refused "a digit may be lost" bare-decimal ".5 mg" --from "5 mg/mL"
refused "a decimal comma" decimal-comma "1,5 mg" --from "5 mg/mL"
refused "no unit" no-unit "0.5" --from "5 mg/mL"
refused "no such syringe" unknown-syringe "0.5 mg" --from "5 mg/mL" --syringe 4mL

# --- what an answer is made of

ends 0 "an answer" "$program" draw "125 mcg" --from "250 mcg" --diluent "1 mL" --json
same "its keys, in their order" \
	"dose concentration volume volume_exact syringe mark between_marks below above findings" \
	"$(python3 -c 'import json, sys; print(*json.load(open(sys.argv[1])))' "$scratch/out")"
same "the order's own unit, and the concentration" "125 mcg|250 mcg/mL" "$(field dose concentration)"
ends 0 "a clinic's syringes" "$program" draw "125 mcg" --from "250 mcg" --diluent "1 mL" --clinic samples --json
same "the smallest in stock that holds it" "syringe-1|0.5 mL" "$(field syringe mark)"

# --- in words

ends 0 "in words" "$program" draw "0.5 mg" --from "5 mg/mL" --syringe u100-0.3mL
same "dose, concentration, volume, syringe, line" \
	"dose 0.5 mg/in 1 mL 5 mg/mL/volume 0.1 mL/syringe u100-0.3mL/line line 10" \
	"$(sed 's/\xc2\xa0/ /g; s/  */ /g' "$scratch/out" | paste -sd /)"
ends 1 "refused, in words" "$program" draw "2 mg" --from "6 mg/0.5 mL" --syringe 1mL
same "the lines on both sides, and no line to draw to" \
	"dose 2 mg/in 1 mL 12 mg/mL/volume about 0.166667 mL/syringe 1mL/line below 0.16 mL/line above 0.17 mL" \
	"$(sed 's/\xc2\xa0/ /g; s/  */ /g' "$scratch/out" | paste -sd /)"

# --- as a drawing

mkdir "$scratch/made"
cd "$scratch/made" || exit
draw_file() {
	"$program" draw "125 mcg" --from "250 mcg" --diluent "1 mL" --clinic "$samples" -o "$1"
}
for kind in pdf svg png; do
	ends 0 "-o draw.$kind" draw_file "draw.$kind"
	same "draw.$kind: its owner's alone" 600 "$(stat -c %a "draw.$kind")"
	cp "draw.$kind" "$scratch/first"
	draw_file "draw.$kind" >/dev/null 2>&1
	passes "draw.$kind: the same bytes again" cmp "$scratch/first" "draw.$kind"
done
same "it is a PDF" "%PDF-" "$(head -c 5 draw.pdf)"
passes "of one page, without fault" qpdf --check draw.pdf
same "one page" 1 "$(pdfinfo draw.pdf | sed -n 's/^Pages: *//p')"
pdftotext -layout draw.pdf "$scratch/words"
holds "it says dose and mark" "$scratch/words" "125 mcg" "0.5 mL"
"$program" draw "20 syringe units" --from "5 mg/mL" --syringe u100-0.3mL -o "$scratch/long.pdf" >/dev/null 2>&1
pdftotext -bbox "$scratch/long.pdf" "$scratch/long.html"
passes "a caption longer than the syringe stays on the page" python3 -c '
import re, sys
text = sys.stdin.read()
width, height = map(float, re.search(r"<page width=\"([\d.]+)\" height=\"([\d.]+)\"", text).groups())
words = re.findall(r"xMax=\"([\d.]+)\" yMax=\"([\d.]+)\">([^<]*)<", text)
assert [word for _, _, word in words][-2:] == ["the", "numbers)"], words
assert all(float(x) < width and float(y) < height for x, y, _ in words), (width, height, words)
' <"$scratch/long.html"
passes "it is SVG, of elements that are closed" python3 -c '
import sys, xml.etree.ElementTree as tree
sys.exit(0 if tree.parse("draw.svg").getroot().tag == "{http://www.w3.org/2000/svg}svg" else "another root")'
same "it is a PNG" "89504e470d0a1a0a" "$(head -c 8 draw.png | od -An -tx1 | tr -d ' \n')"
ends 2 "another kind of file" "$program" draw "125 mcg" --from "250 mcg" --diluent "1 mL" -o draw.gif
ends 1 "a drawing of what is refused" "$program" draw "2 mg" --from "6 mg/0.5 mL" --syringe 1mL -o refused.pdf
ends 3 "a drawing in a folder that is not there" draw_file none/draw.pdf
same "no other file appeared" "draw.pdf draw.png draw.svg" "$(ls -A | xargs)"
ends 2 "no --from" "$program" draw "125 mcg"
ends 2 "two doses" "$program" draw "125 mcg" "250 mcg" --from "250 mcg" --diluent "1 mL"
tap_end
