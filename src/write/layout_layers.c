#include "write/layout_layers.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cpl_error.h>
#include <cpl_string.h>

#include "roof/edges.h"
#include "roof/fixtures.h"
#include "roof/taper.h"
#include "write/columns.h"
#include "write/roll_ends.h"

static const char short_caution[] = "planning figures, not a design";

/* A field: its name, to which the unit of its measure is added. */
struct field {
    const char *name;
    OGRFieldType type;
    enum measure measure;
};

enum { FIELDS_MAX = 12 };

struct layer_kind {
    const char *name;
    OGRwkbGeometryType geometry;
    struct field fields[FIELDS_MAX];
};

static const struct layer_kind kinds[LAYOUT_LAYERS] = {
    [LAYER_OUTLINE] = {"outline",
                       wkbMultiPolygon,
                       {{"roof_id", OFTString, MEASURE_NONE},
                        {"name", OFTString, MEASURE_NONE},
                        {"method", OFTString, MEASURE_NONE},
                        {"assembly", OFTString, MEASURE_NONE},
                        {"state", OFTString, MEASURE_NONE},
                        {"bearing_deg", OFTReal, MEASURE_NONE},
                        {"bearing_reason", OFTString, MEASURE_NONE},
                        {"area", OFTReal, MEASURE_AREA},
                        {"caution", OFTString, MEASURE_NONE},
                        {"unboarded", OFTReal, MEASURE_AREA}}},
    [LAYER_ZONES] = {"zones",
                     wkbMultiPolygon,
                     {{"roof_id", OFTString, MEASURE_NONE},
                      {"zone", OFTString, MEASURE_NONE},
                      {"state", OFTString, MEASURE_NONE},
                      {"reason", OFTString, MEASURE_NONE},
                      {"area", OFTReal, MEASURE_AREA}}},
    [LAYER_EDGES] = {"edges",
                     wkbLineString,
                     {{"roof_id", OFTString, MEASURE_NONE},
                      {"kind", OFTString, MEASURE_NONE},
                      {"length", OFTReal, MEASURE_LENGTH},
                      {"height", OFTReal, MEASURE_LENGTH},
                      {"thickness", OFTReal, MEASURE_SMALL},
                      {"source", OFTString, MEASURE_NONE}}},
    [LAYER_SHEETS] = {"sheets",
                      wkbMultiPolygon,
                      {{"roof_id", OFTString, MEASURE_NONE},
                       {"method", OFTString, MEASURE_NONE},
                       {"kind", OFTString, MEASURE_NONE},
                       {"width", OFTReal, MEASURE_LENGTH},
                       {"length", OFTReal, MEASURE_LENGTH},
                       {"area", OFTReal, MEASURE_AREA},
                       {"sheet", OFTInteger, MEASURE_NONE},
                       {"laid_width", OFTReal, MEASURE_LENGTH}}},
    [LAYER_BOARDS] = {"boards",
                      wkbMultiPolygon,
                      {{"roof_id", OFTString, MEASURE_NONE},
                       {"method", OFTString, MEASURE_NONE},
                       {"zone", OFTString, MEASURE_NONE},
                       {"whole", OFTInteger, MEASURE_NONE},
                       {"fasteners", OFTInteger, MEASURE_NONE},
                       {"area", OFTReal, MEASURE_AREA}}},
    [LAYER_ROWS] = {"rows",
                    wkbLineString,
                    {{"roof_id", OFTString, MEASURE_NONE},
                     {"method", OFTString, MEASURE_NONE},
                     {"row", OFTInteger64, MEASURE_NONE},
                     {"kind", OFTString, MEASURE_NONE},
                     {"zone", OFTString, MEASURE_NONE},
                     {"spacing", OFTReal, MEASURE_SMALL},
                     {"fasteners", OFTInteger, MEASURE_NONE},
                     {"tributary", OFTReal, MEASURE_LENGTH}}},
    [LAYER_PLATES] = {"plates",
                      wkbPoint,
                      {{"roof_id", OFTString, MEASURE_NONE},
                       {"method", OFTString, MEASURE_NONE},
                       {"zone", OFTString, MEASURE_NONE},
                       {"of", OFTInteger64, MEASURE_NONE}}},
    [LAYER_INSULATION_PLATES] = {"insulation_plates",
                                 wkbMultiPoint,
                                 {{"roof_id", OFTString, MEASURE_NONE},
                                  {"method", OFTString, MEASURE_NONE},
                                  {"zone", OFTString, MEASURE_NONE},
                                  {"of", OFTInteger64, MEASURE_NONE},
                                  {"plates", OFTInteger, MEASURE_NONE}}},
    [LAYER_ROLL_ENDS] = {"roll_ends",
                         wkbLineString,
                         {{"roof_id", OFTString, MEASURE_NONE},
                          {"method", OFTString, MEASURE_NONE},
                          {"sheet", OFTInteger, MEASURE_NONE},
                          {"part", OFTInteger, MEASURE_NONE},
                          {"roll", OFTInteger, MEASURE_NONE},
                          {"next_roll", OFTInteger, MEASURE_NONE},
                          {"at", OFTReal, MEASURE_LENGTH},
                          {"lap", OFTReal, MEASURE_SMALL},
                          {"cut_by", OFTString, MEASURE_NONE}}},
    [LAYER_FIXTURES] = {"fixtures",
                        wkbPoint,
                        {{"roof_id", OFTString, MEASURE_NONE},
                         {"id", OFTString, MEASURE_NONE},
                         {"kind", OFTString, MEASURE_NONE},
                         {"width", OFTReal, MEASURE_LENGTH},
                         {"length", OFTReal, MEASURE_LENGTH},
                         {"height", OFTReal, MEASURE_SMALL},
                         {"seam_near", OFTInteger, MEASURE_NONE}}},
    [LAYER_FOOTPRINTS] = {"footprints",
                          wkbMultiPolygon,
                          {{"roof_id", OFTString, MEASURE_NONE},
                           {"id", OFTString, MEASURE_NONE},
                           {"kind", OFTString, MEASURE_NONE}}},
    [LAYER_WALKWAYS] = {"walkways",
                        wkbLineString,
                        {{"roof_id", OFTString, MEASURE_NONE},
                         {"length", OFTReal, MEASURE_LENGTH}}},
    [LAYER_TAPER] = {"taper",
                     wkbLineString,
                     {{"roof_id", OFTString, MEASURE_NONE},
                      {"thickness", OFTReal, MEASURE_SMALL}}},
};

