#!/bin/bash
# Rules of the house that no compiler knows, checked below the folder given (default: the one above this script).
set -euo pipefail
cd "${1:-$(dirname "$0")/..}"
faults=0
say() {
	echo "$1"
	faults=1
}

# No binary floating point between reading an order and choosing a mark: comments and literals may name it, code not.
while IFS= read -r file; do
	found=$(gcc -fpreprocessed -dD -E -x c "$file" 2>/dev/null | sed -E "s/\"([^\"\\\\]|\\\\.)*\"//g; s/'[^']*'//g" |
		grep -oE '\b(float|double|strtod|strtof|strtold|atof|CYAML_[A-Z_]*FLOAT[A-Z_]*)\b|(^|[^A-Za-z0-9_.])([0-9]+\.[0-9]*|\.[0-9]+)' |
		sort -u | tr '\n' ' ' || true)
	[ -z "$found" ] || say "$file: floating point in an exact layer: $found"
done < <(find src/quantity src/model src/load src/plan src/record -name '*.[ch]' 2>/dev/null | LC_ALL=C sort)

# What git keeps, or will at the next commit. Published sources are quoted with their addresses.
# Where git does not answer (an unpacked archive, another user's clone), all files but what was built.
list_files() {
	git ls-files --cached --others --exclude-standard 2>/dev/null ||
		find . -type f ! -path './.git/*' ! -path './build/*' -printf '%P\n'
}
mapfile -t files < <(list_files | grep -v '^tests/published/' | LC_ALL=C sort)
[ "${#files[@]}" -gt 0 ] || say "no files found"

# A path of somebody's machine works on that machine only.
found=$(grep -nIE '(^|[^A-Za-z0-9_.})])/(work|home|root|Users|tmp)/' -- "${files[@]}" 2>/dev/null || true)
[ -z "$found" ] || say "$found"$'\n'"^ names a path of one machine"

# Packages are asked for by name; where they come from is the machine's own affair.
found=$(grep -nIE '\b(registry|index|proxy|mirrors?|deb|packages|files|crates|repo|repo1)\.[a-z0-9-]+(\.[a-z]+)*\.(org|io|com|net|dev)\b' \
	-- "${files[@]}" 2>/dev/null || true)
[ -z "$found" ] || say "$found"$'\n'"^ names a package host"

# What builds and checks needs no address at all.
for file in "${files[@]}"; do
	case $file in
	Makefile | scripts/* | .ci/*)
		! grep -nHE '(https?|ftp)://' "$file" || say "^ the build reaches for the network"
		;;
	esac
done

# A reference value without its source is a rumour.
while IFS= read -r file; do
	python3 - "$file" <<-'END' || faults=1
		import csv, sys
		rows = list(csv.DictReader(open(sys.argv[1], newline="", encoding="utf-8")))
		column = next((name for name in ("source_id", "source") if rows and name in rows[0]), None)
		if column is None:
		    sys.exit(sys.argv[1] + ": no column 'source' or 'source_id', or no rows")
		bare = [str(n) for n, row in enumerate(rows, 2) if not (row[column] or "").strip()]
		if bare:
		    sys.exit(sys.argv[1] + ": no source in row " + ", ".join(bare))
	END
done < <(find tests/published -type f -name '*.csv' 2>/dev/null | LC_ALL=C sort)
found=$(find tests/published -type f ! -name '*.csv' ! -name 'README.md' 2>/dev/null || true)
[ -z "$found" ] || say "$found"$'\n'"^ published values are kept as CSV, so that each row can name its source"

# The fonts are the ones that were looked at.
if [ -d fonts ]; then
	for font in fonts/*.ttf; do
		digest=$(sha256sum "$font" | cut -d ' ' -f 1)
		grep -qF "$digest  ${font#fonts/}" fonts/README.md || say "$font: its digest is not the one in fonts/README.md"
	done
fi

# What a page of words shows or links to is there.
for page in README.md DEVELOPERS.md; do
	[ -e "$page" ] || continue
	while IFS= read -r target; do
		[ -e "$target" ] || say "$page: it links to '$target', which is not there"
	done < <(grep -oE '\]\([^)#:]+\)' "$page" | sed 's/^](//; s/)$//' | LC_ALL=C sort -u)
done

exit $faults
