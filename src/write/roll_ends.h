#ifndef OUTLAY_WRITE_ROLL_ENDS_H
#define OUTLAY_WRITE_ROLL_ENDS_H

/**
 * @file write/roll_ends.h
 * Where rolls end on the sheets of a layout: the cutting list laid out on the roof.
 *
 * The list says in which order the parts of a sheet follow each other, but not from which
 * end of it; here they begin at the end from which the layout's bearing runs (ours). A
 * half sheet that is ripped beside another one ends where that one does.
 */

#include "roof/bill.h"
#include "roof/layout.h"
#include "roof/roof.h"

/** An end lap, m in the building's frame. */
struct roll_end {
    enum method method;
    const char *cut_by;    /**< id of the roof whose rolls these are, borrowed */
    int sheet, part;       /**< part: the one that ends, from 1 */
    int roll, next_roll;   /**< the part's, and that of the next one */
    double at;             /**< middle of the lap, from where the sheet begins, m */
    double lap;            /**< m */
    struct point from, to; /**< along the middle of the lap, across the sheet */
};

/**
 * Calls put() for each end lap that lies on a roof, sheet by sheet, part by part. Of a
 * sheet that runs on across sections each has the ends that lie on it, whichever section
 * cuts the sheet. A sheet whose outline isn't as long as the list says has none.
 * @param layout  of the roof, one of its building
 * @param put     false ends the walk
 * @return false when put() did, or out of memory
 */
bool roll_ends_walk(const struct building *building, const struct roof *roof,
                    const struct layout *layout,
                    bool (*put)(void *self, const struct roll_end *end), void *self);

#endif
