#include "read/marks.h"

#include <stdlib.h>
#include <string.h>

#include <cpl_conv.h>
#include <cpl_quad_tree.h>

#include "base/grow.h"
#include "base/measure.h"
#include "base/number.h"
#include "base/secret.h"
#include "base/text.h"
#include "read/roles.h"
#include "read/side_layer.h"
#include "roof/fixtures.h"

/* A collection within a collection: deeper than this is left out, since each level is a
 * call. */
enum { depth_limit = 32 };

static const double length_least = 0.001; /* m; what is less isn't believed (ours) */

struct role_row {
    const char *name;
    enum mark_layer layer;
    const char *column;
    double most;
    const char *effect;
};

static const struct role_row role_rows[MARK_ROLES] = {
#define X(code, name, layer, column, most, effect) \
    {name, MARKS_##layer, column, most, effect},
    MARK_ROLE_MAP(X)
#undef X
};

const char *mark_role_name(int role)
{
    return role >= 0 && role < MARK_ROLES ? role_rows[role].name : NULL;
}

const char *mark_role_effect(int role)
{
    return role_rows[role].effect;
}

bool mark_role_is_length(int role)
{
    return role_rows[role].most > 0;
}

/* The arena is the marks' own, and so are they. */
struct mark_index {
    struct arena *arena;
    CPLQuadTree *tree;
};

/* A layer at work. */
struct loader {
    enum mark_layer layer;
    const char *const *specs;
    struct side_layer side;
    struct field columns[MARK_ROLES];
    struct marks *marks;
    struct arena *arena;
    struct mark_doubt **doubts_end;
    size_t capacity; /* of marks->items */
    size_t points;
    size_t feature; /* the one at hand, from 1 */
    bool failed;    /* a text ran out of memory */
    struct outlay_error *err;
};

/* ---- Columns ------------------------------------------------------------------- */

static const char *column_name(const struct loader *loader, int column)
{
    OGRFeatureDefnH layer = OGR_L_GetLayerDefn(loader->side.layer);

    return OGR_Fld_GetNameRef(OGR_FD_GetFieldDefn(layer, column));
}

static int find_column(const struct loader *loader, const char *name, size_t length)
{
    char word[256];

    if (length >= sizeof word)
        return -1;
    memcpy(word, name, length);
    word[length] = '\0';
    return OGR_FD_GetFieldIndex(OGR_L_GetLayerDefn(loader->side.layer), word);
}

/* The unit behind the last underscore of a column, where its base is `base` or any. */
static bool unit_of_suffix(const char *column, const char *base, struct field *out)
{
    const char *underscore = strrchr(column, '_');
    const char *unit = underscore ? suffix_unit(underscore + 1) : NULL;
    char start[64];

    if (!unit || (size_t)(underscore - column) >= sizeof start)
        return false;
    memcpy(start, column, (size_t)(underscore - column));
    start[underscore - column] = '\0';
    return (!base || same_column(start, base)) && role_unit(ROLE_HEIGHT, unit, out);
}

static enum outlay_status refuse_column(const struct loader *loader, int role,
                                        const char *what, const char *of)
{
    outlay_fail(loader->err, OUTLAY_E_USAGE, "%s \"%.80s\"", what, of);
    outlay_fail_where(loader->err, "%.120s, %s", loader->marks->name,
                      role_rows[role].name);
    outlay_fail_todo(loader->err, "name it by --field %s=COLUMN%s", role_rows[role].name,
                     mark_role_is_length(role) ? ":ft, or in, m, cm, mm" : "");
    return OUTLAY_E_USAGE;
}

/* A column that the user names: "column" or "column:unit"; names may hold colons. */
static enum outlay_status take_named(struct loader *loader, int role)
{
    const char *spec = loader->specs[role];
    const char *colon = strrchr(spec, ':');
    struct field *field = &loader->columns[role];
    bool length = mark_role_is_length(role);

    field->column = find_column(loader, spec, strlen(spec));
    if (field->column >= 0) {
        if (length)
            unit_of_suffix(column_name(loader, field->column), NULL, field);
        return OUTLAY_OK;
    }
    if (colon)
        field->column = find_column(loader, spec, (size_t)(colon - spec));
    if (field->column < 0)
        return refuse_column(loader, role, "the layer has no column", spec);
    if (!length || !role_unit(ROLE_HEIGHT, colon + 1, field))
        return refuse_column(loader, role, "it has no unit", colon + 1);
    return OUTLAY_OK;
}

static void take_found(struct loader *loader, int role)
{
    const char *base = role_rows[role].column;
    struct field *field = &loader->columns[role];
    int columns = OGR_FD_GetFieldCount(OGR_L_GetLayerDefn(loader->side.layer));

    field->column = find_column(loader, base, strlen(base));
    for (int i = 0; mark_role_is_length(role) && i < columns; i++)
        if (unit_of_suffix(column_name(loader, i), base, field))
            field->column = i;
}

static enum outlay_status find_columns(struct loader *loader)
{
    int kind = loader->layer == MARKS_FIXTURES ? MARK_FIXTURE_KIND : MARK_EDGE_KIND;
    enum outlay_status status = OUTLAY_OK;

    for (int role = 0; role < MARK_ROLES && status == OUTLAY_OK; role++) {
        const char *spec = loader->specs[role];

        loader->columns[role] = (struct field){.column = -1, .unit = "", .factor = 1};
        if (role_rows[role].layer != loader->layer)
            continue;
        if (!spec)
            take_found(loader, role);
        else if (*spec)
            status = take_named(loader, role);
    }
    if (status == OUTLAY_OK && loader->columns[kind].column < 0)
        return refuse_column(loader, kind, "the layer has no column", "kind");
    return status;
}

/* ---- What is wrong ------------------------------------------------------------- */

/* Takes what is wrong over, and frees it. Out of memory is seen at the end. */
static void doubt(struct loader *loader, enum problem_code code, const char *field,
                  struct text *what, const char *done)
{
    struct mark_doubt *made = arena_alloc(loader->arena, sizeof *made);
    struct text words = TEXT_INIT;

    text_printf(&words, "%s, feature %zu%s%s: %s", loader->marks->name, loader->feature,
                field ? ", " : "", field ? field : "", what->data ? what->data : "");
    loader->failed = loader->failed || words.failed || what->failed;
    text_release(what);
    if (made && !words.failed) {
        *made = (struct mark_doubt){
            .code = code,
            .what = arena_text(loader->arena, words.data, words.length),
            .done = done,
            .field = field};
        *loader->doubts_end = made;
        loader->doubts_end = &made->next;
    }
    text_release(&words);
}

/* ---- Values -------------------------------------------------------------------- */

static struct value value_of(const struct loader *loader, OGRFeatureH feature, int role)
{
    int column = loader->columns[role].column;

    return column < 0 ? (struct value){.kind = VALUE_NULL}
                      : side_layer_value(loader->arena, feature, column);
}

static bool is_blank(const struct value *value)
{
    return value->kind == VALUE_NULL ||
           (value->kind == VALUE_TEXT &&
            value->text[strspn(value->text, " \t\r\n")] == '\0');
}

/* A number and its unit: the value's own, else the column's; "" where neither has one.
 * @return false: it isn't a number */
static bool number_of(const struct value *value, double *number, struct field *unit)
{
    char name[MEASURE_UNIT_MAX];

    if (value->kind != VALUE_TEXT) {
        *number = value->kind == VALUE_WHOLE ? (double)value->whole : value->real;
        return isfinite(*number) != 0;
    }
    return number_parse(value->text, number) ||
           (measure_parse(value->text, number, name) == MEASURE_READ &&
            (!*name || role_unit(ROLE_HEIGHT, name, unit)));
}

static enum outlay_status read_length(struct loader *loader, OGRFeatureH feature,
                                      int role, double *out)
{
    struct value value = value_of(loader, feature, role);
    struct field unit = loader->columns[role];
    const char *name = role_rows[role].name;
    struct text what = TEXT_INIT;
    double number = NAN;

    *out = NAN;
    if (is_blank(&value) || (value.kind == VALUE_REAL && isnan(value.real)))
        return OUTLAY_OK;
    if (!number_of(&value, &number, &unit)) {
        text_printf(&what, "\"%.40s\" isn't a length",
                    value.kind == VALUE_TEXT ? value.text : "infinity");
        doubt(loader, PROBLEM_NOT_A_NUMBER, name, &what, "value ignored");
    } else if (!*unit.unit) {
        return refuse_column(loader, role, "there is no unit to the values of column",
                             column_name(loader, unit.column));
    } else if (!(number * unit.factor >= length_least &&
                 number * unit.factor <= role_rows[role].most)) {
        text_printf(&what, "%.10g %s is outside 1 mm to %.0f m", number, unit.unit,
                    role_rows[role].most);
        doubt(loader, PROBLEM_VALUE_RANGE, name, &what, "value ignored");
    } else {
        *out = number * unit.factor;
    }
    return OUTLAY_OK;
}

static const char *read_id(struct loader *loader, OGRFeatureH feature, int role)
{
    struct value value = value_of(loader, feature, role);
    struct text words = TEXT_INIT;
    const char *id = NULL;

    if (value.kind == VALUE_WHOLE)
        text_printf(&words, "%lld", value.whole);
    else if (value.kind == VALUE_TEXT && !is_blank(&value))
        text_puts(&words, value.text);
    else
        text_printf(&words, "feature %zu", loader->feature);
    if (words.data)
        id = arena_text(loader->arena, words.data, words.length);
    loader->failed = loader->failed || words.failed;
    text_release(&words);
    return id ? id : "";
}

/* The kind; 0 where it isn't known, which is said. */
static int read_kind(struct loader *loader, OGRFeatureH feature, int role)
{
    const char *(*name_of)(int) =
        loader->layer == MARKS_FIXTURES ? fixture_kind_name : edge_kind_name;
    struct value value = value_of(loader, feature, role);
    const char *text = value.kind == VALUE_TEXT ? value.text : "";
    int kind = name_find(text, name_of);
    struct text what = TEXT_INIT;

    if (kind > 0)
        return kind;
    text_printf(&what, "\"%.40s\" isn't one of ", text);
    for (int i = 1; name_of(i); i++)
        text_printf(&what, "%s%s", i > 1 ? ", " : "", name_of(i));
    doubt(loader, PROBLEM_VALUE_UNKNOWN, role_rows[role].name, &what, "feature left out");
    return 0;
}

static enum outlay_status read_values(struct loader *loader, OGRFeatureH feature,
                                      struct mark *mark)
{
    bool fixtures = loader->layer == MARKS_FIXTURES;
    const struct {
        int role;
        double *at;
    } lengths[] = {
        {MARK_FIXTURE_WIDTH, &mark->width},
        {MARK_FIXTURE_LENGTH, &mark->length},
        {fixtures ? MARK_FIXTURE_HEIGHT : MARK_EDGE_HEIGHT, &mark->height},
        {MARK_EDGE_THICKNESS, &mark->thickness},
    };
    enum outlay_status status = OUTLAY_OK;

    mark->kind =
        read_kind(loader, feature, fixtures ? MARK_FIXTURE_KIND : MARK_EDGE_KIND);
    mark->id = read_id(loader, feature, fixtures ? MARK_FIXTURE_ID : MARK_EDGE_ID);
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++)
        if (status == OUTLAY_OK)
            status = read_length(loader, feature, lengths[i].role, lengths[i].at);
    return status;
}

