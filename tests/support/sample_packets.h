/*
 * sample_packets.h - the project's own sample plans, from file to composed packet.
 */
#ifndef SUPPORT_SAMPLE_PACKETS_H
#define SUPPORT_SAMPLE_PACKETS_H

#include "base/arena.h"
#include "page/compose.h"

#include <stddef.h>

extern const char *const sample_plans[]; /* paths, from the repository's root */
extern const size_t n_sample_plans;

struct sample_packet {
	struct arena *arena;
	const struct record *record;
	const struct handout *handout;
	const struct placed_packet *packet;
	struct typesetter *typesetter;
	struct speaker *speaker;
	struct speaker *staff;
};

/* Composes a plan for a paper; the test fails where there is a stop. Free it with sample_packet_free(). */
struct sample_packet sample_packet_of(const char *plan, enum paper paper);
/* The same in large print where it is asked for. */
struct sample_packet sample_packet_in(const char *plan, enum paper paper, bool large_print);
/* The same in another language than the plan's. */
struct sample_packet sample_packet_said(const char *plan, enum paper paper, bool large_print, const char *language);
/* A plan of another clinic's folder. */
struct sample_packet packet_of_clinic(const char *folder, const char *plan, enum paper paper, bool large_print);
void sample_packet_free(struct sample_packet *sample);

/* The same packet as a PDF file. */
void sample_packet_save(const struct sample_packet *sample, const char *path);

#endif
