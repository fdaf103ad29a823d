#include "spread/inputs.h"

#include <string.h>

#include "base/ascii.h"
#include "base/measure.h"
#include "roof/roof.h"

const struct spread_input_row spread_inputs[SPREAD_INPUTS] = {
#define X(key, name, scope, form, quantity, meaning) \
    {name, SPREAD_##scope, SPREAD_##form, QUANTITY_##quantity, meaning},
    SPREAD_INPUT_MAP(X)
#undef X
};

static const char *const names =
#define X(key, name, scope, form, quantity, meaning) " " name
    SPREAD_INPUT_MAP(X)
#undef X
    ;

static int input_find(const char *name, size_t length)
{
    for (int i = 0; i < SPREAD_INPUTS; i++)
        if (strlen(spread_inputs[i].name) == length &&
            ascii_same_start(spread_inputs[i].name, name, length))
            return i;
    return -1;
}

static const char *example_of(const struct spread_input_row *row)
{
    switch (row->form) {
    case SPREAD_UNIT:
        return row->quantity == QUANTITY_SPEED ? "5mph" : "1.5ft";
    case SPREAD_SHARE:
        return "10%";
    case SPREAD_CHANCE:
        return "0.2";
    case SPREAD_PLAIN:
        break;
    }
    return "3";
}

/* Whether a unit fits; then what one of it is. */
static bool factor_of(const struct spread_input_row *row, const char *unit,
                      double *factor)
{
    bool percent = strcmp(unit, "%") == 0 || ascii_same(unit, "percent");

    *factor = percent ? 0.01 : 1;
    switch (row->form) {
    case SPREAD_UNIT:
        return *unit && unit_find(unit, row->quantity, factor);
    case SPREAD_SHARE:
        return percent;
    case SPREAD_CHANCE:
        return percent || !*unit;
    case SPREAD_PLAIN:
        break;
    }
    return !*unit;
}

static enum outlay_status value_parse(const struct spread_input_row *row,
                                      const char *text, double *out,
                                      struct outlay_error *err)
{
    char unit[MEASURE_UNIT_MAX];
    double number, factor;

    if (measure_parse(text, &number, unit) != MEASURE_READ)
        return outlay_fail(err, OUTLAY_E_USAGE, "the spread of %s isn't a number: '%s'",
                           row->name, text);
    if (!factor_of(row, unit, &factor) && (*unit || number != 0))
        return outlay_fail(err, OUTLAY_E_USAGE, "the spread of %s %s: '%s'", row->name,
                           *unit ? "can't have this unit" : "lacks its unit", text);
    if (!(number >= 0))
        return outlay_fail(err, OUTLAY_E_USAGE, "the spread of %s is negative: '%s'",
                           row->name, text);
    if (row->form == SPREAD_CHANCE && number * factor > 0.5)
        return outlay_fail(err, OUTLAY_E_USAGE,
                           "the spread of %s is a probability on each side, 0.5 at "
                           "most: '%s'",
                           row->name, text);
    *out = number * factor;
    return OUTLAY_OK;
}

/* @param seen  inputs so far, bits 1u << SPREAD_... */
static enum outlay_status parse_once(const char *text, struct spread_values *values,
                                     unsigned *seen, struct outlay_error *err)
{
    const char *equals = strchr(text, '=');
    size_t length = equals ? (size_t)(equals - text) : 0;

    while (length > 0 && text[length - 1] == ' ')
        length--;
    int input = equals ? input_find(text, length) : -1;

    if (input < 0) {
        outlay_fail(err, OUTLAY_E_USAGE, "no such input: '%s'", text);
        outlay_fail_todo(err, "write NAME=VALUE, with one of these names:%s", names);
        return OUTLAY_E_USAGE;
    }
    const struct spread_input_row *row = &spread_inputs[input];
    if (*seen & 1u << input)
        return outlay_fail(err, OUTLAY_E_USAGE, "the spread of %s is given twice",
                           row->name);
    *seen |= 1u << input;
    enum outlay_status status = value_parse(row, equals + 1, &values->of[input], err);
    if (status != OUTLAY_OK)
        outlay_fail_todo(err, "write it like %s=%s", row->name, example_of(row));
    return status;
}

enum outlay_status spread_parse(const char *text, struct spread_values *values,
                                struct outlay_error *err)
{
    unsigned seen = 0;

    return parse_once(text, values, &seen, err);
}

struct spread_settings spread_defaults(void)
{
    return (struct spread_settings){.draws = MISSING,
                                    .seed = 1,
                                    .first = 10,
                                    .values.of[SPREAD_STOREY_HEIGHT] = 1.5 * M_PER_FT};
}

enum outlay_status spread_list_read(struct spread_settings *settings,
                                    struct outlay_error *err)
{
    const char *rest = settings->list ? settings->list : "";
    enum outlay_status status = OUTLAY_OK;
    unsigned seen = 0;

    while (*rest && status == OUTLAY_OK) {
        char one[64];
        size_t length = 0;

        rest += strspn(rest, " ");
        length = strcspn(rest, ",");
        if (length == 0) {
            rest += *rest == ',';
            continue;
        }
        if (length >= sizeof one)
            length = sizeof one - 1;
        memcpy(one, rest, length);
        one[length] = '\0';
        status = parse_once(one, &settings->values, &seen, err);
        rest += strcspn(rest, ",");
        rest += *rest == ',';
    }
    if (status != OUTLAY_OK)
        outlay_fail_where(err, "--spread");
    return status;
}
