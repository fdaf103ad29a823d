#include "read/outline.h"

#include <math.h>
#include <string.h>

enum { depth_limit = 32 }; /* as in outline_ogr.c */

static struct json_object *member(struct json_object *object, const char *name)
{
    struct json_object *value = NULL;

    if (json_object_is_type(object, json_type_object))
        json_object_object_get_ex(object, name, &value);
    return value;
}

static const char *type_of(struct json_object *geometry)
{
    struct json_object *type = member(geometry, "type");

    return json_object_is_type(type, json_type_string) ? json_object_get_string(type)
                                                       : "";
}

/* Length of an array; 0 for anything else. */
static size_t length_of(struct json_object *array)
{
    return json_object_is_type(array, json_type_array) ? json_object_array_length(array)
                                                       : 0;
}

static size_t count_polygons(struct json_object *geometry, int depth, size_t *others)
{
    struct json_object *coordinates = member(geometry, "coordinates");
    const char *type = type_of(geometry);
    struct json_object *parts;
    size_t found = 0;

    if (strcmp(type, "Polygon") == 0)
        return length_of(coordinates) > 0;
    if (strcmp(type, "MultiPolygon") == 0) {
        for (size_t i = 0; i < length_of(coordinates); i++)
            found += length_of(json_object_array_get_idx(coordinates, i)) > 0;
        return found;
    }
    if (strcmp(type, "GeometryCollection") != 0 || depth == depth_limit) {
        ++*others;
        return 0;
    }
    parts = member(geometry, "geometries");
    for (size_t i = 0; i < length_of(parts); i++)
        found += count_polygons(json_object_array_get_idx(parts, i), depth + 1, others);
    return found;
}

static double number_of(struct json_object *value)
{
    switch (json_object_get_type(value)) {
    case json_type_double:
    case json_type_int:
        return json_object_get_double(value);
    default:
        return (double)NAN;
    }
}

static bool copy_ring(struct arena *arena, struct json_object *source, struct ring *ring)
{
    size_t count = length_of(source);

    ring->points = arena_array(arena, count, sizeof *ring->points);
    if (!ring->points)
        return false;
    ring->count = count;
    for (size_t i = 0; i < count; i++) {
        struct json_object *position = json_object_array_get_idx(source, i);
        bool pair = length_of(position) >= 2;

        ring->points[i].x =
            pair ? number_of(json_object_array_get_idx(position, 0)) : (double)NAN;
        ring->points[i].y =
            pair ? number_of(json_object_array_get_idx(position, 1)) : (double)NAN;
    }
    return true;
}

static bool copy_polygon(struct arena *arena, struct json_object *rings,
                         struct region *region)
{
    size_t count = length_of(rings);
    struct polygon *polygon;

    if (count == 0)
        return true;
    polygon = &region->polygons[region->polygon_count++];
    polygon->rings = arena_array(arena, count, sizeof *polygon->rings);
    if (!polygon->rings)
        return false;
    polygon->ring_count = count;
    for (size_t i = 0; i < count; i++)
        if (!copy_ring(arena, json_object_array_get_idx(rings, i), &polygon->rings[i]))
            return false;
    return true;
}

static bool copy_polygons(struct arena *arena, struct json_object *geometry, int depth,
                          struct region *region)
{
    struct json_object *coordinates = member(geometry, "coordinates");
    const char *type = type_of(geometry);
    struct json_object *parts;

    if (strcmp(type, "Polygon") == 0)
        return copy_polygon(arena, coordinates, region);
    if (strcmp(type, "MultiPolygon") == 0) {
        for (size_t i = 0; i < length_of(coordinates); i++)
            if (!copy_polygon(arena, json_object_array_get_idx(coordinates, i), region))
                return false;
        return true;
    }
    if (strcmp(type, "GeometryCollection") != 0 || depth == depth_limit)
        return true;
    parts = member(geometry, "geometries");
    for (size_t i = 0; i < length_of(parts); i++)
        if (!copy_polygons(arena, json_object_array_get_idx(parts, i), depth + 1, region))
            return false;
    return true;
}

enum outlay_status outline_from_json(struct arena *arena, struct roof *roof,
                                     struct json_object *geometry,
                                     struct outline_others *types,
                                     struct outlay_error *err)
{
    size_t count, others = 0;

    if (!geometry) {
        roof_problem(arena, roof, PROBLEM_NO_GEOMETRY, "roof left out",
                     "the feature has no geometry");
        return OUTLAY_OK;
    }
    count = count_polygons(geometry, 0, &others);
    if (count == 0) {
        if (others)
            outline_refuse_type(arena, roof, type_of(geometry), types);
        else
            roof_problem(arena, roof, PROBLEM_NO_GEOMETRY, "roof left out",
                         "the geometry is empty");
        return OUTLAY_OK;
    }
    roof->lonlat.polygons = arena_array(arena, count, sizeof *roof->lonlat.polygons);
    if (!roof->lonlat.polygons || !copy_polygons(arena, geometry, 0, &roof->lonlat)) {
        roof->lonlat = (struct region){0};
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading an outline");
    }
    if (others)
        outline_tell_others(arena, roof, others);
    return OUTLAY_OK;
}
