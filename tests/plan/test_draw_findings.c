/*
 * Every finding of a draw: its level, code and place, and the sentence that a reader gets. The medicine is 'testol',
 * the order stands at plan.yaml:7:11; the product's record begins at formulary.yaml:10 and has a line for each key.
 */
#include "plan/draw.h"

#include "support/cases.h"
#include "support/draws.h"

#include <string.h>

enum key_line {
	AT_PRODUCT = 10,
	AT_STRENGTH,
	AT_VOLUME,
	AT_LABEL,
	AT_DISPLACEMENT,
	AT_USE,
	AT_SUPPLIED,
	AT_START,
	AT_DIAL
};

/* A row: a record as the formulary writes it, an order, and what must be said. NULL: not given. */
struct refusal {
	const char *name;
	enum container_kind container;
	const char *strength;
	const char *volume;
	const char *label;
	const char *displacement;
	const char *use;
	const char *supplied;
	const char *also;
	const char *syringe; /* the product's */
	enum liquid_vessel comes_as;
	enum draw_with draw_with;
	enum part_way part;
	const char *start_line;
	int64_t powders; /* powders_per_diluent; 0: 1 */
	bool to_mark;
	bool halves;
	bool bare_diluent;   /* 'diluent' is there, and no amount in it */
	const char *dial[3]; /* step, least, most */

	const char *dose;
	int64_t containers; /* 0: 1 */
	bool whole;
	const char *rounding; /* "2": at most 2 % */

	bool caution; /* it is drawn all the same */
	const char *code;
	int line; /* of formulary.yaml; 0: the order's place */
	const char *says;
};

