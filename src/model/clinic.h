/*
 * clinic.h - a clinic's folder: who it is, when its day begins, what it stocks.
 */
#ifndef MODEL_CLINIC_H
#define MODEL_CLINIC_H

#include "model/formulary.h"
#include "model/protocol.h"
#include "model/stated.h"
#include "model/syringe.h"
#include "model/template.h"

enum paper { PAPER_A4, PAPER_LETTER };

struct phone {
	const char *id; /* "day", "night" */
	struct text label;
	const char *number;
	const char *hours; /* "07:30-17:00", or NULL */
	struct place place;
};

struct slot {
	const char *id; /* "morning", "noon", "evening", "bedtime", or the clinic's own */
	struct clock_time time;
	struct place place;
};

enum rotation { ROTATION_SIDES, ROTATION_QUARTERS };

/* One line of signatures.csv. */
struct signature {
	const char *kind; /* "clinic", "medicine", "syringe", "protocol", "words", "stand-in", "plan" */
	const char *id;
	const char *seal; /* hex digest of the entry's meaning */
	const char *by;
	const char *when; /* "2026-11-25" */
};

/* An entry's seal as computed from what is in the folder now. */
struct seal {
	const char *kind;
	const char *id;
	const char *digest;
	struct place place;
};

struct clinic {
	const char *folder; /* as the user would type it */
	struct text name;
	const char *const *address;
	size_t n_address;
	const char *country; /* two letters, "GB" */
	enum decimal_mark mark;
	enum paper paper; /* default for its plans */
	const struct zone *zone;
	const char *const *languages;
	size_t n_languages;
	struct clock_time day_begins; /* earlier clock times belong to the treatment day before */
	const struct slot *slots;     /* by clock time */
	size_t n_slots;
	const struct phone *phones;
	size_t n_phones;
	struct text emergency;
	struct text disclaimer;
	const struct syringe *const *stock; /* what the program may pick from */
	size_t n_stock;
	bool stock_given; /* else it is by default: every syringe of the clinic's own, or the built-in ones in mL */
	enum rotation rotation;

	const struct syringe *syringes; /* the clinic's own, then the built-in ones */
	size_t n_syringes;
	const struct medicine *medicines;
	size_t n_medicines;
	const struct protocol *protocols;
	size_t n_protocols;
	const struct wording *words; /* one a language: the built-in words with the clinic's over them */
	size_t n_words;
	const struct page_templates *templates;
	const struct signature *signatures;
	size_t n_signatures;
	const struct seal *seals;
	size_t n_seals;
	struct place place;
};

/* True when two names are one person's: capitals, the number and kind of spaces and how an accent is coded say nothing. */
bool signer_same(const char *a, const char *b);

/* Each returns NULL where there is none of that id. */
const struct syringe *clinic_syringe(const struct clinic *clinic, const char *id);
const struct medicine *clinic_medicine(const struct clinic *clinic, const char *id);
const struct product *clinic_product(const struct clinic *clinic, const char *id, const struct medicine **medicine);
const struct protocol *clinic_protocol(const struct clinic *clinic, const char *id);
const struct wording *clinic_words(const struct clinic *clinic, const char *language);
const struct seal *clinic_seal(const struct clinic *clinic, const char *kind, const char *id);

#endif