const char *layout_layer_name(enum layout_layer layer)
{
    return kinds[layer].name;
}

/* For whoever asks GDAL why it failed. */
static void lose(void)
{
    CPLError(CE_Failure, CPLE_OutOfMemory, "out of memory");
}

static bool add_field(OGRLayerH layer, const struct field *field,
                      const struct write_settings *set)
{
    struct text name = TEXT_INIT;
    OGRFieldDefnH made = NULL;
    bool added = false;

    text_puts(&name, field->name);
    if (field->measure != MEASURE_NONE)
        text_printf(&name, "_%s", measure_suffix(field->measure, set->units));
    if (!name.failed) {
        made = OGR_Fld_Create(name.data, field->type);
        added = OGR_L_CreateField(layer, made, TRUE) == OGRERR_NONE;
        OGR_Fld_Destroy(made);
    } else {
        lose();
    }
    text_release(&name);
    return added;
}

OGRLayerH layout_layer_make(GDALDatasetH dataset, enum layout_layer layer,
                            OGRSpatialReferenceH crs, const struct write_settings *set)
{
    const struct layer_kind *kind = &kinds[layer];
    struct text caution = TEXT_INIT;
    char **options = NULL;
    OGRLayerH made = NULL;

    caution_print(&caution, set->catalog_built_in);
    if (caution.failed) {
        lose();
    } else {
        options = CSLSetNameValue(options, "DESCRIPTION", caution.data);
        made = GDALDatasetCreateLayer(dataset, kind->name, crs, kind->geometry, options);
    }
    CSLDestroy(options);
    text_release(&caution);
    for (int i = 0; made && i < FIELDS_MAX && kind->fields[i].name; i++)
        if (!add_field(made, &kind->fields[i], set))
            return NULL;
    return made;
}

/* ---- Geometry ---- */

