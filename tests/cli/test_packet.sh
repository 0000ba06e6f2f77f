#!/bin/bash
# The packet as a file: whole, private, readable by others' programs, the same bytes everywhere.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

# Every word of a font's name but Atkinson's is somebody else's; a font not embedded is the reader's own guess.
only_own_fonts() {
	pdffonts "$1" >"$scratch/fonts" || return
	tail -n +3 "$scratch/fonts" | grep -q . || return
	! tail -n +3 "$scratch/fonts" |
		grep -vE '^[A-Z]{6}\+AtkinsonHyperlegibleNext-(Regular|SemiBold|Bold) .* yes yes yes +[0-9]+ +0$'
}

clean_pdf() {
	qpdf --check "$1" >"$scratch/qpdf" 2>&1 && ! grep -i warning "$scratch/qpdf"
}

# What a file manager or a search index reads without opening the pages.
metadata() {
	pdfinfo "$1" && pdfinfo -meta "$1" && pdfinfo -custom "$1"
}

# Every pixel has as much red as green as blue.
colourless() {
	pdftoppm -r 30 "$1" | python3 -c '
import re, sys
data, at, pages = sys.stdin.buffer.read(), 0, 0
while at < len(data):
    head = re.compile(rb"P6\s+(\d+)\s+(\d+)\s+255\s").match(data, at)
    end = head.end() + 3 * int(head[1]) * int(head[2])
    red, green, blue = (data[head.end() + i : end : 3] for i in range(3))
    at, pages = end, pages + 1
    if not red == green == blue:
        sys.exit(f"page {pages} is coloured")
sys.exit(0 if pages > 1 else "no pages")'
}

name_of() {
	sed -n 's/^patient: {name: "\([^"]*\)".*/\1/p' "$samples/plans/$1.yaml"
}

for plan in "${plans[@]}"; do
	mkdir "$scratch/$plan"
	file=$scratch/$plan/packet.pdf
	umask 000
	ends 0 "$plan: packet ends with 0" "$program" packet "$samples/plans/$plan.yaml" -o "$file"
	umask 022
	same "$plan: one file appears, and no other" packet.pdf "$(ls -A "$scratch/$plan")"
	same "$plan: only its owner can read it, whatever the umask" 600 "$(stat -c %a "$file")"
	passes "$plan: a strict reader finds no fault" clean_pdf "$file"
	passes "$plan: the project's own fonts alone, all embedded" only_own_fonts "$file"

	name=$(name_of "$plan")
	metadata "$file" >"$scratch/metadata" 2>/dev/null
	holds "$plan: the metadata can be read" "$scratch/metadata" "Pages:"
	lacks "$plan: no patient's name, record or day of birth in it" "$scratch/metadata" \
		"${name% *}" "${name#* }" "LQ-000" "$(sed -n 's/.*born: \([0-9-]*\).*/\1/p' "$samples/plans/$plan.yaml")"
	lacks "$plan: no clock's time in it" "$scratch/metadata" "CreationDate" "ModDate"

	"$program" packet "$samples/plans/$plan.yaml" -o "$scratch/again.pdf" >/dev/null 2>&1
	passes "$plan: the same bytes a second time" cmp "$file" "$scratch/again.pdf"

	# Another user's machine: language, zone, home, a font setting of the user's own, folder, relative path.
	mkdir -p "$scratch/home/.config/fontconfig"
	cat >"$scratch/home/.config/fontconfig/fonts.conf" <<-'END'
		<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">
		<fontconfig><match target="pattern"><edit name="family" mode="assign" binding="strong">
		<string>DejaVu Sans</string></edit></match></fontconfig>
	END
	(
		cd "$scratch/$plan" || exit
		cp -R "$samples" clinic
		env -u FILLMARK_DATA LANG=tr_TR.UTF-8 LC_ALL=tr_TR.UTF-8 LANGUAGE=tr PANGO_LANGUAGE=ja TZ=Pacific/Kiritimati \
			HOME="$scratch/home" XDG_CONFIG_HOME="$scratch/home/.config" SOURCE_DATE_EPOCH=1 \
			"$program" packet "clinic/plans/$plan.yaml" -o elsewhere.pdf >/dev/null 2>&1
	)
	passes "$plan: the same bytes for another language, zone, home and folder" cmp "$file" "$scratch/$plan/elsewhere.pdf"
done

file=$scratch/over.pdf
echo "an older file" >"$file"
chmod 644 "$file"
"$program" packet "$samples/plans/mara.yaml" -o "$file" >/dev/null 2>&1
same "a file written over becomes private too" 600 "$(stat -c %a "$file")"
passes "and is the packet" cmp "$file" "$scratch/mara/packet.pdf"

