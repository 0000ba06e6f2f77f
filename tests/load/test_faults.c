/*
 * What a clinic or a plan can get wrong in good YAML: each fault with its place, all of a file in one go.
 * The lines above those of a row are in support/clinic_files.h.
 */
#include "support/clinic_files.h"

struct row {
	const char *name;
	const char *path;
	const char *text;
	const char *said;
};

/* ---- keys, types, and several faults together ---- */

static const struct row shapes[] = {
	{"an unknown key with a near one", "plan.yaml", PLAN "papr: a4\n",
         "plan.yaml:6:1: stop: unknown key 'papr'; did you mean 'paper'? [unknown-key]\n"},
	{"two neighbouring letters swapped", "plan.yaml", PLAN "vresion: 2\n",
         "plan.yaml:6:1: stop: unknown key 'vresion'; did you mean 'version'? [unknown-key]\n"},
	{"an unknown key with none near", "plan.yaml", PLAN "colour: red\n",
         "plan.yaml:6:1: stop: unknown key 'colour'; mend or delete it [unknown-key]\n"},
	{"a key that only the loader writes", "plan.yaml", PLAN "=at: 3\n\"=text\": 4\n",
         "plan.yaml:6:1: stop: unknown key '=at'; mend or delete it [unknown-key]\n"
         "plan.yaml:7:1: stop: unknown key '=text'; mend or delete it [unknown-key]\n"},
	{"an unknown key of an entry that has an id", "clinic/formulary.yaml", FORMULARY "        strenght: 1 mg\n",
         "clinic/formulary.yaml:12:9: stop: unknown key 'strenght' in 'examplin-kit'; did you mean 'strength'? "
         "[unknown-key]\n"},
	{"an unknown key of a part", "clinic/formulary.yaml",
         FORMULARY "        share: {policy: P, keep: 24 h, where: fridge, hwo: vial}\n",
         "clinic/formulary.yaml:12:55: stop: unknown key 'hwo' in 'share'; did you mean 'how'? [unknown-key]\n"},
	{"a formulary for a plan", "plan.yaml", FORMULARY,
         "plan.yaml:1:1: stop: this file is a formulary, and here belongs a plan; name the right one [wrong-file]\n"},
	{"a plan for a formulary", "clinic/formulary.yaml", PLAN,
         "clinic/formulary.yaml:1:1: stop: this file is a plan, and here belongs a formulary; name the right one "
         "[wrong-file]\n"},
	{"a protocol for a plan", "plan.yaml", PROTOCOL,
         "plan.yaml:1:1: stop: this file is a protocol, and here belongs a plan; name the right one [wrong-file]\n"},
	{"a plan with a key of a formulary is a plan", "plan.yaml", PLAN "medicines: []\n",
         "plan.yaml:6:1: stop: unknown key 'medicines'; mend or delete it [unknown-key]\n"},
	{"missing keys, all of them", "plan.yaml", "language: en\nversion: 2\n",
         "plan.yaml:1:1: stop: this file lacks the key 'patient'; add it [missing-key]\n"
         "plan.yaml:1:1: stop: this file lacks the key 'protocol'; add it [missing-key]\n"
         "plan.yaml:1:1: stop: this file lacks the key 'as_of'; add it [missing-key]\n"},
	{"missing keys of an entry that has an id", "clinic/formulary.yaml",
         "medicines:\n  - id: examplin\n    route: oral\n    products:\n      - {id: kit, container: counted}\n",
         "clinic/formulary.yaml:2:5: stop: 'examplin' lacks the key 'name'; add it [missing-key]\n"
         "clinic/formulary.yaml:5:9: stop: 'kit' lacks the key 'strength'; add it [missing-key]\n"},
	{"missing keys of an entry without an id", "plan.yaml",
         PLAN "changes:\n  - {dose: 250 mcg, from: 2026-12-05}\n",
         "plan.yaml:7:5: stop: an entry of 'changes' lacks the key 'item'; add it [missing-key]\n"},
	{"one value for a list", "clinic/clinic.yaml", CLINIC "stock: t1\n",
         "clinic/clinic.yaml:8:8: stop: 'stock' must be a list, as in [first, second] [wrong-type]\n"},
	{"a list for one value", "plan.yaml", PLAN "paper: [a4]\n",
         "plan.yaml:6:8: stop: 'paper' must be one value [wrong-type]\n"},
	{"keys for one value", "plan.yaml", PLAN "paper: {size: a4}\n",
         "plan.yaml:6:8: stop: 'paper' must be one value [wrong-type]\n"},
	{"keys for an entry of a plain list", "clinic/clinic.yaml", CLINIC "address: [First, {second: third}]\n",
         "clinic/clinic.yaml:8:18: stop: an entry of 'address' must be one value [wrong-type]\n"},
	{"bare words for a text", "clinic/formulary.yaml", FORMULARY "    purpose: calms\n",
         "clinic/formulary.yaml:12:14: stop: 'purpose' must be words by language, as in {en: \"...\"} [wrong-type]\n"},
	{"a list for a text", "clinic/clinic.yaml", CLINIC "emergency: [en]\n",
         "clinic/clinic.yaml:8:12: stop: 'emergency' must be words by language, as in {en: \"...\"} [wrong-type]\n"},
	{"a list for pairs", "plan.yaml",
         "patient: {name: A, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: [go]\n",
         "plan.yaml:5:9: stop: 'events' must be pairs of a name and its value, as in {name: value} [wrong-type]\n"},
	{"keys for a list of entries", "plan.yaml", PLAN "away: {from: 2026-12-10}\n",
         "plan.yaml:6:7: stop: 'away' must be a list, each entry beginning with '- ' [wrong-type]\n"},
	{"one value for keys", "clinic/formulary.yaml", FORMULARY "        dial: 12 units\n",
         "clinic/formulary.yaml:12:15: stop: 'dial' must be keys of its own: step, least, most, priming "
         "[wrong-type]\n"},
	{"a list where a value or keys may stand", "plan.yaml", PLAN "doses: {one: [{from: 1, dose: [250 mcg]}]}\n",
         "plan.yaml:6:31: stop: 'dose' must be one value, or keys of its own: call [wrong-type]\n"},
	{"a value left empty", "plan.yaml", PLAN "paper:\nzone: ~\nversion: null\ngood_until: \"\"\n",
         "plan.yaml:6:1: stop: 'paper' has no value; write one, or delete it [empty-value]\n"
         "plan.yaml:7:1: stop: 'zone' has no value; write one, or delete it [empty-value]\n"
         "plan.yaml:8:1: stop: 'version' has no value; write one, or delete it [empty-value]\n"
         "plan.yaml:9:1: stop: 'good_until' has no value; write one, or delete it [empty-value]\n"},
	{"a dose left empty", "plan.yaml", PLAN "doses: {one: [{from: 1, dose: }]}\n",
         "plan.yaml:6:25: stop: 'dose' has no value; write one, or delete it [empty-value]\n"},
	{"lists and texts left empty", "plan.yaml", PLAN "changes: []\nreplaces: {file: a.yaml, because: {}}\n",
         "plan.yaml:6:1: stop: 'changes' has no entries; write one, or delete it [empty-value]\n"
         "plan.yaml:7:26: stop: 'because' has no entries; write one, or delete it [empty-value]\n"},
	{"an empty name", "plan.yaml", PLAN "doses: {\"\": [{from: 1, dose: 250 mcg}]}\n",
         "plan.yaml:6:9: stop: a name is empty here; write one, or delete it [empty-value]\n"},
	{"faults of every sort in one go", "plan.yaml",
         "patient: {name: \"A B\", born: 1990-02-30, allergies: [none]}\n"
         "langage: en\n"
         "protocol: p2\n"
         "as_of: 3.12.2026\n"
         "version: one\n"
         "events: {go: tomorrow}\n"
         "paper: a5\n"
         "dispensed:\n"
         "  - {product: examplin-kt, count: 0, expires: 2027-13}\n",
         "plan.yaml:1:1: stop: this file lacks the key 'language'; add it [missing-key]\n"
         "plan.yaml:1:30: stop: '1990-02-30' is no date; write year, month and day, as in 2026-12-08 [bad-date]\n"
         "plan.yaml:2:1: stop: unknown key 'langage'; did you mean 'language'? [unknown-key]\n"
         "plan.yaml:3:11: stop: unknown protocol 'p2'; did you mean 'p1'? [unknown-protocol]\n"
         "plan.yaml:4:8: stop: '3.12.2026' is no date; write year, month and day, as in 2026-12-08 [bad-date]\n"
         "plan.yaml:5:10: stop: 'one' is no whole number; write one, as in '1' [bad-number]\n"
         "plan.yaml:6:14: stop: 'tomorrow' is no date; write it as in 2026-12-04, or with a time as in \"2026-12-14 "
         "21:30\" [bad-date]\n"
         "plan.yaml:7:8: stop: 'a5' is not known here; did you mean 'a4'? [unknown-word]\n"
         "plan.yaml:9:15: stop: unknown product 'examplin-kt'; did you mean 'examplin-kit'? [unknown-product]\n"
         "plan.yaml:9:35: stop: 0 is not between 1 and 100000; write a number that is [bad-number]\n"
         "plan.yaml:9:47: stop: '2027-13' is no date; write year, month and day, as in 2027-03-31 or 2027-03 "
         "[bad-date]\n"},
	{"faults of several files in one go", "clinic/formulary.yaml", FORMULARY "        mix: swril\n",
         "clinic/formulary.yaml:12:14: stop: 'swril' is not known here; did you mean 'swirl'? [unknown-word]\n"},
};

