#include "portfolio/caps.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "base/number.h"

#define DIGITS "0123456789"
#define MOST 1e13

/* "1,500,000", "1.500", "1'500'000,50" */
static bool is_grouped(const char *text)
{
    size_t lead = strspn(text, DIGITS);
    const char *at = text + lead;

    while (*at && strchr(",.'_ ", *at) && strspn(at + 1, DIGITS) == 3)
        at += 4;
    if (lead < 1 || lead > 3 || at == text + lead)
        return false;
    if ((*at == ',' || *at == '.') && strspn(at + 1, DIGITS) <= 2)
        at += 1 + strspn(at + 1, DIGITS);
    return *at == '\0';
}

/* @return the amount in units of the currency; NAN for another text */
static double amount_of(const char *text, size_t length, bool *bare)
{
    char number[40];
    double amount = NAN;
    double unit = 1;

    if (length == 0 || length >= sizeof number)
        return NAN;
    memcpy(number, text, length);
    number[length] = '\0';
    if (number[length - 1] == 'k' || number[length - 1] == 'K')
        unit = 1e3;
    else if (number[length - 1] == 'M')
        unit = 1e6;
    *bare = unit <= 1;
    if (!*bare)
        number[length - 1] = '\0';
    if (!number_parse(number, &amount) || amount < 0 || amount * unit > MOST)
        return NAN;
    return amount * unit;
}

static enum outlay_status refuse(struct outlay_error *err, const char *text,
                                 const char *what, const char *todo)
{
    outlay_fail(err, OUTLAY_E_USAGE, "cap \"%.80s\" %s", text, what);
    outlay_fail_where(err, "--cap");
    outlay_fail_todo(err, "%s", todo);
    return OUTLAY_E_USAGE;
}

static enum outlay_status refuse_list(struct outlay_error *err, const char *text)
{
    return refuse(err, text, "can't be used",
                  "give one amount, or one for each of the --years: 500000,400000; 0 to "
                  "1e13");
}

enum outlay_status caps_read(const char *text, int years, money *caps,
                             struct outlay_error *err)
{
    const char *at = text;
    int count = 0;

    if (is_grouped(text))
        return refuse(err, text, "may be one amount or several",
                      "write one amount without separators, 1500000 or 1.5M; a list by "
                      "year as 500000,400000 or 500k,400k");
    do {
        size_t length = strcspn(at, ",");
        bool bare = true;
        double amount = count < years ? amount_of(at, length, &bare) : NAN;

        if (isnan(amount))
            return refuse_list(err, text);
        if (length < strlen(text) && bare && amount > 0 && amount < 1000)
            return refuse(err, text, "has an amount under 1000 in its list",
                          "write all digits of each year, or a unit: 500000,400000 or "
                          "500k,400k; one amount has no commas");
        caps[count++] = llround(100 * amount);
        at += length;
    } while (*at++);
    if (count != 1 && count != years)
        return refuse_list(err, text);
    for (int year = count; year < years; year++)
        caps[year] = caps[0];
    return OUTLAY_OK;
}
