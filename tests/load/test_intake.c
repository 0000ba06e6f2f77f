/*
 * An export by its map: what a spreadsheet writes is read as it was meant, and what is doubtful is refused where it stands.
 */
#include "load/intake.h"

#include "load/intake_tree.h"
#include "support/clinic_files.h"

#include <glib.h>
#include <string.h>

/* Amounts in units on an insulin syringe; an exact event held against a procedure. */
#define UNIT_SYRINGE                                                                       \
	"syringes:\n"                                                                      \
	"  - {id: u1, name: {en: insulin}, capacity: 1 mL, step: 1, numbered_every: 10,\n" \
	"     scale: {units_per_mL: 100, name: {en: insulin syringe}}, scale_length: 57 mm, barrel: 6.5 mm}\n"
#define MORE_FORMULARY                                     \
	"  - id: mockuline\n"                              \
	"    name: Mockuline\n"                            \
	"    route: subcutaneous\n"                        \
	"    limits: {least: 50 units, most: 200 units}\n" \
	"    products:\n"                                  \
	"      - {id: mockuline-vial, container: solution-vial, strength: 1000 units/mL, volume: 3 mL, syringe: u1}\n"
#define TIMED                                                                                                          \
	"protocol: timed\n"                                                                                            \
	"title: {en: Timed}\n"                                                                                         \
	"events:\n"                                                                                                    \
	"  - {id: go, label: {en: Go}, own_day: 1}\n"                                                                  \
	"  - {id: taking, label: {en: Taking}, own_day: 0, exact: yes, time_is: procedure}\n"                          \
	"  - {id: shot, label: {en: Shot}, own_day: 1, exact: yes, check: {before: taking, by: 36 h, give_or_take: 1 " \
	"h}}\n"                                                                                                        \
	"items:\n"                                                                                                     \
	"  - id: one\n"                                                                                                \
	"    medicine: examplin\n"                                                                                     \
	"    at: [evening]\n"                                                                                          \
	"    start: {event: go, day: 1}\n"                                                                             \
	"    doses: [{from: 1, dose: plan}]\n"                                                                         \
	"  - id: two\n"                                                                                                \
	"    medicine: mockuline\n"                                                                                    \
	"    at: [morning]\n"                                                                                          \
	"    start: {event: go, day: 1}\n"                                                                             \
	"    doses: [{from: 1, dose: plan}]\n"

#define HEAD "intake: csv\nrows: patient\nprocedure_time: procedure\n"
#define USUAL "  R: patient.record\n  N: patient.name\n"
#define CONSTANTS "constants: {language: en, protocol: timed}\n"
/* A map of record, name and the columns that a row adds. */
#define MAP(columns) HEAD "columns:\n" USUAL columns CONSTANTS
#define LINES(columns)                                                               \
	"intake: csv\nrows: order-line\nprocedure_time: procedure\ncolumns:\n" USUAL \
	"  I: line.item\n  D: line.dose\n" columns CONSTANTS

/* A text with zeros in it, and how long it is. */
#define BYTES(text) text, sizeof text - 1

struct row {
	const char *name;
	const char *map;
	const char *bytes;
	size_t length; /* 0: up to the zero */
	const char *said[4];
};

