#include "read/value.h"

#include <limits.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include "base/measure.h"
#include "base/number.h"
#include "base/print.h"
#include "base/text.h"
#include "base/units.h"
#include "read/roles.h"
#include "roof/taper.h"

/* Where a role's value goes. */
enum slot { SLOT_TEXT, SLOT_DOUBLE, SLOT_INT, SLOT_NAME };

/* Limits of what is believed, in SI (ours: wide enough for any real roof, narrow enough
 * to catch a wrong unit). */
struct rule {
    enum slot slot;
    size_t offset; /* in struct roof for texts, else in struct attributes */
    double least, most;
    const char *limits; /* the range for people */
    const char *(*name_of)(int value);
};

#define AT(member) offsetof(struct attributes, member)
#define YEARS 1800, 2300, "1800 to 2300", NULL

static const double mph_limit = 300 * MPS_PER_MPH;

/* Of a slope whose unit is named: tan 89 degrees. */
static const double slope_limit = 57.3;

static const struct rule rules[FIELD_ROLES] = {
    [ROLE_ID] = {SLOT_TEXT, offsetof(struct roof, id), 0, 0, "", NULL},
    [ROLE_NAME] = {SLOT_TEXT, offsetof(struct roof, name), 0, 0, "", NULL},
    [ROLE_BUILDING] = {SLOT_TEXT, offsetof(struct roof, building), 0, 0, "", NULL},
    [ROLE_GROUP] = {SLOT_TEXT, offsetof(struct roof, group), 0, 0, "", NULL},
    [ROLE_HEIGHT] = {SLOT_DOUBLE, AT(height), 1, 1000, "1 m to 1,000 m", NULL},
    [ROLE_STOREYS] = {SLOT_DOUBLE, AT(storeys), 0.5, 200, "0.5 to 200", NULL},
    [ROLE_PARAPET] = {SLOT_DOUBLE, AT(parapet), 0, 10, "0 to 10 m", NULL},
    [ROLE_OVERHANG] = {SLOT_DOUBLE, AT(overhang), 0, 20, "0 to 20 m", NULL},
    [ROLE_SLOPE] = {SLOT_DOUBLE, AT(slope), 0, 1,
                    "0 to 1, rise over run; in other units 0 to 89 degrees", NULL},
    [ROLE_DECK] = {SLOT_NAME, AT(deck), 0, 0, "", deck_name},
    [ROLE_DECK_BEARING] = {SLOT_DOUBLE, AT(deck_bearing), -360, 360,
                           "-360 to 360 degrees", NULL},
    [ROLE_WIND_SPEED] = {SLOT_DOUBLE, AT(wind_speed), 1, 300 * MPS_PER_MPH,
                         "1 m/s to 134 m/s (300 mph)", NULL},
    [ROLE_EXPOSURE] = {SLOT_NAME, AT(exposure), 0, 0, "", exposure_name},
    [ROLE_RISK] = {SLOT_INT, AT(risk), 1, 4, "1 to 4 or I to IV", NULL},
    [ROLE_USE] = {SLOT_NAME, AT(use), 0, 0, "", building_use_name},
    [ROLE_ELEVATION] = {SLOT_DOUBLE, AT(elevation), -500, 6000, "-500 to 6,000 m", NULL},
    [ROLE_TOPOGRAPHIC] = {SLOT_DOUBLE, AT(topographic), 1, 5, "1 to 5", NULL},
    [ROLE_ENCLOSURE] = {SLOT_NAME, AT(enclosure), 0, 0, "", enclosure_name},
    [ROLE_COVERS] = {SLOT_INT, AT(covers), 0, 20, "0 to 20", NULL},
    [ROLE_EXISTING] = {SLOT_NAME, AT(existing), 0, 0, "", existing_kind_name},
    [ROLE_WET_SHARE] = {SLOT_DOUBLE, AT(wet_share), 0, 1, "0 to 1", NULL},
    [ROLE_INSTALLED] = {SLOT_INT, AT(installed), YEARS},
    [ROLE_CONDITION] = {SLOT_DOUBLE, AT(condition), 0, 100, "0 to 100", NULL},
    [ROLE_RATING] = {SLOT_DOUBLE, AT(rating), 1, 50000, "1 Pa to 50 kPa (1,044 psf)",
                     NULL},
    [ROLE_RATING_BASIS] = {SLOT_NAME, AT(rating_basis), 0, 0, "", rating_basis_name},
    [ROLE_PULLOUT] = {SLOT_DOUBLE, AT(pullout), 1, 50000, "1 N to 50 kN (11,240 lbf)",
                      NULL},
    [ROLE_METHOD] = {SLOT_NAME, AT(method), 0, 0, "", method_name},
    [ROLE_EDGE] = {SLOT_NAME, AT(edge), 0, 0, "", own_edge_name},
    [ROLE_EDGE_CONDITION] = {SLOT_DOUBLE, AT(edge_condition), 0, 100, "0 to 100", NULL},
    [ROLE_PARAPET_THICKNESS] = {SLOT_DOUBLE, AT(parapet_thickness), 0.05, 2,
                                "50 mm to 2 m", NULL},
    [ROLE_WALL_LENGTH] = {SLOT_DOUBLE, AT(wall_length), 0, 100000, "0 to 100 km", NULL},
    [ROLE_HOLES] = {SLOT_NAME, AT(holes), 0, 0, "", hole_kind_name},
    [ROLE_PENETRATIONS] = {SLOT_INT, AT(penetrations), 0, 1e6, "0 to 1,000,000", NULL},
    [ROLE_DRAINS] = {SLOT_INT, AT(drains), 0, 1e6, "0 to 1,000,000", NULL},
    [ROLE_STACK] = {SLOT_DOUBLE, AT(stack), 0, 2, "0 to 2 m", NULL},
    [ROLE_TAPER] =
        {SLOT_DOUBLE, AT(taper), TAPER_LEAST, TAPER_MOST,
         "0.5 to 8.4 percent (1/16 to 1 in/ft); a bare number is rise over run", NULL},
    [ROLE_EARLIEST] = {SLOT_INT, AT(earliest), YEARS},
    [ROLE_LATEST] = {SLOT_INT, AT(latest), YEARS},
    [ROLE_FIXED_YEAR] = {SLOT_INT, AT(fixed_year), YEARS},
    [ROLE_REPLACEMENT_VALUE] = {SLOT_DOUBLE, AT(replacement_value), 0, 1e13, "0 to 1e13",
                                NULL},
    [ROLE_COST] = {SLOT_DOUBLE, AT(cost), 1, 1e13, "1 to 1e13", NULL},
    [ROLE_COST_PER_AREA] = {SLOT_DOUBLE, AT(cost_per_area), 0.1, 1e6,
                            "0.1 to 1e6 for a m2", NULL},
    [ROLE_HEIGHT_SPREAD] = {SLOT_DOUBLE, AT(spreads[SPREAD_HEIGHT]), 0, 100, "0 to 100 m",
                            NULL},
    [ROLE_TRACE_SPREAD] = {SLOT_DOUBLE, AT(spreads[SPREAD_TRACE]), 0, 10, "0 to 10 m",
                           NULL},
    [ROLE_WIND_SPEED_SPREAD] = {SLOT_DOUBLE, AT(spreads[SPREAD_WIND_SPEED]), 0, 50,
                                "0 to 50 m/s (112 mph)", NULL},
    [ROLE_EXPOSURE_SPREAD] = {SLOT_DOUBLE, AT(spreads[SPREAD_EXPOSURE]), 0, 0.5,
                              "0 to 0.5", NULL},
    [ROLE_CONDITION_SPREAD] = {SLOT_DOUBLE, AT(spreads[SPREAD_CONDITION]), 0, 50,
                               "0 to 50", NULL},
    [ROLE_SERVICE_LIFE_SPREAD] = {SLOT_DOUBLE, AT(spreads[SPREAD_SERVICE_LIFE]), 0, 50,
                                  "0 to 50", NULL},
};

