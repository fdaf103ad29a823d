#include <math.h>
#include <stdio.h>
#include <string.h>

#include "roof/caution.h"
#include "write/clash.h"
#include "write/columns.h"
#include "write/coordinates.h"
#include "write/output.h"
#include "write/write.h"

#define PUT(out, literal) text_append(out, literal, sizeof literal - 1)

static const char joint[] = ",\n";

void geojson_open(struct text *out, const char *layer, const struct write_settings *set)
{
    PUT(out, "{\"type\":\"FeatureCollection\",\"name\":");
    text_json(out, layer);
    PUT(out, ",\"caution\":");
    text_json(out, caution_text());
    if (set->catalog_built_in)
        PUT(out, ",\"ratings\":\"invented: those of the built-in catalogue\"");
    PUT(out, ",\"standard\":");
    text_json(out, set->standard->title);
    PUT(out, ",\"version\":\"outlay " OUTLAY_VERSION "\",\"features\":[");
}

void geojson_close(struct text *out)
{
    PUT(out, "\n]}\n");
}

/* As in every other format, since readers take a column's type from its values: a list,
 * of which some are empty, has none. */
static void put_names(struct text *out, const struct column *column,
                      const struct row *row)
{
    if (column->bits(row) == 0) {
        PUT(out, "null");
        return;
    }
    text_putc(out, '"');
    column_names(out, column, row);
    text_putc(out, '"');
}

static void put_word(struct text *out, const char *word)
{
    if (!word) {
        PUT(out, "null");
        return;
    }
    text_putc(out, '"');
    text_puts(out, word);
    text_putc(out, '"');
}

static void put_value(struct text *out, const struct column *column,
                      const struct row *row, int units)
{
    double number = NAN;

    switch (column->kind) {
    case COLUMN_TEXT:
        text_json(out, column_text(column, row));
        break;
    case COLUMN_WORD:
        put_word(out, column_text(column, row));
        break;
    case COLUMN_NAMES:
        put_names(out, column, row);
        break;
    case COLUMN_NUMBER:
        number = column_number(column, row);
        if (isfinite(number))
            text_fixed(out, number, column->decimals[units]);
        else
            PUT(out, "null");
        break;
    }
}

/* Appends the key without the comma of the first member. */
static void put_key(struct text *out, const struct column_key *key, bool first)
{
    text_append(out, key->json + first, key->length - first);
}

static void put_zone(struct text *out, const struct row *row, int units)
{
    PUT(out, "{\"type\":\"Feature\",\"properties\":{");
    for (size_t i = 0; i < zone_column_count; i++) {
        put_key(out, &zone_columns[i].keys[units], i == 0);
        put_value(out, &zone_columns[i], row, units);
    }
    PUT(out, "},\"geometry\":");
    coordinates_print(out, row->zone ? &row->zone->lonlat : &row->roof->lonlat);
}

void geojson_zones(struct text *out, const struct building *building,
                   const struct write_settings *set)
{
    int units = columns_units(set);

    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];
        struct row row = row_start(set, roof);

        for (size_t z = 0; z < roof->zone_count; z++) {
            row.zone = &roof->zones[z];
            text_puts(out, joint);
            put_zone(out, &row, units);
            text_putc(out, '}');
        }
    }
}

static void put_line(struct text *out, const struct row *row, int units)
{
    put_zone(out, row, units);
    PUT(out, ",\"caution\":\"planning figures, not a design\"}\n");
}

void geojson_zone_lines(struct text *out, const struct building *building,
                        const struct write_settings *set)
{
    int units = columns_units(set);

    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];
        struct row row = row_start(set, roof);

        if (roof->zone_count == 0)
            put_line(out, &row, units);
        for (size_t z = 0; z < roof->zone_count; z++) {
            row.zone = &roof->zones[z];
            put_line(out, &row, units);
        }
    }
}

/* The key of a result, behind as many prefixes as it needs. */
static void put_free_key(struct text *out, const struct column_key *key, bool first,
                         unsigned prefixes)
{
    if (prefixes == 0) {
        put_key(out, key, first);
        return;
    }
    text_append(out, key->json + first, 2u - first); /* `,"` */
    for (unsigned i = 0; i < prefixes; i++)
        PUT(out, "outlay_");
    text_append(out, key->json + 2, key->length - 2);
}

/* The key of a sample's member, `,"sampled_height_source":`, behind "outlay_" where the
 * roof has a field of that name, as a layer that was sampled before has. */
static void put_sample_key(struct text *out, const char *properties,
                           const struct sampled *sample, const char *end)
{
    char key[80];

    snprintf(key, sizeof key, "\"sampled_%s%s\":", sample->role, end);
    text_printf(out, ",%s%s", strstr(properties, key) ? "\"outlay_" : "\"", key + 1);
}

static void put_sample_number(struct text *out, const char *properties,
                              const struct sampled *sample, const char *what,
                              double value, const struct write_settings *set)
{
    enum measure measure = measure_of_quantity(sample->quantity);
    const char *suffix = measure_suffix(measure, set->units);
    char end[40];

    snprintf(end, sizeof end, "%s%s%s", what, *suffix ? "_" : "", suffix);
    put_sample_key(out, properties, sample, end);
    if (isfinite(value))
        text_number(out, value / measure_factor(measure, set->units), 3);
    else
        PUT(out, "null");
}

static void put_sample(struct text *out, const char *properties,
                       const struct sampled *sample, const struct write_settings *set)
{
    put_sample_key(out, properties, sample, "_source");
    text_json(out, sample->source);
    put_sample_key(out, properties, sample, "_statistic");
    text_json(out, sample->statistic);
    put_sample_key(out, properties, sample, "_count");
    text_printf(out, "%zu", sample->count);
    if (isfinite(sample->value)) {
        put_sample_number(out, properties, sample, "", sample->value, set);
        put_sample_number(out, properties, sample, "_spread", sample->spread, set);
    }
    if (sample->flatness) {
        put_sample_key(out, properties, sample, "_kind");
        text_json(out, flatness_name((int)sample->flatness));
    }
    put_sample_key(out, properties, sample, "_weak");
    text_json(out, sample->weak);
}

static void put_roof(struct text *out, const struct row *row,
                     const struct clash_index *index)
{
    const char *properties = row->roof->properties ? row->roof->properties : "";
    unsigned char prefixes[COLUMNS_MAX];

    clash_find(index, properties, prefixes);
    PUT(out, "{\"type\":\"Feature\",\"properties\":{");
    text_puts(out, properties);
    for (size_t i = 0; i < roof_column_count + PLACE_COLUMNS; i++) {
        put_free_key(out, &roof_columns[i].keys[index->units], i == 0 && !*properties,
                     prefixes[i]);
        if (i < roof_column_count)
            put_value(out, &roof_columns[i], row, index->units);
        else
            PUT(out, OUTPUT_BLANK);
    }
    for (size_t i = 0; i < row->roof->sample_count; i++)
        put_sample(out, properties, &row->roof->samples[i], row->set);
    PUT(out, "},\"geometry\":");
    coordinates_print(out, &row->roof->lonlat);
    text_putc(out, '}');
}

void geojson_roofs(struct text *out, const struct building *building,
                   const struct write_settings *set)
{
    struct clash_index index;

    clash_index_init(&index, columns_units(set));
    for (size_t i = 0; i < building->roof_count; i++) {
        struct row row = row_start(set, &building->roofs[i]);

        text_puts(out, joint);
        put_roof(out, &row, &index);
    }
}
