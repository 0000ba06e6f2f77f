/*
 * words.h - what is said, in the sheet's language: messages, plurals, dates, amounts.
 *
 * No sentence stands in C. A key of the wording (templates/words/xx.yaml) is
 * filled with named values; ICU chooses plural forms and writes dates. Amounts
 * keep Western digits and the clinic's decimal mark in every language.
 */
#ifndef WORDS_WORDS_H
#define WORDS_WORDS_H

#include "record/record.h"

struct speaker;

/*
 * Speaks `language` for `clinic`. Missing words become stops in `findings` (once
 * per key). NULL, with a stop, when there are no words in that language. What it
 * says lives in `arena`. Free with speaker_free().
 */
struct speaker *speaker_new(struct arena *arena, const struct clinic *clinic, const char *language,
                            struct findings *findings);
void speaker_free(struct speaker *speaker);

const char *speaker_language(const struct speaker *speaker);

/* A named value of a message. */
struct value {
	const char *name;
	const char *text;
};

#define NO_VALUES ((const struct value *)NULL), 0

/*
 * The message of `key` with every {name} filled. **bold** in a message becomes
 * TEXT_BOLD_ON/OFF switches. A missing key or value is a stop.
 */
const char *say(struct speaker *speaker, const char *key, const struct value *values, size_t n);

/* Short forms for none, one and two values. */
const char *say0(struct speaker *speaker, const char *key);
const char *say1(struct speaker *speaker, const char *key, const char *name, const char *text);
const char *say2(struct speaker *speaker, const char *key, const char *name_1, const char *text_1, const char *name_2,
                 const char *text_2);

/* A title of pages behind the first: "Examplin: get ready, continued"; no comma behind a question. */
const char *say_continued(struct speaker *speaker, const char *title);
/* With a capital: of a name that begins a line. */
const char *say_capital(struct speaker *speaker, const char *text);

/* By the plural of `count`, which also fills {count}. */
const char *say_count(struct speaker *speaker, const char *key, int64_t count, const struct value *values, size_t n);

/* True when the wording has the key: for words that a technique may leave out. */
bool can_say(const struct speaker *speaker, const char *key);

/* A clinic's text in the sheet's language; a stop 'text-missing' where it lacks. `what` names it in the finding. */
const char *say_text(struct speaker *speaker, struct text text, const char *what);

enum date_form {
	DATE_WEEKDAY_SHORT, /* Thu */
	DATE_WEEKDAY,       /* Thursday */
	DATE_DAY_MONTH,     /* 5 Jun */
	DATE_SHORT,         /* Thu 5 Jun */
	DATE_LONG,          /* Thursday 5 June */
	DATE_SHORT_YEAR,    /* Tue 17 Jun 2031 */
	DATE_WEEKDAY_DAY,   /* Thursday 5 */
	DATE_BORN           /* 14 Feb 1997 */
};

const char *say_date(struct speaker *speaker, struct civil_date date, enum date_form form);
const char *say_time(struct speaker *speaker, struct clock_time time); /* 20:00 */

/* The place whose clock a zone is: "London"; the zone's name where it has none. */
const char *say_zone(struct speaker *speaker, const struct zone *zone);

/* "125 mcg", "1 tablet", "half a tablet", "10 syringe units": the order's own unit, counted forms in the language. */
const char *say_amount(struct speaker *speaker, struct quantity amount);
/* "0.5": the number alone. */
const char *say_number(struct speaker *speaker, struct rational number);

/* The three parts of a fill mark; any may be NULL but `number`. */
struct mark_words {
	const char *before; /* "line", "dial", "add", "stop at", "push out to" */
	const char *number; /* "0.5", or the word for all */
	const char *unit;   /* "mL" */
	bool open;          /* preparation, not into you */
};

/* How the mark of `draw` is printed on its tag. Counted draws have none: number is NULL. */
struct mark_words say_mark(struct speaker *speaker, const struct draw *draw);
struct mark_words say_line(struct speaker *speaker, const struct mark *mark);
/* The same in one string: "line 20", "0.5 mL", "all". */
const char *mark_words_plain(struct arena *arena, struct mark_words words);

/*
 * A syringe by its name: "1 mL syringe". One scaled in units goes by the strength that its lines are made for too, "U-100
 * insulin syringe": lines of another strength are other volumes.
 */
const char *say_syringe(struct speaker *speaker, const struct syringe *syringe);
/* The same of a syringe's scale; only where it is in units. */
const char *say_scale(struct speaker *speaker, const struct syringe *syringe);

/* The numeral at numbered line `index` (0 is the zero line), as the barrel prints it. */
const char *say_numeral(struct speaker *speaker, const struct syringe *syringe, int64_t index);

/* "the line numbered 0.5", "small line 7 after the number 0.3". */
const char *say_line_place(struct speaker *speaker, const struct mark *mark);

#endif
