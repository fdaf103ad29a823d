#ifndef OUTLAY_WRITE_COLUMNS_H
#define OUTLAY_WRITE_COLUMNS_H

/**
 * @file write/columns.h
 * The one table of columns: which values a row of zones and a row of roofs has, how they
 * are called, in which unit and with how many decimals they are printed. GeoJSON, CSV,
 * layers and the terminal all walk through it, so that they can't disagree.
 *
 * An unknown value is NAN or NULL here; the formats print null or nothing, never 0.
 * A zone that a zoned roof doesn't have covers an area of 0, which is known.
 *
 * Everything is constant data in static storage; safe from any thread.
 */

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "roof/roof.h"
#include "write/write.h"

/** What one row is made from. */
struct row {
    const struct write_settings *set;
    const struct roof *roof;
    const struct zone *zone;                /**< NULL in a row of a roof */
    const struct zone *by_role[ZONE_ROLES]; /**< NULL for what the roof doesn't have */
};

enum column_kind {
    COLUMN_TEXT, /**< anything, from the input or the catalogue: to be escaped */
    COLUMN_WORD, /**< one of our own words: plain ASCII without quotes */
    COLUMN_NUMBER,
    COLUMN_NAMES /**< our own words, written as one text with "; " between them */
};

enum measure {
    MEASURE_NONE,
    MEASURE_LENGTH,
    MEASURE_SMALL, /**< lengths in in or mm */
    MEASURE_AREA,
    MEASURE_PRESSURE,
    MEASURE_FORCE,
    MEASURE_SPEED,
    MEASURE_VOLUME,
    MEASURE_INSULANCE /**< R-values in ft2 h F/Btu, RSI in m2 K/W */
};

/** A column's name inside the JSON punctuation that stands before its value. */
struct column_key {
    const char *json; /**< `,"area_ft2":` */
    size_t length;
};

/** Unit systems as an index into a column's pairs. */
enum { UNITS_US, UNITS_SI, UNIT_SYSTEMS };

struct column {
    struct column_key keys[UNIT_SYSTEMS];
    enum column_kind kind;
    enum measure measure;
    int decimals[UNIT_SYSTEMS];
    bool summed;         /**< of a roof's row: a sum over roofs makes sense */
    enum zone_role role; /**< of a roof's row: which zone; ZONE_ROLES for none */
    const char *(*text)(const struct row *row);
    double (*number)(const struct row *row); /**< SI */
    uint64_t (*bits)(const struct row *row); /**< of a list */
    const char *(*bit_name)(int bit);
};

extern const struct column zone_columns[];
extern const size_t zone_column_count;
extern const struct column roof_columns[];
extern const size_t roof_column_count;

/** What a roof's feature has beside roof_columns, behind them: the roof's place in the
 *  ranking, which is known once all roofs are. They have names alone. */
enum { PLACE_COLUMNS = 4 };

/** Most columns that either table may have. */
enum { COLUMNS_MAX = 80 };

/** Starts the rows of a roof: zone is NULL until the caller sets it. */
struct row row_start(const struct write_settings *set, const struct roof *roof);

/** UNITS_US or UNITS_SI. */
int columns_units(const struct write_settings *set);

/** Appends the column's name without its JSON punctuation. */
void column_name(struct text *out, const struct column *column, int units);

/** The column's text, or NULL. Only for COLUMN_TEXT and COLUMN_WORD. */
const char *column_text(const struct column *column, const struct row *row);

/** The column's number in the unit of the settings, or NAN. */
double column_number(const struct column *column, const struct row *row);

/** Appends the names of a COLUMN_NAMES with "; " between them. */
void column_names(struct text *out, const struct column *column, const struct row *row);

/** What a sample's values are printed as. */
enum measure measure_of_quantity(enum quantity quantity);

/** SI value of the unit that a measure is printed in; 1 for MEASURE_NONE. */
double measure_factor(enum measure measure, const struct unit_system *units);

/** Ends the name of a measure's column: "ft2"; "" for MEASURE_NONE. */
const char *measure_suffix(enum measure measure, const struct unit_system *units);

/** "Pa", for people; "" where there is no unit. */
const char *measure_label(enum measure measure, const struct unit_system *units);

/** Fasteners are whole: rounded up, but for what is only the dust of sums. */
double fasteners_whole(double count);

#endif
