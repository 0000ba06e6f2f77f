#!/bin/bash
# A clinic's batch from beginning to end: nothing lost, nothing twice, the same bytes however it went.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh
. tests/support/batch.sh

rows=${BATCH_ROWS:-300}
bad=${BATCH_BAD:-16} # percent; every kind of fault must have its row
soak=${BATCH_SOAK:-} # `make soak`: all courses, and memory in place of all that comes after

# The program, and in $scratch/peak the most memory, in MB, that a process of its run took.
plain=$program
measured() {
	# A sanitizer would keep what is freed.
	ASAN_OPTIONS="${ASAN_OPTIONS:-}:quarantine_size_mb=0" python3 -c '
import pathlib, resource, subprocess, sys
status = subprocess.call(sys.argv[2:])
pathlib.Path(sys.argv[1]).write_text(str(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024))
sys.exit(status)' "$scratch/peak" "$plain" "$@"
}
if [ -n "$soak" ]; then
	program=measured
	intake hundred 100 --bad "$bad"
	ends 1 "a hundred rows" batch hundred hundred-out --no-register
	small=$(cat "$scratch/peak")
fi

# --- Every row accounted for.

[ -n "$soak" ] || usual="--short --every-fault" # the course with the fewest pages
intake whole "$rows" --bad "$bad" ${usual:-}
started=$EPOCHSECONDS
ends 1 "a run with bad rows ends with 1" batch whole whole-out
passed=$((EPOCHSECONDS - started))
cp "$scratch/out" "$scratch/whole.out" && cp "$scratch/err" "$scratch/whole.err"
passes "every row ends where it must, byte for byte, and nobody's name is told" \
	python3 tests/batch/check-run.py "$scratch/whole-out" "$scratch/whole/intake.csv" "$scratch/whole/key.csv" \
	"$scratch/whole.out" "$scratch/whole.err"

if [ -n "$soak" ]; then
	large=$(cat "$scratch/peak")
	echo "# $(tail -n 1 "$scratch/whole.out")"
	echo "# in $passed seconds; a process of 100 rows takes $small MB, of $rows rows $large MB"
	[ $((large - small)) -lt 10 ]
	result $? "memory does not grow with the rows"
	if [ "$rows" -ge 10000 ]; then
		holds "a log has a line now and then" "$scratch/whole.err" " of $rows done, " " a second, " " min left"
	fi
	tap_end
	exit
fi

same "the register has a line for each packet" "$(grep -c ,packet, "$scratch/whole-out/ledger.csv")" \
	"$(($(wc -l <"$clinic/issued.csv") - 1))"
ends 1 "going on with a finished run changes nothing" batch whole whole-out --resume
cp -R "$scratch/whole-out" "$scratch/whole-kept"
file=$(sed -n 's/.*,\(packets[^,]*\),.*/\1/p' "$scratch/whole-out/ledger.csv" | head -n 1)
plan=$(sed -n 's/.*,\(plans[^,]*\),.*/\1/p' "$scratch/whole-out/ledger.csv" | tail -n 1)
echo >>"$scratch/whole-out/$file" && echo >>"$scratch/whole-out/$plan"
ends 1 "a packet and a plan that were altered are made again" batch whole whole-out --resume
same_folder "and the folder is as it was" whole-out whole-kept
same "and in the register once" "$(sort "$clinic/issued.csv" | uniq -d)" ""
rm -rf "$scratch/whole-kept"

# --- The same bytes, however it went. From here on short courses, a few rows of each.

intake few 24 --short --bad 20
ends 1 "one worker" batch few one --jobs 1 --no-register --print-run
ends 1 "three workers" batch few three --jobs 3 --no-register --print-run
same_folder "give the same folder" one three

# What is said on the way: a line that changes on a terminal, else hardly anything.
on_terminal() {
	python3 -c 'import pty, sys; sys.exit(pty.spawn(sys.argv[1:]) >> 8)' "$@" </dev/null
}
ends 1 "on a terminal" on_terminal "$program" batch "$scratch/few/intake.csv" --map "$scratch/few/map.yaml" \
	--clinic "$clinic" --out "$scratch/shown" --as-of "$day" --no-register --jobs 1
