#ifndef OUTLAY_FINDINGS_DAY_H
#define OUTLAY_FINDINGS_DAY_H

/** @file findings/day.h  The day on which something was found, decided or confirmed. */

#include <stdbool.h>

enum { DAY_LENGTH = 11 };

/**
 * Reads "2026-11-20", "2026/11/20" and both with a time behind them, which is left off.
 * Days before 2000 and after 2100 aren't believed (ours): a cell that holds no day comes
 * out of a spreadsheet as one of 1900.
 * @param[out] out  "2026-11-20"
 */
bool day_parse(const char *text, char out[DAY_LENGTH]);

#endif
