#include "quantity/unit.h"

#include <assert.h>
#include <string.h>

/*
 * To add a unit: its name in unit.h, a row here, its spellings below. Sizes
 * are whole numbers of the dimension's base: ng, a unit, 0.000001 mL, one of the
 * counted form, a second, 0.1 mm (an inch is 25.4 mm exactly), one percent.
 */
static const struct unit_row {
	enum dimension dimension;
	int64_t size;
	const char *one;
	const char *many;
} units[UNIT_COUNT_OF] = {
	[UNIT_NONE] = {DIMENSION_NONE, 1, "", ""},
	[UNIT_G] = {DIMENSION_MASS, 1000000000, "g", "g"},
	[UNIT_MG] = {DIMENSION_MASS, 1000000, "mg", "mg"},
	[UNIT_MCG] = {DIMENSION_MASS, 1000, "mcg", "mcg"},
	[UNIT_NG] = {DIMENSION_MASS, 1, "ng", "ng"},
	[UNIT_UNITS] = {DIMENSION_ACTIVITY, 1, "unit", "units"},
	[UNIT_L] = {DIMENSION_VOLUME, 1000000000, "L", "L"},
	[UNIT_ML] = {DIMENSION_VOLUME, 1000000, "mL", "mL"},
	[UNIT_SYRINGE_UNIT] = {DIMENSION_VOLUME, 10000, "syringe unit", "syringe units"},
	[UNIT_TABLET] = {DIMENSION_COUNT, 1, "tablet", "tablets"},
	[UNIT_CAPSULE] = {DIMENSION_COUNT, 1, "capsule", "capsules"},
	[UNIT_PATCH] = {DIMENSION_COUNT, 1, "patch", "patches"},
	[UNIT_INSERT] = {DIMENSION_COUNT, 1, "insert", "inserts"},
	[UNIT_SPRAY] = {DIMENSION_COUNT, 1, "spray", "sprays"},
	[UNIT_PUFF] = {DIMENSION_COUNT, 1, "puff", "puffs"},
	[UNIT_DROP] = {DIMENSION_COUNT, 1, "drop", "drops"},
	[UNIT_SACHET] = {DIMENSION_COUNT, 1, "sachet", "sachets"},
	[UNIT_SECOND] = {DIMENSION_TIME, 1, "s", "s"},
	[UNIT_MINUTE] = {DIMENSION_TIME, 60, "min", "min"},
	[UNIT_HOUR] = {DIMENSION_TIME, 3600, "h", "h"},
	[UNIT_DAY] = {DIMENSION_TIME, 86400, "day", "days"},
	[UNIT_WEEK] = {DIMENSION_TIME, 604800, "week", "weeks"},
	[UNIT_MM] = {DIMENSION_LENGTH, 10, "mm", "mm"},
	[UNIT_CM] = {DIMENSION_LENGTH, 100, "cm", "cm"},
	[UNIT_INCH] = {DIMENSION_LENGTH, 254, "in", "in"},
	[UNIT_PERCENT] = {DIMENSION_RATIO, 1, "%", "%"},
};

/*
 * Symbols keep their case; words may be capitalised. UCUM's lone 'l' for a
 * litre is left out because it reads as the digit 1, and its enzyme unit 'U'
 * because it reads as 0. An annotation such as {tablet} says what is counted;
 * {unit} says nothing of the kind and is left out.
 */
enum spelling_case { SYMBOL, WORD };

