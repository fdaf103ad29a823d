/* Tables through GDAL's CSV and XLSX drivers. The header is read as an ordinary row, for
 * the drivers' own guess at it takes two columns of one name and drops empty tables. */

#include "catalog/table.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_vsi.h>
#include <gdal.h>
#include <ogr_api.h>

#include "base/ascii.h"

static const char *file_name(const char *path)
{
    const char *slash = strrchr(path, '/');

    return slash ? slash + 1 : path;
}

static bool ends_in(const char *text, const char *ending)
{
    size_t length = strlen(text);
    size_t tail = strlen(ending);

    return length > tail && ascii_same(text + length - tail, ending);
}

static char *cell_copy(struct arena *arena, const char *text)
{
    const char *end = text + strlen(text);

    while (*text == ' ' || *text == '\t')
        text++;
    while (end > text && strchr(" \t\r\n", end[-1]))
        end--;
    return arena_text(arena, text, (size_t)(end - text));
}

static enum outlay_status row_read(struct arena *arena, OGRFeatureH feature,
                                   size_t columns, struct table_row *out,
                                   struct outlay_error *err)
{
    out->number = (int)OGR_F_GetFID(feature);
    out->cells = arena_array(arena, columns, sizeof *out->cells);
    if (!out->cells)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading a table");
    for (size_t i = 0; i < columns; i++) {
        out->cells[i] = cell_copy(arena, OGR_F_GetFieldAsString(feature, (int)i));
        if (!out->cells[i])
            return outlay_fail(err, OUTLAY_E_MEMORY, "reading a table");
    }
    return OUTLAY_OK;
}

/* Spreadsheets leave rows of commas behind where something was deleted. */
static bool row_blank(const struct table_row *row, size_t columns)
{
    for (size_t i = 0; i < columns; i++) {
        if (row->cells && row->cells[i] && row->cells[i][0])
            return false;
    }
    return true;
}

static enum outlay_status rows_read(struct arena *arena, OGRLayerH layer,
                                    struct table *out, struct outlay_error *err)
{
    OGRFeatureH feature = NULL;
    enum outlay_status status = OUTLAY_OK;
    GIntBig count = OGR_L_GetFeatureCount(layer, TRUE);

    out->columns = (size_t)OGR_FD_GetFieldCount(OGR_L_GetLayerDefn(layer));
    out->row_count = 0;
    out->rows = arena_array(arena, count > 0 ? (size_t)count : 0, sizeof *out->rows);
    if (!out->rows)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading a table");
    OGR_L_ResetReading(layer);
    while (status == OUTLAY_OK && (GIntBig)out->row_count < count &&
           (feature = OGR_L_GetNextFeature(layer)) != NULL) {
        status = row_read(arena, feature, out->columns, &out->rows[out->row_count], err);
        if (!row_blank(&out->rows[out->row_count], out->columns))
            out->row_count++;
        OGR_F_Destroy(feature);
    }
    if (status == OUTLAY_OK && out->row_count == 0)
        status = outlay_fail(err, OUTLAY_E_USAGE, "the table is empty");
    return status;
}

static enum outlay_status dataset_read(struct arena *arena, GDALDatasetH dataset,
                                       struct table *out, struct outlay_error *err)
{
    OGRLayerH layer = GDALDatasetGetLayer(dataset, 0);
    enum outlay_status status;

    if (!layer)
        return outlay_fail(err, OUTLAY_E_USAGE, "the table is empty");
    status = rows_read(arena, layer, out, err);
    /* A driver that stops half-way only leaves a message. */
    if (status == OUTLAY_OK && CPLGetLastErrorType() >= CE_Failure)
        status = outlay_fail(err, OUTLAY_E_USAGE, "the table can't be read: %s",
                             CPLGetLastErrorMsg());
    return status;
}

static enum outlay_status open_failure(const char *path, struct outlay_error *err)
{
    VSILFILE *file = VSIFOpenL(path, "rb");
    char byte;
    bool empty = false;

