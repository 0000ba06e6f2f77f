#!/bin/sh
# Holds the include lines below SRC (default: src) to the layers: a file includes its own layer and what lies below.
# The first include of a source file that has a header is that header, so every header proves it stands alone.
# Some libraries stay in the layers that own them; plan and record neither read nor write nor look at a clock.
find "${1:-src}" -name '*.[ch]' | LC_ALL=C sort | xargs awk '
BEGIN {
	split("base: quantity:base model:quantity load:model plan:model record:plan words:record handout:words text:base" \
	      " page:handout,text paint:page pdf:paint batch:load,pdf cli:batch", rows, " ")
	for (i in rows) { split(rows[i], row, ":"); below[row[1]] = row[2] }
	only["cairo"] = only["pango"] = "text paint pdf"; only["qpdf"] = only["hb"] = "pdf"; only["cyaml"] = only["yaml"] = "load"
	pure["plan"] = pure["record"] = "^(stdio|time|unistd|fcntl|locale|math|float)[.]h$"
}
function may(from, to,    list, n, i) { # passes down: what a lower layer may include, a higher one may too
	if (from == to) return 1
	n = split(below[from], list, ",")
	for (i = 1; i <= n; i++) if (may(list[i], to)) return 1
	return 0
}
function fault(says) { printf "%s:%d: %s\n", FILENAME, FNR, says; faults = 1 }
FNR == 1 {
	parts = split(FILENAME, part, "/"); layer = part[parts - 1]; includes = 0; directory = FILENAME
	own = layer "/" substr(part[parts], 1, length(part[parts]) - 2) ".h"; sub("[^/]*/[^/]*$", "", directory)
	has_header = FILENAME ~ /\.c$/ && system("test -f \"" directory own "\"") == 0
	if (!(layer in below)) fault("no such layer: " layer)
}
match($0, /^[ \t]*#[ \t]*include[ \t]*["<]/) {
	quoted = substr($0, RLENGTH, 1) == "\""; target = substr($0, RLENGTH + 1); sub(/[">].*/, "", target)
	if (++includes == 1 && has_header && !(quoted && target == own)) fault("the first include must be \"" own "\"")
	if (quoted && target !~ "^[a-z]+/[a-z_0-9]+[.]h$") fault("include as \"layer/file.h\", not \"" target "\"")
	else if (quoted) { sub("/.*", "", target); if (!may(layer, target)) fault(layer " may not include " target) }
	else {
		for (library in only) if (index(target, library) == 1 && !index(" " only[library] " ", " " layer " "))
			fault("<" target "> belongs to " only[library])
		if (layer in pure && target ~ pure[layer]) fault(layer " is pure: no <" target ">")
	}
}
END { if (!NR) { print "no source files found"; faults = 1 }; exit faults }'
