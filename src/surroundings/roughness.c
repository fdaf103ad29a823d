#include "surroundings/roughness.h"

#include <math.h>

#include "base/ascii.h"
#include "base/number.h"
#include "catalog/table.h"

static const char todo[] =
    "give a table with the columns class and roughness: a class of "
    "the raster, and B, C or D";

/* A header has no cell to show: text is NULL. */
static enum outlay_status refuse(const struct table *table, int row, const char *column,
                                 const char *text, const char *why,
                                 struct outlay_error *err)
{
    if (text)
        outlay_fail(err, OUTLAY_E_USAGE, "\"%.60s\" %s", text, why);
    else
        outlay_fail(err, OUTLAY_E_USAGE, "%s", why);
    outlay_fail_where(err, "%.120s, row %d, column %s", table->name, row, column);
    outlay_fail_todo(err, "%s", todo);
    return OUTLAY_E_USAGE;
}

static enum outlay_status find_column(const struct table *table, const char *name,
                                      size_t *place, struct outlay_error *err)
{
    size_t found = table->columns;

    for (size_t i = 0; i < table->columns; i++) {
        if (!ascii_same(table->rows[0].cells[i], name))
            continue;
        if (found < table->columns)
            return refuse(table, table->rows[0].number, name, NULL,
                          "the column stands there twice", err);
        found = i;
    }
    *place = found;
    return found < table->columns ? OUTLAY_OK
                                  : refuse(table, table->rows[0].number, name, NULL,
                                           "the column is missing", err);
}

static enum roughness roughness_named(const char *text)
{
    char letter = ascii_upper(text[0]);

    return letter >= 'B' && letter <= 'D' && !text[1]
               ? (enum roughness)(ROUGHNESS_B + letter - 'B')
               : ROUGHNESS_MISSING;
}

static enum outlay_status read_row(const struct table *table, const struct table_row *row,
                                   const size_t place[2], struct roughness_table *out,
                                   struct outlay_error *err)
{
    const char *class = row->cells[place[0]], *letter = row->cells[place[1]];
    enum roughness roughness = roughness_named(letter);
    double number = NAN;

    if (!number_parse(class, &number) ||
        !(number >= 0 && number < ROUGHNESS_CLASSES && number <= floor(number)))
        return refuse(table, row->number, "class", class,
                      "isn't a whole number from 0 to 65535", err);
    if (out->of[(int)number])
        return refuse(table, row->number, "class", class, "stands there twice", err);
    if (!roughness)
        return refuse(table, row->number, "roughness", letter,
                      "isn't B, C or D; leave out the row of a class that isn't known",
                      err);
    out->of[(int)number] = (unsigned char)roughness;
    return OUTLAY_OK;
}

enum outlay_status roughness_read(const struct table *table, struct roughness_table *out,
                                  struct outlay_error *err)
{
    size_t place[2] = {0, 0};
    enum outlay_status status = find_column(table, "class", &place[0], err);

    *out = (struct roughness_table){{0}};
    if (status == OUTLAY_OK)
        status = find_column(table, "roughness", &place[1], err);
    for (size_t i = 1; status == OUTLAY_OK && i < table->row_count; i++)
        status = read_row(table, &table->rows[i], place, out, err);
    if (status == OUTLAY_OK && table->row_count < 2)
        return refuse(table, table->rows[0].number, "class", NULL, "no class is there",
                      err);
    return status;
}

enum outlay_status roughness_load(struct arena *arena, const char *path,
                                  const struct roughness_table **out,
                                  struct outlay_error *err)
{
    struct roughness_table *read = arena_alloc(arena, sizeof *read);
    struct table table;
    enum outlay_status status;

    *out = read;
    if (!read)
        return outlay_fail(err, OUTLAY_E_MEMORY, "reading a table");
    status = table_read(arena, path, &table, err);
    if (status == OUTLAY_OK)
        return roughness_read(&table, read, err);
    if (err)
        err->todo[0] = '\0'; /* that of other tables */
    outlay_fail_todo(err, "%s", todo);
    return status;
}
