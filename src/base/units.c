#include "base/units.h"

#include <stddef.h>
#include <string.h>

#include "base/ascii.h"

struct unit_name {
    const char *name;
    enum quantity quantity;
    double factor;
    bool exact_case; /* units named after people keep their capitals */
};

static const struct unit_name names[] = {
    {"ft", QUANTITY_LENGTH, M_PER_FT, false},
    {"in", QUANTITY_LENGTH, M_PER_IN, false},
    {"m", QUANTITY_LENGTH, 1.0, false},
    {"mm", QUANTITY_LENGTH, 0.001, false},
    {"cm", QUANTITY_LENGTH, 0.01, false},
    {"ft2", QUANTITY_AREA, M2_PER_FT2, false},
    {"m2", QUANTITY_AREA, 1.0, false},
    {"mph", QUANTITY_SPEED, MPS_PER_MPH, false},
    {"m/s", QUANTITY_SPEED, 1.0, false},
    {"km/h", QUANTITY_SPEED, 1000.0 / 3600.0, false},
    {"kt", QUANTITY_SPEED, 1852.0 / 3600.0, false},
    {"psf", QUANTITY_PRESSURE, PA_PER_PSF, false},
    {"Pa", QUANTITY_PRESSURE, 1.0, true},
    {"kPa", QUANTITY_PRESSURE, 1000.0, true},
    {"lbf", QUANTITY_FORCE, N_PER_LBF, false},
    {"N", QUANTITY_FORCE, 1.0, true},
    {"kN", QUANTITY_FORCE, 1000.0, true},
    {"in/ft", QUANTITY_SLOPE, 1.0 / 12.0, false},
    {"in", QUANTITY_SLOPE, 1.0 / 12.0, false},
    {"percent", QUANTITY_SLOPE, 0.01, false},
    {"%", QUANTITY_SLOPE, 0.01, false},
};

const struct unit_system unit_system_us = {
    .name = "us",
    .length = {"ft", "ft", M_PER_FT},
    .small = {"in", "in", M_PER_IN},
    .area = {"ft2", "ft2", M2_PER_FT2},
    .pressure = {"psf", "psf", PA_PER_PSF},
    .force = {"lbf", "lbf", N_PER_LBF},
    .speed = {"mph", "mph", MPS_PER_MPH},
    .volume = {"ft3", "ft3", M_PER_FT *M2_PER_FT2},
    .insulance = {"r", "R", RSI_PER_R},
};

const struct unit_system unit_system_si = {
    .name = "si",
    .length = {"m", "m", 1.0},
    .small = {"mm", "mm", 0.001},
    .area = {"m2", "m2", 1.0},
    .pressure = {"pa", "Pa", 1.0},
    .force = {"n", "N", 1.0},
    .speed = {"mps", "m/s", 1.0},
    .volume = {"m3", "m3", 1.0},
    .insulance = {"rsi", "RSI", 1.0},
};

static bool same_name(const char *a, const char *b, bool exact_case)
{
    return exact_case ? strcmp(a, b) == 0 : ascii_same(a, b);
}

bool unit_find(const char *name, enum quantity quantity, double *factor)
{
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const struct unit_name *row = &names[i];

        if (row->quantity == quantity && same_name(row->name, name, row->exact_case)) {
            *factor = row->factor;
            return true;
        }
    }
    return false;
}

/* ---- Texts in both units -------------------------------------------------------- */

/* Whether it is a quantity of SI: "18.3 m", "10 to 25 mm". */
static bool is_si(const char *text, size_t length)
{
    static const char *const metric[] = {"m", "m2", "mm", "kPa", "Pa", "N", "m/s"};
    size_t number = strspn(text, "0123456789.,/+-to ");

    if (number == 0 || number >= length || text[number - 1] != ' ')
        return false;
    for (size_t i = 0; i < sizeof metric / sizeof metric[0]; i++)
        if (strlen(metric[i]) == length - number &&
            memcmp(metric[i], text + number, length - number) == 0)
            return true;
    return false;
}

static const char *word_start(const char *text, const char *end)
{
    while (end > text && end[-1] != ' ')
        end--;
    return end;
}

/* Where the quantity begins that ends at `end`: "60 ft", "3/8 to 1 in". */
static const char *quantity_start(const char *text, const char *end)
{
    const char *unit = word_start(text, end);
    const char *number = unit > text ? word_start(text, unit - 1) : unit;
    const char *to = number > text ? word_start(text, number - 1) : number;
    const char *first = to > text ? word_start(text, to - 1) : to;

    if (number - to == 3 && memcmp(to, "to ", 3) == 0 && strspn(first, "0123456789"))
        return first;
    return number;
}

void units_choose(struct text *out, const char *text, const struct unit_system *units)
{
    const char *from = text;

    for (const char *at = text; (at = strstr(at, " (")) != NULL;) {
        const char *inside = at + 2;
        const char *end = strchr(inside, ')');

        at = inside;
        if (!end || !is_si(inside, (size_t)(end - inside)))
            continue;
        if (units == &unit_system_si) {
            const char *start = quantity_start(from, inside - 2);

            text_append(out, from, (size_t)(start - from));
            text_append(out, inside, (size_t)(end - inside));
        } else {
            text_append(out, from, (size_t)(inside - 2 - from));
        }
        from = at = end + 1;
    }
    text_puts(out, from);
}

void units_choose_json(struct text *out, const char *text,
                       const struct unit_system *units)
{
    struct text chosen = TEXT_INIT;

    units_choose(&chosen, text, units);
    text_json(out, chosen.data);
    out->failed = out->failed || chosen.failed;
    text_release(&chosen);
}
