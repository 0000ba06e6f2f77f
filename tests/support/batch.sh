# Sourced after cli.sh by scripts that run batches of invented exports, with a clinic's folder of their own.
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
