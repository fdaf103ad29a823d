#include "spread/sums.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "spread/drivers.h"
#include "spread/inputs.h"

/* Arrays of numbers, one behind the other. */
static size_t array_count(size_t draws)
{
    bool indices = draws >= SPREAD_INDEX_DRAWS;

    return SPREAD_SUMS + (indices ? DRIVEN_KINDS * (1 + (size_t)SPREAD_INPUTS) : 0);
}

struct spread_sums *spread_sums_new(size_t draws)
{
    struct spread_sums *sums = calloc(1, sizeof *sums);
    double *room = calloc(draws * array_count(draws) + 1, sizeof *room);

    if (!sums || !room) {
        free(sums);
        free(room);
        return NULL;
    }
    sums->draws = draws;
    for (int what = 0; what < SPREAD_SUMS; what++, room += draws)
        sums->values[what] = room;
    for (int kind = 0; draws >= SPREAD_INDEX_DRAWS && kind < DRIVEN_KINDS; kind++) {
        sums->other[kind] = room;
        for (int input = 0; input < SPREAD_INPUTS; input++)
            sums->mixed[kind][input] = room += draws;
        room += draws;
    }
    return sums;
}

void spread_sums_free(struct spread_sums *sums)
{
    if (sums)
        free(sums->values[0]);
    free(sums);
}

void spread_sums_clear(struct spread_sums *sums)
{
    memset(sums->values[0], 0, sums->draws * array_count(sums->draws) * sizeof(double));
    memset(sums->plain, 0, sizeof sums->plain);
    memset(sums->roofs, 0, sizeof sums->roofs);
    memset(sums->acts, 0, sizeof sums->acts);
    memset(sums->moved, 0, sizeof sums->moved);
    memset(sums->squares, 0, sizeof sums->squares);
}

void spread_sums_add(struct spread_sums *to, const struct spread_sums *from)
{
    for (size_t i = 0; i < to->draws * array_count(to->draws); i++)
        to->values[0][i] += from->values[0][i];
    for (int what = 0; what < SPREAD_SUMS; what++) {
        to->plain[what] += from->plain[what];
        to->roofs[what] += from->roofs[what];
    }
    for (int input = 0; input < SPREAD_INPUTS; input++) {
        to->acts[input] = to->acts[input] || from->acts[input];
        for (int kind = 0; kind < DRIVEN_KINDS; kind++) {
            to->moved[kind][input] += from->moved[kind][input];
            to->squares[kind][input] += from->squares[kind][input];
        }
    }
}

void spread_sums_moved(struct spread_sums *sums, enum driven kind,
                       enum spread_input input, double moved)
{
    if (spread_inputs[input].scope == SPREAD_PORTFOLIO)
        sums->moved[kind][input] += moved;
    else
        sums->squares[kind][input] += moved * moved;
}

/* Sobol's indices, where there are draws enough; scores of roofs don't add up. */
static bool has_indices(const struct spread_sums *sums, int kind)
{
    return sums->other[kind] && kind != DRIVEN_SCORE;
}

static void settle_drivers(struct spread_sums *sums, int kind)
{
    const double *drawn = sums->values[kind == DRIVEN_COST ? SUM_COST : SUM_FORCE];
    double moved[SPREAD_INPUTS], shares[SPREAD_INPUTS];

    for (int i = 0; i < SPREAD_INPUTS; i++)
        moved[i] = fabs(sums->moved[kind][i]) + sqrt(sums->squares[kind][i]);
    shares_one_at_a_time(moved, SPREAD_INPUTS, shares);
    for (int i = 0; i < SPREAD_INPUTS; i++) {
        struct driver *driver = &sums->drivers[kind][i];

        *driver = (struct driver){moved[i], sums->acts[i] ? shares[i] : NAN, NAN};
        if (!has_indices(sums, kind) || !sums->acts[i])
            continue;
        struct first_order index = first_order_index(drawn, sums->other[kind],
                                                     sums->mixed[kind][i], sums->draws);
        driver->share = index.index;
        driver->error = index.error;
    }
}

void spread_sums_settle(struct spread_sums *sums)
{
    for (int kind = 0; kind < DRIVEN_KINDS; kind++)
        settle_drivers(sums, kind);
    for (int what = 0; what < SPREAD_SUMS; what++)
        sums->ranges[what] = sums->roofs[what] > 0
                                 ? spread_range_of(sums->values[what], sums->draws)
                                 : (struct spread_range){NAN, NAN};
}