/* ---- amounts, numbers, flags ---- */

static const struct row values[] = {
	{"amounts that cannot be read", "clinic/formulary.yaml",
         FORMULARY "        warm_up: .5 h\n        in_use: 28\n        displacement: 1,5 mL\n        loss: 10 U\n",
         "clinic/formulary.yaml:12:18: stop: '.5 h' begins with a decimal mark, and a digit may be lost; write the "
         "digit "
         "before it, as in '0.25' [bare-decimal]\n"
         "clinic/formulary.yaml:13:17: stop: '28' has no unit; write one after the number, as in '250 mcg' [no-unit]\n"
         "clinic/formulary.yaml:14:23: stop: '1,5 mL' may be written with a decimal comma; write a decimal with a "
         "point, "
         "as in '1.5' [decimal-comma]\n"
         "clinic/formulary.yaml:15:15: stop: '10 U' ends in a bare U, which reads as a 0; write 'units' [bare-u]\n"},
	{"an amount with a caution", "clinic/formulary.yaml", FORMULARY "        warm_up: 30.0 min\n",
         "clinic/formulary.yaml:12:18: caution: '30.0 min' ends in a 0 that can be misread where its mark is faint; "
         "write "
         "'30 min' [trailing-zero]\n"},
	{"nothing at all where that is sensible", "clinic/formulary.yaml",
         FORMULARY "        displacement: 0 mL\n        loss: 0 mL\n", ""},
	{"nothing at all where it is not", "clinic/formulary.yaml", FORMULARY "        warm_up: 0 min\n",
         "clinic/formulary.yaml:12:18: stop: '0 min' is zero; write an amount above zero [not-positive]\n"},
	{"a volume where a time belongs", "clinic/formulary.yaml", FORMULARY "        warm_up: 30 mL\n",
         "clinic/formulary.yaml:12:18: stop: '30 mL' is a volume, and here belongs a time; write that "
         "[wrong-dimension]\n"},
	{"a time where a dose belongs", "plan.yaml", PLAN "doses: {one: [{from: 1, dose: 2 h}]}\n",
         "plan.yaml:6:31: stop: '2 h' is a time, and here belongs a mass, an activity, a volume or a count; write that "
         "[wrong-dimension]\n"},
	{"a mass where a volume belongs", "clinic/formulary.yaml", FORMULARY "        displacement: 1 mg\n",
         "clinic/formulary.yaml:12:23: stop: '1 mg' is a mass, and here belongs a volume; write that "
         "[wrong-dimension]\n"},
	{"a count where a strength belongs", "clinic/formulary.yaml",
         "medicines:\n  - id: a\n    name: A\n    route: oral\n    products:\n"
         "      - {id: b, container: solution-vial, strength: 1 tablet, volume: 2 mL}\n"
         "      - {id: c, container: counted, strength: 5 mg}\n"
         "      - {id: d, container: counted, strength: 5 mg/mL}\n",
         "clinic/formulary.yaml:6:53: stop: '1 tablet' is a count, and here belongs a mass or an activity; write that "
         "[wrong-dimension]\n"
         "clinic/formulary.yaml:7:47: stop: '5 mg' is a mass, and here belongs a count; write that [wrong-dimension]\n"
         "clinic/formulary.yaml:8:47: stop: '5 mg/mL' is a concentration, and one container's amount belongs here; "
         "write "
         "that [wrong-dimension]\n"
         "clinic/protocols/p1.yaml:7:15: stop: unknown medicine 'examplin'; name one that is listed "
         "[unknown-medicine]\n"},
	{"a concentration of no volume", "clinic/formulary.yaml", FORMULARY "        concentration: 250 mcg\n",
         "clinic/formulary.yaml:12:24: stop: '250 mcg' has no volume that the amount is in; write it, as in '250 "
         "mcg/mL' "
         "[not-a-concentration]\n"},
	{"days that are not whole", "clinic/formulary.yaml", FORMULARY "        in_use: 36 h\n",
         "clinic/formulary.yaml:12:17: stop: '36 h' is no number of whole days; write one, as in '2 days' "
         "[not-whole-days]\n"},
	{"days in another unit", "clinic/formulary.yaml", FORMULARY "        in_use: 48 h\n", ""},
	{"weeks", "clinic/formulary.yaml", FORMULARY "        in_use: 4 weeks\n", ""},
	{"hours where calendar days are meant", "clinic/protocols/p1.yaml",
         PROTOCOL
         "    every: 48 h\n    horizon: 336 h\n  - {id: two, medicine: examplin, at: [morning], start: {event: go}, "
         "doses: [{from: 1, dose: 250 mcg, every: 24 h}]}\nhorizon: 336 h\n",
         "clinic/protocols/p1.yaml:11:12: stop: '48 h' counts hours, and calendar days are meant; write it in days, as "
         "in "
         "'2 days' [not-whole-days]\n"
         "clinic/protocols/p1.yaml:12:14: stop: '336 h' counts hours, and calendar days are meant; write it in days, "
         "as "
         "in '2 days' [not-whole-days]\n"
         "clinic/protocols/p1.yaml:13:110: stop: '24 h' counts hours, and calendar days are meant; write it in days, "
         "as "
         "in '2 days' [not-whole-days]\n"
         "clinic/protocols/p1.yaml:14:10: stop: '336 h' counts hours, and calendar days are meant; write it in days, "
         "as "
         "in '2 days' [not-whole-days]\n"},
	{"numbers that are none", "plan.yaml", PLAN "version: 1.5\n",
         "plan.yaml:6:10: stop: '1.5' is no whole number; write one, as in '1' [bad-number]\n"},
	{"a number with a zero before it", "plan.yaml", PLAN "version: 010\n",
         "plan.yaml:6:10: stop: '010' is no whole number; write one, as in '1' [bad-number]\n"},
	{"a number too large", "plan.yaml", PLAN "version: 10000\n",
         "plan.yaml:6:10: stop: 10000 is not between 1 and 9999; write a number that is [bad-number]\n"},
	{"a number with a sign", "plan.yaml", PLAN "version: -1\n",
         "plan.yaml:6:10: stop: -1 is not between 1 and 9999; write a number that is [bad-number]\n"},
	{"a flag that is none", "plan.yaml", PLAN "large_print: maybe\n",
         "plan.yaml:6:14: stop: 'maybe' is not known here; write 'yes', 'no', 'true' or 'false' [unknown-word]\n"},
	{"flags that are", "plan.yaml", PLAN "large_print: true\n", ""},
	{"times that are none", "clinic/clinic.yaml",
         "clinic: {en: T}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: 4\n"
         "slots: {evening: 8pm}\nphones: [{id: day, label: {en: D}, number: \"0\", hours: always}]\n",
         "clinic/clinic.yaml:5:13: stop: '4' is no time of day; write hours and minutes, as in \"20:00\" [bad-time]\n"
         "clinic/clinic.yaml:6:18: stop: '8pm' is no time of day; write hours and minutes, as in \"20:00\" [bad-time]\n"
         "clinic/clinic.yaml:7:56: stop: 'always' is no span of hours; write it as in \"07:30-17:00\" [bad-time]\n"},
	{"ids that are none", "clinic/formulary.yaml",
         "medicines:\n  - id: Examplin\n    name: E\n    route: oral\n    products:\n"
         "      - {id: kit.1, container: counted, strength: 1 tablet}\n  - id: examplin\n    name: E\n    route: oral\n"
         "    products: [{id: kit, container: counted, strength: 1 tablet}]\n",
         "clinic/formulary.yaml:2:9: stop: 'Examplin' is no id; use lower-case letters, digits and hyphens only "
         "[bad-id]\n"
         "clinic/formulary.yaml:6:14: stop: 'kit.1' is no id; use lower-case letters, digits and hyphens only "
         "[bad-id]\n"},
};

