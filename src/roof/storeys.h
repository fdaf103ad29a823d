#ifndef OUTLAY_ROOF_STOREYS_H
#define OUTLAY_ROOF_STOREYS_H

/**
 * @file roof/storeys.h
 * Mean roof height by storeys and back, both ours: a usual ground floor of 18 ft and
 * usual floors of low-slope buildings of 13 ft, roof structure included.
 *
 * Threads: any.
 */

/** m. @param storeys  NAN: NAN */
double height_of_storeys(double storeys);

/** @param height  m */
double storeys_of_height(double height);

#endif
