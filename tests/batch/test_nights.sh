#!/bin/bash
# One night's batch after another: who is unchanged, changed, new, refused or gone.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh
. tests/support/batch.sh

# --- The second night.

intake first 40 --bad 0
intake second 40 --bad 0 --night 2
ends 0 "a first night without a bad row ends with 0" batch first night-1
day=2026-12-04
batch second night-2 --previous "$scratch/night-1" >"$scratch/out" 2>"$scratch/err"
day=2026-12-03
names_nobody "the second night names nobody" "$scratch/second/intake.csv" "$scratch/night-2" "$scratch/out" "$scratch/err"
names_nobody "nor anybody who is gone" "$scratch/first/intake.csv" "$scratch/night-2" "$scratch/out" "$scratch/err"
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
seed=7 day=2026-12-04
for ((kill = 1; kill <= 6; kill++)); do
	seed=$(((seed * 1103515245 + 12345) % 2147483648))
	batch_away second night-killed --previous "$scratch/night-1" --no-register --jobs 2 --resume >/dev/null 2>&1 &
	run=$!
	sleep "0.$(printf %03d $((50 + seed / 65536 % 300)))"
	kill -KILL "$run" 2>/dev/null
	wait "$run" 2>/dev/null
done
ends 1 "a second night that was killed six times comes to its end" batch second night-killed \
	--previous "$scratch/night-1" --no-register --resume
same_folder "with the same folder" night-2 night-killed
day=2026-12-03
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
ends 1 "plans that were altered" batch second night-odd --previous "$scratch/night-1-odd" --no-register
day=2026-12-03
same "let no changed order through, since what changes cannot be told" \
	"$(sed -n 's/^[0-9]*,[0-9]*,\([^,]*\),packet,[^,]*,2,.*/\1/p' "$scratch/night-2/ledger.csv")" \
	"$(sed -n 's/^[0-9]*,\([^,]*\),previous-unreadable,.*/\1/p' "$scratch/night-odd/refused.csv")"
sed -i '1!s/,[0-9a-f]*$/,/' "$scratch/night-1-odd/ledger.csv"
day=2026-12-04
ends 1 "plans of which no digest is kept, and that mean nothing any more" batch second night-older \
	--previous "$scratch/night-1-odd" --no-register
day=2026-12-03
same "let no changed order through either" "$(grep ,previous-unreadable, "$scratch/night-odd/refused.csv")" \
	"$(grep ,previous-unreadable, "$scratch/night-older/refused.csv")"
cp -R "$scratch/night-1" "$scratch/night-1-short"
gone=$(sed -n '2s/,.*//p' "$scratch/night-2/vanished.csv")
rm "$scratch/night-1-short/plans/$gone.yaml"
day=2026-12-04
ends 3 "the plan of one who is gone is not there" batch second night-short --previous "$scratch/night-1-short" --no-register
day=2026-12-03
holds "and it says which" "$scratch/err" "'plans/$gone.yaml' of the earlier run cannot be read" "[batch-failed]"
lacks "and nothing else" "$scratch/err" "file-unwritable"
same "and no table that is not whole stands there as if it were" "" "$(ls "$scratch/night-short" | grep csv)"
# --- The reason for a new version: part of what its code stands for, and of the plan that is kept

mkdir "$scratch/why"
tr -d '\r' <samples/intake/intake.csv | sed -n '1s/$/;Why/p; 2s/$/;/p' >"$scratch/why/intake.csv"
sed 's/^  "Signed on":.*/&\n  "Why": because/' samples/intake/map.yaml >"$scratch/why/map.yaml"
batch why why-1 --no-register >/dev/null 2>&1
sed -i 's/;20;;8;/;25;;8;/; 2s/$/After the scan/' "$scratch/why/intake.csv"
day=2026-12-04
batch why why-2 --previous "$scratch/why-1" --no-register >/dev/null 2>&1
sed -i 's/After the scan/After the blood test/' "$scratch/why/intake.csv"
batch why why-other --previous "$scratch/why-1" --no-register >/dev/null 2>&1
sed -i 's/;25;;8;/;30;;8;/' "$scratch/why/intake.csv"
day=2026-12-05
batch why why-3 --previous "$scratch/why-2" --no-register >/dev/null 2>&1
day=2026-12-03
code_of() { sed -n 's/.*,LQ-0101,packet,\([^,]*\),.*/\1/p' "$scratch/$1/ledger.csv"; }
passes "two sheets with another reason have another code" test "$(code_of why-2)" != "$(code_of why-other)"
"$program" workings --json "$scratch/why-2/plans/LQ-0101.yaml" --clinic "$clinic" >"$scratch/json" 2>"$scratch/err"
"$program" workings "$scratch/why-2/plans/LQ-0101.yaml" --clinic "$clinic" 2>/dev/null | sed 's/\xc2\xa0/ /g' >"$scratch/text"
same "the plan that is kept makes a sheet of the same code" "$(code_of why-2)" \
	"$(sed -n 's/^ "code": "\(.*\)",$/\1/p' "$scratch/json")"
holds "and says what changed since which sheet, as the first plan lies beside it" "$scratch/text" \
	"Changed since version 1 ($(code_of why-1))" "now 25 syringe units"
pdftotext -layout "$scratch/why-3/packets/LQ-0101.pdf" "$scratch/text"
holds "a third night's sheet names the second one by the code that was printed on it" "$scratch/text" "$(code_of why-2)"
day=2026-12-06
batch why why-4 --previous "$scratch/why-3" --no-register >/dev/null 2>&1
day=2026-12-03
same "an unchanged sheet's plan goes on with all that it replaced" "LQ-0101.yaml LQ-0101~v1.yaml LQ-0101~v2.yaml" \
	"$(ls "$scratch/why-4/plans" | tr '\n' ' ' | sed 's/ $//')"
day=2026-12-06
batch why why-code --previous "$scratch/why-2" --no-register --name-by code >/dev/null 2>&1
day=2026-12-03
same "by code each has its own" "3" \
	"$(cd "$scratch/why-code/plans" && ls "$(code_of why-code).yaml" "$(code_of why-2).yaml" LQ-0101~v1.yaml | wc -l)"
passes "byte for byte" diff -r "$scratch/why-3/plans" "$scratch/why-4/plans"
passes "and its first plan is the first night's" cmp "$scratch/why-1/plans/LQ-0101.yaml" \
	"$scratch/why-4/plans/LQ-0101~v1.yaml"

rm "$scratch/night-1/plans/"*
batch second night-lost --previous "$scratch/night-1" --no-register >"$scratch/out" 2>"$scratch/err"
same "without the plan of the last sheet what changes cannot be told, so nothing is printed over it" 3 $?
holds "and it says so" "$scratch/err" "of the earlier run cannot be read"
tap_end