/* ---- clinic.yaml and syringes.yaml ---- */

static const struct row clinics[] = {
	{"an unknown country, zone and language", "clinic/clinic.yaml",
         "clinic: {en: T, english: U}\ncountry: UK\nzone: Europe/Londn\nlanguages: [en, xx, en]\nday_begins: "
         "\"04:00\"\n"
         "slots: {evening: \"20:00\"}\nphones: [{id: day, label: {en: D}, number: \"0\"}, {id: day, label: {en: D}, "
         "number: \"1\"}]\n",
         "clinic/clinic.yaml:1:17: stop: 'english' is no language; use a code such as 'en' or 'es' [unknown-language]\n"
         "clinic/clinic.yaml:2:10: stop: unknown country 'UK'; use its two capital letters, as in 'GB' "
         "[unknown-country]\n"
         "clinic/clinic.yaml:3:7: stop: unknown zone 'Europe/Londn'; did you mean 'Europe/London'? [unknown-zone]\n"
         "clinic/clinic.yaml:4:17: stop: 'xx' is no language; use a code such as 'en' or 'es' [unknown-language]\n"
         "clinic/clinic.yaml:4:21: stop: the language 'en' is here twice; delete one [duplicate-id]\n"
         "clinic/clinic.yaml:7:50: stop: the phone 'day' is here twice, first in line 7; give it another id "
         "[duplicate-id]\n"},
	{"a syringe in stock that is none", "clinic/clinic.yaml", CLINIC "stock: [t1, t2x]\n",
         "clinic/clinic.yaml:8:13: stop: unknown syringe 't2x'; name one that is listed [unknown-syringe]\n"},
	{"a scale that its lines do not divide", "clinic/syringes.yaml",
         "syringes:\n"
         "  - {id: a, name: {en: a}, capacity: 1 mL, step: 0.3 mL, numbered_every: 0.6 mL, scale_length: 57 mm, "
         "barrel: 7 mm}\n"
         "  - {id: b, name: {en: b}, capacity: 1 mL, step: 0.1 mL, numbered_every: 0.25 mL, scale_length: 57 mm, "
         "barrel: 7 mm}\n"
         "  - {id: c, name: {en: c}, capacity: 1 mL, graduated: 0.9 mL, step: 0.1 mL, numbered_every: 0.1 mL, "
         "scale_length: 57 mm, barrel: 7 mm}\n"
         "  - {id: d, name: {en: d}, capacity: 20 mL, step: 0.01 mL, numbered_every: 1 mL, scale_length: 57 mm, "
         "barrel: 7 mm}\n",
         "clinic/syringes.yaml:2:50: stop: the step of 'a' does not divide its capacity; mend one [scale-uneven]\n"
         "clinic/syringes.yaml:3:74: stop: the step of 'b' does not divide what its lines are numbered by; mend one "
         "[scale-uneven]\n"
         "clinic/syringes.yaml:4:55: stop: the graduated capacity of 'c' is less than its capacity; mend one "
         "[scale-uneven]\n"
         "clinic/syringes.yaml:5:51: stop: 'd' would have over 1000 lines; mend its step [scale-uneven]\n"},
	{"a scale that goes on far beyond its capacity", "clinic/syringes.yaml",
         "syringes:\n"
         "  - {id: a, name: {en: a}, capacity: 1 mL, graduated: 900 mL, step: 0.1 mL, numbered_every: 0.5 mL, "
         "scale_length: "
         "57 mm, barrel: 7 mm}\n",
         "clinic/syringes.yaml:2:69: stop: 'a' would have over 1000 lines; mend its step [scale-uneven]\n"},
	{"a scale without a numbered line but its zero", "clinic/syringes.yaml",
         "syringes:\n"
         "  - {id: a, name: {en: a}, capacity: 1 mL, step: 0.1 mL, numbered_every: 5 mL, scale_length: 57 mm, barrel: "
         "7 mm}\n",
         "clinic/syringes.yaml:2:74: stop: the numbered lines of 'a' are further apart than its capacity; mend one "
         "[scale-uneven]\n"},
	{"numerals that are not the lines'", "clinic/syringes.yaml",
         "syringes:\n"
         "  - {id: a, name: {en: a}, capacity: 1 mL, step: 0.1 mL, numbered_every: 0.5 mL, numerals: [\"0\", \".5\"], "
         "scale_length: 57 mm, barrel: 7 mm}\n"
         "  - {id: b, name: {en: b}, capacity: 1 mL, step: 0.1 mL, numbered_every: 0.5 mL, numerals: [\"0\", \".5\", "
         "\"10\"], scale_length: 57 mm, barrel: 7 mm}\n"
         "  - {id: c, name: {en: c}, capacity: 1 mL, step: 0.1 mL, numbered_every: 0.5 mL, numerals: [\"0\", "
         "\"\u00bd\", \"1.0\"], scale_length: 57 mm, barrel: 7 mm}\n",
         "clinic/syringes.yaml:2:93: stop: 'a' has 2 numerals and 3 numbered lines, zero included; give each line its "
         "own "
         "[numerals-count]\n"
         "clinic/syringes.yaml:3:104: stop: the numeral '10' stands at 1 of the scale; write the numerals from the "
         "zero "
         "line up [numeral-differs]\n"},
	{"scales in units", "clinic/syringes.yaml",
         "syringes:\n"
         "  - {id: a, name: {en: a}, capacity: 1 mL, step: 2, numbered_every: 10, scale: {units_per_mL: 100}, "
         "scale_length: 57 mm, barrel: 7 mm}\n"
         "  - {id: b, name: {en: b}, capacity: 1 mL, step: 2, numbered_every: 10, scale: units, scale_length: 57 mm, "
         "barrel: 7 mm}\n"
         "  - {id: b, name: {en: b}, capacity: 1 mL, step: 0.1 units, numbered_every: 0.5 mL, scale_length: 57 mL, "
         "barrel: 7 mm, needle: on}\n",
         "clinic/syringes.yaml:2:80: stop: 'scale' lacks the key 'name'; say how the sheet is to call it, as in "
         "'insulin "
         "syringe' [missing-key]\n"
         "clinic/syringes.yaml:3:50: stop: '2' has no unit; write one after the number, as in '250 mcg' [no-unit]\n"
         "clinic/syringes.yaml:3:69: stop: '10' has no unit; write one after the number, as in '250 mcg' [no-unit]\n"
         "clinic/syringes.yaml:3:80: stop: 'units' is not known here; write 'mL' [unknown-word]\n"
         "clinic/syringes.yaml:4:5: stop: the syringe 'b' is here twice, first in line 3; give it another id "
         "[duplicate-id]\n"
         "clinic/syringes.yaml:4:50: stop: '0.1 units' is an activity, and here belongs a volume; write that "
         "[wrong-dimension]\n"
         "clinic/syringes.yaml:4:99: stop: '57 mL' is a volume, and here belongs a length; write that "
         "[wrong-dimension]\n"
         "clinic/syringes.yaml:4:128: stop: 'on' is not known here; write 'none' or 'fixed' [unknown-word]\n"},
};

