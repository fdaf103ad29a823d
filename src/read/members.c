#include "read/members.h"

#include <math.h>
#include <string.h>

#include <cpl_conv.h>
#include <cpl_string.h>

/* Doubles hold every whole number up to here. */
static const double whole_limit = 9007199254740992.0;

void members_whole(struct text *out, long long value)
{
    char digits[24];
    char *start = digits + sizeof digits;
    unsigned long long rest =
        value < 0 ? 0ULL - (unsigned long long)value : (unsigned long long)value;

    do {
        *--start = (char)('0' + rest % 10);
        rest /= 10;
    } while (rest);
    if (value < 0)
        *--start = '-';
    text_append(out, start, (size_t)(digits + sizeof digits - start));
}

static bool reads_back(double candidate, double value, bool single)
{
    return single ? (float)candidate == (float)value : candidate == value;
}

/*
 * Most values have a few decimals: n / 10^d with n below 2^53 and d up to 6. Both are
 * exact as doubles, so their quotient is what reading the text gives, and comparing it
 * with the value proves the text right without printing and parsing.
 */
static bool append_short(struct text *out, double value, bool single)
{
    static const double powers[] = {1, 10, 100, 1000, 10000, 100000, 1000000};

    for (int decimals = 0; decimals <= 6; decimals++) {
        double scaled = rint(value * powers[decimals]);

        if (fabs(scaled) >= whole_limit)
            return false;
        if (reads_back(scaled / powers[decimals], value, single)) {
            text_number(out, scaled / powers[decimals], decimals);
            return true;
        }
    }
    return false;
}

static void append_number(struct text *out, double value, bool single)
{
    static const int digits[] = {6, 9, 15, 16, 17};
    char buffer[40] = "";

    if (!isfinite(value)) {
        text_puts(out, "null");
        return;
    }
    if (append_short(out, value, single))
        return;
    for (size_t i = single ? 0 : 2; i < sizeof digits / sizeof digits[0]; i++) {
        CPLsnprintf(buffer, sizeof buffer, "%.*g", digits[i], value);
        if (reads_back(CPLAtof(buffer), value, single))
            break;
    }
    text_puts(out, buffer);
}

void members_real(struct text *out, double value)
{
    append_number(out, value, false);
}

void members_float(struct text *out, float value)
{
    append_number(out, (double)value, true);
}

static void append_array(struct text *out, struct json_object *array)
{
    text_putc(out, '[');
    for (size_t i = 0; i < json_object_array_length(array); i++) {
        if (i)
            text_putc(out, ',');
        members_json(out, json_object_array_get_idx(array, i));
    }
    text_putc(out, ']');
}

static void append_object(struct text *out, struct json_object *object)
{
    bool first = true;

    text_putc(out, '{');
    json_object_object_foreach(object, key, value)
    {
        if (!first)
            text_putc(out, ',');
        first = false;
        text_json(out, key);
        text_putc(out, ':');
        members_json(out, value);
    }
    text_putc(out, '}');
}

void members_json(struct text *out, struct json_object *value)
{
    switch (json_object_get_type(value)) {
    case json_type_null:
        text_puts(out, "null");
        break;
    case json_type_boolean:
        text_puts(out, json_object_get_boolean(value) ? "true" : "false");
        break;
    case json_type_int:
        text_puts(out, json_object_to_json_string_ext(value, JSON_C_TO_STRING_PLAIN));
        break;
    case json_type_double:
        members_real(out, json_object_get_double(value));
        break;
    case json_type_string:
        text_json(out, json_object_get_string(value));
        break;
    case json_type_array:
        append_array(out, value);
        break;
    case json_type_object:
        append_object(out, value);
        break;
    }
}

void members_json_text(struct text *out, const char *json)
{
    enum json_tokener_error error = json_tokener_success;
    struct json_object *value = json_tokener_parse_verbose(json, &error);

    if (error == json_tokener_success)
        members_json(out, value);
    else
        text_json(out, json);
    json_object_put(value);
}