holds "it tells how far it is and how long it takes" "$scratch/out" " of 24 done, " " refused, " " a second, " " s left"
ends 1 "told to be quiet" batch few quiet --no-register --quiet
same "it says nothing but the end" " 22 patients" "$(cat "$scratch/err") $(cut -c -11 <"$scratch/out" | tail -n 1)"

# What the first rows would be read as, before anything is made.
ends 0 "a map is explained" "$program" batch --explain-map "$scratch/few/intake.csv" --map "$scratch/few/map.yaml" \
	--clinic "$clinic" --as-of "$day"
holds "by what each cell is read as" "$scratch/out" "row 2" "-> patient.record: " "-> protocol: " "-> ignored, as the map says" \
	"Vacuprine " '-> doses.growth: doses: {growth: [{from: "1", dose: "'
sed '/^ignore/d' "$scratch/few/map.yaml" >"$scratch/loose.yaml"
"$program" batch --explain-map "$scratch/few/intake.csv" --map "$scratch/loose.yaml" --clinic "$clinic" --as-of "$day" \
	>"$scratch/out" 2>&1
holds "and which column is not" "$scratch/out" "-> not read: the map does not name it"

# --- The print run.

pages() {
	qpdf --json "$1" | python3 -c '
import json, sys
document = json.load(sys.stdin)
for entry in document["outlines"]:
    print(entry["title"].split("  ")[0], entry["destpageposfrom1"] % 2)
print("pages", len(document["pages"]) % 2)
print(" ".join(sorted({entry["label"]["/P"][2:3] for entry in document["pagelabels"]})))'
}
packets=$(sed -n 's/^[0-9]*,[0-9]*,\([^,]*\),packet,.*/\1 1/p' "$scratch/one/ledger.csv")
pages "$scratch/one/print-run-0001.pdf" >"$scratch/pages"
same "every packet is in it in its order, and begins on a front" "$packets" "$(head -n -2 "$scratch/pages")"
same "the staff's pages stand apart" "0" "$(tail -n 1 "$scratch/pages" | grep -c S)"
pages "$scratch/one/print-run-0001-staff.pdf" >"$scratch/pages"
same "in the same order, and from a front as well" "$packets" "$(head -n -2 "$scratch/pages")"
passes "a strict reader finds no fault" qpdf --check "$scratch/one/print-run-0001.pdf"
same "its table says what is where" "$(sha256sum <"$scratch/one/print-run-0001.pdf" | cut -c -64)" \
	"$(sed -n 's/^print-run-0001.pdf,.*,//p' "$scratch/one/print-runs.csv")"

# --- Shards.

# Under GNU parallel, as a scheduler would: its log has a line a job, with how each ended.
shard="$program batch $scratch/few/intake.csv --map $scratch/few/map.yaml --clinic $clinic --as-of $day \
	--jobs 1 --no-register --shard {}/16 --out $scratch/shard-{}"
if parallel --version 2>/dev/null | grep -q '^GNU parallel'; then
	seq 16 | parallel --will-cite --joblog "$scratch/jobs" -j 2 "$shard" >/dev/null 2>&1
	same "sixteen shards run under GNU parallel, and each ends with its packets, some refused, or none made" \
		"16 16" "$(tail -n +2 "$scratch/jobs" | cut -f 7 | awk '/^[014]$/ { good++ } END { print NR, good }')"
else
	skip "sixteen shards run under GNU parallel" "it is not there; scripts/setup.sh check installs it"
	seq 16 | xargs -P 2 -I{} sh -c "$shard" >/dev/null 2>&1
fi
for table in ledger.csv refused.csv; do
	joined=$(for shard in "$scratch"/shard-*/; do tail -n +2 "$shard/$table"; done | sort -n)
	same "sixteen shards joined: $table" "$(tail -n +2 "$scratch/one/$table" | sort -n)" "$joined"
