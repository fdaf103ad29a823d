#ifndef OUTLAY_READ_OUTLINE_H
#define OUTLAY_READ_OUTLINE_H

/**
 * @file read/outline.h
 * From a geometry as the source has it to roof.lonlat: degrees, rings opened, nothing
 * repaired. What a geometry lacks becomes a problem of the roof.
 *
 * First outline_from_ogr() or outline_from_json() copies the polygons as they are, rings
 * still closed, in the input's CRS; then outline_settle() brings them to lon/lat and
 * checks them.
 */

#include <json-c/json.h>
#include <ogr_api.h>

#include "base/arena.h"
#include "read/projection.h"
#include "roof/roof.h"

/** What outline_settle() found; a roof without an error among its problems is USABLE. */
enum outline_state {
    OUTLINE_USABLE,
    OUTLINE_NONE,        /**< no polygon in it, or no finite one */
    OUTLINE_OUT_OF_RANGE /**< it can't be longitude and latitude */
};

/** Features whose geometry is of another type than polygons. */
struct outline_others {
    size_t count;
    char first[41]; /**< type of the first, as GDAL or GeoJSON names it */
};

/** Counts such a feature and adds its problem. @param type  "Line String", "Point" */
void outline_refuse_type(struct arena *arena, struct roof *roof, const char *type,
                         struct outline_others *others);

/** Adds the problem of a collection in which so many parts are of other types. */
void outline_tell_others(struct arena *arena, struct roof *roof, size_t parts);

/** Fails for a layer whose geometries are all of that type, and says how outlines are
 *  made of them. @return OUTLAY_E_INPUT */
enum outlay_status outline_fail_type(const char *type, struct outlay_error *err);

/** Copies the polygons of geometry into roof->lonlat. Curves become chords, Z and M are
 *  dropped, a collection gives its polygons. NULL and empty geometry is a problem.
 *  @param why  what the driver said about a NULL geometry; "" for nothing.
 *  @return OUTLAY_E_MEMORY */
enum outlay_status outline_from_ogr(struct arena *arena, struct roof *roof,
                                    OGRGeometryH geometry, const char *why,
                                    struct outline_others *types,
                                    struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The same for a parsed GeoJSON geometry (RFC 7946); NULL is JSON's null.
 *  A coordinate that isn't a number becomes NAN. @return OUTLAY_E_MEMORY */
enum outlay_status outline_from_json(struct arena *arena, struct roof *roof,
                                     struct json_object *geometry,
                                     struct outline_others *types,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Opens the rings, carries them to lon/lat and checks that they are finite and in
 *  range. On a problem of error severity roof->lonlat is left empty.
 *  @return OUTLAY_E_MEMORY */
enum outlay_status outline_settle(struct arena *arena, struct roof *roof,
                                  struct projection *projection,
                                  enum outline_state *state,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
