#include "attach/reason.h"

#include "base/text.h"
#include "base/units.h"
#include "roof/pullout.h"

/* psf to a tenth and kPa, rounded up for what is needed and down for what is given, so
 * that the two never read the same. */
static void pressure_put(struct text *out, double pressure, bool up)
{
    double tenths = pressure / PA_PER_PSF * 10;
    double tens = pressure / 10;

    text_number(out, (up ? ceil(tenths - 1e-6) : floor(tenths + 1e-6)) / 10, 1);
    text_puts(out, " psf (");
    text_fixed(out, (up ? ceil(tens - 1e-6) : floor(tens + 1e-6)) / 100, 2);
    text_puts(out, " kPa)");
}

static void force_put(struct text *out, double force, bool up)
{
    double whole = force / N_PER_LBF;

    text_fixed(out, up ? ceil(whole - 1e-6) : floor(whole + 1e-6), 0);
    text_puts(out, " lbf (");
    text_fixed(out, up ? ceil(force - 1e-6) : floor(force + 1e-6), 0);
    text_puts(out, " N)");
}

/* Which tests it is that govern. */
static void pullout_put(struct text *out, const struct roof *roof)
{
    const struct pullout *pullout = roof->pullout;

    text_puts(out, " (the deck's pull-out governs");
    if (pullout) {
        text_printf(out, ": by %zu tests, the last on %s, ", pullout->count,
                    pullout_last(pullout));
        force_put(out, pullout->design, false);
    }
    text_putc(out, ')');
}

static void weak_put(struct text *out, const struct site *site,
                     const struct assembly *assembly, const struct pattern *pattern,
                     const char *gives)
{
    bool ultimate = assembly->rating_basis == RATING_ULTIMATE;
    double factor = ultimate ? site->settings->safety_factor : 1;

    text_puts(out, ultimate ? "required " : "allowable rating needed: ");
    pressure_put(out, pattern->needed * factor, true);
    text_puts(out, gives);
    pressure_put(out, pattern->given * factor, false);
}

static void verdict_put(struct text *out, const struct site *site,
                        const struct assembly *assembly, const struct pattern *pattern)
{
    switch (pattern->verdict) {
    case VERDICT_FITS:
        break;
    case VERDICT_WEAK:
        weak_put(out, site, assembly, pattern,
                 site->rule == RULE_CALCULATED ? ", this assembly gives at most "
                                               : ", this assembly by this rule gives ");
        break;
    case VERDICT_REACH:
        weak_put(out, site, assembly, pattern,
                 ", the full sheets beyond the half sheets give ");
        break;
    case VERDICT_ROW:
        text_puts(out, "a fastener of the row where wider sheets begin would carry ");
        force_put(out, pattern->needed, true);
        text_puts(out, ", it may carry ");
        force_put(out, pattern->given, false);
        break;
    case VERDICT_COUNT:
        text_printf(out,
                    "the rule asks for %d fasteners a board, this assembly has %d "
                    "at most",
                    (int)pattern->needed, (int)pattern->given);
        break;
    case VERDICT_REFUSED:
        text_puts(out, "percentages of this edition are for field ratings up to ");
        pressure_put(out, pattern->needed, true);
        text_puts(out, ", this field has ");
        pressure_put(out, pattern->given, true);
        break;
    case VERDICT_OFF_RIBS:
        text_puts(out, "no spacing that this assembly allows falls on deck ribs ");
        text_number(out, site->roof->basis.rib_pitch / M_PER_IN, 2);
        text_puts(out, " in (");
        text_fixed(out, site->roof->basis.rib_pitch * 1000, 0);
        text_puts(out, " mm) apart");
        break;
    }
    if (pattern->by_pullout)
        pullout_put(out, site->roof);
}

const char *reason_text(struct arena *arena, const struct site *site,
                        const struct assembly *assembly, const struct pattern *pattern,
                        const char *more)
{
    struct text text = TEXT_INIT;
    const char *reason = NULL;

    verdict_put(&text, site, assembly, pattern);
    if (more) {
        text_puts(&text, "; ");
        text_puts(&text, more);
    }
    if (!text.failed)
        reason = arena_text(arena, text.data, text.length);
    text_release(&text);
    return reason;
}
