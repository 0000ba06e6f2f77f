/*
 * What is checked before anything is printed: each fault in a short course (support/course_script.h), with the place
 * and the sentence it must be reported by. December 2026 begins on a Tuesday.
 */
#include "plan/check.h"
#include "plan/course.h"
#include "support/cases.h"
#include "support/course_script.h"
#include "support/published.h"

#include <stdio.h>
#include <string.h>

struct row {
	const char *name;
	const char *script;
	const char *findings;
};

/* Lines 1 to 3 of most scripts: 10 mg in 10 mL, in use for 28 days, drawn with a syringe of 1 mL. */
#define SYRINGE "syringe: id=syringe-1; capacity=1; step=0.0025\n"
#define PRODUCT "product: id=examplin-vial; container=solution-vial; strength=10 mg; volume=10 mL; in_use=28 days\n"
#define MEDICINE SYRINGE "medicine: id=examplin\n" PRODUCT
#define LIMITED SYRINGE "medicine: id=examplin; least=125 mcg; most=250 mcg\n" PRODUCT
#define ITEM "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5\n"
/* 150 units in a pen, and a dose may be finished from the next one. */
#define DOSE_BY_PEN                                                                                     \
	"medicine: id=examplin; least=100 units; most=300 units\n"                                      \
	"product: id=pen; container=pen; strength=150 units; dial_step=10 units; dial_least=10 units; " \
	"dial_most=150 units; in_use=28 days; span=yes\n"                                               \
	"item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5\n"
#define WINDOWED(time) "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5; window=" time "\n"
/* One box for two doses, the second within 25 h. */
#define SHARED_KIT                                                                         \
	"product: id=examplin-kit; container=powder-vial; strength=250 mcg; liquid=1 mL; " \
	"keep=25 h; policy=P-12\n"
#define PLAN "plan: as_of=2026-12-01\n"

