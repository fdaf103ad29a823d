#include "read/roles.h"

#include <string.h>

#include "base/units.h"

/*
 * Common names, each role's own first. Kept short: a name is here only if it can hardly
 * mean anything else. `building` isn't: in most layers it holds a class ("house",
 * "yes"), and taking that for a building would join a city's roofs into one
 * (fields.c decides).
 */
static const char *const common_names[FIELD_ROLES][ROLE_NAMES_MAX] = {
    [ROLE_ID] = {"roof_id", "id", "outline_id", "footprint_id", "uid", "uuid", "guid",
                 "globalid", "osm_id", "objectid", "gid", "fid", "ogc_fid"},
    [ROLE_NAME] = {"name", "roof_name", "building_name", "bldg_name"},
    [ROLE_BUILDING] = {"building_id", "bldg_id", "building_no", "bldg_no",
                       "building_code", "bldg_code", "campus_building"},
    [ROLE_HEIGHT] = {"height", "roof_height", "mean_roof_height", "eave_height",
                     "building_height", "bldg_height", "bldg_hgt", "hgt"},
    [ROLE_STOREYS] = {"storeys", "stories", "storey", "num_storeys", "num_stories",
                      "building:levels", "levels", "num_floors", "numfloors", "floors",
                      "nb_etages"},
    [ROLE_PARAPET] = {"parapet", "parapet_height"},
    [ROLE_OVERHANG] = {"overhang", "roof_overhang"},
    [ROLE_SLOPE] = {"slope", "roof_slope"},
    [ROLE_DECK] = {"deck", "deck_type", "roof_deck"},
    [ROLE_DECK_BEARING] = {"deck_bearing"},
    [ROLE_WIND_SPEED] = {"wind_speed", "windspeed", "basic_wind_speed",
                         "design_wind_speed"},
    [ROLE_EXPOSURE] = {"exposure", "exposure_category"},
    [ROLE_RISK] = {"risk", "risk_category"},
    [ROLE_ELEVATION] = {"elevation", "ground_elevation"},
    [ROLE_TOPOGRAPHIC] = {"topographic", "kzt"},
    [ROLE_ENCLOSURE] = {"enclosure"},
    [ROLE_COVERS] = {"covers", "roof_covers"},
    [ROLE_EXISTING] = {"existing", "existing_roof"},
    [ROLE_WET_SHARE] = {"wet_share"},
    [ROLE_INSTALLED] = {"installed", "year_installed", "install_year", "roof_year"},
    [ROLE_CONDITION] = {"condition", "roof_condition"},
    [ROLE_RATING] = {"rating", "uplift_rating"},
    [ROLE_RATING_BASIS] = {"rating_basis"},
    [ROLE_PULLOUT] = {"pullout", "pull_out"},
    [ROLE_METHOD] = {"method"},
    [ROLE_EDGE] = {"edge"},
    [ROLE_EDGE_CONDITION] = {"edge_condition"},
    [ROLE_WALL_LENGTH] = {"wall_length"},
    [ROLE_HOLES] = {"holes"},
    [ROLE_PENETRATIONS] = {"penetrations"},
    [ROLE_DRAINS] = {"drains"},
    [ROLE_STACK] = {"stack", "stack_thickness"},
    [ROLE_EARLIEST] = {"earliest"},
    [ROLE_LATEST] = {"latest"},
    [ROLE_FIXED_YEAR] = {"fixed_year"},
    [ROLE_REPLACEMENT_VALUE] = {"replacement_value"},
};

/*
 * Sources of the units (from memory): OpenStreetMap wiki, Key:height (metres unless the
 * value says otherwise); IGN, BD TOPO content description, BATIMENT.HAUTEUR (metres,
 * ground to gutter; 0 where it isn't known); City of Philadelphia, metadata of
 * LI_BUILDING_FOOTPRINTS (US feet); Overture Maps schema, buildings/building (metres).
 */
static const struct schema schemas[] = {
    {"OpenStreetMap",
     ROLE_HEIGHT,
     "height",
     "m",
     false,
     {"building:levels", "osm_id", "osm_way_id", "building:part", NULL}},
    {"IGN BD TOPO",
     ROLE_HEIGHT,
     "hauteur",
     "m",
     true,
     {"prec_plani", "prec_alti", "origin_bat", "nb_etages", NULL}},
    {"City of Philadelphia building footprints",
     ROLE_HEIGHT,
     "approx_hgt",
     "ft",
     false,
     {"max_hgt", "fcode", NULL}},
    {"Overture Maps", ROLE_HEIGHT, "height", "m", false, {"has_parts", NULL}},
    {NULL, ROLE_HEIGHT, NULL, NULL, false, {NULL}},
};

