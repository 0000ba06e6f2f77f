#include "model/stated.h"

#include <string.h>

const char *text_in(struct text text, const char *language)
{
	for (size_t i = 0; i < text.n; i++)
		if (strcmp(text.in[i].language, language) == 0)
			return text.in[i].text;
	return NULL;
}
