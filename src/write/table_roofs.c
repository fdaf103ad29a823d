#include <math.h>
#include <string.h>

#include "write/columns.h"
#include "write/table.h"

/* 99 columns with a blank between two. Numbers stand to the right. */
static const struct shown {
    const char *column; /* its name in US units, by which it is found */
    const char *title;
    int width;
    bool right;
} shown[] = {
    {"roof_id", "roof", 16, false},
    {"height_ft", "height", 7, true},
    {"area_ft2", "area", 9, true},
    {"corner_uplift_psf", "corner", 6, true},
    {"perimeter_uplift_psf", "perim.", 6, true},
    {"field_uplift_psf", "field", 6, true},
    {"interior_uplift_psf", "inter.", 6, true},
    {"method", "method", 16, false},
    {"state", "state", 11, false},
    {"fasteners", "fasten.", 7, true},
};

enum { SHOWN = sizeof shown / sizeof shown[0] };

static const struct column *find_column(const char *name)
{
    size_t length = strlen(name);

    for (size_t i = 0; i < roof_column_count; i++) {
        const struct column_key *key = &roof_columns[i].keys[UNITS_US];

        if (key->length == length + 4 && memcmp(key->json + 2, name, length) == 0)
            return &roof_columns[i];
    }
    return NULL;
}

/* Bytes of the UTF-8 character at s by its first byte; 0 for what can't be one. */
static size_t character_length(const char *s)
{
    unsigned char first = (unsigned char)*s;
    size_t length = first < 0x80 ? 1 : first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;

    if (first >= 0x80 && (first < 0xC2 || first > 0xF4))
        return 0;
    for (size_t i = 1; i < length; i++)
        if (((unsigned char)s[i] & 0xC0) != 0x80)
            return 0;
    return length;
}

/* Control characters of ASCII and of Latin-1, which some terminals obey. */
static bool is_control(const char *s, size_t length)
{
    unsigned char first = (unsigned char)s[0];

    return (length == 1 && (first < 0x20 || first == 0x7F)) ||
           (length == 2 && first == 0xC2 && (unsigned char)s[1] < 0xA0);
}

static size_t count_characters(const char *s)
{
    size_t count = 0;

    for (; *s; count++) {
        size_t length = character_length(s);

        s += length > 0 ? length : 1;
    }
    return count;
}

static void put_blanks(struct text *out, size_t count)
{
    for (size_t i = 0; i < count; i++)
        text_putc(out, ' ');
}

/* Appends s in exactly width columns. Of a longer one the end stays, behind "…": ids of
 * one layer often differ in their last characters only. What stands on the right is a
 * number, which is never cut. */
static void put_cell(struct text *out, const char *s, size_t width, bool right)
{
    size_t count = count_characters(s);
    bool cut = !right && count > width;
    size_t kept = cut ? width - 1 : count;

    if (right && count < width)
        put_blanks(out, width - count);
    if (cut)
        text_puts(out, "\xE2\x80\xA6");
    for (size_t i = kept; i < count; i++) {
        size_t length = character_length(s);

        s += length > 0 ? length : 1;
    }
    for (size_t i = 0; i < kept; i++) {
        size_t length = character_length(s);

        if (length == 0 || is_control(s, length))
            text_putc(out, '?');
        else
            text_append(out, s, length);
        s += length > 0 ? length : 1;
    }
    if (!right && count < width)
        put_blanks(out, width - count);
}

/* A number without its decimals where they don't fit; "-" when unknown. */
static void put_number(struct text *cell, const struct column *column,
                       const struct row *row, int width)
{
    double value = column_number(column, row);

    if (!isfinite(value)) {
        text_putc(cell, '-');
        return;
    }
    text_fixed(cell, value, column->decimals[columns_units(row->set)]);
    if (cell->length <= (size_t)width)
        return;
    text_clear(cell);
    text_fixed(cell, value, 0);
}

static void put_value(struct text *cell, const struct shown *how, const struct row *row)
{
    const struct column *column = find_column(how->column);
    const char *text = NULL;

    if (column->kind == COLUMN_NUMBER) {
        put_number(cell, column, row, how->width);
        return;
    }
    text = column_text(column, row);
    text_puts(cell, text ? text : "-");
}

static bool is_estimated_height(const struct shown *how, const struct roof *roof)
{
    return strcmp(how->column, "height_ft") == 0 &&
           (roof->estimated & 1u << ESTIMATE_HEIGHT) != 0;
}

static void put_row(struct roof_table *table, const struct row *row)
{
    struct text cell = TEXT_INIT;

    for (size_t i = 0; i < SHOWN; i++) {
        text_clear(&cell);
        if (is_estimated_height(&shown[i], row->roof)) {
            text_putc(&cell, '~');
            table->estimated = true;
        }
        put_value(&cell, &shown[i], row);
        if (i > 0)
            text_putc(&table->rows, ' ');
        if (!cell.failed)
            put_cell(&table->rows, cell.data, (size_t)shown[i].width, shown[i].right);
    }
    text_putc(&table->rows, '\n');
    table->rows.failed = table->rows.failed || cell.failed;
    text_release(&cell);
}

struct roof_table roof_table_start(size_t most)
{
    return (struct roof_table){.rows = TEXT_INIT, .most = most};
}

void roof_table_add(struct roof_table *table, const struct building *building,
                    const struct write_settings *set)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        struct row row = row_start(set, &building->roofs[i]);

        if (table->roofs++ < table->most)
            put_row(table, &row);
    }
}

static void put_titles(struct text *out)
{
    for (size_t i = 0; i < SHOWN; i++) {
        if (i > 0)
            text_putc(out, ' ');
        put_cell(out, shown[i].title, (size_t)shown[i].width, shown[i].right);
    }
    text_putc(out, '\n');
}

static void put_units(struct text *out, const struct unit_system *units)
{
    for (size_t i = 0; i < SHOWN; i++) {
        const struct column *column = find_column(shown[i].column);

        if (i > 0)
            text_putc(out, ' ');
        put_cell(out, measure_label(column->measure, units), (size_t)shown[i].width,
                 shown[i].right);
    }
    text_putc(out, '\n');
}

void roof_table_print(struct text *out, const struct roof_table *table,
                      const struct write_settings *set)
{
    if (table->roofs == 0)
        return;
    put_titles(out);
    put_units(out, set->units);
    text_append(out, table->rows.data, table->rows.length);
    if (table->roofs > table->most)
        text_printf(out, "\xE2\x80\xA6 and %zu more\n", table->roofs - table->most);
    text_puts(out, "corner to inter.: uplift of the zones, strength level\n");
    if (table->estimated)
        text_puts(out, "~ estimated from storeys\n");
    out->failed = out->failed || table->rows.failed;
}

void roof_table_release(struct roof_table *table)
{
    text_release(&table->rows);
}