/* ---- formulary.yaml ---- */

static const struct row formularies[] = {
	{"an unknown syringe", "clinic/formulary.yaml", FORMULARY "        comes_with: [{syringe: t3}]\n",
         "clinic/formulary.yaml:12:32: stop: unknown syringe 't3'; did you mean 't1'? [unknown-syringe]\n"},
	{"things in the box that are none", "clinic/formulary.yaml",
         FORMULARY "        comes_with: [{needle: mixing, swab: 2}, {needle: thick}, {swab: none}]\n",
         "clinic/formulary.yaml:12:22: stop: 'needle' and 'swab' exclude each other; keep one [exclusive-keys]\n"
         "clinic/formulary.yaml:12:58: stop: 'thick' is not known here; write 'mixing' or 'giving' [unknown-word]\n"
         "clinic/formulary.yaml:12:73: stop: 'none' is no whole number; write one, as in '1' [bad-number]\n"},
	{"ids twice", "clinic/formulary.yaml",
         FORMULARY "  - id: examplin\n    name: E\n    route: oral\n"
                   "    products: [{id: examplin-kit, container: counted, strength: 1 tablet}]\n",
         "clinic/formulary.yaml:12:5: stop: the medicine 'examplin' is here twice, first in line 2; give it another id "
         "[duplicate-id]\n"
         "clinic/formulary.yaml:15:16: stop: the product 'examplin-kit' is here twice, first in line 7; give it "
         "another "
         "id [duplicate-id]\n"},
	{"a stand-in for nothing", "clinic/formulary.yaml", FORMULARY "        stands_in_for: [examplin-kit, other]\n",
         "clinic/formulary.yaml:12:25: stop: unknown product 'examplin-kit' beside this one; name one that is "
         "listed [unknown-product]\n"
         "clinic/formulary.yaml:12:39: stop: unknown product 'other' beside this one; name one that is listed "
         "[unknown-product]\n"},
	{"a box that says ten times the strength", "clinic/formulary.yaml", FORMULARY "        box_says: \"2.5 mg\"\n",
         "clinic/formulary.yaml:12:19: stop: the box says '2.5 mg' and the strength is 250 mcg; look at the box and "
         "mend "
         "one [box-differs]\n"},
	{"a box that says the strength in another unit", "clinic/formulary.yaml",
         FORMULARY "        box_says: \"0.25 mg\"\n", ""},
	{"a box that says something else", "clinic/formulary.yaml", FORMULARY "        box_says: \"Kit No. 3\"\n", ""},
	{"a second strength of the same dimension", "clinic/formulary.yaml",
         FORMULARY "        also_labelled: 0.25 mg\n",
         "clinic/formulary.yaml:12:24: stop: 'also_labelled' has the dimension of 'strength'; it is for a second "
         "strength "
         "in another one [wrong-dimension]\n"},
	{"a second strength of another", "clinic/formulary.yaml", FORMULARY "        also_labelled: 75 units\n", ""},
	{"what a container needs", "clinic/formulary.yaml",
         "medicines:\n  - id: examplin\n    name: E\n    route: subcutaneous\n    products:\n"
         "      - {id: a, container: powder-vial, strength: 1 mg}\n"
         "      - {id: b, container: solution-vial, strength: 1 mg}\n"
         "      - {id: c, container: ampoule, strength: 5 mg/mL}\n"
         "      - {id: d, container: pen, strength: 900 units}\n"
         "      - {id: e, container: prefilled-syringe, strength: 1 mg}\n"
         "      - {id: f, container: prefilled-syringe, strength: 1 mg, part: expel-first}\n",
         "clinic/formulary.yaml:6:9: stop: 'a' lacks the key 'diluent', which a powder-vial needs; add it "
         "[missing-key]\n"
         "clinic/formulary.yaml:7:9: stop: 'b' lacks the key 'volume', which a solution-vial needs; add it "
         "[missing-key]\n"
         "clinic/formulary.yaml:8:9: stop: 'c' lacks the key 'volume', which a ampoule needs; add it [missing-key]\n"
         "clinic/formulary.yaml:9:9: stop: 'd' lacks the key 'dial', which a pen needs; add it [missing-key]\n"
         "clinic/formulary.yaml:11:9: stop: 'f' lacks the key 'volume', which a prefilled-syringe needs; add it "
         "[missing-key]\n"},
	{"what a container has no use for", "clinic/formulary.yaml",
         FORMULARY "        volume: 1 mL\n        part: inject-to\n        divisible: half\n"
                   "        dial: {step: 1 mcg, least: 1 mcg, most: 9 mcg}\n",
         "clinic/formulary.yaml:12:17: caution: 'volume' has no meaning for a powder-vial; delete it, or mend "
         "'container' "
         "[needless-key]\n"
         "clinic/formulary.yaml:13:15: caution: 'part' has no meaning for a powder-vial; delete it, or mend "
         "'container' "
         "[needless-key]\n"
         "clinic/formulary.yaml:14:20: caution: 'divisible' has no meaning for a powder-vial; delete it, or mend "
         "'container' [needless-key]\n"
         "clinic/formulary.yaml:15:15: caution: 'dial' has no meaning for a powder-vial; delete it, or mend "
         "'container' "
         "[needless-key]\n"},
	{"a syringe that the liquid does not come in", "clinic/formulary.yaml",
         "medicines:\n  - id: examplin\n    name: E\n    route: subcutaneous\n    products:\n"
         "      - id: a\n        container: powder-vial\n        strength: 1 mg\n"
         "        diluent: {name: {en: w}, supplied: 1 mL, use: 1 mL, comes_as: vial}\n"
         "        draw_with: diluent-syringe\n",
         "clinic/formulary.yaml:10:20: stop: 'draw_with' is 'diluent-syringe', and the liquid does not come in one; "
         "mend "
         "one [contradiction]\n"},
	{"amounts that contradict each other", "clinic/formulary.yaml",
         "medicines:\n  - id: examplin\n    name: E\n    route: subcutaneous\n"
         "    limits: {least: 250 mcg, most: 0.125 mg, day_most: 100 mcg, gap_least: 2 days, gap_most: 30 h}\n"
         "    products:\n"
         "      - {id: a, container: powder-vial, strength: 1 mg, diluent: {name: {en: w}, supplied: 1 mL, use: 10 mL, "
         "comes_as: vial}}\n"
         "      - {id: b, container: pen, strength: 900 units, dial: {step: 450 units, least: 450 units, most: 45 "
         "units}}\n",
         "clinic/formulary.yaml:5:21: stop: 'least' is 250 mcg, which is more than 'most', 0.125 mg; mend one "
         "[contradiction]\n"
         "clinic/formulary.yaml:5:36: stop: 'most' is 0.125 mg, which is more than 'day_most', 100 mcg; mend one "
         "[contradiction]\n"
         "clinic/formulary.yaml:5:76: stop: 'gap_least' is 2 days, which is more than 'gap_most', 30 h; mend one "
         "[contradiction]\n"
         "clinic/formulary.yaml:7:103: stop: 'use' is 10 mL, which is more than 'supplied', 1 mL; mend one "
         "[contradiction]\n"
         "clinic/formulary.yaml:8:67: stop: 'step' is 450 units, which is more than 'most', 45 units; mend one "
         "[contradiction]\n"
         "clinic/formulary.yaml:8:85: stop: 'least' is 450 units, which is more than 'most', 45 units; mend one "
         "[contradiction]\n"},
	{"a technique that is none", "clinic/formulary.yaml", FORMULARY "        technique: powder-vail\n",
         "clinic/formulary.yaml:7:9: stop: unknown technique 'powder-vail'; did you mean 'powder-vial'? "
         "[unknown-technique]\n"},
	{"names of nothing but spaces", "plan.yaml",
         "patient: {name: \"  \", record: \"\\u00a0\", allergies: [\" \"]}\nlanguage: en\nprotocol: p1\nas_of: "
         "2026-12-03\nevents: {go: 2026-12-04}\n",
         "plan.yaml:1:11: stop: 'name' has no value; write one, or delete it [empty-value]\n"
         "plan.yaml:1:23: stop: 'record' has no value; write one, or delete it [empty-value]\n"
         "plan.yaml:1:53: stop: an entry of 'allergies' has no value; write one, or delete it [empty-value]\n"},
	{"a day whose clock changes nobody knows", "plan.yaml",
         "patient: {name: \"A B\", allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2101-01-01\nevents: {go: "
         "2101-01-02}\n",
         "plan.yaml:4:8: stop: 2101-01-01 is not from 2000 to 2100, the years whose clock changes are known; check the "
         "year "
         "[bad-date]\n"},
	{"the last day whose clock changes are known", "plan.yaml",
         "patient: {name: \"A B\", allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2100-12-31\nevents: {go: "
         "2101-01-02}\n",
         ""},
	{"a day that begins in the afternoon", "clinic/clinic.yaml",
         "clinic: {en: T}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"16:00\"\n"
         "slots: {morning: \"08:00\", evening: \"20:00\"}\nphones: [{id: day, label: {en: Day}, number: \"0\"}]\n",
         "clinic/clinic.yaml:5:13: stop: a treatment day that begins at 16:00 puts the morning's doses on the day "
         "before; "
         "write an hour of the night, as in \"04:00\" [bad-time]\n"},
	{"a rounding that gives another dose", "clinic/formulary.yaml",
         FORMULARY "    rounding: {to: mark, most: 10.1 %}\n",
         "clinic/formulary.yaml:12:32: stop: a dose that is rounded by up to 10.1 % is another dose; allow at most 10 "
         "% "
         "[rounding-too-wide]\n"},
	{"the widest rounding", "clinic/formulary.yaml", FORMULARY "    rounding: {to: mark, most: 10 %}\n", ""},
	{"a rounding that is none", "clinic/formulary.yaml", FORMULARY "    rounding: {to: line, most: 2 mL}\n",
         "clinic/formulary.yaml:12:20: stop: 'line' is not known here; write 'mark' [unknown-word]\n"
         "clinic/formulary.yaml:12:32: stop: '2 mL' is a volume, and here belongs a ratio; write that "
         "[wrong-dimension]\n"},
};