static const struct row rows[] = {
	/* --- what spreadsheets write --- */
	{"plain",
         MAP("  G: events.go\n"),
         "R,N,G\nP-1,Ann Other,2026-12-04\n",
         0,
         {"P-1 [2]\nas_of: \"2026-12-03\"\npatient: {record: \"P-1\", name: \"Ann Other\"}\n",
          "events: {go: \"2026-12-04\"}\n"}},
	{"a byte order mark is no part of the heading", MAP(""), "\xef\xbb\xbfR,N\nP-1,A\n", 0, {"P-1 [2]\n"}},
	{"carriage returns, blank lines and a last line without an end",
         MAP(""),
         "R,N\r\n\r\nP-1,A\r\nP-2,B",
         0,
         {"P-1 [3]\n", "P-2 [4]\n"}},
	{"lines that end with a carriage return alone", MAP(""), "R,N\rP-1,A\rP-2,B\r", 0, {"P-1 [2]\n", "P-2 [3]\n"}},
	{"a line break and a doubled quote in quotes",
         MAP(""),
         "R,N\nP-1,\"A \"\"Bee\"\"\nC\"\nP-2,B\n",
         0,
         {"name: \"A \\\"Bee\\\"\\nC\"", "P-2 [3]\n"}},
	{"semicolons and a decimal comma",
         HEAD "delimiter: \";\"\ndecimal: comma\ncolumns:\n" USUAL "  D: doses.one\n" CONSTANTS,
         "R;N;D\nP-1;A;187,5 mcg\n",
         0,
         {"doses: {one: [{from: \"1\", dose: \"187.5 mcg\"}]}"}},
	{"tabs", HEAD "delimiter: tab\ncolumns:\n" USUAL CONSTANTS, "R\tN\nP-1\tA B\n", 0, {"name: \"A B\""}},
	{"bars", HEAD "delimiter: \"|\"\ncolumns:\n" USUAL CONSTANTS, "R|N\nP-1|A B\n", 0, {"name: \"A B\""}},
	{"UTF-16, little end first",
         HEAD "encoding: utf-16\ncolumns:\n" USUAL CONSTANTS,
         BYTES("\xff\xfeR\0,\0N\0\n\0P\0,\0\xe9\0\n\0"),
         {"P [2]\n", "name: \"\u00e9\""}},
	{"UTF-16, big end first, beyond its first plane",
         HEAD "encoding: utf-16\ncolumns:\n" USUAL CONSTANTS,
         BYTES("\xfe\xff\0R\0,\0N\0\n\0P\0,\xd8\x35\xdc\x00\0\n"),
         {"name: \"\U0001d400\""}},
	{"UTF-16 without a byte order mark, as its heading tells the order",
         HEAD "encoding: utf-16\ncolumns:\n" USUAL CONSTANTS,
         BYTES("R\0,\0N\0\n\0P\0,\0\xe9\0\n\0"),
         {"P [2]\n", "name: \"\u00e9\""}},
	{"and the other way round",
         HEAD "encoding: utf-16\ncolumns:\n" USUAL CONSTANTS,
         BYTES("\0R\0,\0N\0\n\0P\0,\0\xe9\0\n"),
         {"P [2]\n", "name: \"\u00e9\""}},
	{"Windows-1252",
         HEAD "encoding: windows-1252\ncolumns:\n" USUAL CONSTANTS,
         "R,N\nP-1,Zo\xeb \x8aimko\n",
         0,
         {"name: \"Zo\u00eb \u0160imko\""}},
	{"spaces around, also those that do not break",
         MAP(""),
         "R , N\n P-1 ,\" A B\u00a0\"\n",
         0,
         {"P-1 [2]\nas_of: \"2026-12-03\"\npatient: {record: \"P-1\", name: \"A B\"}\n"}},
	{"empty columns at the end, and rows of nothing",
         MAP(""),
         "R,N,,\nP-1,A,,\nP-2,B,,,,\n,,,\n",
         0,
         {"P-1 [2]\n", "P-2 [3]\n"}},
	{"what the map ignores may look like anything",
         HEAD "columns:\n" USUAL "ignore: [Seen]\n" CONSTANTS,
         "R,N,Seen\nP-1,A,2026-12-01\n",
         0,
         {"P-1 [2]\n"}},
	{"their codes become ours",
         HEAD "columns:\n" USUAL "  L: {field: language, codes: lang}\n"
              "codes: {lang: {E: en}}\nconstants: {protocol: timed}\n",
         "R,N,L\nP-1,A,E\n",
         0,
         {"language: \"en\""}},
	{"a column's unit",
         MAP("  D: {field: doses.one, unit: mcg}\n"),
         "R,N,D\nP-1,A,187.5\n",
         0,
         {"dose: \"187.5 mcg\""}},
	{"an amount from a later day, in whatever order",
         MAP("  E: doses.one.6\n  D: doses.one\n"),
         "R,N,D,E\nP-1,A,125 mcg,250 mcg\n",
         0,
         {"one: [{from: \"1\", dose: \"125 mcg\"}, {from: \"6\", dose: \"250 mcg\"}]"}},
	{"several amounts in a cell",
         MAP("  D: {field: doses.one, separator: \";\"}\n"),
         "R,N,D\nP-1,A,125 mcg; 3 = 250 mcg\n",
         0,
         {"one: [{from: \"1\", dose: \"125 mcg\"}, {from: \"3\", dose: \"250 mcg\"}]"}},
	{"allergies in one cell",
         MAP("  A: {field: patient.allergies, separator: \"/\"}\n"),
         "R,N,A\nP-1,A,latex / soy\n",
         0,
         {"allergies: [\"latex\", \"soy\"]"}},
	{"allergies with a space between them",
         MAP("  A: {field: patient.allergies, separator: \" \"}\n"),
         "R,N,A\nP-1,A,latex soy\n",
         0,
         {"allergies: [\"latex\", \"soy\"]"}},
	{"days with the day first",
         HEAD "dates: day/month/year\ncolumns:\n" USUAL "  G: events.go\n" CONSTANTS,
         "R,N,G\nP-1,A,3/4/2026\n",
         0,
         {"go: \"2026-04-03\""}},
	{"days with the month first",
         HEAD "dates: month/day/year\ncolumns:\n" USUAL "  G: events.go\n" CONSTANTS,
         "R,N,G\nP-1,A,3/4/2026\n",
         0,
         {"go: \"2026-03-04\""}},
	{"a time of nothing beside a day says nothing",
         MAP("  G: events.go\n  B: patient.born\n"),
         "R,N,G,B\nP-1,A,2026-12-04 00:00:00,1990-02-03T00:00:00.000\n",
         0,
         {"go: \"2026-12-04\"", "born: \"1990-02-03\""}},
	{"a time in a column of its own",
         MAP("  S: events.shot\n  T: events.shot.time\n"),
         "R,N,S,T\nP-1,A,2026-12-14,21:30:00\n",
         0,
         {"shot: \"2026-12-14 21:30\""}},
	{"a box's month",
         MAP("  K: dispensed.examplin-kit\n  E: dispensed.examplin-kit.expires\n"),
         "R,N,K,E\nP-1,A,3,03/2027\nP-2,B,0,03/2027\n",
         0,
         {"P-1 [2]\n", "dispensed: [{product: \"examplin-kit\", count: \"3\", expires: \"2027-03\"}]",
          "P-2 [3]\nas_of: \"2026-12-03\"\npatient: {record: \"P-2\", name: \"B\"}\nlanguage: \"en\"\nprotocol: "
          "\"timed\"\n"}},
	{"a change, and a call",
         MAP("  C: changes.one.from\n  D: changes.one.dose\n  E: called.two\n"),
         "R,N,C,D,E\nP-1,A,2026-12-09,125 mcg,2026-12-08\n",
         0,
         {"changes: [{item: \"one\", from: \"2026-12-09\", dose: \"125 mcg\"}]",
          "called: [{item: \"two\", on: \"2026-12-08\"}]"}},
	{"a change that stops, and one that does not",
         MAP("  C: changes.one.from\n  S: changes.one.stop\n"),
         "R,N,C,S\nP-1,A,2026-12-09,Yes\n",
         0,
         {"changes: [{item: \"one\", from: \"2026-12-09\", stop: \"yes\"}]"}},
	{"order lines, scattered and in any order",
         LINES("  Y: line.day\n  C: line.date\n"),
         "R,N,I,D,Y,C\nP-1,A,one,250 mcg,6,\nP-2,B,one,125 mcg,,\nP-1,A,one,125 mcg,1,\nP-1,A,one,200 "
         "mcg,,2026-12-20\n",
         0,
         {"P-1 [2 4 5]\n", "one: [{from: \"1\", dose: \"125 mcg\"}, {from: \"6\", dose: \"250 mcg\"}]",
          "changes: [{item: \"one\", from: \"2026-12-20\", dose: \"200 mcg\"}]", "P-2 [3]\n"}},

	/* --- rows that are refused --- */
	{"two patients with one record",
         MAP(""),
         "R,N\nP-1,A\nP-1,B\n",
         0,
         {"in.csv:3:2: stop: 'N' differs from row 2, so two patients have this record number; correct one "
          "[record-of-two]"}},
	{"the same row twice",
         MAP(""),
         "R,N\nP-1,A\nP-2,B\nP-1,A\n",
         0,
         {"in.csv:4: stop: this row stands in row 2 already; delete one [row-twice]", "P-1 [2 4]\n", "P-2 [3]\n"}},
	{"a record with two orders",
         MAP("  G: events.go\n"),
         "R,N,G\nP-1,A,2026-12-04\nP-1,A,2026-12-05\n",
         0,
         {"in.csv:3: stop: this record has another row, 2; keep the one that holds [record-twice]"}},
	{"order lines that disagree about the patient",
         LINES("  G: events.go\n"),
         "R,N,I,D,G\nP-1,A,one,125 mcg,2026-12-04\nP-1,A,two,100 IU,2026-12-05\n",
         0,
         {"in.csv:3:5: stop: 'G' differs from row 2 of the same record; make them agree [rows-disagree]"}},
	{"two order lines for one day",
         LINES("  Y: line.day\n"),
         "R,N,I,D,Y\nP-1,A,one,125 mcg,1\nP-1,A,one,250 mcg,1\n",
         0,
         {"in.csv:3:4: stop: two orders of 'one' are from day 1; keep the one that holds [order-twice]"}},
	{"an order line from a day and a date",
         LINES("  Y: line.day\n  C: line.date\n"),
         "R,N,I,D,Y,C\nP-1,A,one,125 mcg,1,2026-12-20\n",
         0,
         {"in.csv:2:6: stop: this order is from a day and from a date; keep one of them [day-and-date]"}},
	{"an order line from no day",
         LINES("  Y: line.day\n"),
         "R,N,I,D,Y\nP-1,A,one,125 mcg,first\n",
         0,
         {"in.csv:2:5: stop: 'first' is no day of the treatment; write 1 for the first [bad-number]"}},
	{"an order line without an amount",
         LINES(""),
         "R,N,I,D\nP-1,A,one,\n",
         0,
         {"in.csv:2:4: stop: 'line.dose' is empty here, and no sheet is made without it; fill it in [cell-missing]"}},
	{"too few cells",
         MAP("  G: events.go\n"),
         "R,N,G\nP-1,A\nP-2,B,2026-12-04\n",
         0,
         {"- [2]\nin.csv:2: stop: this row has 2 cells, and the heading has 3; mend it [column-count]", "P-2 [3]\n"}},
	{"too many cells",
         MAP(""),
         "R,N\nP-1,A,more\n",
         0,
         {"in.csv:2: stop: this row has 3 cells, and the heading has 2; mend it [column-count]"}},
	{"a broken row that names a patient of other rows",
         LINES(""),
         "R,N,I,D\nP-1,A,one,125 mcg\nA,P-1,two\nP-2,B,one,125 mcg\n",
         0,
         {"P-1 [2]\nin.csv:2: stop: a row that cannot be read, or has no record number, may be this patient's; mend "
          "that "
          "row [row-astray]",
          "P-2 [4]\nas_of"}},
	{"an order line without a record, by its name",
         LINES(""),
         "R,N,I,D\nP-1,A,one,125 mcg\n,A,two,100 IU\n",
         0,
         {"[row-astray]", "in.csv:3: stop: this row has no record number, so it belongs to nobody; fill it in "
                          "[record-missing]"}},
	{"a NUL",
         MAP(""),
         BYTES("R,N\nP-1,A\0B\nP-2,B\n"),
         {"P-1 [2]\nin.csv:2: stop: this row holds a NUL byte, so the file is damaged; export it again "
          "[row-unreadable]",
          "P-2 [3]\nas_of"}},
	{"bytes of another encoding",
         MAP(""),
         "R,N\nP-1,Zo\xeb\n",
         0,
         {"in.csv:2: stop: this row holds bytes that are not of the map's encoding; correct the encoding, or export it "
          "again [row-unreadable]"}},
	{"UTF-8 for Windows-1252",
         HEAD "encoding: windows-1252\ncolumns:\n" USUAL CONSTANTS,
         "R,N\nP-1,Zo\u00eb\nP-2,B\nP-3,Zo\xeb\n",
         0,
         {"in.csv:2: stop: this row is UTF-8 as well, so its letters may be others; correct the map's encoding "
          "[row-unreadable]",
          "P-2 [3]\nas_of", "P-3 [4]\nas_of"}},
	{"half a pair of UTF-16",
         HEAD "encoding: utf-16\ncolumns:\n" USUAL CONSTANTS,
         BYTES("\xff\xfeR\0,\0N\0\n\0P\0,\0\x35\xd8\n\0"),
         {"[row-unreadable]"}},
	{"a quote in the middle",
         MAP(""),
         "R,N\nP-1,A \"Bee\nP-2,B\n",
         0,
         {"P-1 [2]\nin.csv:2: stop: a quote stands in the middle of a cell, so where cells end is a guess; mend it "
          "[row-unreadable]",
          "P-2 [3]\nas_of"}},
	{"a cell without a heading",
         MAP(""),
         "R,N,\nP-1,A,what\n",
         0,
         {"in.csv:2:3: stop: this cell has something in it, and its column has no heading; give it one "
          "[heading-missing]"}},
	{"lost zeros",
         HEAD "record_width: 6\ncolumns:\n" USUAL CONSTANTS,
         "R,N\n4711,A\n",
         0,
         {"in.csv:2:1: stop: '4711' is shorter than the 6 characters of a record number; its leading zeros may be "
          "lost, "
          "export it as text [record-short]"}},
	{"a record taken for a number",
         MAP(""),
         "R,N\n1.23457E+11,A\n",
         0,
         {"in.csv:2:1: stop: '1.23457E+11' is a record number that a spreadsheet turned into a number; export it as "
          "text "
          "[record-mangled]"}},
	{"a name left empty",
         MAP(""),
         "R,N\nP-1,\n",
         0,
         {"in.csv:2:2: stop: 'patient.name' is empty here, and no sheet is made without it; fill it in "
          "[cell-missing]"}},
	{"a hidden sign in a name",
         MAP(""),
         "R,N\nP-1,A\u202eB\n",
         0,
         {"in.csv:2:2: stop: this cell holds U+202E", "[odd-character]"}},
	{"a code that is not in the map",
         HEAD "columns:\n" USUAL "  L: {field: language, codes: lang}\n"
              "codes: {lang: {E: en}}\nconstants: {protocol: timed}\n",
         "R,N,L\nP-1,A,F\n",
         0,
         {"in.csv:2:3: stop: 'F' is no code of 'lang' in the map; add it there, or mend the cell [unknown-code]"}},
	{"a date that is two days",
         MAP("  G: events.go\n"),
         "R,N,G\nP-1,A,3/4/2026\n",
         0,
         {"in.csv:2:3: stop: '3/4/2026' can be read as two days; say with 'dates' in the map which number is the day "
          "[ambiguous-date]"}},
	{"a date that is one day, in a form nobody stated",
         MAP("  G: events.go\n"),
         "R,N,G\nP-1,A,25/4/2026\n",
         0,
         {"[date-form-missing]"}},
	{"a year of two digits",
         HEAD "dates: day.month.year\ncolumns:\n" USUAL "  G: events.go\n" CONSTANTS,
         "R,N,G\nP-1,A,3.4.26\n",
         0,
         {"[short-year]"}},
	{"a day that does not exist",
         HEAD "dates: day.month.year\ncolumns:\n" USUAL "  G: events.go\n" CONSTANTS,
         "R,N,G\nP-1,A,31.4.2026\nP-2,B,2026-04-03\nP-3,C,4/3/2026\n",
         0,
         {"in.csv:2:3: stop: '31.4.2026' is no date as the map says they are written; mend the cell, or the map's "
          "'dates' "
          "[bad-date]",
          "in.csv:3:3: stop: '2026-04-03' is no date", "in.csv:4:3: stop: '4/3/2026' is no date"}},
	{"a time beside a day of birth",
         MAP("  B: patient.born\n"),
         "R,N,B\nP-1,A,1990-02-03 10:00\n",
         0,
         {"in.csv:2:3: stop: '1990-02-03 10:00' has a time, and here belongs a day alone; mend the cell "
          "[time-unexpected]"}},
	{"a time that is none",
         MAP("  S: events.shot\n  T: events.shot.time\n"),
         "R,N,S,T\nP-1,A,2026-12-14,9:30 pm\n",
         0,
         {"in.csv:2:4: stop: '9:30 pm' is no time of day; write hours and minutes, as in 20:00 [bad-time]"}},
	{"midnight, where the time matters",
         MAP("  S: events.shot\n"),
         "R,N,S\nP-1,A,2026-12-14 00:00\n",
         0,
         {"in.csv:2:3: stop: 00:00 may stand for a time that is not known; write the time, or 23:59 of the day before "
          "[midnight-doubtful]"}},
	{"an arrival, where the protocol says procedure",
         "intake: csv\nrows: patient\nprocedure_time: arrival\ncolumns:\n" USUAL "  T: events.taking\n" CONSTANTS,
         "R,N,T\nP-1,A,2026-12-16 09:30\n",
         0,
         {"in.csv:2:3: stop: the map says that this time is the arrival, and protocol 'timed' says the procedure; make "
          "them "
          "agree [time-is-differs]"}},
	{"a decimal comma nobody stated",
         MAP("  D: doses.one\n"),
         "R,N,D\nP-1,A,\"187,5 mcg\"\n",
         0,
         {"in.csv:2:3: stop: ", "[decimal-comma]"}},
	{"a unit in the cell and in the map",
         MAP("  D: {field: doses.one, unit: mcg}\n"),
         "R,N,D\nP-1,A,125 mcg\n",
         0,
         {"in.csv:2:3: stop: '125 mcg' is no number alone, and the map says the unit of this column; mend one of them "
          "[unit-twice]"}},
	{"bare units for an insulin syringe",
         MAP("  D: doses.two\n"),
         "R,N,D\nP-1,A,100 units\nP-2,B,100 IU\n",
         0,
         {"in.csv:2:3: stop: '100 units' may mean the medicine's units or lines of its syringe; write 'IU' or 'syringe "
          "units' [units-ambiguous]",
          "P-2 [3]\nas_of"}},
	{"a list of doses that is none",
         MAP("  D: {field: doses.one, separator: \";\"}\n"),
         "R,N,D\nP-1,A,125 mcg; day 3 = 250 mcg\n",
         0,
         {"in.csv:2:3: stop: 'day 3 = 250 mcg' is no day and dose; write them as in '6=150 IU' [bad-dose-list]"}},
	{"a box that expires, and no count",
         MAP("  K: dispensed.examplin-kit\n  E: dispensed.examplin-kit.expires\n"),
         "R,N,K,E\nP-1,A,,2027-03\n",
         0,
         {"in.csv:2:4: stop: 'examplin-kit' was dispensed, and its count is empty; fill it in [count-missing]"}},
	{"a change from no day",
         MAP("  C: changes.one.from\n  D: changes.one.dose\n"),
         "R,N,C,D\nP-1,A,,125 mcg\n",
         0,
         {"in.csv:2:4: stop: the change of 'one' has no first day; fill in its date [change-undated]"}},
	{"somebody signed on no day",
         MAP("  O: signatures.ordered_by\n  W: signatures.on\n"),
         "R,N,O,W\nP-1,A,I. S.,\n",
         0,
         {"in.csv:2:3: stop: somebody signed this order, and the day is empty; fill it in [signing-undated]"}},
	{"a dose of the wrong kind",
         MAP("  D: doses.one\n"),
         "R,N,D\nP-1,A,3 days\n",
         0,
         {"in.csv:2:3: stop: ", "[wrong-dimension]"}},

	/* --- intakes that are refused whole --- */
	{"nothing at all", MAP(""), "", 0, {"in.csv: stop: the intake has no heading; export it again [intake-empty]"}},
	{"a heading alone",
         MAP(""),
         "R,N\n\n",
         0,
         {"in.csv: stop: the intake has no rows; export it again [intake-empty]"}},
	{"a heading of another encoding", MAP(""), "R,N\xeb\nP-1,A\n", 0, {"[heading-unreadable]"}},
	{"a column that is not there",
         MAP("  G: events.go\n"),
         "R,N\nP-1,A\n",
         0,
         {"map.yaml:7:6: stop: the intake has no column 'G'; correct the map, or the export [column-missing]"}},
	{"two headings alike",
         MAP(""),
         "R,N,R\nP-1,A,P-1\n",
         0,
         {"in.csv:1:3: stop: two columns are headed 'R'; give each a heading of its own [heading-twice]"}},
	{"an unmapped column of doses",
         MAP(""),
         "R,N,X\nP-1,A,\nP-2,B,150 IU\n",
         0,
         {"in.csv:3:3: stop: the column 'X' holds what looks like a dose, and the map does not say what it is; map it, "
          "or "
          "list it under 'ignore' [column-unmapped]"}},
	{"an unmapped column of dates",
         MAP(""),
         "R,N,X\nP-1,A,3.4.26\n",
         0,
         {"in.csv:2:3: stop: the column 'X' holds what looks like a date"}},
	{"another delimiter than the map's, said once, and not what stands there",
         MAP("  \"B\": patient.born\n"),
         "R;N;B\nP-1;A;1990-05-17\n",
         0,
         {"in.csv: stop: the first line of this intake has none of the map's columns; name the right file, or correct "
          "the map's 'delimiter' and columns [heading-differs]"}},
	{"a PDF",
         MAP(""),
         "%PDF-1.7\n",
         0,
         {"in.csv: stop: this file is a PDF, or a spreadsheet's own, and no CSV; export it as CSV [not-csv]"}},
	{"a spreadsheet's own file",
         MAP(""),
         BYTES("PK\3\4\24\0"),
         {"in.csv: stop: this file is a PDF, or a spreadsheet's own, and no CSV; export it as CSV [not-csv]"}},
	{"a quote that stays open",
         MAP(""),
         "R,N\nP-1,\"A\nP-2,B\n",
         0,
         {"in.csv:2:1: stop: a quote in this row is never closed, so where the rows end is not known; mend it "
          "[quote-open]"}},
	{"UTF-16 for UTF-8",
         MAP(""),
         BYTES("\xff\xfeR\0,\0N\0\n\0"),
         {"in.csv: stop: this file is UTF-16, and the map says something else; write 'encoding: utf-16' in the map "
          "[encoding-differs]"}},
	{"UTF-16 without a byte order mark for UTF-8",
         MAP(""),
         BYTES("R\0,\0N\0\n\0"),
         {"in.csv: stop: this file is UTF-16, and the map says something else; write 'encoding: utf-16' in the map "
          "[encoding-differs]"}},
	{"UTF-8 with a byte order mark for UTF-16",
         HEAD "encoding: utf-16\ncolumns:\n" USUAL CONSTANTS,
         "\xef\xbb\xbfR,N\nP-1,A\n",
         0,
         {"in.csv: stop: this file is UTF-8, and the map says something else; write 'encoding: utf-8' in the map "
          "[encoding-differs]"}},
	{"UTF-32",
         HEAD "encoding: utf-16\ncolumns:\n" USUAL CONSTANTS,
         BYTES("R\0\0\0,\0\0\0"),
         {"in.csv: stop: this file is UTF-32, which is not read; export it as UTF-8 [encoding-differs]"}},
	{"UTF-8 for UTF-16",
         HEAD "encoding: utf-16\ncolumns:\n" USUAL CONSTANTS,
         "R,N\nP-1,A\n",
         0,
         {"in.csv: stop: nothing at the beginning of this file says that it is UTF-16; correct the map's 'encoding', "
          "or "
          "export it with a byte order mark [encoding-differs]"}},

	/* --- maps that are refused --- */
	{"a field that is none",
         MAP("  X: doses\n"),
         "R,N\n",
         0,
         {"map.yaml:7:6: stop: unknown field 'doses'", "[unknown-field]"}},
	{"a day of an item that is none", MAP("  X: doses.one.0\n"), "R,N\n", 0, {"[unknown-field]"}},
	{"an item that no protocol has",
         MAP("  X: doses.oen\n"),
         "R,N\n",
         0,
         {"map.yaml:7:6: stop: unknown item 'oen'; did you mean 'one'? [unknown-id]"}},
	{"an event that no protocol has",
         MAP("  X: events.gone\n"),
         "R,N\n",
         0,
         {"unknown event 'gone'", "[unknown-id]"}},
	{"a product that no medicine has",
         MAP("  X: dispensed.kit\n"),
         "R,N\n",
         0,
         {"unknown product 'kit'", "[unknown-id]"}},
	{"a table of codes that is none", MAP("  X: {field: paper, codes: p}\n"), "R,N\n", 0, {"[unknown-codes]"}},
	{"a unit where no amount is", MAP("  X: {field: paper, unit: mg}\n"), "R,N\n", 0, {"[unit-misplaced]"}},
	{"a unit that is none", MAP("  X: {field: doses.one, unit: mgs}\n"), "R,N\n", 0, {"[unknown-unit]"}},
	{"a separator of one value",
         MAP("  X: {field: paper, separator: \";\"}\n"),
         "R,N\n",
         0,
         {"[separator-misplaced]"}},
	{"an order line's field with one row a patient", MAP("  X: line.item\n"), "R,N\n", 0, {"[line-misplaced]"}},
	{"a field of two columns",
         MAP("  X: patient.name\n"),
         "R,N\n",
         0,
         {"map.yaml:7:6: stop: two columns are 'patient.name'; keep the one that is [field-twice]"}},
	{"signatures for everybody",
         HEAD "columns:\n" USUAL "constants: {language: en, protocol: timed, signatures.ordered_by: X}\n",
         "R,N\n",
         0,
         {"'signatures.ordered_by' is each patient's own, so no constant; map a column to it [constant-refused]"}},
	{"no column of records",
         HEAD "columns:\n  N: patient.name\n" CONSTANTS,
         "N\n",
         0,
         {"map.yaml: stop: no column is 'patient.record'; map the one that is [field-missing]"}},
	{"signers without a day",
         MAP("  X: signatures.checked_by\n"),
         "R,N\n",
         0,
         {"no column is 'signatures.on'", "[field-missing]"}},
	{"the day twice", MAP("  X: as_of\n"), "R,N\n", 0, {"[as-of-unclear]"}},
	{"what a procedure's time is",
         "intake: csv\nrows: patient\ncolumns:\n" USUAL "  G: events.go\n" CONSTANTS,
         "R,N\n",
         0,
         {"[procedure-time-missing]"}},
};

