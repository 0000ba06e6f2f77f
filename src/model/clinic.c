#include "model/clinic.h"

#include <ctype.h>
#include <string.h>

/* The next sign of a name: lower case, a run of spaces as one, none at its end. */
static int next_sign(const char **name)
{
	const char *at = *name;
	if (*at != ' ') {
		*name = *at == '\0' ? at : at + 1;
		return tolower((unsigned char)*at);
	}
	at += strspn(at, " ");
	*name = at;
	return *at == '\0' ? '\0' : ' ';
}

bool signer_same(const char *a, const char *b)
{
	a += strspn(a, " ");
	b += strspn(b, " ");
	for (;;) {
		int sign = next_sign(&a);
		if (sign != next_sign(&b))
			return false;
		if (sign == '\0')
			return true;
	}
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

const struct slot *clinic_slot(const struct clinic *clinic, const char *id)
{
	for (size_t i = 0; i < clinic->n_slots; i++)
		if (strcmp(clinic->slots[i].id, id) == 0)
			return &clinic->slots[i];
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
