#ifndef OUTLAY_SPREAD_INPUTS_H
#define OUTLAY_SPREAD_INPUTS_H

/**
 * @file spread/inputs.h
 * The inputs that may have a spread, one row each, and their spreads as people write
 * them. Unless the row says otherwise a spread is the standard deviation of a normal
 * distribution around the value, cut at 3 of them (`spread/normal.h`).
 *
 * Threads: any.
 */

#include "base/units.h"
#include "outlay/status.h"

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

/* name, scope, form, quantity, meaning */
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
#define X(key, name, scope, form, quantity, meaning) SPREAD_##key,
    SPREAD_INPUT_MAP(X)
#undef X
        SPREAD_INPUT_COUNT
};

struct spread_input_row {
    const char *name; /**< as options and keys of draws have it */
    enum spread_scope scope;
    enum spread_form form;
    enum quantity quantity; /**< of SPREAD_UNIT */
    const char *meaning;
};

extern const struct spread_input_row spread_inputs[SPREAD_INPUT_COUNT];

/** A spread for each input: SI, shares or plain; 0 for none. */
struct spread_values {
    double of[SPREAD_INPUT_COUNT];
};

/**
 * Reads one `NAME=VALUE[unit]`: "height=1.5 ft", "price=10%", "exposure=0.2".
 * @param[in,out] values  set only on success
 * @return OUTLAY_E_USAGE, with what to do, for an unknown name, a number that can't be
 *         read or is negative, a missing unit or one of another kind, a chance over 0.5
 */
enum outlay_status spread_parse(const char *text, struct spread_values *values,
                                struct outlay_error *err);

#endif
