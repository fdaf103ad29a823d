#ifndef OUTLAY_ROOF_SPREAD_INPUTS_H
#define OUTLAY_ROOF_SPREAD_INPUTS_H

/**
 * @file roof/spread_inputs.h
 * The inputs that may have a spread, one row each. Unless the row says otherwise a spread
 * is the standard deviation of a normal distribution around the value, cut at 3 of them
 * (`spread/normal.h`).
 *
 * Threads: any.
 */

/** What shares one deviate. If each roof had its own error of wind speed, the spread of a
 *  whole portfolio would vanish. */
enum spread_scope { SPREAD_PORTFOLIO, SPREAD_BUILDING, SPREAD_ROOF };

/** How a spread is written. */
enum spread_form {
    SPREAD_UNIT,  /**< with a unit of its quantity; kept in SI */
    SPREAD_SHARE, /**< a percentage, of the value; kept as a share */
    SPREAD_PLAIN, /**< a number without a unit */
    SPREAD_CHANCE /**< a probability, as 0.2 or 20%, to 0.5 */
};

/* code, name, scope, form, quantity, meaning */
#define SPREAD_INPUT_MAP(X)                                                      \
    X(HEIGHT, "height", BUILDING, UNIT, LENGTH, "mean roof height")              \
    X(TRACE, "trace", ROOF, UNIT, LENGTH,                                        \
      "the outline moved in or out, square to its edges")                        \
    X(WIND_SPEED, "wind_speed", PORTFOLIO, UNIT, SPEED, "basic wind speed")      \
    X(EXPOSURE, "exposure", BUILDING, CHANCE, COUNT,                             \
      "probability that the exposure is one category rougher, and as much that " \
      "it is one smoother")                                                      \
    X(STOREY_HEIGHT, "storey_height", PORTFOLIO, UNIT, LENGTH,                   \
      "height of a storey, where the height was estimated from storeys")         \
    X(PRICE, "price", PORTFOLIO, SHARE, COUNT, "all prices, as a percentage")    \
    X(CONDITION, "condition", ROOF, PLAIN, COUNT, "condition, in points of 100") \
    X(SERVICE_LIFE, "service_life", ROOF, PLAIN, COUNT, "service life, in years")

enum spread_input {
#define X(code, name, scope, form, quantity, meaning) SPREAD_##code,
    SPREAD_INPUT_MAP(X)
#undef X
        SPREAD_INPUTS
};

#endif
