#ifndef OUTLAY_ROOF_CAUTION_H
#define OUTLAY_ROOF_CAUTION_H

/**
 * @file roof/caution.h
 * What every table, page and drawing tells its reader about its limits.
 */

/** One paragraph without line breaks; static storage. */
const char *caution_text(void);

#endif
