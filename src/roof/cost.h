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
    X(TAX, "tax")

enum cost_part {
#define X(code, name) COST_##code,
    COST_PART_MAP(X)
#undef X
        COST_PARTS
};

/** NULL past the end. */
const char *cost_part_name(int part);

/** What becomes of the old covers. */
enum scope { SCOPE_NOT_GIVEN, SCOPE_RECOVER, SCOPE_TEAR_OFF };

/** "", "recover", "tear off". NULL past the end. */
const char *scope_name(int value);

struct cost {
    bool known; /**< false: nothing was laid out, and the rest is 0 */
    money parts[COST_PARTS];
    money total;  /**< the sum of parts */
    double hours; /**< crew hours */
};

#endif