static const struct refusal refusals[] = {
	/* ---- what the order asks for ---- */
	{.name = "nothing at all",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "5 mg/mL",
         .dose = "0 mg",
         .code = "not-positive",
         .says = "the dose of testol is zero or less; write how much"},
	{.name = "mass from activity",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "10000 units",
         .use = "1 mL",
         .dose = "5 mg",
         .code = "unit-mismatch",
         .says = "5 mg of testol cannot be worked out from a strength in units: units to mg has no fixed factor; order "
                 "it in "
                 "units, or give the label's second strength as 'also_labelled'"},
	{.name = "activity from mass",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .dose = "8,000 units",
         .code = "unit-mismatch",
         .says = "8,000 units of testol cannot be worked out from a strength in mg: mg to units has no fixed factor; "
                 "order it "
                 "in mg, or give the label's second strength as 'also_labelled'"},
	{.name = "activity through a second label in volume of a liquid without content",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "80 mg/mL",
         .also = "8,000 units",
         .dose = "8,000 units",
         .code = "unit-mismatch",
         .says = "8,000 units of testol cannot be worked out from a strength in mg: mg to units has no fixed factor; "
                 "order it "
                 "in mg, or give the label's second strength as 'also_labelled'"},
	{.name = "tablets from a vial",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "5 mg/mL",
         .dose = "2 tablets",
         .code = "unit-mismatch",
         .says = "2 tablets of testol cannot be told in mg, in which 'p' is counted; order it in mg"},
	{.name = "patches from tablets",
         .container = CONTAINER_COUNTED,
         .strength = "1 tablet",
         .dose = "2 patches",
         .code = "unit-mismatch",
         .says = "2 patches of testol cannot be told in tablets, in which 'p' is counted; order it in tablets"},
	{.name = "mL of tablets",
         .container = CONTAINER_COUNTED,
         .strength = "1 tablet",
         .dose = "2 mL",
         .code = "unit-mismatch",
         .says = "2 mL of testol cannot be told in tablets, in which 'p' is counted; order it in tablets"},
	{.name = "two containers",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "5000 units",
         .use = "1 mL",
         .dose = "10,000 units",
         .syringe = "S3",
         .code = "dose-over-container",
         .says = "10,000 units of testol needs 2 containers, as 'p' holds 5,000 units; order it as doses that one "
                 "container "
                 "holds"},
	{.name = "a little over one container is two",
         .container = CONTAINER_AMPOULE,
         .strength = "50 mg",
         .volume = "1 mL",
         .dose = "50.5 mg",
         .code = "dose-over-container",
         .says = "50.5 mg of testol needs 2 containers, as 'p' holds 50 mg; order it as doses that one container "
                 "holds"},
	{.name = "over three powders in one liquid",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "75 units",
         .use = "1 mL",
         .powders = 3,
         .dose = "300 units",
         .containers = 3,
         .code = "dose-over-container",
         .says = "300 units of testol needs 4 containers, as 'p' holds 75 units and 3 share one liquid; order it as "
                 "doses that "
                 "one container holds"},
	{.name = "a volume over what one container makes",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "5 mg/mL",
         .volume = "2 mL",
         .dose = "2.1 mL",
         .code = "dose-over-container",
         .says = "2.1 mL of testol needs 2 containers, as 'p' holds 10 mg; order it as doses that one container holds"},
	{.name = "more powders than may share a liquid",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "75 units",
         .use = "1 mL",
         .dose = "150 units",
         .containers = 2,
         .code = "too-many-powders",
         .says = "150 units of testol needs 2 powders in one liquid, and of 'p' at most 1 may go into one; order less"},

	/* ---- lines ---- */
	{.name = "between lines, and another syringe has one",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "10 mg/mL",
         .syringe = "S3",
         .dose = "8.5 mg",
         .code = "volume-between-lines",
         .says = "8.5 mg of testol is 0.85 mL, between 0.8 mL (8 mg) and 0.9 mL (9 mg) on the syringe 'S3'; order an "
                 "amount that "
                 "has a line, or use the syringe 'T1', which has one there"},
	{.name = "between lines of the finest",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "10,000 units/mL",
         .syringe = "T1",
         .dose = "3333 units",
         .code = "volume-between-lines",
         .says = "3,333 units of testol is 0.3333 mL, between 0.33 mL (3,300 units) and 0.34 mL (3,400 units) on the "
                 "syringe "
                 "'T1'; order an amount that has a line, or name a finer syringe"},
	{.name = "between lines of all in stock",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "12 mg/mL",
         .dose = "2 mg",
         .code = "volume-between-lines",
         .says = "2 mg of testol is about 0.166667 mL, between 0.16 mL (1.92 mg) and 0.17 mL (2.04 mg) on the syringe "
                 "'T1'; no "
                 "other syringe in stock has a line there; order an amount that has one, or stock a finer syringe"},
	{.name = "between lines of a scale in units",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "600 units/mL",
         .syringe = "U100-03",
         .dose = "75 units",
         .code = "volume-between-lines",
         .says = "75 units of testol is 0.125 mL, between line 12 (72 units) and line 13 (78 units) on the syringe "
                 "'U100-03'; "
                 "order an amount that has a line, or name a finer syringe"},
	{.name = "below the first line",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "5 mg/mL",
         .syringe = "U100-03",
         .dose = "30 mcg",
         .code = "volume-between-lines",
         .says = "30 mcg of testol is 0.006 mL, between line 0 and line 1 (50 mcg) on the syringe 'U100-03'; order an "
                 "amount "
                 "that has a line, or name a finer syringe"},
	{.name = "rounding over what is allowed",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "600 units/mL",
         .syringe = "U100-03",
         .rounding = "2",
         .dose = "75 units",
         .code = "volume-between-lines",
         .says = "75 units of testol is 0.125 mL, between line 12 (72 units) and line 13 (78 units) on the syringe "
                 "'U100-03'; "
                 "the nearest is 4 % off, and rounding may be at most 2 %; order an amount that has a line, or name a "
                 "finer "
                 "syringe"},
	{.name = "rounding over by little is not said as what is allowed",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "1 mg/mL",
         .syringe = "T1",
         .rounding = "2",
         .dose = "0.102042 mg",
         .code = "volume-between-lines",
         .says = "0.102042 mg of testol is 0.102042 mL, between 0.1 mL (0.1 mg) and 0.11 mL (0.11 mg) on the syringe "
                 "'T1'; the "
                 "nearest is 2.01 % off, and rounding may be at most 2 %; order an amount that has a line, or name a "
                 "finer "
                 "syringe"},
	{.name = "a line to round to, but nothing would be left of the dose",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "5 mg/mL",
         .syringe = "S3",
         .rounding = "100",
         .dose = "0.2 mg",
         .code = "volume-between-lines",
         .says = "0.2 mg of testol is 0.04 mL, between 0 mL and 0.1 mL (0.5 mg) on the syringe 'S3'; the nearest "
                 "cannot be "
                 "rounded to; order an amount that has a line, or use the syringe 'T1', which has one there"},
	{.name = "rounding up to more than there is",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "10 mg",
         .volume = "0.98 mL",
         .syringe = "S3",
         .rounding = "5",
         .dose = "9.9 mg",
         .code = "volume-between-lines",
         .says = "9.9 mg of testol is 0.9702 mL, between 0.9 mL (about 9.183673 mg) and 1 mL (about 10.204082 mg) on "
                 "the syringe "
                 "'S3'; the nearest cannot be rounded to; order an amount that has a line, or name a finer syringe"},
	{.name = "more than the named syringe holds",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "50 mg/mL",
         .syringe = "S3",
         .dose = "200 mg",
         .code = "no-syringe-holds",
         .says = "200 mg of testol is 4 mL, more than the syringe 'S3' holds, 3 mL; it takes at least 2 injections, "
                 "which must be "
                 "doses of their own in the order, or a larger syringe"},
	{.name = "more than any syringe holds with room for air",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "1 mg/mL",
         .dose = "37 mg",
         .code = "no-syringe-holds",
         .says = "37 mg of testol is 37 mL, more than any syringe in stock holds with room for air; it takes at least "
                 "3 "
                 "injections, which must be doses of their own in the order, or a larger syringe"},
	{.name = "a whole vial that no syringe holds",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "19 mg",
         .volume = "19 mL",
         .whole = true,
         .dose = "19 mg",
         .code = "no-syringe-holds",
         .says = "19 mg of testol is 19 mL, more than any syringe in stock holds with room for air; it takes at least "
                 "2 "
                 "injections, which must be doses of their own in the order, or a larger syringe"},
	{.name = "a whole vial that its syringe does not hold",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "2 mg",
         .volume = "2 mL",
         .syringe = "T1",
         .whole = true,
         .dose = "2 mg",
         .code = "no-syringe-holds",
         .says = "2 mg of testol is 2 mL, more than the syringe 'T1' holds, 1 mL; it takes at least 2 injections, "
                 "which must be "
                 "doses of their own in the order, or a larger syringe"},
	{.name = "more by its label than there is",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "100 mg",
         .volume = "1 mL",
         .label = "99 mg/mL",
         .whole = true,
         .to_mark = true,
         .dose = "100 mg",
         .code = "dose-over-container",
         .says = "100 mg of testol is about 1.010101 mL by the label of 'p', but only 1 mL is there; order less, or "
                 "look at the "
                 "label and mend the record"},
	{.name = "a part in the liquid's own syringe of unknown scale",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "250 mcg",
         .use = "1 mL",
         .supplied = "1 mL",
         .draw_with = DRAW_WITH_LIQUID_SYRINGE,
         .dose = "125 mcg",
         .code = "no-scale",
         .says = "125 mcg of testol is measured on the syringe that its liquid comes in, and 'p' does not state that "
                 "syringe's "
                 "scale; name it as 'syringe'"},
	{.name = "coarse lines",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "5 mg/mL",
         .syringe = "U100-03",
         .dose = "450 mcg",
         .caution = true,
         .code = "coarse-line",
         .says = "one line off on the syringe 'U100-03' is 50 mcg, more than 10 % of 450 mcg of testol; a finer "
                 "syringe would be "
                 "safer"},
	{.name = "coarse lines on a filled syringe",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .syringe = "P025",
         .part = PART_EXPEL_FIRST,
         .dose = "20 mg",
         .caution = true,
         .code = "coarse-line",
         .says = "one line off on the filled syringe 'P025' is 2.5 mg, more than 10 % of 20 mg of testol; one with "
                 "finer lines, or "
                 "a whole one, would be safer"},
	{.name = "units on a scale of other units",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "500 units/mL",
         .syringe = "U100-1-1",
         .dose = "100 units",
         .caution = true,
         .code = "scale-is-not-dose",
         .says = "100 units of testol is line 20 on the syringe 'U100-1-1': the scale of the syringe is not the dose; "
                 "a syringe "
                 "with its scale in mL would be safer"},
	{.name = "syringe units on a scale of other units",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "5 mg/mL",
         .syringe = "U500",
         .dose = "20 syringe units",
         .caution = true,
         .code = "scale-is-not-dose",
         .says = "20 syringe units of testol is line 100 on the syringe 'U500': the scale of the syringe is not the "
                 "dose; a "
                 "syringe with its scale in mL would be safer"},

	/* ---- filled syringes ---- */
	{.name = "a part without a scale",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "250 mcg",
         .volume = "0.5 mL",
         .part = PART_EXPEL_FIRST,
         .dose = "125 mcg",
         .code = "no-scale",
         .says = "125 mcg of testol is a part of a filled syringe without a scale, and nothing shows where to stop; "
                 "order a whole "
                 "one, or give 'p' the scale that is printed on it as 'syringe'"},
	{.name = "a part that nobody says how to give",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .syringe = "P025",
         .dose = "40 mg",
         .code = "part-not-stated",
         .says = "40 mg of testol is a part of a filled syringe, and 'p' does not say how a part is given; order a "
                 "whole one, or "
                 "add 'part: expel-first' or 'part: inject-to'"},
	{.name = "a part between lines",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .syringe = "P025",
         .part = PART_EXPEL_FIRST,
         .dose = "72 mg",
         .code = "volume-between-lines",
         .says = "72 mg of testol is 0.72 mL, between 0.7 mL (70 mg) and 0.725 mL (72.5 mg) on the filled syringe "
                 "'P025'; order an "
                 "amount that has a line"},
	{.name = "a stop line between lines",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .syringe = "P025",
         .part = PART_INJECT_TO,
         .dose = "72 mg",
         .code = "volume-between-lines",
         .says = "72 mg of testol is 0.72 mL and leaves 0.08 mL, between 0.075 mL (72.5 mg) and 0.1 mL (70 mg) on the "
                 "filled "
                 "syringe 'P025'; order an amount that has a line"},
	{.name = "a stop line rounded to no dose at all",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .syringe = "P025",
         .part = PART_INJECT_TO,
         .rounding = "100",
         .dose = "1 mg",
         .code = "volume-between-lines",
         .says = "1 mg of testol is 0.01 mL and leaves 0.79 mL, between 0.775 mL (2.5 mg) and 0.8 mL on the filled "
                 "syringe 'P025'; "
                 "the nearest cannot be rounded to; order an amount that has a line"},
	{.name = "a part beyond the scale",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "200 mg",
         .volume = "2 mL",
         .syringe = "P025",
         .part = PART_EXPEL_FIRST,
         .dose = "150 mg",
         .code = "no-syringe-holds",
         .says = "150 mg of testol needs a line at 1.5 mL, but the scale of the filled syringe 'P025' ends at 1 mL; a "
                 "part cannot "
                 "be measured beyond it"},
	{.name = "a start line that is not there",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .syringe = "P025",
         .part = PART_INJECT_TO,
         .start_line = "0.79 mL",
         .dose = "40 mg",
         .code = "start-line-missing",
         .line = AT_START,
         .says = "'start_line' is 0.79 mL, but the filled syringe 'P025' has no line there; look at the syringe and "
                 "mend one"},
	{.name = "a start line above what it holds",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .syringe = "P025",
         .part = PART_INJECT_TO,
         .start_line = "0.9 mL",
         .dose = "40 mg",
         .code = "start-line-missing",
         .line = AT_START,
         .says = "'start_line' is 0.9 mL, but the filled syringe 'P025' holds only 0.8 mL; look at the syringe and "
                 "mend one"},
	{.name = "more than stands below the start line",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .volume = "0.8 mL",
         .syringe = "P025",
         .part = PART_INJECT_TO,
         .start_line = "0.5 mL",
         .dose = "60 mg",
         .code = "dose-over-container",
         .says = "60 mg of testol is 0.6 mL, more than the filled syringe 'P025' holds from its start line, 0.5 mL; "
                 "order less, or "
                 "two syringes"},
	{.name = "a stop line of an unknown volume",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "80 mg",
         .label = "100 mg/mL",
         .syringe = "P025",
         .part = PART_INJECT_TO,
         .dose = "60 mg",
         .code = "volume-missing",
         .says = "60 mg of testol is a part of a filled syringe, and 'p' does not state what that holds; add 'volume'"},

	/* ---- the record ---- */
	{.name = "no volume",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "5 mg",
         .dose = "5 mg",
         .code = "volume-missing",
         .line = AT_PRODUCT,
         .says = "'p' states no volume, so nothing says how much is in 1 mL; add 'volume', or write the strength as an "
                 "amount in "
                 "1 mL"},
	{.name = "a filled syringe without a volume",
         .container = CONTAINER_PREFILLED_SYRINGE,
         .strength = "5 mg",
         .whole = true,
         .dose = "5 mg",
         .code = "volume-missing",
         .line = AT_PRODUCT,
         .says = "'p' states no volume, so nothing says how much is in 1 mL; add 'volume', or write the strength as an "
                 "amount in "
                 "1 mL"},
	{.name = "a powder without a liquid",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "250 mcg",
         .dose = "125 mcg",
         .code = "liquid-missing",
         .line = AT_PRODUCT,
         .says = "'p' is a powder and does not state its liquid; add 'use' to its 'diluent'"},
	{.name = "a liquid without an amount",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "250 mcg",
         .bare_diluent = true,
         .dose = "125 mcg",
         .code = "liquid-missing",
         .line = AT_USE,
         .says = "'p' is a powder and does not state its liquid; add 'use' to its 'diluent'"},
	{.name = "a powder without a strength",
         .container = CONTAINER_POWDER_VIAL,
         .use = "1 mL",
         .dose = "125 mcg",
         .code = "strength-missing",
         .line = AT_PRODUCT,
         .says = "'p' is a powder and does not state what one container holds; add 'strength'"},
	{.name = "more liquid than there is",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "250 mcg",
         .use = "1.1 mL",
         .supplied = "1 mL",
         .dose = "125 mcg",
         .code = "liquid-short",
         .line = AT_USE,
         .says = "'p' uses 1.1 mL of liquid, but only 1 mL is supplied; mend one"},
	{.name = "a label above strength and volume",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "900 units",
         .volume = "1 mL",
         .label = "600 units/mL",
         .dose = "75 units",
         .code = "label-disagrees",
         .line = AT_LABEL,
         .says = "the concentration of 'p' is 600 units in 1 mL, but strength and volume make 900 units in 1 mL, more "
                 "than 2 % "
                 "apart; look at the label and mend one"},
	{.name = "a label beside a displacement",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "250 mg",
         .use = "4.8 mL",
         .displacement = "0.2 mL",
         .label = "48.999 mg/mL",
         .dose = "50 mg",
         .code = "label-disagrees",
         .line = AT_LABEL,
         .says = "the concentration of 'p' is 48.999 mg in 1 mL, but strength and volume make 50 mg in 1 mL, more than "
                 "2 % apart; "
                 "look at the label and mend one"},
	{.name = "less mixed than went in",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "250 mg",
         .use = "1 mL",
         .label = "251 mg/mL",
         .dose = "125 mg",
         .code = "displacement-negative",
         .line = AT_LABEL,
         .says = "by its concentration 'p' makes about 0.996016 mL once mixed, less than the 1 mL of liquid that goes "
                 "in; look at "
                 "the label and mend strength, liquid or concentration"},
	{.name = "a label in another dimension",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "44 mcg",
         .volume = "1 mL",
         .label = "600 units/mL",
         .dose = "44 mcg",
         .code = "unit-mismatch",
         .line = AT_LABEL,
         .says = "the concentration of 'p' is in units and its strength in mcg, which has no fixed factor; give both "
                 "in one unit, "
                 "or the label's second strength as 'also_labelled'"},

	/* ---- the liquid ---- */
	{.name = "liquid between lines",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "375 units",
         .use = "1.45 mL",
         .supplied = "2 mL",
         .comes_as = LIQUID_AMPOULE,
         .syringe = "S3",
         .dose = "375 units",
         .whole = true,
         .code = "volume-between-lines",
         .line = AT_USE,
         .says = "the 1.45 mL of liquid for 'p' has no line on the syringe 'S2', where the nearest are 1.4 mL and 1.5 "
                 "mL; use an "
                 "amount that has a line, or stock a finer syringe"},
	{.name = "liquid that no syringe holds",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "375 units",
         .use = "19 mL",
         .comes_as = LIQUID_VIAL,
         .syringe = "S20",
         .dose = "375 units",
         .whole = true,
         .code = "no-syringe-holds",
         .line = AT_USE,
         .says = "the 19 mL of liquid for 'p' is more than any plain mL syringe in stock holds with room for air; "
                 "stock a larger "
                 "one"},
	{.name = "a part of the liquid in a syringe of unknown scale",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "375 units",
         .use = "1 mL",
         .supplied = "1.5 mL",
         .dose = "375 units",
         .whole = true,
         .code = "no-scale",
         .line = AT_USE,
         .says = "the 1 mL of liquid for 'p' is only a part of what its syringe holds, and that syringe's scale is not "
                 "stated; "
                 "name it in 'comes_with'"},
	{.name = "a part of the liquid beyond its syringe's scale",
         .container = CONTAINER_POWDER_VIAL,
         .strength = "375 units",
         .use = "1.1 mL",
         .supplied = "1.5 mL",
         .syringe = "T1",
         .draw_with = DRAW_WITH_LIQUID_SYRINGE,
         .dose = "37.5 units",
         .code = "volume-between-lines",
         .line = AT_USE,
         .says = "the 1.1 mL of liquid for 'p' has no line on the syringe 'T1', where the nearest is 1 mL; use an "
                 "amount that has "
                 "a line, or stock a finer syringe"},

	/* ---- pens ---- */
	{.name = "no dial",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dose = "150 units",
         .code = "dial-missing",
         .line = AT_PRODUCT,
         .says = "the pen 'p' does not state the step of its dial; add 'dial' with 'step'"},
	{.name = "a dial without a step",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dial = {NULL, "12.5 units", NULL},
         .dose = "150 units",
         .code = "dial-missing",
         .line = AT_DIAL,
         .says = "the pen 'p' does not state the step of its dial; add 'dial' with 'step'"},
	{.name = "below the first setting of a dial without a least",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dial = {"12.5 units", NULL, NULL},
         .dose = "5 units",
         .code = "not-dialable",
         .says = "5 units of testol cannot be dialled: the pen 'p' goes in steps of 12.5 units; order 12.5 units"},
	{.name = "between the least and the most",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dial = {"12.5 units", "12.5 units", "25 units"},
         .dose = "20 units",
         .code = "not-dialable",
         .says = "20 units of testol cannot be dialled: the pen 'p' goes in steps of 12.5 units; order 12.5 units or "
                 "25 units"},
	{.name = "between two settings",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dial = {"12.5 units", "12.5 units", "450 units"},
         .dose = "180 units",
         .code = "not-dialable",
         .says = "180 units of testol cannot be dialled: the pen 'p' goes in steps of 12.5 units; order 175 units or "
                 "187.5 units"},
	{.name = "between the least and the next",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dial = {"12.5 units", "20 units", "450 units"},
         .dose = "22 units",
         .code = "not-dialable",
         .says = "22 units of testol cannot be dialled: the pen 'p' goes in steps of 12.5 units; order 25 units"},
	{.name = "between the last and the most",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dial = {"12.5 units", NULL, "455 units"},
         .dose = "452 units",
         .code = "not-dialable",
         .says = "452 units of testol cannot be dialled: the pen 'p' goes in steps of 12.5 units; order 450 units"},
	{.name = "below the least",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dial = {"12.5 units", "25 units", "450 units"},
         .dose = "12.5 units",
         .code = "not-dialable",
         .says = "12.5 units of testol is less than the least that the pen 'p' gives, 25 units; order at least that"},
	{.name = "above the most",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .dial = {"12.5 units", "12.5 units", "300 units"},
         .dose = "612.5 units",
         .code = "not-dialable",
         .says = "612.5 units of testol is more than the pen 'p' gives at once, 300 units; it takes at least 3 "
                 "injections, which "
                 "must be doses of their own in the order"},
	{.name = "more than a pen holds",
         .container = CONTAINER_PEN,
         .strength = "300 units",
         .dial = {"12.5 units", "12.5 units", "450 units"},
         .dose = "312.5 units",
         .code = "dose-over-container",
         .says = "312.5 units of testol needs 2 containers, as 'p' holds 300 units; order it as doses that one "
                 "container holds"},
	{.name = "a volume of more than a pen holds",
         .container = CONTAINER_PEN,
         .strength = "300 units",
         .volume = "0.5 mL",
         .dial = {"12.5 units", "12.5 units", "450 units"},
         .dose = "0.625 mL",
         .code = "dose-over-container",
         .says = "0.625 mL of testol needs 2 containers, as 'p' holds 300 units; order it as doses that one container "
                 "holds"},
	{.name = "a dial in mL on a pen of unknown volume",
         .container = CONTAINER_PEN,
         .strength = "300 units",
         .also = "22 mcg",
         .dial = {"0.1 mL", NULL, NULL},
         .dose = "150 units",
         .code = "unit-mismatch",
         .line = AT_DIAL,
         .says = "the dial of 'p' is in mL and its strength in units, which has no fixed factor; write the dial in "
                 "units, or give "
                 "the label's second strength as 'also_labelled'"},
	{.name = "syringe units on a pen",
         .container = CONTAINER_PEN,
         .strength = "300 units",
         .volume = "0.5 mL",
         .dial = {"12.5 units", "12.5 units", "450 units"},
         .dose = "25 syringe units",
         .code = "unit-mismatch",
         .says = "25 syringe units of testol cannot be dialled on the pen 'p', as these are lines of a syringe; order "
                 "it in units"},
	{.name = "a dial of another dimension",
         .container = CONTAINER_PEN,
         .strength = "300 units",
         .dial = {"1 mcg", NULL, NULL},
         .dose = "150 units",
         .code = "unit-mismatch",
         .line = AT_DIAL,
         .says = "the dial of 'p' is in mcg and its strength in units, which has no fixed factor; write the dial in "
                 "units, or give "
                 "the label's second strength as 'also_labelled'"},
	{.name = "a dial in two dimensions",
         .container = CONTAINER_PEN,
         .strength = "300 units",
         .dial = {"1 units", NULL, "1 mg"},
         .dose = "150 units",
         .code = "unit-mismatch",
         .line = AT_DIAL,
         .says = "'most' of the dial of 'p' is in mg and its step in units; write both in what the dial shows"},
	{.name = "mass on a pen of units",
         .container = CONTAINER_PEN,
         .strength = "300 units",
         .dial = {"12.5 units", NULL, NULL},
         .dose = "5 mcg",
         .code = "unit-mismatch",
         .says = "5 mcg of testol cannot be worked out from a strength in units: units to mcg has no fixed factor; "
                 "order it in "
                 "units, or give the label's second strength as 'also_labelled'"},
	{.name = "a pen whose label disagrees",
         .container = CONTAINER_PEN,
         .strength = "900 units",
         .volume = "1 mL",
         .label = "600 units/mL",
         .dial = {"12.5 units", NULL, NULL},
         .dose = "150 units",
         .code = "label-disagrees",
         .line = AT_LABEL,
         .says = "the concentration of 'p' is 600 units in 1 mL, but strength and volume make 900 units in 1 mL, more "
                 "than 2 % "
                 "apart; look at the label and mend one"},

	/* ---- counted forms ---- */
	{.name = "half a tablet that is not halved",
         .container = CONTAINER_COUNTED,
         .strength = "1 tablet",
         .dose = "0.5 tablet",
         .code = "not-divisible",
         .says = "0.5 tablets of testol is not a whole number, and a tablet of 'p' is not divided; order whole ones"},
	{.name = "a quarter of a tablet",
         .container = CONTAINER_COUNTED,
         .strength = "1 tablet",
         .halves = true,
         .dose = "0.25 tablet",
         .code = "not-divisible",
         .says = "0.25 tablets of testol is not a number of halves, and a tablet of 'p' is only halved; order halves"},
	{.name = "half a patch",
         .container = CONTAINER_COUNTED,
         .strength = "1 patch",
         .halves = true,
         .dose = "0.5 patch",
         .code = "not-divisible",
         .says = "0.5 patches of testol is not a whole number, and a patch of 'p' is not divided; order whole ones"},
	{.name = "a mass that is no number of tablets",
         .container = CONTAINER_COUNTED,
         .strength = "1 tablet",
         .also = "2 mg",
         .dose = "3 mg",
         .code = "not-divisible",
         .says = "3 mg of testol is not a whole number, and a tablet of 'p' is not divided; order whole ones"},

	/* ---- numbers too long ---- */
	{.name = "too long a fraction",
         .container = CONTAINER_SOLUTION_VIAL,
         .strength = "999.999989 g",
         .volume = "999.999937 mL",
         .label = "999,999.999 mcg/mL",
         .also = "999.999983 units",
         .dose = "100.000007 units",
         .code = "overflow",
         .says = "the numbers are too long to be worked out exactly; check the amounts and their units"},
};

