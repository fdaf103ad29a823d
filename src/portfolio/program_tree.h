#ifndef OUTLAY_PORTFOLIO_PROGRAM_TREE_H
#define OUTLAY_PORTFOLIO_PROGRAM_TREE_H

/**
 * @file portfolio/program_tree.h
 * Branch and bound, for programs whose parts all have prices: a roof's year (then its
 * option) is fixed, or struck out, and the bound of tolls found again for what is left.
 * Visits that are certain leave less room for the others.
 *
 * Threads: as the desk.
 */

#include "portfolio/program_dual.h"
#include "portfolio/program_scheme.h"

/** Roofs of a program that a tree is worth while for. */
enum { TREE_ROOFS_MAX = 64 };

/**
 * @param dual   its judge says what is counted; its tolls and picks change
 * @param best   the answer so far, made better
 * @param spare  another scheme
 * @param gap    share of the value within which the proof may stay
 * @param steps  of the watch, at which to end
 * @param bound  no answer is below; INFINITY: there is none
 * @return whether there was memory
 */
bool tree_search(struct dual *dual, struct scheme *best, struct scheme *spare, double gap,
                 double steps, struct arena *arena, double *bound);

/** What is proven enough: within a share of the value, or half a hundredth. */
double tree_allowance(double value, double gap);

#endif
