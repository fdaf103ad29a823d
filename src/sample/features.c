#include "sample/features.h"

#include <stdlib.h>
#include <string.h>

#include <cpl_conv.h>
#include <cpl_quad_tree.h>
#include <ogr_api.h>

#include "base/grow.h"
#include "base/number.h"
#include "read/side_layer.h"

/* A value that covers less of an outline than this is doubtful (ours). */
#define COVER_LEAST 0.5

struct item {
    OGRGeometryH geometry; /* owned; degrees */
    OGREnvelope box;
    struct value value;
};

struct features {
    struct item *items; /* owned, as the next; they don't move once indexed */
    size_t count, capacity;
    size_t points;
    size_t lines; /* items that are lines */
    struct arena *texts;
    CPLQuadTree *tree;
    struct gdal_log log;
};

/* ---- Reading ------------------------------------------------------------------- */

/* Keeps a feature that has a place and a value. */
static enum outlay_status keep(struct features *features, OGRFeatureH feature, int column,
                               const struct side_layer *side, struct outlay_error *err)
{
    struct item item = {.value = side_layer_value(features->texts, feature, column)};
    OGRGeometryH geometry = OGR_F_GetGeometryRef(feature);
    struct item *grown;

    if (!geometry || OGR_G_IsEmpty(geometry) || item.value.kind == VALUE_NULL ||
        OGR_G_Transform(geometry, side->to_lonlat) != OGRERR_NONE)
        return OUTLAY_OK;
    features->points += side_layer_points(geometry);
    grown = grow(features->items, features->count, 1, &features->capacity, sizeof item);
    if (!grown)
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping a layer");
    features->items = grown;
    item.geometry = OGR_F_StealGeometry(feature);
    OGR_G_GetEnvelope(item.geometry, &item.box);
    features->lines += OGR_G_GetDimension(item.geometry) == 1;
    features->items[features->count++] = item;
    return OUTLAY_OK;
}

static enum outlay_status read_items(struct features *features,
                                     const struct side_layer *side, int column,
                                     struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    OGRFeatureH feature;

    while (status == OUTLAY_OK && features->points <= SIDE_POINTS_MAX &&
           (feature = OGR_L_GetNextFeature(side->layer)) != NULL) {
        status = keep(features, feature, column, side, err);
        OGR_F_Destroy(feature);
    }
    if (status == OUTLAY_OK)
        status = side_layer_check(side, features->points, err);
    if (status == OUTLAY_OK && features->count == 0)
        return side_layer_refuse(side, OUTLAY_E_INPUT,
                                 "no feature has a place and a value",
                                 "check layer and column", err);
    return status;
}

static void item_box(const void *item, CPLRectObj *out)
{
    const OGREnvelope *box = &((const struct item *)item)->box;

    *out = (CPLRectObj){box->MinX, box->MinY, box->MaxX, box->MaxY};
}

static enum outlay_status index_items(struct features *features, struct outlay_error *err)
{
    const CPLRectObj all = {-180, -90, 180, 90};

    features->tree = CPLQuadTreeCreate(&all, item_box);
    if (!features->tree || arena_failed(features->texts))
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping a layer");
    for (size_t i = 0; i < features->count; i++)
        CPLQuadTreeInsert(features->tree, &features->items[i]);
    return OUTLAY_OK;
}

static enum outlay_status read_all(struct features *features, const char *path,
                                   const char *column, struct outlay_error *err)
{
    struct side_layer side;
    enum outlay_status status = side_layer_open(path, &features->log, &side, err);
    int index =
        status == OUTLAY_OK ? OGR_L_FindFieldIndex(side.layer, column, FALSE) : -1;

    if (status == OUTLAY_OK && index < 0) {
        outlay_fail(err, OUTLAY_E_USAGE, "the layer has no column \"%.80s\"", column);
        outlay_fail_where(err, "%s", path);
        outlay_fail_todo(err, "`ogrinfo -so FILE LAYER` lists its columns");
        status = OUTLAY_E_USAGE;
    }
    if (status == OUTLAY_OK)
        status = read_items(features, &side, index, err);
    if (status == OUTLAY_OK)
        status = index_items(features, err);
    side_layer_close(&side);
    return status;
}

enum outlay_status features_open(const char *path, const char *column,
                                 struct features **out, struct outlay_error *err)
{
    struct features *features = calloc(1, sizeof *features);
    enum outlay_status status = OUTLAY_OK;

    *out = NULL;
    if (!features)
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening a layer");
    features->texts = arena_new();
    gdal_log_begin(&features->log);
    status = features->texts ? read_all(features, path, column, err)
                             : outlay_fail(err, OUTLAY_E_MEMORY, "opening a layer");
    gdal_log_end();
    if (status == OUTLAY_OK)
        *out = features;
    else
        features_close(features);
    return status;
}