/* ---- protocols ---- */

#define ITEM                                                                                                         \
	"protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1}]\nitems:\n  - id: one\n    " \
	"medicine: examplin\n"

static const struct row protocols[] = {
	{"unknown names", "clinic/protocols/p1.yaml",
         "protocol: p1\ntitle: {en: One}\n"
         "events: [{id: go, label: {en: Go}, own_day: 2, check: {before: gone, by: 36 h}}]\n"
         "items:\n  - id: one\n    medicine: exampin\n    at: [evning, \"25:00\", \"12:00 am\", midnight]\n"
         "    start: {first_of: [{event: goo, day: 1}, {event: one.last, plus: 2 h}, {event: two}]}\n"
         "    doses: [{from: {event: og, day: 1}, dose: 1 mg}]\n"
         "    gap_to: {event: here, most: 30 h}\n"
         "visits: [{event: there}]\n",
         "clinic/protocols/p1.yaml:3:45: stop: 2 is not between 0 and 1; write a number that is [bad-number]\n"
         "clinic/protocols/p1.yaml:3:64: stop: unknown event 'gone'; did you mean 'one'? [unknown-event]\n"
         "clinic/protocols/p1.yaml:6:15: stop: unknown medicine 'exampin'; did you mean 'examplin'? "
         "[unknown-medicine]\n"
         "clinic/protocols/p1.yaml:7:10: stop: unknown time of day 'evning'; did you mean 'evening'? [unknown-slot]\n"
         "clinic/protocols/p1.yaml:7:18: stop: '25:00' is no time of day; write hours and minutes, as in \"20:00\" "
         "[bad-time]\n"
         "clinic/protocols/p1.yaml:7:27: stop: '12:00 am' is 12:00 at night, between two days; write 23:59 or 00:01 "
         "[midnight-ambiguous]\n"
         "clinic/protocols/p1.yaml:7:39: stop: 'midnight' is 12:00 at night, between two days; write 23:59 or 00:01 "
         "[midnight-ambiguous]\n"
         "clinic/protocols/p1.yaml:8:32: stop: unknown event 'goo'; did you mean 'go'? [unknown-event]\n"
         "clinic/protocols/p1.yaml:8:84: stop: unknown event 'two'; name one that is listed [unknown-event]\n"
         "clinic/protocols/p1.yaml:9:28: stop: unknown event 'og'; did you mean 'go'? [unknown-event]\n"
         "clinic/protocols/p1.yaml:10:21: stop: unknown event 'here'; name one that is listed [unknown-event]\n"
         "clinic/protocols/p1.yaml:11:18: stop: unknown event 'there'; name one that is listed [unknown-event]\n"},
	{"a start of two kinds", "clinic/protocols/p1.yaml",
         ITEM "    at: [evening]\n    start: {event: go, call: {en: Call}}\n    doses: [{from: 1, dose: 250 mcg}]\n",
         "clinic/protocols/p1.yaml:8:12: stop: 'event' and 'call' exclude each other; keep one [exclusive-keys]\n"},
	{"a start of no kind", "clinic/protocols/p1.yaml",
         ITEM "    at: [evening]\n    start: {day: 1}\n    doses: [{from: 1, dose: 250 mcg}]\n",
         "clinic/protocols/p1.yaml:8:12: stop: nothing says when; write one of 'on', 'event', 'call', 'first_of' or "
         "'last_of' [missing-key]\n"
         "clinic/protocols/p1.yaml:8:18: stop: 'day' needs 'event' beside it; add it [missing-key]\n"},
	{"a start that is far in two ways", "clinic/protocols/p1.yaml",
         ITEM "    at: [evening]\n    start: {event: go, day: 1, plus: 2 h}\n    doses: [{from: 1, dose: 250 mcg}]\n",
         "clinic/protocols/p1.yaml:8:12: stop: 'day' and 'plus' exclude each other; keep one [exclusive-keys]\n"},
	{"ends that are none", "clinic/protocols/p1.yaml",
         ITEM "    at: [evening]\n    start: {event: go, day: 1}\n    end: {event: go}\n    doses: [{from: 1, dose: "
              "250 mcg}]\n"
              "  - id: two\n    medicine: examplin\n    at: [morning]\n    start: {on: 2026-12-01}\n    end: {doses: "
              "3, days: 2}\n"
              "    doses: [{from: 1, dose: 250 mcg}]\n"
              "  - id: three\n    medicine: examplin\n    at: [morning]\n    start: {on: 2026-12-01}\n    end: {on: "
              "2026-12-05}\n"
              "    doses: [{from: 1, dose: 250 mcg}]\n",
         "clinic/protocols/p1.yaml:9:10: stop: an end at an event lacks the key 'day', the last day that counts; add "
         "it "
         "[missing-key]\n"
         "clinic/protocols/p1.yaml:15:10: stop: 'doses' and 'days' exclude each other; keep one [exclusive-keys]\n"
         "clinic/protocols/p1.yaml:21:10: stop: nothing says when; write one of 'event', 'doses', 'days', 'call' or "
         "'first_of' [missing-key]\n"
         "clinic/protocols/p1.yaml:21:11: stop: unknown key 'on' in 'end'; mend or delete it [unknown-key]\n"},
	{"doses that are none", "clinic/protocols/p1.yaml",
         ITEM "    at: [evening]\n    start: {event: go, day: 1}\n    doses:\n"
              "      - {from: 0, dose: 250 mcg}\n"
              "      - {from: {event: go}, dose: 250}\n"
              "      - {from: 3, dose: {}}\n"
              "      - {from: 4, dose: paln}\n"
              "      - {from: 5, dose: 250 mcg, may_become: [125 mcg]}\n"
              "      - {dose: 250 mcg}\n",
         "clinic/protocols/p1.yaml:10:16: stop: 0 is not between 1 and 1000; write a number that is [bad-number]\n"
         "clinic/protocols/p1.yaml:11:16: stop: 'from' lacks the key 'day'; add it, or write a day of the item "
         "[missing-key]\n"
         "clinic/protocols/p1.yaml:11:35: stop: '250' has no unit; write one after the number, as in '250 mcg' "
         "[no-unit]\n"
         "clinic/protocols/p1.yaml:12:25: stop: 'dose' lacks the key 'call'; add it, or write an amount [missing-key]\n"
         "clinic/protocols/p1.yaml:13:25: stop: 'paln' does not begin with a number; write one, as in '250 mcg' "
         "[no-number]\n"
         "clinic/protocols/p1.yaml:14:47: stop: 'may_become' needs 'dose: {call: ...}' beside it, since it lists what "
         "a "
         "call may set [missing-key]\n"
         "clinic/protocols/p1.yaml:15:9: stop: an entry of 'doses' lacks the key 'from'; add it [missing-key]\n"},
	{"a rhythm of two kinds, weekdays and needs that are none", "clinic/protocols/p1.yaml",
         PROTOCOL "    every: 2 days\n    weekdays: [mon, thr]\n    as_needed: {most: twice}\n    window: 1 day\n",
         "clinic/protocols/p1.yaml:6:5: stop: 'every' and 'weekdays' exclude each other; keep one [exclusive-keys]\n"
         "clinic/protocols/p1.yaml:12:21: stop: 'thr' is not known here; did you mean 'thu'? [unknown-word]\n"
         "clinic/protocols/p1.yaml:13:23: stop: 'twice' is no number a day; write it as in '2 per day' [bad-number]\n"},
	{"a time twice", "clinic/protocols/p1.yaml",
         ITEM
         "    at: [evening, morning, evening]\n    start: {event: go, day: 1}\n    doses: [{from: 1, dose: 250 mcg}]\n",
         "clinic/protocols/p1.yaml:7:28: stop: 'evening' is here twice; delete one, or the dose is given twice "
         "[duplicate-time]\n"},
	{"an event and an item of one id", "clinic/protocols/p1.yaml",
         "protocol: p1\ntitle: {en: One}\nevents: [{id: one, label: {en: Go}, own_day: 1}]\nitems:\n  - id: one\n"
         "    medicine: examplin\n    at: [evening]\n    start: {on: 2026-12-01}\n    doses: [{from: 1, dose: 250 "
         "mcg}]\n",
         "clinic/protocols/p1.yaml:5:5: stop: the item 'one' is here twice, first in line 3; give it another id "
         "[duplicate-id]\n"},
	{"a product that the medicine lacks", "clinic/protocols/p1.yaml", PROTOCOL "    products: [examplin-kti]\n",
         "clinic/protocols/p1.yaml:11:16: stop: unknown product 'examplin-kti' of 'examplin'; did you mean "
         "'examplin-kit'? [unknown-product]\n"},
	{"a wait before an event in another unit than minutes and hours", "clinic/protocols/p1.yaml",
         "protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1, time_is: arrival, "
         "arrive_before: 0.5 "
         "day}]\nitems: [{id: one, medicine: examplin, start: {event: go}, doses: [{from: 1, dose: 250 mcg}]}]\n",
         "clinic/protocols/p1.yaml:3:81: stop: '0.5 day' is no number of whole minutes or hours; write one, as in '90 "
         "min' "
         "[not-whole-minutes]\n"},
	{"a wait of part of a minute", "clinic/protocols/p1.yaml",
         "protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1, time_is: arrival, "
         "arrive_before: 1.5 "
         "min}]\nitems: [{id: one, medicine: examplin, start: {event: go}, doses: [{from: 1, dose: 250 mcg}]}]\n",
         "clinic/protocols/p1.yaml:3:81: stop: '1.5 min' is no number of whole minutes or hours; write one, as in '90 "
         "min' "
         "[not-whole-minutes]\n"},
	{"an arrival that does not say how long before", "clinic/protocols/p1.yaml",
         "protocol: p1\ntitle: {en: One}\nevents: [{id: go, label: {en: Go}, own_day: 1, time_is: arrival}]\nitems:\n  "
         "- id: one\n"
         "    medicine: examplin\n    at: [evening]\n    start: {event: go, day: 1}\n    doses: [{from: 1, dose: 250 "
         "mcg}]\n",
         "clinic/protocols/p1.yaml:3:57: stop: 'time_is: arrival' needs 'arrive_before' beside it; add it, as in '90 "
         "min' "
         "[missing-key]\n"},
	{"one protocol in two files", "clinic/protocols/p2.yaml", PROTOCOL,
         "clinic/protocols/p2.yaml:1:1: stop: the protocol 'p1' is here twice, first in clinic/protocols/p1.yaml:1; "
         "give "
         "it another id [duplicate-id]\n"},
	{"a file with another ending", "clinic/protocols/p2.yml", PROTOCOL,
         "clinic/protocols/p2.yml: stop: this file is not read, as its name does not end in '.yaml'; rename it, or "
         "move "
         "it away [wrong-ending]\n"},
};