/* ---- Places -------------------------------------------------------------------- */

/* Copies the points of a part; false where one isn't finite. */
static bool copy_points(OGRGeometryH part, struct mark *mark)
{
    for (size_t i = 0; i < mark->count; i++) {
        mark->points[i] =
            (struct point){OGR_G_GetX(part, (int)i), OGR_G_GetY(part, (int)i)};
        if (!isfinite(mark->points[i].x) || !isfinite(mark->points[i].y))
            return false;
    }
    return true;
}

/* A ring without its last point, counter-clockwise; false where nothing is left. */
static bool tidy_ring(struct mark *mark)
{
    struct ring ring = {mark->points, mark->count - 1};

    if (mark->count < 4 || fabs(ring_area(ring)) <= 0)
        return false;
    mark->count--;
    if (ring_area(ring) < 0)
        ring_reverse(ring);
    return true;
}

/* Adds a mark at a point, along a line or around a ring. @return false: it is no place,
 * or out of memory, which the arena tells */
static bool add_mark(struct loader *loader, OGRGeometryH part, struct mark mark)
{
    struct marks *marks = loader->marks;
    struct mark *items = NULL;

    mark.count = (size_t)OGR_G_GetPointCount(part);
    mark.points = arena_array(loader->arena, mark.count, sizeof *mark.points);
    if (!mark.points || mark.count < (mark.shape == MARK_LINE ? 2 : 1) ||
        !copy_points(part, &mark) || (mark.shape == MARK_RING && !tidy_ring(&mark)))
        return false;
    mark.box = ring_box((struct ring){mark.points, mark.count});
    items = grow_in(loader->arena, marks->items, marks->count, 1, &loader->capacity,
                    sizeof *items);
    if (!items)
        return false;
    marks->items = items;
    marks->items[marks->count++] = mark;
    loader->points += mark.count;
    return true;
}