void features_close(struct features *features)
{
    if (!features)
        return;
    if (features->tree)
        CPLQuadTreeDestroy(features->tree);
    for (size_t i = 0; i < features->count; i++)
        OGR_G_DestroyGeometry(features->items[i].geometry);
    free(features->items);
    arena_free(features->texts);
    free(features);
}

/* ---- Values -------------------------------------------------------------------- */

static bool number_of(const struct value *value, double *out)
{
    *out = value->kind == VALUE_WHOLE ? (double)value->whole : value->real;
    return value->kind == VALUE_TEXT ? number_parse(value->text, out)
                                     : isfinite(*out) != 0;
}

static bool same_value(const struct value *a, const struct value *b)
{
    if (a->kind != b->kind)
        return false;
    if (a->kind == VALUE_TEXT)
        return strcmp(a->text, b->text) == 0;
    return a->kind == VALUE_WHOLE ? a->whole == b->whole : a->real == b->real;
}

/* ---- Polygons and points ------------------------------------------------------- */

/* The outline as GDAL has it, made sound. NULL when out of memory. Destroyed by the
 * caller. */
static OGRGeometryH geometry_of(const struct region *outline)
{
    OGRGeometryH all = OGR_G_CreateGeometry(wkbMultiPolygon);

    for (size_t i = 0; i < outline->polygon_count; i++) {
        OGRGeometryH polygon = OGR_G_CreateGeometry(wkbPolygon);

        for (size_t j = 0; j < outline->polygons[i].ring_count; j++) {
            struct ring from = outline->polygons[i].rings[j];
            OGRGeometryH ring = OGR_G_CreateGeometry(wkbLinearRing);

            for (size_t k = 0; k <= from.count; k++)
                OGR_G_AddPoint_2D(ring, from.points[k % from.count].x,
                                  from.points[k % from.count].y);
            OGR_G_AddGeometryDirectly(polygon, ring);
        }
        OGR_G_AddGeometryDirectly(all, polygon);
    }
    if (OGR_G_IsValid(all))
        return all;
    OGRGeometryH sound = OGR_G_MakeValid(all);

    OGR_G_DestroyGeometry(all);
    return sound;
}

/* How much of the outline an item has: an area in degrees, or 1 for a point in it. */
static double weight_of(const struct item *item, OGRGeometryH outline)
{
    if (OGR_G_GetDimension(item->geometry) == 0)
        return OGR_G_Intersects(outline, item->geometry) ? 1 : 0;
    OGRGeometryH common = OGR_G_Intersection(outline, item->geometry);
    double area = common ? OGR_G_Area(common) : 0;

    OGR_G_DestroyGeometry(common);
    return area;
}

struct tally {
    const struct item *first; /* of the items with one value */
    double weight;
    size_t count;
};

/* Adds an item to the tally of its value. */
static void tally_add(struct tally *tallies, size_t *count, const struct item *item,
                      double weight)
{
    size_t at = 0;

    while (at < *count && !same_value(&tallies[at].first->value, &item->value))
        at++;
    if (at == *count)
        tallies[(*count)++] = (struct tally){.first = item};
    tallies[at].first = item < tallies[at].first ? item : tallies[at].first;
    tallies[at].weight += weight;
    tallies[at].count++;
}

/* The weightiest; of equals the one that comes first in the layer. */
static const struct tally *weightiest(const struct tally *tallies, size_t count)
{
    const struct tally *best = tallies;

    for (size_t i = 1; i < count; i++)
        if (tallies[i].weight > best->weight ||
            (tallies[i].weight == best->weight && tallies[i].first < best->first))
            best = &tallies[i];
    return best;
}

static double range_of(const struct tally *tallies, size_t count)
{
    double least = INFINITY, most = -INFINITY, number;

    for (size_t i = 0; i < count; i++) {
        if (!number_of(&tallies[i].first->value, &number))
            return NAN;
        least = fmin(least, number);
        most = fmax(most, number);
    }
    return most - least;
}

static void conclude(const struct tally *tallies, size_t count, double area,
                     struct finding *out)
{
    if (count == 0)
        return;
    const struct tally *best = weightiest(tallies, count);
    bool points = OGR_G_GetDimension(best->first->geometry) == 0;

    *out = (struct finding){.found = true,
                            .value = best->first->value,
                            .count = best->count,
                            .spread = range_of(tallies, count),
                            .how = points ? "points inside" : "largest overlap"};
    if (points && count > 1)
        out->weak = "points inside say different values";
    if (!points && best->weight < COVER_LEAST * area)
        out->weak = "it covers less than half of the outline";
}

static enum outlay_status overlay(struct features *features, const struct region *outline,
                                  struct finding *out, struct outlay_error *err)
{
    struct box box = region_box(outline);
    const CPLRectObj rect = {box.min_x, box.min_y, box.max_x, box.max_y};
    OGRGeometryH geometry = geometry_of(outline);
    int near = 0;
    void **items = CPLQuadTreeSearch(features->tree, &rect, &near);
    struct tally *tallies = calloc((size_t)near + 1, sizeof *tallies);
    size_t count = 0;

