#ifndef OUTLAY_SPREAD_INPUTS_H
#define OUTLAY_SPREAD_INPUTS_H

/**
 * @file spread/inputs.h
 * Spreads as people write them.
 *
 * Threads: any.
 */

#include "base/units.h"
#include "outlay/status.h"
#include "roof/spread_inputs.h"

struct spread_input_row {
    const char *name; /**< as options and keys of draws have it */
    enum spread_scope scope;
    enum spread_form form;
    enum quantity quantity; /**< of SPREAD_UNIT */
    const char *meaning;
};

extern const struct spread_input_row spread_inputs[SPREAD_INPUTS];

/** A spread for each input: SI, shares or plain; 0 for none. */
struct spread_values {
    double of[SPREAD_INPUTS];
};

struct spread_settings {
    int draws;        /**< 0: none are made; MISSING: not said */
    int seed;         /**< of the draws: the same one gives the same draws */
    int first;        /**< ranks up to this one: how often a roof is among them */
    const char *list; /**< of options, "height=1.5ft,price=10%"; NULL; borrowed */
    struct spread_values values;
};

/** Draws where somebody asks for what they tell. */
enum { SPREAD_USUAL_DRAWS = 200 };

/** Nothing is said of draws. Where storeys tell the height, that of a storey is off by
 *  1.5 ft (ours); nothing else has a spread that isn't given. */
struct spread_settings spread_defaults(void);

/** Reads the list into the values, each input once. @return as spread_parse() */
enum outlay_status spread_list_read(struct spread_settings *settings,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Reads one `NAME=VALUE[unit]`: "height=1.5 ft", "price=10%", "exposure=0.2".
 * @param[in,out] values  set only on success
 * @return OUTLAY_E_USAGE, with what to do, for an unknown name, a number that can't be
 *         read or is negative, a missing unit or one of another kind, a chance over 0.5
 */
enum outlay_status spread_parse(const char *text, struct spread_values *values,
                                struct outlay_error *err);

#endif