static void say(GString *out, struct arena *arena, struct findings *findings)
{
	for (size_t i = 0; i < findings->n; i++)
		g_string_append_printf(out, "%s\n", finding_print(arena, &findings->list[i]));
	findings->n = 0;
}

static void say_patients(GString *out, struct arena *arena, struct intake *intake)
{
	for (size_t number = 0; number < intake_count(intake); number++) {
		struct intake_patient patient;
		struct findings findings = findings_in(arena);
		assert_true(intake_read(intake, arena, number, &patient, &findings));
		g_string_append_printf(out, "%s [", patient.record == NULL ? "-" : patient.record);
		for (size_t i = 0; i < patient.n_pieces; i++)
			g_string_append_printf(out, "%s%u", i > 0 ? " " : "", patient.pieces[i].row);
		g_string_append(out, "]\n");
		assert_true((patient.plan == NULL) == findings_stop(&findings));
		say(out, arena, &findings);
		if (patient.plan != NULL)
			g_string_append(out, tree_print(arena, patient.tree));
	}
}

/* All that an intake gives, patient by patient, and all that is said of it. */
static const char *what_is_read(void **state, const char *map, const char *bytes, size_t length, const char *as_of)
{
	struct arena *arena = case_of(state)->arena;
	write_text(state, "clinic/syringes.yaml", UNIT_SYRINGE);
	write_text(state, "clinic/formulary.yaml", FORMULARY MORE_FORMULARY);
	write_text(state, "clinic/protocols/timed.yaml", TIMED);
	write_text(state, "map.yaml", map);
	write_bytes(state, "in.csv", bytes, length);
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct clinic *clinic = good_clinic(state);
	const struct intake_options options = {.path = "in.csv", .map = "map.yaml", .as_of = as_of, .folder = "."};
	struct intake *intake = intake_open(arena, clinic, &options, &findings, &status);
	GString *out = g_string_new(NULL);
	assert_true((intake == NULL) == (status != LOAD_GOOD));
	say(out, arena, &findings);
	if (intake != NULL)
		say_patients(out, arena, intake);
	intake_free(intake);
	const char *text = arena_strdup(arena, out->str);
	g_string_free(out, TRUE);
	return text;
}

