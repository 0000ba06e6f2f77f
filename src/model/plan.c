#include "model/plan.h"

const struct event_date *plan_event_date(const struct plan *plan, const struct event *event)
{
	for (size_t i = 0; i < plan->n_events; i++)
		if (plan->events[i].event == event)
			return &plan->events[i];
	return NULL;
}

const struct plan_doses *plan_doses_of(const struct plan *plan, const struct item *item)
{
	for (size_t i = 0; i < plan->n_doses; i++)
		if (plan->doses[i].item == item)
			return &plan->doses[i];
	return NULL;
}
