/*
 * own_templates.h - a clinic's own templates against the names that only the pages know.
 *
 * The loader reads which conditions, things and pictures a step names; what
 * these are is known where steps are chosen and drawn.
 */
#ifndef CLI_OWN_TEMPLATES_H
#define CLI_OWN_TEMPLATES_H

#include "base/finding.h"
#include "model/clinic.h"

/* False, with a stop for each, where a name is not known in a template or in the words of a step. */
bool own_templates_good(struct arena *arena, const struct clinic *clinic, struct findings *findings);

#endif
