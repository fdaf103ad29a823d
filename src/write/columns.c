#include "write/columns.h"

#include <math.h>

#include "roof/finding.h"
#include "write/cells.h"

/* Names stand whole in the source, so that searching for "area_ft2" finds them; that
 * their ends are the unit systems' own is a test. */
#define KEY(name)                         \
    {                                     \
        ",\"" name "\":", sizeof name + 3 \
    }

#define TEXT_AS(kind_, name, getter)                                   \
    {                                                                  \
        .keys = {KEY(name), KEY(name)}, .kind = kind_, .text = getter, \
        .role = ZONE_ROLES                                             \
    }

#define TEXT(name, getter) TEXT_AS(COLUMN_TEXT, name, getter)
#define WORD(name, getter) TEXT_AS(COLUMN_WORD, name, getter)

#define NUMBER_OF(role_, sums, us, si, measure_, us_decimals, si_decimals, getter) \
    {                                                                              \
        .keys = {KEY(us), KEY(si)}, .kind = COLUMN_NUMBER, .measure = measure_,    \
        .decimals = {us_decimals, si_decimals}, .summed = sums, .role = role_,     \
        .number = getter                                                           \
    }

#define NUMBER(us, si, measure, us_decimals, si_decimals, getter) \
    NUMBER_OF(ZONE_ROLES, false, us, si, measure, us_decimals, si_decimals, getter)

/* A number that may be added up over roofs. */
#define SUM(us, si, measure, us_decimals, si_decimals, getter) \
    NUMBER_OF(ZONE_ROLES, true, us, si, measure, us_decimals, si_decimals, getter)

#define PLAIN(name, decimals, getter) \
    NUMBER(name, name, MEASURE_NONE, decimals, decimals, getter)

#define EACH_ZONE(sums, us, si, measure, us_decimals, si_decimals, getter)          \
    NUMBER_OF(ZONE_CORNER, sums, "corner_" us, "corner_" si, measure, us_decimals,  \
              si_decimals, getter),                                                 \
        NUMBER_OF(ZONE_PERIMETER, sums, "perimeter_" us, "perimeter_" si, measure,  \
                  us_decimals, si_decimals, getter),                                \
        NUMBER_OF(ZONE_FIELD, sums, "field_" us, "field_" si, measure, us_decimals, \
                  si_decimals, getter),                                             \
        NUMBER_OF(ZONE_INTERIOR, sums, "interior_" us, "interior_" si, measure,     \
                  us_decimals, si_decimals, getter)

#define NAMES(name, getter, namer)                                            \
    {                                                                         \
        .keys = {KEY(name), KEY(name)}, .kind = COLUMN_NAMES, .bits = getter, \
        .bit_name = namer, .role = ZONE_ROLES                                 \
    }

#define PLACE(name)                      \
    {                                    \
        .keys = { KEY(name), KEY(name) } \
    }

#define LENGTH MEASURE_LENGTH
#define SMALL MEASURE_SMALL
#define AREA MEASURE_AREA
#define PRESSURE MEASURE_PRESSURE

const struct column zone_columns[] = {
    TEXT("roof_id", cell_roof_id),
    TEXT("name", cell_name),
    TEXT("building", cell_building),
    WORD("zone", cell_zone),
    WORD("standard", cell_standard),
    WORD("standard_zone", cell_label),
    WORD("coefficients", cell_basis),
    NUMBER("area_ft2", "area_m2", AREA, 1, 2, cell_zone_area),
    PLAIN("share", 4, cell_share),
    NUMBER("uplift_psf", "uplift_pa", PRESSURE, 1, 0, cell_uplift),
    NUMBER("allowable_psf", "allowable_pa", PRESSURE, 1, 0, cell_allowable),
    NUMBER("required_psf", "required_pa", PRESSURE, 1, 0, cell_required),
    WORD("method", cell_method),
    TEXT("assembly", cell_assembly),
    WORD("state", cell_state),
    WORD("edge_rule", cell_edge_rule),
    WORD("quantity_basis", cell_quantity_basis),
    PLAIN("fasteners", 0, cell_fasteners),
    NUMBER("row_spacing_ft", "row_spacing_m", LENGTH, 2, 3, cell_row_spacing),
    NUMBER("fastener_spacing_in", "fastener_spacing_mm", SMALL, 1, 0,
           cell_fastener_spacing),
    PLAIN("per_board", 0, cell_per_board),
    NAMES("estimated", cell_estimated, estimate_name),
    NAMES("assumed", cell_assumed, assumption_name),
    NAMES("open", cell_open, open_item_name),
    NAMES("verified", cell_verified, finding_kind_name),
    TEXT("reason", cell_reason),
    NUMBER("capacity_psf", "capacity_pa", PRESSURE, 1, 0, cell_capacity),
    PLAIN("board_fasteners", 0, cell_board_fasteners),
    NUMBER("ribbon_spacing_in", "ribbon_spacing_mm", SMALL, 1, 0, cell_ribbon_spacing),
};