/* The value and all that a message about it needs. */
struct reading {
    struct arena *arena;
    struct roof *roof;
    enum field_role role;
    const struct field *field;
    const char *column;
    const struct value *value;
};

enum { SHOWN_MAX = 48 };

/* The value as the source has it, cut for a message. */
static void show(const struct value *value, char *out, size_t size)
{
    struct text text = TEXT_INIT;

    if (value->kind == VALUE_TEXT) {
        snprintf(out, size, "\"%.40s\"", value->text);
        return;
    }
    if (value->kind == VALUE_WHOLE)
        text_printf(&text, "%lld", value->whole);
    else if (isfinite(value->real))
        text_printf(&text, "%.10g", value->real);
    else
        text_puts(&text, value->real > 0 ? "infinity" : "-infinity");
    snprintf(out, size, "%s", text.data ? text.data : "");
    text_release(&text);
}

static void report(const struct reading *reading, enum problem_code code,
                   const char *done, const char *why)
{
    const char *role = field_role_name(reading->role);
    struct problem *problem = NULL;
    char shown[SHOWN_MAX];

    show(reading->value, shown, sizeof shown);
    if (same_column(role, reading->column))
        problem = roof_problem(reading->arena, reading->roof, code, done, "%s %s%s%s %s",
                               role, shown, reading->field->unit[0] ? " " : "",
                               reading->field->unit, why);
    else
        problem = roof_problem(reading->arena, reading->roof, code, done,
                               "%s %s%s%s (column %.60s) %s", role, shown,
                               reading->field->unit[0] ? " " : "", reading->field->unit,
                               reading->column, why);
    if (problem)
        problem->field = role;
}

