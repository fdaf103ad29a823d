#ifndef OUTLAY_TESTS_PORTFOLIO_ROOFS_H
#define OUTLAY_TESTS_PORTFOLIO_ROOFS_H

/* Roofs made by hand for the tests of this room: two zones, a known uplift, a cost. All
 * numbers are invented. */

#include <math.h>
#include <string.h>

#include "portfolio/portfolio.h"
#include "roof/layout.h"

/* 1000 m2, a quarter of it corner with 3 kPa of uplift, the rest field with 1 kPa. */
static inline void roof_sample(struct roof *roof, const char *id)
{
    static const double uplift[] = {3000, 1000};
    static const enum zone_role roles[] = {ZONE_CORNER, ZONE_FIELD};

    memset(roof, 0, sizeof *roof);
    roof->id = id;
    roof->properties = "";
    roof->given = attributes_missing();
    roof->whole = roof->zoned = true;
    roof->area = 1000;
    roof->height = 9;
    roof->method = METHOD_SEAM_FASTENED;
    roof->state = STATE_MET;
    roof->velocity.known = true;
    roof->velocity.exposure = EXPOSURE_C;
    roof->zone_count = 2;
    for (size_t i = 0; i < 2; i++)
        roof->zones[i] = (struct zone){.role = roles[i],
                                       .area = i == 0 ? 250 : 750,
                                       .uplift = {.known = true,
                                                  .uplift = uplift[i],
                                                  .allowable = 0.6 * uplift[i],
                                                  .required = 1.2 * uplift[i]}};
}

static inline void roof_add(struct portfolio *portfolio, struct roof *roof)
{
    struct building building = {.roofs = roof, .roof_count = 1};

    assert_int_equal(portfolio_add(portfolio, &building, NULL), OUTLAY_OK);
}

#endif
