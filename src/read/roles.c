#include "read/roles.h"

#include <string.h>

#include "base/units.h"

/*
 * What each role changes, and common names of columns, the role's own first. Kept
 * short: a name is here only if it can hardly mean anything else. `building` isn't: in
 * most layers it holds a class ("house", "yes"), and taking that for a building would
 * join a city's roofs into one (fields.c decides).
 */
struct about {
    const char *effect; /* what the role changes, for people */
    const char *names[ROLE_NAMES_MAX];
};

static const struct about abouts[FIELD_ROLES] = {
    [ROLE_ID] = {"names the roof in every file; without one its place in the input does",
                 {"roof_id", "id", "outline_id", "footprint_id", "uid", "uuid", "guid",
                  "globalid", "osm_id", "objectid", "gid", "fid", "ogc_fid"}},
    [ROLE_NAME] = {"stands beside the id",
                   {"name", "roof_name", "building_name", "bldg_name"}},
    [ROLE_BUILDING] =
        {"roofs of one building share wind zones level by level, whole packs, and "
         "costs that are paid once",
         {"building_id", "bldg_id", "building_no", "bldg_no", "building_code",
          "bldg_code", "campus_building"}},
    [ROLE_GROUP] = {"district that the roof is counted to in groups.geojson: --group; no "
                    "column is one by its name",
                    {NULL}},
    [ROLE_HEIGHT] =
        {"mean roof height above grade: wind zones, uplift, work at height; estimated "
         "from storeys where it is missing",
         {"height", "roof_height", "mean_roof_height", "eave_height", "building_height",
          "bldg_height", "bldg_hgt", "hgt"}},
    [ROLE_STOREYS] =
        {"gives the height where that is missing, and half sheets by the storey rule",
         {"storeys", "stories", "storey", "num_storeys", "num_stories", "building:levels",
          "building_levels", "levels", "num_floors", "numfloors", "floors", "nb_etages"}},
    [ROLE_PARAPET] =
        {"its height: flashing and coping, and from 3 ft on all around milder corners",
         {"parapet", "parapet_height"}},
    [ROLE_OVERHANG] =
        {"the roof beyond the walls: its coefficients aren't built, so that edge zones "
         "of such a roof stay unknown",
         {"overhang", "roof_overhang"}},
    [ROLE_SLOPE] = {"rise over run: above 7 degrees zones and coefficients don't hold",
                    {"slope", "roof_slope"}},
    [ROLE_DECK] =
        {"which assemblies suit, length of screws, how half sheets run; without it "
         "steel is assumed",
         {"deck", "deck_type", "roof_deck"}},
    [ROLE_DECK_BEARING] =
        {"of the ribs, clockwise from north: which way sheets and boards run; without it "
         "met is met assumed where rows must cross the ribs of a steel deck",
         {"deck_bearing"}},
    [ROLE_WIND_SPEED] =
        {"3-second gust at strength level: uplift; without it uplift is unknown",
         {"wind_speed", "windspeed", "basic_wind_speed", "design_wind_speed"}},
    [ROLE_EXPOSURE] = {"velocity pressure; without it C is assumed",
                       {"exposure", "exposure_category"}},
    [ROLE_RISK] = {"rank of the roof; the wind speed should be from this category's map",
                   {"risk", "risk_category"}},
    [ROLE_USE] =
        {"what the building is for: how much a year of waiting costs in the plan",
         {"use", "roof_use", "building_use"}},
    [ROLE_ELEVATION] = {"of the ground above sea level: ground elevation factor",
                        {"elevation", "ground_elevation"}},
    [ROLE_TOPOGRAPHIC] = {"topographic factor Kzt: velocity pressure",
                          {"topographic", "kzt"}},
    [ROLE_ENCLOSURE] = {"internal pressure; without it enclosed is assumed",
                        {"enclosure"}},
    [ROLE_COVERS] = {"old covers on the roof: recover or tear off, debris",
                     {"covers", "roof_covers"}},
    [ROLE_EXISTING] = {"kind of the old cover: recover or tear off, weight of debris",
                       {"existing", "existing_roof"}},
    [ROLE_WET_SHARE] = {"share of the area that is wet: recover or tear off, boards",
                        {"wet_share"}},
    [ROLE_INSTALLED] = {"year of the present roof: its age in rank and plan",
                        {"installed", "year_installed", "install_year", "roof_year"}},
    [ROLE_CONDITION] =
        {"100 is new: rank and plan; at 30 or less the old cover is torn off",
         {"condition", "roof_condition"}},
    [ROLE_RATING] = {"uplift that the present roof resists: rank",
                     {"rating", "uplift_rating"}},
    [ROLE_RATING_BASIS] =
        {"what the rating is; an ultimate one is divided by the safety factor",
         {"rating_basis"}},
    [ROLE_PULLOUT] = {"ultimate pull-out of a fastener, tested: attachment",
                      {"pullout", "pull_out"}},
    [ROLE_METHOD] = {"how the new roof is attached; without it seam-fastened",
                     {"method"}},
    [ROLE_EDGE] =
        {"flashing and coping, edge metal, a gutter or a wall; whether a parapet runs "
         "all around",
         {"edge"}},
    [ROLE_EDGE_CONDITION] = {"100 is new: rank", {"edge_condition"}},
    [ROLE_PARAPET_THICKNESS] = {"of its wall: which coping is ordered",
                                {"parapet_thickness"}},
    [ROLE_WALL_LENGTH] = {"edge that ends at a wall: flashing in place of edge metal; "
                          "where heights of sections tell more, they count",
                          {"wall_length"}},
    [ROLE_HOLES] =
        {"whether holes in the outline are open to the wind: zones along their edges",
         {"holes"}},
    [ROLE_PENETRATIONS] = {"number of pipes and posts: boots to order", {"penetrations"}},
    [ROLE_DRAINS] = {"their number: drain targets and sumps to order", {"drains"}},
    [ROLE_TAPER] =
        {"slope of tapered insulation, rise over run, percent or inches a foot: panels, "
         "fill and crickets; without one the insulation is flat",
         {"taper"}},
    [ROLE_STACK] = {"thickness of insulation and boards: their layers, length of screws",
                    {"stack", "stack_thickness"}},
    [ROLE_EARLIEST] = {"first year in which the plan may do the roof", {"earliest"}},
    [ROLE_LATEST] = {"last year in which the plan may do the roof", {"latest"}},
    [ROLE_FIXED_YEAR] = {"the year in which the plan does the roof", {"fixed_year"}},
    [ROLE_REPLACEMENT_VALUE] = {"of the roof, in money: the condition index of the plan",
                                {"replacement_value"}},
    [ROLE_COST] = {"of the whole roof, all in, in the currency of the prices: beats what "
                   "the bill comes to",
                   {"cost", "roof_cost", "reroof_cost", "bid"}},
    [ROLE_COST_PER_AREA] =
        {"the same for a unit of the roof's area; where both are there, cost counts",
         {"cost_per_area", "cost_per", "bid_per"}},
    [ROLE_HEIGHT_SPREAD] = {"standard deviation of the height, for --draws",
                            {"height_spread"}},
    [ROLE_TRACE_SPREAD] = {"the same of the outline, moved in or out", {"trace_spread"}},
    [ROLE_WIND_SPEED_SPREAD] = {"the same of the wind speed", {"wind_speed_spread"}},
    [ROLE_EXPOSURE_SPREAD] = {"probability that the exposure is a category rougher, and "
                              "as much that it is one smoother",
                              {"exposure_spread"}},
    [ROLE_CONDITION_SPREAD] = {"standard deviation of the condition, in points of 100",
                               {"condition_spread"}},
    [ROLE_SERVICE_LIFE_SPREAD] = {"the same of the service life, in years",
                                  {"service_life_spread"}},
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
     {"building:levels", "building_levels", "osm_id", "osm_way_id", "building:part",
      NULL}},
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
    {"pct", "percent"}, {"percent", "percent"}, {"deg", "deg"},   {"ft2", "ft2"},
    {"sqft", "ft2"},    {"m2", "m2"},
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
    {ROLE_SLOPE, "ratio", 1, false},
    {ROLE_SLOPE, "percent", 0.01, false},
    {ROLE_SLOPE, "in/ft", 1.0 / 12, false},
    {ROLE_SLOPE, "deg", 1, true},
    {ROLE_TAPER, "ratio", 1, false},
    {ROLE_TAPER, "percent", 0.01, false},
    {ROLE_TAPER, "%", 0.01, false},
    {ROLE_TAPER, "in/ft", 1.0 / 12, false},
    {ROLE_TAPER, "in", 1.0 / 12, false}, /* of a foot: "1/4" */
    {ROLE_WET_SHARE, "ratio", 1, false},
    {ROLE_WET_SHARE, "percent", 0.01, false},
    {ROLE_WET_SHARE, "%", 0.01, false},
    {ROLE_DECK_BEARING, "deg", 1, false},
    {ROLE_COST_PER_AREA, "ft2", 1 / M2_PER_FT2, false},
    {ROLE_COST_PER_AREA, "m2", 1, false},
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
    return abouts[role].names;
}

const char *role_effect(enum field_role role)
{
    return abouts[role].effect;
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
    return units_of(role) != NULL || role == ROLE_COST_PER_AREA;
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
    if (role == ROLE_TAPER)
        return "ratio|percent|in/ft";
    if (role == ROLE_WET_SHARE)
        return "ratio|percent";
    if (role == ROLE_COST_PER_AREA)
        return "ft2|m2";
    return role == ROLE_DECK_BEARING ? "deg" : "";
}
