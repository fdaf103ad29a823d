#ifndef OUTLAY_ORDER_BILL_PRIVATE_H
#define OUTLAY_ORDER_BILL_PRIVATE_H

/* Shared by bill.c, sheets.c, boards.c, edges.c, taper.c, taper_screws.c and
 * screws.c. */

#include "base/plural.h"
#include "order/order.h"
#include "roof/field.h"

/* Items that a bill without a taper can have: one a use, and one more kind of screw. */
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
    double hours;       /* before the height factor */
    struct field field; /* what is covered */
    struct bill *bill;
    size_t room; /* of the bill */
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

/* sheets.c, boards.c, taper.c, edges.c; the last adds to count->t_joints */
enum outlay_status count_sheets(struct count *count) OUTLAY_MUST_CHECK;
enum outlay_status count_boards(struct count *count) OUTLAY_MUST_CHECK;
enum outlay_status count_taper(struct count *count) OUTLAY_MUST_CHECK;
enum outlay_status count_edges(struct count *count) OUTLAY_MUST_CHECK;

/* boards.c: least embedment in the deck, m: from memory. */
double embedment(enum deck deck);

/* taper_screws.c: screws of rows, boards or both, each as long as the insulation is thick
 * where it stands; those of a board as at its thickest place (ours). */
enum outlay_status count_tapered_screws(struct count *count, enum item_use use, bool rows,
                                        bool boards) OUTLAY_MUST_CHECK;

/* screws.c: what a layout's screws should hold isn't met where some don't reach the deck,
 * and unknown where the catalogue has none for it.
 * @param number  of the layout and its bill
 * @return OUTLAY_E_MEMORY */
enum outlay_status check_screws(struct arena *arena, struct roof *roof,
                                size_t number) OUTLAY_MUST_CHECK;

/* Of what a taper makes longer or higher, where the places of drains aren't known. */
#define WITHOUT_TAPER "; without the taper, which isn't counted"

/* taper.c: whether there is a taper whose thickness is known. */
bool is_tapered(const struct count *count);

/* More items that its panels, fill and screws of many lengths may need. */
size_t taper_items(const struct roof *roof, const struct item_list *items);

/* Courses of nailers on each other, up to the new boards and the taper along each edge of
 * a kind; mean: over their length, 0 for none. */
struct courses {
    double least, most, mean;
};
struct courses nailer_courses(const struct count *count, enum edge_kind kind);

/* Says where the taper leaves too little of a wall for its flashing. */
void taper_check_walls(struct arena *arena, struct roof *roof, double flashing_height);

#endif
