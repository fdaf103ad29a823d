#include <math.h>
#include <string.h>

#include "draw/plan_page.h"

const char *figure_unit(const char *suffix)
{
    static const char *const written[][2] = {
        {"ft2", "ft\xC2\xB2"}, {"m2", "m\xC2\xB2"}, {"m3", "m\xC2\xB3"},
        {"yd3", "yd\xC2\xB3"}, {"pa", "Pa"},        {"mps", "m/s"},
    };
    for (size_t i = 0; i < sizeof written / sizeof written[0]; i++)
        if (strcmp(suffix, written[i][0]) == 0)
            return written[i][1];
    return suffix;
}

static const struct column *find_column(const struct column *columns, size_t count,
                                        const char *name)
{
    size_t length = strlen(name);
    for (size_t i = 0; i < count; i++) {
        /* ,"NAME": */
        const struct column_key *key = &columns[i].keys[UNITS_US];
        if (key->length == length + 4 && memcmp(key->json + 2, name, length) == 0)
            return &columns[i];
    }
    return NULL;
}

void figure_put(struct text *out, const struct column *columns, size_t count,
                const char *name, const struct row *row, bool unit)
{
    const struct column *column = find_column(columns, count, name);
    double value = column ? column_number(column, row) : NAN;
    if (!column || !isfinite(value)) {
        text_puts(out, "-");
        return;
    }
    text_grouped(out, value, column->decimals[columns_units(row->set)]);
    if (unit && column->measure != MEASURE_NONE)
        text_printf(out, " %s",
                    figure_unit(measure_suffix(column->measure, row->set->units)));
}

/* Nearest half inch; a builder's tape has no tenths of a foot. */
static void put_feet(struct text *out, double metres)
{
    long halves = lround(metres / M_PER_IN * 2);
    long feet = halves / 24, inches = halves % 24 / 2;

    if (feet > 0)
        text_printf(out, "%ld'-", feet);
    if (feet > 0 || inches > 0 || halves % 2 == 0)
        text_printf(out, "%ld%s", inches, halves % 2 ? " " : "");
    text_printf(out, "%s\"", halves % 2 ? "1/2" : "");
}

void figure_length(struct text *out, double metres, const struct write_settings *set)
{
    if (columns_units(set) == UNITS_US)
        put_feet(out, metres);
    else
        text_printf(out, "%ld", lround(metres * 1000));
}