/* Adds all parts of a geometry that the layer can have. @return how many */
static size_t add_parts(struct loader *loader, OGRGeometryH geometry, struct mark *mark,
                        int depth)
{
    bool fixtures = loader->layer == MARKS_FIXTURES;
    size_t added = 0;

    switch (wkbFlatten(OGR_G_GetGeometryType(geometry))) {
    case wkbPoint:
        mark->shape = MARK_POINT;
        return fixtures && add_mark(loader, geometry, *mark);
    case wkbLineString:
        mark->shape = MARK_LINE;
        return !fixtures && add_mark(loader, geometry, *mark);
    case wkbPolygon:
    case wkbTriangle:
        mark->shape = MARK_RING;
        return fixtures && OGR_G_GetGeometryCount(geometry) > 0 &&
               add_mark(loader, OGR_G_GetGeometryRef(geometry, 0), *mark);
    default:
        break;
    }
    for (int i = 0; depth < depth_limit && i < OGR_G_GetGeometryCount(geometry); i++)
        added += add_parts(loader, OGR_G_GetGeometryRef(geometry, i), mark, depth + 1);
    return added;
}

static enum outlay_status add_feature(struct loader *loader, OGRFeatureH feature)
{
    struct mark mark = {.kind = 0};
    enum outlay_status status = read_values(loader, feature, &mark);
    OGRGeometryH geometry = OGR_F_GetGeometryRef(feature);
    OGRGeometryH linear = NULL;
    struct text what = TEXT_INIT;
    size_t added = 0;

