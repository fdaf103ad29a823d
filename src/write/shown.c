#include "write/shown.h"

#include <stdlib.h>
#include <string.h>

#include "base/best.h"
#include "write/comparison.h"

struct shown_roof {
    struct ranked merit;
    char *id;                       /* owned */
    size_t serial;                  /* place in the output */
    struct text rows[SHOWN_TABLES]; /* owned; packed */
};

struct shown {
    const struct write_settings *set;
    struct arena *arena; /* owned; the summary's sheet */
    const struct grid_sheet *sheets[SHOWN_TABLES];
    struct grid *grids[SHOWN_TABLES]; /* owned; of one roof at a time */
    struct best roofs; /* of struct shown_roof, owned; by place after shown_finish() */
    size_t all;        /* roofs that were added */
    struct text rest[SHOWN_TABLES]; /* owned; packed rows without a roof */
    bool failed;
};

/* Negative: a ranks higher. A total order of struct shown_roof. */
static int by_rank(const void *left, const void *right)
{
    const struct shown_roof *a = left;
    const struct shown_roof *b = right;
    int order = ranked_order(&a->merit, &b->merit);

    if (order == 0)
        order = strcmp(a->id, b->id);
    if (order == 0)
        order = a->serial < b->serial ? -1 : 1;
    return order;
}

static bool make(struct shown *shown)
{
    shown->arena = arena_new();
    if (!shown->arena)
        return false;
    shown->sheets[SHOWN_SUMMARY] = summary_sheet(shown->arena);
    shown->sheets[SHOWN_MATERIALS] = &materials_sheet;
    shown->sheets[SHOWN_ORDERS] = &orders_sheet;
    shown->sheets[SHOWN_COMPARISON] = &comparison_sheet;
    shown->sheets[SHOWN_PROBLEMS] = &problems_sheet;
    for (int table = 0; table < SHOWN_TABLES; table++) {
        if (shown->sheets[table])
            shown->grids[table] = grid_new(shown->sheets[table], shown->set);
        if (!shown->grids[table])
            return false;
    }
    return best_open(&shown->roofs, SHOWN_MOST, by_rank);
}

struct shown *shown_new(const struct write_settings *set)
{
    struct shown *shown = calloc(1, sizeof *shown);

    if (!shown)
        return NULL;
    shown->set = set;
    if (make(shown))
        return shown;
    shown_free(shown);
    return NULL;
}

static void roof_free(struct shown_roof *roof)
{
    if (!roof)
        return;
    for (int table = 0; table < SHOWN_TABLES; table++)
        text_release(&roof->rows[table]);
    free(roof->id);
    free(roof);
}

void shown_free(struct shown *shown)
{
    if (!shown)
        return;
    for (int table = 0; table < SHOWN_TABLES; table++) {
        text_release(&shown->rest[table]);
        grid_free(shown->grids[table]);
    }
    for (size_t i = 0; i < shown->roofs.count; i++)
        roof_free(shown->roofs.items[i]);
    best_close(&shown->roofs);
    arena_free(shown->arena);
    free(shown);
}

/* ---- Roofs ----------------------------------------------------------------------- */

/* Packs the rows of one roof. */
static void keep(struct shown *shown, const struct building *building, size_t i,
                 struct shown_roof *to)
{
    const struct roof *roof = &building->roofs[i];

    summary_of_roof(shown->grids[SHOWN_SUMMARY], roof, shown->set);
    materials_of_roof(shown->grids[SHOWN_MATERIALS], roof, shown->set);
    if (i + 1 == building->roof_count)
        orders_of(shown->grids[SHOWN_ORDERS], building->orders, building->order_count,
                  shown->set);
    comparison_of_roof(shown->grids[SHOWN_COMPARISON], roof);
    problems_of_roof(shown->grids[SHOWN_PROBLEMS], roof);
    for (int table = 0; table < SHOWN_TABLES; table++) {
        grid_pack(&to->rows[table], shown->grids[table]);
        grid_clear(shown->grids[table]);
        shown->failed = shown->failed || to->rows[table].failed;
    }
}

void shown_add(struct shown *shown, const struct building *building, size_t i,
               const struct ranked *merit)
{
    struct shown_roof *roof = calloc(1, sizeof *roof);
    char *id = strdup(building->roofs[i].id);

    if (!roof || !id) {
        shown->failed = true;
        free(id);
        free(roof);
        return;
    }
    *roof = (struct shown_roof){.merit = *merit, .id = id, .serial = shown->all++};
    if (best_wants(&shown->roofs, roof)) {
        keep(shown, building, i, roof);
        roof = best_keep(&shown->roofs, roof);
    }
    roof_free(roof);
}

static int by_serial(const void *a, const void *b)
{
    size_t serial_a = (*(struct shown_roof *const *)a)->serial;
    size_t serial_b = (*(struct shown_roof *const *)b)->serial;

    return (serial_a > serial_b) - (serial_a < serial_b);
}