static const struct row rows[] = {
	{"nothing to say", LIMITED ITEM "dose: from=1; dose=125 mcg\ndose: from=3; dose=0.25 mg\n" PLAN, ""},

	/* ---- a dose ---- */
	{"ten times the most, on every day, said once", LIMITED ITEM "dose: from=1; dose=2.5 mg\n" PLAN,
         /* drawn from the vial it would be 2.5 mL, more than the only syringe holds */
         "case:5:20: stop: 2.5 mg is 10 times the most allowed, 250 mcg, for examplin [dose-over-limit]\n"},
	{"over the most, in a single dose",
         LIMITED
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=doses 1\ndose: from=1; dose=260 mcg\n" PLAN,
         "case:5:20: stop: 260 mcg is over the most allowed, 250 mcg, for examplin; check the order "
         "[dose-over-limit]\n"},
	{"a thousand times the most", LIMITED ITEM "dose: from=1; dose=250 mg\n" PLAN,
         "case:5:20: stop: 250 mg is 1,000 times the most allowed, 250 mcg, for examplin [dose-over-limit]\n"},
	{"over the most, and a tenth would do", LIMITED ITEM "dose: from=1; dose=2 mg\n" PLAN,
         "case:5:20: stop: 2 mg is over the most allowed, 250 mcg, for examplin; a tenth of it would be allowed "
         "[dose-over-limit]\n"},
	{"over the most, and a thousandth would do: mg for mcg", LIMITED ITEM "dose: from=1; dose=200 mg\n" PLAN,
         "case:5:20: stop: 200 mg is over the most allowed, 250 mcg, for examplin; a thousandth of it would be allowed "
         "[dose-over-limit]\n"},
	{"over the most by a line", LIMITED ITEM "dose: from=1; dose=260 mcg\n" PLAN,
         "case:5:20: stop: 260 mcg is over the most allowed, 250 mcg, for examplin; check the order "
         "[dose-over-limit]\n"},
	{"a tenth of the least", LIMITED ITEM "dose: from=1; dose=12.5 mcg\n" PLAN,
         "case:5:20: stop: 12.5 mcg is a tenth of the least allowed, 125 mcg, for examplin [dose-under-limit]\n"},
	{"under the least, and ten times as much would do", LIMITED ITEM "dose: from=1; dose=20 mcg\n" PLAN,
         "case:5:20: stop: 20 mcg is under the least allowed, 125 mcg, for examplin; ten times as much would be "
         "allowed "
         "[dose-under-limit]\n"},
	{"a later step over the most", LIMITED ITEM "dose: from=1; dose=125 mcg\ndose: from=3; dose=300 mcg\n" PLAN,
         "case:6:20: stop: 300 mcg is over the most allowed, 250 mcg, for examplin; check the order "
         "[dose-over-limit]\n"},
	{"a change over the most",
         LIMITED ITEM "dose: from=1; dose=125 mcg\n" PLAN "change: item=a; from=2026-12-06; dose=300 mcg\n",
         "case:7:39: stop: 300 mcg is over the most allowed, 250 mcg, for examplin; check the order "
         "[dose-over-limit]\n"},
	{"what the dose may become",
         LIMITED ITEM "dose: from=1; dose=call after the scan; may_become=250 mcg, 2.5 mg\n" PLAN,
         "case:5:1: stop: 2.5 mg is 10 times the most allowed, 250 mcg, for examplin [dose-over-limit]\n"},
	{"what the dose may become takes two pens, said once",
         DOSE_BY_PEN "dose: from=1; dose=call after the scan; may_become=100 units, 150 units, 200 units\n" PLAN,
         "case:4:1: stop: 200 units takes 'pen' 2 times, and what the pen in use holds on the day of the call is not "
         "known; take it out of 'may_become' and print a new version when it is ordered [call-needs-pens]\n"},
	{"what the dose may become takes one pen",
         DOSE_BY_PEN "dose: from=1; dose=call after the scan; may_become=100 units, 150 units\n" PLAN, ""},
	{"the item's limit is narrower",
         LIMITED "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5; most=150 mcg\n"
                 "dose: from=1; dose=160 mcg\n" PLAN,
         "case:5:20: stop: 160 mcg is over the most allowed, 150 mcg, for examplin; check the order "
         "[dose-over-limit]\n"},
	{"an order in mL against a limit in mg",
         /* 1 mg in 1 mL: 0.3 mL is 0.3 mg */
         LIMITED ITEM "dose: from=1; dose=0.3 mL\n" PLAN,
         "case:5:20: stop: 0.3 mL is over the most allowed, 250 mcg, for examplin; check the order "
         "[dose-over-limit]\n"},
	{"an order in syringe units within a limit in mg",
         /* 20 syringe units are 0.2 mL, 0.2 mg */
         LIMITED ITEM "dose: from=1; dose=20 syringe units\n" PLAN, ""},
	{"an order in mL from two vials against a limit in mg",
         /* 1 mg from the first vial and 0.5 mg from the second */
         "syringe: id=syringe-3; capacity=3; step=0.1\nmedicine: id=examplin; most=1.2 mg\n"
         "product: id=vial; container=solution-vial; strength=1 mg; volume=1 mL; in_use=28 days; span=yes\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=doses 1\ndose: from=1; dose=1.5 mL\n" PLAN,
         "case:5:20: stop: 1.5 mL is over the most allowed, 1.2 mg, for examplin; check the order [dose-over-limit]\n"},
	{"an order that a limit cannot be compared with",
         SYRINGE "medicine: id=examplin; most=100 units\n" PRODUCT ITEM "dose: from=1; dose=0.5 mg\n" PLAN,
         "case:5:20: stop: 0.5 mg cannot be compared with the limit of examplin, 100 units; state the limit in the "
         "order's unit [limit-unchecked]\n"},
	{"an order that the limit of a day cannot be compared with",
         SYRINGE "medicine: id=examplin; day_most=100 units\n" PRODUCT ITEM "dose: from=1; dose=0.5 mg\n" PLAN,
         "case:5:20: stop: 0.5 mg cannot be compared with the limit of examplin, 100 units; state the limit in the "
         "order's unit [limit-unchecked]\n"},

	{"an order in mg against a limit in tablets",
         /* tablets of 2 mg: 6 mg are 3 tablets */
         "medicine: id=examplin; route=oral; most=2 tablets\nproduct: id=tablets; container=counted; strength=1 "
         "tablet; also_labelled=2 mg\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\ndose: from=1; dose=6 mg\n" PLAN,
         "case:4:20: stop: 6 mg is over the most allowed, 2 tablets, for examplin; check the order "
         "[dose-over-limit]\n"},
	{"an order in tablets within a limit in mg",
         "medicine: id=examplin; route=oral; most=6 mg\nproduct: id=tablets; container=counted; strength=1 tablet; "
         "also_labelled=2 mg\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\ndose: from=1; dose=3 "
         "tablets\n" PLAN,
         ""},
	/* ---- an item's limits ---- */
	{"a range of over 4 times must be narrowed",
         SYRINGE "medicine: id=examplin; least=100 mcg; most=401 mcg\n" PRODUCT ITEM
                 "dose: from=1; dose=200 mcg\n" PLAN,
         "case:4:1: stop: the most of examplin is over 4 times its least, so 'a' needs limits of its own; give it "
         "'limits: {most: ...}' [item-limits-missing]\n"},
	{"a range of exactly 4 times need not",
         SYRINGE "medicine: id=examplin; least=100 mcg; most=0.4 mg\n" PRODUCT ITEM "dose: from=1; dose=200 mcg\n" PLAN,
         ""},
	{"a least in mcg and a most in mL, by what the vial holds",
         /* 1 mg in 1 mL: 250 mcg are 0.25 mL, a quarter of 1 mL */
         SYRINGE "medicine: id=examplin; least=250 mcg; most=1 mL\n" PRODUCT ITEM "dose: from=1; dose=300 mcg\n" PLAN,
         ""},
	{"and over 4 times of it",
         SYRINGE "medicine: id=examplin; least=249 mcg; most=1 mL\n" PRODUCT ITEM "dose: from=1; dose=300 mcg\n" PLAN,
         "case:4:1: stop: the most of examplin is over 4 times its least, so 'a' needs limits of its own; give it "
         "'limits: {most: ...}' [item-limits-missing]\n"},
	{"and less than it",
         SYRINGE "medicine: id=examplin; least=250 mcg; most=0.2 mL\n" PRODUCT ITEM "dose: from=1; dose=250 mcg\n" PLAN,
         "case:2:30: stop: 'least' is 250 mcg, which is 0.25 mL of 'examplin-vial' and more than 'most', 0.2 mL; mend "
         "one [contradiction]\n"
         "case:5:20: stop: 250 mcg is over the most allowed, 0.2 mL, for examplin; check the order "
         "[dose-over-limit]\n"},
	{"a least and a most that no product links",
         SYRINGE "medicine: id=examplin; least=250 mcg; most=100 units\n" PRODUCT ITEM
                 "dose: from=1; dose=0.5 mg\n" PLAN,
         "case:2:30: stop: 'least', 250 mcg, and 'most', 100 units, cannot be compared, as no product of examplin says "
         "what they have to do with each other; state both in one unit [limits-unlike]\n"
         "case:5:20: stop: 0.5 mg cannot be compared with the limit of examplin, 100 units; state the limit in the "
         "order's unit [limit-unchecked]\n"},
	{"a least in mg and a most in tablets",
         /* tablets of 2 mg: 4 mg are 2 of them, and 9 are over 4 times as many */
         "medicine: id=examplin; route=oral; least=4 mg; most=9 tablets\nproduct: id=tablets; container=counted; "
         "strength=1 tablet; also_labelled=2 mg\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\ndose: from=1; dose=6 mg\n" PLAN,
         "case:3:1: stop: the most of examplin is over 4 times its least, so 'a' needs limits of its own; give it "
         "'limits: {most: ...}' [item-limits-missing]\n"},
	{"an item's most over its medicine's",
         LIMITED "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5; most=300 mcg\n"
                 "dose: from=1; dose=200 mcg\n" PLAN,
         "case:4:80: stop: 'a' allows 300 mcg, and examplin allows 250 mcg at most; an item's limits can only be "
         "narrower "
         "[limits-wider]\n"},
	{"an item's least under its medicine's",
         LIMITED "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5; least=100 mcg\n"
                 "dose: from=1; dose=200 mcg\n" PLAN,
         "case:4:81: stop: 'a' allows 100 mcg, and examplin allows 125 mcg at least; an item's limits can only be "
         "narrower "
         "[limits-wider]\n"},

	{"an item's other limits wider than its medicine's",
         SYRINGE "medicine: id=examplin; day_most=1 mg; gap_least=6 h; gap_most=30 h; site_most=1.5 mL\n" PRODUCT
                 "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5; day_most=2 mg; "
                 "gap_least=1 h; gap_most=100 h; site_most=9 mL\n"
                 "dose: from=1; dose=200 mcg\n" PLAN,
         "case:4:84: stop: 'a' allows 2 mg, and examplin allows 1 mg at most; an item's limits can only be narrower "
         "[limits-wider]\n"
         "case:4:100: stop: 'a' allows 1 h, and examplin allows 6 h at least; an item's limits can only be narrower "
         "[limits-wider]\n"
         "case:4:114: stop: 'a' allows 100 h, and examplin allows 30 h at most; an item's limits can only be narrower "
         "[limits-wider]\n"
         "case:4:131: stop: 'a' allows 9 mL, and examplin allows 1.5 mL at most; an item's limits can only be "
         "narrower [limits-wider]\n"},
	{"an item's limits in mL leave its medicine's in mcg in force",
         /* 1 mg in 1 mL: 0.3 mL is 300 mcg */
         LIMITED "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5; least=0.01 mL; most=1 mL\n"
                 "dose: from=1; dose=0.3 mL\ndose: from=3; dose=0.1 mL\n" PLAN,
         "case:5:20: stop: 0.3 mL is over the most allowed, 250 mcg, for examplin; check the order "
         "[dose-over-limit]\n"
         "case:6:20: stop: 0.1 mL is under the least allowed, 125 mcg, for examplin; check the order "
         "[dose-under-limit]\n"},

	/* ---- a day ---- */
	{"a day's doses together",
         SYRINGE "medicine: id=examplin; day_most=0.5 mg\n" PRODUCT
                 "item: id=a; medicine=examplin; at=08:00, 14:00, 20:00; start=on 2026-12-04; end=days 5\n"
                 "dose: from=1; dose=100 mcg\ndose: from=3; dose=200 mcg\n" PLAN,
         "case:6:20: stop: the doses of examplin on 2026-12-06 come to 0.6 mg, and 0.5 mg a day is the most allowed "
         "[day-over-limit]\n"},
	{"a day's doses, the greatest that a call may set",
         /* 0.2 mg at 08:00 and 0.25 mg at 20:00: 0.45 mg */
         SYRINGE "medicine: id=examplin; day_most=0.4 mg\n" PRODUCT
                 "item: id=a; medicine=examplin; at=08:00; start=on 2026-12-04; end=days 2\ndose: from=1; dose=0.2 mg\n"
                 "item: id=b; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 2\n"
                 "dose: from=1; dose=call after the scan; may_become=0.25 mg, 0.1 mg\n" PLAN,
         "case:7:1: stop: the doses of examplin on 2026-12-04 may come to 0.45 mg, and 0.4 mg a day is the most "
         "allowed "
         "[day-over-limit]\n"},
	{"a day's doses, within the most whatever a call sets",
         SYRINGE "medicine: id=examplin; day_most=0.5 mg\n" PRODUCT
                 "item: id=a; medicine=examplin; at=08:00, 20:00; start=on 2026-12-04; end=days 2\n"
                 "dose: from=1; dose=call after the scan; may_become=0.1 mg, 0.25 mg\n" PLAN,
         ""},
	{"a day's doses of two items",
         /* 23:30 of one and 00:30 in the night to the 5th of the other are one treatment day */
         SYRINGE
         "medicine: id=examplin; day_most=1 mg\n" PRODUCT
         "item: id=a; medicine=examplin; at=23:30; start=on 2026-12-04; end=days 1\ndose: from=1; dose=0.6 mg\n"
         "item: id=b; medicine=examplin; at=00:30; start=on 2026-12-04; end=days 1\ndose: from=1; dose=0.5 mg\n" PLAN,
         "case:7:20: stop: the doses of examplin on 2026-12-04 come to 1.1 mg, and 1 mg a day is the most allowed "
         "[day-over-limit]\n"},
	{"a day's doses while the day is not known",
         SYRINGE "medicine: id=examplin; day_most=1 mg\n" PRODUCT
                 "item: id=a; medicine=examplin; at=08:00, 20:00; start=call; end=days 3\n"
                 "dose: from=1; dose=0.5 mg\ndose: from=2; dose=0.6 mg\n" PLAN,
         "case:6:20: stop: the doses of examplin on day 2 come to 1.2 mg, and 1 mg a day is the most allowed "
         "[day-over-limit]\n"},
	{"a day's doses of the second of two medicines",
         MEDICINE "medicine: id=otherin; day_most=1 mg\n"
                  "product: id=other-vial; container=solution-vial; strength=10 mg; volume=10 mL; in_use=28 days\n" ITEM
                  "dose: from=1; dose=0.5 mg\n"
                  "item: id=b; medicine=otherin; at=08:00, 09:00, 10:00; start=on 2026-12-04; end=days 1\n"
                  "dose: from=1; dose=0.4 mg\n" PLAN,
         "case:9:20: stop: the doses of otherin on 2026-12-04 come to 1.2 mg, and 1 mg a day is the most allowed "
         "[day-over-limit]\n"},
	{"an item's own most of a day",
         MEDICINE "item: id=a; medicine=examplin; at=08:00, 20:00; start=on 2026-12-04; end=days 3; day_most=0.9 mg\n"
                  "dose: from=1; dose=0.5 mg\n" PLAN,
         "case:5:20: stop: the doses of examplin on 2026-12-04 come to 1 mg, and 0.9 mg a day is the most allowed "
         "[day-over-limit]\n"},

	/* ---- gaps ---- */
	{"a gap of exactly the most is allowed",
         SYRINGE "medicine: id=examplin; gap_most=24 h; gap_least=24 h\n" PRODUCT ITEM
                 "dose: from=1; dose=0.1 mg\n" PLAN,
         ""},
	{"a gap over the most: a skipped day",
         SYRINGE "medicine: id=examplin; gap_most=30 h\n" PRODUCT ITEM "dose: from=1; dose=0.1 mg\n" PLAN
                 "change: item=a; from=2026-12-06; skip=yes\n",
         "case:5:20: stop: from 2026-12-05 20:00 to 2026-12-07 20:00 are 48 h between doses of examplin, and at most "
         "30 h is "
         "allowed [gap-too-long]\n"},
	{"gaps over the most: every second day",
         /* days 1, 3, 5: two gaps */
         SYRINGE "medicine: id=examplin; gap_most=30 h\n" PRODUCT
                 "item: id=a; medicine=examplin; at=20:00; every=2 days; start=on 2026-12-04; end=days 5\n"
                 "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:5:20: stop: from 2026-12-04 20:00 to 2026-12-06 20:00 are 48 h between doses of examplin, and at most "
         "30 h is "
         "allowed, and 1 more such gap [gap-too-long]\n"},
	{"a gap by the clock across a change of clocks",
         /* on 31 October 2027 clocks go back: 20:00 to 20:00 is 25 h */
         SYRINGE "medicine: id=examplin; gap_most=24 h\n" PRODUCT
                 "item: id=a; medicine=examplin; at=20:00; start=on 2027-10-29; end=days 3\ndose: from=1; dose=0.1 "
                 "mg\nplan: as_of=2027-10-25\n",
         "case:5:20: stop: from 2027-10-30 20:00 to 2027-10-31 20:00 are 25 h between doses of examplin, and at most "
         "24 h is "
         "allowed [gap-too-long]\n"},
	{"a gap under the least, between two items",
         SYRINGE
         "medicine: id=examplin; gap_least=6 h\n" PRODUCT
         "item: id=a; medicine=examplin; at=08:00; start=on 2026-12-04; end=days 1\ndose: from=1; dose=0.1 mg\n"
         "item: id=b; medicine=examplin; at=13:59; start=on 2026-12-04; end=days 1\ndose: from=1; dose=0.1 mg\n" PLAN,
         "case:7:20: stop: from 2026-12-04 08:00 to 2026-12-04 13:59 are 5 h 59 min between doses of examplin, and at "
         "least 6 "
         "h is allowed [gap-too-short]\n"},
	{"an item's own gaps while the day is not known",
         MEDICINE "item: id=a; medicine=examplin; at=20:00; every=2 days; start=call; end=days 3; gap_most=30 h\n"
                  "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:5:20: stop: from day 1 20:00 to day 3 20:00 are 48 h between doses of examplin, and at most 30 h is "
         "allowed "
         "[gap-too-long]\n"},
	{"no gap is known between doses without a time, nor from dated ones to open ones",
         SYRINGE
         "medicine: id=examplin; gap_least=30 h; gap_most=1 h\n" PRODUCT
         "item: id=a; medicine=examplin; as_needed=2; start=on 2026-12-04; end=days 1\ndose: from=1; dose=0.1 mg\n"
         "item: id=b; medicine=examplin; at=20:00; start=on 2026-12-04; end=doses 1\ndose: from=1; dose=0.1 mg\n"
         "item: id=c; medicine=examplin; at=20:00; start=call; end=doses 1\ndose: from=1; dose=0.1 mg\n" PLAN,
         ""},
	{"a gap that is past",
         SYRINGE "medicine: id=examplin; gap_most=30 h\n" PRODUCT ITEM "dose: from=1; dose=0.1 mg\n"
                 "plan: as_of=2026-12-08\nchange: item=a; from=2026-12-06; skip=yes\n",
         ""},
	{"the last dose too long before an event",
         /* 20:00 on the 13th to 21:31 on the 14th */
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=trigger day 0; gap_to=trigger; "
                  "gap_to_most=25.5 h\n"
                  "dose: from=1; dose=0.1 mg\n" PLAN "date: trigger=2026-12-14 21:31\n",
         "case:6:20: stop: from the last dose of examplin, 2026-12-13 20:00, to 'trigger' are 25 h 31 min, and at most "
         "25.5 h "
         "is allowed [gap-to-event]\n"},
	{"the last dose exactly as long before an event as it may be",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=trigger day 0; gap_to=trigger; "
                  "gap_to_most=25.5 h\n"
                  "dose: from=1; dose=0.1 mg\n" PLAN "date: trigger=2026-12-14 21:30\n",
         ""},
	{"the last dose too short before an event",
         MEDICINE
         "event: id=test; own_day=0; exact=yes\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=days 2; gap_to=test; gap_to_least=12 h\n"
         "dose: from=1; dose=0.1 mg\n" PLAN "date: test=2026-12-14 07:00\n",
         "case:6:20: stop: from the last dose of examplin, 2026-12-13 20:00, to 'test' are 11 h, and at least 12 h is "
         "allowed "
         "[gap-to-event]\n"},
	{"the last dose exactly as long before an event as it must be",
         MEDICINE
         "event: id=test; own_day=0; exact=yes\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=days 2; gap_to=test; gap_to_least=12 h\n"
         "dose: from=1; dose=0.1 mg\n" PLAN "date: test=2026-12-14 08:00\n",
         ""},
	{"no dose before the event",
         MEDICINE
         "event: id=test; own_day=0; exact=yes\n"
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=days 2; gap_to=test; gap_to_most=30 h\n"
         "dose: from=1; dose=0.1 mg\n" PLAN "date: test=2026-12-11 07:00\n",
         "case:5:1: stop: no dose of examplin comes before 'test', and its last one must; check the dates "
         "[gap-to-event]\n"},

	/* ---- a window: so long before or after the time is on time still ---- */
	{"a window that every limit leaves room for",
         /* 24 h, and 2 h less or more */
         SYRINGE "medicine: id=examplin; gap_least=22 h; gap_most=26 h\n" PRODUCT WINDOWED(
		 "1 h") "dose: from=1; dose=0.1 mg\n" PLAN,
         ""},
	{"a window that lets two doses come too near",
         SYRINGE "medicine: id=examplin; gap_least=22.5 h\n" PRODUCT WINDOWED("1 h") "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:4:82: stop: 'a' may be 1 h early or late, so the doses of examplin at 2026-12-04 20:00 and 2026-12-05 "
         "20:00 may be 22 h apart, and at least 22.5 h is allowed; narrow its 'window' [window-too-wide]\n"},
	{"a window that lets two doses come too far apart",
         SYRINGE "medicine: id=examplin; gap_most=30 h\n" PRODUCT WINDOWED("3.5 h") "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:4:82: stop: 'a' may be 3 h 30 min early or late, so the doses of examplin at 2026-12-04 20:00 and "
         "2026-12-05 20:00 may be 31 h apart, and at most 30 h is allowed; narrow its 'window' [window-too-wide]\n"},
	{"windows that meet", MEDICINE WINDOWED("12 h") "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:4:82: stop: 'a' may be 12 h early or late, so the doses of examplin at 2026-12-04 20:00 and 2026-12-05 "
         "20:00 may be given together; narrow its 'window' [window-too-wide]\n"},
	{"windows of an open item that meet",
         MEDICINE "item: id=a; medicine=examplin; at=08:00, 20:00; start=call; end=days 2; window=6 h\n"
                  "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:4:80: stop: 'a' may be 6 h early or late, so the doses of examplin at day 1 08:00 and day 1 20:00 may "
         "be "
         "given together; narrow its 'window' [window-too-wide]\n"},
	{"a gap that is too long as planned is no fault of the window",
         SYRINGE "medicine: id=examplin; gap_most=20 h\n" PRODUCT WINDOWED("1 h") "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:5:20: stop: from 2026-12-04 20:00 to 2026-12-05 20:00 are 24 h between doses of examplin, and at most "
         "20 h is allowed, and 3 more such gaps [gap-too-long]\n"},
	{"a window that reaches the doses of another item",
         /* 20:00 to 08:00: 12 h, and an hour less by the window of the first alone */
         SYRINGE "medicine: id=examplin; gap_least=12 h\n" PRODUCT WINDOWED(
		 "1 h") "dose: from=1; dose=0.1 mg\n"
                        "item: id=b; medicine=examplin; at=08:00; start=on 2026-12-09; end=days 1\n"
                        "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:4:82: stop: 'a' may be 1 h early or late, so the doses of examplin at 2026-12-08 20:00 and 2026-12-09 "
         "08:00 may be 11 h apart, and at least 12 h is allowed; narrow its 'window' [window-too-wide]\n"},
	{"a window that outlasts the keeping of a shared vial",
         /* kept 25 h, used after 24: the window makes it 26 */
         SYRINGE "medicine: id=examplin; least=125 mcg; most=250 mcg\n" SHARED_KIT WINDOWED(
		 "1 h") "dose: from=1; dose=125 mcg; split=yes\n" PLAN,
         "case:5:20: note: the rest of the 'examplin-kit' opened for the last split dose of examplin has no second "
         "dose; it is "
         "thrown away [rest-thrown-away]\n"
         "case:4:82: stop: 'a' may be 1 h early or late, so the doses of examplin at 2026-12-04 20:00 and 2026-12-05 "
         "20:00 may be 26 h apart, and what they share keeps for 25 h; narrow its 'window' [window-too-wide]\n"},
	{"a window that stretches the time to an event",
         /* 20:00 on the 13th to 21:30 on the 14th are 25.5 h */
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-12; end=trigger day 0; gap_to=trigger; "
                  "gap_to_most=26 h; window=1 h\n"
                  "dose: from=1; dose=0.1 mg\n" PLAN "date: trigger=2026-12-14 21:30\n",
         "case:5:123: stop: 'a' may be 1 h early or late, so its last dose may be 26 h 30 min before 'trigger', and at "
         "most 26 h is allowed; narrow its 'window' [window-too-wide]\n"},
	{"a window at an exact time",
         MEDICINE "event: id=trigger; own_day=1; exact=yes\n"
                  "item: id=a; medicine=examplin; start=trigger; end=doses 1; window=1 h\n"
                  "dose: from=1; dose=0.1 mg\n" PLAN "date: trigger=2026-12-14 21:30\n",
         "case:5:67: stop: 'a' is given at an exact time, and its window would allow another; leave out 'window' "
         "[window-without-time]\n"},
	{"a window without a time",
         MEDICINE "item: id=a; medicine=examplin; start=on 2026-12-12; end=doses 2; window=1 h\n"
                  "dose: from=1; dose=0.1 mg\n" PLAN,
         "case:4:1: caution: 'a' has no time of day; give it 'at' [no-time-of-day]\n"
         "case:4:73: stop: 'a' has a window and no clock time that it is around; give it 'at', or leave out 'window' "
         "[window-without-time]\n"},

	{"two items of a medicine at one moment",
         LIMITED ITEM "dose: from=1; dose=125 mcg\n"
                      "item: id=b; medicine=examplin; at=20:00; start=on 2026-12-05; end=days 1\n"
                      "dose: from=1; dose=125 mcg\n" PLAN,
         "case:7:20: caution: 'a' and 'b' both give examplin at 2026-12-05 20:00; delete one if it is the same order "
         "[given-twice]\n"},
	{"two items of a medicine at one moment, and another medicine's between them",
         LIMITED "medicine: id=other; least=125 mcg; most=250 mcg\n"
                 "product: id=other-vial; container=solution-vial; strength=10 mg; volume=10 mL; in_use=28 days\n" ITEM
                 "dose: from=1; dose=125 mcg\n"
                 "item: id=o; medicine=other; at=20:00; start=on 2026-12-05; end=days 1\ndose: from=1; dose=125 mcg\n"
                 "item: id=b; medicine=examplin; at=20:00; start=on 2026-12-05; end=days 1\n"
                 "dose: from=1; dose=125 mcg\n" PLAN,
         "case:11:20: caution: 'a' and 'b' both give examplin at 2026-12-05 20:00; delete one if it is the same order "
         "[given-twice]\n"},

	/* ---- one place ---- */
	{"too much for one place",
         SYRINGE "medicine: id=examplin; site_most=0.5 mL\n" PRODUCT ITEM "dose: from=1; dose=0.6 mg\n" PLAN,
         "case:5:20: stop: 0.6 mg of examplin is 0.6 mL in one place, and 0.5 mL is the most allowed there; order it "
         "as two "
         "doses [site-volume]\n"},
	{"just enough for one place",
         SYRINGE "medicine: id=examplin; site_most=0.5 mL\n" PRODUCT ITEM "dose: from=1; dose=0.5 mg\n" PLAN, ""},

	/* ---- products ---- */
	{"an allergy to what the product contains",
         SYRINGE
         "medicine: id=examplin\nproduct: id=examplin-vial; container=solution-vial; strength=10 mg; volume=10 mL; "
         "in_use=28 days; contains=soya, latex\n" ITEM "dose: from=1; dose=0.5 mg\n" PLAN
         "patient: allergies=nuts, Latex\n",
         "case:7:20: stop: 'examplin-vial' contains latex, and the patient is allergic to it; choose another product "
         "[allergy]\n"},
	{"an allergy told in more words than one",
         SYRINGE
         "medicine: id=examplin\nproduct: id=examplin-vial; container=solution-vial; strength=10 mg; volume=10 mL; "
         "in_use=28 days; contains=soya, latex\n" ITEM "dose: from=1; dose=0.5 mg\n" PLAN
         "patient: allergies=rash after LATEX (gloves)\n",
         "case:7:20: stop: 'examplin-vial' contains latex, and the patient is allergic to it; choose another product "
         "[allergy]\n"},
	{"an allergy to something that only begins or ends alike",
         SYRINGE
         "medicine: id=examplin\nproduct: id=examplin-vial; container=solution-vial; strength=10 mg; volume=10 mL; "
         "in_use=28 days; contains=oil\n" ITEM "dose: from=1; dose=0.5 mg\n" PLAN
         "patient: allergies=oilcloth, foil, oil\u00e9\n",
         ""},
	{"an allergy to the medicine", MEDICINE ITEM "dose: from=1; dose=0.5 mg\n" PLAN "patient: allergies=Examplin\n",
         "case:7:20: stop: the patient is allergic to examplin, and the protocol gives it [allergy]\n"},
	{"another allergy", MEDICINE ITEM "dose: from=1; dose=0.5 mg\n" PLAN "patient: allergies=nuts\n", ""},
	{"nobody asked about allergies", MEDICINE ITEM "dose: from=1; dose=0.5 mg\n" PLAN "patient: record=1\n",
         "case:7:1: caution: nothing is said about allergies; ask, and write 'allergies: [none]' where there are none "
         "[allergies-missing]\n"},
	{"two products of one medicine at home",
         MEDICINE
         "product: id=examplin-small; container=solution-vial; strength=5 mg; volume=5 mL; in_use=28 days\n" ITEM
         "dose: from=1; dose=0.5 mg\n" PLAN "dispensed: product=examplin-vial; count=1; expires=2027-06-30\ndispensed: "
         "product=examplin-small; count=1; expires=2027-06-30\n"
         "dispensed: product=examplin-vial; count=2; expires=2027-06-30\n",
         "case:9:1: caution: the patient has two products of examplin at home, 'examplin-vial' and 'examplin-small'; "
         "say which "
         "to use first [two-products]\n"},
	{"products of two medicines at home",
         MEDICINE
         "medicine: id=otherin\nproduct: id=other-vial; container=solution-vial; strength=10 mg; volume=10 mL\n" ITEM
         "dose: from=1; dose=0.5 mg\n" PLAN "dispensed: product=examplin-vial; count=1; expires=2027-06-30\ndispensed: "
         "product=other-vial; count=1; expires=2027-06-30\n",
         ""},
	{"a change to a product that is approved to stand in",
         MEDICINE
         "product: id=examplin-other; container=solution-vial; strength=10 mg; volume=10 mL; "
         "stands_in_for=examplin-vial\nitem: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3; "
         "products=examplin-vial\ndose: from=1; dose=0.5 mg\n" PLAN
         "change: item=a; from=2026-12-06; product=examplin-other\n",
         ""},
	{"a change to a product that nobody approved",
         MEDICINE "product: id=examplin-other; container=solution-vial; strength=10 mg; volume=10 mL\n"
                  "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 3; products=examplin-vial\n"
                  "dose: from=1; dose=0.5 mg\n" PLAN "change: item=a; from=2026-12-06; product=examplin-other\n",
         "case:8:1: stop: 'examplin-other' is not among the products of 'a', and is not approved to stand in for one; "
         "choose another, or have it approved with 'stands_in_for' [stand-in-not-approved]\n"},
	{"a change to a product of another medicine",
         MEDICINE
         "medicine: id=otherin\nproduct: id=other-vial; container=solution-vial; strength=10 mg; volume=10 mL\n" ITEM
         "dose: from=1; dose=0.5 mg\n" PLAN "change: item=a; from=2026-12-06; product=other-vial\n",
         "case:9:1: stop: 'other-vial' is a product of another medicine than examplin, which 'a' gives, and cannot "
         "stand in for it; stop the item and order the other medicine [stand-in-not-approved]\n"},
	{"a product of another medicine that says it stands in",
         MEDICINE
         "medicine: id=otherin\nproduct: id=other-vial; container=solution-vial; strength=10 mg; volume=10 mL; "
         "stands_in_for=examplin-vial\n" ITEM "dose: from=1; dose=0.5 mg\n" PLAN
         "change: item=a; from=2026-12-06; product=other-vial\n",
         "case:9:1: stop: 'other-vial' is a product of another medicine than examplin, which 'a' gives, and cannot "
         "stand in for it; stop the item and order the other medicine [stand-in-not-approved]\n"},

	/* ---- the plan as a whole ---- */
	{"a version that does not rise",
         MEDICINE ITEM "dose: from=1; dose=0.5 mg\nplan: as_of=2026-12-01; version=1; replaces=old\n",
         "case:6:33: stop: version 1 replaces an earlier sheet, and must be above that one's, 1; give the next number "
         "[version-not-above]\n"},
	{"good until a day that is past",
         MEDICINE ITEM "dose: from=1; dose=0.5 mg\nplan: as_of=2026-12-02; good_until=2026-12-01\n",
         "case:6:36: stop: the sheet would be good until 2026-12-01, before 2026-12-02, the day it speaks from; give a "
         "later "
         "'good_until' [good-until-past]\n"},
	{"good until the day it speaks from",
         MEDICINE ITEM "dose: from=1; dose=0.5 mg\nplan: as_of=2026-12-02; good_until=2026-12-02\n", ""},
	{"of what was refused already, it is not said that nothing is left",
         LIMITED "event: id=shot; own_day=1; exact=yes\nitem: id=a; medicine=examplin; start=shot; end=doses 1\n"
                 "dose: from=1; dose=125 mcg\n" PLAN "date: shot=2026-12-04 00:00\n",
         "case:8:12: stop: 12:00 at night of 'shot' can be the night before or after 2026-12-04; write 23:59 or 00:01 "
         "of "
         "the day meant [midnight-ambiguous]\n"},
	{"every dose is past", MEDICINE ITEM "dose: from=1; dose=0.5 mg\nplan: as_of=2026-12-09\n",
         "case:6:13: stop: every dose of this plan is before 2026-12-09; there is nothing left to print "
         "[nothing-to-print]\n"},
	{"no dose at all",
         MEDICINE ITEM "dose: from=1; dose=0.5 mg\n" PLAN "change: item=a; from=2026-12-04; stop=yes\n",
         "case:1:1: stop: this plan has no dose at all; check its protocol and changes [nothing-to-print]\n"},

	{"a vial that is opened after the plan's day",
         LIMITED ITEM "dose: from=1; dose=200 mcg\n" PLAN
                      "dispensed: product=examplin-vial; count=1; opened=2026-12-02\n",
         "case:7:51: stop: 'examplin-vial' is opened on 2026-12-02, after 2026-12-01, the day this plan speaks from; "
         "correct the day [opened-later]\n"},
	{"a vial that is opened on the plan's day",
         LIMITED ITEM "dose: from=1; dose=200 mcg\n" PLAN
                      "dispensed: product=examplin-vial; count=1; opened=2026-12-01\n",
         ""},
	{"a start by date, a year off",
         /* from 1 December 2026 to 4 December 2027: 365 + 3 */
         LIMITED "item: id=a; medicine=examplin; at=20:00; start=first(on 2027-12-04, call); end=days 5\n"
                 "dose: from=1; dose=200 mcg\n" PLAN,
         "case:4:48: caution: 'a' on 2027-12-04 is 368 days after 2026-12-01, the day this plan speaks from; check "
         "both "
         "years [date-far-off]\n"},
	{"days in another century",
         LIMITED ITEM "dose: from=1; dose=200 mcg\n"
                      "item: id=b; medicine=examplin; at=20:00; start=on 2062-12-04; end=days 5\n"
                      "dose: from=1; dose=200 mcg\n" PLAN,
         "case:6:48: caution: 'b' on 2062-12-04 is 13152 days after 2026-12-01, the day this plan speaks from; check "
         "both "
         "years [date-far-off]\n"
         "case:8:13: stop: the days of this plan run from 2026-12-04 to 2062-12-08, more than 1100 days from "
         "2026-12-01, "
         "the day it speaks from; check the years [days-too-far]\n"},
	/* ---- words ---- */
	{"words that lack the sheet's language",
         "clinic: name=Lindenquay Clinic\nsyringe: id=syringe-1; capacity=1; step=0.01; name=es:jeringa\n"
         "medicine: id=examplin; purpose=keeps calm; missed=es:llame\n"
         "product: id=examplin-vial; container=solution-vial; strength=10 mg; volume=10 mL; in_use=28 days; "
         "storage=cold\n"
         "event: id=begin; own_day=1; label=First day\n"
         "item: id=a; medicine=examplin; at=20:00; start=first(begin day 6, call soon); end=days 2\n"
         "dose: from=1; dose=0.5 mg\nvisit: event=begin; day=3; label=Scan\n"
         "plan: as_of=2026-12-01; language=es\ndate: begin=2026-12-04\n"
         "change: item=a; from=2026-12-10; dose=0.4 mg; because=after the scan\n",
         "case:1:14: stop: the name of 'clinic' has no words in 'es'; add them, or ask for another language "
         "[text-missing]\n"
         "case:5:35: stop: the label of 'begin' has no words in 'es'; add them, or ask for another language "
         "[text-missing]\n"
         "case:3:32: stop: the purpose of 'examplin' has no words in 'es'; add them, or ask for another language "
         "[text-missing]\n"
         "case:6:48: stop: the call of 'a' has no words in 'es'; add them, or ask for another language [text-missing]\n"
         "case:8:34: stop: the label of a visit of 'begin' has no words in 'es'; add them, or ask for another language "
         "[text-missing]\n"
         "case:11:55: stop: the reason of a change of 'a' has no words in 'es'; add them, or ask for another language "
         "[text-missing]\n"
         "case:4:107: stop: the storage of 'examplin-vial' has no words in 'es'; add them, or ask for another language "
         "[text-missing]\n"},
};

