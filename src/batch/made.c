#include "batch/made.h"

bool made_record(struct arena *arena, struct made *made, struct findings *findings)
{
	made->course = course_of(arena, made->plan, findings);
	if (made->course == NULL || findings_stop(findings))
		return false;
	made->record = record_of(arena, made->course, findings);
	return true;
}

bool made_handout(struct arena *arena, struct made *made, bool mono, struct findings *findings)
{
	const struct plan *plan = made->plan;
	made->speaker = speaker_new(arena, made->clinic, plan->language, findings);
	made->staff = speaker_new(arena, made->clinic, made->clinic->languages[0], findings);
	if (made->speaker == NULL || made->staff == NULL)
		return false;
	struct handout_options options = {plan->language, plan->paper, plan->large_print, mono};
	made->handout = handout_of(arena, made->record, options, made->speaker, made->staff, findings);
	return !findings_stop(findings);
}

bool made_packet(struct arena *arena, struct made *made, struct findings *findings)
{
	made->packet = compose_packet(arena, made->handout, made->typesetter, findings);
	return made->packet != NULL && !findings_stop(findings);
}

void made_free(struct made *made)
{
	typesetter_free(made->typesetter);
	speaker_free(made->speaker);
	speaker_free(made->staff);
}
