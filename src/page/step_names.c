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
	"look-syringe",
	"look-ampoule",
	"new-syringe",
	"label-vial",
	"write-date",
	"shelf-out",
	/* mix */
	"lid-off",
	"lid-off-liquid",
	"wipe-top",
	"wipe-top-liquid",
	"thick-on",
	"thick-on-empty",
	"needle-on",
	"filter-on",
	"needle-on-filled",
	"liquid-in",
	"swirl",
	"swirl-vial",
	"roll",
	"shake",
	"settle",
	/* draw */
	"air-equal",
	"pull-air",
	"push-air",
	"flip-vial",
	"draw-line",
	"draw-all",
	"bubbles-back",
	"air-in",
	"swap-needles",
	"swap-filter",
	"air-out",
	"first-drop",
	"keep-bubble",
	"check-line",
	"push-out-to",
	/* ampoules */
	"ampoule-snap",
	"ampoule-draw",
	"draw-ampoule",
	"filter-draw",
	/* inject */
	"cap-off-syringe",
	"choose-spot",
	"clean-skin",
	"pinch-inject",
	"inject-muscle",
	"stop-at",
	"hold-count",
	/* into the muscle, by a helper */
	"lie-side",
	"lie-front",
	"skin-pull",
	"pull-back",
	"push-slowly",
	"press-pad",
	/* afterwards */
	"sharps-box",
	"throw-rest",
	"throw-syringe",
	"keep-vial",
	"keep-vial-shelf",
	"tick",
	/* pens */
	"pen-dial",
	"pen-needle",
	"pen-test",
	"pen-inject",
	"look-pen",
	"pen-caps",
	"pen-zero",
	"pen-off",
	/* other forms */
	"patch-on",
	"patch-off",
	"patch-place",
	"patch-clean",
	"patch-press",
	"patch-count",
	"insert-in",
	"insert-unwrap",
	"insert-load",
	"insert-lie",
	"insert-finger",
	"insert-after",
	"spray-nose",
	"spray-left",
	"spray-right",
	"spray-prime",
	"spray-wipe",
	"nose-blow",
	"nose-still",
	"wait-count",
	"tablet-halve",
	"tablet-swallow",
	"tablet-score",
	"tablet-keep",
	"capsule-count",
	"capsule-swallow",
	"drops-count",
	"drops-close",
	"drink-up",
	"sachet-tear",
	"sachet-stir",
	/* the strip 'one syringe, two needles': lying, in the middle third of the height */
	"flow-liquid",
	"flow-vial",
	"flow-drawn",
	"flow-thin",
	"flow-you",
	/* vial after vial: the syringe with its liquid, and in one of the vials */
	"chain-liquid",
	"chain-vial",
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

static bool is_among(const char *const *list, size_t n, const char *name)
{
	for (size_t i = 0; i < n; i++)
		if (strcmp(list[i], name) == 0)
			return true;
	return false;
}

bool step_picture_known(const char *name)
{
	return is_among(names, step_picture_count(), name);
}

bool step_picture_judges(const char *name)
{
	static const char *const judging[] = {"look-clear", "look-syringe", "look-ampoule"};
	return is_among(judging, sizeof judging / sizeof *judging, name);
}