    if (status != OUTLAY_OK || !mark.kind)
        return status;
    if (geometry && OGR_G_HasCurveGeometry(geometry, TRUE))
        geometry = linear = OGR_G_GetLinearGeometry(geometry, 0, NULL);
    if (geometry && OGR_G_Transform(geometry, loader->side.to_lonlat) == OGRERR_NONE)
        added = add_parts(loader, geometry, &mark, 0);
    if (linear)
        OGR_G_DestroyGeometry(linear);
    gdal_log_clear(loader->side.log); /* of a transformation that failed */
    if (added)
        return OUTLAY_OK;
    text_puts(&what, loader->layer == MARKS_FIXTURES
                         ? "it is neither a point nor a polygon"
                         : "it isn't a line");
    doubt(loader, PROBLEM_FEATURE_UNUSED, NULL, &what, "feature left out");
    return OUTLAY_OK;
}

static enum outlay_status read_features(struct loader *loader)
{
    enum outlay_status status = OUTLAY_OK;
    OGRFeatureH feature;

    while (status == OUTLAY_OK && loader->points <= SIDE_POINTS_MAX &&
           (feature = OGR_L_GetNextFeature(loader->side.layer)) != NULL) {
        status = side_layer_check(&loader->side, 0, loader->err);
        loader->feature++;
        if (status == OUTLAY_OK)
            status = add_feature(loader, feature);
        OGR_F_Destroy(feature);
    }
    return status == OUTLAY_OK
               ? side_layer_check(&loader->side, loader->points, loader->err)
               : status;
}

