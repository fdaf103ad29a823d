#include "write/shown.h"

#include <stdlib.h>

#include "write/comparison.h"

struct shown_roof {
    struct text rows[SHOWN_TABLES]; /* owned; packed */
};

struct shown {
    const struct write_settings *set;
    struct arena *arena; /* owned; the summary's sheet */
    const struct grid_sheet *sheets[SHOWN_TABLES];
    struct grid *grids[SHOWN_TABLES]; /* owned; of one roof at a time */
    struct shown_roof *roofs;         /* owned; SHOWN_MOST of them */
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

void shown_free(struct shown *shown)
{
    if (!shown)
        return;
    for (int table = 0; table < SHOWN_TABLES; table++) {
        for (size_t i = 0; i < shown->count; i++)
            text_release(&shown->roofs[i].rows[table]);
        text_release(&shown->rest[table]);
        grid_free(shown->grids[table]);
    }
    free(shown->roofs);
    arena_free(shown->arena);
    free(shown);
}

/* Moves what the grids hold to the rows of a roof. */
static void keep(struct shown *shown, struct shown_roof *roof)
{
    for (int table = 0; table < SHOWN_TABLES; table++) {
        grid_pack(&roof->rows[table], shown->grids[table]);
        grid_clear(shown->grids[table]);
        shown->failed = shown->failed || roof->rows[table].failed;
    }
}

void shown_add(struct shown *shown, const struct building *building)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        if (shown->all++ >= SHOWN_MOST)
            continue;
        summary_of_roof(shown->grids[SHOWN_SUMMARY], roof, shown->set);
        materials_of_roof(shown->grids[SHOWN_MATERIALS], roof, shown->set);
        if (i + 1 == building->roof_count)
            materials_of_packs(shown->grids[SHOWN_MATERIALS], building, shown->set);
        comparison_of_roof(shown->grids[SHOWN_COMPARISON], roof);
        problems_of_roof(shown->grids[SHOWN_PROBLEMS], roof);
        keep(shown, &shown->roofs[shown->count++]);
    }
}

void shown_add_rows(struct shown *shown, enum shown_table table, const struct grid *rows)
{
    grid_pack(&shown->rest[table], rows);
    shown->failed = shown->failed || shown->rest[table].failed;
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

    text_puts(&words, about(table));
    if (!shown_whole(shown))
        text_printf(&words, " Only the first %zu of %zu roofs: %s.csv has all.",
                    shown->count, shown->all, shown->sheets[table]->name);
    grid_clear(grid);
    book_begin(book, grid, words.failed ? "" : words.data);
    for (size_t i = 0; i < shown->count; i++)
        put_rows(book, grid, &shown->roofs[i].rows[table]);
    put_rows(book, grid, &shown->rest[table]);
    book_end(book);
    text_release(&words);
}
