#ifndef OUTLAY_ROOF_FIXTURES_H
#define OUTLAY_ROOF_FIXTURES_H

/**
 * @file roof/fixtures.h
 * The facet of what stands on a roof, as a layer of the user's tells: drains, pipes,
 * units. Put on the roofs by the stage `fixtures`; read by the layout, the order, the
 * drawing and the tables.
 *
 * Units: metres in the building's frame. Owned: the building's arena; ids are borrowed
 * from the layer, which outlives the run.
 */

#include "base/units.h"
#include "roof/roof.h"

/* code, name as users write it. */
#define FIXTURE_KIND_MAP(X) \
    X(DRAIN, "drain")       \
    X(SCUPPER, "scupper")   \
    X(PIPE, "pipe")         \
    X(CURB, "curb")         \
    X(UNIT, "unit")         \
    X(HATCH, "hatch")       \
    X(SKYLIGHT, "skylight") \
    X(SUPPORT, "support")

enum fixture_kind {
    FIXTURE_NOT_GIVEN,
#define X(code, name) FIXTURE_##code,
    FIXTURE_KIND_MAP(X)
#undef X
        FIXTURE_KINDS
};

/** "", "drain", "scupper", ...; NULL past the end. */
const char *fixture_kind_name(int value);

struct fixture {
    enum fixture_kind kind;
    const char *id;        /**< the layer's, else "feature 3"; never NULL */
    size_t mark;           /**< which of the layer's places it is, from 0 */
    struct point at;       /**< its middle */
    struct ring footprint; /**< counter-clockwise; no points: of no known size */
    double width, length;  /**< m; NAN: not given. Of a traced footprint without given
                                  ones, the sides of the smallest rectangle around it */
    double height;         /**< of the upstand, m; NAN */
    bool crowded; /**< takeoff: a seam or row of the roof's own layout lies nearer
                                than FIXTURE_CLEAR to it */
};

/** A straight part of the walkways of a roof; one that several ways have in common stands
 *  here once. */
struct walkway {
    struct point from, to;
};

/** Fixtures of a kind on a roof. */
int fixtures_count(const struct roof *roof, enum fixture_kind kind);

/** Drains of a roof by the layer of fixtures, 0 where it has scuppers alone there; where
 *  it has neither, by the roof's column. MISSING */
int roof_drains(const struct roof *roof);

/** Pipes and supports of a roof by the layer of fixtures; where it has none there, by the
 *  roof's column. MISSING */
int roof_penetrations(const struct roof *roof);

/** Length around its footprint, m; NAN where its size isn't known. */
double fixture_girth(const struct fixture *fixture);

/** What seams and rows keep from drains and pipes, m. */
#define FIXTURE_CLEAR M_PER_FT

/** Whether seams and rows keep away from it: a drain or a pipe. */
bool fixture_keeps_clear(const struct fixture *fixture);

/** Radius of the circle that a fixture is taken for there, m: half of the longer side, 0
 *  where its size isn't known. */
double fixture_radius(const struct fixture *fixture);

/** Whether flashing goes up on it: a curb, unit, hatch or skylight. */
bool fixture_is_curbed(enum fixture_kind kind);

#endif
