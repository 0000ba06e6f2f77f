#!/bin/bash
# Each check of the house must be able to fail: it is given a small tree with one thing wrong.
set -uo pipefail
. tests/support/tap.sh
layers=$PWD/scripts/check-layers.sh
tree=$PWD/scripts/check-tree.sh

# A tree in which everything is right.
fresh() {
	rm -rf "$scratch/tree"
	mkdir -p "$scratch/tree/src/"{base,quantity,plan,page,cli} "$scratch/tree/tests/published" "$scratch/tree/fonts"
	cd "$scratch/tree" && git init -q .
	printf '#include <stddef.h>\n' >src/base/arena.h
	printf '#include "base/arena.h"\n\n#include <stdlib.h>\n' >src/base/arena.c
	printf '#include "quantity/rational.h"\n#include "base/arena.h"\n' >src/plan/draw.h
	printf '/* a double dose; 0.5 is no literal here */\n#include "base/arena.h"\nconst char *half = "0.5 float";\n' \
		>src/quantity/rational.h
	printf '#include "page/grid.h"\n#include "plan/draw.h"\n' >src/page/grid.c
	printf 'double width;\n' >src/page/grid.h
	printf 'id,value,source_id\nA,1,LABEL\n' >tests/published/values.csv
	printf 'face' >fonts/a.ttf
	printf '%s  a.ttf\n' "$(sha256sum fonts/a.ttf | cut -d ' ' -f 1)" >fonts/README.md
}

fresh
passes "a right tree keeps the layers" "$layers" src
passes "a right tree passes the tree check" "$tree" .

fresh && printf '#include "load/yaml.h"\n' >>src/page/grid.c
refuses "page may not see load" "src/page/grid.c:3: page may not include load" "$layers" src

fresh && printf '#include "plan/draw.h"\n' >>src/base/arena.h
refuses "nothing below includes upward" "base may not include plan" "$layers" src

fresh && printf '#  include "cli/options.h"\n' >>src/page/grid.h
refuses "spaces around include hide nothing" "page may not include cli" "$layers" src

fresh && printf '#include "plan/draw.h"\n#include "page/grid.h"\n' >src/page/grid.c
refuses "the own header comes first" 'the first include must be "page/grid.h"' "$layers" src

fresh && printf '#include <stdlib.h>\n#include "page/grid.h"\n' >src/page/grid.c
refuses "a system header may not come before it" 'the first include must be "page/grid.h"' "$layers" src

fresh && printf '#include "draw.h"\n' >>src/page/grid.c
refuses "includes name their layer" 'include as "layer/file.h"' "$layers" src

fresh && mkdir src/extra && printf '#include <stddef.h>\n' >src/extra/x.h
refuses "a layer that is not in the table" "no such layer: extra" "$layers" src

fresh && printf '#include <cairo.h>\n' >>src/page/grid.c
refuses "Cairo stays where painting is" "<cairo.h> belongs to text paint pdf" "$layers" src

fresh && printf '#include <time.h>\n' >>src/plan/draw.h
refuses "plan looks at no clock" "plan is pure: no <time.h>" "$layers" src

fresh && rm -rf src && mkdir src
refuses "an empty tree proves nothing" "no source files found" "$layers" src

fresh && printf 'double volume;\n' >>src/plan/draw.h
refuses "a double in plan" "src/plan/draw.h: floating point in an exact layer: double" "$tree" .

fresh && printf 'int x = (int)(100 * 0.29);\n' >>src/quantity/rational.h
refuses "a binary fraction in quantity" "floating point in an exact layer" "$tree" .

fresh && printf 'int x = (int)strtod("1", 0);\n' >>src/quantity/rational.h
refuses "a reader of binary fractions in quantity" "floating point in an exact layer: strtod" "$tree" .

fresh && printf 'see /%s/somebody/notes\n' home >notes.md
refuses "a path of one machine" "names a path of one machine" "$tree" .

fresh && printf 'from https://%s.example.org/simple\n' index >notes.md
refuses "a package host" "names a package host" "$tree" .

fresh && printf 'all:\n\tget %s://example.org/x\n' http >Makefile
refuses "a build that needs the network" "the build reaches for the network" "$tree" .

fresh && printf 'B,2,\n' >>tests/published/values.csv
refuses "a published value without its source" "no source in row 3" "$tree" .

fresh && printf 'id,value\nA,1\n' >tests/published/values.csv
refuses "published values without a source column" "no column 'source' or 'source_id'" "$tree" .

fresh && printf 'A 1\n' >tests/published/values.txt
refuses "published values that are no table" "published values are kept as CSV" "$tree" .

fresh && printf 'other' >fonts/a.ttf
refuses "a font that is not the one looked at" "its digest is not the one" "$tree" .

fresh && printf '![A page](docs/gone.png)\n' >README.md
refuses "a picture in README.md that is not there" "it links to 'docs/gone.png'" "$tree" .
tap_end
