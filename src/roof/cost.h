#ifndef OUTLAY_ROOF_COST_H
#define OUTLAY_ROOF_COST_H

/**
 * @file roof/cost.h
 * The facet that price/ gives: what one roof costs by one method, part by part.
 *
 * Money is whole hundredths of the price table's currency at its price date, so that the
 * parts add up to the whole in every table, to the cent. Owned: in the building's arena.
 */

#include <stdbool.h>
#include <stdint.h>

typedef int64_t money; /**< hundredths */

/* Code, name as in tables. */
#define COST_PART_MAP(X)            \
    X(MATERIAL, "material")         \
    X(LABOUR, "labour")             \
    X(TEAR_OFF, "tear-off")         \
    X(DISPOSAL, "disposal")         \
    X(MOBILISATION, "mobilisation") \
    X(PERMIT, "permit")             \
    X(OVERHEAD, "overhead")         \
    X(PROFIT, "profit")             \
    X(CONTINGENCY, "contingency")   \
    X(TAX, "tax")                   \
    X(GIVEN, "given")

enum cost_part {
#define X(code, name) COST_##code,
    COST_PART_MAP(X)
#undef X
        COST_PARTS
};

/** NULL past the end. */
const char *cost_part_name(int part);

/* Where a cost comes from: code, name as in tables. */
#define PRICE_BASIS_MAP(X)                                       \
    X(BUILT_UP, "built up") /* the bill at the table's prices */ \
    X(GIVEN, "given")       /* the roof's own column */          \
    X(BY_KIND, "by kind")   /* the table's rate for the kind of the present roof */

enum price_basis {
#define X(code, name) PRICE_##code,
    PRICE_BASIS_MAP(X)
#undef X
        PRICE_BASES
};

/** NULL past the end. */
const char *price_basis_name(int basis);

/** What becomes of the old covers. */
enum scope { SCOPE_NOT_GIVEN, SCOPE_RECOVER, SCOPE_TEAR_OFF };

/** "", "recover", "tear off". NULL past the end. */
const char *scope_name(int value);

struct cost {
    bool known;             /**< false: nothing was laid out, and the rest is 0 */
    enum price_basis basis; /**< but for BUILT_UP all of it is the part GIVEN */
    money parts[COST_PARTS];
    money total;  /**< the sum of parts */
    double hours; /**< crew hours */
};

#endif