static bool complain(const struct reading *reading, enum problem_code code,
                     const char *why)
{
    report(reading, code, "value ignored", why);
    return false;
}

static const char *skip_blanks(const char *text)
{
    while (*text == ' ' || *text == '\t' || *text == '\n' || *text == '\r')
        text++;
    return text;
}

static bool is_blank(const char *text)
{
    return *skip_blanks(text) == '\0';
}

static bool roman(const char *text, double *number)
{
    static const char *const numerals[] = {"I", "II", "III", "IV"};

    for (int i = 0; i < 4; i++) {
        if (same_column(skip_blanks(text), numerals[i])) {
            *number = i + 1;
            return true;
        }
    }
    return false;
}

static bool has_digits(const char *text, size_t count)
{
    return strspn(text, "0123456789") == count;
}

/* "2004-05-17", "2004/05/17" and longer: the year, for the roles that are years. */
static bool year_of_date(enum field_role role, const char *text, double *number)
{
    bool is_year = role == ROLE_INSTALLED || role == ROLE_EARLIEST ||
                   role == ROLE_LATEST || role == ROLE_FIXED_YEAR;
    const char *start = skip_blanks(text);
    char year[5] = "";

    if (!is_year || !has_digits(start, 4) || (start[4] != '-' && start[4] != '/') ||
        !has_digits(start + 5, 2))
        return false;
    memcpy(year, start, 4);
    return number_parse(year, number);
}

/* "3-5" storeys, or a height of "12-15": the mean, which is said, with the spread. */
static bool mean_of_range(const struct reading *reading, double *number)
{
    const char *text = reading->value->text;
    size_t length = strspn(text, " .0123456789"), dash = text[length] == '-';
    double high;
    char low[16], why[80];

    if (strncmp(text + length, "\xE2\x80\x93", 3) == 0)
        dash = 3;
    if ((reading->role != ROLE_STOREYS && reading->role != ROLE_HEIGHT) ||
        length >= sizeof low)
        return false;
    snprintf(low, sizeof low, "%.*s", (int)length, text);
    if (!number_parse(low, number) || !number_parse(text + length + dash, &high) ||
        *number >= high || *number < rules[ROLE_STOREYS].least ||
        (reading->role == ROLE_STOREYS && high > rules[ROLE_STOREYS].most))
        return false;
    print_into(why, sizeof why, "is a range: %.10g, give or take %.10g",
               (*number + high) / 2, (high - *number) / 2);
    *number = (*number + high) / 2;
    report(reading, PROBLEM_VALUE_RANGE_MEAN, "the mean is used", why);
    return true;
}

/* "1,500": only counts and money have no use for three decimals. */
static bool thousands(const struct reading *reading, double number)
{
    char why[100];

    if (rules[reading->role].slot == SLOT_INT ||
        reading->role == ROLE_REPLACEMENT_VALUE || reading->role == ROLE_COST)
        return true;
    print_into(why, sizeof why, "may mean %.10g or %.10g: write it without that comma",
               number, number / 1000);
    return complain(reading, PROBLEM_NOT_A_NUMBER, why);
}

/* A value as people write it; one that says its own unit is in that, whatever the
 * column's is (OpenStreetMap allows it). Sets *unit to the field to convert by. */