static const char *const osm_names[] = {"building:levels",
                                        "building:part",
                                        "building:use",
                                        "osm_id",
                                        "osm_way_id",
                                        "osm_type",
                                        "addr:street",
                                        "addr:housenumber",
                                        "other_tags",
                                        "roof:shape",
                                        NULL};

static const char *const own_names[] = {
    "roof_id",      "deck_bearing",   "exposure",   "enclosure",    "covers", "wet_share",
    "rating_basis", "edge_condition", "fixed_year", "penetrations", "drains", NULL};

struct suffix {
    const char *suffix;
    const char *unit;
};

static const struct suffix suffixes[] = {
    {"ft", "ft"},       {"feet", "ft"},         {"m", "m"},       {"metres", "m"},
    {"meters", "m"},    {"in", "in"},           {"inches", "in"}, {"cm", "cm"},
    {"mm", "mm"},       {"mph", "mph"},         {"ms", "m/s"},    {"mps", "m/s"},
    {"kmh", "km/h"},    {"kt", "kt"},           {"psf", "psf"},   {"pa", "Pa"},
    {"kpa", "kPa"},     {"lbf", "lbf"},         {"n", "N"},       {"kn", "kN"},
    {"pct", "percent"}, {"percent", "percent"}, {"deg", "deg"},
};

struct kind_units {
    enum field_kind kind;
    enum quantity quantity;
    const char *const *units;
    const char *text;
};

static const char *const length_units[] = {"ft", "in", "m", "cm", "mm", NULL};
static const char *const speed_units[] = {"mph", "m/s", "km/h", "kt", NULL};
static const char *const pressure_units[] = {"psf", "Pa", "kPa", NULL};
static const char *const force_units[] = {"lbf", "N", "kN", NULL};

static const struct kind_units kinds[] = {
    {FIELD_LENGTH, QUANTITY_LENGTH, length_units, "ft|in|m|cm|mm"},
    {FIELD_SPEED, QUANTITY_SPEED, speed_units, "mph|m/s|km/h|kt"},
    {FIELD_PRESSURE, QUANTITY_PRESSURE, pressure_units, "psf|Pa|kPa"},
    {FIELD_FORCE, QUANTITY_FORCE, force_units, "lbf|N|kN"},
};

struct role_unit_row {
    enum field_role role;
    const char *unit;
    double factor;
    bool degrees;
};

static const struct role_unit_row role_unit_rows[] = {
    {ROLE_SLOPE, "ratio", 1, false},        {ROLE_SLOPE, "percent", 0.01, false},
    {ROLE_SLOPE, "in/ft", 1.0 / 12, false}, {ROLE_SLOPE, "deg", 1, true},
    {ROLE_WET_SHARE, "ratio", 1, false},    {ROLE_WET_SHARE, "percent", 0.01, false},
    {ROLE_DECK_BEARING, "deg", 1, false},
};

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool same_column(const char *a, const char *b)
{
    while (*a && lower(*a) == lower(*b)) {
        a++;
        b++;
    }
    return *a == *b;
}

const char *const *role_common_names(enum field_role role)
{
    return common_names[role];
}

const struct schema *known_schemas(void)
{
    return schemas;
}

const char *const *osm_columns(void)
{
    return osm_names;
}

const char *const *own_columns(void)
{
    return own_names;
}

const char *suffix_unit(const char *suffix)
{
    for (size_t i = 0; i < COUNT(suffixes); i++)
        if (same_column(suffix, suffixes[i].suffix))
            return suffixes[i].unit;
    return NULL;
}

static const struct kind_units *units_of(enum field_role role)
{
    for (size_t i = 0; i < COUNT(kinds); i++)
        if (kinds[i].kind == field_role_kind(role))
            return &kinds[i];
    return NULL;
}

bool role_needs_unit(enum field_role role)
{
    return units_of(role) != NULL;
}

bool role_unit(enum field_role role, const char *name, struct field *field)
{
    const struct kind_units *units = units_of(role);

    for (size_t i = 0; i < COUNT(role_unit_rows); i++) {
        const struct role_unit_row *row = &role_unit_rows[i];

        if (row->role == role && same_column(row->unit, name)) {
            field->unit = row->unit;
            field->factor = row->factor;
            field->degrees = row->degrees;
            return true;
        }
    }
    for (size_t i = 0; units && units->units[i]; i++) {
        if (same_column(units->units[i], name) &&
            unit_find(units->units[i], units->quantity, &field->factor)) {
            field->unit = units->units[i];
            field->degrees = false;
            return true;
        }
    }
    return false;
}

const char *role_units(enum field_role role)
{
    const struct kind_units *units = units_of(role);

    if (units)
        return units->text;
    if (role == ROLE_SLOPE)
        return "ratio|percent|in/ft|deg";
    if (role == ROLE_WET_SHARE)
        return "ratio|percent";
    return role == ROLE_DECK_BEARING ? "deg" : "";
}
