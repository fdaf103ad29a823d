#include "write/shown.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "write/comparison.h"

struct shown_roof {
    struct shown_merit merit;
    char *id;                       /* owned */
    size_t serial;                  /* place in the output */
    struct text rows[SHOWN_TABLES]; /* owned; packed */
};

struct shown {
    const struct write_settings *set;
    struct arena *arena; /* owned; the summary's sheet */
    const struct grid_sheet *sheets[SHOWN_TABLES];
    struct grid *grids[SHOWN_TABLES]; /* owned; of one roof at a time */
    /* owned; SHOWN_MOST of them. Once these are taken it is a heap: none ranks lower than
     * the first, none of 2 i + 1 and 2 i + 2 lower than i; until shown_finish(). */
    struct shown_roof *roofs;
    size_t count;
    size_t all;                     /* roofs that were added */
    struct text rest[SHOWN_TABLES]; /* owned; packed rows without a roof */
    bool failed;
};

static bool make(struct shown *shown)
{
    shown->arena = arena_new();
    if (!shown->arena)
        return false;
    shown->sheets[SHOWN_SUMMARY] = summary_sheet(shown->arena);
    shown->sheets[SHOWN_MATERIALS] = &materials_sheet;
    shown->sheets[SHOWN_COMPARISON] = &comparison_sheet;
    shown->sheets[SHOWN_PROBLEMS] = &problems_sheet;
    for (int table = 0; table < SHOWN_TABLES; table++) {
        if (shown->sheets[table])
            shown->grids[table] = grid_new(shown->sheets[table], shown->set);
        if (!shown->grids[table])
            return false;
    }
    shown->roofs = calloc(SHOWN_MOST, sizeof *shown->roofs);
    return shown->roofs != NULL;
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

static void roof_release(struct shown_roof *roof)
{
    for (int table = 0; table < SHOWN_TABLES; table++)
        text_release(&roof->rows[table]);
    free(roof->id);
}

void shown_free(struct shown *shown)
{
    if (!shown)
        return;
    for (int table = 0; table < SHOWN_TABLES; table++) {
        text_release(&shown->rest[table]);
        grid_free(shown->grids[table]);
    }
    for (size_t i = 0; i < shown->count; i++)
        roof_release(&shown->roofs[i]);
    free(shown->roofs);
    arena_free(shown->arena);
    free(shown);
}

/* ---- Ranks ----------------------------------------------------------------------- */

/* As strcmp(): below 0 where a ranks higher. */
static int compare(const struct shown_roof *a, const struct shown_roof *b)
{
    double score_a = isnan(a->merit.score) ? -INFINITY : a->merit.score;
    double score_b = isnan(b->merit.score) ? -INFINITY : b->merit.score;
    int ids = 0;

    if (a->merit.group != b->merit.group)
        return a->merit.group < b->merit.group ? -1 : 1;
    if (score_a != score_b)
        return score_a > score_b ? -1 : 1;
    ids = strcmp(a->id, b->id);
    if (ids != 0)
        return ids;
    return a->serial < b->serial ? -1 : 1;
}

static void swap(struct shown_roof *a, struct shown_roof *b)
{
    struct shown_roof kept = *a;

    *a = *b;
    *b = kept;
}

/* Moves a roof down the heap to where none below it ranks lower. */
static void sink_down(struct shown *shown, size_t i)
{
    for (;;) {
        size_t lowest = i;

        for (size_t k = 2 * i + 1; k <= 2 * i + 2 && k < shown->count; k++)
            if (compare(&shown->roofs[k], &shown->roofs[lowest]) > 0)
                lowest = k;
        if (lowest == i)
            return;
        swap(&shown->roofs[i], &shown->roofs[lowest]);
        i = lowest;
    }
}

static void make_heap(struct shown *shown)
{
    for (size_t i = shown->count / 2; i > 0; i--)
        sink_down(shown, i - 1);
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
        materials_of_packs(shown->grids[SHOWN_MATERIALS], building, shown->set);
    comparison_of_roof(shown->grids[SHOWN_COMPARISON], roof);
    problems_of_roof(shown->grids[SHOWN_PROBLEMS], roof);
    for (int table = 0; table < SHOWN_TABLES; table++) {
        grid_pack(&to->rows[table], shown->grids[table]);
        grid_clear(shown->grids[table]);
        shown->failed = shown->failed || to->rows[table].failed;
    }
}

void shown_add(struct shown *shown, const struct building *building, size_t i,
               struct shown_merit merit)
{
    struct shown_roof roof = {
        .merit = merit, .id = strdup(building->roofs[i].id), .serial = shown->all++};

    if (!roof.id) {
        shown->failed = true;
    } else if (shown->count < SHOWN_MOST) {
        keep(shown, building, i, &roof);
        shown->roofs[shown->count++] = roof;
        if (shown->count == SHOWN_MOST)
            make_heap(shown);
    } else if (compare(&roof, &shown->roofs[0]) < 0) {
        keep(shown, building, i, &roof);
        swap(&roof, &shown->roofs[0]);
        roof_release(&roof);
        sink_down(shown, 0);
    } else {
        roof_release(&roof);
    }
}

static int by_serial(const void *a, const void *b)
{
    size_t serial_a = ((const struct shown_roof *)a)->serial;
    size_t serial_b = ((const struct shown_roof *)b)->serial;

    return (serial_a > serial_b) - (serial_a < serial_b);
}

void shown_finish(struct shown *shown)
{
    qsort(shown->roofs, shown->count, sizeof *shown->roofs, by_serial);
}

void shown_add_rows(struct shown *shown, enum shown_table table, const struct grid *rows)
{
    grid_pack(&shown->rest[table], rows);
    shown->failed = shown->failed || shown->rest[table].failed;
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
    for (size_t i = 0; i < shown->count; i++)
        withdraw(shown, &shown->roofs[i].rows[SHOWN_PROBLEMS], single);
}

bool shown_whole(const struct shown *shown)
{
    return shown->count == shown->all;
}

bool shown_failed(const struct shown *shown)
{
    return shown->failed;
}

struct grid *shown_grid(const struct shown *shown, enum shown_table table)
{
    struct grid *grid = grid_new(shown->sheets[table], shown->set);

    for (size_t i = 0; grid && i < shown->count; i++)
        grid_unpack(grid, &shown->roofs[i].rows[table]);
    return grid;
}

static const char *about(enum shown_table table)
{
    static const char *const texts[] = {
        [SHOWN_SUMMARY] = "Each roof in a row: zones, uplift, attachment, fasteners.",
        [SHOWN_MATERIALS] = "What to order, an item of each roof's layout a row: net + "
                            "laps = laid; laid + cuts + spare + rounding = ordered.",
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
    if (!shown_whole(shown))
        text_printf(&words,
                    " Only the %zu roofs of %zu that rank highest: %s.csv has all.",
                    shown->count, shown->all, shown->sheets[table]->name);
    grid_caution(&caution, shown->set, table == SHOWN_COMPARISON);
    grid_clear(grid);
    book_begin(book, grid, &words, &caution);
    for (size_t i = 0; i < shown->count; i++)
        put_rows(book, grid, &shown->roofs[i].rows[table]);
    put_rows(book, grid, &shown->rest[table]);
    book_end(book);
    text_release(&words);
    text_release(&caution);
}