/* ---- plans ---- */

static const struct row plans[] = {
	{"a course of its own that lacks things", "plan.yaml",
         "patient: {name: A, allergies: [none]}\nlanguage: en\nas_of: 2026-12-03\n"
         "protocol: {protocol: p1, items: [{id: one, medicine: exampin, start: {on: 2026-12-04}}]}\n",
         "plan.yaml:4:11: stop: 'protocol' lacks the key 'title'; add it [missing-key]\n"
         "plan.yaml:4:12: stop: unknown key 'protocol' in 'protocol'; mend or delete it [unknown-key]\n"
         "plan.yaml:4:34: stop: 'one' lacks the key 'doses'; add it [missing-key]\n"
         "plan.yaml:4:54: stop: unknown medicine 'exampin'; did you mean 'examplin'? [unknown-medicine]\n"},
	{"unknown names", "plan.yaml",
         "patient: {name: A, allergies: [none]}\nlanguage: es\nprotocol: p1\nas_of: 2026-12-03\n"
         "events: {gi: 2026-12-04}\ndoses: {on: [{from: 1, dose: 250 mcg}]}\n"
         "changes: [{item: two, from: 2026-12-05, product: kit}]\ncalled: [{item: noe, on: 2026-12-05}]\n"
         "zone: Mars/Base\naway: [{from: 2026-12-10, to: 2026-12-12, zone: Lisbon, keep: watch}]\n",
         "plan.yaml:2:11: stop: 'es' is not one of the clinic's languages; use one of clinic.yaml's 'languages' "
         "[unknown-language]\n"
         "plan.yaml:5:10: stop: unknown event 'gi' of protocol 'p1'; did you mean 'go'? [unknown-event]\n"
         "plan.yaml:6:9: stop: unknown item 'on'; did you mean 'one'? [unknown-item]\n"
         "plan.yaml:7:18: stop: unknown item 'two'; name one that is listed [unknown-item]\n"
         "plan.yaml:7:50: stop: unknown product 'kit'; name one that is listed [unknown-product]\n"
         "plan.yaml:8:17: stop: unknown item 'noe'; did you mean 'one'? [unknown-item]\n"
         "plan.yaml:9:7: stop: unknown zone 'Mars/Base'; use area and place, as in 'Europe/London' [unknown-zone]\n"
         "plan.yaml:10:49: stop: unknown zone 'Lisbon'; use area and place, as in 'Europe/London' [unknown-zone]\n"
         "plan.yaml:10:63: stop: 'watch' is not known here; write 'clock' or 'hours' [unknown-word]\n"},
	{"'none' beside an allergy", "plan.yaml",
         "patient: {name: A, allergies: [latex, none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\n",
         "plan.yaml:1:39: stop: 'none' stands beside an allergy; delete one of them [contradiction]\n"},
	{"a dose that the plan leaves to itself", "plan.yaml", PLAN "doses: {one: [{from: 1, dose: plan}]}\n",
         "plan.yaml:6:31: stop: 'plan' refers to this plan itself; write the amount [dose-missing]\n"},
	{"changes of two kinds, of none, and that change nothing", "plan.yaml",
         PLAN "changes:\n  - {item: one, from: 2026-12-05, dose: 125 mcg, stop: yes}\n"
              "  - {item: one, from: 2026-12-06, because: {en: B}}\n  - {item: one, from: 2026-12-07, skip: no}\n",
         "plan.yaml:7:5: stop: 'dose' and 'stop' exclude each other; keep one [exclusive-keys]\n"
         "plan.yaml:8:5: stop: the change lacks what it changes; write 'dose', 'stop', 'skip', 'at' or 'product' "
         "[missing-key]\n"
         "plan.yaml:9:41: stop: 'skip: no' changes nothing; delete it [contradiction]\n"},
	{"what is left of a box that nobody opened", "plan.yaml",
         PLAN "dispensed: [{product: examplin-kit, count: 1, left: 125 mcg}]\n",
         "plan.yaml:6:53: stop: 'left' needs 'opened' beside it; add the day [missing-key]\n"},
	{"an event with a time of day that does not exist", "plan.yaml",
         "patient: {name: A, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "\"2026-12-04 24:00\"}\n",
         "plan.yaml:5:14: stop: '24:00' is 12:00 at night, which can be the night before or after 2026-12-04; write "
         "23:59 or 00:01 of the day meant [midnight-ambiguous]\n"},
	{"12:00 at night, in the words of a clock of 12 hours", "plan.yaml",
         "patient: {name: A, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "\"2026-12-04 12:00 at night\"}\n",
         "plan.yaml:5:14: stop: '12:00 at night' is 12:00 at night, which can be the night before or after 2026-12-04; "
         "write 23:59 or 00:01 of the day meant [midnight-ambiguous]\n"},
	{"12 am", "plan.yaml",
         "patient: {name: A, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "\"2026-12-04 12 AM\"}\n",
         "plan.yaml:5:14: stop: '12 AM' is 12:00 at night, which can be the night before or after 2026-12-04; write "
         "23:59 or 00:01 of the day meant [midnight-ambiguous]\n"},
	{"noon is no night", "plan.yaml",
         "patient: {name: A, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "\"2026-12-04 12:00 pm\"}\n",
         "plan.yaml:5:14: stop: '2026-12-04 12:00 pm' is no date; write it as in 2026-12-04, or with a time as in "
         "\"2026-12-14 21:30\" [bad-date]\n"},
	{"midnight of no day", "plan.yaml",
         "patient: {name: A, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "\"2026-12-34 midnight\"}\n",
         "plan.yaml:5:14: stop: '2026-12-34 midnight' is no date; write it as in 2026-12-04, or with a time as in "
         "\"2026-12-14 21:30\" [bad-date]\n"},
};