static bool number_of_text(const struct reading *reading, double *number,
                           struct field *unit)
{
    const char *text = reading->value->text;
    char name[MEASURE_UNIT_MAX];
    enum measure measure;

    if (number_parse(text, number) || year_of_date(reading->role, text, number) ||
        (reading->role == ROLE_RISK && roman(text, number)) ||
        mean_of_range(reading, number))
        return true;
    measure = measure_parse(text, number, name);
    if (measure == MEASURE_WRONG || (name[0] && !role_unit(reading->role, name, unit)))
        return complain(reading, PROBLEM_NOT_A_NUMBER, "isn't a number");
    return measure == MEASURE_READ || thousands(reading, *number);
}

static double to_si(const struct field *field, double number)
{
    if (field->degrees)
        return fabs(number) < 90 ? tan(number * 3.14159265358979323846 / 180)
                                 : (double)INFINITY;
    return number * field->factor;
}

/* What unit a value that is far off might be in; "" when nothing suggests itself. */
static const char *likely_unit(const struct reading *reading, double number)
{
    const char *unit = reading->field->unit;

    if (reading->role == ROLE_WIND_SPEED && number > mph_limit)
        return strcmp(unit, "mph") == 0 ? ": perhaps it is in km/h"
                                        : ": perhaps it is in mph or km/h";
    if (reading->role == ROLE_SLOPE && number > 1)
        return ": perhaps it is in percent, degrees or inches a foot";
    if (reading->role == ROLE_TAPER && number > TAPER_MOST)
        return ": perhaps it is in inches a foot or percent";
    if (reading->role == ROLE_WET_SHARE && number > 1)
        return ": perhaps it is in percent";
    return "";
}

static bool out_of_range(const struct reading *reading, const struct rule *rule,
                         double number)
{
    bool height = reading->role == ROLE_HEIGHT;
    char why[160];

    snprintf(why, sizeof why, "is outside %s%s", rule->limits,
             likely_unit(reading, number));
    if (reading->role == ROLE_SLOPE) {
        reading->roof->given.slope = INFINITY;
        report(reading, PROBLEM_SLOPE_RANGE,
               "not ranked, state unknown; name its unit: --field slope=COLUMN:deg, "
               "percent or ratio",
               why);
        return false;
    }
    return complain(reading, height ? PROBLEM_HEIGHT_ABSURD : PROBLEM_VALUE_RANGE, why);
}

/* The value as a number in SI. False when there is none, which may be a problem. */
static bool number_of(const struct reading *reading, double *number)
{
    const struct value *value = reading->value;
    struct field unit = *reading->field;

    switch (value->kind) {
    case VALUE_WHOLE:
        *number = (double)value->whole;
        break;
    case VALUE_REAL:
        if (isnan(value->real))
            return false; /* some formats write it for null */
        *number = value->real;
        break;
    case VALUE_TEXT:
        if (is_blank(value->text))
            return false;
        if (!number_of_text(reading, number, &unit))
            return false;
        break;
    case VALUE_NULL:
        return false;
    }
    if (*number == 0 && reading->field->zero_unknown)
        return false;
    *number = to_si(&unit, *number);
    return true;
}

/* A bare ratio above 1 is an angle or a percentage; a unit that is named is believed. */
static double most_of(const struct reading *reading, const struct rule *rule)
{
    const struct field *field = reading->field;
    bool named = field->degrees || field->factor < 1 || field->factor > 1;

    return reading->role == ROLE_SLOPE && named ? slope_limit : rule->most;
}

static bool store_number(const struct reading *reading, const struct rule *rule)
{
    char *base = (char *)&reading->roof->given;
    double number = 0;

    if (!number_of(reading, &number))
        return false;
    if (!(number >= rule->least && number <= most_of(reading, rule)))
        return out_of_range(reading, rule, number);
    if (rule->slot == SLOT_INT) {
        int whole = (int)number;

        if (whole != number)
            return complain(reading, PROBLEM_VALUE_RANGE, "isn't a whole number");
        memcpy(base + rule->offset, &whole, sizeof whole);
    } else {
        memcpy(base + rule->offset, &number, sizeof number);
    }
    return true;
}

