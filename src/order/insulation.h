#ifndef OUTLAY_ORDER_INSULATION_H
#define OUTLAY_ORDER_INSULATION_H

/** @file order/insulation.h  What an energy code asks for above the deck. Private to
 *  order/. */

/** Least thickness of polyisocyanurate above the deck where a roof is replaced, m, up to
 *  the next tenth of an inch: R-20 in climate zone 1, R-25 in 2 and 3, R-30 in 4 to 6,
 *  R-35 in 7 and 8 (the energy conservation code of 2015 to 2021, from memory), at
 *  an inch (published, seen second-hand). 0 for any other zone. */
double insulation_least(int climate_zone);

#endif
