#!/bin/bash
# A clinic's batch from beginning to end: nothing lost, nothing twice, the same bytes however it went.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

rows=${BATCH_ROWS:-300} # `make soak` asks for more
bad=${BATCH_BAD:-9}
clinic=$(copy_samples batch)
languages=$(sed -n 's/^languages: \[\(.*\)\]/\1/p' "$clinic/clinic.yaml" | tr -d ' ')
day=2026-12-03

# intake NAME ROWS OPTION...: an invented export in $scratch/NAME.
intake() {
	local name=$1 rows=$2
	shift 2
	python3 tests/batch/make-intake.py "$scratch/$name" --rows "$rows" --languages "$languages" "$@"
}

# batch INTAKE OUT OPTION...: a run of it.
batch() {
	local name=$1 out=$2
	shift 2
	"$program" batch "$scratch/$name/intake.csv" --map "$scratch/$name/map.yaml" --clinic "$clinic" \
		--out "$scratch/$out" --as-of "$day" "$@"
}

# The same in the background, as the one process that $! names.
batch_away() {
	local name=$1 out=$2
	shift 2
	exec "$program" batch "$scratch/$name/intake.csv" --map "$scratch/$name/map.yaml" --clinic "$clinic" \
		--out "$scratch/$out" --as-of "$day" "$@"
}

# same_folder NAME A B: two folders hold the same, to the byte.
same_folder() {
	diff -r "$scratch/$2" "$scratch/$3" >"$scratch/said" 2>&1
	result $? "$1"
}

# --- Every row accounted for.

[ -n "${BATCH_ROWS:-}" ] || short=--short # the course with the fewest pages
intake whole "$rows" --bad "$bad" ${short:-}
ends 1 "a run with bad rows ends with 1" batch whole whole-out
cp "$scratch/out" "$scratch/whole.out" && cp "$scratch/err" "$scratch/whole.err"
passes "every row ends where it must, byte for byte, and nobody's name is told" \
	python3 tests/batch/check-run.py "$scratch/whole-out" "$scratch/whole/intake.csv" "$scratch/whole/key.csv" \
	"$scratch/whole.out" "$scratch/whole.err"

# The most memory that a process of a run took, in MB.
peak() {
	python3 -c 'import resource, subprocess, sys
subprocess.call(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024)' "$program" batch "$scratch/$1/intake.csv" \
		--map "$scratch/$1/map.yaml" --clinic "$clinic" --out "$scratch/$1-peak" --as-of "$day" --no-register --jobs 1
}
if [ -n "${BATCH_ROWS:-}" ]; then
	intake hundred 100 --bad "$bad"
	small=$(peak hundred) large=$(peak whole)
	echo "# 100 rows take $small MB in one process, $rows rows $large MB"
	[ $((large - small)) -lt 10 ]
	result $? "memory does not grow with the rows"
	tap_end
	exit
fi

same "the register has a line for each packet" "$(grep -c ,packet, "$scratch/whole-out/ledger.csv")" \
	"$(($(wc -l <"$clinic/issued.csv") - 1))"
ends 1 "going on with a finished run changes nothing" batch whole whole-out --resume
cp -R "$scratch/whole-out" "$scratch/whole-kept"
file=$(sed -n 's/.*,\(packets[^,]*\),.*/\1/p' "$scratch/whole-out/ledger.csv" | head -n 1)
echo >>"$scratch/whole-out/$file"
ends 1 "a packet that was altered is made again" batch whole whole-out --resume
same_folder "and the folder is as it was" whole-out whole-kept
same "and in the register once" "$(sort "$clinic/issued.csv" | uniq -d)" ""
rm -rf "$scratch/whole-kept"

# --- The same bytes, however it went. From here on short courses, a few rows of each.

intake few 24 --short --bad 20
ends 1 "one worker" batch few one --jobs 1 --no-register --print-run
ends 1 "three workers" batch few three --jobs 3 --no-register --print-run
same_folder "give the same folder" one three

# Twenty times it is killed, at moments spread over its length, and goes on.
seed=20
for ((kill = 1; kill <= 20; kill++)); do
	seed=$(((seed * 1103515245 + 12345) % 2147483648))
	batch_away few killed --jobs 2 --no-register --print-run --resume >/dev/null 2>&1 &
	run=$!
	sleep "0.$(printf %03d $((20 + seed / 65536 % 380)))"
	kill -KILL "$run" 2>/dev/null
	wait "$run" 2>/dev/null
