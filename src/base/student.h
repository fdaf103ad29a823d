#ifndef OUTLAY_BASE_STUDENT_H
#define OUTLAY_BASE_STUDENT_H

/**
 * @file base/student.h
 * Student's distribution of t, by the finite series for whole degrees of freedom of
 * Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4 (from
 * memory; held to scipy by a test). Threads: any.
 */

/** P(T <= t). @param freedom  from 1 */
double student_p(double t, int freedom);

/** The t with P(T <= t) = p. @param p  0.5 to 0.9999 */
double student_t(double p, int freedom);

#endif