static struct product product_of_refusal(struct arena *arena, const struct refusal *row)
{
	bool per_ml = row->strength && strchr(row->strength, '/');
	struct product product = {.id = "p",
	                          .container = row->container,
	                          .volume = stated_of(arena, row->volume, AT_VOLUME),
	                          .concentration = stated_of(arena, row->label, AT_LABEL),
	                          .displacement = stated_of(arena, row->displacement, AT_DISPLACEMENT),
	                          .also_labelled = stated_of(arena, row->also, AT_STRENGTH),
	                          .powders_per_diluent = row->powders,
	                          .draw_with = row->draw_with,
	                          .whole_to_mark = row->to_mark,
	                          .part = row->part,
	                          .syringe = row->syringe ? hand_syringe(row->syringe) : NULL,
	                          .start_line = stated_of(arena, row->start_line, AT_START),
	                          .halves = row->halves,
	                          .place = formulary_at(AT_PRODUCT)};
	*(per_ml ? &product.per_ml : &product.strength) = stated_of(arena, row->strength, AT_STRENGTH);
	product.diluent = (struct liquid){.given = row->use || row->supplied || row->bare_diluent,
	                                  .use = stated_of(arena, row->use, AT_USE),
	                                  .supplied = stated_of(arena, row->supplied, AT_SUPPLIED),
	                                  .comes_as = row->comes_as,
	                                  .place = formulary_at(AT_USE)};
	product.dial = (struct dial){.given = row->dial[0] || row->dial[1],
	                             .step = stated_of(arena, row->dial[0], AT_DIAL),
	                             .least = stated_of(arena, row->dial[1], AT_DIAL),
	                             .most = stated_of(arena, row->dial[2], AT_DIAL),
	                             .place = formulary_at(AT_DIAL)};
	return product;
}