/* Text for a value of any kind, in the arena; NULL for null, blank and out of memory. */
static const char *text_of(struct arena *arena, const struct value *value)
{
    char digits[32];
    const char *start, *end;

    switch (value->kind) {
    case VALUE_WHOLE:
        snprintf(digits, sizeof digits, "%lld", value->whole);
        return arena_text(arena, digits, strlen(digits));
    case VALUE_REAL:
        if (isfinite(value->real) && fabs(value->real) < 1e15) {
            struct text text = TEXT_INIT;
            const char *copy = NULL;

            text_number(&text, value->real, 9);
            if (text.data)
                copy = arena_text(arena, text.data, text.length);
            text_release(&text);
            return copy;
        }
        return NULL;
    case VALUE_TEXT:
        start = skip_blanks(value->text);
        end = start + strlen(start);
        while (end > start &&
               (end[-1] == ' ' || end[-1] == '\t' || end[-1] == '\r' || end[-1] == '\n'))
            end--;
        return end > start ? arena_text(arena, start, (size_t)(end - start)) : NULL;
    case VALUE_NULL:
        break;
    }
    return NULL;
}

static bool store_text(const struct reading *reading, const struct rule *rule)
{
    const char *text = text_of(reading->arena, reading->value);

    if (!text)
        return false;
    memcpy((char *)reading->roof + rule->offset, &text, sizeof text);
    return true;
}

double value_number(const struct roof *roof, enum field_role role)
{
    const char *at = (const char *)&roof->given + rules[role].offset;
    double number = NAN;
    int whole = MISSING;

    if (rules[role].slot == SLOT_DOUBLE)
        memcpy(&number, at, sizeof number);
    else if (rules[role].slot == SLOT_INT)
        memcpy(&whole, at, sizeof whole);
    return whole == MISSING ? number : whole;
}

bool value_given(const struct roof *roof, enum field_role role)
{
    const char *text = NULL;
    int name = 0;

    if (rules[role].slot == SLOT_TEXT)
        memcpy(&text, (const char *)roof + rules[role].offset, sizeof text);
    else if (rules[role].slot == SLOT_NAME)
        memcpy(&name, (const char *)&roof->given + rules[role].offset, sizeof name);
    return text || name || !isnan(value_number(roof, role));
}

void value_set(struct roof *roof, enum field_role role, double number)
{
    char *at = (char *)&roof->given + rules[role].offset;
    int whole = (int)number;

    if (rules[role].slot == SLOT_DOUBLE)
        memcpy(at, &number, sizeof number);
    else
        memcpy(at, &whole, sizeof whole);
}

double value_plain(const struct roof *roof, enum field_role role)
{
    int name = 0;

    if (rules[role].slot != SLOT_NAME)
        return value_number(roof, role);
    memcpy(&name, (const char *)&roof->given + rules[role].offset, sizeof name);
    return name ? name : (double)NAN;
}

void value_accepts(enum field_role role, struct text *out)
{
    const struct rule *rule = &rules[role];

    text_puts(out, rule->limits);
    for (int i = 1; rule->name_of && rule->name_of(i); i++)
        text_printf(out, "%s%s", i > 1 ? ", " : "", rule->name_of(i));
}

static bool store_name(const struct reading *reading, const struct rule *rule)
{
    const char *text = text_of(reading->arena, reading->value);
    struct text why = TEXT_INIT;
    int found;

    if (!text)
        return false;
    found = name_find(text, rule->name_of);
    if (found > 0) {
        /* every kind of name is an enum of non-negative values: unsigned int */
        memcpy((char *)&reading->roof->given + rule->offset, &found, sizeof found);
        return true;
    }
    text_puts(&why, "isn't one of ");
    value_accepts(reading->role, &why);
    complain(reading, PROBLEM_VALUE_UNKNOWN, why.data ? why.data : "isn't known");
    text_release(&why);
    return false;
}

bool value_store(struct arena *arena, struct roof *roof, enum field_role role,
                 const struct field *field, const char *column, const struct value *value)
{
    const struct reading reading = {arena, roof, role, field, column, value};
    const struct rule *rule = &rules[role];

    if (value->kind == VALUE_NULL)
        return false;
    switch (rule->slot) {
    case SLOT_TEXT:
        return store_text(&reading, rule);
    case SLOT_NAME:
        return store_name(&reading, rule);
    case SLOT_DOUBLE:
    case SLOT_INT:
        break;
    }
    return store_number(&reading, rule);
}