/* ---- words and templates that a clinic has of its own ---- */

static const struct row overrides[] = {
	{"words of its own", "clinic/words/en.yaml", "language: en\nwords: {hello: \"Good day {name}\"}\n", ""},
	{"words that nothing says", "clinic/words/en.yaml", "language: en\nwords:\n  helo: Hi\n  goodbye: Bye\n",
         "clinic/words/en.yaml:3:3: stop: unknown key 'helo'; did you mean 'hello'? [unknown-key]\n"
         "clinic/words/en.yaml:4:3: stop: unknown key 'goodbye'; mend or delete it [unknown-key]\n"},
	{"places that nothing fills", "clinic/words/en.yaml",
         "language: en\nwords:\n  hello: \"Hello {nme} and {all}\"\n  days: {one: \"{n} day\", other: \"{m} days\"}\n",
         "clinic/words/en.yaml:3:3: stop: 'hello' has no {nme} to fill in; did you mean 'name'? [unknown-placeholder]\n"
         "clinic/words/en.yaml:3:3: stop: 'hello' has no {all} to fill in [unknown-placeholder]\n"
         "clinic/words/en.yaml:4:3: stop: 'days' has no {m} to fill in [unknown-placeholder]\n"},
	{"a place that is left out", "clinic/words/en.yaml", "language: en\nwords: {hello: \"Good day\"}\n",
         "clinic/words/en.yaml:2:9: stop: 'hello' leaves out {name}, which the sheet needs; put it in "
         "[unused-placeholder]\n"},
	{"forms that are none, or lack the last", "clinic/words/en.yaml",
         "language: en\nwords:\n  days: {one: \"{n} day\", more: \"{n} days\"}\n  hello: [a]\n",
         "clinic/words/en.yaml:3:3: stop: 'days' lacks the form 'other'; add it [missing-key]\n"
         "clinic/words/en.yaml:3:26: stop: unknown key 'more' in 'days'; mend or delete it [unknown-key]\n"
         "clinic/words/en.yaml:4:10: stop: 'hello' must be one value, or keys of its own: zero, one, two, few, many, "
         "other [wrong-type]\n"},
	{"words of another language", "clinic/words/en.yaml", "language: es\nwords: {hello: \"Hola {name}\"}\n",
         "clinic/words/en.yaml:1:11: stop: this file is named for 'en' and says 'es'; mend one [wrong-language]\n"},
	{"an order of pages", "clinic/templates/pages.yaml", "order: [check, grid, overview]\n", ""},
	{"an order without the staff's check", "clinic/templates/pages.yaml", "order: [grid, overview]\n",
         "clinic/templates/pages.yaml:1:9: stop: the order leaves out 'check', without which no packet is printed; "
         "put it in [page-missing]\n"},
	{"pages that are none", "clinic/templates/pages.yaml", "order: [gird, check, check]\n",
         "clinic/templates/pages.yaml:1:9: stop: unknown page 'gird'; did you mean 'grid'? [unknown-page]\n"
         "clinic/templates/pages.yaml:1:22: stop: the page 'check' is here twice; delete one [duplicate-id]\n"},
	{"steps", "clinic/templates/steps/powder.yaml",
         "technique: powder-vial\nsteps: [{id: a, picture: b, side: middle, warning: often}]\n",
         "clinic/templates/steps/powder.yaml:2:35: stop: 'middle' is not known here; write 'first', 'front', 'back', "
         "'second-day', 'pens-first', 'each-pen', 'mix', 'line', 'rest' or 'helper' [unknown-word]\n"
         "clinic/templates/steps/powder.yaml:2:52: stop: 'often' is not known here; write 'yes', 'no', 'true' or "
         "'false' "
         "[unknown-word]\n"},
};

static void says(void **state)
{
	const struct row *row = case_of(state)->row;
	enum load_status status;
	write_text(state, row->path, row->text);
	assert_string_equal(what_is_said(state, &status), row->said);
}

#define ADD(tests, rows)                                           \
	for (size_t i = 0; i < sizeof(rows) / sizeof *(rows); i++) \
	tests_add_in_folder(tests, (rows)[i].name, says, &(rows)[i])

int main(void)
{
	struct tests tests = {0};
	ADD(&tests, shapes);
	ADD(&tests, values);
	ADD(&tests, clinics);
	ADD(&tests, formularies);
	ADD(&tests, protocols);
	ADD(&tests, plans);
	ADD(&tests, overrides);
	return tests_run(&tests, "faults of files");
}
