#include "model/protocol.h"

#include <string.h>

const struct event *protocol_event(const struct protocol *protocol, const char *id)
{
	for (size_t i = 0; i < protocol->n_events; i++)
		if (strcmp(protocol->events[i].id, id) == 0)
			return &protocol->events[i];
	return NULL;
}

const struct item *protocol_item(const struct protocol *protocol, const char *id)
{
	for (size_t i = 0; i < protocol->n_items; i++)
		if (strcmp(protocol->items[i].id, id) == 0)
			return &protocol->items[i];
	return NULL;
}

bool protocol_has_procedure(const struct protocol *protocol, const struct event *event)
{
	for (size_t i = 0; i < protocol->n_events; i++)
		if (protocol->events[i].check_before && strcmp(protocol->events[i].check_before, event->id) == 0)
			return true;
	return event->is_arrival;
}
