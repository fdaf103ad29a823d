#include "base/plural.h"
#include "read/source.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <cpl_string.h>

#include "read/gdal_log.h"
#include "read/layer.h"
#include "read/members.h"
#include "read/outline.h"
#include "read/tags.h"
#include "read/tail.h"
#include "read/value.h"

/* How one column is read; made once. */
struct column {
    OGRFieldType type;
    OGRFieldSubType subtype;
    char *prefix; /* owned: the name as a JSON key with its colon */
    size_t prefix_length;
};

struct vector {
    struct intake *intake; /* borrowed */
    GDALDatasetH dataset;  /* owned */
    OGRLayerH layer;       /* borrowed from the dataset */
    struct gdal_log log;
    struct column *columns; /* owned, as are the prefixes */
    int column_count;       /* of the layer's fields */
    bool has_fid_column;    /* one more column: the feature id by its own name */
    int tags;               /* the column of tags, which are more columns; -1 */
    int way;                /* the column of ids of ways, beside that of relations; -1 */
    struct text tag;        /* owned; the value of the last tag read */
    long long count;        /* -1: unknown */
    long long read;
    bool filtered;
    bool forgives;    /* failures that come with a feature are that feature's own */
    bool no_geometry; /* the last feature had none */
};

/* ---- Opening ---------------------------------------------------- */

static enum outlay_status add_column(struct vector *vector, OGRFieldDefnH definition,
                                     struct outlay_error *err)
{
    struct column *column = &vector->columns[vector->column_count];
    const char *name = OGR_Fld_GetNameRef(definition);
    struct text prefix = TEXT_INIT;

    text_json(&prefix, name);
    text_putc(&prefix, ':');
    if (prefix.failed) {
        text_release(&prefix);
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping the column names");
    }
    column->type = OGR_Fld_GetType(definition);
    column->subtype = OGR_Fld_GetSubType(definition);
    column->prefix = prefix.data; /* moved */
    column->prefix_length = prefix.length;
    vector->column_count++;
    return fields_add(&vector->intake->fields, name, err);
}

/* Databases keep the feature id in a column that isn't among the fields; it may still
 * be the roof's id. */
static enum outlay_status add_columns(struct vector *vector, struct outlay_error *err)
{
    OGRFeatureDefnH definition = OGR_L_GetLayerDefn(vector->layer);
    const char *fid = OGR_L_GetFIDColumn(vector->layer);
    int count = OGR_FD_GetFieldCount(definition);
    enum outlay_status status = OUTLAY_OK;

    vector->tags = OGR_FD_GetFieldIndex(definition, TAGS_COLUMN);
    vector->way = OGR_FD_GetFieldIndex(definition, "osm_way_id");
    vector->columns = calloc((size_t)count + 1, sizeof *vector->columns);
    if (!vector->columns)
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping the column names");
    for (int i = 0; i < count && status == OUTLAY_OK; i++)
        status = add_column(vector, OGR_FD_GetFieldDefn(definition, i), err);
    vector->has_fid_column = fid && fid[0] && OGR_FD_GetFieldIndex(definition, fid) < 0 &&
                             count < FIELDS_COLUMNS_MAX;
    if (status == OUTLAY_OK && vector->has_fid_column)
        status = fields_add(&vector->intake->fields, fid, err);
    for (int i = 0; status == OUTLAY_OK && vector->tags >= 0 && tags_read[i]; i++)
        status = fields_add(&vector->intake->fields, tags_read[i], err);
    if (status == OUTLAY_OK)
        status = fields_resolve(&vector->intake->fields, true, err);
    return status;
}

static enum outlay_status set_filters(struct vector *vector,
                                      const struct read_settings *settings,
                                      struct outlay_error *err)
{
    struct box box;
    enum outlay_status status;