static void reads_or_refuses(void **state)
{
	const struct row *row = case_of(state)->row;
	size_t length = row->length > 0 ? row->length : strlen(row->bytes);
	const char *read = what_is_read(state, row->map, row->bytes, length, "2026-12-03");
	for (size_t i = 0; i < 4 && row->said[i] != NULL; i++)
		if (strstr(read, row->said[i]) == NULL)
			fail_msg("lacks: %s\nin:\n%s", row->said[i], read);
}

/* Longer than any row is, without a quote at all. */
static void a_row_that_never_ends(void **state)
{
	struct arena *arena = case_of(state)->arena;
	char *bytes = arena_alloc(arena, 400000);
	memset(bytes, 'x', 399999);
	memcpy(bytes, "R,N\nP-1,", 8);
	const char *read = what_is_read(state, MAP(""), bytes, 399999, "2026-12-03");
	assert_non_null(strstr(read, "in.csv:2:1: stop: this row is too long to be one"));
	assert_non_null(strstr(read, "[row-too-long]"));
}

static void a_record_of_everybody(void **state)
{
	GString *bytes = g_string_new("R,N,I,D\n");
	for (int i = 0; i < 501; i++)
		g_string_append_printf(bytes, "P-1,A,one,%d mcg\n", i + 1);
	const char *read = what_is_read(state, LINES(""), bytes->str, bytes->len, "2026-12-03");
	assert_non_null(strstr(read,
	                       "in.csv:2: stop: this record has 501 rows, more than one patient's orders; check the "
	                       "column of records [rows-too-many]"));
	g_string_free(bytes, TRUE);
}

