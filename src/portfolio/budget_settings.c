#include <math.h>
#include <string.h>

#include "base/number.h"
#include "portfolio/caps.h"
#include "portfolio/plan.h"

struct budget_settings budget_defaults(void)
{
    return (struct budget_settings){.start = MISSING,
                                    .years = 5,
                                    .waiting = "0.5,2,5,10",
                                    .escalation = 3,
                                    .discount = 3,
                                    .curve = {.life = 20, .shape = 2.5},
                                    .good = 60,
                                    .gap = 0.01,
                                    .nodes = 2000,
                                    .seconds = 600};
}

/* Numbers from 0 on, commas between. @return how many; 0 for what isn't such a list */
static size_t read_list(const char *text, double *out, size_t most)
{
    size_t count = 0;

    for (;; text++) {
        char number[40];
        size_t length = strcspn(text, ",");

        if (length >= sizeof number || count == most)
            return 0;
        memcpy(number, text, length);
        number[length] = '\0';
        if (!number_parse(number, &out[count]) || out[count] < 0 || out[count] > 1e13)
            return 0;
        count++;
        text += length;
        if (*text == '\0')
            return count;
    }
}

static enum outlay_status refuse(struct outlay_error *err, const char *option,
                                 const char *value, const char *todo)
{
    outlay_fail(err, OUTLAY_E_USAGE, "%s \"%.80s\" can't be used", option, value);
    outlay_fail_todo(err, "%s", todo);
    return OUTLAY_E_USAGE;
}

enum outlay_status budget_settings_read(struct budget_settings *settings,
                                        struct outlay_error *err)
{
    double numbers[CONDITION_BANDS];
    size_t count = read_list(settings->waiting, numbers, CONDITION_BANDS);

    if (count != CONDITION_BANDS)
        return refuse(err, "waiting", settings->waiting,
                      "give four percentages: condition 70 and more, 50, 30, below");
    for (int band = 0; band < CONDITION_BANDS; band++)
        settings->rates[band] = numbers[band] / 100;
    if (!settings->cap)
        return OUTLAY_OK;
    if (caps_read(settings->cap, settings->years, settings->caps, err) != OUTLAY_OK)
        return OUTLAY_E_USAGE;
    if (settings->start != MISSING)
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_USAGE, "a plan needs its first year");
    outlay_fail_todo(err, "give --start 2027");
    return OUTLAY_E_USAGE;
}

const char *plan_reason_words(int reason)
{
    static const char *const words[] = {
#define X(code, text) text,
        PLAN_REASON_MAP(X)
#undef X
    };

    return reason >= 0 && reason < PLAN_REASONS ? words[reason] : NULL;
}

const char *plan_age_name(int age)
{
    static const char *const names[] = {"given", "from age", "assumed"};

    return age >= 0 && age <= AGE_ASSUMED ? names[age] : NULL;
}

/* ---- Closed forms ---- */

static double growth(const struct budget_settings *settings)
{
    return (1 + settings->escalation / 100) / (1 + settings->discount / 100);
}

money plan_nominal(const struct budget_settings *settings, money cost, int k)
{
    return llround((double)cost * pow(1 + settings->escalation / 100, k));
}

money plan_present(const struct budget_settings *settings, money cost, int k)
{
    return llround((double)cost * pow(growth(settings), k));
}

money plan_waiting(const struct budget_settings *settings, money cost, double age, int k)
{
    double sum = 0;

    for (int j = 0; j < k; j++) {
        double condition = condition_at(&settings->curve, age + j);

        sum += (double)cost * pow(growth(settings), j) *
               settings->rates[condition_band(condition)];
    }
    return llround(sum);
}