    gdal_log_clear(&vector->log);
    if (settings->where &&
        OGR_L_SetAttributeFilter(vector->layer, settings->where) != OGRERR_NONE) {
        outlay_fail(err, OUTLAY_E_USAGE, "--where \"%.80s\": %.120s", settings->where,
                    gdal_log_text(&vector->log, "not a filter for this layer"));
        outlay_fail_todo(err, "write it as SQL does: --where \"class = 'school'\"");
        return OUTLAY_E_USAGE;
    }
    if (settings->has_bbox) {
        status = projection_box(&vector->intake->projection, settings->bbox, &box, err);
        if (status != OUTLAY_OK)
            return status;
        OGR_L_SetSpatialFilterRect(vector->layer, box.min_x, box.min_y, box.max_x,
                                   box.max_y);
    }
    vector->filtered = settings->where || settings->has_bbox;
    return OUTLAY_OK;
}

static enum outlay_status open_layer(struct vector *vector,
                                     const struct read_settings *settings,
                                     struct outlay_error *err)
{
    struct intake *intake = vector->intake;
    OGRSpatialReferenceH crs;
    enum outlay_status status;

    status = dataset_open(settings->input, &vector->log, &vector->dataset, err);
    if (status == OUTLAY_OK)
        status = layer_pick(vector->dataset, settings->layer, &intake->notes,
                            &vector->layer, err);
    if (status != OUTLAY_OK)
        return status;
    snprintf(intake->layer, sizeof intake->layer, "%s", OGR_L_GetName(vector->layer));
    snprintf(intake->driver, sizeof intake->driver, "%s",
             GDALGetDriverShortName(GDALGetDatasetDriver(vector->dataset)));
    /* GeoJSON is parsed whole when it is opened, and CSV can't be damaged, so that a
     * failure later on concerns one geometry. Others tell of damage in the same way. */
    vector->forgives =
        strcmp(intake->driver, "GeoJSON") == 0 || strcmp(intake->driver, "CSV") == 0;
    crs = OGR_L_GetSpatialRef(vector->layer);
    intake->crs_stated = crs || settings->crs;
    status = projection_init(&intake->projection, settings->crs, crs, err);
    if (status == OUTLAY_OK)
        status = add_columns(vector, err);
    if (status == OUTLAY_OK)
        status = set_filters(vector, settings, err);
    if (status != OUTLAY_OK)
        return status;
    vector->count = OGR_L_GetFeatureCount(vector->layer, FALSE);
    OGR_L_ResetReading(vector->layer);
    return OUTLAY_OK;
}

enum outlay_status vector_open(const struct read_settings *settings,
                               struct intake *intake, struct vector **out,
                               struct outlay_error *err)
{
    struct vector *vector = calloc(1, sizeof *vector);
    enum outlay_status status;

    *out = NULL;
    if (!vector)
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening the input");
    vector->intake = intake;
    gdal_log_begin(&vector->log);
    status = open_layer(vector, settings, err);
    gdal_log_end();
    gdal_log_clear(&vector->log);
    if (status != OUTLAY_OK) {
        vector_close(vector);
        return status;
    }
    *out = vector;
    return OUTLAY_OK;
}

void vector_close(struct vector *vector)
{
    if (!vector)
        return;
    gdal_log_begin(&vector->log);
    if (vector->dataset)
        GDALClose(vector->dataset);
    gdal_log_end();
    for (int i = 0; i < vector->column_count; i++)
        free(vector->columns[i].prefix);
    free(vector->columns);
    text_release(&vector->tag);
    free(vector);
}

long long vector_count(const struct vector *vector)
{
    return vector->count;
}

/* ---- Going over the layer ---------------------------------------------------- */

/* @param east  the same with longitudes from 0 to 360 */
static enum outlay_status extend_by(struct vector *vector, OGRGeometryH geometry,
                                    struct extent *out, struct box *east,
                                    struct outlay_error *err)
{
    struct point middle;
    struct ring ring = {&middle, 1};
    struct polygon polygon = {&ring, 1};
    struct region region = {&polygon, 1};
    OGREnvelope envelope;
    size_t lost = 0;
    enum outlay_status status;