const struct column roof_columns[] = {
    TEXT("roof_id", cell_roof_id),
    TEXT("name", cell_name),
    TEXT("building", cell_building),
    NUMBER("height_ft", "height_m", LENGTH, 1, 2, cell_height),
    PLAIN("storeys", 1, cell_storeys),
    SUM("area_ft2", "area_m2", AREA, 1, 2, cell_roof_area),
    EACH_ZONE(true, "ft2", "m2", AREA, 1, 2, cell_role_area),
    SUM("edge_length_ft", "edge_length_m", LENGTH, 1, 2, cell_edge_length),
    PLAIN("corners", 0, cell_corners),
    NUMBER("zone_width_ft", "zone_width_m", LENGTH, 2, 3, cell_zone_width),
    WORD("standard", cell_standard),
    NUMBER("wind_speed_mph", "wind_speed_mps", MEASURE_SPEED, 0, 1, cell_wind_speed),
    WORD("exposure", cell_exposure),
    WORD("coefficients", cell_roof_basis),
    EACH_ZONE(false, "uplift_psf", "uplift_pa", PRESSURE, 1, 0, cell_uplift),
    EACH_ZONE(false, "required_psf", "required_pa", PRESSURE, 1, 0, cell_required),
    WORD("method", cell_method),
    TEXT("assembly", cell_roof_assembly),
    WORD("state", cell_roof_state),
    TEXT("reason", cell_roof_reason),
    WORD("edge_rule", cell_roof_edge_rule),
    WORD("quantity_basis", cell_roof_quantity_basis),
    SUM("fasteners", "fasteners", MEASURE_NONE, 0, 0, cell_roof_fasteners),
    SUM("board_fasteners", "board_fasteners", MEASURE_NONE, 0, 0,
        cell_roof_board_fasteners),
    PLAIN("half_sheets", 0, cell_half_sheets),
    EACH_ZONE(false, "row_spacing_ft", "row_spacing_m", LENGTH, 2, 3, cell_row_spacing),
    EACH_ZONE(false, "fastener_spacing_in", "fastener_spacing_mm", SMALL, 1, 0,
              cell_fastener_spacing),
    EACH_ZONE(false, "per_board", "per_board", MEASURE_NONE, 0, 0, cell_per_board),
    SUM("metal_edge_ft", "metal_edge_m", LENGTH, 1, 2, cell_metal_edge),
    SUM("gutter_edge_ft", "gutter_edge_m", LENGTH, 1, 2, cell_gutter_edge),
    SUM("parapet_edge_ft", "parapet_edge_m", LENGTH, 1, 2, cell_parapet_edge),
    SUM("wall_edge_ft", "wall_edge_m", LENGTH, 1, 2, cell_wall_edge),
    SUM("curb_edge_ft", "curb_edge_m", LENGTH, 1, 2, cell_curb_edge),
    SUM("joint_edge_ft", "joint_edge_m", LENGTH, 1, 2, cell_joint_edge),
    SUM("continuous_edge_ft", "continuous_edge_m", LENGTH, 1, 2, cell_continuous_edge),
    NUMBER("taper_mean_in", "taper_mean_mm", SMALL, 2, 1, cell_taper_mean),
    SUM("taper_ft3", "taper_m3", MEASURE_VOLUME, 1, 3, cell_taper_volume),
    NUMBER("insulation_mean_r", "insulation_mean_rsi", MEASURE_INSULANCE, 1, 2,
           cell_insulation_mean),
    NUMBER("insulation_effective_r", "insulation_effective_rsi", MEASURE_INSULANCE, 1, 2,
           cell_insulation_effective),
    NAMES("estimated", cell_estimated, estimate_name),
    NAMES("assumed", cell_assumed, assumption_name),
    NAMES("open", cell_open, open_item_name),
    NAMES("verified", cell_verified, finding_kind_name),
    SUM("problems", "problems", MEASURE_NONE, 0, 0, cell_problems),
    PLACE("rank"),
    PLACE("rank_group"),
    PLACE("score"),
    PLACE("rank_reason"),
};

