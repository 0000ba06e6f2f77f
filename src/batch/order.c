#include "batch/order.h"

#include "load/seal.h"
#include "load/signatures.h"

#include <glib.h>
#include <string.h>

struct digesting {
	GChecksum *checksum;
	const struct clinic *clinic;
	const struct plan *plan;
};

static void put(struct digesting *digesting, const char *text)
{
	const char *bytes = text == NULL ? "" : text;
	g_checksum_update(digesting->checksum, (const guchar *)bytes, (gssize)strlen(bytes) + 1);
}

static void put_text(struct digesting *digesting, struct text text)
{
	put(digesting, text_in(text, digesting->plan->language));
	put(digesting, text_in(text, digesting->clinic->languages[0]));
}

/* An entry by its meaning, and whether that is signed: a sheet that was a draft is another sheet once it is not. */
static void put_entry(struct digesting *digesting, const char *kind, const char *id)
{
	const struct seal *seal = clinic_seal(digesting->clinic, kind, id);
	put(digesting, kind);
	put(digesting, id);
	if (seal == NULL)
		return;
	put(digesting, seal->digest);
	put(digesting, seal_signed(digesting->clinic, seal, NULL) ? "signed" : "unsigned");
}

/* A product that names no syringe may be measured with any in stock. */
static void put_syringes(struct digesting *digesting, const struct product *product)
{
	if (product->syringe != NULL) {
		put_entry(digesting, "syringe", product->syringe->id);
		return;
	}
	for (size_t i = 0; i < digesting->clinic->n_stock; i++)
		put_entry(digesting, "syringe", digesting->clinic->stock[i]->id);
}

static void put_medicine(struct digesting *digesting, const struct medicine *medicine)
{
	put_entry(digesting, "medicine", medicine->id);
	for (size_t i = 0; i < medicine->n_products; i++) {
		put_syringes(digesting, &medicine->products[i]);
		if (medicine->products[i].n_stands_in_for > 0)
			put_entry(digesting, "stand-in", medicine->products[i].id);
	}
}

static void put_clinic(struct digesting *digesting)
{
	const struct clinic *clinic = digesting->clinic;
	put_text(digesting, clinic->name);
	for (size_t i = 0; i < clinic->n_address; i++)
		put(digesting, clinic->address[i]);
	for (size_t i = 0; i < clinic->n_phones; i++) {
		put_text(digesting, clinic->phones[i].label);
		put(digesting, clinic->phones[i].number);
		put(digesting, clinic->phones[i].hours);
	}
	put_text(digesting, clinic->emergency);
	put_text(digesting, clinic->disclaimer);
	put(digesting, clinic->country);
	/* What the clinic wrote over the program's words, steps and order of pages. */
	for (size_t i = 0; i < clinic->n_seals; i++) {
		const char *kind = clinic->seals[i].kind;
		if (strcmp(kind, "words") == 0 || strcmp(kind, "steps") == 0 || strcmp(kind, "pages") == 0)
			put_entry(digesting, kind, clinic->seals[i].id);
	}
}

static void put_signers(struct digesting *digesting, const struct plan *plan)
{
	for (size_t i = 0; i < plan->n_signatures; i++) {
		put(digesting, plan->signatures[i].by);
		put(digesting, plan->signatures[i].when);
	}
}

const char *order_digest(struct arena *arena, const struct plan *plan, bool mono)
{
	struct digesting digesting = {g_checksum_new(G_CHECKSUM_SHA256), plan->clinic, plan};
	struct plan timeless = *plan;
	timeless.as_of = (struct stated_date){.given = false};
	timeless.version = 0;
	timeless.replaces = (struct replaces){.given = false};
	put(&digesting, seal_plan(arena, &timeless));
	put(&digesting, plan->language);
	put(&digesting, plan->paper == PAPER_LETTER ? "letter" : "a4");
	put(&digesting, plan->large_print ? "large" : "normal");
	put(&digesting, mono ? "mono" : "colour");
	put_signers(&digesting, plan);
	if (!plan->protocol->own)
		put_entry(&digesting, "protocol", plan->protocol->id);
	for (size_t i = 0; i < plan->protocol->n_items; i++)
		put_medicine(&digesting, plan->protocol->items[i].medicine);
	put_clinic(&digesting);
	const char *digest = arena_strdup(arena, g_checksum_get_string(digesting.checksum));
	g_checksum_free(digesting.checksum);
	return digest;
}
