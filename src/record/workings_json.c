/*
 * workings_json.c - every computed figure of a plan, for a program to read.
 */
#include "record/record.h"

#include <inttypes.h>
#include <jansson.h>
#include <stdlib.h>

struct json_writer {
	struct arena *arena;
	enum decimal_mark mark;
};

static void set_text(json_t *object, const char *key, const char *text)
{
	json_object_set_new(object, key, text == NULL ? json_null() : json_string(text));
}

static const char *plain(struct json_writer *writer, struct quantity quantity)
{
	return quantity_plain(writer->arena, quantity, writer->mark);
}

static const char *per_ml(struct json_writer *writer, struct quantity amount)
{
	return arena_printf(writer->arena, "%s/mL", plain(writer, amount));
}

static const char *mark_text(struct json_writer *writer, const struct mark *mark)
{
	if (mark->all)
		return "all";
	const char *number = number_print(writer->arena, mark->number, writer->mark);
	if (mark->syringe != NULL && mark->syringe->unit_scale)
		return arena_printf(writer->arena, "line %s", number);
	return arena_printf(writer->arena, "%s mL", number);
}

static const char *line_name(enum line_kind line)
{
	switch (line) {
	case LINE_DRAW:
		return "draw";
	case LINE_ADD:
		return "add";
	case LINE_PUSH_OUT:
	case LINE_STOP:
		break;
	}
	return "stop";
}

/* What waits for the second of two doses: the container, or a syringe that was drawn at once. */
static const char *kept_in(const struct container_use *use)
{
	if (use->then != THEN_KEEP || !use->has_by || use->by_day_only || !use->product->share.given)
		return NULL;
	return use->product->share.how == SHARE_TWO_SYRINGES ? "syringe" : "vial";
}

static json_t *json_of_use(struct json_writer *writer, const struct container_use *use)
{
	json_t *object = json_object();
	set_text(object, "product", use->product->id);
	json_object_set_new(object, "number", json_integer(use->number));
	set_text(object, "takes", plain(writer, use->takes));
	set_text(object, "leaves", plain(writer, use->leaves));
	set_text(object, "then", use->then == THEN_KEEP ? "keep" : "discard");
	if (use->has_by) {
		const char *by = date_print(writer->arena, use->by);
		if (!use->by_day_only)
			by = arena_printf(writer->arena, "%s %s", by, clock_print(writer->arena, use->by_time));
		set_text(object, "by", by);
		if (kept_in(use) != NULL)
			set_text(object, "kept_in", kept_in(use));
	}
	return object;
}

static json_t *json_of_uses(struct json_writer *writer, const struct draw *draw)
{
	json_t *list = json_array();
	for (size_t i = 0; i < draw->n_containers; i++)
		json_array_append_new(list, json_of_use(writer, &draw->containers[i]));
	return list;
}

static void set_volume(struct json_writer *writer, json_t *object, struct rational volume)
{
	struct quantity millilitres = {volume, UNIT_ML};
	set_text(object, "volume", plain(writer, millilitres));
	set_text(object, "volume_exact",
	         arena_printf(writer->arena, "%" PRId64 "/%" PRId64, volume.numerator, volume.denominator));
}

static json_t *json_of_add(struct json_writer *writer, const struct draw *draw)
{
	json_t *object = json_object();
	set_text(object, "syringe", draw->add.syringe->id);
	set_text(object, "line", line_name(LINE_ADD));
	set_volume(writer, object, draw->liquid);
	set_text(object, "mark", mark_text(writer, &draw->add));
	return object;
}

static json_t *json_of_draw(struct json_writer *writer, const struct draw *draw)
{
	json_t *object = json_object();
	switch (draw->measure) {
	case MEASURE_SYRINGE:
		set_text(object, "syringe", draw->mark.syringe == NULL ? NULL : draw->mark.syringe->id);
		set_text(object, "line", line_name(draw->mark.line));
		set_volume(writer, object, draw->volume);
		set_text(object, "mark", mark_text(writer, &draw->mark));
		set_text(object, "concentration", per_ml(writer, draw->concentration));
		break;
	case MEASURE_DIAL:
		set_text(object, "dial", plain(writer, draw->dial));
		break;
	case MEASURE_COUNT:
		set_text(object, "count", plain(writer, draw->count));
		break;
	}
	json_object_set_new(object, "containers", json_of_uses(writer, draw));
	return object;
}

static json_t *json_of_draws(struct json_writer *writer, const struct draw *draws, size_t n)
{
	json_t *list = json_array();
	for (size_t i = 0; i < n; i++) {
		const struct draw *draw = &draws[i];
		if (draw->measure == MEASURE_SYRINGE && draw->has_add)
			json_array_append_new(list, json_of_add(writer, draw));
		json_array_append_new(list, json_of_draw(writer, draw));
	}
	return list;
}