const size_t zone_column_count = sizeof zone_columns / sizeof zone_columns[0];
const size_t roof_column_count =
    sizeof roof_columns / sizeof roof_columns[0] - PLACE_COLUMNS;

_Static_assert(sizeof zone_columns / sizeof zone_columns[0] <= COLUMNS_MAX,
               "zone columns");
_Static_assert(sizeof roof_columns / sizeof roof_columns[0] <= COLUMNS_MAX,
               "roof columns");

struct row row_start(const struct write_settings *set, const struct roof *roof)
{
    struct row row = {.set = set, .roof = roof};

    for (size_t i = 0; i < roof->zone_count; i++)
        row.by_role[roof->zones[i].role] = &roof->zones[i];
    return row;
}

int columns_units(const struct write_settings *set)
{
    return set->units == &unit_system_si ? UNITS_SI : UNITS_US;
}

void column_name(struct text *out, const struct column *column, int units)
{
    const struct column_key *key = &column->keys[units];

    text_append(out, key->json + 2, key->length - 4); /* between `,"` and `":` */
}

const char *column_text(const struct column *column, const struct row *row)
{
    const char *text = column->text(row);

    return text && *text ? text : NULL;
}

static const struct unit *measure_unit(enum measure measure,
                                       const struct unit_system *units)
{
    switch (measure) {
    case MEASURE_LENGTH:
        return &units->length;
    case MEASURE_SMALL:
        return &units->small;
    case MEASURE_AREA:
        return &units->area;
    case MEASURE_PRESSURE:
        return &units->pressure;
    case MEASURE_FORCE:
        return &units->force;
    case MEASURE_SPEED:
        return &units->speed;
    case MEASURE_VOLUME:
        return &units->volume;
    case MEASURE_INSULANCE:
        return &units->insulance;
    case MEASURE_NONE:
        break;
    }
    return NULL;
}

enum measure measure_of_quantity(enum quantity quantity)
{
    switch (quantity) {
    case QUANTITY_LENGTH:
        return MEASURE_LENGTH;
    case QUANTITY_AREA:
        return MEASURE_AREA;
    case QUANTITY_SPEED:
        return MEASURE_SPEED;
    case QUANTITY_PRESSURE:
        return MEASURE_PRESSURE;
    case QUANTITY_FORCE:
        return MEASURE_FORCE;
    case QUANTITY_COUNT:
    case QUANTITY_SLOPE:
        break;
    }
    return MEASURE_NONE;
}

double measure_factor(enum measure measure, const struct unit_system *units)
{
    const struct unit *unit = measure_unit(measure, units);

    return unit ? unit->factor : 1;
}

const char *measure_suffix(enum measure measure, const struct unit_system *units)
{
    const struct unit *unit = measure_unit(measure, units);

    return unit ? unit->suffix : "";
}

const char *measure_label(enum measure measure, const struct unit_system *units)
{
    const struct unit *unit = measure_unit(measure, units);

    return unit ? unit->label : "";
}

double column_number(const struct column *column, const struct row *row)
{
    double value = 0;

    if (column->role == ZONE_ROLES) {
        value = column->number(row);
    } else {
        struct row of_zone = *row;

        of_zone.zone = row->by_role[column->role];
        value = column->number(&of_zone);
    }
    if (!isfinite(value))
        return NAN;
    return value / measure_factor(column->measure, row->set->units);
}

void column_names(struct text *out, const struct column *column, const struct row *row)
{
    uint64_t bits = column->bits(row);
    bool any = false;

    for (int bit = 0; bits; bit++, bits >>= 1) {
        const char *name = bits & 1 ? column->bit_name(bit) : NULL;

        if (!name)
            continue;
        if (any)
            text_puts(out, "; ");
        text_puts(out, name);
        any = true;
    }
}

double fasteners_whole(double count)
{
    return ceil(count - 1e-9);
}