static const struct spelling {
	const char *text;
	enum unit unit;
	enum spelling_case letters;
} spellings[] = {
	{"g", UNIT_G, SYMBOL},
	{"gram", UNIT_G, WORD},
	{"grams", UNIT_G, WORD},
	{"mg", UNIT_MG, SYMBOL},
	{"milligram", UNIT_MG, WORD},
	{"milligrams", UNIT_MG, WORD},
	{"mcg", UNIT_MCG, SYMBOL},
	{"ug", UNIT_MCG, SYMBOL},
	{"\xc2\xb5g", UNIT_MCG, SYMBOL}, /* U+00B5, the micro sign */
	{"\xce\xbcg", UNIT_MCG, SYMBOL}, /* U+03BC, the Greek letter */
	{"microgram", UNIT_MCG, WORD},
	{"micrograms", UNIT_MCG, WORD},
	{"ng", UNIT_NG, SYMBOL},
	{"nanogram", UNIT_NG, WORD},
	{"nanograms", UNIT_NG, WORD},
	{"unit", UNIT_UNITS, WORD},
	{"units", UNIT_UNITS, WORD},
	{"IU", UNIT_UNITS, SYMBOL},
	{"[IU]", UNIT_UNITS, SYMBOL},
	{"[iU]", UNIT_UNITS, SYMBOL},
	{"[USP'U]", UNIT_UNITS, SYMBOL},
	{"international unit", UNIT_UNITS, WORD},
	{"international units", UNIT_UNITS, WORD},
	{"mL", UNIT_ML, SYMBOL},
	{"ml", UNIT_ML, SYMBOL},
	{"millilitre", UNIT_ML, WORD},
	{"millilitres", UNIT_ML, WORD},
	{"milliliter", UNIT_ML, WORD},
	{"milliliters", UNIT_ML, WORD},
	{"L", UNIT_L, SYMBOL},
	{"litre", UNIT_L, WORD},
	{"litres", UNIT_L, WORD},
	{"liter", UNIT_L, WORD},
	{"liters", UNIT_L, WORD},
	{"syringe unit", UNIT_SYRINGE_UNIT, WORD},
	{"syringe units", UNIT_SYRINGE_UNIT, WORD},
	{"tablet", UNIT_TABLET, WORD},
	{"tablets", UNIT_TABLET, WORD},
	{"{tablet}", UNIT_TABLET, SYMBOL},
	{"capsule", UNIT_CAPSULE, WORD},
	{"capsules", UNIT_CAPSULE, WORD},
	{"{capsule}", UNIT_CAPSULE, SYMBOL},
	{"patch", UNIT_PATCH, WORD},
	{"patches", UNIT_PATCH, WORD},
	{"{patch}", UNIT_PATCH, SYMBOL},
	{"insert", UNIT_INSERT, WORD},
	{"inserts", UNIT_INSERT, WORD},
	{"{insert}", UNIT_INSERT, SYMBOL},
	{"spray", UNIT_SPRAY, WORD},
	{"sprays", UNIT_SPRAY, WORD},
	{"{spray}", UNIT_SPRAY, SYMBOL},
	{"puff", UNIT_PUFF, WORD},
	{"puffs", UNIT_PUFF, WORD},
	{"{puff}", UNIT_PUFF, SYMBOL},
	{"drop", UNIT_DROP, WORD},
	{"drops", UNIT_DROP, WORD},
	{"{drop}", UNIT_DROP, SYMBOL},
	{"sachet", UNIT_SACHET, WORD},
	{"sachets", UNIT_SACHET, WORD},
	{"{sachet}", UNIT_SACHET, SYMBOL},
	{"s", UNIT_SECOND, SYMBOL},
	{"second", UNIT_SECOND, WORD},
	{"seconds", UNIT_SECOND, WORD},
	{"min", UNIT_MINUTE, SYMBOL},
	{"minute", UNIT_MINUTE, WORD},
	{"minutes", UNIT_MINUTE, WORD},
	{"h", UNIT_HOUR, SYMBOL},
	{"hour", UNIT_HOUR, WORD},
	{"hours", UNIT_HOUR, WORD},
	{"d", UNIT_DAY, SYMBOL},
	{"day", UNIT_DAY, WORD},
	{"days", UNIT_DAY, WORD},
	{"wk", UNIT_WEEK, SYMBOL},
	{"week", UNIT_WEEK, WORD},
	{"weeks", UNIT_WEEK, WORD},
	{"mm", UNIT_MM, SYMBOL},
	{"cm", UNIT_CM, SYMBOL},
	{"in", UNIT_INCH, SYMBOL},
	{"[in_i]", UNIT_INCH, SYMBOL},
	{"inch", UNIT_INCH, WORD},
	{"inches", UNIT_INCH, WORD},
	{"%", UNIT_PERCENT, SYMBOL},
};