    out->count++;
    if (!geometry || OGR_G_IsEmpty(geometry))
        return OUTLAY_OK;
    OGR_G_GetEnvelope(geometry, &envelope);
    middle.x = (envelope.MinX + envelope.MaxX) / 2;
    middle.y = (envelope.MinY + envelope.MaxY) / 2;
    status = projection_apply(&vector->intake->projection, &region, &lost, err);
    if (status == OUTLAY_OK && isfinite(middle.x) && isfinite(middle.y)) {
        box_add(&out->box, middle);
        middle.x += middle.x < 0 ? 360 : 0;
        box_add(east, middle);
    }
    return status;
}

enum outlay_status vector_extent(struct vector *vector, long long most,
                                 struct extent *out, struct outlay_error *err)
{
    struct box east = out->box;
    OGRFeatureH feature = NULL;
    enum outlay_status status = OUTLAY_OK;

    gdal_log_begin(&vector->log);
    OGR_L_ResetReading(vector->layer);
    out->count = 0;
    while (status == OUTLAY_OK && out->count <= most &&
           (feature = OGR_L_GetNextFeature(vector->layer)) != NULL) {
        status = extend_by(vector, OGR_F_GetGeometryRef(feature), out, &east, err);
        OGR_F_Destroy(feature);
    }
    OGR_L_ResetReading(vector->layer);
    gdal_log_end();
    gdal_log_clear(&vector->log);
    if (east.max_x - east.min_x < out->box.max_x - out->box.min_x)
        out->box = east;
    return status;
}

/* ---- Values ---------------------------------------------------- */

/* ISO 8601, as far as the type goes. */
static void show_date(OGRFeatureH feature, int index, OGRFieldType type, char *out,
                      size_t size)
{
    int year, month, day, hour, minute, zone;
    float second;
    size_t length = 0;

    out[0] = '\0';
    if (!OGR_F_GetFieldAsDateTimeEx(feature, index, &year, &month, &day, &hour, &minute,
                                    &second, &zone))
        return;
    if (type != OFTTime)
        length += (size_t)snprintf(out, size, "%04d-%02d-%02d", year, month, day);
    if (type == OFTDateTime)
        length += (size_t)snprintf(out + length, size - length, "T");
    if (type != OFTDate)
        length += (size_t)snprintf(out + length, size - length, "%02d:%02d:%02d", hour,
                                   minute, (int)second);
    if (type == OFTDateTime && zone == 100)
        snprintf(out + length, size - length, "Z");
    else if (type == OFTDateTime && zone > 1)
        snprintf(out + length, size - length, "%c%02d:%02d", zone < 100 ? '-' : '+',
                 abs(zone - 100) / 4, abs(zone - 100) % 4 * 15);
}

static void append_list(struct text *out, OGRFeatureH feature, int index,
                        OGRFieldType type)
{
    const int *wholes = NULL;
    const GIntBig *bigs = NULL;
    const double *reals = NULL;
    char **texts = NULL;
    int count = 0;

    switch (type) {
    case OFTIntegerList:
        wholes = OGR_F_GetFieldAsIntegerList(feature, index, &count);
        break;
    case OFTInteger64List:
        bigs = OGR_F_GetFieldAsInteger64List(feature, index, &count);
        break;
    case OFTRealList:
        reals = OGR_F_GetFieldAsDoubleList(feature, index, &count);
        break;
    default:
        texts = OGR_F_GetFieldAsStringList(feature, index);
        count = CSLCount(texts);
    }
    text_putc(out, '[');
    for (int i = 0; i < count; i++) {
        if (i)
            text_putc(out, ',');
        if (wholes)
            members_whole(out, wholes[i]);
        else if (bigs)
            members_whole(out, bigs[i]);
        else if (reals)
            members_real(out, reals[i]);
        else
            text_json(out, texts ? texts[i] : NULL);
    }
    text_putc(out, ']');
}