/* ---- The whole ----------------------------------------------------------------- */

static void mark_box(const void *mark, CPLRectObj *out)
{
    const struct box *box = &((const struct mark *)mark)->box;

    *out = (CPLRectObj){box->min_x, box->min_y, box->max_x, box->max_y};
}

static enum outlay_status load(struct loader *loader, const char *path,
                               struct gdal_log *log)
{
    struct marks *marks = loader->marks;
    const CPLRectObj all = {-180, -90, 180, 90};
    struct text name = TEXT_INIT;
    enum outlay_status status = OUTLAY_OK;

    secret_hide(&name, path);
    marks->name = name.data ? arena_text(loader->arena, name.data, name.length) : NULL;
    text_release(&name);
    if (!marks->name)
        return outlay_fail(loader->err, OUTLAY_E_MEMORY, "keeping a layer");
    status = side_layer_open(path, log, &loader->side, loader->err);
    if (status == OUTLAY_OK)
        status = find_columns(loader);
    if (status == OUTLAY_OK)
        status = read_features(loader);
    side_layer_close(&loader->side);
    if (status != OUTLAY_OK)
        return status;
    marks->index->tree = CPLQuadTreeCreate(&all, mark_box);
    if (!marks->index->tree || loader->failed || arena_failed(loader->arena))
        return outlay_fail(loader->err, OUTLAY_E_MEMORY, "keeping a layer");
    for (size_t i = 0; i < marks->count; i++)
        CPLQuadTreeInsert(marks->index->tree, &marks->items[i]);
    return OUTLAY_OK;
}

enum outlay_status marks_open(enum mark_layer layer, const char *path,
                              const char *const *columns, struct marks **out,
                              struct outlay_error *err)
{
    struct arena *arena = arena_new();
    struct marks *marks = arena ? arena_alloc(arena, sizeof *marks) : NULL;
    struct loader loader = {
        .layer = layer, .specs = columns, .marks = marks, .arena = arena, .err = err};
    struct gdal_log log;
    enum outlay_status status = OUTLAY_OK;

    *out = NULL;
    if (marks)
        marks->index = arena_alloc(arena, sizeof *marks->index);
    if (!marks || !marks->index) {
        arena_free(arena);
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening a layer");
    }
    marks->index->arena = arena;
    loader.doubts_end = &marks->doubts;
    gdal_log_begin(&log);
    status = load(&loader, path, &log);
    gdal_log_end();
    if (status == OUTLAY_OK)
        *out = marks;
    else
        marks_close(marks);
    return status;
}

void marks_close(struct marks *marks)
{
    if (!marks)
        return;
    if (marks->index->tree)
        CPLQuadTreeDestroy(marks->index->tree);
    arena_free(marks->index->arena);
}

static int by_size(const void *a, const void *b)
{
    size_t x = *(const size_t *)a;
    size_t y = *(const size_t *)b;

    return (x > y) - (x < y);
}

enum outlay_status marks_near(const struct marks *marks, const struct box *box,
                              struct arena *arena, size_t **near, size_t *count)
{
    const CPLRectObj rect = {box->min_x, box->min_y, box->max_x, box->max_y};
    int found = 0;
    void **items = CPLQuadTreeSearch(marks->index->tree, &rect, &found);
    size_t *list = arena_array(arena, (size_t)found + 1, sizeof *list);

    for (int i = 0; list && i < found; i++)
        list[i] = (size_t)((const struct mark *)items[i] - marks->items);
    CPLFree(items);
    if (!list)
        return OUTLAY_E_MEMORY;
    qsort(list, (size_t)found, sizeof *list, by_size);
    *near = list;
    *count = (size_t)found;
    return OUTLAY_OK;
}