done
same "sixteen shards joined: the refused rows" "$(tail -n +2 "$scratch/one/refused-rows.csv" | sort | sha256sum)" \
	"$(for shard in "$scratch"/shard-*/; do tail -n +2 "$shard/refused-rows.csv"; done | sort | sha256sum)"
same "sixteen shards joined: the packets" "$(cd "$scratch/one/packets" && sha256sum ./* | sort)" \
	"$(for shard in "$scratch"/shard-*/packets; do (cd "$shard" && sha256sum ./*.pdf 2>/dev/null); done | sort)"

# Whoever joins them has them held against one another: two sheets with one code may be in two shards.
all=("$scratch"/shard-*/)
ends 0 "sixteen shards are sound" "$program" check "${all[@]}"
same "and come to the same together" "$(tail -n 1 "$scratch/out")" "$("$program" check "$scratch/one")"
joined_ends() {
	local name=$1 place=$2
	shift 2
	ends 1 "$name" "$program" check "${all[@]}"
	holds "and it says so: $name" "$scratch/err" "$place" "$@"
}
two=($(grep -l ',packet,' "$scratch"/shard-*/ledger.csv | head -n 2))
code=$(sed -n 's/^[0-9]*,[^,]*,[^,]*,packet,\([^,]*\),.*/\1/p' "${two[0]}" | head -n 1)
record=$(sed -n 's/^[0-9]*,[^,]*,\([^,]*\),packet,.*/\1/p' "${two[0]}" | head -n 1)
cp "${two[1]}" "$scratch/kept.csv"
sed -i "2,\$s/\(,packet,\)[^,]*/\1$code/" "${two[1]}"
joined_ends "two sheets with one code in two shards" "${two[1]}:" "${two[0]}:" "have one code, $code" "[code-twice]"
sed "2,\$s/LQ-[0-9]*,packet/$record,packet/" "$scratch/kept.csv" >"${two[1]}"
joined_ends "a record in two shards" "${two[1]}:" "${two[0]}:" "[record-twice]"
cp "$scratch/kept.csv" "${two[1]}"
packet=$(dirname "${two[1]}")/$(sed -n 's/.*,\(packets[^,]*\),.*/\1/p' "$scratch/kept.csv" | head -n 1)
cp "$packet" "$scratch/kept.pdf" && echo >>"$packet"
joined_ends "a packet that is not the ledger's" "${two[1]}:" "is not as it was made" "[file-altered]"
rm "$packet"
joined_ends "a packet that is gone" "${two[1]}:" "is not there" "[file-altered]"
cp "$scratch/kept.pdf" "$packet"
all=("$scratch"/shard-{1..15}/)
joined_ends "one shard of the sixteen is missing" "shard 16 of 16 is not among these" "[shard-missing]"
all=("$scratch"/shard-{1..16}/ "$scratch/shard-3")
joined_ends "one is there twice" "shard 3 of 16 is there twice" "[shard-twice]"
all=("$scratch/one" "$scratch/quiet")
joined_ends "two runs with other options" "are not runs of the same inputs" "[runs-differ]"
all=("$scratch/one" "$scratch/three")
joined_ends "the whole twice" "whole runs of the same intake" "[shard-twice]"
mv "$scratch/shard-2/ledger.csv" "$scratch/kept.csv"
all=("$scratch"/shard-*/)
joined_ends "one is not finished" "'$scratch/shard-2' has no ledger.csv" "[run-unfinished]"
mv "$scratch/kept.csv" "$scratch/shard-2/ledger.csv"
cp "$scratch/shard-2/run.json" "$scratch/kept.json" && echo oops >"$scratch/shard-2/run.json"
joined_ends "one whose run.json is damaged" "shard-2/run.json' is no run.json" "[run-unreadable]"
mv "$scratch/kept.json" "$scratch/shard-2/run.json"

# --- Other encodings of the same intake.