done
half=$(find "$scratch/killed" -name '*.pdf' ! -name 'print-run*' -exec sh -c 'tail -c 6 "$1" | grep -q EOF || echo "$1"' - {} \;)
same "killed twenty times, no half packet stands under its name" "" "$half"
ends 1 "and with --resume it comes to its end" batch few killed --jobs 2 --no-register --print-run --resume
same_folder "with the same folder as an undisturbed one" one killed

# What is said on the way: a line that changes on a terminal, else hardly anything.
on_terminal() {
	python3 -c 'import pty, sys; sys.exit(pty.spawn(sys.argv[1:]) >> 8)' "$@" </dev/null
}
ends 1 "on a terminal" on_terminal "$program" batch "$scratch/few/intake.csv" --map "$scratch/few/map.yaml" \
	--clinic "$clinic" --out "$scratch/shown" --as-of "$day" --no-register --jobs 1
holds "it tells how far it is and how long it takes" "$scratch/out" " of 24 done, " " refused, " " a second, " " s left"
ends 1 "told to be quiet" batch few quiet --no-register --quiet
same "it says nothing but the end" " 22 patients" "$(cat "$scratch/err") $(cut -c -11 <"$scratch/out" | tail -n 1)"

# SIGINT goes unheard in a shell's background, so a child of python hears it.
interrupted() {
	python3 -c '
import signal, subprocess, sys, time
run = subprocess.Popen(sys.argv[1:], preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler))
time.sleep(0.35)
run.send_signal(signal.SIGINT)
sys.exit(run.wait())' "$@"
}
ends 3 "Ctrl-C ends it with 3" interrupted "$program" batch "$scratch/few/intake.csv" --map "$scratch/few/map.yaml" \
	--clinic "$clinic" --out "$scratch/broken-off" --as-of "$day" --jobs 1 --no-register --print-run
holds "and it says how to go on" "$scratch/err" "the same command with --resume goes on"
ends 1 "it goes on" batch few broken-off --jobs 2 --no-register --print-run --resume
same_folder "to the same folder" one broken-off

# A worker that dies costs its patient a second try, and then that patient alone.
intake three 3 --short --bad 0
batch_away three dying --jobs 1 --no-register >"$scratch/out" 2>"$scratch/err" &
run=$!
while kill -0 "$run" 2>/dev/null; do
	for task in $(cat "/proc/$run/task/$run/children" 2>/dev/null); do
		kill -SEGV "$task" 2>/dev/null
	done
done
wait "$run"
same "a run whose workers die all the time ends, with nothing made" 4 $?
same "and each patient is refused for it" "3" "$(grep -c 'worker-died' "$scratch/dying/refused.csv")"

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

in_shards() {
	local each="$program batch $scratch/few/intake.csv --map $scratch/few/map.yaml --clinic $clinic --as-of $day \
		--jobs 1 --no-register --shard {}/16 --out $scratch/shard-{}"
	if command -v parallel >/dev/null; then
		seq 16 | parallel --will-cite -j 2 "$each" >/dev/null 2>&1
	else
		seq 16 | xargs -P 2 -I{} sh -c "$each" >/dev/null 2>&1
	fi
}
in_shards
for table in ledger.csv refused.csv; do
	joined=$(for shard in "$scratch"/shard-*/; do tail -n +2 "$shard/$table"; done | sort -n)
	same "sixteen shards joined: $table" "$(tail -n +2 "$scratch/one/$table" | sort -n)" "$joined"
done
same "sixteen shards joined: the refused rows" "$(tail -n +2 "$scratch/one/refused-rows.csv" | sort | sha256sum)" \
	"$(for shard in "$scratch"/shard-*/; do tail -n +2 "$shard/refused-rows.csv"; done | sort | sha256sum)"
same "sixteen shards joined: the packets" "$(cd "$scratch/one/packets" && sha256sum ./* | sort)" \
	"$(for shard in "$scratch"/shard-*/packets; do (cd "$shard" && sha256sum ./*.pdf 2>/dev/null); done | sort)"

# --- Other encodings of the same intake.

mkdir "$scratch/wide" "$scratch/tabs"
{ printf '\xff\xfe' && tail -c +4 "$scratch/few/intake.csv" | iconv -c -f UTF-8 -t UTF-16LE; } >"$scratch/wide/intake.csv"
sed 's/^delimiter/encoding: utf-16\n&/' "$scratch/few/map.yaml" >"$scratch/wide/map.yaml"
batch wide wide-out --no-register >"$scratch/said" 2>&1
tr ';' '\t' <"$scratch/few/intake.csv" >"$scratch/tabs/intake.csv"
sed 's/^delimiter.*/delimiter: tab/' "$scratch/few/map.yaml" >"$scratch/tabs/map.yaml"
batch tabs tabs-out --no-register >"$scratch/said" 2>&1
for other in wide tabs; do
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