/* Without a heading the first line is a patient's: nothing of it is said. */
static void a_file_without_a_heading(void **state)
{
	const char *read = what_is_read(state, MAP("  \"D\": {field: doses.one, unit: mcg}\n"),
	                                BYTES("P-1,Odile,Odile\nP-2,Berit,Berit\n"), "2026-12-03");
	assert_string_equal(read,
	                    "in.csv: stop: the first line of this intake has none of the map's columns; name the right "
	                    "file, or correct the map's 'delimiter' and columns [heading-differs]\n");
}

static void a_day_nobody_states(void **state)
{
	const char *read = what_is_read(state, MAP(""), BYTES("R,N\nP-1,A\n"), NULL);
	assert_string_equal(
		read, "map.yaml: stop: no column is 'as_of', the day the orders speak from; map it, or say --as-of "
		      "DATE [as-of-unclear]\n");
	read = what_is_read(state, MAP(""), BYTES("R,N\nP-1,A\n"), "3.12.2026");
	assert_non_null(strstr(read, "fillmark: stop: --as-of: '3.12.2026' is no date"));
}

/* The bytes of each row are the file's own, whatever they are, and heading and rows are the whole file. */
static void rows_are_kept_byte_for_byte(void **state)
{
	static const char bytes[] = "\xef\xbb\xbfR,N\r\nP-1,\"A\r\nB\"\r\nP-2,C\0D\nP-1,  E \r\nP-3,F";
	struct arena *arena = case_of(state)->arena;
	what_is_read(state, MAP(""), bytes, sizeof bytes - 1, "2026-12-03");
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct intake_options options = {
		.path = "in.csv", .map = "map.yaml", .as_of = "2026-12-03", .folder = "."};
	struct intake *intake = intake_open(arena, good_clinic(state), &options, &findings, &status);
	assert_non_null(intake);
	char whole[sizeof bytes] = {0};
	uint32_t length;
	const char *head = intake->source->head(intake->self, arena, &length);
	memcpy(whole, head, length);
	for (size_t number = 0; number < intake_count(intake); number++) {
		size_t n;
		const struct index_piece *pieces = intake_index_group(intake->index, number, &n);
		for (size_t i = 0; i < n; i++) {
			assert_in_range(pieces[i].offset, length, sizeof bytes - 1 - pieces[i].length);
			memcpy(whole + pieces[i].offset, intake->source->bytes(intake->self, arena, &pieces[i]),
			       pieces[i].length);
		}
	}
	assert_memory_equal(whole, bytes, sizeof bytes - 1);
	assert_true(intake_has(intake, "P-3"));
	assert_false(intake_has(intake, "P-4"));
	intake_free(intake);
}