/* What is given is the sum over the draws; it differs from the order only by a stated rounding. */
static const char *given(struct json_writer *writer, struct quantity ordered, const struct draw *draws, size_t n)
{
	struct quantity sum = ordered;
	for (size_t i = 0; i < n; i++)
		if (i == 0)
			sum = draws[i].given;
		else if (!quantity_add(sum, draws[i].given, &sum))
			return NULL;
	return plain(writer, sum);
}

static json_t *json_of_option(struct json_writer *writer, const struct dose_option *option)
{
	json_t *object = json_object();
	set_text(object, "dose", plain(writer, option->amount));
	set_text(object, "given", given(writer, option->amount, option->draws, option->n_draws));
	json_object_set_new(object, "draws", json_of_draws(writer, option->draws, option->n_draws));
	return object;
}

static json_t *json_of_options(struct json_writer *writer, const struct dose *dose)
{
	json_t *list = json_array();
	for (size_t i = 0; i < dose->n_options; i++)
		json_array_append_new(list, json_of_option(writer, &dose->options[i]));
	return list;
}

static json_t *json_of_dose(struct json_writer *writer, const struct dose *dose)
{
	json_t *object = json_object();
	set_text(object, "item", dose->item->id);
	json_object_set_new(object, "n", json_integer(dose->n));
	set_text(object, "date", dose->open ? NULL : date_print(writer->arena, dose->clock_date));
	if (dose->open)
		json_object_set_new(object, "day", json_integer(dose->day));
	set_text(object, "time", dose->has_time ? clock_print(writer->arena, dose->time) : NULL);
	if (dose->item->window.given)
		set_text(object, "window", plain(writer, dose->item->window.quantity));
	bool known = dose->amount != DOSE_BY_CALL;
	set_text(object, "dose", known ? plain(writer, dose->ordered) : NULL);
	set_text(object, "given", known ? given(writer, dose->ordered, dose->draws, dose->n_draws) : NULL);
	json_object_set_new(object, "draws", json_of_draws(writer, dose->draws, dose->n_draws));
	if (dose->n_options > 0)
		json_object_set_new(object, "may_become", json_of_options(writer, dose));
	return object;
}

static json_t *json_of_supply(struct json_writer *writer, const struct product_supply *supply)
{
	json_t *object = json_object();
	set_text(object, "product", supply->product->id);
	json_object_set_new(object, "needed", json_integer(supply->needed));
	json_object_set_new(object, "dispensed", json_integer(supply->dispensed));
	json_object_set_new(object, "to_get", json_integer(supply->to_get));
	set_text(object, "discarded", plain(writer, supply->discarded));
	return object;
}

static json_t *json_of_finding(const struct finding *finding)
{
	json_t *object = json_object();
	set_text(object, "level", finding_level_name(finding->level));
	set_text(object, "code", finding->code);
	set_text(object, "file", finding->place.file == NULL ? NULL : finding->place.file->name);
	json_object_set_new(object, "line", json_integer(finding->place.line));
	json_object_set_new(object, "column", json_integer(finding->place.column));
	set_text(object, "says", finding->says);
	return object;
}

static json_t *json_of_findings(const struct findings *findings)
{
	json_t *list = json_array();
	for (size_t i = 0; i < findings->n; i++)
		json_array_append_new(list, json_of_finding(&findings->list[i]));
	return list;
}

/* The object's text; the object is given up. */
static const char *text_of_json(struct arena *arena, json_t *object)
{
	char *text = json_dumps(object, JSON_INDENT(1));
	const char *copy = arena_printf(arena, "%s\n", text);
	free(text);
	json_decref(object);
	return copy;
}

const char *record_workings_json(struct arena *arena, const struct record *record)
{
	const struct course *course = record->course;
	struct json_writer writer = {arena, course->plan->clinic->mark};
	json_t *object = json_object();
	json_t *doses = json_array();
	json_t *supplies = json_array();
	set_text(object, "plan", course->plan->id);
	set_text(object, "code", record->code);
	set_text(object, "state", record->is_signed ? "signed" : "draft");
	for (size_t i = 0; i < course->n_doses; i++)
		json_array_append_new(doses, json_of_dose(&writer, &course->doses[i]));
	for (size_t i = 0; i < course->n_supplies; i++)
		json_array_append_new(supplies, json_of_supply(&writer, &course->supplies[i]));
	json_object_set_new(object, "doses", doses);
	json_object_set_new(object, "supplies", supplies);
	json_object_set_new(object, "findings", json_of_findings(record->findings));
	return text_of_json(arena, object);
}

const char *refused_workings_json(struct arena *arena, const char *plan, const struct findings *findings)
{
	json_t *object = json_object();
	set_text(object, "plan", plan);
	set_text(object, "code", NULL);
	set_text(object, "state", NULL);
	json_object_set_new(object, "doses", json_array());
	json_object_set_new(object, "supplies", json_array());
	json_object_set_new(object, "findings", json_of_findings(findings));
	return text_of_json(arena, object);
}
