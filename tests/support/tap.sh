# Sourced by test scripts: the Test Anything Protocol in four functions. The plan is printed last.
tap_n=0
scratch=$(mktemp -d) || exit
trap 'rm -rf "$scratch"' EXIT

# result STATUS NAME: one test; what the last command said is in $scratch/said.
result() {
	tap_n=$((tap_n + 1))
	if [ "$1" -eq 0 ]; then
		echo "ok $tap_n - $2"
	else
		echo "not ok $tap_n - $2"
		[ ! -s "$scratch/said" ] || sed 's/^/# /' "$scratch/said"
	fi
}

# passes NAME COMMAND...: the command succeeds.
passes() {
	local name=$1
	shift
	"$@" >"$scratch/said" 2>&1
	result $? "$name"
}

# refuses NAME WORDS COMMAND...: the command fails, and says so with these words.
refuses() {
	local name=$1 words=$2
	shift 2
	if "$@" >"$scratch/said" 2>&1; then
		result 1 "$name: was accepted"
	else
		grep -qF -- "$words" "$scratch/said"
		result $? "$name"
	fi
}

skip() {
	tap_n=$((tap_n + 1))
	echo "ok $tap_n - $1 # SKIP $2"
}

tap_end() {
	echo "1..$tap_n"
}