static bool make_room(struct layout_pen *pen, size_t count)
{
    double *xs = NULL;
    double *ys = NULL;

    if (count <= pen->room)
        return true;
    xs = realloc(pen->xs, count * sizeof *xs);
    pen->xs = xs ? xs : pen->xs;
    ys = realloc(pen->ys, count * sizeof *ys);
    pen->ys = ys ? ys : pen->ys;
    if (!xs || !ys) {
        lose();
        return false;
    }
    pen->room = count;
    return true;
}

/* Points of the frame to UTM, in pen->xs and ys. */
static bool transform(struct layout_pen *pen, const struct point *points, size_t count)
{
    if (!make_room(pen, count))
        return false;
    for (size_t i = 0; i < count; i++) {
        struct point point = points[i];

        frame_to_lonlat(pen->frame, &point, 1);
        pen->xs[i] = point.x;
        pen->ys[i] = point.y;
    }
    return OCTTransform(pen->to_utm, (int)count, pen->xs, pen->ys, NULL) == TRUE;
}

static bool add_ring(struct layout_pen *pen, OGRGeometryH polygon, struct ring ring)
{
    OGRGeometryH made = NULL;

    if (!transform(pen, ring.points, ring.count))
        return false;
    made = OGR_G_CreateGeometry(wkbLinearRing);
    for (size_t i = 0; i < ring.count; i++)
        OGR_G_AddPoint_2D(made, pen->xs[i], pen->ys[i]);
    OGR_G_CloseRings(made);
    return OGR_G_AddGeometryDirectly(polygon, made) == OGRERR_NONE;
}

/* Rounding to UTM may fold a spike of a shape over: such a shape is made valid without
 * it. Takes the geometry; NULL on failure. */
static OGRGeometryH unfold(OGRGeometryH made)
{
    char method[] = "METHOD=STRUCTURE";
    char keep[] = "KEEP_COLLAPSED=NO";
    char *options[] = {method, keep, NULL};
    OGRGeometryH valid = NULL;

    if (OGR_G_IsValid(made))
        return made;
    valid = OGR_G_MakeValidEx(made, options);
    OGR_G_DestroyGeometry(made);
    return valid ? OGR_G_ForceToMultiPolygon(valid) : NULL;
}

/* Owned by the caller; NULL on failure. */
static OGRGeometryH make_region(struct layout_pen *pen, const struct region *region)
{
    OGRGeometryH made = OGR_G_CreateGeometry(wkbMultiPolygon);
    bool done = true;

    for (size_t i = 0; done && i < region->polygon_count; i++) {
        OGRGeometryH polygon = OGR_G_CreateGeometry(wkbPolygon);

        for (size_t r = 0; done && r < region->polygons[i].ring_count; r++)
            done = add_ring(pen, polygon, region->polygons[i].rings[r]);
        OGR_G_AddGeometryDirectly(made, polygon);
    }
    if (done) /* of four points, as most boards are, none can fold over */
        return region_points(region) > 4 ? unfold(made) : made;
    OGR_G_DestroyGeometry(made);
    return NULL;
}

static OGRGeometryH make_line(struct layout_pen *pen, struct point from, struct point to)
{
    const struct point ends[] = {from, to};
    OGRGeometryH made = NULL;

    if (!transform(pen, ends, 2))
        return NULL;
    made = OGR_G_CreateGeometry(wkbLineString);
    OGR_G_AddPoint_2D(made, pen->xs[0], pen->ys[0]);
    OGR_G_AddPoint_2D(made, pen->xs[1], pen->ys[1]);
    return made;
}

/* ---- Features ---- */

static OGRFeatureH start(const struct layout_pen *pen, enum layout_layer layer)
{
    OGRFeatureH feature = OGR_F_Create(OGR_L_GetLayerDefn(pen->layers[layer]));

    OGR_F_SetFieldString(feature, 0, pen->roof->id);
    return feature;
}

static void set_text(OGRFeatureH feature, int field, const char *text)
{
    if (text)
        OGR_F_SetFieldString(feature, field, text);
}