#define SPELLING_COUNT (sizeof spellings / sizeof *spellings)
#define LONGEST_SPELLING 24

enum dimension unit_dimension(enum unit unit)
{
	assert(unit < UNIT_COUNT_OF);
	return units[unit].dimension;
}

const char *dimension_name(enum dimension dimension)
{
	static const char *const names[] = {
		[DIMENSION_NONE] = "a plain number", [DIMENSION_MASS] = "mass",   [DIMENSION_ACTIVITY] = "activity",
		[DIMENSION_VOLUME] = "volume",       [DIMENSION_COUNT] = "count", [DIMENSION_TIME] = "time",
		[DIMENSION_LENGTH] = "length",       [DIMENSION_RATIO] = "ratio",
	};
	return names[dimension];
}

const char *unit_name(enum unit unit, bool singular)
{
	assert(unit < UNIT_COUNT_OF);
	return singular ? units[unit].one : units[unit].many;
}

bool unit_converts(enum unit from, enum unit to)
{
	if (unit_dimension(from) == DIMENSION_COUNT)
		return from == to;
	return unit_dimension(from) == unit_dimension(to);
}

struct rational unit_size(enum unit unit)
{
	assert(unit < UNIT_COUNT_OF);
	return rational_of(units[unit].size, 1);
}

/* ASCII only, whatever the locale. */
static char lower(char letter)
{
	return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

static bool same_letters(const char *text, const char *spelling, size_t length, enum spelling_case letters)
{
	for (size_t i = 0; i < length; i++) {
		char written = letters == WORD ? lower(text[i]) : text[i];
		if (written != spelling[i])
			return false;
	}
	return true;
}

enum unit unit_read(const char *text, size_t length)
{
	for (size_t i = 0; i < SPELLING_COUNT; i++) {
		const struct spelling *spelling = &spellings[i];
		if (strlen(spelling->text) == length && same_letters(text, spelling->text, length, spelling->letters))
			return spelling->unit;
	}
	return UNIT_NONE;
}

/*
 * How far apart two short texts are, case aside: 2 for a letter too many or
 * missing or for two swapped, 3 for a wrong one. So 'kg' is nearer to 'g' than
 * to 'mg', and 'mgs' to 'mg' than to 'mcg'.
 */
static int letters_apart(const char *a, size_t length_a, const char *b, size_t length_b)
{
	int cost[LONGEST_SPELLING + 1][LONGEST_SPELLING + 1];
	for (size_t i = 0; i <= length_a; i++) {
		for (size_t j = 0; j <= length_b; j++) {
			if (i == 0 || j == 0) {
				cost[i][j] = 2 * (int)(i + j);
				continue;
			}
			bool same = lower(a[i - 1]) == lower(b[j - 1]);
			int least = cost[i - 1][j - 1] + (same ? 0 : 3);
			if (cost[i - 1][j] + 2 < least)
				least = cost[i - 1][j] + 2;
			if (cost[i][j - 1] + 2 < least)
				least = cost[i][j - 1] + 2;
			if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
			    lower(a[i - 2]) == lower(b[j - 1]) && cost[i - 2][j - 2] + 2 < least)
				least = cost[i - 2][j - 2] + 2;
			cost[i][j] = least;
		}
	}
	return cost[length_a][length_b];
}

enum unit unit_nearest(const char *text, size_t length)
{
	if (length == 2 && same_letters(text, "cc", length, WORD))
		return UNIT_ML; /* R006: cubic centimetres are written mL */
	if (length == 0 || length > LONGEST_SPELLING)
		return UNIT_NONE;
	/* One letter says too little to guess from, except its own other case. */
	int farthest = length == 1 ? 0 : length < 6 ? 3 : 4;
	enum unit nearest = UNIT_NONE;
	for (size_t i = 0; i < SPELLING_COUNT; i++) {
		int apart = letters_apart(text, length, spellings[i].text, strlen(spellings[i].text));
		if (apart < farthest || (apart == farthest && nearest == UNIT_NONE)) {
			farthest = apart;
			nearest = spellings[i].unit;
		}
	}
	return nearest;
}
