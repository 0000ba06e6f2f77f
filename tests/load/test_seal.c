/*
 * Seals are of meaning: writing the same otherwise changes none, and every change of meaning breaks the one it should.
 */
#include "support/clinic_files.h"

#include <string.h>

struct row {
	const char *name;
	const char *kind;
	const char *id;
	const char *path;
	const char *text;
	bool breaks;
};

#define PRODUCT                                                                       \
	"medicines:\n  - id: examplin\n    name: Examplin\n    route: subcutaneous\n" \
	"    limits: {least: 125 mcg, most: 250 mcg}\n    products:\n      - id: examplin-kit\n"

#define MEDICINE "medicine", "examplin", "clinic/formulary.yaml"

static const struct row medicines[] = {
	{"the same", MEDICINE, FORMULARY, false},
	{"a comment", MEDICINE, "# here\n" FORMULARY "# and here\n", false},
	{"keys in another order", MEDICINE,
         "medicines:\n  - products:\n      - syringe: t1\n"
         "        diluent: {comes_as: syringe, use: 1 mL, supplied: 1 mL, name: {en: water}}\n"
         "        strength: 250 mcg\n        container: powder-vial\n        id: examplin-kit\n"
         "    limits: {most: 250 mcg, least: 125 mcg}\n    route: subcutaneous\n    name: Examplin\n    id: examplin\n",
         false},
	{"quotes and flow", MEDICINE,
         "medicines: [{\"id\": 'examplin', name: \"Examplin\", route: subcutaneous,\n"
         "  limits: {least: \"125 mcg\", most: 250 mcg}, products: [{id: examplin-kit, container: powder-vial,\n"
         "  strength: \"250 mcg\", diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: syringe}, "
         "syringe: t1}]}]\n",
         false},
	{"an amount with another spelling of its unit", MEDICINE,
         PRODUCT "        container: powder-vial\n        strength: 250 micrograms\n"
                 "        diluent: {name: {en: water}, supplied: 1 millilitre, use: 1 ml, comes_as: syringe}\n        "
                 "syringe: t1\n",
         false},
	{"defaults written out", MEDICINE,
         FORMULARY
         "        mix: swirl\n        draw_with: own\n        whole: all\n        powders_per_diluent: 1\n"
         "        span: no\n        bubble: expel\n        air: none\n        rub: no\n        technique: powder-vial\n"
         "        needles: {filter: no}\n",
         false},
	{"another medicine beside it", MEDICINE,
         FORMULARY "  - id: other\n    name: O\n    route: oral\n    products: [{id: o, container: counted, strength: "
                   "1 tablet}]\n",
         false},
	{"the strength", MEDICINE,
         PRODUCT
         "        container: powder-vial\n        strength: 500 mcg\n"
         "        diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n        syringe: t1\n",
         true},
	{"the strength in another unit", MEDICINE,
         PRODUCT
         "        container: powder-vial\n        strength: 0.25 mg\n"
         "        diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n        syringe: t1\n",
         true},
	{"the liquid used", MEDICINE,
         PRODUCT
         "        container: powder-vial\n        strength: 250 mcg\n"
         "        diluent: {name: {en: water}, supplied: 1 mL, use: 0.9 mL, comes_as: syringe}\n        syringe: t1\n",
         true},
	{"the liquid supplied", MEDICINE,
         PRODUCT
         "        container: powder-vial\n        strength: 250 mcg\n"
         "        diluent: {name: {en: water}, supplied: 2 mL, use: 1 mL, comes_as: syringe}\n        syringe: t1\n",
         true},
	{"the liquid's name", MEDICINE,
         PRODUCT
         "        container: powder-vial\n        strength: 250 mcg\n"
         "        diluent: {name: {en: saline}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n        syringe: t1\n",
         true},
	{"what the liquid comes in", MEDICINE,
         PRODUCT
         "        container: powder-vial\n        strength: 250 mcg\n"
         "        diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: vial}\n        syringe: t1\n",
         true},
	{"no syringe", MEDICINE,
         PRODUCT "        container: powder-vial\n        strength: 250 mcg\n"
                 "        diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n",
         true},
	{"the container", MEDICINE,
         PRODUCT "        container: ampoule\n        strength: 250 mcg\n        volume: 1 mL\n        syringe: t1\n",
         true},
	{"a concentration", MEDICINE, FORMULARY "        concentration: 250 mcg/mL\n", true},
	{"the box", MEDICINE, FORMULARY "        box_says: \"0.25 mg\"\n", true},
	{"a second strength", MEDICINE, FORMULARY "        also_labelled: 75 units\n", true},
	{"a displacement", MEDICINE, FORMULARY "        displacement: 0.1 mL\n", true},
	{"a displacement of nothing", MEDICINE, FORMULARY "        displacement: 0 mL\n", true},
	{"powders for one liquid", MEDICINE, FORMULARY "        powders_per_diluent: 2\n", true},
	{"mixing", MEDICINE, FORMULARY "        mix: roll\n", true},
	{"the syringe that draws", MEDICINE, FORMULARY "        draw_with: diluent-syringe\n", true},
	{"a whole one to the mark", MEDICINE, FORMULARY "        whole: to-mark\n", true},
	{"sharing", MEDICINE, FORMULARY "        share: {policy: P, keep: 24 h, where: fridge}\n", true},
	{"days in use", MEDICINE, FORMULARY "        in_use: 28 days\n", true},
	{"spanning", MEDICINE, FORMULARY "        span: yes\n", true},
	{"a loss", MEDICINE, FORMULARY "        loss: 0.1 mL\n", true},
	{"what it contains", MEDICINE, FORMULARY "        contains: [latex]\n", true},
	{"what is in the box", MEDICINE, FORMULARY "        comes_with: [{needle: mixing}]\n", true},
	{"needles", MEDICINE, FORMULARY "        needles: {giving: {gauge: 27, length: 13 mm}}\n", true},
	{"a filter", MEDICINE, FORMULARY "        needles: {filter: yes}\n", true},
	{"the bubble", MEDICINE, FORMULARY "        bubble: keep\n", true},
	{"warming", MEDICINE, FORMULARY "        warm_up: 30 min\n", true},
	{"wearing", MEDICINE, FORMULARY "        wear: 3 days\n", true},
	{"storage", MEDICINE, FORMULARY "        storage: {en: Cold}\n", true},
	{"technique", MEDICINE, FORMULARY "        technique: other\n", true},
	{"air", MEDICINE, FORMULARY "        air: equal\n", true},
	{"surplus", MEDICINE, FORMULARY "        swap_surplus: yes\n", true},
	{"holding", MEDICINE, FORMULARY "        hold: 10 s\n", true},
	{"pulling back", MEDICINE, FORMULARY "        aspirate: yes\n", true},
	{"pulling the skin", MEDICINE, FORMULARY "        skin_pull: yes\n", true},
	{"rubbing", MEDICINE, FORMULARY "        rub: yes\n", true},
	{"testing", MEDICINE, FORMULARY "        test: first\n", true},
	{"a pen's end", MEDICINE, FORMULARY "        pen_end: stops\n", true},
	{"a start line", MEDICINE, FORMULARY "        start_line: 0.5 mL\n", true},
	{"priming", MEDICINE, FORMULARY "        prime: {en: twice}\n", true},
	{"a gap of sprays", MEDICINE, FORMULARY "        spray_gap: 30 s\n", true},
	{"a cap", MEDICINE, FORMULARY "        cap: yes\n", true},
	{"a purpose", MEDICINE, FORMULARY "    purpose: {en: Calms}\n", true},
	{"two places", MEDICINE, FORMULARY "    two_sites: yes\n", true},
	{"one place, as when left out", MEDICINE, FORMULARY "    two_sites: no\n", false},
	{"a caution", MEDICINE, FORMULARY "    cautions: [{en: Careful}]\n", true},
	{"missed doses", MEDICINE, FORMULARY "    missed: {en: Call}\n", true},
	{"places", MEDICINE, FORMULARY "    sites: [abdomen]\n", true},
	{"rounding", MEDICINE, FORMULARY "    rounding: {to: mark, most: 2 %}\n", true},
	{"another product", MEDICINE, FORMULARY "      - {id: b, container: counted, strength: 1 tablet}\n", true},
	{"a stand-in", MEDICINE,
         FORMULARY "        stands_in_for: [b]\n      - {id: b, container: counted, strength: 1 tablet}\n", true},
	{"the most", MEDICINE,
         "medicines:\n  - id: examplin\n    name: Examplin\n    route: subcutaneous\n    limits: {least: 125 mcg, "
         "most: 500 mcg}\n"
         "    products:\n      - id: examplin-kit\n        container: powder-vial\n        strength: 250 mcg\n"
         "        diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n        syringe: t1\n",
         true},
	{"the route and the name", MEDICINE,
         "medicines:\n  - id: examplin\n    name: Examplin\n    route: intramuscular\n    limits: {least: 125 mcg, "
         "most: 250 mcg}\n"
         "    products:\n      - id: examplin-kit\n        container: powder-vial\n        strength: 250 mcg\n"
         "        diluent: {name: {en: water}, supplied: 1 mL, use: 1 mL, comes_as: syringe}\n        syringe: t1\n",
         true},
};