/* Findings of drawing and supply have tests of their own: a syringe too small for a dose out of all limits is one. */
static const char *const of_other_modules[] = {"no-syringe-holds", "no-container", "stock-short", "coarse-line"};

static bool is_of_this_module(const struct finding *finding)
{
	for (size_t i = 0; i < sizeof of_other_modules / sizeof of_other_modules[0]; i++)
		if (strcmp(finding->code, of_other_modules[i]) == 0)
			return false;
	return true;
}

static struct findings findings_of(struct arena *arena, const char *script)
{
	struct findings all = findings_in(arena);
	struct findings own = findings_in(arena);
	assert_non_null(course_of(arena, script_plan(arena, script), &all));
	for (size_t i = 0; i < all.n; i++)
		if (is_of_this_module(&all.list[i]))
			findings_add(&own, all.list[i].level, all.list[i].code, all.list[i].place, "%s",
			             all.list[i].says);
	return own;
}

static void finds(void **state)
{
	struct test_case *one = case_of(state);
	const struct row *row = one->row;
	struct findings findings = findings_of(one->arena, row->script);
	assert_string_equal(findings_text(one->arena, &findings), row->findings);
}

/* ---- guards that a record leaves out ---- */

#define BARE SYRINGE "medicine: id=examplin\n" PRODUCT
#define NEEDLED SYRINGE "medicine: id=examplin\n" VIAL "; giving=27 13 mm\n"
#define VIAL "product: id=examplin-vial; container=solution-vial; strength=10 mg; volume=10 mL; in_use=28 days"
#define POWDER                                                                                           \
	SYRINGE "medicine: id=examplin; least=1 mg; most=2 mg\nproduct: id=kit; container=powder-vial; " \
		"strength=2 mg; liquid=1 mL; liquid_as=syringe; syringe=syringe-1; giving=27 13 mm"
