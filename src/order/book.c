#include "order/book.h"

#include <stdlib.h>

#include "base/grow.h"
#include "order/orders_private.h"

/* What one roof takes of a kind of goods; NAN where nobody gave the count. */
struct good {
    size_t kind; /* line of book.kinds */
    double laid, cuts, spare, ordered;
    double too_short;
};

/* A roof; its goods are book.goods from `first` to `end`. */
struct entry {
    size_t first, end;
    uint64_t assumed;
    enum zone_state state;
};

struct order_book {
    struct arena *arena;   /* owned; kinds */
    struct order kinds;    /* a line without amounts for each kind of goods */
    struct entry *entries; /* owned, as the next */
    struct good *goods;
    size_t entry_count, entry_room, good_count, good_room;
};

enum outlay_status order_book_new(struct order_book **out, struct outlay_error *err)
{
    struct order_book *book = calloc(1, sizeof *book);

    *out = NULL;
    if (book)
        book->arena = arena_new();
    if (!book || !book->arena) {
        order_book_free(book);
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping orders");
    }
    *out = book;
    return OUTLAY_OK;
}

void order_book_free(struct order_book *book)
{
    if (!book)
        return;
    arena_free(book->arena);
    free(book->entries);
    free(book->goods);
    free(book);
}

static bool add_good(struct order_book *book, enum method method,
                     const struct bill_item *item)
{
    struct good *goods =
        grow(book->goods, book->good_count, 1, &book->good_room, sizeof *goods);
    const struct order_line *line = NULL;

    if (!goods)
        return false;
    book->goods = goods;
    line = order_line_of(book->arena, &book->kinds, method, item);
    if (!line)
        return false;
    goods[book->good_count++] = (struct good){.kind = (size_t)(line - book->kinds.lines),
                                              .laid = item->laid,
                                              .cuts = item->cuts,
                                              .spare = item->spare,
                                              .ordered = item->ordered,
                                              .too_short = item->too_short};
    return true;
}

static bool add_roof(struct order_book *book, const struct roof *roof)
{
    struct entry *entries =
        grow(book->entries, book->entry_count, 1, &book->entry_room, sizeof *entries);
    const struct bill *bill = roof->layout_count > 0 ? &roof->bills[0] : NULL;
    size_t first = book->good_count;
    bool added = entries != NULL;

    if (added)
        book->entries = entries;
    for (size_t i = 0; added && bill && i < bill->count; i++)
        if (bill->items[i].use < USE_WELD_SIDE)
            added = add_good(book, roof->layouts[0].method, &bill->items[i]);
    if (added)
        entries[book->entry_count++] =
            (struct entry){first, book->good_count, roof->assumed, roof->state};
    return added;
}

enum outlay_status order_book_add(struct order_book *book,
                                  const struct building *building,
                                  struct outlay_error *err)
{
    bool added = true;

    for (size_t i = 0; added && i < building->roof_count; i++)
        added = add_roof(book, &building->roofs[i]);
    return added ? OUTLAY_OK : outlay_fail(err, OUTLAY_E_MEMORY, "keeping orders");
}

bool order_book_put(const struct order_book *book, size_t number, struct arena *arena,
                    struct order *order)
{
    const struct entry *entry = &book->entries[number];

    if (entry->first < entry->end)
        order_meet(order, entry->state, entry->assumed);
    for (size_t i = entry->first; i < entry->end; i++) {
        const struct good *good = &book->goods[i];
        const struct order_line *kind = &book->kinds.lines[good->kind];
        struct bill_item item = kind->item;
        struct order_line *line = order_line_of(arena, order, kind->method, &item);

        if (!line)
            return false;
        item.laid = good->laid;
        item.cuts = good->cuts;
        item.spare = good->spare;
        item.ordered = good->ordered;
        item.too_short = good->too_short;
        order_line_add(line, &item);
    }
    return true;
}