#define P1 "protocol", "p1", "clinic/protocols/p1.yaml"
#define HEAD                                                                                                           \
	"protocol: p1\ntitle: {en: One}\nevents:\n  - {id: go, label: {en: Go}, own_day: 1}\nitems:\n  - id: one\n   " \
	" medicine: examplin\n"

#define EVENT(rest)                                                                                               \
	"protocol: p1\ntitle: {en: One}\nevents:\n  - {id: go, " rest                                             \
	"}\nitems:\n  - id: one\n    medicine: examplin\n    at: [evening]\n    start: {event: go, day: 1}\n    " \
	"doses: [{from: 1, dose: 250 mcg}]\n"
#define START(start) HEAD "    at: [evening]\n    start: {" start "}\n    doses: [{from: 1, dose: 250 mcg}]\n"

static const struct row protocols[] = {
	{"the same protocol", P1, PROTOCOL, false},
	{"its keys in another order", P1,
         "items:\n  - doses: [{dose: 250 micrograms, from: 1}] # all\n    start: {day: 1, event: go}\n    at: "
         "['evening']\n"
         "    medicine: examplin\n    id: one\nevents:\n  - {own_day: 1, exact: no, time_is: procedure, label: {en: "
         "Go}, id: go}\n"
         "title: {en: One}\nprotocol: p1\n",
         false},
	{"its dose", P1,
         HEAD "    at: [evening]\n    start: {event: go, day: 1}\n    doses: [{from: 1, dose: 125 mcg}]\n", true},
	{"its dose in another unit", P1,
         HEAD "    at: [evening]\n    start: {event: go, day: 1}\n    doses: [{from: 1, dose: 0.25 mg}]\n", true},
	{"a day more", P1,
         HEAD "    at: [evening]\n    start: {event: go, day: 2}\n    doses: [{from: 1, dose: 250 mcg}]\n", true},
	{"its time", P1,
         HEAD "    at: [morning]\n    start: {event: go, day: 1}\n    doses: [{from: 1, dose: 250 mcg}]\n", true},
	{"a clock time for a slot", P1,
         HEAD "    at: [\"20:00\"]\n    start: {event: go, day: 1}\n    doses: [{from: 1, dose: 250 mcg}]\n", true},
	{"a slot's time in clinic.yaml", "protocol", "p1", "clinic/clinic.yaml",
         "clinic: {en: T}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"08:00\", evening: \"21:00\"}\nphones: [{id: day, label: {en: Day}, number: \"000\"}]\n",
         true},
	{"another slot's time", "protocol", "p1", "clinic/clinic.yaml",
         "clinic: {en: T}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"07:00\", evening: \"20:00\"}\nphones: [{id: day, label: {en: Day}, number: \"000\"}]\n",
         false},
	{"an end", P1, PROTOCOL "    end: {days: 9}\n", true},
	{"a window", P1, PROTOCOL "    window: 1 h\n", true},
	{"a rhythm", P1, PROTOCOL "    every: 2 days\n", true},
	{"weekdays", P1, PROTOCOL "    weekdays: [mon]\n", true},
	{"need", P1, PROTOCOL "    as_needed: {most: 2 per day}\n", true},
	{"limits", P1, PROTOCOL "    limits: {most: 250 mcg}\n", true},
	{"a gap", P1, PROTOCOL "    gap_to: {event: go, most: 30 h}\n", true},
	{"an item's horizon", P1, PROTOCOL "    horizon: 9 days\n", true},
	{"products", P1, PROTOCOL "    products: [examplin-kit]\n", true},
	{"the horizon", P1, PROTOCOL "horizon: 9 days\n", true},
	{"a visit", P1, PROTOCOL "visits: [{event: go, day: 5}]\n", true},
	{"splitting", P1,
         HEAD "    at: [evening]\n    start: {event: go, day: 1}\n    doses: [{from: 1, dose: 250 mcg, split: yes}]\n",
         true},
	{"a call", P1, HEAD "    at: [evening]\n    start: {call: {en: Call}}\n    doses: [{from: 1, dose: 250 mcg}]\n",
         true},
	{"the words of a call", P1,
         HEAD "    at: [evening]\n    start: {event: go, day: 1}\n    doses: [{from: 1, dose: {call: {en: C}}, "
              "may_become: [250 mcg]}]\n",
         true},
	{"a comment at the end", P1, PROTOCOL "    # \n", false},
	{"an event's label", P1, EVENT("label: {en: Ho}, own_day: 1"), true},
	{"an event's own day", P1, EVENT("label: {en: Go}, own_day: 0"), true},
	{"an event's exactness", P1, EVENT("label: {en: Go}, own_day: 1, exact: yes"), true},
	{"an event's check", P1, EVENT("label: {en: Go}, own_day: 1, check: {before: one, by: 36 h}"), true},
	{"an event's arrival", P1, EVENT("label: {en: Go}, own_day: 1, time_is: arrival, arrive_before: 1 h"), true},
	{"a start so long after", P1, START("event: go, plus: 1 h"), true},
	{"a start so long before", P1, START("event: go, minus: 1 h"), true},
	{"a start on a day", P1, START("on: 2026-12-04"), true},
	{"a start at the first of two", P1, START("first_of: [{event: go, day: 1}, {on: 2026-12-04}]"), true},
	{"a start at the last of two", P1, START("last_of: [{event: go, day: 1}, {on: 2026-12-04}]"), true},
	{"the medicine behind it", "protocol", "p1", "clinic/formulary.yaml", FORMULARY "    purpose: {en: Calms}\n",
         false},
};

