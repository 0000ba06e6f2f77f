/*
 * locale.h - what a country and a language are: from the tables of ICU.
 */
#ifndef LOAD_LOCALE_H
#define LOAD_LOCALE_H

#include "model/clinic.h"

/* Two capital letters of ISO 3166 that are in use. */
bool country_known(const char *country);

/*
 * How a country writes decimals, and the paper it prints on: those of the
 * language most used there, in Western digits, as the locale data have them
 * ("GB" a point, "DE" a comma, "CH" a point; Letter in US, CA, MX, CL and more).
 */
enum decimal_mark country_mark(const char *country);
enum paper country_paper(const char *country);

/* "en", "uk", or with a region, script or variant: "pt-BR", "zh-Hant". The first part is of ISO 639, the whole at most 35 characters. */
bool language_known(const char *language);

#endif