#define HALF_MG "dose: from=1; dose=0.5 mg\n" PLAN
#define ONE_MG "dose: from=1; dose=1 mg\n" PLAN
#define NEEDLE_SAID                                                                                             \
	"case:3:1: caution: 'examplin-vial' is injected with 'syringe-1', which has no needle of its own, and " \
	"none is stated; add 'needles: {giving: ...}' [needle-missing]\n"
#define LIMIT_SAID(lacks)                                                                                            \
	"case:2:1: caution: examplin has no " lacks ", and a limit is the only guard against a dose ten times off; " \
	"add " lacks " to its 'limits' [limits-missing]\n"

static const struct row guard_rows[] = {
	{"no limits and no needle", BARE ITEM HALF_MG, LIMIT_SAID("'least' and 'most'") NEEDLE_SAID},
	{"no limits", NEEDLED ITEM HALF_MG, LIMIT_SAID("'least' and 'most'")},
	{"no least", SYRINGE "medicine: id=examplin; most=1 mg\n" VIAL "; giving=27 13 mm\n" ITEM HALF_MG,
         LIMIT_SAID("'least'")},
	{"no most", SYRINGE "medicine: id=examplin; least=0.1 mg\n" VIAL "; giving=27 13 mm\n" ITEM HALF_MG,
         LIMIT_SAID("'most'")},
	{"the item's own limits will do",
         NEEDLED
         "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5; least=0.1 mg; most=1 mg\n" HALF_MG,
         ""},
	{"two items of a medicine, said once",
         NEEDLED ITEM "dose: from=1; dose=0.5 mg\nitem: id=b; medicine=examplin; at=08:00; start=on 2026-12-04; "
                      "end=days 5\n" HALF_MG,
         LIMIT_SAID("'least' and 'most'")},
	{"of two items one has limits of its own",
         NEEDLED "item: id=a; medicine=examplin; at=20:00; start=on 2026-12-04; end=days 5; least=0.1 mg; most=1 mg\n"
                 "dose: from=1; dose=0.5 mg\n"
                 "item: id=b; medicine=examplin; at=08:00; start=on 2026-12-04; end=days 5\n" HALF_MG,
         LIMIT_SAID("'least' and 'most'")},
	{"a fixed needle",
         "syringe: id=syringe-1; capacity=1; step=0.0025; fixed=yes\n"
         "medicine: id=examplin; least=0.1 mg; most=1 mg\n" VIAL "; syringe=syringe-1\n" ITEM HALF_MG,
         ""},
	{"what is swallowed needs no needle",
         SYRINGE "medicine: id=examplin; route=oral; least=0.1 mg; most=1 mg\n" VIAL
                 "; technique=oral-liquid\n" ITEM HALF_MG,
         ""},
	{"half a powder of unknown volume", POWDER "\n" ITEM ONE_MG,
         "case:3:1: caution: the powder of 'kit' is taken to add nothing to the liquid; copy the label's "
         "concentration once mixed, or its 'displacement' [displacement-missing]\n"},
	{"of a whole powder nothing hangs on it", POWDER "\n" ITEM "dose: from=1; dose=2 mg\n" PLAN, ""},
	{"a powder that adds nothing, as stated", POWDER "; displacement=0 mL\n" ITEM ONE_MG, ""},
	{"the label's figure once mixed", POWDER "; concentration=2 mg/mL\n" ITEM ONE_MG, ""},
};