#define OWN_SYRINGE "syringe", "own", "clinic/syringes.yaml"
#define SYRINGE(rest)                                                                                         \
	"syringes:\n  - {id: own, name: {en: small}, capacity: 1 mL, step: 0.01 mL, numbered_every: 0.1 mL, " \
	"scale_length: " rest "}\n"

static const struct row syringes[] = {
	{"the same syringe", OWN_SYRINGE, SYRINGE("57 mm, barrel: 6.5 mm"), false},
	{"its default written out", OWN_SYRINGE,
         SYRINGE("5.7 cm, barrel: 6.5 mm, scale: mL, needle: none, measured: no, graduated: 1 mL"), false},
	{"its length", OWN_SYRINGE, SYRINGE("57.1 mm, barrel: 6.5 mm"), true},
	{"its barrel", OWN_SYRINGE, SYRINGE("57 mm, barrel: 6.6 mm"), true},
	{"its needle", OWN_SYRINGE, SYRINGE("57 mm, barrel: 6.5 mm, needle: fixed"), true},
	{"its measuring", OWN_SYRINGE, SYRINGE("57 mm, barrel: 6.5 mm, measured: yes"), true},
	{"its graduation", OWN_SYRINGE, SYRINGE("57 mm, barrel: 6.5 mm, graduated: 1.1 mL"), true},
	{"its scale", OWN_SYRINGE, SYRINGE("57 mm, barrel: 6.5 mm, scale: {units_per_mL: 100, name: {en: I}}"), true},
	{"its step", OWN_SYRINGE,
         "syringes:\n  - {id: own, name: {en: small}, capacity: 1 mL, step: 0.02 mL, numbered_every: 0.1 mL, "
         "scale_length: 57 mm, barrel: 6.5 mm}\n",
         true},
	{"its numbers", OWN_SYRINGE,
         "syringes:\n  - {id: own, name: {en: small}, capacity: 1 mL, step: 0.01 mL, numbered_every: 0.2 mL, "
         "scale_length: 57 mm, barrel: 6.5 mm}\n",
         true},
	{"its name", OWN_SYRINGE,
         "syringes:\n  - {id: own, name: {en: large}, capacity: 1 mL, step: 0.01 mL, numbered_every: 0.1 mL, "
         "scale_length: 57 mm, barrel: 6.5 mm}\n",
         true},
};

