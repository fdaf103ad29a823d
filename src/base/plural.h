#ifndef OUTLAY_BASE_PLURAL_H
#define OUTLAY_BASE_PLURAL_H

/** @file base/plural.h  The end of a noun behind a number: "1 roof", "2 roofs". */

#define PLURAL(count) ((count) == 1 ? "" : "s")

#endif
