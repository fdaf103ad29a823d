#ifndef OUTLAY_ORDER_DEBRIS_H
#define OUTLAY_ORDER_DEBRIS_H

/** @file order/debris.h  What tearing a roof off brings. Private to order/. */

#include "roof/roof.h"

/** One cover's weight, kg/m2, without its insulation: gravel-surfaced 5.5 psf and
 *  ballasted 12 psf (a forum that quotes ASCE 7, seen second-hand), smooth 1.5 and
 *  single-ply 0.7 psf (from memory); not given: as gravel-surfaced. */
double debris_weight(enum existing_kind existing);

/** Loose, kg/m3: single-ply 350 lb/yd3 as mixed demolition waste, others 2,400 lb/yd3 as
 *  asphalt debris (both published, seen second-hand). */
double debris_density(enum existing_kind existing);

/** Old boards: 0.5 psf an inch, as urethane (from memory), in kg/m3, and how much looser
 *  they lie than they were laid (ours). */
double debris_board_density(void);
double debris_board_bulking(void);

#endif
