# Sourced after tap.sh by scripts that run the built program as a user does.
# $program is its absolute path, so that a test may stand in any folder; plans are those of samples/plans.
program=$(realpath "${FILLMARK:-build/fillmark}")
samples=$PWD/samples
plans=(ione mara rosalind-draft tamsin wilma)

# ends CODE NAME COMMAND...: the command ends with this exit status. What it printed is in $scratch/out and
# $scratch/err, for the checks that follow.
ends() {
	local code=$1 name=$2 status
	shift 2
	"$@" >"$scratch/out" 2>"$scratch/err"
	status=$?
	{
		echo "ended with $status: $*"
		cat "$scratch/out" "$scratch/err"
	} >"$scratch/said"
	[ "$status" -eq "$code" ]
	result $? "$name"
}

# holds NAME FILE WORDS...: every one of the words is in the file, as it stands there.
holds() {
	local name=$1 file=$2 words good=0
	shift 2
	: >"$scratch/said"
	for words; do
		grep -qF -- "$words" "$file" || { echo "lacks: $words" >>"$scratch/said" && good=1; }
	done
	[ "$good" -eq 0 ] || head -n 40 "$file" >>"$scratch/said"
	result "$good" "$name"
}

# lacks NAME FILE WORDS...: none of the words is in the file, and the file has something in it.
lacks() {
	local name=$1 file=$2 words good=0
	shift 2
	: >"$scratch/said"
	[ -s "$file" ] || { echo "nothing to look at: $file" >"$scratch/said" && good=1; }
	for words; do
		! grep -nF -- "$words" "$file" >>"$scratch/said" || good=1
	done
	result "$good" "$name"
}

# same NAME EXPECTED ACTUAL: two texts are the same.
same() {
	diff <(printf '%s\n' "$2") <(printf '%s\n' "$3") >"$scratch/said"
	result $? "$1"
}

# A clinic folder of one's own to alter: prints where it is.
copy_samples() {
	local folder=$scratch/clinic-$1
	cp -R "$samples" "$folder"
	echo "$folder"
}

# packet_text PLAN TEXT: makes the packet TEXT.pdf and writes what is printed in it to TEXT.
packet_text() {
	"$program" packet "$1" -o "$2.pdf" >"$scratch/packet.said" 2>&1 && pdftotext -layout "$2.pdf" "$2"
}

# page_number TEXT WORDS...: the first page of a packet's text that holds all the words; page_text: what it holds.
page_number() {
	local text=$1 words page n=0
	shift
	while IFS= read -r -d $'\f' page; do
		n=$((n + 1))
		for words; do
			[[ $page == *"$words"* ]] || continue 2
		done
		echo "$n"
		return
	done <"$text"
	return 1
}

page_text() {
	local n
	n=$(page_number "$@") && awk -v RS='\f' -v n="$n" 'NR == n' "$1"
}

# names_nobody NAME INTAKE FOLDER SAID...: a batch's folder and what it said have no patient's name where none belongs.
names_nobody() {
	local name=$1
	shift
	python3 tests/batch/names_told.py "$@" >"$scratch/said" 2>&1
	result $? "$name"
}
