#ifndef OUTLAY_PORTFOLIO_CONDITION_H
#define OUTLAY_PORTFOLIO_CONDITION_H

/**
 * @file portfolio/condition.h
 * How a roof's condition falls with its age:
 *
 *     condition(t) = 100 exp(-(t / beta)^shape),  beta = life / (ln 2.5)^(1 / shape)
 *
 * so that it is 40 at the end of the service life (ours). The Weibull form is that of
 * Grussing, Uzarski, Marrano, "Condition and Reliability Prediction Models using the
 * Weibull Probability Distribution" (2006): from memory; shape and life are settings
 * (ours).
 *
 * Pure functions; any thread.
 */

struct condition_curve {
    double life;  /**< years, > 0 */
    double shape; /**< > 0 */
};

/** At the end of the service life: work is due (ours). */
#define CONDITION_DUE 40.0

/** @param age  years; below 0 counts as 0. @return 0 to 100 */
double condition_at(const struct condition_curve *curve, double age);

/** The age at which the curve has that condition, years; below 1 counts as 1, so that
 *  ages stay finite. NAN for NAN. */
double condition_age(const struct condition_curve *curve, double condition);

#endif
