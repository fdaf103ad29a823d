/* What people found on the roof, decided and confirmed, each with name and day. */

#include <math.h>

#include "explain/derivation_parts.h"
#include "roof/finding.h"
#include "roof/pullout.h"
#include "write/vouched.h"

static void put_force(const struct derivation *derivation, double force)
{
    put_quantity(derivation, force, &derivation->units->force);
}

static bool outlies(const struct pullout *pullout, double value)
{
    return value < pullout->low || value > pullout->high;
}

static void put_tests(const struct derivation *derivation, const struct pullout *pullout)
{
    struct text *out = derivation->out;

    text_printf(out, "   %zu tests of the %s deck in the building: ", pullout->count,
                deck_name((int)pullout->deck));
    for (size_t i = 0; i < pullout->count; i++) {
        double value = pullout->tests[i]->value;

        text_puts(out, i ? ", " : "");
        if (isnan(value))
            text_puts(out, "can't be read");
        else
            put_force(derivation, value);
        if (outlies(pullout, value))
            text_puts(out, " (an outlier; it counts)");
    }
    text_putc(out, '\n');
}

static void put_fractile(const struct derivation *derivation,
                         const struct pullout *pullout)
{
    struct text *out = derivation->out;

    text_puts(out, "   mean ");
    put_force(derivation, pullout->mean);
    text_puts(out, ", s ");
    put_force(derivation, pullout->deviation);
    text_puts(out, ", k = t(0.95, n - 1) sqrt(1 + 1/n) = ");
    text_fixed(out, pullout->k, 3);
    text_puts(out, ", 5 % fractile = mean - k s = ");
    put_force(derivation, pullout->fractile);
    put_source(derivation, "EN 1990:2002 Annex D, D7.2; k as Table D.1, V unknown");
}

static void put_design(const struct derivation *derivation, const struct pullout *pullout)
{
    struct text *out = derivation->out;

    text_puts(out, "   ultimate pull-out: ");
    if (pullout->unknown) {
        text_printf(out, "unknown: %s\n", pullout->unknown);
        return;
    }
    put_force(derivation, pullout->design);
    text_puts(out, pullout->by == PULLOUT_BY_MEAN
                       ? ", the mean, as the setting says: half of all screws hold less\n"
                       : ", the least of the fractile and of all single values\n");
}

static void put_pullout(const struct derivation *derivation)
{
    const struct pullout *pullout = derivation->roof->pullout;

    if (!pullout)
        return;
    text_puts(derivation->out, "\nPull-out tests\n");
    put_tests(derivation, pullout);
    if (isfinite(pullout->fractile))
        put_fractile(derivation, pullout);
    put_design(derivation, pullout);
    if (pullout->needed > 0)
        text_printf(derivation->out, "   the survey's rules ask for %d\n",
                    pullout->needed);
}

static void put_finding(struct text *out, const struct finding *finding)
{
    if (isnan(finding->value) && !finding->text)
        return;
    text_printf(out, "   %s", finding_kind_name((int)finding->kind));
    if (*finding->place)
        text_printf(out, " at %s", finding->place);
    text_printf(out, ": %s; %s, %s  [%s]\n", finding->text, finding->who, finding->when,
                finding->where);
}

static void put_findings(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;

    if (roof->finding_count)
        text_puts(derivation->out, "\nFound on site\n");
    for (size_t i = 0; i < roof->finding_count; i++)
        put_finding(derivation->out, roof->findings[i]);
}

static void put_closings(const struct derivation *derivation)
{
    const char *before = "\nDecided and confirmed\n   ";

    for (int i = 0; i < ASSUMPTIONS; i++) {
        struct text words = TEXT_INIT;

        if (vouched_closing(&words, derivation->roof, (enum assumption)i)) {
            text_printf(derivation->out, "%s%s\n", before, words.data ? words.data : "");
            before = "   ";
        }
        derivation->out->failed = derivation->out->failed || words.failed;
        text_release(&words);
    }
}

void put_vouched(const struct derivation *derivation)
{
    put_pullout(derivation);
    put_findings(derivation);
    put_closings(derivation);
}
