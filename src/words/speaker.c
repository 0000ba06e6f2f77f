/*
 * speaker.c - a language through ICU: plural forms and dates.
 *
 * Dates are computed elsewhere and handed over as midnight UTC, so ICU's own
 * zone data is never asked. The patterns ("EEE d MMM") are words like any
 * other: they stand in the wording.
 */
#include "words/speaker.h"

#include <assert.h>
#include <string.h>
#include <unicode/ustring.h>

struct speaker *speaker_new(struct arena *arena, const struct clinic *clinic, const char *language,
                            struct findings *findings)
{
	const struct wording *wording = clinic_words(clinic, language);
	if (wording == NULL) {
		findings_add(findings, FINDING_STOP, "language-unknown", clinic->place,
		             "there are no words in '%s'; choose a language that has a file words/%s.yaml", language,
		             language);
		return NULL;
	}
	UErrorCode status = U_ZERO_ERROR;
	UPluralRules *plurals = uplrules_open(language, &status);
	assert(U_SUCCESS(status));
	struct speaker *speaker = arena_alloc(arena, sizeof *speaker);
	*speaker = (struct speaker){.arena = arena,
	                            .clinic = clinic,
	                            .language = wording->language,
	                            .wording = wording,
	                            .findings = findings,
	                            .right_to_left = uloc_isRightToLeft(language),
	                            .plurals = plurals};
	return speaker;
}

void speaker_free(struct speaker *speaker)
{
	if (speaker == NULL)
		return;
	uplrules_close(speaker->plurals);
	for (size_t i = 0; i < N_DATE_FORMS; i++)
		if (speaker->dates[i] != NULL)
			udat_close(speaker->dates[i]);
}

const char *speaker_plural(struct speaker *speaker, double number)
{
	static const char *const forms[] = {"zero", "one", "two", "few", "many", "other"};
	UChar keyword[16];
	char name[16];
	UErrorCode status = U_ZERO_ERROR;
	int32_t length = uplrules_select(speaker->plurals, number, keyword, 16, &status);
	assert(U_SUCCESS(status) && length < 16);
	u_UCharsToChars(keyword, name, length);
	name[length] = '\0';
	for (size_t i = 0; i < sizeof forms / sizeof *forms; i++)
		if (strcmp(forms[i], name) == 0)
			return forms[i];
	return "other";
}

static const char *const date_keys[N_DATE_FORMS] = {
	[DATE_WEEKDAY_SHORT] = "date.weekday.short",
	[DATE_WEEKDAY] = "date.weekday",
	[DATE_DAY_MONTH] = "date.day_month",
	[DATE_SHORT] = "date.short",
	[DATE_LONG] = "date.long",
	[DATE_SHORT_YEAR] = "date.short_year",
	[DATE_WEEKDAY_DAY] = "date.weekday_day",
	[DATE_BORN] = "date.born",
};

static void useless_pattern(struct speaker *speaker, enum date_form form)
{
	findings_add(speaker->findings, FINDING_STOP, "date-pattern", speaker->wording->place,
	             "the words '%s' are not a date pattern; write one such as 'EEE d MMM'", date_keys[form]);
}

static UDateFormat *date_format(struct speaker *speaker, enum date_form form)
{
	static const UChar utc[] = {'U', 'T', 'C', 0};
	if (speaker->dates[form] == NULL) {
		UChar pattern[64];
		int32_t length;
		UErrorCode status = U_ZERO_ERROR;
		u_strFromUTF8(pattern, 64, &length, say0(speaker, date_keys[form]), -1, &status);
		/* Western digits, as everywhere on a sheet: two kinds of them side by side are misread. */
		const char *locale = arena_printf(speaker->arena, "%s@numbers=latn", speaker->language);
		speaker->dates[form] = udat_open(UDAT_PATTERN, UDAT_PATTERN, locale, utc, 3, pattern, length, &status);
	}
	return speaker->dates[form];
}

const char *say_date(struct speaker *speaker, struct civil_date date, enum date_form form)
{
	UChar wide[96];
	char narrow[288];
	int32_t n_narrow;
	UErrorCode status = U_ZERO_ERROR;
	UDateFormat *format = date_format(speaker, form);
	UDate midnight = (double)date_number(date) * 86400000.0;
	int32_t length = format == NULL ? 0 : udat_format(format, midnight, wide, 96, NULL, &status);
	u_strToUTF8(narrow, sizeof narrow, &n_narrow, wide, length, &status);
	/* The pattern is a clinic's to write: one that says nothing, or too much, is refused. */
	if (U_FAILURE(status) || n_narrow <= 0) {
		useless_pattern(speaker, form);
		return "";
	}
	return arena_strndup(speaker->arena, narrow, (size_t)n_narrow);
}

const char *say_time(struct speaker *speaker, struct clock_time time)
{
	return clock_print(speaker->arena, time);
}

/* "VVV" is ICU's exemplar city of a zone; one without a city, such as UTC, is named by itself. */
const char *say_zone(struct speaker *speaker, const struct zone *zone)
{
	static const UChar pattern[] = {'V', 'V', 'V', 0};
	UChar name[64];
	UChar wide[96];
	char narrow[288];
	int32_t length;
	int32_t n_narrow = 0;
	UErrorCode status = U_ZERO_ERROR;
	if (strchr(zone->name, '/') == NULL)
		return zone->name;
	u_strFromUTF8(name, 64, &length, zone->name, -1, &status);
	UDateFormat *format =
		udat_open(UDAT_PATTERN, UDAT_PATTERN, speaker->language, name, length, pattern, 3, &status);
	if (U_FAILURE(status))
		return zone->name;
	length = udat_format(format, 0, wide, 96, NULL, &status);
	udat_close(format);
	u_strToUTF8(narrow, sizeof narrow, &n_narrow, wide, length, &status);
	if (U_FAILURE(status) || n_narrow <= 0)
		return zone->name;
	return arena_strndup(speaker->arena, narrow, (size_t)n_narrow);
}