/*
 * Whatever happens to the bytes of an export, it is read or refused: every byte
 * below the heading that is no blank is of exactly one row.
 */
static void damage_leaves_no_row_out(void **state)
{
	static const char good[] =
		"R,N,I,D\r\nP-1,\"A\nB\",one,125 mcg\r\nP-2,C,one,250 mcg\r\n\r\nP-1,\"A\nB\",two,100 IU\r\n";
	static const char odd[] = "\0\"\r\n,;\xc3\xff\xfeP1 =\t\x80";
	const struct intake_options options = {
		.path = "in.csv", .map = "map.yaml", .as_of = "2026-12-03", .folder = "."};
	what_is_read(state, LINES(""), good, sizeof good - 1, "2026-12-03");
	const struct clinic *clinic = good_clinic(state);
	struct arena *one = arena_new();
	uint64_t seed = 20261203;
	size_t opened = 0;
	for (int round = 0; round < 1500; round++) {
		char bytes[sizeof good];
		bool covered[sizeof good] = {false};
		memcpy(bytes, good, sizeof good);
		for (uint64_t n = 1 + next_random(&seed) % 4; n > 0; n--)
			bytes[next_random(&seed) % (sizeof good - 1)] = odd[next_random(&seed) % (sizeof odd - 1)];
		arena_reset(one);
		write_bytes(state, "in.csv", bytes, sizeof good - 1);
		struct findings findings = findings_in(one);
		enum load_status status;
		struct intake *intake = intake_open(one, clinic, &options, &findings, &status);
		assert_true((intake == NULL) == findings_stop(&findings));
		if (intake == NULL)
			continue;
		opened++;
		uint32_t head;
		assert_non_null(intake->source->head(intake->self, one, &head));
		for (size_t number = 0; number < intake_count(intake); number++) {
			struct intake_patient patient;
			struct findings own = findings_in(one);
			assert_true(intake_read(intake, one, number, &patient, &own));
			assert_true((patient.plan == NULL) == findings_stop(&own));
			for (size_t i = 0; i < patient.n_pieces; i++)
				for (uint64_t at = 0; at < patient.pieces[i].length; at++) {
					assert_false(covered[patient.pieces[i].offset + at]);
					covered[patient.pieces[i].offset + at] = true;
				}
		}
		for (size_t at = head; at < sizeof good - 1; at++)
			assert_true(covered[at] || strchr("\r\n\t, ", bytes[at]) != NULL);
		intake_free(intake);
	}
	assert_in_range(opened, 200, 1499);
	arena_free(one);
}

