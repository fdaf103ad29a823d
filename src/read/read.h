#ifndef OUTLAY_READ_READ_H
#define OUTLAY_READ_READ_H

/**
 * @file read/read.h
 * Opens a layer of roof outlines and hands out one roof at a time.
 *
 *     status = reader_open(&settings, &reader, err);
 *     while (status == OUTLAY_OK && !end)
 *         status = reader_next(reader, arena, &roof, &end, err);
 *     reader_close(reader);
 *
 * Two kinds behind one face: GDAL's vector drivers, and for "-" a line reader of our
 * own for GeoJSON text sequences, since GDAL 3.6's driver loses features on a pipe.
 *
 * Whatever the input CRS, roof.lonlat comes out in degrees, WGS 84. What one feature
 * lacks becomes a problem of its roof; only what stops the run is a status.
 * Not thread-safe: one thread reads.
 */

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "base/arena.h"
#include "base/text.h"
#include "outlay/status.h"
#include "read/marks.h"
#include "roof/roof.h"

/* role, kind of value. One list makes the enum, the names and the parser. */
#define FIELD_ROLE_MAP(X)                             \
    X(ID, "id", TEXT)                                 \
    X(NAME, "name", TEXT)                             \
    X(BUILDING, "building", TEXT)                     \
    X(GROUP, "group", TEXT)                           \
    X(HEIGHT, "height", LENGTH)                       \
    X(STOREYS, "storeys", COUNT)                      \
    X(PARAPET, "parapet", LENGTH)                     \
    X(OVERHANG, "overhang", LENGTH)                   \
    X(SLOPE, "slope", RATIO)                          \
    X(DECK, "deck", NAME)                             \
    X(DECK_BEARING, "deck_bearing", ANGLE)            \
    X(WIND_SPEED, "wind_speed", SPEED)                \
    X(EXPOSURE, "exposure", NAME)                     \
    X(RISK, "risk", WHOLE)                            \
    X(USE, "use", NAME)                               \
    X(ELEVATION, "elevation", LENGTH)                 \
    X(TOPOGRAPHIC, "topographic", RATIO)              \
    X(ENCLOSURE, "enclosure", NAME)                   \
    X(COVERS, "covers", WHOLE)                        \
    X(EXISTING, "existing", NAME)                     \
    X(WET_SHARE, "wet_share", RATIO)                  \
    X(INSTALLED, "installed", WHOLE)                  \
    X(CONDITION, "condition", COUNT)                  \
    X(RATING, "rating", PRESSURE)                     \
    X(RATING_BASIS, "rating_basis", NAME)             \
    X(PULLOUT, "pullout", FORCE)                      \
    X(METHOD, "method", NAME)                         \
    X(EDGE, "edge", NAME)                             \
    X(EDGE_CONDITION, "edge_condition", COUNT)        \
    X(PARAPET_THICKNESS, "parapet_thickness", LENGTH) \
    X(WALL_LENGTH, "wall_length", LENGTH)             \
    X(HOLES, "holes", NAME)                           \
    X(PENETRATIONS, "penetrations", WHOLE)            \
    X(DRAINS, "drains", WHOLE)                        \
    X(STACK, "stack", LENGTH)                         \
    X(TAPER, "taper", RATIO)                          \
    X(EARLIEST, "earliest", WHOLE)                    \
    X(LATEST, "latest", WHOLE)                        \
    X(FIXED_YEAR, "fixed_year", WHOLE)                \
    X(REPLACEMENT_VALUE, "replacement_value", COUNT)  \
    X(COST, "cost", COUNT)                            \
    X(COST_PER_AREA, "cost_per_area", RATIO)          \
    X(HEIGHT_SPREAD, "height_spread", LENGTH)         \
    X(TRACE_SPREAD, "trace_spread", LENGTH)           \
    X(WIND_SPEED_SPREAD, "wind_speed_spread", SPEED)  \
    X(EXPOSURE_SPREAD, "exposure_spread", RATIO)      \
    X(CONDITION_SPREAD, "condition_spread", COUNT)    \
    X(SERVICE_LIFE_SPREAD, "service_life_spread", COUNT)