static const struct finding *only_finding(const struct findings *findings, const struct refusal *row)
{
	const struct finding *found = NULL;
	for (size_t i = 0; i < findings->n; i++) {
		const struct finding *finding = &findings->list[i];
		if (finding->level == FINDING_CAUTION && strcmp(finding->code, row->code) != 0)
			continue;
		if (found)
			fail_msg("also said [%s]: %s", finding->code, finding->says);
		found = finding;
	}
	if (!found)
		fail_msg("nothing is said");
	return found;
}

static void is_said(void **state)
{
	struct test_case *test = case_of(state);
	const struct refusal *row = test->row;
	struct product product = product_of_refusal(test->arena, row);
	struct draw_request request = request_of(test->arena, &product, row->dose);
	struct findings findings = findings_in(test->arena);
	struct draw draw;
	request.containers = row->containers ? row->containers : 1;
	request.whole = row->whole;
	if (row->rounding)
		request.rounding =
			(struct rounding){.given = true, .most = decimal_of(row->rounding), .place = formulary_at(9)};
	if (row->rounding)
		assert_true(rational_divide(request.rounding.most, rational_of(100, 1), &request.rounding.most));

	assert_int_equal(draw_make(test->arena, &request, &draw, &findings), row->caution);
	const struct finding *finding = only_finding(&findings, row);
	struct place place = row->line ? formulary_at(row->line) : order_at(7);
	assert_string_equal(finding->says, row->says);
	assert_string_equal(finding->code, row->code);
	assert_int_equal(finding->level, row->caution ? FINDING_CAUTION : FINDING_STOP);
	assert_ptr_equal(finding->place.file, place.file);
	assert_int_equal(finding->place.line, place.line);
	assert_int_equal(finding->place.column, place.column);
	/* No line is left behind that could be taken for one; where the liquid is at fault the dose's own line is right. */
	if (!row->caution && row->line != AT_USE) {
		assert_true(rational_is_zero(draw.mark.at) || draw.mark.all);
		assert_true(rational_is_zero(draw.mark.number) || draw.mark.all);
		assert_false(draw.rounded);
	}
}

int main(void)
{
	struct tests tests = {0};
	for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++)
		tests_add(&tests, refusals[i].name, is_said, &refusals[i]);
	return tests_run(&tests, "findings of a draw");
}