static void set_measure(const struct layout_pen *pen, OGRFeatureH feature, int field,
                        double value, enum measure measure)
{
    value /= measure_factor(measure, pen->set->units);
    if (isfinite(value))
        OGR_F_SetFieldDouble(feature, field, round(value * 1000) / 1000);
}

/* Takes feature and geometry. */
static bool put(const struct layout_pen *pen, enum layout_layer layer,
                OGRFeatureH feature, OGRGeometryH geometry)
{
    bool added = geometry != NULL;

    if (geometry)
        OGR_F_SetGeometryDirectly(feature, geometry);
    if (added)
        added = OGR_L_CreateFeature(pen->layers[layer], feature) == OGRERR_NONE;
    OGR_F_Destroy(feature);
    return added;
}

static bool add_edge(struct layout_pen *pen, const struct edge *edge)
{
    OGRFeatureH feature = start(pen, LAYER_EDGES);

    set_text(feature, 1, edge_kind_name((int)edge->kind));
    set_measure(pen, feature, 2, point_distance(edge->from, edge->to), MEASURE_LENGTH);
    set_measure(pen, feature, 3, edge->height, MEASURE_LENGTH);
    set_measure(pen, feature, 4, edge->thickness, MEASURE_SMALL);
    set_text(feature, 5, edge_source_name((int)edge->source));
    return put(pen, LAYER_EDGES, feature, make_line(pen, edge->from, edge->to));
}

static OGRGeometryH make_point(struct layout_pen *pen, struct point at)
{
    OGRGeometryH geometry = NULL;

    if (!transform(pen, &at, 1))
        return NULL;
    geometry = OGR_G_CreateGeometry(wkbPoint);
    OGR_G_AddPoint_2D(geometry, pen->xs[0], pen->ys[0]);
    return geometry;
}

static bool add_fixture(struct layout_pen *pen, const struct fixture *fixture)
{
    struct ring footprint = fixture->footprint;
    struct polygon polygon = {&footprint, 1};
    const struct region region = {&polygon, 1};
    OGRFeatureH feature = start(pen, LAYER_FIXTURES);

    set_text(feature, 1, fixture->id);
    set_text(feature, 2, fixture_kind_name((int)fixture->kind));
    set_measure(pen, feature, 3, fixture->width, MEASURE_LENGTH);
    set_measure(pen, feature, 4, fixture->length, MEASURE_LENGTH);
    set_measure(pen, feature, 5, fixture->height, MEASURE_SMALL);
    OGR_F_SetFieldInteger(feature, 6, fixture->crowded);
    if (!put(pen, LAYER_FIXTURES, feature, make_point(pen, fixture->at)))
        return false;
    if (footprint.count == 0)
        return true;
    feature = start(pen, LAYER_FOOTPRINTS);
    set_text(feature, 1, fixture->id);
    set_text(feature, 2, fixture_kind_name((int)fixture->kind));
    return put(pen, LAYER_FOOTPRINTS, feature, make_region(pen, &region));
}

/* What stands on the roof, and the ways between. */
static bool add_fixtures(struct layout_pen *pen)
{
    for (size_t i = 0; i < pen->roof->fixture_count; i++)
        if (!add_fixture(pen, &pen->roof->fixtures[i]))
            return false;
    for (size_t i = 0; i < pen->roof->walkway_count; i++) {
        const struct walkway *walkway = &pen->roof->walkways[i];
        OGRFeatureH feature = start(pen, LAYER_WALKWAYS);

        set_measure(pen, feature, 1, point_distance(walkway->from, walkway->to),
                    MEASURE_LENGTH);
        if (!put(pen, LAYER_WALKWAYS, feature,
                 make_line(pen, walkway->from, walkway->to)))
            return false;
    }
    return true;
}

static bool add_contours(struct layout_pen *pen)
{
    const struct taper *taper = pen->roof->taper;

    for (size_t i = 0; taper && i < taper->contour_count; i++) {
        OGRFeatureH feature = start(pen, LAYER_TAPER);
        const struct taper_contour *contour = &taper->contours[i];

        set_measure(pen, feature, 1, contour->thickness, MEASURE_SMALL);
        if (!put(pen, LAYER_TAPER, feature, make_line(pen, contour->from, contour->to)))
            return false;
    }
    return true;
}

