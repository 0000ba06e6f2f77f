#!/bin/bash
# A new version names the sheet that it replaces: what differs is said, and what cannot be right is refused.
set -u
. tests/support/tap.sh
cp -r samples "$scratch/clinic"
plan=$scratch/clinic/plans/mara-2.yaml

changes() { "$FILLMARK" workings "$plan" 2>/dev/null | sed "s/\xc2\xa0/ /g" | grep -A3 '^Changed since version 1'; }
# Worked out by hand: 20 syringe units until 11 December, 25 on the last two days before the timed injection.
says_what_differs() {
	changes | grep -qF 'Sampletide, Sat 12 Dec to Sun 13 Dec: 20 syringe units (line 20), 08:00; now 25 syringe units (line 25), 08:00.'
}
passes "the changed days are said, from what to what" says_what_differs

names_the_old_code() {
	local code
	code=$("$FILLMARK" workings --json "$scratch/clinic/plans/mara.yaml" 2>/dev/null | grep '"code": "....-....-."' | cut -d'"' -f4)
	changes | grep -qF "($code)"
}
passes "the replaced sheet is named by its own code" names_the_old_code

"$FILLMARK" packet "$plan" --quiet -o "$scratch/two.pdf" 2>/dev/null
first_page() { pdftotext -f 1 -l 1 "$scratch/two.pdf" - | tr '\n' ' ' | grep -qF "Tear up every page that says version 1."; }
passes "the first page says to tear up version 1" first_page

# refused NAME CODE SED: the plan altered so is refused with that code.
refused() {
	sed "$3" samples/plans/mara-2.yaml >"$plan"
	refuses "$1" "[$2]" "$FILLMARK" check "$plan"
	cp samples/plans/mara-2.yaml "$plan"
}
refused "the same version again" version-not-above 's/^version: 2/version: 1/'
refused "another patient's record" replaces-other-patient 's/LQ-0001/LQ-0009/'
refused "another day of birth" replaces-other-patient 's/1997-02-14/1979-02-14/'
refused "a plan that is not there" replaces-missing 's/file: mara.yaml/file: nobody.yaml/'
refused "a packet's PDF" replaces-pdf 's/file: mara.yaml/file: mara.pdf/'
refused "a day before the one it replaces" replaces-later 's/^as_of: 2026-12-11/as_of: 2026-12-01/'

refused "neither a plan nor a code" missing-key 's/file: mara.yaml, //'
says_the_code() {
	sed "s/file: mara.yaml/&, code: $1/" samples/plans/mara-2.yaml >"$plan"
	changes | grep -qF "($1)"
}
passes "a plan and a code: the code that was printed is named" says_the_code K7Q4-MX2T-9
says_that_codes_differ() {
	"$FILLMARK" check "$plan" 2>&1 | grep -F "[replaced-code-differs]" | grep -qF "mara-2.yaml:8:35: caution: 'mara.yaml' makes"
}
passes "where today's records give another, that is said" says_that_codes_differ
says_the_code "$("$FILLMARK" workings --json samples/plans/mara.yaml 2>/dev/null | sed -n 's/^ "code": "\(.*\)",$/\1/p')"
same_code_is_silent() { ! "$FILLMARK" check "$plan" 2>&1 | grep -F "[replaced-code-differs]"; }
passes "where they give the same, nothing is" same_code_is_silent
says_that_it_is_not_at_hand() {
	sed 's/file: mara.yaml/code: K7Q4-MX2T-9/' samples/plans/mara-2.yaml >"$plan"
	"$FILLMARK" check "$plan" 2>&1 | grep -F '[replaced-not-at-hand]' |
		grep -qF 'mara-2.yaml:8:18: caution: of the sheet that this one replaces only the code'
}
passes "a code alone says that no page can tell what changed" says_that_it_is_not_at_hand
cp samples/plans/mara-2.yaml "$plan"

# --- A third version: the second one's code hangs on what the first had past doses given from

# A pen that came with the second version expires sooner. By itself that plan would have begun with it.
pens=$scratch/clinic/plans
sed -e 's/^as_of:.*/as_of: 2026-12-08/' -e 's/^version: 1/version: 2\nreplaces: {file: tilda.yaml}/' \
	-e 's/^dispensed:/&\n  - {product: placebix-pen, count: 1, expires: 2026-12-13}/' "$pens/tilda.yaml" >"$pens/tilda-2.yaml"
sed -e 's/^as_of:.*/as_of: 2026-12-10/' -e 's/^version: 2/version: 3/' -e 's/tilda.yaml/tilda-2.yaml/' \
	"$pens/tilda-2.yaml" >"$pens/tilda-3.yaml"
names_the_second_code() {
	local code
	code=$("$FILLMARK" workings --json "$pens/tilda-2.yaml" 2>/dev/null | grep '"code": "....-....-."' | cut -d'"' -f4)
	"$FILLMARK" workings "$pens/tilda-3.yaml" 2>/dev/null | grep -F "Changed since version 2 ($code)"
}
passes "a third version names the second by the code that was printed on it" names_the_second_code
sed -i 's/tilda.yaml/tilda-3.yaml/' "$pens/tilda-2.yaml"
refuses "a circle of versions" "[version-not-above]" "$FILLMARK" check "$pens/tilda-2.yaml"

same_plan_again() {
	sed -e 's/^changes:.*//' -e '/- {item: calm, from: 2026-12-12/d' samples/plans/mara-2.yaml >"$plan"
	changes | grep -q 'No dose differs.'
}
passes "no dose differs where nothing was changed" same_plan_again
tap_end