"$program" packet "$samples/plans/mara.yaml" --mono -o "$scratch/mono.pdf" >/dev/null 2>&1
pdftotext -layout "$scratch/mono.pdf" "$scratch/mono.txt"
pdftotext -layout "$scratch/mara/packet.pdf" "$scratch/mara.txt"
passes "in black alone the words are the same" cmp "$scratch/mara.txt" "$scratch/mono.txt"
passes "and nothing on the pages has a colour" colourless "$scratch/mono.pdf"
refuses "as it has in the coloured packet" "coloured" colourless "$scratch/mara/packet.pdf"

(cd "$scratch" && "$program" packet "$samples/plans/mara.yaml" >out 2>err)
passes "without -o the file takes the plan's name, here" cmp "$scratch/mara.pdf" "$scratch/mara/packet.pdf"
holds "and the program says what it made" "$scratch/out" "mara.pdf: " " pages, " ", signed"

# A packet needs the words of the plan and of the staff alone; a check looks at all.
mkdir "$scratch/data"
cp -R templates fonts "$scratch/data"
echo "language: [" >"$scratch/data/templates/words/es.yaml"
ends 0 "words that a plan does not need may be damaged" \
	env FILLMARK_DATA="$scratch/data" "$program" packet "$samples/plans/mara.yaml" -o "$scratch/alone.pdf"
passes "its packet is the same" cmp "$scratch/alone.pdf" "$scratch/mara/packet.pdf"
ends 1 "a check of that plan finds them" env FILLMARK_DATA="$scratch/data" "$program" check "$samples/plans/mara.yaml"
holds "and says where" "$scratch/err" "templates/words/es.yaml:2:1: stop: " "[not-yaml]"
ends 1 "a plan in that language finds them" \
	env FILLMARK_DATA="$scratch/data" "$program" packet "$samples/plans/paloma.yaml" -o "$scratch/none.pdf"
ends 1 "and so does a sheet in it that the command line asks for" env FILLMARK_DATA="$scratch/data" \
	"$program" replace "$samples/plans/mara.yaml" --language es -o "$scratch/none.pdf"
# A page or a step that another page sends to is where it says.
packet_text "$samples/plans/mara.yaml" "$scratch/ways"
split=$(page_number "$scratch/ways" "one vial, two days")
draws=$(page_number "$scratch/ways" "Examplin 125 mcg: draw and inject")
page_text "$scratch/ways" "one vial, two days" | tr -s ' ' >"$scratch/page"
holds "the second day goes on where the medicine is drawn" "$scratch/page" "page $draws," "step 7." "How: page $split"
page_text "$scratch/ways" "Examplin 125 mcg: draw and inject" | tr -s ' ' >"$scratch/page"
holds "step 7 is the one that draws" "$scratch/page" "7 8 9 10 11 12" "Draw it Pull air in Thin needle Push air out"
page_text "$scratch/ways" "Examplin 125 mcg: get ready" | tr -s ' ' >"$scratch/page"
holds "whoever opens the front on the second day is sent on" "$scratch/page" "second half: page $split"
ready=$(page_number "$scratch/ways" "Fictivane: get ready")
draws=$(page_number "$scratch/ways" "Fictivane: draw and inject")
page_text "$scratch/ways" "Fictivane: draw and inject" | tr -s ' ' >"$scratch/page"
holds "step 11 of an exact time injects, and step 10 bares its needle" "$scratch/page" "7 8 9 10 11 12" "Push air out Inject Sharps box"
page_text "$scratch/ways" "Fictivane: exact time" | tr -s ' ' >"$scratch/page"
holds "the first alarm is half an hour before, and each names its pages and steps" "$scratch/page" "22:00 22:30" \
	"Get ready: page $ready, then set" "Inject: page $draws, from step set" "up to step 9. 10 on." "$draws up to step 9."
# One vial serves both amounts of Sampletide; a notice of change stands before page 1.
packet_text "$samples/plans/mara-2.yaml" "$scratch/ways"
page_text "$scratch/ways" "Sampletide 25 syringe units: draw" | tr -s ' ' >"$scratch/page"
ticks=$(sed -n 's/.*squares of this vial are on page \([0-9]*\)\..*/\1/p' "$scratch/page")
page_text "$scratch/ways" "Sampletide 20 syringe units: draw" "page $ticks of" "Vial 1" >"$scratch/page"
holds "a vial for two amounts has its squares on one sheet, and the other one says where" "$scratch/page" "Vial 1"
packet_text "$samples/plans/wilma.yaml" "$scratch/ways"
page_text "$scratch/ways" "Fabriline: mix it" | tr -s ' ' >"$scratch/page"
holds "line B is on the page that line A's page names" "$scratch/page" \
	"Line B, for you, is on page $(page_number "$scratch/ways" "Fabriline: draw and inject")."

