#ifndef OUTLAY_ORDER_BILL_PRIVATE_H
#define OUTLAY_ORDER_BILL_PRIVATE_H

/* Shared by bill.c, sheets.c, boards.c and edges.c only. */

#include "base/plural.h"
#include "order/order.h"

/* Items that a bill can have: one a use, and one more kind of screw. */
enum { BILL_ROOM = ITEM_USES + 4 };

/* A bill that is being counted. */
struct count {
    struct arena *arena;
    const struct roof *roof;
    const struct layout *layout;
    const struct order_settings *settings;
    const struct assembly *assembly;
    enum deck deck;
    bool stack_given;
    double stack;    /* of new boards, m */
    double under;    /* old boards that stay below them, m */
    int layers;      /* of new boards */
    double openings; /* not deducted, m2 */
    double end_laps; /* m, welded */
    double t_joints;
    double hours; /* before the height factor */
    struct bill *bill;
    struct outlay_error *err;
};

/* Adds an item of which `net` is needed; nothing is added for 0. The caller may still
 * change its parts and then calls count_close(). NULL: not needed. */
struct bill_item *count_item(struct count *count, enum item_use use, double net);

/* Adds an item whose count nobody gave. */
void count_not_given(struct count *count, enum item_use use, const char *note);

/* Sums of the parts; hours of what is laid. */
void count_close(struct count *count, struct bill_item *item);

/* Makes a name in the arena. */
enum outlay_status count_name(struct count *count, const char **out, const char *format,
                              ...) OUTLAY_PRINTF(3, 4);

/* Layers of a stack of boards, m: two above 2.7 in (ours). */
int layers_of(double stack);

/* sheets.c, boards.c, edges.c; the last adds to count->t_joints */
enum outlay_status count_sheets(struct count *count) OUTLAY_MUST_CHECK;
enum outlay_status count_boards(struct count *count) OUTLAY_MUST_CHECK;
enum outlay_status count_edges(struct count *count) OUTLAY_MUST_CHECK;

#endif
