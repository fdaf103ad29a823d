#ifndef OUTLAY_ORDER_ORDERS_PRIVATE_H
#define OUTLAY_ORDER_ORDERS_PRIVATE_H

/* Shared by orders.c and book.c only. */

#include "order/order.h"

/* The line of such goods, a new one without amounts where there is none, whose texts are
 * copied. NULL when out of memory. */
struct order_line *order_line_of(struct arena *arena, struct order *order,
                                 enum method method, const struct bill_item *item);

/* Adds what a roof takes to a line. */
void order_line_add(struct order_line *line, const struct bill_item *item);

/* Counts a roof in, and what its goods rest on. */
void order_meet(struct order *order, enum zone_state state, uint64_t assumed);

#endif