static void finds_guards(void **state)
{
	struct test_case *one = case_of(state);
	const struct row *row = one->row;
	struct findings findings = findings_of(one->arena, row->script);
	assert_string_equal(guards_left_out_text(one->arena, &findings), row->findings);
}

/* ---- longest gaps that others worked out ---- */

/*
 * "doses at 2026-06-05 08:00 and 2026-06-06 14:01 Europe/London; limit 30 h (not more than)" must be found
 * "30.02 h; too long": the hours to two decimals, and the verdict.
 */
static void judges_gap(void **state)
{
	struct test_case *one = case_of(state);
	struct arena *arena = one->arena;
	const struct published_table *table = published_read(arena, "worked.csv");
	size_t row = (size_t)published_find(table, "id", one->row);
	char from[11];
	char from_time[6];
	char to[11];
	char to_time[6];
	char zone[40];
	int limit;
	struct civil_date first;
	struct civil_date second;
	assert_int_equal(sscanf(published_value(table, row, "given"),
	                        "doses at %10s %5s and %10s %5s %39[^;]; limit %d h", from, from_time, to, to_time,
	                        zone, &limit),
	                 6);
	assert_true(date_read(from, &first) && date_read(to, &second));
	long long days = (long long)date_difference(second, first);
	/* A day that begins at 00:00 makes treatment days calendar days. */
	const char *script = arena_printf(
		arena,
		"clinic: day_begins=00:00\nsyringe: id=syringe-1; capacity=1; step=0.01\n"
		"medicine: id=examplin; gap_most=%d h; least=0.1 mg; most=0.2 mg\n" VIAL "; giving=27 13 mm\n"
		"item: id=a; medicine=examplin; at=%s; every=%lld days; start=on %s; end=doses 2\n"
		"dose: from=1; dose=0.1 mg\ndose: from=%lld; dose=0.1 mg; at=%s\nplan: as_of=%s; zone=%s\n",
		limit, from_time, days, from, days + 1, to_time, from, zone);
	struct findings findings = findings_in(arena);
	const struct course *course = course_of(arena, script_plan(arena, script), &findings);
	assert_non_null(course);
	assert_int_equal(course->n_doses, 2);
	long long seconds = (long long)(course->doses[1].when - course->doses[0].when);
	long long hundredths = (seconds * 100 + 1800) / 3600;
	bool too_long = false;
	for (size_t i = 0; i < findings.n; i++) {
		bool clock_warning = strcmp(findings.list[i].code, "time-twice") == 0;
		assert_true(clock_warning || strcmp(findings.list[i].code, "gap-too-long") == 0);
		too_long = too_long || !clock_warning;
	}
	const char *found = arena_printf(arena, "%lld.%02lld h; %s", hundredths / 100, hundredths % 100,
	                                 too_long ? "too long" : "within limit");
	assert_string_equal(found, published_value(table, row, "expected"));
}

static void add_published(struct arena *arena, struct tests *tests)
{
	const struct published_table *table = published_read(arena, "worked.csv");
	size_t added = 0;
	for (size_t i = 0; i < table->n_rows; i++) {
		if (strcmp(published_value(table, i, "kind"), "max interval") != 0)
			continue;
		const char *id = published_value(table, i, "id");
		tests_add(tests,
		          arena_printf(arena, "longest gap %s, source %s", id, published_value(table, i, "source_id")),
		          judges_gap, id);
		added++;
	}
	assert_true(added >= 4); /* the rows that the table held when it was collected */
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof guard_rows / sizeof guard_rows[0]; i++)
		tests_add(&tests, guard_rows[i].name, finds_guards, &guard_rows[i]);
	struct arena *arena = arena_new();
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		tests_add(&tests, rows[i].name, finds, &rows[i]);
	add_published(arena, &tests);
	int failed = tests_run(&tests, "check");
	arena_free(arena);
	return failed;
}
