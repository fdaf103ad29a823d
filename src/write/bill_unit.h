#ifndef OUTLAY_WRITE_BILL_UNIT_H
#define OUTLAY_WRITE_BILL_UNIT_H

/**
 * @file write/bill_unit.h
 * What the quantities of a bill are printed in, in tables and drawings alike.
 */

#include "roof/bill.h"
#include "write/write.h"

struct bill_unit {
    const char *name; /**< "ft2", "each"; static storage */
    double factor;    /**< value in a bill of one unit */
    int decimals;
};

struct bill_unit bill_unit_of(enum bill_measure measure,
                              const struct write_settings *set);

#endif
