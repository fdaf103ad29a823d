#include "read/outline.h"

/* A collection within a collection within ...: deeper than this is refused, since each
 * level is a call. */
enum { depth_limit = 32 };

static bool is_collection(OGRwkbGeometryType type)
{
    return type == wkbMultiPolygon || type == wkbGeometryCollection;
}

static bool is_polygon(OGRwkbGeometryType type)
{
    return type == wkbPolygon || type == wkbTriangle;
}

/* Polygons with points inside geometry; *others counts parts of another kind. */
static size_t count_polygons(OGRGeometryH geometry, int depth, size_t *others)
{
    OGRwkbGeometryType type = wkbFlatten(OGR_G_GetGeometryType(geometry));
    size_t found = 0;

    if (is_polygon(type))
        return OGR_G_GetGeometryCount(geometry) > 0;
    if (!is_collection(type) || depth == depth_limit) {
        ++*others;
        return 0;
    }
    for (int i = 0; i < OGR_G_GetGeometryCount(geometry); i++)
        found += count_polygons(OGR_G_GetGeometryRef(geometry, i), depth + 1, others);
    return found;
}

static bool copy_polygon(struct arena *arena, OGRGeometryH geometry,
                         struct polygon *polygon)
{
    int rings = OGR_G_GetGeometryCount(geometry);

    polygon->rings = arena_array(arena, (size_t)rings, sizeof *polygon->rings);
    if (!polygon->rings)
        return false;
    polygon->ring_count = (size_t)rings;
    for (int i = 0; i < rings; i++) {
        OGRGeometryH source = OGR_G_GetGeometryRef(geometry, i);
        struct ring *ring = &polygon->rings[i];
        int count = OGR_G_GetPointCount(source);

        ring->points = arena_array(arena, (size_t)count, sizeof *ring->points);
        if (!ring->points)
            return false;
        ring->count = (size_t)count;
        if (count)
            OGR_G_GetPoints(source, &ring->points[0].x, sizeof(struct point),
                            &ring->points[0].y, sizeof(struct point), NULL, 0);
    }
    return true;
}

static bool copy_polygons(struct arena *arena, OGRGeometryH geometry, int depth,
                          struct region *region)
{
    OGRwkbGeometryType type = wkbFlatten(OGR_G_GetGeometryType(geometry));

    if (is_polygon(type)) {
        if (OGR_G_GetGeometryCount(geometry) == 0)
            return true;
        return copy_polygon(arena, geometry, &region->polygons[region->polygon_count++]);
    }
    if (!is_collection(type) || depth == depth_limit)
        return true;
    for (int i = 0; i < OGR_G_GetGeometryCount(geometry); i++)
        if (!copy_polygons(arena, OGR_G_GetGeometryRef(geometry, i), depth + 1, region))
            return false;
    return true;
}

static void tell_missing(struct arena *arena, struct roof *roof, OGRGeometryH geometry,
                         size_t others, struct outline_others *types)
{
    if (others && !OGR_G_IsEmpty(geometry))
        outline_refuse_type(
            arena, roof,
            OGRGeometryTypeToName(wkbFlatten(OGR_G_GetGeometryType(geometry))), types);
    else
        roof_problem(arena, roof, PROBLEM_NO_GEOMETRY, "roof left out",
                     "the geometry is empty");
}

enum outlay_status outline_from_ogr(struct arena *arena, struct roof *roof,
                                    OGRGeometryH geometry, const char *why,
                                    struct outline_others *types,
                                    struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    OGRGeometryH linear = NULL;
    size_t count, others = 0;

    if (!geometry) {
        roof_problem(arena, roof, PROBLEM_NO_GEOMETRY, "roof left out",
                     "the feature has no geometry%s%s", why[0] ? ": " : "", why);
        return OUTLAY_OK;
    }
    if (OGR_G_HasCurveGeometry(geometry, TRUE)) {
        linear = OGR_G_GetLinearGeometry(geometry, 0, NULL);
        if (!linear)
            return outlay_fail(err, OUTLAY_E_MEMORY, "turning curves into chords");
        geometry = linear;
    }
    count = count_polygons(geometry, 0, &others);
    if (count == 0) {
        tell_missing(arena, roof, geometry, others, types);
        goto done;
    }
    roof->lonlat.polygons = arena_array(arena, count, sizeof *roof->lonlat.polygons);
    if (!roof->lonlat.polygons || !copy_polygons(arena, geometry, 0, &roof->lonlat)) {
        roof->lonlat = (struct region){0};
        status = outlay_fail(err, OUTLAY_E_MEMORY, "reading an outline");
        goto done;
    }
    if (others)
        outline_tell_others(arena, roof, others);

done:
    if (linear)
        OGR_G_DestroyGeometry(linear);
    return status;
}
