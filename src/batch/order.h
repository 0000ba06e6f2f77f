/*
 * order.h - is this the order that the patient's last sheet was made from?
 */
#ifndef BATCH_ORDER_H
#define BATCH_ORDER_H

#include "model/plan.h"

/*
 * A digest of all that a sheet depends on but the day it speaks from and its
 * version: the order itself, its language, paper and size, who signed, and the
 * clinic's records that it uses. Lives in `arena`.
 */
const char *order_digest(struct arena *arena, const struct plan *plan, bool mono);

#endif