/* raw is the feature's own storage of a field that is set and not null. */
static void append_value(struct text *out, OGRFeatureH feature, int index,
                         const struct column *column, const OGRField *raw)
{
    char date[48];

    switch (column->type) {
    case OFTInteger:
        if (column->subtype == OFSTBoolean)
            text_puts(out, raw->Integer ? "true" : "false");
        else
            members_whole(out, raw->Integer);
        break;
    case OFTInteger64:
        members_whole(out, raw->Integer64);
        break;
    case OFTReal:
        if (column->subtype == OFSTFloat32)
            members_float(out, (float)raw->Real);
        else
            members_real(out, raw->Real);
        break;
    case OFTString:
        if (column->subtype == OFSTJSON)
            members_json_text(out, raw->String);
        else
            text_json(out, raw->String);
        break;
    case OFTDate:
    case OFTTime:
    case OFTDateTime:
        show_date(feature, index, column->type, date, sizeof date);
        text_json(out, date);
        break;
    case OFTIntegerList:
    case OFTInteger64List:
    case OFTRealList:
    case OFTStringList:
        append_list(out, feature, index, column->type);
        break;
    default:
        text_json(out, OGR_F_GetFieldAsString(feature, index));
    }
}

/* A field that the feature doesn't have is left out; one that is null is null. */
static void append_members(struct vector *vector, OGRFeatureH feature)
{
    struct text *out = &vector->intake->members;

    text_clear(out);
    for (int i = 0; i < vector->column_count; i++) {
        const struct column *column = &vector->columns[i];
        const OGRField *raw = OGR_F_GetRawFieldRef(feature, i);

        if (OGR_RawField_IsUnset(raw))
            continue;
        if (out->length)
            text_putc(out, ',');
        text_append(out, column->prefix, column->prefix_length);
        if (OGR_RawField_IsNull(raw))
            text_append(out, "null", 4);
        else
            append_value(out, feature, i, column, raw);
    }
}

static struct value tag_of(struct vector *vector, OGRFeatureH feature, const char *key)
{
    const OGRField *raw = OGR_F_GetRawFieldRef(feature, vector->tags);
    bool is_text = vector->columns[vector->tags].type == OFTString;

    if (!is_text || OGR_RawField_IsUnset(raw) || OGR_RawField_IsNull(raw) ||
        !tags_find(raw->String, key, &vector->tag) || !vector->tag.data)
        return (struct value){.kind = VALUE_NULL};
    return (struct value){.kind = VALUE_TEXT, .text = vector->tag.data};
}

static struct value value_of(struct vector *vector, OGRFeatureH feature, int index,
                             char *date, size_t date_size)
{
    const struct column *column = &vector->columns[index];
    int own = vector->column_count + vector->has_fid_column;
    const OGRField *raw;

    if (index >= own)
        return tag_of(vector, feature, tags_read[index - own]);
    if (index == vector->column_count)
        return (struct value){.kind = VALUE_WHOLE, .whole = OGR_F_GetFID(feature)};
    raw = OGR_F_GetRawFieldRef(feature, index);
    if (OGR_RawField_IsUnset(raw) || OGR_RawField_IsNull(raw))
        return (struct value){.kind = VALUE_NULL};
    switch (column->type) {
    case OFTInteger:
        if (column->subtype == OFSTBoolean)
            return (struct value){.kind = VALUE_TEXT,
                                  .text = raw->Integer ? "true" : "false"};
        return (struct value){.kind = VALUE_WHOLE, .whole = raw->Integer};
    case OFTInteger64:
        return (struct value){.kind = VALUE_WHOLE, .whole = raw->Integer64};
    case OFTReal:
        return (struct value){.kind = VALUE_REAL, .real = raw->Real};
    case OFTString:
        return (struct value){.kind = VALUE_TEXT, .text = raw->String};
    case OFTDate:
    case OFTTime:
    case OFTDateTime:
        show_date(feature, index, column->type, date, date_size);
        return (struct value){.kind = VALUE_TEXT, .text = date};
    default:
        return (struct value){.kind = VALUE_TEXT,
                              .text = OGR_F_GetFieldAsString(feature, index)};
    }
}