# What a screen reader is told, one line for each tag and its words: "TD 1 mL".
spoken() {
	pdfinfo -struct-text "$1" | sed 's/ *$//' | awk '
		/^ *"/ { sub(/^ *"/, ""); sub(/ *"$/, ""); line = line " " $0; next }
		/^ *\// { sub(/^ *\//, ""); line = line " " $0; next }
		{ if (line != "") print line; sub(/^ */, ""); sub(/( \((block|inline)\))?:?$/, ""); line = $0 }
		END { print line }'
}
# Of the page with this title alone.
spoken_page() {
	awk -v title="H1 $2" '/^Sect$/ { on = 0; next } $0 == title { on = 1 } on' "$1"
}
spoken "$scratch/mara/packet.pdf" >"$scratch/spoken"
same "no paragraph and no head is empty" 0 "$(grep -cxE 'P|TH( Scope /(Column|Row))?' "$scratch/spoken")"
spoken_page "$scratch/spoken" "Day by day" | tr '\n' '|' >"$scratch/page"
holds "a visit is a row of its own, before its day" "$scratch/page" \
	"|TR|TD ColSpan 5 Blood test, Fri 11 Dec, 09:15. Bring all pages. Doses may change. No call by 20:00? Call.|TR|TH Scope /Row 8 Fri 11 Dec right|"
holds "an exact time, a rest day and a day of a visit alone stand across all columns" "$scratch/page" \
	"|TD ColSpan 4 22:30 exact time: set two alarms Fictivane" \
	"|TH Scope /Row 12 Tue 15 Dec|TD ColSpan 4 Rest day. Nothing to do.|TR|" \
	"|TH Scope /Row 13 Wed 16 Dec|TD ColSpan 4 Procedure, 10:30. Bring all pages. No medicine on this day.|"
holds "each column's head says its time" "$scratch/page" "|TH Scope /Column Morning 08:00 Sampletide insulin syringe|" \
	"|TH Scope /Column 08:00 Mockuline filled syringe|" "|TH Scope /Column Bedtime 21:30 Nonsensol by mouth|"
holds "two needles of a day have spots of their own" "$scratch/page" \
	"|TH Scope /Column Day, and side for the needles: each its own spot, 1 cm apart|"
holds "what the corner means is said after the table" "$scratch/page" \
	"No medicine on this day.|P a new dose starts here|P mcg, mg: weight. mL: liquid. units: how strong a dose is. syringe units: lines on that syringe. More words: page 18.|P After day 13: wait for our call|"
spoken_page "$scratch/spoken" "Your injection plan" | tr '\n' '|' >"$scratch/page"
holds "the first page says what is known, what is not, and by when to ask" "$scratch/page" \
	"|P WARNING Hard to breathe, swollen face, faint? Call emergency:|" \
	"|P Good until your visit on Fri 11 Dec.|P What comes after may change: we call you. No call before the 20:00 dose? Call us first.|"
spoken_page "$scratch/spoken" "Fictivane: exact time" | tr '\n' '|' >"$scratch/page"
holds "what may go wrong stands in a table with heads, below both telephones" "$scratch/page" \
	"|P Call now: Day 000 555 0142, Night 000 555 0199|Table|TR|TH Scope /Column what happens|TH Scope /Column what to do|" \
	"|TR|TH Scope /Row too early, or some leaked out|TD Do not inject again: the whole dose may be in you. Call now.|"
spoken_page "$scratch/spoken" "Your supplies" | tr '\n' '|' >"$scratch/page"
holds "each table of supplies has heads" "$scratch/page" \
	"|H2 Medicines|Table|TR|TD|TH Scope /Column need|TH Scope /Column have|TH Scope /Column get|" \
	"|H2 To inject with|Table|TR|TD|TH Scope /Column need|TH Scope /Column have|TH Scope /Column get|"
holds "each count says what it counts, and what is there says that there is none to get" "$scratch/page" \
	"|TD 10|TD 30 tablets|TD none|" "|TD 1|TD 1 vial|TD none|"
holds "what is said of one thing stands on one line" "$scratch/page" "5 mg in 1 mL · once open: 28 days · Vial in the fridge"
"$program" replace "$samples/plans/mara.yaml" --large-print -o "$scratch/large.pdf" >/dev/null 2>&1
spoken "$scratch/large.pdf" | tr '\n' '|' >"$scratch/page"
holds "a day in large print has the words of its times, and the same end" "$scratch/page" \
	"21:30 Bedtime Nonsensol 1 tablet" "|P After day 13: wait for our call|"
