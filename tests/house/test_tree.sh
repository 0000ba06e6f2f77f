#!/bin/bash
# The rules of the house, held against this very tree.
set -uo pipefail
. tests/support/tap.sh

passes "include lines keep to the layers" scripts/check-layers.sh
passes "no floating point where lines are computed, no machine's paths, every published value has a source" \
	scripts/check-tree.sh

# laid_out: names the files that clang-format would change; fails if there are any.
laid_out() {
	local file status=0
	while IFS= read -r file; do
		clang-format "$file" | cmp -s - "$file" || { echo "$file: run 'make format'" && status=1; }
	done < <(find src tests -name '*.[ch]' | LC_ALL=C sort)
	return $status
}

# Another version lays out differently; 14 is the one of Debian 12.
if clang-format --version 2>/dev/null | grep -q 'version 14\.'; then
	passes "source is laid out by .clang-format" laid_out
else
	skip "source is laid out by .clang-format" "needs clang-format 14"
fi
tap_end
