#ifndef OUTLAY_RESULTS_PARTS_H
#define OUTLAY_RESULTS_PARTS_H

/**
 * @file results/parts.h
 * How each file of options/part.h is made, in one of two shapes: a text, or an object
 * that has a file format of its own.
 *
 * A text's chunks are made by the workers, a building each, and put down in output order
 * between a head and a tail, which the calling thread makes; a table of the whole
 * portfolio is a tail alone. Objects get all buildings in output order in the calling
 * thread.
 */

#include "flow/batch.h"
#include "options/part.h"
#include "results/outcome.h"
#include "write/output.h"

struct part_object {
    /** Gets ready before the first building. NULL: there's nothing to do.
     *  @param[out] self  owned; ends with commit or drop, also on failure */
    enum outlay_status (*open)(const struct outcome *outcome, const char *path,
                               void **self, struct outlay_error *err);
    /** Takes a building that the outcome already has. NULL likewise. */
    enum outlay_status (*add)(void *self, const struct outcome *outcome,
                              const struct building *building, struct outlay_error *err);
    /** Puts the file in its place, all being known, and frees self. */
    enum outlay_status (*commit)(void *self, const struct outcome *outcome,
                                 const char *path, struct outlay_error *err);
    /** Frees without a file; NULL where there is nothing to open. self may be NULL. */
    void (*drop)(void *self);
    /** Name of a file made so far; NULL past the last. NULL: one file, named as its row
     *  says. */
    const char *(*file)(const void *self, size_t index);
};

struct part_maker {
    void (*head)(struct text *out, const struct write_settings *set);
    batch_rows *rows;      /**< of a building, by the workers */
    size_t joint;          /**< bytes to leave off the first chunk that isn't empty */
    enum shown_table rest; /**< table whose rows without a roof come last, if any */
    void (*tail)(struct text *out, const struct outcome *outcome);
    output_filler *fill; /**< of blanks, by the outcome; NULL: there are none */
    const struct part_object *object; /**< NULL for a text, which has one above */
};

/** By enum part. */
extern const struct part_maker part_makers[PARTS];

extern const struct part_object workbook_object; /* workbook_part.c */
extern const struct part_object plans_object;    /* plan_pages.c */
/* survey_parts.c */
extern const struct part_object survey_book_object, survey_points_object,
    site_sheets_object;

#endif
