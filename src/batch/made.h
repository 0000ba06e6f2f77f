/*
 * made.h - one patient's plan on its way to a packet, stage by stage.
 */
#ifndef BATCH_MADE_H
#define BATCH_MADE_H

#include "page/compose.h"
#include "record/record.h"

/* Everything up to a composed packet. The caller fills clinic, plan and, before composing, typesetter. */
struct made {
	const struct clinic *clinic;
	const struct plan *plan;
	const struct course *course;
	const struct record *record;
	struct speaker *speaker;
	struct speaker *staff;
	const struct handout *handout;
	struct typesetter *typesetter;
	const struct placed_packet *packet;
};

/* Each returns false when it is stopped; the findings say why. What was made so far is in `made`, in `arena`. */
bool made_record(struct arena *arena, struct made *made, struct findings *findings);
bool made_handout(struct arena *arena, struct made *made, bool mono, struct findings *findings);
bool made_packet(struct arena *arena, struct made *made, struct findings *findings);

/* Frees what no arena holds: the speakers, and the typesetter where there is one. */
void made_free(struct made *made);

#endif
