#!/bin/bash
# Installs the Debian packages that building or checking needs and this machine lacks.
#
#   scripts/setup.sh build          what the program is built from
#   scripts/setup.sh build check    and what `make check` needs besides
#
# Nothing missing: says so and touches nothing. Needs root or sudo only to install.
set -euo pipefail
export LC_ALL=C # what the package tools say is read below

build_packages=(build-essential pkg-config libcairo2-dev libpango1.0-dev libharfbuzz-dev
	libqpdf-dev libdeflate-dev libfontconfig-dev libcyaml-dev libyaml-dev
	libqrencode-dev libicu-dev libglib2.0-dev libjansson-dev libcsv-dev)
# cmocka and gmp are linked into test programs; the rest are independent readers and judges that tests run.
check_packages=(libcmocka-dev libgmp-dev libical-dev poppler-utils qpdf units zbar-tools valgrind clang-format python3
	tzdata parallel python3-jsonschema)

wanted=()
for group in "$@"; do
	case $group in
	build) wanted+=("${build_packages[@]}") ;;
	check) wanted+=("${check_packages[@]}") ;;
	*) echo "setup: unknown group '$group'; use build, check or both" >&2 && exit 2 ;;
	esac
done
if [ ${#wanted[@]} -eq 0 ]; then
	echo "usage: scripts/setup.sh build|check..." >&2
	exit 2
fi

if ! command -v dpkg-query >/dev/null; then
	echo "setup: not a Debian system, nothing was installed; these must be there, by their Debian names: ${wanted[*]}"
	exit 0
fi

missing=()
for package in "${wanted[@]}"; do
	status=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || true)
	[ "$status" = installed ] || missing+=("$package")
done
if [ ${#missing[@]} -eq 0 ]; then
	echo "setup: all ${#wanted[@]} packages are there"
	exit 0
fi

as_root=()
if [ "$(id -u)" -ne 0 ]; then
	if ! command -v sudo >/dev/null; then
		echo "setup: packages are missing and this is neither root nor has sudo; have someone run:" >&2
		echo "  apt-get install ${missing[*]}" >&2
		exit 1
	fi
	as_root=(sudo)
fi

install_missing() {
	"${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends "${missing[@]}"
}
update_lists() {
	echo "setup: refreshing the package lists"
	"${as_root[@]}" apt-get update -q
}

echo "setup: installing ${missing[*]}"
# A fresh system has no lists at all; an old one has lists that name versions no longer served.
# The answer is kept whole: a reader that stops early would break the pipe, and with it the test.
policy=$(apt-cache policy "${missing[@]}")
if grep -q 'Candidate: (none)' <<<"$policy" || [ "$(grep -c 'Candidate:' <<<"$policy")" -lt ${#missing[@]} ]; then
	update_lists
	install_missing
elif ! install_missing; then
	update_lists
	install_missing
fi
