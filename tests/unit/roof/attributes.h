#ifndef OUTLAY_TESTS_ROOF_ATTRIBUTES_H
#define OUTLAY_TESTS_ROOF_ATTRIBUTES_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "roof/roof.h"

/* Member by member: the bytes between them are anything. A missing number is a NAN. */
static inline void expect_same_attributes(const struct attributes *a,
                                          const struct attributes *b)
{
#define NUMBER(member) \
    assert_true(a->member == b->member || (isnan(a->member) && isnan(b->member)))
#define COUNT(member) assert_int_equal(a->member, b->member)
    NUMBER(height), NUMBER(storeys), NUMBER(parapet);
    NUMBER(overhang), NUMBER(slope);
    COUNT(deck), NUMBER(deck_bearing), NUMBER(wind_speed), COUNT(exposure), COUNT(risk);
    COUNT(use);
    NUMBER(elevation), NUMBER(topographic), COUNT(enclosure), COUNT(covers);
    COUNT(existing), NUMBER(wet_share), COUNT(installed), NUMBER(condition);
    NUMBER(rating), COUNT(rating_basis), NUMBER(pullout), COUNT(method), COUNT(edge);
    NUMBER(edge_condition), NUMBER(wall_length), NUMBER(parapet_thickness), COUNT(holes),
        COUNT(penetrations);
    COUNT(drains), NUMBER(stack), COUNT(earliest), COUNT(latest), COUNT(fixed_year);
    NUMBER(replacement_value);
    NUMBER(cost);
    NUMBER(cost_per_area);
    for (int i = 0; i < SPREAD_INPUTS; i++)
        NUMBER(spreads[i]);
#undef NUMBER
#undef COUNT
}

#endif
