#ifndef OUTLAY_BASE_NEAREST_H
#define OUTLAY_BASE_NEAREST_H

/**
 * @file base/nearest.h
 * What a mistyped word may have meant.
 *
 *     struct nearest nearest = nearest_start("--wnid-speed");
 *     nearest_try(&nearest, "wind-speed");      for each word known
 *     if (nearest.best) ...
 */

#include <stddef.h>

struct nearest {
    const char *word;
    const char *best; /**< borrowed from nearest_try(); NULL when nothing is near */
    size_t distance;  /**< edits between word and best */
};

struct nearest nearest_start(const char *word);

/** Keeps candidate if it is nearer than those before and no more than a third of the
 *  word (at least one character) would have to be edited. Case, - and _ are alike. */
void nearest_try(struct nearest *nearest, const char *candidate);

#endif