enum field_role {
#define X(code, name, kind) ROLE_##code,
    FIELD_ROLE_MAP(X)
#undef X
        FIELD_ROLES
};

struct read_settings {
    const char *input;     /**< path, GDAL connection string, or "-" */
    const char *layer;     /**< NULL: the only one, or the first with a note */
    const char *where;     /**< attribute filter; NULL */
    const char *crs;       /**< overrides or supplies the CRS; NULL */
    const char *id_prefix; /**< before ids that are numbers given here; NULL; borrowed
                                until reader_close() */
    bool has_bbox;
    struct box bbox;                 /**< degrees WGS 84 */
    const char *fields[FIELD_ROLES]; /**< "column" or "column:unit" per role; NULL:
                                          found by name; "" : not read */
    const char *marks[MARK_ROLES];   /**< likewise, of the layers beside the outlines */
    FILE *stream;                    /**< what "-" reads; NULL: standard input */
};

/** How a role was found, for `inspect` and run.json. */
struct field_use {
    enum field_role role;
    const char *column;
    const char *unit; /**< "" for none */
    bool given;       /**< by --field; else recognised by name */
    size_t filled;    /**< features read so far with a usable value */
};

struct reader;

enum outlay_status reader_open(const struct read_settings *settings, struct reader **out,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Reads the next feature into *roof, all of it in arena: position, id, name, building,
 * properties, given, lonlat (not repaired), problems. Every feature comes out, usable
 * or not: one without a usable outline has an error among its problems and an empty
 * lonlat, and so has a line of a stream that isn't a feature.
 * @param[out] end  true: no feature was left and *roof is untouched.
 * @return OUTLAY_E_INPUT for truncated or quietly shortened input, for one without a
 *         usable polygon, for a file without a feature (a stream may be empty), and when
 *         no coordinates fit the CRS; what was read before stands. OUTLAY_E_USAGE when a
 *         column of a stream comes up that can't be read as given or lacks a unit.
 *         OUTLAY_E_INTERRUPTED, OUTLAY_E_MEMORY.
 */
enum outlay_status reader_next(struct reader *reader, struct arena *arena,
                               struct roof *roof, bool *end,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Number of features, or -1 where the source doesn't know. */
long long reader_count(const struct reader *reader);

/** What going over the layer once tells. */
struct extent {
    long long count; /**< of the features that the filters let through */
    struct box box;  /**< around the middles of their outlines, degrees WGS 84; max_x may
                          exceed 180 where that box is the narrower; inverted for none */
};

/**
 * Counts the features and finds their place, before the first is read. A stream can't be
 * gone over: its count is -1.
 * @param most  stops as soon as there are more
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status reader_extent(struct reader *reader, long long most,
                                 struct extent *out,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** True for "-": whole-file checks are off. */
bool reader_streams(const struct reader *reader);

/** The roles found, in order of enum field_role. Borrowed until reader_close(). */
size_t reader_fields(const struct reader *reader, const struct field_use **out);

/** Driver, layer, CRS and notes for people, one line each. */
void reader_describe(const struct reader *reader, struct text *out);

/** The layer's name in the source; "" for a stream. Borrowed. */
const char *reader_layer(const struct reader *reader);

/** The CRS as it was read, "EPSG:2272, NAD83 / ..."; NULL: none was stated. Borrowed. */
const char *reader_crs(const struct reader *reader);

/** The input's name for people: "standard input", or as it was given. Borrowed. */
const char *reader_name(const struct reader *reader);

/** Closes the source. NULL is ignored. */
void reader_close(struct reader *reader);

const char *field_role_name(enum field_role role);

#endif