static void an_order_brings_its_signatures(void **state)
{
	struct arena *arena = case_of(state)->arena;
	what_is_read(state, MAP("  O: signatures.ordered_by\n  C: signatures.checked_by\n  W: signatures.on\n"),
	             BYTES("R,N,O,C,W\nP-1,A,I. S.,A. F.,2026-12-02\n"), "2026-12-03");
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct intake_options options = {
		.path = "in.csv", .map = "map.yaml", .as_of = "2026-12-03", .folder = "."};
	struct intake *intake = intake_open(arena, good_clinic(state), &options, &findings, &status);
	struct intake_patient patient;
	assert_true(intake_read(intake, arena, 0, &patient, &findings));
	assert_non_null(patient.plan);
	assert_int_equal(patient.plan->n_signatures, 2);
	assert_string_equal(patient.plan->signatures[0].by, "I. S.");
	assert_string_equal(patient.plan->signatures[1].by, "A. F.");
	assert_string_equal(patient.plan->signatures[1].when, "2026-12-02");
	assert_string_equal(patient.plan->id, "P-1");
	intake_free(intake);
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		tests_add_in_folder(&tests, rows[i].name, reads_or_refuses, &rows[i]);
	tests_add_in_folder(&tests, "a row that never ends", a_row_that_never_ends, NULL);
	tests_add_in_folder(&tests, "a record of everybody", a_record_of_everybody, NULL);
	tests_add_in_folder(&tests, "a file without a heading", a_file_without_a_heading, NULL);
	tests_add_in_folder(&tests, "a day nobody states", a_day_nobody_states, NULL);
	tests_add_in_folder(&tests, "rows are kept byte for byte", rows_are_kept_byte_for_byte, NULL);
	tests_add_in_folder(&tests, "damage leaves no row out", damage_leaves_no_row_out, NULL);
	tests_add_in_folder(&tests, "an order brings its signatures", an_order_brings_its_signatures, NULL);
	return tests_run(&tests, "intake");
}
