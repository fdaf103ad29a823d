#ifndef OUTLAY_BASE_MEASURE_H
#define OUTLAY_BASE_MEASURE_H

/**
 * @file base/measure.h
 * A number and its unit as people write them, the same for fields and options and in
 * every locale.
 */

enum measure {
    MEASURE_READ,
    MEASURE_AMBIGUOUS, /**< "1,500" is 1500 to some and 1.5 to others */
    MEASURE_WRONG
};

enum { MEASURE_UNIT_MAX = 16 };

/**
 * Reads all of text: "12.5", "12,5 m", "1,234.5 ft", "1.234,5", "39'4\"",
 * "39 ft 4 1/2 in", "4 1/2\"", "1/4 in/ft". Feet with inches become feet; typographic
 * primes and quotes count as marks. A comma before three digits is ambiguous when nothing
 * else in the number tells what it is for.
 * @param[out] number  in that unit; as thousands where it is ambiguous
 * @param[out] unit    as written, cut to fit; "" for none; "ft" and "in" for their
 *                     marks and words
 */
enum measure measure_parse(const char *text, double *number, char unit[MEASURE_UNIT_MAX]);

#endif
