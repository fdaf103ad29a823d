/* Boards and sheet glued, in ribbons or full cover. Strength goes with the length of
 * ribbon on a square metre, that is, with 1 / spacing. */

#include "attach/pattern.h"
#include "base/units.h"

/* Length of glue line on a square metre, m: what the choice of assembly keeps small. Full
 * cover counts as lines an inch apart, more than any ribbons (ours). */
static double line_density(double ribbon)
{
    return 1 / fmax(ribbon, M_PER_IN);
}

static double capacity_of(const struct site *site, const struct assembly *assembly,
                          double ribbon)
{
    double rating = rating_allowable(site, assembly);

    return ribbon > 0 ? rating * assembly->tested_ribbon / ribbon : rating;
}

/* Neither sparser than tested nor beyond the extrapolation limit. The loader sees to it
 * that full cover stands alone. */
static bool within_test(const struct assembly *assembly, double ribbon)
{
    double tested = assembly->tested_ribbon;

    return ribbon <= tested * (1 + ROUNDING) &&
           tested <= ribbon * density_limit(assembly) * (1 + ROUNDING);
}

static struct pattern pattern_calculate(const struct site *site,
                                        const struct assembly *assembly, double demand)
{
    struct pattern pattern = {NAN, NAN,          NAN,    MISSING, 0,
                              0,   VERDICT_WEAK, demand, 0,       false};

    /* Widest first: the first that holds is the least glue, the last the strongest. */
    for (size_t i = 0; i < assembly->ribbon_count; i++) {
        double ribbon = assembly->ribbons[i];

        if (!within_test(assembly, ribbon))
            continue;
        pattern.ribbon_spacing = ribbon;
        pattern.density = line_density(ribbon);
        pattern.capacity = pattern.given = capacity_of(site, assembly, ribbon);
        if (demand <= pattern.capacity * (1 + ROUNDING)) {
            pattern.verdict = VERDICT_FITS;
            break;
        }
    }
    return pattern;
}

void adhered_fit(const struct site *site, struct fit *fit)
{
    for (size_t i = 0; i < site->roof->zone_count; i++)
        fit->patterns[i] = pattern_calculate(site, fit->assembly, demand_at(site, i));
}
