#ifndef OUTLAY_FINDINGS_CLOSINGS_H
#define OUTLAY_FINDINGS_CLOSINGS_H

/**
 * @file findings/closings.h
 * What somebody answers for: decisions on how a standard or an outline is read, and
 * confirmations of tables by a source. Each row is a CSV or XLSX table's, names the
 * assumption that it closes (as in the column `assumed`), who did it and when.
 *
 * Decisions: assumption, decision, who, when; roof_id, building where it holds for less
 * than all roofs. The decision on a setting is that setting's value, so that one that
 * was made for another run doesn't close anything.
 *
 * Confirmations: assumption, source, who, when; name, value and unit of what is confirmed
 * where that is one row of a table. A rating is confirmed with its value.
 *
 * Threads: any, once they are read.
 */

#include "outlay/status.h"
#include "roof/roof.h"

enum closing_kind { CLOSING_DECISION, CLOSING_CONFIRMATION };

struct closing_row {
    enum assumption what;
    const char *roof, *building; /**< "": all */
    const char *text;            /**< the decision, or the source */
    const char *name, *value, *unit;
    const char *who, *when; /**< as in roof/finding.h */
    const char *where;      /**< "decisions.csv, row 3" */
    const char *by;         /**< all of it, for people */
    bool idle;              /**< it is about something that this run doesn't use */
};

struct closing_list {
    struct closing_row *rows; /**< in the arena that was handed in */
    size_t count;
};

/**
 * Adds the rows of a file.
 * @return OUTLAY_E_USAGE with file, row and column for what can't be used;
 *         OUTLAY_E_MEMORY
 */
enum outlay_status closings_read(struct arena *arena, enum closing_kind kind,
                                 const char *path, struct closing_list *list,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Makes row->by of the row's other texts. @return false when out of memory */
bool closing_words(struct arena *arena, struct closing_row *row);

/** Whether a row is about the roof: about all, or by its id and building. */
bool closing_concerns(const struct closing_row *row, const struct roof *roof);

/** Gives a roof what holds for it: roof.closings, roof.closed. @return OUTLAY_E_MEMORY */
enum outlay_status closings_apply(struct arena *arena, struct roof *roof,
                                  const struct closing_list *list) OUTLAY_MUST_CHECK;

#endif
