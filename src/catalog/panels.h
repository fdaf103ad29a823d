#ifndef OUTLAY_CATALOG_PANELS_H
#define OUTLAY_CATALOG_PANELS_H

/**
 * @file catalog/panels.h
 * Panels of tapered insulation. Built in as panels.csv, all of whose values are invented;
 * written by `outlay catalog`, replaceable like the other tables.
 *
 * Columns, in any order, all of them there; units end the names:
 *   panel      its letter or name, each once
 *   thin_in    its thin edge
 *   thick_in   its thick edge
 *   length_ft  along its slope
 *   width_ft   across it
 *   note       may be empty
 *
 * The slope is what the edges say. Panels of one slope stand together, are of one size,
 * and each begins where the one before it ends: a sequence. Behind its last panel the
 * sequence is repeated over flat fill, which is as thick as the sequence rises.
 */

#include "base/arena.h"
#include "catalog/table.h"
#include "outlay/status.h"

struct panel {
    const char *name;
    double thin, thick;   /**< m */
    double length, width; /**< m */
    const char *note;
};

struct panel_list {
    struct panel *panels;
    size_t count;
};

/** Panels of one slope; none at all where the list has no such slope. */
struct panel_sequence {
    const struct panel *panels;
    size_t count;
};

/** The built-in table as CSV text, static storage. */
extern const char catalog_panels_csv[];

/** Rise over run of a panel. */
double panel_slope(const struct panel *panel);

/** The sequence whose slope differs by no more than a thousandth from that. */
struct panel_sequence panels_of_slope(const struct panel_list *list, double slope);

/**
 * Reads the built-in table, or the user's where path isn't NULL; all is the arena's.
 * @return OUTLAY_E_USAGE with table, row and column in err->where; OUTLAY_E_MEMORY
 */
enum outlay_status panels_load(struct arena *arena, const char *path,
                               struct panel_list *out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
