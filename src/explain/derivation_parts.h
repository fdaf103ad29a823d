#ifndef OUTLAY_EXPLAIN_DERIVATION_PARTS_H
#define OUTLAY_EXPLAIN_DERIVATION_PARTS_H

/* The parts of the derivation and how its numbers are printed. Included by the
 * derivation's .c files only. */

#include "explain/derivation.h"

/** What every part reads. */
struct derivation {
    struct text *out;
    const struct roof *roof;
    const struct standard *standard;
    const struct unit_system *units;
    const struct write_settings *set;
    enum edge_style style; /* of half sheets */
};

/** Appends a value of SI with its unit, "18.0 ft", or "unknown" where it isn't finite. */
void put_quantity(const struct derivation *derivation, double value,
                  const struct unit *unit);

/** Appends a text of ours, with the quantities that it gives in both systems of units in
 *  that of the output. Names and ids are the user's: they stay as they are. */
void put_words(const struct derivation *derivation, const char *words);

/** Appends the label of a zone: "corner (zone 3)". */
void put_zone(const struct derivation *derivation, const struct zone *zone);

/** Ends a line with its reference: "  [source]". */
void put_source(const struct derivation *derivation, const char *source);

/** " (assumed: why)" where the roof's bit is set, else nothing. */
void put_assumed(const struct derivation *derivation, enum assumption what);

/* Sections, each opened by its heading. */
void put_velocity(const struct derivation *derivation);
void put_coefficients(const struct derivation *derivation);
void put_pressures(const struct derivation *derivation);
void put_ratings(const struct derivation *derivation);
void put_attachment(const struct derivation *derivation);
void put_layout(const struct derivation *derivation);
void put_taper(const struct derivation *derivation);
void put_bill(const struct derivation *derivation);
void put_vouched(const struct derivation *derivation);
void put_spread(const struct derivation *derivation);

#endif
