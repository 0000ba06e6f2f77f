#include "load/locale.h"

#include <stdio.h>
#include <string.h>
#include <unicode/uloc.h>
#include <unicode/ulocdata.h>
#include <unicode/unum.h>

/* RFC 5646, 4.4.1: longer tags need not be understood, and the libraries below keep less room for one. */
enum { LONGEST_LANGUAGE = 35 };

enum { MOST_TAG = 64, LETTER_HEIGHT_MM = 279 };

static bool is_one_of(const char *word, const char *const *words)
{
	for (; *words; words++)
		if (strcmp(word, *words) == 0)
			return true;
	return false;
}

bool country_known(const char *country)
{
	return is_one_of(country, uloc_getISOCountries());
}

/* "en_Latn_GB@numbers=latn": the likely language of a country, in Western digits. */
static bool locale_of(const char *country, char locale[MOST_TAG])
{
	char bare[MOST_TAG];
	snprintf(bare, sizeof bare, "und_%s", country);
	UErrorCode error = U_ZERO_ERROR;
	uloc_addLikelySubtags(bare, locale, MOST_TAG, &error);
	uloc_setKeywordValue("numbers", "latn", locale, MOST_TAG, &error);
	return U_SUCCESS(error);
}

enum decimal_mark country_mark(const char *country)
{
	char locale[MOST_TAG];
	UChar symbol[4] = {0};
	if (!locale_of(country, locale))
		return DECIMAL_POINT;
	UErrorCode error = U_ZERO_ERROR;
	UNumberFormat *format = unum_open(UNUM_DECIMAL, NULL, 0, locale, NULL, &error);
	unum_getSymbol(format, UNUM_DECIMAL_SEPARATOR_SYMBOL, symbol, 4, &error);
	unum_close(format);
	return U_SUCCESS(error) && symbol[0] == ',' ? DECIMAL_COMMA : DECIMAL_POINT;
}

enum paper country_paper(const char *country)
{
	char locale[MOST_TAG];
	if (!locale_of(country, locale))
		return PAPER_A4;
	int32_t height = 0;
	int32_t width = 0;
	UErrorCode error = U_ZERO_ERROR;
	ulocdata_getPaperSize(locale, &height, &width, &error);
	return U_SUCCESS(error) && height == LETTER_HEIGHT_MM ? PAPER_LETTER : PAPER_A4;
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* "-BR", "-Hant": parts of two to eight letters or digits. */
static bool rest_is_well_formed(const char *rest)
{
	while (*rest == '-') {
		size_t length = 0;
		for (rest++; is_letter(*rest) || (*rest >= '0' && *rest <= '9'); rest++)
			length++;
		if (length < 2 || length > 8)
			return false;
	}
	return *rest == '\0';
}

bool language_known(const char *language)
{
	char first[4] = {0};
	size_t length = strcspn(language, "-");
	if (length < 2 || length > 3 || strlen(language) > LONGEST_LANGUAGE)
		return false;
	memcpy(first, language, length);
	return is_one_of(first, uloc_getISOLanguages()) && rest_is_well_formed(language + length);
}