    if (!file) {
        outlay_fail(err, OUTLAY_E_USAGE, "the file can't be opened");
        outlay_fail_todo(err, "check the path; `outlay catalog` writes tables");
        return OUTLAY_E_USAGE;
    }
    empty = VSIFReadL(&byte, 1, 1, file) == 0;
    VSIFCloseL(file);
    if (empty)
        return outlay_fail(err, OUTLAY_E_USAGE, "the table is empty");
    outlay_fail(err, OUTLAY_E_USAGE, "the file isn't a table, as its name says");
    outlay_fail_todo(err, "start from the table that `outlay catalog` writes");
    return OUTLAY_E_USAGE;
}

static enum outlay_status file_read(struct arena *arena, const char *path,
                                    const char *driver, struct table *out,
                                    struct outlay_error *err)
{
    const char *const drivers[] = {driver, NULL};
    const char *const headers[] = {"HEADERS=NO", NULL};
    bool csv = strcmp(driver, "CSV") == 0;
    GDALDatasetH dataset = NULL;
    enum outlay_status status;

    if (!GDALGetDriverByName(driver))
        GDALAllRegister();
    CPLErrorReset();
    CPLPushErrorHandler(CPLQuietErrorHandler);
    CPLSetThreadLocalConfigOption("OGR_XLSX_HEADERS", "DISABLE");
    CPLSetThreadLocalConfigOption("OGR_XLSX_FIELD_TYPES", "STRING");
    dataset = GDALOpenEx(path, GDAL_OF_VECTOR | GDAL_OF_READONLY, drivers,
                         csv ? headers : NULL, NULL);
    status = dataset ? dataset_read(arena, dataset, out, err) : open_failure(path, err);
    GDALClose(dataset);
    CPLSetThreadLocalConfigOption("OGR_XLSX_HEADERS", NULL);
    CPLSetThreadLocalConfigOption("OGR_XLSX_FIELD_TYPES", NULL);
    CPLPopErrorHandler();
    return status;
}

enum outlay_status table_read(struct arena *arena, const char *path, struct table *out,
                              struct outlay_error *err)
{
    enum outlay_status status;

    out->name = file_name(path);
    if (ends_in(path, ".csv"))
        status = file_read(arena, path, "CSV", out, err);
    else if (ends_in(path, ".xlsx"))
        status = file_read(arena, path, "XLSX", out, err);
    else
        status = outlay_fail(err, OUTLAY_E_USAGE, "a table's name ends in .csv or .xlsx");
    if (status != OUTLAY_OK)
        outlay_fail_where(err, "%s", path);
    return status;
}

enum outlay_status table_parse(struct arena *arena, const char *name, const char *csv,
                               struct table *out, struct outlay_error *err)
{
    char path[200];
    VSILFILE *file = NULL;
    enum outlay_status status;

    out->name = name;
    /* The arena is this call's alone, so its address makes the path unique. */
    snprintf(path, sizeof path, "/vsimem/outlay-%p/%s", (void *)arena, name);
    file = VSIFileFromMemBuffer(path, (GByte *)(void *)csv, strlen(csv), FALSE);
    if (!file)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading the built-in table");
    VSIFCloseL(file);
    status = file_read(arena, path, "CSV", out, err);
    VSIUnlink(path);
    if (status != OUTLAY_OK)
        outlay_fail_where(err, "%s", name);
    return status;
}

static enum outlay_status header_refuse(const struct table *table, const char *name,
                                        const char *what, struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_USAGE, "column \"%s\" %s", name, what);
    outlay_fail_where(err, "%s, row %d", table->name, table->rows[0].number);
    outlay_fail_todo(err, "start from the table that `outlay catalog` writes");
    return OUTLAY_E_USAGE;
}

enum outlay_status table_header(const struct table *table, const char *const *names,
                                size_t count, size_t needed, size_t *place,
                                struct outlay_error *err)
{
    const size_t unseen = table->columns;

    for (size_t column = 0; column < count; column++)
        place[column] = unseen;
    for (size_t i = 0; i < table->columns; i++) {
        const char *name = table->rows[0].cells[i];
        size_t column = 0;

        while (column < count && !ascii_same(name, names[column]))
            column++;
        if (column == count)
            return header_refuse(table, name, "isn't known", err);
        if (place[column] != unseen)
            return header_refuse(table, name, "stands twice", err);
        place[column] = i;
    }
    for (size_t column = 0; column < needed; column++)
        if (place[column] == unseen)
            return header_refuse(table, names[column], "is missing", err);
    return OUTLAY_OK;
}