holds "lines of one text do not run together" "$scratch/page" "5 mg in 1 mL once open: 28 days Vial in the fridge"
spoken_page "$scratch/spoken" "Sampletide: get ready" | tr '\n' '|' >"$scratch/page"
holds "the number of a step is its label" "$scratch/page" \
	"|L ListNumbering /Decimal|LI|Lbl 1|LBody|H3 Look at it|" "|LI|Lbl 2|LBody|H3 Vial cap off|"
holds "each action of a step is a paragraph" "$scratch/page" \
	"|H3 Vial cap off|P Vial already open? Skip this step.|P Flip the plastic cap off.|P Write the day on the vial.|"
holds "what has no numbers has no labels" "$scratch/page" "|L|LI|LBody ×1 vial|"
spoken_page "$scratch/spoken" "Before you start" | tr '\n' '|' >"$scratch/page"
holds "where the clinic gives no number for an emergency there is a line for it" "$scratch/page" \
	"|P WARNING Hard to breathe, a swollen face, or you faint? It may be a medicine: call the emergency number. Emergency number:|"
holds "a fill mark is one paragraph" "$scratch/page" "|P 0.5 mL|" "|P line 20|"
spoken_page "$scratch/spoken" "Examplin: one vial, two days" | tr '\n' '|' >"$scratch/page"
holds "and so on the page of two days" "$scratch/page" "|P Fri 4 Dec, 20:00|P 0.5 mL|P Keep the vial."
# What is said without being printed: alternative texts, and where links lead.
unseen() {
	qpdf --json "$1" | grep -oE '"/(Alt|Contents)": "u:[^"]*"' | sed 's/^"\/\([A-Za-z]*\)": "u:/\1 /; s/"$//; s/\xC2\xA0/ /g'
}
unseen "$scratch/mara/packet.pdf" >"$scratch/unseen"
holds "a link says that it leads to a page" "$scratch/unseen" "Contents page 5" "Contents page 13"
same "and none says a bare number" 0 "$(grep -cE '^Contents [0-9S]+$' "$scratch/unseen")"
holds "a figure says the action and its number" "$scratch/unseen" "Alt Inject at 22:30, Monday 14 December." \
	"Alt Picture D. Right: the front ring on 0.5 mL." "Alt Picture E. Wrong, too much: 0.52 mL." \
	"Alt Picture F. Wrong, too little: 0.43 mL." "Alt Picture B. Give all of it: 0.25 mg. Push until it stops." \
	"Alt Picture C. Your belly, as in a mirror: the spot is on your left." \
	"Alt Clear: right. Cloudy: wrong. Bits in it: wrong." "Alt 125 mcg divided by 250 mcg × 1 mL = 0.5 mL" \
	"Alt Lay a bank card here: 85.6 × 53.98 mm"

# Half of a dose that is given at two places is no dose by itself: one that is has a sheet of its own.
folder=$(copy_samples places)
sed -i 's/{from: 1, dose: 75 mg}/{from: 1, dose: 37.5 mg}, {from: 6, dose: 75 mg}/' "$folder/protocols/two-places.yaml"
packet_text "$folder/plans/nell.yaml" "$scratch/places"
page_text "$scratch/places" "Doublamine 37.5 mg: draw and inject" >"$scratch/page"
holds "a half dose goes in once" "$scratch/page" "37.5 mg · days 1 to 5" "vial" "too."
lacks "and its vial goes with it" "$scratch/page" "too much for one place" "Second?"
page_text "$scratch/places" "Doublamine 75 mg: draw and inject" >"$scratch/page"
holds "the whole dose goes in twice" "$scratch/page" "75 mg · days 6 to 10" "75 mg is too much for one place." "Second?"

# The same where only a call sets the amount.
folder=$(copy_samples told)
sed -i 's/{from: 1, dose: 75 mg}/{from: 1, dose: 37.5 mg}, {from: 6, dose: {call: {en: "after the scan"}}, may_become: [37.5 mg, 75 mg]}/' \
	"$folder/protocols/two-places.yaml"
packet_text "$folder/plans/nell.yaml" "$scratch/told"
page_text "$scratch/told" "Doublamine 75 mg: draw and inject" >"$scratch/page"
holds "a whole dose that a call may set goes in twice" "$scratch/page" "only if we tell you, from day 6" \
	"75 mg is too much for one place." "Second?"
page_text "$scratch/told" "Check page" >"$scratch/page"
holds "and is checked as such" "$scratch/page" "75 mg, in two of 37.5 mg"

tap_end
