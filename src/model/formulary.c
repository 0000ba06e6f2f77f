#include "model/formulary.h"

const char *container_kind_name(enum container_kind kind)
{
	static const char *const names[] = {
		[CONTAINER_POWDER_VIAL] = "powder-vial",
		[CONTAINER_SOLUTION_VIAL] = "solution-vial",
		[CONTAINER_AMPOULE] = "ampoule",
		[CONTAINER_PREFILLED_SYRINGE] = "prefilled-syringe",
		[CONTAINER_PEN] = "pen",
		[CONTAINER_COUNTED] = "counted",
	};
	return names[kind];
}

const char *route_name(enum route route)
{
	static const char *const names[] = {
		[ROUTE_SUBCUTANEOUS] = "subcutaneous",
		[ROUTE_INTRAMUSCULAR] = "intramuscular",
		[ROUTE_ORAL] = "oral",
		[ROUTE_VAGINAL] = "vaginal",
		[ROUTE_RECTAL] = "rectal",
		[ROUTE_TRANSDERMAL] = "transdermal",
		[ROUTE_NASAL] = "nasal",
	};
	return names[route];
}

bool route_by_needle(enum route route)
{
	return route == ROUTE_SUBCUTANEOUS || route == ROUTE_INTRAMUSCULAR;
}

bool medicine_has_product(const struct medicine *medicine, const struct product *product)
{
	return product >= medicine->products && product < medicine->products + medicine->n_products;
}