bool layout_outline_add(struct layout_pen *pen)
{
    const struct roof *roof = pen->roof;
    const struct layout *layout = &roof->layouts[0];
    OGRFeatureH feature = start(pen, LAYER_OUTLINE);
    /* 90 - counter-clockwise from east is clockwise from north */
    double bearing = fmod(450 - layout->bearing * 180 / acos(-1), 360);

    set_text(feature, 1, roof->name);
    set_text(feature, 2, method_name((int)layout->method));
    set_text(feature, 3, layout->assembly);
    set_text(feature, 4, zone_state_name((int)roof->state));
    set_measure(pen, feature, 5, bearing, MEASURE_NONE);
    set_text(feature, 6, layout->bearing_reason);
    set_measure(pen, feature, 7, roof->area, MEASURE_AREA);
    set_text(feature, 8, short_caution);
    set_measure(pen, feature, 9, layout->unboarded, MEASURE_AREA);
    if (!put(pen, LAYER_OUTLINE, feature, make_region(pen, &roof->outline)))
        return false;
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone *zone = &roof->zones[i];

        feature = start(pen, LAYER_ZONES);
        set_text(feature, 1, zone_role_name((int)zone->role));
        set_text(feature, 2, zone_state_name((int)zone->attachment.state));
        set_text(feature, 3, zone->attachment.reason);
        set_measure(pen, feature, 4, zone->area, MEASURE_AREA);
        if (!put(pen, LAYER_ZONES, feature, make_region(pen, &zone->region)))
            return false;
    }
    for (size_t k = 0; k < roof->edge_count; k++)
        if (!add_edge(pen, &roof->edges[k]))
            return false;
    return add_fixtures(pen) && add_contours(pen);
}

static bool add_sheet(struct layout_pen *pen, const char *method,
                      const struct sheet *sheet)
{
    static const char *const names[] = {"full", "half", "cover strip"};
    OGRFeatureH feature = start(pen, LAYER_SHEETS);

    set_text(feature, 1, method);
    set_text(feature, 2, names[sheet->kind]);
    set_measure(pen, feature, 3, sheet->width, MEASURE_LENGTH);
    set_measure(pen, feature, 4, sheet->length, MEASURE_LENGTH);
    set_measure(pen, feature, 5, sheet->area, MEASURE_AREA);
    if (sheet->number > 0)
        OGR_F_SetFieldInteger(feature, 6, sheet->number);
    set_measure(pen, feature, 7, sheet->laid_width, MEASURE_LENGTH);
    return put(pen, LAYER_SHEETS, feature, make_region(pen, &sheet->region));
}

static bool add_board(struct layout_pen *pen, const char *method,
                      const struct board *board)
{
    OGRFeatureH feature = start(pen, LAYER_BOARDS);

    set_text(feature, 1, method);
    set_text(feature, 2, zone_role_name((int)board->zone));
    OGR_F_SetFieldInteger(feature, 3, board->whole);
    OGR_F_SetFieldInteger(feature, 4, board->plates);
    set_measure(pen, feature, 5, board->area, MEASURE_AREA);
    return put(pen, LAYER_BOARDS, feature, make_region(pen, &board->region));
}

/* Cutting rows by zones may leave a piece of no length, which no screw is in and nobody
 * could see. */
static bool is_shred(const struct row_piece *row)
{
    return row->fasteners == 0 && point_distance(row->from, row->to) < 1e-3;
}

static bool add_row(struct layout_pen *pen, const char *method,
                    const struct row_piece *row)
{
    OGRFeatureH feature = start(pen, LAYER_ROWS);

    set_text(feature, 1, method);
    OGR_F_SetFieldInteger64(feature, 2, (GIntBig)row->row);
    set_text(feature, 3,
             row->base           ? "base securement"
             : row->intermediate ? "under a cover strip"
                                 : "in a lap");
    set_text(feature, 4, zone_role_name((int)row->zone));
    set_measure(pen, feature, 5, row->spacing, MEASURE_SMALL);
    OGR_F_SetFieldInteger(feature, 6, row->fasteners);
    set_measure(pen, feature, 7, row->tributary, MEASURE_LENGTH);
    return put(pen, LAYER_ROWS, feature, make_line(pen, row->from, row->to));
}

