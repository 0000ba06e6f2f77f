#include "model/clinic.h"

#include <glib.h>
#include <string.h>

/* One spelling of a name: no capitals, each accent in one way, every space an ordinary one. Free with g_free(). */
static char *folded(const char *name)
{
	if (!g_utf8_validate(name, -1, NULL))
		return g_strdup(name);
	char *plain = g_utf8_normalize(name, -1, G_NORMALIZE_ALL);
	char *folded = g_utf8_casefold(plain, -1);
	g_free(plain);
	return folded;
}

/* The next sign of a name: a run of spaces as one, none at its end. */
static char next_sign(const char **name)
{
	const char *at = *name;
	if (*at != ' ') {
		*name = *at == '\0' ? at : at + 1;
		return *at;
	}
	at += strspn(at, " ");
	*name = at;
	return *at == '\0' ? '\0' : ' ';
}

static bool same_but_for_spaces(const char *a, const char *b)
{
	a += strspn(a, " ");
	b += strspn(b, " ");
	for (;;) {
		char sign = next_sign(&a);
		if (sign != next_sign(&b))
			return false;
		if (sign == '\0')
			return true;
	}
}

bool signer_same(const char *a, const char *b)
{
	char *folded_a = folded(a);
	char *folded_b = folded(b);
	bool same = same_but_for_spaces(folded_a, folded_b);
	g_free(folded_a);
	g_free(folded_b);
	return same;
}

const struct syringe *clinic_syringe(const struct clinic *clinic, const char *id)
{
	for (size_t i = 0; i < clinic->n_syringes; i++)
		if (strcmp(clinic->syringes[i].id, id) == 0)
			return &clinic->syringes[i];
	return NULL;
}

const struct medicine *clinic_medicine(const struct clinic *clinic, const char *id)
{
	for (size_t i = 0; i < clinic->n_medicines; i++)
		if (strcmp(clinic->medicines[i].id, id) == 0)
			return &clinic->medicines[i];
	return NULL;
}

const struct product *clinic_product(const struct clinic *clinic, const char *id, const struct medicine **medicine)
{
	for (size_t i = 0; i < clinic->n_medicines; i++) {
		const struct medicine *of = &clinic->medicines[i];
		for (size_t j = 0; j < of->n_products; j++) {
			if (strcmp(of->products[j].id, id) != 0)
				continue;
			if (medicine)
				*medicine = of;
			return &of->products[j];
		}
	}
	return NULL;
}

const struct protocol *clinic_protocol(const struct clinic *clinic, const char *id)
{
	for (size_t i = 0; i < clinic->n_protocols; i++)
		if (strcmp(clinic->protocols[i].id, id) == 0)
			return &clinic->protocols[i];
	return NULL;
}

const struct wording *clinic_words(const struct clinic *clinic, const char *language)
{
	for (size_t i = 0; i < clinic->n_words; i++)
		if (strcmp(clinic->words[i].language, language) == 0)
			return &clinic->words[i];
	return NULL;
}

const struct seal *clinic_seal(const struct clinic *clinic, const char *kind, const char *id)
{
	for (size_t i = 0; i < clinic->n_seals; i++)
		if (strcmp(clinic->seals[i].kind, kind) == 0 && strcmp(clinic->seals[i].id, id) == 0)
			return &clinic->seals[i];
	return NULL;
}
