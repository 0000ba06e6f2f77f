#include "page/numbering.h"

struct numbering *numbering_blank(struct arena *arena, size_t n_sections)
{
	struct numbering *numbers = arena_alloc(arena, sizeof *numbers);
	numbers->sections = arena_alloc(arena, n_sections * sizeof *numbers->sections);
	numbers->n_sections = n_sections;
	return numbers;
}

static bool steps_agree(const struct section_pages *a, const struct section_pages *b)
{
	if (a->n_steps != b->n_steps)
		return false;
	for (size_t i = 0; a->steps != b->steps && i < a->n_steps; i++)
		if (a->steps[i] != b->steps[i])
			return false;
	return true;
}

static bool parts_agree(const struct section_pages *a, const struct section_pages *b)
{
	if (a->n_parts != b->n_parts)
		return false;
	for (size_t i = 0; a->parts != b->parts && i < a->n_parts; i++)
		if (a->parts[i].part != b->parts[i].part || a->parts[i].index != b->parts[i].index)
			return false;
	return true;
}

static bool section_agrees(const struct section_pages *a, const struct section_pages *b, unsigned read)
{
	return (!(read & FACT_FIRST) || a->first == b->first) && (!(read & FACT_COUNT) || a->n == b->n) &&
	       (!(read & FACT_BACK) || a->back == b->back) && (!(read & FACT_LINE) || a->line == b->line) &&
	       (!(read & FACT_STEPS) || steps_agree(a, b)) && (!(read & FACT_PARTS) || parts_agree(a, b));
}

bool numbering_agrees(const struct numbering *a, const struct numbering *b, const unsigned char *read)
{
	for (size_t i = 0; i < a->n_sections; i++)
		if (read[i] != 0 && !section_agrees(&a->sections[i], &b->sections[i], read[i]))
			return false;
	return true;
}

int numbering_in_all(const struct numbering *numbers, const struct section *section)
{
	return section->staff ? numbers->n_staff : section->notice ? numbers->n_notice : numbers->n_patient;
}

const char *numbering_label(struct arena *arena, const struct section *section, int number)
{
	return arena_printf(arena, section->staff ? "S%d" : section->notice ? "C%d" : "%d", number);
}

int numbering_digits(int number)
{
	int digits = 1;
	for (; number > 9; number /= 10)
		digits++;
	return digits;
}
