#!/bin/bash
# What `make install` lays down is enough to make a packet far from the source.
set -uo pipefail
. tests/support/tap.sh
root=$scratch/root
share=$root/usr/local/share/fillmark

passes "make install" make -s install DESTDIR="$root"
for part in fonts/OFL.txt templates/words/en.yaml samples/clinic.yaml LICENSE; do
	passes "installs $part" test -s "$share/$part"
done

cd "$scratch" || exit
export FILLMARK_DATA=$share
program=$root/usr/local/bin/fillmark
passes "the installed program starts" "$program" --version
passes "it makes the demo packet" "$program" packet "$share/samples/plans/mara.yaml" -o demo.pdf
passes "the packet is a PDF with pages" pdfinfo demo.pdf
tap_end
