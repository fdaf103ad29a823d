#ifndef OUTLAY_ROOF_PROBLEM_H
#define OUTLAY_ROOF_PROBLEM_H

/**
 * @file roof/problem.h
 * What one roof suffers: a row of problems.csv. A problem never stops a run.
 *
 * Severity: a note is worth knowing, a warning may change what you order, an error
 * leaves the roof out of some or all results.
 */

enum severity { SEVERITY_NOTE, SEVERITY_WARNING, SEVERITY_ERROR };

/* code, severity, name as printed. One list, so that the documentation's table of codes
 * can be checked against it. */
#define PROBLEM_MAP(X)                                  \
    X(BAD_LINE, ERROR, "line-not-a-feature")            \
    X(NO_GEOMETRY, ERROR, "no-geometry")                \
    X(NOT_POLYGON, ERROR, "not-a-polygon")              \
    X(NOT_FINITE, ERROR, "coordinates-not-finite")      \
    X(OUT_OF_RANGE, ERROR, "coordinates-out-of-range")  \
    X(OUTSIDE_CRS, WARNING, "outside-crs")              \
    X(ZERO_AREA, ERROR, "zero-area")                    \
    X(TOO_LARGE, ERROR, "outline-too-large")            \
    X(REPAIRED, WARNING, "outline-repaired")            \
    X(REPAIR_FAILED, ERROR, "repair-failed")            \
    X(GEOMETRY_FAILED, ERROR, "geometry-failed")        \
    X(SIMPLIFIED, WARNING, "outline-simplified")        \
    X(HEIGHT_MISSING, ERROR, "height-missing")          \
    X(HEIGHT_ABSURD, ERROR, "height-out-of-range")      \
    X(NOT_A_NUMBER, WARNING, "value-not-a-number")      \
    X(VALUE_RANGE, WARNING, "value-out-of-range")       \
    X(SLOPE_RANGE, ERROR, "slope-out-of-range")         \
    X(VALUE_UNKNOWN, WARNING, "value-unknown")          \
    X(VALUE_RANGE_MEAN, WARNING, "value-is-a-range")    \
    X(BY_OPTION, NOTE, "value-by-option")               \
    X(SAMPLE_MISSING, WARNING, "sample-missing")        \
    X(SAMPLE_WEAK, WARNING, "sample-weak")              \
    X(FEATURE_UNUSED, WARNING, "feature-unused")        \
    X(FEATURE_TWICE, WARNING, "feature-twice")          \
    X(FIXTURE_SIZE, WARNING, "fixture-without-size")    \
    X(UNIT_RATED, NOTE, "units-not-rated")              \
    X(FINDING_UNUSABLE, ERROR, "finding-unusable")      \
    X(FINDING_NO_ROOF, ERROR, "finding-without-roof")   \
    X(FINDING_ROOFS, ERROR, "finding-on-several-roofs") \
    X(FINDING_PLACE, WARNING, "finding-place")          \
    X(CLOSING_NO_ROOF, ERROR, "decision-without-roof")  \
    X(FINDINGS_DIFFER, WARNING, "findings-differ")      \
    X(PULLOUT_TESTS, WARNING, "pullout-tests")          \
    X(DUPLICATE_ID, WARNING, "duplicate-id")            \
    X(OVERLAP, WARNING, "roofs-overlap")                \
    X(OVERLAP_UNCHECKED, NOTE, "overlap-unchecked")     \
    X(STEEP, WARNING, "slope-too-steep")                \
    X(OPEN, WARNING, "open-building")                   \
    X(OVERHANG, WARNING, "overhang")                    \
    X(NO_SPEED, WARNING, "wind-speed-missing")          \
    X(LOW_SPEED, WARNING, "wind-speed-low")             \
    X(TORNADO, WARNING, "tornado-not-checked")          \
    X(WIND_AREA, WARNING, "wind-area-large")            \
    X(PULLOUT, WARNING, "pullout-missing")              \
    X(NOT_MET, WARNING, "not-met")                      \
    X(SEAM_NEAR, WARNING, "seam-near-fixture")          \
    X(HALF_SHEETS, WARNING, "many-half-sheets")         \
    X(HALF_SHEETS_MEET, NOTE, "half-sheets-meet")       \
    X(WALKWAY, WARNING, "walkway")                      \
    X(UNBOARDED, NOTE, "strips-without-board")          \
    X(TAPER_LACKING, WARNING, "taper-not-counted")      \
    X(TAPER_UNREACHED, WARNING, "taper-without-drain")  \
    X(TAPER_WALL, WARNING, "taper-buries-wall")         \
    X(SCREW_SHORT, WARNING, "screw-too-short")          \
    X(NO_SCREW, WARNING, "no-screw")                    \
    X(SLOPE_CHANGE, WARNING, "slope-change")            \
    X(JOINT_ALONE, WARNING, "joint-alone")              \
    X(SECTIONS_JOIN, WARNING, "joint-of-sections")      \
    X(ALL_WALL, WARNING, "parapets-meet")               \
    X(ROUNDED_AWAY, NOTE, "zone-rounded-away")

enum problem_code {
#define X(code, severity, name) PROBLEM_##code,
    PROBLEM_MAP(X)
#undef X
        PROBLEM_CODES
};

struct problem {
    enum problem_code code;
    const char *what;  /**< field and value included; never NULL */
    const char *done;  /**< what was done about it; static storage; never NULL */
    const char *field; /**< the role whose value it is about; static storage; NULL */
    struct problem *next;
};

const char *problem_code_name(enum problem_code code);
enum severity problem_severity(enum problem_code code);

/** "note", "warning", "error". */
const char *severity_name(enum severity severity);

#endif