static void take_roles(struct vector *vector, struct arena *arena, struct roof *roof,
                       OGRFeatureH feature)
{
    struct fields *fields = &vector->intake->fields;

    for (size_t i = 0; i < fields->use_count; i++) {
        const struct field_use *use = &fields->use[i];
        const struct field *field = &fields->roles[use->role];
        char date[48];
        struct value value = value_of(vector, feature, field->column, date, sizeof date);

        /* Of a multipolygon, OSM's id is that of a relation or that of a way. */
        if (use->role == ROLE_ID && value.kind == VALUE_NULL && vector->way >= 0)
            value = value_of(vector, feature, vector->way, date, sizeof date);
        if (value_store(arena, roof, use->role, field, use->column, &value))
            fields_filled(fields, use->role);
    }
}

/* ---- Reading ---------------------------------------------------- */

/* Two drivers drop a last line that was cut off, without a word. In CSV it can't be told
 * apart for sure: one without a line end and without a geometry is taken for that. */
static bool last_line_cut(const struct vector *vector)
{
    const char *driver = vector->intake->driver;

    if (strcmp(driver, "GeoJSONSeq") == 0)
        return tail_is_cut_json(vector->intake->name);
    return vector->no_geometry && strcmp(driver, "CSV") == 0 &&
           tail_is_open(vector->intake->name);
}

/* The layer came to its end: was that all of it? GDAL's drivers end a layer alike for
 * "no more" and "no more can be read". */
static enum outlay_status check_end(struct vector *vector, struct outlay_error *err)
{
    struct text *notes = &vector->intake->notes;

    if (vector->log.failures) {
        outlay_fail(err, OUTLAY_E_INPUT, "reading stopped after %lld features: %.180s",
                    vector->read, vector->log.failure);
        outlay_fail_todo(err, "the file is damaged or cut off: get it again");
        return OUTLAY_E_INPUT;
    }
    if (!vector->filtered && vector->count > vector->read) {
        outlay_fail(err, OUTLAY_E_INPUT,
                    "only %lld of the layer's %lld features came out", vector->read,
                    vector->count);
        outlay_fail_todo(err, "the file is damaged or cut off: get it again");
        return OUTLAY_E_INPUT;
    }
    if (last_line_cut(vector)) {
        outlay_fail(err, OUTLAY_E_INPUT, "the last line is cut off");
        outlay_fail_todo(err, "get the file again, or end its last line");
        return OUTLAY_E_INPUT;
    }
    if (vector->log.warnings)
        text_printf(notes, "note: GDAL warned %zu time%s while reading, first: %s\n",
                    vector->log.warnings, PLURAL(vector->log.warnings),
                    vector->log.warning);
    return OUTLAY_OK;
}

static enum outlay_status take_feature(struct vector *vector, struct arena *arena,
                                       struct roof *roof, OGRFeatureH feature,
                                       struct outlay_error *err)
{
    struct text *members = &vector->intake->members;

    source_begin_roof(roof);
    take_roles(vector, arena, roof, feature);
    append_members(vector, feature);
    if (!members->failed)
        roof->properties =
            arena_text(arena, members->data ? members->data : "", members->length);
    if (members->failed || !roof->properties)
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping a feature's fields");
    vector->no_geometry = OGR_F_GetGeometryRef(feature) == NULL;
    return outline_from_ogr(arena, roof, OGR_F_GetGeometryRef(feature),
                            vector->forgives ? vector->log.failure : "",
                            &vector->intake->others, err);
}

enum outlay_status vector_next(struct vector *vector, struct arena *arena,
                               struct roof *roof, bool *end, struct outlay_error *err)
{
    OGRFeatureH feature = NULL;
    enum outlay_status status = OUTLAY_OK;

    gdal_log_begin(&vector->log);
    feature = OGR_L_GetNextFeature(vector->layer);
    *end = feature == NULL;
    if (*end) {
        status = check_end(vector, err);
    } else {
        status = take_feature(vector, arena, roof, feature, err);
        OGR_F_Destroy(feature);
        vector->read++;
        if (vector->forgives)
            gdal_log_clear(&vector->log);
    }
    gdal_log_end();
    return status;
}
