/*
 * bare_draw.h - one draw without a clinic: a dose, what it comes from, and perhaps a syringe.
 *
 * It makes a product of what was said and asks draw_make(), so that a question from the command line and a dose of a
 * plan are answered by the same computation.
 */
#ifndef PLAN_BARE_DRAW_H
#define PLAN_BARE_DRAW_H

#include "plan/draw.h"

struct bare_draw {
	struct quantity dose;
	struct quantity strength;             /* in `volume`, or where that is not given in one container */
	struct stated_quantity volume;        /* 0.5 mL of "250 mcg/0.5 mL", 1 mL of "5 mg/mL" */
	struct stated_quantity liquid;        /* what a powder is mixed with */
	struct stated_quantity displacement;  /* what that powder adds to the volume */
	struct stated_quantity concentration; /* the label's amount in 1 mL */
	const struct syringe *syringe;        /* NULL: pick */
	const struct syringe *const *stock;
	size_t n_stock;
	enum decimal_mark mark;
};

/* The answer as `draw --json` prints it; a text is NULL where it is not known. */
struct bare_answer {
	bool made;
	struct draw draw;
	const char *dose;
	const char *concentration; /* "250 mcg/mL" */
	const char *volume;        /* "0.416 mL", "about 0.166667 mL" */
	const char *volume_exact;  /* "1/6", in mL */
	const char *syringe;       /* its id */
	const char *mark;          /* "0.5 mL", "line 50"; NULL where refused */
	bool between_marks;
	const char *below; /* the lines next to the volume, the same line twice where one stands there */
	const char *above; /* NULL beyond the scale */
};

/*
 * With a volume it is a solution, of which any amount may be drawn; with a liquid it is a powder, of which one container
 * is drawn from; with neither, the label's concentration must say what is in 1 mL. What could be read in two ways is
 * refused. All that is wrong goes to `findings`, at no place. Lives in `arena`.
 */
void bare_draw_make(struct arena *arena, const struct bare_draw *bare, struct bare_answer *answer,
                    struct findings *findings);

#endif
