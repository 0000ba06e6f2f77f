#include "load/choices.h"

#include "model/plan.h"

#include <assert.h>

const struct choice choices_container[] = {{"powder-vial", CONTAINER_POWDER_VIAL},
                                           {"solution-vial", CONTAINER_SOLUTION_VIAL},
                                           {"ampoule", CONTAINER_AMPOULE},
                                           {"prefilled-syringe", CONTAINER_PREFILLED_SYRINGE},
                                           {"pen", CONTAINER_PEN},
                                           {"counted", CONTAINER_COUNTED},
                                           {NULL, 0}};
const struct choice choices_route[] = {{"subcutaneous", ROUTE_SUBCUTANEOUS},
                                       {"intramuscular", ROUTE_INTRAMUSCULAR},
                                       {"oral", ROUTE_ORAL},
                                       {"vaginal", ROUTE_VAGINAL},
                                       {"rectal", ROUTE_RECTAL},
                                       {"transdermal", ROUTE_TRANSDERMAL},
                                       {"nasal", ROUTE_NASAL},
                                       {NULL, 0}};
const struct choice choices_mix[] = {{"swirl", MIX_SWIRL}, {"roll", MIX_ROLL}, {"shake", MIX_SHAKE}, {NULL, 0}};
const struct choice choices_vessel[] = {
	{"syringe", LIQUID_SYRINGE}, {"vial", LIQUID_VIAL}, {"ampoule", LIQUID_AMPOULE}, {NULL, 0}};
const struct choice choices_draw_with[] = {
	{"own", DRAW_WITH_OWN}, {"diluent-syringe", DRAW_WITH_LIQUID_SYRINGE}, {NULL, 0}};
const struct choice choices_whole[] = {{"all", false}, {"to-mark", true}, {NULL, 0}};
const struct choice choices_part[] = {{"expel-first", PART_EXPEL_FIRST}, {"inject-to", PART_INJECT_TO}, {NULL, 0}};
const struct choice choices_share_place[] = {{"fridge", 0}, {"room", 0}, {NULL, 0}};
const struct choice choices_share_way[] = {{"vial", SHARE_FROM_VIAL}, {"two-syringes", SHARE_TWO_SYRINGES}, {NULL, 0}};
const struct choice choices_bubble[] = {{"expel", BUBBLE_EXPEL}, {"keep", BUBBLE_KEEP}, {NULL, 0}};
const struct choice choices_air[] = {{"none", AIR_NONE}, {"equal", AIR_EQUAL}, {NULL, 0}};
const struct choice choices_pen_test[] = {{"first", PEN_TEST_FIRST}, {"each", PEN_TEST_EACH}, {NULL, 0}};
const struct choice choices_pen_end[] = {{"stops", PEN_END_STOPS}, {"shows-rest", PEN_END_SHOWS_REST}, {NULL, 0}};
const struct choice choices_division[] = {{"half", true}, {"none", false}, {NULL, 0}};
const struct choice choices_box_needle[] = {{"mixing", 0}, {"giving", 0}, {NULL, 0}};
const struct choice choices_rounding_aim[] = {{"mark", 0}, {NULL, 0}};

const struct choice choices_needle[] = {{"none", false}, {"fixed", true}, {NULL, 0}};
const struct choice choices_time_is[] = {{"procedure", false}, {"arrival", true}, {NULL, 0}};
const struct choice choices_weekday[] = {{"mon", MONDAY}, {"tue", TUESDAY},  {"wed", WEDNESDAY}, {"thu", THURSDAY},
                                         {"fri", FRIDAY}, {"sat", SATURDAY}, {"sun", SUNDAY},    {NULL, 0}};
const struct choice choices_rotation[] = {{"sides", ROTATION_SIDES}, {"quarters", ROTATION_QUARTERS}, {NULL, 0}};
const struct choice choices_paper[] = {{"a4", PAPER_A4}, {"letter", PAPER_LETTER}, {NULL, 0}};
const struct choice choices_away_keep[] = {{"clock", AWAY_KEEP_CLOCK}, {"hours", AWAY_KEEP_HOURS}, {NULL, 0}};
const struct choice choices_side[] = {{"first", STEP_FIRST},
                                      {"front", STEP_FRONT},
                                      {"back", STEP_BACK},
                                      {"second-day", STEP_SECOND_DAY},
                                      {"pens-first", STEP_PENS_FIRST},
                                      {"each-pen", STEP_EACH_PEN},
                                      {"mix", STEP_MIX},
                                      {"line", STEP_LINE},
                                      {"rest", STEP_REST},
                                      {"helper", STEP_HELPER},
                                      {NULL, 0}};
const struct choice choices_trigger[] = {{"none", TRIGGER_NONE},
                                         {"on", TRIGGER_ON},
                                         {"event", TRIGGER_EVENT},
                                         {"call", TRIGGER_CALL},
                                         {"first-of", TRIGGER_FIRST_OF},
                                         {"last-of", TRIGGER_LAST_OF},
                                         {"doses", TRIGGER_DOSES},
                                         {"days", TRIGGER_DAYS},
                                         {NULL, 0}};
const struct choice choices_amount[] = {
	{"stated", DOSE_STATED}, {"plan", DOSE_FROM_PLAN}, {"call", DOSE_BY_CALL}, {NULL, 0}};
const struct choice choices_change[] = {{"dose", CHANGE_DOSE}, {"stop", CHANGE_STOP},       {"skip", CHANGE_SKIP},
                                        {"at", CHANGE_AT},     {"product", CHANGE_PRODUCT}, {NULL, 0}};
const struct choice choices_in_box[] = {
	{"needle", BOX_NEEDLE}, {"syringe", BOX_SYRINGE}, {"swab", BOX_SWAB}, {NULL, 0}};

const char *choice_word(const struct choice *choices, int value)
{
	while (choices->word && choices->value != value)
		choices++;
	assert(choices->word);
	return choices->word;
}
