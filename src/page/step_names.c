#include "page/step_names.h"

#include <assert.h>
#include <string.h>

static const char *const names[] = {
	/* get ready */
	"box-check",
	"warm-up",
	"fridge-out",
	"before-time",
	"wash-hands",
	"lay-out",
	"look-clear",
	"new-syringe",
	"label-vial",
	/* mix */
	"lid-off",
	"wipe-top",
	"thick-on",
	"needle-on",
	"liquid-in",
	"swirl",
	"roll",
	"shake",
	"settle",
	/* draw */
	"even-air",
	"air-equal",
	"flip-vial",
	"draw-line",
	"draw-all",
	"bubbles-back",
	"air-in",
	"swap-needles",
	"air-out",
	"first-drop",
	"check-line",
	"push-out-to",
	/* ampoules */
	"ampoule-snap",
	"ampoule-draw",
	"filter-draw",
	/* inject */
	"cap-off-syringe",
	"choose-spot",
	"clean-skin",
	"pinch-inject",
	"inject-muscle",
	"stop-at",
	"hold-count",
	/* afterwards */
	"sharps-box",
	"throw-rest",
	"tick",
	/* pens */
	"pen-dial",
	"pen-needle",
	"pen-test",
	"pen-inject",
	/* other forms */
	"patch-on",
	"patch-off",
	"insert-in",
	"spray-nose",
	"tablet-halve",
	"tablet-swallow",
	/* the strip 'one syringe, two needles': lying, in the middle third of the height */
	"flow-liquid",
	"flow-vial",
	"flow-drawn",
	"flow-thin",
	"flow-you",
};

size_t step_picture_count(void)
{
	return sizeof names / sizeof names[0];
}

const char *step_picture_name(size_t index)
{
	assert(index < step_picture_count());
	return names[index];
}

bool step_picture_known(const char *name)
{
	for (size_t i = 0; i < step_picture_count(); i++) {
		if (strcmp(names[i], name) == 0) {
			return true;
		}
	}
	return false;
}