mkdir "$scratch/wide" "$scratch/tabs" "$scratch/western"
{ printf '\xff\xfe' && tail -c +4 "$scratch/few/intake.csv" | iconv -c -f UTF-8 -t UTF-16LE; } >"$scratch/wide/intake.csv"
sed 's/^delimiter/encoding: utf-16\n&/' "$scratch/few/map.yaml" >"$scratch/wide/map.yaml"
batch wide wide-out --no-register >"$scratch/said" 2>&1
tr ';' '\t' <"$scratch/few/intake.csv" >"$scratch/tabs/intake.csv"
sed 's/^delimiter.*/delimiter: tab/' "$scratch/few/map.yaml" >"$scratch/tabs/map.yaml"
batch tabs tabs-out --no-register >"$scratch/said" 2>&1
sed 's/^delimiter/encoding: windows-1252\n&/' "$scratch/few/map.yaml" >"$scratch/western/map.yaml"
tail -c +4 "$scratch/few/intake.csv" | iconv -c -f UTF-8 -t WINDOWS-1252 >"$scratch/western/intake.csv"
batch western western-out --no-register >"$scratch/said" 2>&1
for other in wide tabs western; do
	(cd "$scratch/one/packets" && sha256sum ./*) >"$scratch/sums"
	passes "the same orders as $other give the same packets" \
		sh -c "cd '$scratch/$other-out/packets' && sha256sum -c --quiet '$scratch/sums'"
done

# --- Order lines: what is two columns there is two rows here, and the packet is the same.

mkdir "$scratch/lines"
python3 - "$scratch" <<-'END'
	import csv, pathlib, sys
	scratch = pathlib.Path(sys.argv[1])
	rows = list(csv.DictReader(open(scratch / "few/intake.csv", newline="", encoding="utf-8-sig"), delimiter=";"))
	rows = [row for row in rows if row["Record"] in ("LQ-000006", "LQ-000008", "LQ-000011")]
	lines = []
	for row in rows:
	    first, later = row.pop("Vacuprine"), row.pop("Vacuprine from day 5")
	    lines.append({**row, "Item": "V", "Dose": first, "From day": "1"})
	    if later:
	        lines.append({**row, "Item": "V", "Dose": later, "From day": "5"})
	with open(scratch / "lines/intake.csv", "w", newline="") as file:
	    writer = csv.DictWriter(file, lines[0], delimiter=";")
	    writer.writeheader()
	    writer.writerows(lines[::2] + lines[1::2])
END
sed -e 's/^rows: patient/rows: order-line/' -e '/Vacuprine from day 5/d' \
	-e 's/^  "Vacuprine": .*/  "Item": {field: line.item, codes: items}\n  "Dose": line.dose\n  "From day": line.day/' \
	-e 's/^codes:/&\n  items: {"V": growth}/' "$scratch/few/map.yaml" >"$scratch/lines/map.yaml"
ends 0 "scattered order lines" batch lines lines-out --no-register
same "belong to three patients" 3 "$(ls "$scratch/lines-out/packets" | wc -l)"
for packet in "$scratch"/lines-out/packets/*; do
	passes "and give the packet of one row: ${packet##*/}" cmp "$packet" "$scratch/one/packets/${packet##*/}"
done

# --- Names of files.

ends 1 "named by code" batch few coded --name-by code --no-register
same "no file's name holds a record" "" "$(find "$scratch/coded" -name '*LQ*')"
same "each packet is its code" "$(sed -n 's/^[0-9]*,[0-9]*,[^,]*,packet,\([^,]*\),.*/packets\/\1.pdf/p' \
	"$scratch/coded/ledger.csv" | sort)" "$(cd "$scratch/coded" && ls packets/* | sort)"

mkdir "$scratch/long"
sed 's/^record_width.*//' "$scratch/few/map.yaml" >"$scratch/long/map.yaml"
sed "3s/LQ-[0-9]*/$(printf 'X%.0s' {1..250})/;2s/LQ-[0-9]*/..\/a b/" "$scratch/few/intake.csv" |
	head -n 3 >"$scratch/long/intake.csv"
ends 1 "records that are no files' names" batch long long-out --no-register
same "are written so that none leads elsewhere" "%2E.%2Fa%20b.pdf" "$(ls -A "$scratch/long-out/packets")"
holds "or refused where no name is long enough" "$scratch/long-out/refused.csv" ",record-long,"
tap_end