# --- The second night.

intake first 40 --bad 0
intake second 40 --bad 0 --night 2
ends 0 "a first night without a bad row ends with 0" batch first night-1
day=2026-12-04
batch second night-2 --previous "$scratch/night-1" >"$scratch/out" 2>"$scratch/err"
day=2026-12-03
outcomes() {
	python3 - "$scratch" <<-'END'
		import csv, sys
		scratch = sys.argv[1]
		read = lambda name: list(csv.DictReader(open(f"{scratch}/{name}", newline="")))
		ledger = {line["record"]: line for line in read("night-2/ledger.csv")}
		before = {line["record"]: line for line in read("night-1/ledger.csv")}
		gone = {line["record"]: line for line in read("night-2/vanished.csv")}
		kinds = set()
		for line in read("second/night.csv"):
		    record, wanted = line["record"], line["outcome"]
		    kinds.add(wanted)
		    now, then = ledger.get(record), before.get(record)
		    if wanted == "vanished":
		        good = now is None and gone[record]["code"] == then["code"] and gone[record]["nights"] == "1"
		    elif wanted == "unchanged":
		        good = now["outcome"] == "unchanged" and now["code"] == then["code"] and not now["file"]
		    elif wanted == "packet":
		        good = now["outcome"] == "packet" and now["version"] == "2" and now["code"] != then["code"]
		    elif wanted == "new":
		        good = now["outcome"] == "packet" and now["version"] == "1" and then is None
		    else:
		        good = now["outcome"] == "refused" and now["code"] == then["code"]
		    if not good:
		        print(record, "should be", wanted, "and is", now)
		print(" ".join(sorted(kinds)))
	END
}
same "unchanged, changed, new, refused and vanished patients each end where they should" \
	"new packet refused unchanged vanished" "$(outcomes)"
same "the vanished ones are counted" "$(($(wc -l <"$scratch/night-2/vanished.csv") - 1)) patients of the earlier run" \
	"$(sed -n 's/ are not in this intake.*//p' "$scratch/out")"
changed=$(sed -n 's/.*,packet,[^,]*,2,.*,\(packets[^,]*\),.*/\1/p' "$scratch/night-2/ledger.csv" | head -n 1)
pdftotext -layout "$scratch/night-2/$changed" "$scratch/changed.txt"
holds "a changed order says which sheet it replaces" "$scratch/changed.txt" "version 2"
day=2026-12-05
ends 1 "a third night knows the sheets of the first" batch second night-3 --previous "$scratch/night-2" --no-register
day=2026-12-03
same "an unchanged patient stays so" "$(grep -c ',unchanged,\|,packet,' "$scratch/night-2/ledger.csv")" \
	"$(grep -c ',unchanged,' "$scratch/night-3/ledger.csv")"
same "and who is gone is so for the second night" "$(tail -n +2 "$scratch/night-2/vanished.csv" | cut -d, -f1)" \
	"$(sed -n 's/^\([^,]*\),2,.*/\1/p' "$scratch/night-3/vanished.csv")"
cp -R "$scratch/night-1" "$scratch/night-1-odd"
sed -i 's/half-first/given-up/' "$scratch/night-1-odd/plans/"*
day=2026-12-04
ends 1 "plans that mean nothing any more" batch second night-odd --previous "$scratch/night-1-odd" --no-register
day=2026-12-03
same "let no changed order through, since what changes cannot be told" \
	"$(sed -n 's/^[0-9]*,[0-9]*,\([^,]*\),packet,[^,]*,2,.*/\1/p' "$scratch/night-2/ledger.csv")" \
	"$(sed -n 's/^[0-9]*,\([^,]*\),previous-unreadable,.*/\1/p' "$scratch/night-odd/refused.csv")"
rm "$scratch/night-1/plans/"*
batch second night-lost --previous "$scratch/night-1" --no-register >"$scratch/out" 2>"$scratch/err"
same "without the plan of the last sheet what changes cannot be told, so nothing is printed over it" 3 $?
holds "and it says so" "$scratch/err" "of the earlier run cannot be read"

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

# --- What is refused before anything is made.