#define A_PLAN "plan", "plan", "plan.yaml"

static const struct row plans[] = {
	{"the same plan", A_PLAN, PLAN, false},
	{"its keys in another order, with a comment", A_PLAN,
         "events: {go: 2026-12-04} # the first\nas_of: 2026-12-03\nprotocol: \"p1\"\nlanguage: en\n"
         "patient: {allergies: [none], name: A B}\n",
         false},
	{"its version written out", A_PLAN, PLAN "version: 1\n", false},
	{"paper and size", A_PLAN, PLAN "paper: letter\nlarge_print: yes\n", false},
	{"its zone written out", A_PLAN, PLAN "zone: Europe/London\n", false},
	{"another zone", A_PLAN, PLAN "zone: Europe/Dublin\n", true},
	{"another version", A_PLAN, PLAN "version: 2\n", true},
	{"a dose", A_PLAN, PLAN "doses: {one: [{from: 1, dose: 125 mcg}]}\n", true},
	{"a change", A_PLAN, PLAN "changes: [{item: one, from: 2026-12-06, stop: yes}]\n", true},
	{"a call", A_PLAN, PLAN "called: [{item: one, on: 2026-12-06}]\n", true},
	{"a journey", A_PLAN, PLAN "away: [{from: 2026-12-06, to: 2026-12-07, zone: Europe/London, keep: clock}]\n",
         true},
	{"a box", A_PLAN, PLAN "dispensed: [{product: examplin-kit, count: 1}]\n", true},
	{"the day it is good until", A_PLAN, PLAN "good_until: 2026-12-09\n", true},
	{"what it replaces", A_PLAN, PLAN "replaces: {file: a.yaml}\n", true},
	{"the day it speaks from", A_PLAN,
         "patient: {name: A B, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-02\nevents: {go: "
         "2026-12-04}\n",
         true},
	{"an event's day", A_PLAN,
         "patient: {name: A B, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "2026-12-05}\n",
         true},
	{"an event's time", A_PLAN,
         "patient: {name: A B, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "\"2026-12-04 09:00\"}\n",
         true},
	{"the name", A_PLAN,
         "patient: {name: A C, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "2026-12-04}\n",
         true},
	{"the birthday", A_PLAN,
         "patient: {name: A B, born: 1990-01-01, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: "
         "2026-12-03\nevents: {go: 2026-12-04}\n",
         true},
	{"an allergy", A_PLAN,
         "patient: {name: A B, allergies: [latex]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: "
         "2026-12-04}\n",
         true},
	{"nothing said about allergies", A_PLAN,
         "patient: {name: A B}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\nevents: {go: 2026-12-04}\n", true},
};

