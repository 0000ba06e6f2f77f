/*
 * figure_page.h - one syringe filled to its line, alone on a small page: for a question without a plan.
 */
#ifndef PAGE_FIGURE_PAGE_H
#define PAGE_FIGURE_PAGE_H

#include "page/placed.h"

struct figure_request {
	const struct syringe *syringe;
	struct rational at; /* mL: where the front ring stands */
	struct mark_words mark;
	const char *caption; /* below the syringe */
	const char *alt;     /* spoken */
	const char *language;
	enum decimal_mark decimal_mark;
};

/* In true size by the syringe's data. Lives in `arena`; its text belongs to `typesetter`. */
const struct placed_page *figure_page(struct arena *arena, struct typesetter *typesetter,
                                      const struct figure_request *request);

#endif