static bool add_plate(struct layout_pen *pen, const char *method,
                      const struct plate *plate)
{
    OGRFeatureH feature = start(pen, LAYER_PLATES);

    set_text(feature, 1, method);
    set_text(feature, 2, zone_role_name((int)plate->zone));
    OGR_F_SetFieldInteger64(feature, 3, (GIntBig)plate->of);
    return put(pen, LAYER_PLATES, feature, make_point(pen, plate->at));
}

/* The plates of a board are one feature: there are so many that single ones would double
 * the file and the time. */
static bool add_board_plates(struct layout_pen *pen, const char *method,
                             const struct plate *plates, size_t count)
{
    struct point *points = malloc(count * sizeof *points);
    OGRGeometryH geometry = NULL;
    OGRFeatureH feature = NULL;
    bool done = points != NULL;

    if (!points)
        lose();
    for (size_t i = 0; points && i < count; i++)
        points[i] = plates[i].at;
    done = done && transform(pen, points, count);
    free(points);
    if (!done)
        return false;
    geometry = OGR_G_CreateGeometry(wkbMultiPoint);
    for (size_t i = 0; i < count; i++) {
        OGRGeometryH point = OGR_G_CreateGeometry(wkbPoint);

        OGR_G_AddPoint_2D(point, pen->xs[i], pen->ys[i]);
        OGR_G_AddGeometryDirectly(geometry, point);
    }
    feature = start(pen, LAYER_INSULATION_PLATES);
    set_text(feature, 1, method);
    set_text(feature, 2, zone_role_name((int)plates->zone));
    OGR_F_SetFieldInteger64(feature, 3, (GIntBig)plates->of);
    OGR_F_SetFieldInteger(feature, 4, (int)count);
    return put(pen, LAYER_INSULATION_PLATES, feature, geometry);
}

static bool add_all_board_plates(struct layout_pen *pen, const char *method,
                                 const struct layout *layout)
{
    const struct plate *plates = layout->board_plates;
    size_t count = layout->board_plate_count;

    for (size_t i = 0, next; i < count; i = next) {
        next = i + 1;
        while (next < count && plates[next].of == plates[i].of)
            next++;
        if (!add_board_plates(pen, method, &plates[i], next - i))
            return false;
    }
    return true;
}

static bool add_roll_end(void *self, const struct roll_end *end)
{
    struct layout_pen *pen = self;
    OGRFeatureH feature = start(pen, LAYER_ROLL_ENDS);

    set_text(feature, 1, method_name((int)end->method));
    OGR_F_SetFieldInteger(feature, 2, end->sheet);
    OGR_F_SetFieldInteger(feature, 3, end->part);
    OGR_F_SetFieldInteger(feature, 4, end->roll);
    OGR_F_SetFieldInteger(feature, 5, end->next_roll);
    set_measure(pen, feature, 6, end->at, MEASURE_LENGTH);
    set_measure(pen, feature, 7, end->lap, MEASURE_SMALL);
    set_text(feature, 8, end->cut_by);
    return put(pen, LAYER_ROLL_ENDS, feature, make_line(pen, end->from, end->to));
}

bool layout_add(struct layout_pen *pen, const struct layout *layout)
{
    const char *method = method_name((int)layout->method);

    for (size_t i = 0; i < layout->sheet_count; i++)
        if (!add_sheet(pen, method, &layout->sheets[i]))
            return false;
    for (size_t i = 0; i < layout->board_count; i++)
        if (!add_board(pen, method, &layout->boards[i]))
            return false;
    for (size_t i = 0; i < layout->row_count; i++)
        if (!is_shred(&layout->rows[i]) && !add_row(pen, method, &layout->rows[i]))
            return false;
    for (size_t i = 0; i < layout->plate_count; i++)
        if (!add_plate(pen, method, &layout->plates[i]))
            return false;
    if (!add_all_board_plates(pen, method, layout))
        return false;
    if (roll_ends_walk(pen->building, pen->roof, layout, add_roll_end, pen))
        return true;
    if (CPLGetLastErrorType() < CE_Failure)
        lose();
    return false;
}