    for (int i = 0; geometry && tallies && i < near; i++) {
        const struct item *item = items[i];
        double weight =
            OGR_G_GetDimension(item->geometry) == 1 ? 0 : weight_of(item, geometry);

        if (weight > 0)
            tally_add(tallies, &count, item, weight);
    }
    if (geometry && tallies)
        conclude(tallies, count, OGR_G_Area(geometry), out);
    free(tallies);
    CPLFree(items);
    OGR_G_DestroyGeometry(geometry);
    return geometry && tallies ? OUTLAY_OK
                               : outlay_fail(err, OUTLAY_E_MEMORY, "comparing outlines");
}

/* ---- Contour lines ------------------------------------------------------------- */

/* The nearest place of a line, from the outline's middle, in degrees of latitude. */
struct near {
    double distance;
    struct point to;
    double number;
};

static struct point nearest_of_edge(struct point a, struct point b)
{
    struct point along = {b.x - a.x, b.y - a.y};
    double length2 = along.x * along.x + along.y * along.y;
    double share = length2 > 0 ? -(a.x * along.x + a.y * along.y) / length2 : 0;

    share = fmin(fmax(share, 0), 1);
    return (struct point){a.x + share * along.x, a.y + share * along.y};
}

/* Looks for a nearer place along a line or its parts. */
static void look_along(OGRGeometryH line, struct point middle, double scale,
                       struct near *best)
{
    struct point before = {0, 0};

    for (int i = 0; i < OGR_G_GetGeometryCount(line); i++)
        look_along(OGR_G_GetGeometryRef(line, i), middle, scale, best);
    for (int i = 0; i < OGR_G_GetPointCount(line); i++) {
        struct point at = {(OGR_G_GetX(line, i) - middle.x) * scale,
                           OGR_G_GetY(line, i) - middle.y};
        struct point near = nearest_of_edge(i ? before : at, at);
        double distance = hypot(near.x, near.y);

        if (distance < best->distance) {
            best->distance = distance;
            best->to = near;
        }
        before = at;
    }
}

/* No place of a box is nearer than this. */
static double box_distance(const OGREnvelope *box, struct point middle, double scale)
{
    double x = fmax(fmax(box->MinX - middle.x, middle.x - box->MaxX), 0) * scale;
    double y = fmax(fmax(box->MinY - middle.y, middle.y - box->MaxY), 0);

    return hypot(x, y);
}

/* Puts a line among the two nearest of different numbers. */
static void rank_line(struct near nearest[2], struct near line)
{
    if (line.number == nearest[0].number) {
        if (line.distance < nearest[0].distance)
            nearest[0] = line;
    } else if (line.distance < nearest[0].distance) {
        nearest[1] = nearest[0];
        nearest[0] = line;
    } else if (line.distance < nearest[1].distance) {
        nearest[1] = line;
    }
}

static void contour(const struct features *features, const struct region *outline,
                    struct finding *out)
{
    struct near nearest[2] = {{INFINITY, {0, 0}, NAN}, {INFINITY, {0, 0}, NAN}};
    struct box box = region_box(outline);
    struct point middle = {(box.min_x + box.max_x) / 2, (box.min_y + box.max_y) / 2};
    double scale = cos(middle.y * 3.14159265358979323846 / 180);

    for (size_t i = 0; i < features->count; i++) {
        const struct item *item = &features->items[i];
        struct near line = {INFINITY, {0, 0}, NAN};

        if (OGR_G_GetDimension(item->geometry) != 1 ||
            !number_of(&item->value, &line.number) ||
            box_distance(&item->box, middle, scale) >= nearest[1].distance)
            continue;
        look_along(item->geometry, middle, scale, &line);
        rank_line(nearest, line);
    }
    if (!isfinite(nearest[0].distance))
        return;
    bool between =
        isfinite(nearest[1].distance) &&
        nearest[0].to.x * nearest[1].to.x + nearest[0].to.y * nearest[1].to.y <= 0;
    double total = nearest[0].distance + nearest[1].distance;
    double share = between && total > 0 ? nearest[0].distance / total : 0;
    double change = between ? nearest[1].number - nearest[0].number : 0;

    *out = (struct finding){
        .found = true,
        .value = {.kind = VALUE_REAL, .real = nearest[0].number + share * change},
        .count = between ? 2 : 1,
        .spread = fabs(change),
        .how = between ? "between two lines (rule from memory)" : "last line",
        .weak = between ? NULL : "it isn't between two lines: the nearest line's value"};
}

enum outlay_status features_at(struct features *features, const struct region *outline,
                               struct finding *out, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    *out = (struct finding){.spread = NAN};
    gdal_log_begin(&features->log);
    if (features->lines < features->count)
        status = overlay(features, outline, out, err);
    if (status == OUTLAY_OK && !out->found && features->lines)
        contour(features, outline, out);
    gdal_log_end();
    return status;
}