void shown_finish(struct shown *shown, const struct ranking *ranking)
{
    struct best *roofs = &shown->roofs;
    size_t kept = 0;

    for (size_t i = 0; !shown_whole(shown) && i < roofs->count; i++) {
        struct shown_roof *roof = roofs->items[i];

        if (ranking->places[roof->serial] < SHOWN_MOST)
            roofs->items[kept++] = roof;
        else
            roof_free(roof);
    }
    roofs->count = shown_whole(shown) ? roofs->count : kept;
    if (roofs->count)
        qsort(roofs->items, roofs->count, sizeof *roofs->items, by_serial);
}

void shown_add_rows(struct shown *shown, enum shown_table table, const struct grid *rows)
{
    grid_pack(&shown->rest[table], rows);
    shown->failed = shown->failed || shown->rest[table].failed;
}

static struct text *packed_rows(const struct shown *shown, size_t i,
                                enum shown_table table)
{
    struct shown_roof *roof = shown->roofs.items[i];

    return &roof->rows[table];
}

/* The rows of one roof without those that are the single one. */
static void withdraw(struct shown *shown, struct text *packed, const struct grid *single)
{
    struct grid *grid = shown->grids[SHOWN_PROBLEMS];
    struct grid *kept = grid_new(&problems_sheet, shown->set);

    grid_unpack(grid, packed);
    for (size_t row = 0; kept && row < grid_rows(grid); row++)
        for (size_t c = 0;
             !problems_same(grid, row, single) && c < problems_sheet.column_count; c++)
            grid_text(kept, grid_cell_text(grid, row, c));
    text_clear(packed);
    if (kept)
        grid_pack(packed, kept);
    shown->failed = shown->failed || !kept || packed->failed;
    grid_clear(grid);
    grid_free(kept);
}

void shown_withdraw_problem(struct shown *shown, const struct grid *single)
{
    for (size_t i = 0; i < shown->roofs.count; i++)
        withdraw(shown, packed_rows(shown, i, SHOWN_PROBLEMS), single);
}

bool shown_whole(const struct shown *shown)
{
    return shown->roofs.count == shown->all;
}

bool shown_failed(const struct shown *shown)
{
    return shown->failed;
}

struct grid *shown_grid(const struct shown *shown, enum shown_table table)
{
    struct grid *grid = grid_new(shown->sheets[table], shown->set);

    for (size_t i = 0; grid && i < shown->roofs.count; i++)
        grid_unpack(grid, packed_rows(shown, i, table));
    return grid;
}

static const char *about(enum shown_table table)
{
    static const char *const texts[] = {
        [SHOWN_SUMMARY] = "Each roof in a row: zones, uplift, attachment, fasteners.",
        [SHOWN_MATERIALS] = "What each roof takes, an item of its layout a row: net + "
                            "laps = laid; laid + cuts + spare + rounding = ordered, its "
                            "share of an order.",
        [SHOWN_ORDERS] = "What to order, a line of an order a row: needed + spare + "
                         "rounding = ordered = packs x pack_holds.",
        [SHOWN_COMPARISON] = "Methods side by side: each layout of each roof, then the "
                             "whole portfolio.",
        [SHOWN_PROBLEMS] = "What is wrong with which roof, and what was done about it."};

    return texts[table];
}

static void put_rows(struct book *book, struct grid *grid, const struct text *packed)
{
    grid_clear(grid);
    grid_unpack(grid, packed);
    book_rows(book, grid);
}

void shown_sheet(const struct shown *shown, enum shown_table table, struct book *book)
{
    struct grid *grid = shown->grids[table];
    struct text words = TEXT_INIT;
    struct text caution = TEXT_INIT;

    text_puts(&words, about(table));
    if (!shown_whole(shown) && table == SHOWN_ORDERS)
        text_printf(&words,
                    " Not all orders: those of buildings whose last roof is among the "
                    "%zu of %zu that rank highest, else the first %d. orders.csv has "
                    "all.",
                    shown->roofs.count, shown->all, SHOWN_MOST);
    else if (!shown_whole(shown))
        text_printf(&words,
                    " Only the %zu roofs of %zu that rank highest: %s.csv has all.",
                    shown->roofs.count, shown->all, shown->sheets[table]->name);
    grid_caution(&caution, shown->set,
                 table == SHOWN_COMPARISON || table == SHOWN_ORDERS);
    grid_clear(grid);
    book_begin(book, grid, &words, &caution);
    for (size_t i = 0; i < shown->roofs.count; i++)
        put_rows(book, grid, packed_rows(shown, i, table));
    put_rows(book, grid, &shown->rest[table]);
    book_end(book);
    text_release(&words);
    text_release(&caution);
}
