#ifndef OUTLAY_SPREAD_DRAW_H
#define OUTLAY_SPREAD_DRAW_H

/**
 * @file spread/draw.h
 * Keyed draws: each is a function of the seed, the input, the id of the scope and the
 * number of the draw, and of nothing else. So they don't depend on the order of the
 * input, on threads or on which part of a layer is read. The hash is XXH3 of 64 bits,
 * used as a generator by counter; bytes are hashed in little-endian order on any machine.
 *
 * Pure functions; any thread.
 */

#include <stdint.h>

#include "spread/inputs.h"

/**
 * The key of one input in one scope, made once and used for all draws.
 * @param scope_id  id of the building or roof, whatever the input's scope is; not looked
 *                  at for inputs of the portfolio, for which NULL is fine
 */
uint64_t draw_key(uint64_t seed, enum spread_input input, const char *scope_id);

/** Uniform, strictly between 0 and 1. */
double draw_uniform(uint64_t key, uint64_t draw);

/** Standard normal, cut at 3 on both sides (`spread/normal.h`). */
double draw_normal(uint64_t key, uint64_t draw);

/** -1 for one category rougher, 1 for one smoother, each with that chance, else 0.
 *  @param chance  0 to 0.5 */
int draw_step(uint64_t key, uint64_t draw, double chance);

#endif
