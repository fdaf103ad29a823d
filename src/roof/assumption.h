#ifndef OUTLAY_ROOF_ASSUMPTION_H
#define OUTLAY_ROOF_ASSUMPTION_H

/**
 * @file roof/assumption.h
 * What is weak about a result, as the user reads it, and what closes it. Static data.
 * Threads: any.
 */

#include <stdbool.h>
#include <stdint.h>

/* Of both lists. name: as printed in `estimated` or `assumed`; weakens: a zone that holds
 * is `met assumed` with it, not `met`. It does where pressure or resistance may turn out
 * worse, or a part of the roof may lie in a severer zone. It doesn't on the safe side
 * (elevation, step, no parapet), nor for the method, which is a choice and no property of
 * the roof. */

/* Values that were worked out from other input: code, name, weakens, how. What is found
 * site closes each of them. */
#define ESTIMATE_MAP(X)                                                            \
    X(HEIGHT, "height", true,                                                      \
      "from storeys: 18 ft (5.5 m) for the first, 13 ft (4.0 m) for each further " \
      "one (ours)")                                                                \
    X(STOREYS, "storeys", false, "from height, the same rule turned round (ours)") \
    X(SAMPLED, "sampled", true, "read off rasters or layers at the roof, as each says")

/* What closes an assumption: a finding on site; a decision that somebody answers for on
 * how a text is read; a source that somebody names for a table's values. */
enum assumption_sort { SORT_SITE, SORT_READING, SORT_SOURCE };

/* Choices that nobody confirmed: code, name, sort, weakens, what is assumed. */
#define ASSUMPTION_MAP(X)                                                               \
    X(EXPOSURE, "exposure", SITE, true, "exposure C, since none was given")             \
    X(ENCLOSURE, "enclosure", SITE, true, "enclosed building, since nothing was given") \
    X(TOPOGRAPHY, "topographic", SITE, true, "flat terrain: topographic factor 1")      \
    X(ELEVATION, "elevation", READING, false,                                           \
      "ground elevation factor 1, permitted in all cases")                              \
    X(STEP, "step", READING, false,                                                     \
      "the edge at a step between roof levels is a free edge")                          \
    X(HOLES, "holes", SITE, true,                                                       \
      "openings under 323 ft2 (30 m2) or 9.8 ft (3 m) wide without strips, larger "     \
      "ones courts (ours)")                                                             \
    X(MID_RISE, "mid-rise", READING, true,                                              \
      "route between 60 ft (18.3 m) and 90 ft (27.4 m) as the setting says")            \
    X(KZ_FLOOR, "kz-floor", READING, true,                                              \
      "exposure B below 30 ft (9.1 m) as the setting says")                             \
    X(LEAST_DIMENSION, "least-dimension", READING, false,                               \
      "irregular plan: least dimension from the smallest rectangle around it")          \
    X(STEPPED, "stepped", READING, true,                                                \
      "stepped building: least dimension of the building, or as the setting says")      \
    X(REENTRANT, "reentrant", READING, true, "re-entrant corners are perimeter")        \
    X(PULLOUT, "pullout-untested", SITE, true, "deck pull-out not tested")              \
    X(DECK, "deck", SITE, true, "deck not given: steel assumed")                        \
    X(RIBS, "rib-direction", SITE, true,                                                \
      "rows cross the ribs of the steel deck, whose direction wasn't given")            \
    X(METHOD, "method", READING, false, "method not given: seam-fastened")              \
    X(PARAPET, "parapet", SITE, false, "no parapet, since none was given")              \
    X(PARAPET_AROUND, "parapet-around", SITE, true,                                     \
      "the parapet that was given runs all around")                                     \
    X(NOMINAL_SPEED, "wind-speed-nominal", READING, true,                               \
      "a strength-level wind speed, though it is as low as those of nominal maps")      \
    X(TORNADO, "tornado-not-checked", READING, true,                                    \
      "no tornado load governs, though risk category III or IV asks for a check")       \
    X(WIND_AREA, "wind-area", READING, true,                                            \
      "an effective wind area larger than what one fastener or plate holds")            \
    X(LEVEL_HEIGHT, "level-height", SITE, true,                                         \
      "h is the level's, and the height of one of its sections is estimated")           \
    X(EDGE, "edge", SITE, false,                                                        \
      "edge metal where nothing tells an edge's kind; sections within 1 ft (0.3 m) of " \
      "each other's height run on")                                                     \
    X(EDGE_METAL, "edge-metal", SOURCE, true,                                           \
      "edge metal holds the sheets along it: its strength isn't checked")               \
    X(PARAPET_THICKNESS, "parapet-thickness", SITE, false,                              \
      "thickness of parapets not given: 8 in (203 mm)")                                 \
    X(STACK, "stack", SITE, false,                                                      \
      "stack not given: 4 in (102 mm) of insulation and boards")                        \
    X(TAPER, "taper", READING, false,                                                   \
      "two-way where drains stand in one line, else four-way; it begins as "            \
      "thick as the catalogue's first panel (ours)")                                    \
    X(COVER, "cover", SITE, false,                                                      \
      "old cover not given: gravel-surfaced, of one layer unless covers are given")     \
    X(OUTLINE, "outline", READING, true,                                                \
      "the repaired outline is the roof's, though its area changed by over 1 %")        \
    X(ROUGHNESS, "roughness", READING, true,                                            \
      "a surface roughness prevails where it covers 80 % of a sector, or the share "    \
      "that was set (ours)")                                                            \
    X(HILL, "hill", SOURCE, true,                                                       \
      "a hill's shape is read from the terrain (ours); multipliers from memory")        \
    X(LAYOUT, "layout", READING, true,                                                  \
      "counted by area: rows and boards may carry more once they are laid out")         \
    X(PULLOUT_FEW, "few-pullout-tests", SITE, true,                                     \
      "fewer pull-out tests of the deck than the survey's rules ask for")               \
    X(COEFFICIENTS, "coefficients", SOURCE, true,                                       \
      "coefficients of the standard from memory: not compared with the print")          \
    X(RATINGS, "ratings", SOURCE, true,                                                 \
      "rating of the assembly: no test report is named for it")                         \
    X(PACKS, "packs", SOURCE, false,                                                    \
      "packs and crew rates: no source is named for them")                              \
    X(PRICES, "prices", SOURCE, false, "prices: no source is named for them")

enum estimate {
#define X(code, name, weakens, how) ESTIMATE_##code,
    ESTIMATE_MAP(X)
#undef X
        ESTIMATES
};

/** An assumption in a set of them, which is a uint64_t. */
#define ASSUMPTION_BIT(what) (UINT64_C(1) << (what))

enum assumption {
#define X(code, name, sort, weakens, how) ASSUME_##code,
    ASSUMPTION_MAP(X)
#undef X
        ASSUMPTIONS
};

const char *estimate_name(int value);
const char *estimate_reason(int value);
const char *assumption_name(int value);
const char *assumption_reason(int value);
enum assumption_sort assumption_sort(enum assumption what);
bool assumption_weakens(enum assumption what);

/* What is still open on a roof, in one set: estimates, then assumptions. */
enum { OPEN_ITEMS = ESTIMATES + ASSUMPTIONS };

/** "height (site)", "step (reading)"; NULL past the end. */
const char *open_item_name(int item);

/** What somebody decided or confirmed, so that it is no assumption of the roof. */
struct closing {
    enum assumption what;
    const char *name; /**< of the one assembly whose rating it is; NULL: all */
    const char *by;   /**< "re-entrant corners are perimeter: N. N., 2026-11-20
                         (decisions.csv, row 3)" */
};

#endif
