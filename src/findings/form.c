#include "findings/form.h"

#include <math.h>
#include <string.h>

#include "base/ascii.h"
#include "base/text.h"
#include "read/side_layer.h"

static bool is_table(const char *path)
{
    const char *end = strrchr(path, '.');

    return end && (ascii_same(end, ".csv") || ascii_same(end, ".xlsx"));
}

/* ---- A layer as a table ---------------------------------------------------------- */

/* A form is one layer of its file, which may have others beside it, of styles. */
static enum outlay_status open_layer(struct arena *arena, const char *path,
                                     struct gdal_log *log, struct side_layer *out,
                                     struct outlay_error *err)
{
    struct text named = TEXT_INIT;
    const char *layer = NULL;
    enum outlay_status status = side_layer_open(path, log, out, err);

    if (status != OUTLAY_E_USAGE)
        return status;
    text_printf(&named, "%s/survey", path);
    if (!named.failed)
        layer = arena_text(arena, named.data, named.length);
    text_release(&named);
    side_layer_close(out);
    if (!layer)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading a form");
    return side_layer_open(layer, log, out, err);
}

static bool put_cell(struct arena *arena, const char *text, char **out)
{
    *out = arena_text(arena, text, strlen(text));
    return *out != NULL;
}

static bool put_header(struct arena *arena, OGRFeatureDefnH layer, struct table *table)
{
    struct table_row *row = &table->rows[0];

    row->cells = arena_array(arena, table->columns, sizeof *row->cells);
    for (size_t i = 0; row->cells && i < table->columns; i++)
        if (!put_cell(arena, OGR_Fld_GetNameRef(OGR_FD_GetFieldDefn(layer, (int)i)),
                      &row->cells[i]))
            return false;
    return row->cells != NULL;
}

/* A point in the middle of whatever shape the feature has. */
static struct point point_of(const struct side_layer *side, OGRFeatureH feature)
{
    OGRGeometryH geometry = OGR_F_GetGeometryRef(feature);
    struct point at = {NAN, NAN};
    OGREnvelope box;

    if (!geometry || OGR_G_IsEmpty(geometry))
        return at;
    OGR_G_GetEnvelope(geometry, &box);
    at = (struct point){(box.MinX + box.MaxX) / 2, (box.MinY + box.MaxY) / 2};
    if (!OCTTransform(side->to_lonlat, 1, &at.x, &at.y, NULL))
        at = (struct point){NAN, NAN};
    return at;
}

static bool put_feature(struct arena *arena, const struct side_layer *side,
                        OGRFeatureH feature, struct form *out)
{
    struct table *table = &out->table;
    struct table_row *row = &table->rows[table->row_count];

    row->number = (int)OGR_F_GetFID(feature);
    row->cells = arena_array(arena, table->columns, sizeof *row->cells);
    for (size_t i = 0; row->cells && i < table->columns; i++)
        if (!put_cell(arena, OGR_F_GetFieldAsString(feature, (int)i), &row->cells[i]))
            return false;
    out->points[table->row_count++] = point_of(side, feature);
    return row->cells != NULL;
}

static enum outlay_status read_features(struct arena *arena,
                                        const struct side_layer *side, struct form *out,
                                        struct outlay_error *err)
{
    struct table *table = &out->table;
    GIntBig features = OGR_L_GetFeatureCount(side->layer, TRUE);
    size_t most = features > 0 ? (size_t)features : 0;
    OGRFeatureH feature;
    bool fine;

    if (most > SIDE_POINTS_MAX)
        return side_layer_check(side, most, err);
    table->columns = (size_t)OGR_FD_GetFieldCount(OGR_L_GetLayerDefn(side->layer));
    table->rows = arena_array(arena, most + 1, sizeof *table->rows);
    out->points = arena_array(arena, most + 1, sizeof *out->points);
    fine = table->rows && out->points &&
           put_header(arena, OGR_L_GetLayerDefn(side->layer), table);
    table->row_count = 1;
    while (fine && table->row_count <= most &&
           (feature = OGR_L_GetNextFeature(side->layer)) != NULL) {
        fine = put_feature(arena, side, feature, out);
        OGR_F_Destroy(feature);
    }
    return fine ? side_layer_check(side, most, err)
                : outlay_fail(err, OUTLAY_E_MEMORY, "reading a form");
}

static enum outlay_status read_layer(struct arena *arena, const char *path,
                                     struct form *out, struct outlay_error *err)
{
    struct gdal_log log;
    struct side_layer side = {.path = NULL};
    const char *slash = strrchr(path, '/');
    enum outlay_status status;

    out->row_word = "feature";
    out->table.name = slash ? slash + 1 : path;
    gdal_log_begin(&log);
    status = open_layer(arena, path, &log, &side, err);
    if (status == OUTLAY_OK)
        status = read_features(arena, &side, out, err);
    side_layer_close(&side);
    gdal_log_end();
    return status;
}

/* ---- Any form --------------------------------------------------------------------- */

static bool has_column(const struct table *table, size_t row, const char *column)
{
    for (size_t i = 0; i < table->columns; i++)
        if (ascii_same(table->rows[row].cells[i], column))
            return true;
    return false;
}

/* Lines that may stand above the header (ours). */
enum { HEADER_LINES = 20 };

static enum outlay_status find_header(struct form *form, const char *column,
                                      struct outlay_error *err)
{
    const struct table *table = &form->table;

    for (size_t row = 0; row < table->row_count && row < HEADER_LINES; row++)
        if (has_column(table, row, column)) {
            form->header = row;
            return OUTLAY_OK;
        }
    outlay_fail(err, OUTLAY_E_USAGE, "it has no column \"%s\"", column);
    outlay_fail_where(err, "%s", table->name);
    return OUTLAY_E_USAGE;
}

enum outlay_status form_read(struct arena *arena, const char *path, const char *column,
                             struct form *out, struct outlay_error *err)
{
    enum outlay_status status;

    *out = (struct form){.row_word = "row"};
    status = is_table(path) ? table_read(arena, path, &out->table, err)
                            : read_layer(arena, path, out, err);
    return status == OUTLAY_OK ? find_header(out, column, err) : status;
}

size_t form_column(const struct form *form, const char *name, const char *other)
{
    const struct table *table = &form->table;

    for (size_t i = 0; i < table->columns; i++) {
        const char *column = table->rows[form->header].cells[i];

        if (ascii_same(column, name) || (other && ascii_same(column, other)))
            return i;
    }
    return table->columns;
}

const char *form_cell(const struct form *form, size_t row, size_t column)
{
    return column < form->table.columns ? form->table.rows[row].cells[column] : "";
}

const char *form_where(struct arena *arena, const struct form *form, size_t row)
{
    struct text where = TEXT_INIT;
    const char *kept = NULL;

    text_printf(&where, "%s, %s %d", form->table.name, form->row_word,
                form->table.rows[row].number);
    if (!where.failed)
        kept = arena_text(arena, where.data, where.length);
    text_release(&where);
    return kept;
}
