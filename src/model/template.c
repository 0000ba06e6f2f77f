#include "model/template.h"

#include <string.h>

const struct message *wording_find(const struct wording *wording, const char *key)
{
	size_t low = 0;
	size_t high = wording->n;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		int order = strcmp(key, wording->messages[middle].key);
		if (order == 0)
			return &wording->messages[middle];
		if (order < 0)
			high = middle;
		else
			low = middle + 1;
	}
	return NULL;
}

const struct technique_template *templates_technique(const struct page_templates *templates, const char *id)
{
	for (size_t i = 0; i < templates->n_techniques; i++)
		if (strcmp(templates->techniques[i].id, id) == 0)
			return &templates->techniques[i];
	return NULL;
}