#define OWN_WORDS "words", "en", "clinic/words/en.yaml"
#define OWN_STEPS "steps", "powder-vial", "clinic/templates/steps/powder-vial.yaml"

#define CLINIC_ENTRY "clinic", "clinic.yaml", "clinic/clinic.yaml"

static const struct row clinics[] = {
	{"a clinic as it was", CLINIC_ENTRY, CLINIC "# seen\n", false},
	{"its slots in another order", CLINIC_ENTRY,
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {evening: \"20:00\", morning: \"08:00\"}\n"
         "phones: [{id: day, label: {en: Day}, number: \"000\"}]\n",
         false},
	{"its default written out", CLINIC_ENTRY, CLINIC "rotation: sides\n", false},
	{"a telephone number", CLINIC_ENTRY,
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"08:00\", evening: \"20:00\"}\n"
         "phones: [{id: day, label: {en: Day}, number: \"001\"}]\n",
         true},
	{"what a telephone is called", CLINIC_ENTRY,
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"08:00\", evening: \"20:00\"}\n"
         "phones: [{id: day, label: {en: Night}, number: \"000\"}]\n",
         true},
	{"when a telephone is answered", CLINIC_ENTRY,
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"08:00\", evening: \"20:00\"}\n"
         "phones: [{id: day, label: {en: Day}, number: \"000\", hours: \"08:00-17:00\"}]\n",
         true},
	{"when the day begins", CLINIC_ENTRY,
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"03:00\"\n"
         "slots: {morning: \"08:00\", evening: \"20:00\"}\n"
         "phones: [{id: day, label: {en: Day}, number: \"000\"}]\n",
         true},
	{"the hour of a slot", CLINIC_ENTRY,
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"08:00\", evening: \"20:30\"}\n"
         "phones: [{id: day, label: {en: Day}, number: \"000\"}]\n",
         true},
	{"two slots changed round", CLINIC_ENTRY,
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/London\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"20:00\", evening: \"08:00\"}\n"
         "phones: [{id: day, label: {en: Day}, number: \"000\"}]\n",
         true},
	{"the zone", CLINIC_ENTRY,
         "clinic: {en: Test Clinic}\ncountry: GB\nzone: Europe/Lisbon\nlanguages: [en]\nday_begins: \"04:00\"\n"
         "slots: {morning: \"08:00\", evening: \"20:00\"}\n"
         "phones: [{id: day, label: {en: Day}, number: \"000\"}]\n",
         true},
	{"the address", CLINIC_ENTRY, CLINIC "address: [Quay 9]\n", true},
	{"words for an emergency", CLINIC_ENTRY, CLINIC "emergency: {en: Call}\n", true},
	{"a disclaimer", CLINIC_ENTRY, CLINIC "disclaimer: {en: Ask}\n", true},
	{"how sites turn", CLINIC_ENTRY, CLINIC "rotation: quarters\n", true},
	{"what is in stock", CLINIC_ENTRY, CLINIC "stock: [own, t1]\n", true},
};

static const struct row others[] = {
	{"words in another order", OWN_WORDS,
         "words: {hello: 'Hi {name}', days: {other: \"{n} d\", one: a day}}\nlanguage: en\n", false},
	{"a word", OWN_WORDS, "language: en\nwords: {days: {one: a day, other: \"{n} d\"}, hello: \"Hey {name}\"}\n",
         true},
	{"a word less", OWN_WORDS, "language: en\nwords: {hello: \"Hi {name}\"}\n", true},
	{"words of the program", "words", "en", "data/templates/words/en.yaml",
         "language: en\nwords:\n  hello: \"Hallo {name}\"\n  days: \"{n}\"\n", false},
	{"steps with a default written out", OWN_STEPS,
         "technique: powder-vial\nsteps: [{side: front, id: mix, picture: swirl, warning: no}]\n", false},
	{"a step's side", OWN_STEPS, "technique: powder-vial\nsteps: [{id: mix, picture: swirl, side: back}]\n", true},
	{"a step's condition", OWN_STEPS,
         "technique: powder-vial\nsteps: [{id: mix, picture: swirl, side: front, when: [\"!whole\"]}]\n", true},
	{"that a step stops on the line", OWN_STEPS,
         "technique: powder-vial\nsteps: [{id: mix, picture: swirl, side: front, line: yes}]\n", true},
	{"that it stops on none, written out", OWN_STEPS,
         "technique: powder-vial\nsteps: [{id: mix, picture: swirl, side: front, line: no}]\n", false},
	{"an order of pages", "pages", "order", "clinic/templates/pages.yaml", "order: [grid, check]\n", true},
};

/* Digests of the entry before and after the row's file is there; the file of OWN entries is there from the start. */
static const char *digest_of(void **state, const struct row *row)
{
	if (strcmp(row->kind, "plan") == 0)
		return good_plan(state)->seal;
	const struct seal *seal = clinic_seal(good_clinic(state), row->kind, row->id);
	assert_non_null(seal);
	assert_int_equal(strlen(seal->digest), 64);
	return seal->digest;
}

static void write_own_entries(void **state)
{
	write_text(state, "clinic/syringes.yaml", SYRINGE("57 mm, barrel: 6.5 mm"));
	write_text(state, "clinic/words/en.yaml",
	           "language: en\nwords: {days: {one: a day, other: \"{n} d\"}, hello: \"Hi {name}\"}\n");
	write_text(state, "clinic/templates/steps/powder-vial.yaml",
	           "technique: powder-vial\nsteps: [{id: mix, picture: swirl, side: front}]\n");
	write_text(state, "data/templates/steps/other.yaml",
	           "technique: other\nsteps: [{id: mix, picture: swirl, side: front}]\n");
	write_text(state, "clinic/templates/pages.yaml", "order: [check, grid]\n");
}

/* Some rows write keys that a powder vial has no use for: a caution, and no matter here. */
static const struct clinic *clinic_with_cautions(void **state)
{
	struct arena *arena = case_of(state)->arena;
	struct findings findings = findings_in(arena);
	enum load_status status;
	const struct clinic *clinic = load_clinic(arena, "clinic", "data", &findings, &status);
	assert_non_null(clinic);
	return clinic;
}

static void keeps_or_breaks(void **state)
{
	const struct row *row = case_of(state)->row;
	write_own_entries(state);
	const char *before = digest_of(state, row);
	write_text(state, row->path, row->text);
	const char *after = strcmp(row->kind, "plan") == 0
	                            ? good_plan(state)->seal
	                            : clinic_seal(clinic_with_cautions(state), row->kind, row->id)->digest;
	if (row->breaks)
		assert_string_not_equal(before, after);
	else
		assert_string_equal(before, after);
}

/* Texts in two languages: their order says nothing, their words do. */
static void languages_have_no_order(void **state)
{
	write_text(state, "clinic/formulary.yaml", FORMULARY "    purpose: {en: Calms, es: Calma}\n");
	const char *one = clinic_seal(good_clinic(state), "medicine", "examplin")->digest;
	write_text(state, "clinic/formulary.yaml", FORMULARY "    purpose: {es: Calma, en: Calms}\n");
	const char *two = clinic_seal(good_clinic(state), "medicine", "examplin")->digest;
	write_text(state, "clinic/formulary.yaml", FORMULARY "    purpose: {es: Calms, en: Calma}\n");
	const char *three = clinic_seal(good_clinic(state), "medicine", "examplin")->digest;
	assert_string_equal(one, two);
	assert_string_not_equal(one, three);
}

/* '1,000 units' and '1000 units' are one amount, and a map's order says nothing. */
static void thousands_and_event_order_say_nothing(void **state)
{
	write_text(state, "clinic/protocols/p1.yaml",
	           "protocol: p1\ntitle: {en: One}\n"
	           "events: [{id: a, label: {en: A}, own_day: 1}, {id: b, label: {en: B}, own_day: 1}]\n"
	           "items:\n  - {id: one, medicine: examplin, at: [evening], start: {event: a}, doses: [{from: 1, "
	           "dose: plan}]}\n"
	           "  - {id: two, medicine: examplin, at: [morning], start: {event: b}, doses: [{from: 1, dose: "
	           "plan}]}\n");
#define PATIENT "patient: {name: A B, allergies: [none]}\nlanguage: en\nprotocol: p1\nas_of: 2026-12-03\n"
	write_text(state, "plan.yaml",
	           PATIENT "events: {a: 2026-12-04, b: 2026-12-05}\n"
	                   "doses: {one: [{from: 1, dose: \"1,000 units\"}], two: [{from: 1, dose: 75 IU}]}\n");
	const char *one = good_plan(state)->seal;
	write_text(state, "plan.yaml",
	           PATIENT "events: {b: 2026-12-05, a: 2026-12-04}\n"
	                   "doses: {two: [{from: 1, dose: 75 units}], one: [{from: 1, dose: 1000 units}]}\n");
	assert_string_equal(one, good_plan(state)->seal);
	write_text(state, "plan.yaml",
	           PATIENT "events: {b: 2026-12-04, a: 2026-12-05}\n"
	                   "doses: {two: [{from: 1, dose: 75 units}], one: [{from: 1, dose: 1000 units}]}\n");
	assert_string_not_equal(one, good_plan(state)->seal);
	write_text(state, "plan.yaml",
	           PATIENT "events: {b: 2026-12-05, a: 2026-12-04}\n"
	                   "doses: {one: [{from: 1, dose: 75 units}], two: [{from: 1, dose: 1000 units}]}\n");
	assert_string_not_equal(one, good_plan(state)->seal);
}

/* A course that stands in the plan is sealed with it: whatever changes in it changes the plan's seal. */
static void a_course_of_its_own_is_sealed_with_the_plan(void **state)
{
#define OWN(title, label, dose)                                                                                     \
	"patient: {name: A B, allergies: [none]}\nlanguage: en\nas_of: 2026-12-03\nprotocol:\n  title: {en: " title \
	"}\n  events: [{id: go, label: {en: " label "}, own_day: 0}]\n  items:\n"                                   \
	"    - {id: one, medicine: examplin, at: [evening], start: {on: 2026-12-04}, end: {days: 3},\n"             \
	"       doses: [{from: 1, dose: " dose "}]}\n"
	static const char *const changed[] = {OWN("Two", "Go", "250 mcg"), OWN("One", "Gone", "250 mcg"),
	                                      OWN("One", "Go", "125 mcg"), OWN("One", "Go", "0.25 mg")};
	write_text(state, "plan.yaml", OWN("One", "Go", "250 mcg"));
	const struct plan *plan = good_plan(state);
	assert_true(plan->protocol->own);
	assert_string_equal(plan->protocol->items[0].medicine->id, "examplin");
	write_text(state, "plan.yaml", OWN("\"One\"", "Go", "\"250 mcg\""));
	const struct plan *same = good_plan(state);
	assert_string_equal(plan->seal, same->seal);
	assert_string_equal(plan->protocol->digest, same->protocol->digest);
	for (size_t i = 0; i < sizeof changed / sizeof *changed; i++) {
		write_text(state, "plan.yaml", changed[i]);
		const struct plan *other = good_plan(state);
		assert_string_not_equal(plan->seal, other->seal);
		assert_string_not_equal(plan->protocol->digest, other->protocol->digest);
	}
}

/* The canonical text itself: a digest that anybody can make with sha256sum from this text. */
static void a_seal_is_the_digest_of_this_text(void **state)
{
	/* printf 'fillmark seal 1\nsyringe\nid=own\nname{\nen=small\n}\ncapacity=1/1\ngraduated=1/1\nstep=1/100\n
	 * numbered_every=1/10\nunits_per_ml=1/1\nscale_length=57/1\nbarrel=13/2\n' | sha256sum */
	write_text(state, "clinic/syringes.yaml", SYRINGE("57 mm, barrel: 6.5 mm"));
	assert_string_equal(clinic_seal(good_clinic(state), "syringe", "own")->digest,
	                    "f6b05fe1bd00a59791897ae128baada1c01bdb8c30f194ea4b157bdc43e3da3a");
}

static void only_what_is_the_clinics_is_sealed(void **state)
{
	const struct clinic *clinic = good_clinic(state);
	assert_int_equal(clinic->n_seals, 3);
	assert_non_null(clinic_seal(clinic, "clinic", "clinic.yaml"));
	assert_non_null(clinic_seal(clinic, "medicine", "examplin"));
	assert_non_null(clinic_seal(clinic, "protocol", "p1"));
	write_own_entries(state);
	clinic = good_clinic(state);
	assert_int_equal(clinic->n_seals, 7);
	assert_true(clinic_words(clinic, "en")->clinic_over);
	assert_non_null(clinic_seal(clinic, "pages", "order"));
	assert_true(templates_technique(clinic->templates, "powder-vial")->clinic_over);
	write_text(state, "clinic/formulary.yaml",
	           FORMULARY "      - id: b\n        container: counted\n        strength: 1 tablet\n"
	                     "        stands_in_for: [examplin-kit]\n");
	assert_non_null(clinic_seal(good_clinic(state), "stand-in", "b"));
}

#define ADD(tests, rows)                                           \
	for (size_t i = 0; i < sizeof(rows) / sizeof *(rows); i++) \
	tests_add_in_folder(tests, (rows)[i].name, keeps_or_breaks, &(rows)[i])

int main(void)
{
	struct tests tests = {0};
	ADD(&tests, clinics);
	ADD(&tests, medicines);
	ADD(&tests, protocols);
	ADD(&tests, syringes);
	ADD(&tests, plans);
	ADD(&tests, others);
	tests_add_in_folder(&tests, "a course of its own", a_course_of_its_own_is_sealed_with_the_plan, NULL);
	tests_add_in_folder(&tests, "languages have no order", languages_have_no_order, NULL);
	tests_add_in_folder(&tests, "thousands and the order of a map say nothing",
	                    thousands_and_event_order_say_nothing, NULL);
	tests_add_in_folder(&tests, "a seal is the digest of a text", a_seal_is_the_digest_of_this_text, NULL);
	tests_add_in_folder(&tests, "only what is the clinic's is sealed", only_what_is_the_clinics_is_sealed, NULL);
	return tests_run(&tests, "seals");
}
