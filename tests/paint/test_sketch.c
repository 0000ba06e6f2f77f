/*
 * A drawing's text is read to the last digit: each number is what strtod() makes of it, however it is printed.
 */
#include "paint/sketch.h"

#include "support/cases.h"

#include <stdlib.h>
#include <string.h>

struct noting {
	struct device device;
	struct point points[8];
	size_t n;
};

static void note_path(struct device *device, const struct path *path, const struct ink *ink)
{
	struct noting *noting = (struct noting *)(void *)device;
	(void)ink;
	for (size_t i = 0; i < path->n; i++)
		noting->points[noting->n++] = path->segments[i].to;
}

static const struct device_end noting_end = {.path = note_path};

/* %g prints the last two with an exponent. */
static const char *const numbers[] = {
	"0",      "7",      "-7",       "0.1",   "-0.1",         "2.675",          "123.456",  "-98765.4",
	"0.0001", "99.999", "-0.00035", "1.005", "0.3333333333", "123456.7890123", "5.55e-17", "-2.5e-05",
};

static void numbers_are_read_exactly(void **state)
{
	for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
		struct noting noting = {.device = {.end = &noting_end}};
		struct painter painter = {case_of(state)->arena, &noting.device};
		struct sketch sketch = {.painter = &painter, .line = 1};
		sketch_draw(sketch, SKETCH_LINE, "M %s %sL  %s 5", numbers[i], numbers[i], numbers[i]);
		double expected = strtod(numbers[i], NULL);
		assert_int_equal(noting.n, 2);
		assert_memory_equal(&noting.points[0], (&(struct point){expected, expected}), sizeof(struct point));
		assert_memory_equal(&noting.points[1], (&(struct point){expected, 5}), sizeof(struct point));
	}
}

/* A minus sign parts numbers as well as a blank does. */
static void numbers_may_touch(void **state)
{
	struct noting noting = {.device = {.end = &noting_end}};
	struct painter painter = {case_of(state)->arena, &noting.device};
	struct sketch sketch = {.painter = &painter, .line = 1};
	sketch_draw(sketch, SKETCH_LINE, "M%g%gL%g %g", 1.5, -2.5, 1e-9, 12345.5);
	assert_int_equal(noting.n, 2);
	assert_memory_equal(&noting.points[0], (&(struct point){1.5, -2.5}), sizeof(struct point));
	assert_memory_equal(&noting.points[1], (&(struct point){1e-9, 12345.5}), sizeof(struct point));
}

int main(void)
{
	struct tests tests = {0};
	tests_add(&tests, "numbers are read exactly", numbers_are_read_exactly, NULL);
	tests_add(&tests, "numbers may touch", numbers_may_touch, NULL);
	return tests_run(&tests, "sketch");
}
