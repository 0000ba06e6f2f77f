#!/bin/bash
# A rehearsal of mistakes: each one of mutations.txt is made in a copy of the samples, and must be refused, or be shown
# as a caution, or be one of those that no program can know, of which unknowable.txt tells the reason.
# Nothing is signed in that copy, so that a broken seal does not stand in for a check. Afterwards the same mistake is
# made in the signed clinic: what nothing was said of there must show as DRAFT, where it is in something that is signed.
set -uo pipefail
. tests/support/tap.sh
. tests/support/cli.sh
here=tests/rehearsal

unsigned=$(copy_samples unsigned)
echo "kind,id,seal,who,when" >"$unsigned/signatures.csv"
signed=$(copy_samples signed)

# said FOLDER PLAN: all findings, without those of the seals; $scratch/all keeps those too. Ends as the program did.
said() {
	local status
	"$program" check "$1/plans/$2.yaml" >"$scratch/all" 2>&1
	status=$?
	grep -vE '\[seal-(broken|missing)\]$' "$scratch/all"
	return $status
}

for plan in "${plans[@]}"; do
	said "$unsigned" "$plan" >"$scratch/before-$plan"
	result $? "$plan: without a mistake, it is accepted"
done

# anew LEVEL CODE PLAN: this is said, and was not said word for word before the mistake was made.
anew() {
	grep -vxFf "$scratch/before-$3" "$scratch/now" | grep -E ": $1: .* \[$2\]\$" >/dev/null
}

# judge EXPECTED STATUS PLAN: does what is said in $scratch/now agree with the expectation?
judge() {
	local kind=${1%% *} what=${1#* } new
	case $kind in
	stop) [ "$2" -eq 1 ] && anew stop "$what" "$3" ;;
	caution) [ "$2" -eq 0 ] && anew caution "$what" "$3" ;;
	unknowable)
		new=$(grep -vxFf "$scratch/before-$3" "$scratch/now" | grep -v ': note: ')
		[ "$2" -eq 0 ] && [ -z "$new" ] && grep -q "^$what: ." "$here/unknowable.txt"
		;;
	*) return 1 ;;
	esac
}

# draft: the mistake in the signed clinic breaks a seal. A plan that was never signed has none.
draft() {
	[ "$1" = rosalind-draft ] && [ "$2" = plan ] && return
	said "$signed" "$1" >"$scratch/now"
	grep -q '\[seal-broken\]$' "$scratch/all"
}

# make_mistake FOLDER PATH SED; undo FOLDER PATH
make_mistake() {
	sed -i "$3" "$1/$2" && ! cmp -s "$samples/$2" "$1/$2"
}
undo() {
	cp "$samples/$2" "$1/$2"
}

# rehearse PLAN FILE SED EXPECTED NAME
rehearse() {
	local path=$2 status good=1
	[ "$2" = plan ] && path=plans/$1.yaml
	: >"$scratch/now"
	# The sheet that a mistake may say it replaces.
	cp "$samples/plans/$1.yaml" "$unsigned/plans/earlier.yaml"
	if make_mistake "$unsigned" "$path" "$3"; then
		said "$unsigned" "$1" >"$scratch/now"
		status=$?
		cp "$scratch/now" "$scratch/said"
		echo "expected: $4; ended with $status" >>"$scratch/said"
		judge "$4" "$status" "$1" && good=0
		if [ "$good" -eq 0 ] && [ "$status" -eq 0 ]; then
			make_mistake "$signed" "$path" "$3"
			draft "$1" "$2" || { good=1 && echo "signed, and no seal is broken" >>"$scratch/said"; }
			undo "$signed" "$path"
		fi
	else
		echo "nothing was changed by: $3" >"$scratch/said"
	fi
	undo "$unsigned" "$path"
	result "$good" "$1: $5: $4"
}

while IFS= read -r line; do
	[[ -z $line || $line == '#'* ]] && continue
	IFS=$'\x1f' read -r plan file edit expected name <<<"${line// | /$'\x1f'}"
	if [ "$plan" = '*' ]; then
		for plan in "${plans[@]}"; do
			rehearse "$plan" "$file" "$edit" "$expected" "$name"
		done
	else
		rehearse "$plan" "$file" "$edit" "$expected" "$name"
	fi
done <"$here/mutations.txt"

# Names the reasons of unknowable.txt that no mistake needs.
all_needed() {
	local reason status=0
	while IFS= read -r reason; do
		grep -q " | unknowable $reason | " "$here/mutations.txt" || { echo "no mistake needs '$reason'" && status=1; }
	done < <(sed -n 's/^\([a-z-]*\): .*/\1/p' "$here/unknowable.txt")
	return $status
}
passes "every reason of unknowable.txt is needed" all_needed
tap_end
