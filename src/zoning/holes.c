#include "zoning/holes.h"

#include "geo/hull.h"

/* What the level's roofs tell its holes to be. A court given by one is on the safe side;
 * a penthouse needs all of them. */
static enum hole_kind given_holes(const struct building *building,
                                  const struct level_outline *level)
{
    enum hole_kind given = HOLES_PENTHOUSE;

    for (size_t k = 0; k < level->roof_count; k++) {
        enum hole_kind kind = building->roofs[level->roofs[k]].given.holes;

        if (kind == HOLES_COURT)
            return kind;
        if (kind == HOLES_NOT_GIVEN)
            given = kind;
    }
    return given;
}

enum outlay_status hole_judge(const struct building *building,
                              const struct level_outline *level,
                              const struct zoning_settings *settings, struct ring hole,
                              enum hole_kind *kind, unsigned *assumed)
{
    struct rectangle rectangle;

    *kind = given_holes(building, level);
    if (*kind != HOLES_NOT_GIVEN)
        return OUTLAY_OK;
    *assumed |= ASSUMPTION_BIT(ASSUME_HOLES);
    if (smallest_rectangle(building->arena, hole, &rectangle) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    if (-ring_area(hole) >= settings->opening_area &&
        rectangle.shorter >= settings->opening_width)
        *kind = HOLES_COURT;
    return OUTLAY_OK;
}
