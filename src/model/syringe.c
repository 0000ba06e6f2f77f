#include "model/syringe.h"

bool syringe_scale_number(const struct syringe *syringe, struct rational volume, struct rational *number)
{
	return rational_multiply(volume, syringe->units_per_ml, number);
}

bool syringe_has_line(const struct syringe *syringe, struct rational volume)
{
	int64_t lines;
	if (volume.numerator < 0 || rational_compare(volume, syringe->graduated) > 0)
		return false;
	return rational_in_steps(volume, syringe->step, &lines);
}