mkdir "$scratch/mine" && echo keep >"$scratch/mine/notes.txt"
ends 3 "a folder with other files ends with 3" batch few mine
holds "and says what to do" "$scratch/err" "holds other files; name an empty folder, or a new one" "[folder-in-use]"
same "and is left alone" "notes.txt keep" "$(ls -A "$scratch/mine") $(cat "$scratch/mine/notes.txt")"
ends 3 "a finished run is not run over" batch few one
holds "and the way to go on is named" "$scratch/err" "go on with it by --resume, or name another folder" "[folder-has-run]"
ends 3 "another intake does not go on in its folder" batch three one --resume --no-register --print-run
holds "and it says what differs" "$scratch/err" "the intake differs" "[run-differs]"
ends 3 "nor do other options" batch few one --resume --no-register
holds "and it says so" "$scratch/err" "an option differs" "[run-differs]"
(
	flock 9
	batch few one --resume --no-register --print-run >"$scratch/out" 2>"$scratch/err"
) 9<"$scratch/one"
holds "two runs in one folder" "$scratch/err" "has a run at work in it" "[run-at-work]"
ends 4 "a folder that is no finished run's is no earlier run" batch few never --previous "$scratch/few"
holds "and it says so" "$scratch/err" "is not the folder of a finished run" "[previous-unfinished]"
echo "Record;Name" >"$scratch/three/intake.csv"
ends 4 "an intake that is refused whole ends with 4" batch three never
holds "with the reason" "$scratch/err" "[column-missing]"
same "and nothing stands in its folder" "" "$(ls -A "$scratch/never")"
for wrong in "--jobs 0" "--jobs many" "--shard 3" "--shard 17/16" "--name-by name" "--shard 1/2 --print-run"; do
	ends 2 "'$wrong' is a fault of the command line" batch few never $wrong
done
ends 2 "a run without a map" "$program" batch "$scratch/few/intake.csv" --out "$scratch/never"
ends 2 "a run without a folder" "$program" batch "$scratch/few/intake.csv" --map "$scratch/few/map.yaml"

# --- What the system does.

mkdir "$scratch/data" && cp -R templates "$scratch/data"
ends 3 "without its fonts a run ends with 3" env FILLMARK_DATA="$scratch/data" "$program" batch \
	"$scratch/few/intake.csv" --map "$scratch/few/map.yaml" --clinic "$clinic" --out "$scratch/fontless" --as-of "$day"
same "and no packet stands in its folder" "" "$(ls -A "$scratch/fontless/packets" 2>/dev/null)"
ends 3 "a folder that cannot be made ends with 3" batch few one/run.json/out
holds "with the reason" "$scratch/err" "nothing can be written to" "[file-unwritable]"
mkdir "$scratch/small"
if [ "$(id -u)" -eq 0 ] && mount -t tmpfs -o size=600k none "$scratch/small" 2>/dev/null; then
	ends 3 "a full disk ends with 3" batch few small/out --no-register --print-run --jobs 2
	holds "and says so, and how to go on" "$scratch/err" "No space left on device" "--resume" "[batch-failed]"
	same "with no half file" "" "$(find "$scratch/small" -name '*.pdf.*')"
	mount -o remount,size=3200k "$scratch/small"
	ends 3 "room for the packets alone ends with 3" batch few small/out --no-register --print-run --resume
	holds "and says what could not be made" "$scratch/err" "No space left on device" "[print-run-failed]"
	same "and the packets stand" "$(ls "$scratch/one/packets")" "$(ls "$scratch/small/out/packets")"
	mount -o remount,size=64m "$scratch/small"
	ends 1 "with room again it goes on" batch few small/out --no-register --print-run --resume
	same_folder "to the same folder" one small/out
	mkdir "$scratch/small/shut" && mount -o remount,ro "$scratch/small"
	ends 3 "a folder that is read-only ends with 3" batch few small/shut
	holds "and says so" "$scratch/err" "Read-only file system"
	umount "$scratch/small"
else
	skip "a full disk, and one that is read-only" "mounting a small disk needs root"
fi
if [ "$(id -u)" -ne 0 ]; then
	chmod a-w "$clinic"
	ends 3 "a register that cannot be written ends with 3" batch few no-register
	chmod u+w "$clinic"
else
	rm -f "$clinic/issued.csv" && mkdir "$clinic/issued.csv"
	ends 3 "a register that cannot be written ends with 3" batch few no-register
fi
holds "and says how to do without it" "$scratch/err" "leave it alone by --no-register" "[register-unwritable]"
tap_end
