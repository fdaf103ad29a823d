/* One assembly per roof, for that is how a roof is built: the same sheets and boards in
 * all zones, only the pattern changes. */

#include "attach/attach.h"

#include <stdio.h>

#include "attach/pattern.h"
#include "attach/reason.h"
#include "attach/rules.h"
#include "base/units.h"
#include "roof/sections.h"

/* Decks whose strength nobody knows without a test. */
static const unsigned tested_decks =
    1u << DECK_GYPSUM | 1u << DECK_WOOD_FIBRE | 1u << DECK_LIGHT_CONCRETE;

static const char deck_untested[] =
    "the strength of this deck isn't known without a pull-out test";

struct attach_settings attach_defaults(void)
{
    struct attach_settings defaults = {
        .method = METHOD_NOT_GIVEN,
        .edge_rule = RULE_CALCULATED,
        .percentage_edition = PERCENTAGE_2006,
        .safety_factor = 2.0,
        .long_side = 300 * M_PER_FT,
    };

    return defaults;
}

/* ---- What the roof brings ------------------------------------------------------- */

static enum method method_settle(struct roof *roof,
                                 const struct attach_settings *settings)
{
    roof->method = roof->given.method;
    if (roof->method == METHOD_NOT_GIVEN)
        roof->method = settings->method;
    if (roof->method == METHOD_NOT_GIVEN) {
        roof->method = METHOD_SEAM_FASTENED;
        roof_assume(roof, ASSUME_METHOD);
    }
    return roof->method;
}

static bool uplift_known(const struct roof *roof)
{
    for (size_t i = 0; i < roof->zone_count; i++) {
        if (!roof->zones[i].uplift.known || !isfinite(roof->zones[i].uplift.allowable))
            return false;
    }
    return true;
}

static struct site site_of(struct roof *roof, const struct attach_settings *settings)
{
    struct site site = {.roof = roof, .settings = settings};

    site.method = method_settle(roof, settings);
    if (isnan(roof->basis.pullout) && !roof->basis.pullout_unknown &&
        site.method != METHOD_ADHERED)
        roof_assume(roof, ASSUME_PULLOUT);
    if (roof->basis.pullout_few && site.method != METHOD_ADHERED)
        roof_assume(roof, ASSUME_PULLOUT_FEW);
    if (site.method == METHOD_SEAM_FASTENED && roof->basis.rib_pitch > 0 &&
        isnan(roof->given.deck_bearing))
        roof_assume(roof, ASSUME_RIBS);
    site.rule = rule_for(settings->edge_rule, site.method);
    if (site.rule == RULE_STOREY)
        site.rule_half_sheets =
            storey_half_sheets(roof->storeys, roof->level.long_side, settings->long_side);
    site.known = uplift_known(roof);
    return site;
}

/* ---- Which assembly ------------------------------------------------------------- */

/* What the choice looks at. */
struct merit {
    double failing;   /* area of failing zones, m2 */
    double shortfall; /* largest, as a share of what is needed or allowed */
    double fasteners; /* by area; adhered: glue lines, m */
};

static struct merit merit_of(const struct site *site, const struct fit *fit)
{
    struct merit merit = {0, 0, 0};

    for (size_t i = 0; i < site->roof->zone_count; i++) {
        const struct pattern *pattern = &fit->patterns[i];
        double area = site->roof->zones[i].area;
        double larger = fmax(pattern->needed, pattern->given);

        if (pattern->verdict != VERDICT_FITS) {
            double gap = fabs(pattern->needed - pattern->given);

            merit.failing += area;
            merit.shortfall = fmax(merit.shortfall, larger > 0 ? gap / larger : 1);
        }
        merit.fasteners += area * (isnan(pattern->density) ? 0 : pattern->density);
    }
    return merit;
}

static bool clearly_less(double a, double b)
{
    return a < b * (1 - ROUNDING);
}

/* Least failing area, then smallest shortfall, then fewest fasteners, then the order of
 * the catalogue. While uplift is unknown, fasteners can't tell a fitting assembly from a
 * weak one, and the catalogue's order decides. */
static bool merit_better(const struct site *site, const struct merit *a,
                         const struct merit *b)
{
    if (clearly_less(a->failing, b->failing) || clearly_less(b->failing, a->failing))
        return a->failing < b->failing;
    if (clearly_less(a->shortfall, b->shortfall) ||
        clearly_less(b->shortfall, a->shortfall))
        return a->shortfall < b->shortfall;
    return site->known && clearly_less(a->fasteners, b->fasteners);
}

static void fit_work_out(const struct site *site, struct fit *fit)
{
    if (site->method == METHOD_SEAM_FASTENED)
        seam_fit(site, fit);
    else if (site->method == METHOD_ADHERED)
        adhered_fit(site, fit);
    else
        board_fit(site, fit);
}

/* In how many ways an assembly can be laid: full or half sheets in the corner and in the
 * perimeter. Zone by zone would not do, for half sheets in the perimeter relieve the
 * corner's last row. Half sheets are for edges, the field is full sheets. */
static unsigned ways_of(const struct site *site)
{
    bool rows = site->method == METHOD_SEAM_FASTENED && site->rule == RULE_CALCULATED;

    return rows ? (1u << ZONE_CORNER | 1u << ZONE_PERIMETER) + 1 : 1;
}

static bool suits(const struct assembly *assembly, const struct site *site)
{
    return assembly->method == site->method &&
           assembly->decks & 1u << site->roof->basis.deck;
}

/* @return false when no assembly suits method and deck */
static bool assembly_choose(const struct site *site, struct fit *best)
{
    const struct catalog *catalog = site->settings->catalog;
    unsigned ways = ways_of(site);
    struct merit best_merit = {0, 0, 0};
    const struct assembly *only = site->settings->assembly;
    bool found = false;

    if (only && !suits(only, site))
        only = NULL;
    for (size_t i = 0; i < catalog->assembly_count; i++) {
        const struct assembly *assembly = &catalog->assemblies[i];

        if (only ? assembly != only : !suits(assembly, site))
            continue;
        for (unsigned way = 0; way < ways; way++) {
            struct fit fit = {
                .assembly = assembly, .half_rows = way, .fastener_load = NAN};
            struct merit merit;

            fit_work_out(site, &fit);
            merit = merit_of(site, &fit);
            if (!found || merit_better(site, &merit, &best_merit)) {
                *best = fit;
                best_merit = merit;
                found = true;
            }
        }
    }
    return found;
}

/* ---- What the roof gets ---------------------------------------------------------- */

static struct zone_attachment attachment_blank(const struct site *site)
{
    struct zone_attachment blank = {
        .rule = site->rule,
        .row_spacing = NAN,
        .fastener_spacing = NAN,
        .per_board = MISSING,
        .ribbon_spacing = NAN,
        .capacity = NAN,
        .fasteners = NAN,
        .board_fasteners = NAN,
    };

    return blank;
}

/* State and the reason that needs no numbers. */
static void state_settle(const struct site *site, const struct pattern *pattern,
                         struct zone *zone)
{
    const struct basis *basis = &site->roof->basis;
    struct zone_attachment *out = &zone->attachment;

    if (site->rule != site->settings->edge_rule)
        out->reason = rule_replaced_text(site->settings->edge_rule);
    if (zone->uplift.outside)
        out->reason = zone->uplift.outside;
    if (pattern->verdict != VERDICT_FITS) {
        out->state = STATE_NOT_MET;
    } else if (!site->known) {
        out->state = STATE_UNKNOWN;
        out->reason = "uplift isn't known: no wind speed";
    } else if (zone->uplift.outside) {
        out->state = STATE_UNKNOWN;
    } else if (basis->pullout_unknown && site->method != METHOD_ADHERED) {
        out->state = STATE_UNKNOWN;
        out->reason = basis->pullout_unknown;
    } else if (tested_decks & 1u << basis->deck && isnan(basis->pullout)) {
        out->state = STATE_UNKNOWN;
        out->reason = deck_untested;
    } else {
        out->state = roof_state_held(site->roof);
    }
}

static void quantities_settle(const struct site *site, const struct assembly *assembly,
                              const struct pattern *pattern, double area,
                              struct zone_attachment *out)
{
    bool adhered = site->method == METHOD_ADHERED;
    double board = assembly->board_length * assembly->board_width;

    out->fasteners = adhered ? 0 : area * pattern->density;
    out->board_fasteners = area / board * assembly->board_fasteners;
    if (adhered || site->method == METHOD_ADHERED_FASTENED)
        out->adhesive_area = area;
}

/* @return false when out of memory */
static bool zone_attach(const struct site *site, const struct fit *fit,
                        const struct pattern *pattern, struct arena *arena,
                        struct zone *zone)
{
    struct zone_attachment *out = &zone->attachment;

    *out = attachment_blank(site);
    out->assembly = fit->assembly->name;
    out->row_spacing = pattern->row_spacing;
    out->fastener_spacing = pattern->fastener_spacing;
    out->per_board = pattern->per_board;
    out->ribbon_spacing = pattern->ribbon_spacing;
    out->capacity = pattern->capacity;
    quantities_settle(site, fit->assembly, pattern, zone->area, out);
    state_settle(site, pattern, zone);
    if (out->state == STATE_NOT_MET)
        out->reason = reason_text(arena, site, fit->assembly, pattern, out->reason);
    return out->state != STATE_NOT_MET || out->reason;
}

/* Every zone not met for want of an assembly. @return false when out of memory */
static bool zones_refuse(const struct site *site, struct arena *arena, struct roof *roof)
{
    struct text text = TEXT_INIT;
    const char *reason = NULL;

    text_printf(&text, "no %s assembly of the catalogue suits a %s deck",
                method_name((int)site->method), deck_name((int)roof->basis.deck));
    if (!text.failed)
        reason = arena_text(arena, text.data, text.length);
    text_release(&text);
    for (size_t i = 0; i < roof->zone_count; i++) {
        roof->zones[i].attachment = attachment_blank(site);
        roof->zones[i].attachment.state = STATE_NOT_MET;
        roof->zones[i].attachment.reason = reason;
    }
    return reason != NULL;
}

static void state_sum_up(struct arena *arena, struct roof *roof)
{
    char zones[80] = "";
    size_t used = 0;
    const char *reason = NULL;
    bool untested = false;

    roof->state = STATE_MET;
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone *zone = &roof->zones[i];

        roof->state = zone_state_worse(roof->state, zone->attachment.state);
        untested = untested || zone->attachment.reason == deck_untested;
        if (zone->attachment.state != STATE_NOT_MET)
            continue;
        used += (size_t)snprintf(zones + used, sizeof zones - used, "%s%s",
                                 reason ? ", " : "", zone_role_name((int)zone->role));
        if (!reason)
            reason = zone->attachment.reason;
    }
    if (untested)
        roof_problem(arena, roof, PROBLEM_PULLOUT,
                     "unknown at best; have the pull-out tested and give it by a column "
                     "pullout or --pullout",
                     "%s", deck_untested);
    if (reason)
        roof_problem(arena, roof, PROBLEM_NOT_MET,
                     "counted by the strongest pattern allowed, and marked", "%s: %s",
                     zones, reason);
}

/* The pattern of a zone in a fit of the sections as one roof. */
static const struct pattern *pattern_of(const struct fit *fit, const struct roof *whole,
                                        enum zone_role role)
{
    size_t i = 0;

    while (whole->zones[i].role != role)
        i++;
    return &fit->patterns[i];
}

/* A rating is assumed unless somebody named a source for this assembly's. */
static void rating_vouch(struct roof *roof)
{
    if (roof_closing(roof, ASSUME_RATINGS, roof->assembly->name))
        roof->settled |= ASSUMPTION_BIT(ASSUME_RATINGS);
    else
        roof_assume(roof, ASSUME_RATINGS);
}

/* @param whole  the roof with all sections that are laid out as one with it */
static bool roof_attach(struct arena *arena, struct roof *roof, const struct roof *whole,
                        const struct attach_settings *settings)
{
    struct site site = site_of(roof, settings);
    struct site all = site;
    struct fit fit;

    all.roof = whole;
    all.known = uplift_known(whole);
    roof_assume(roof, ASSUME_LAYOUT);
    if (!assembly_choose(&all, &fit)) {
        if (!zones_refuse(&site, arena, roof))
            return false;
        state_sum_up(arena, roof);
        return true;
    }
    roof->assembly = fit.assembly;
    rating_vouch(roof);
    roof->fastener_load = fit.fastener_load;
    for (size_t i = 0; i < roof->zone_count; i++) {
        struct zone *zone = &roof->zones[i];

        if (!zone_attach(&site, &fit, pattern_of(&fit, whole, zone->role), arena, zone))
            return false;
    }
    if (site.method == METHOD_SEAM_FASTENED)
        roof->half_sheets = seam_half_sheets(&all, &fit);
    state_sum_up(arena, roof);
    if (site.rule == RULE_STOREY && roof->half_sheets > HALF_SHEETS_MAX)
        roof_problem(arena, roof, PROBLEM_HALF_SHEETS,
                     "kept; intermediate rows across full sheets may be less work",
                     "%d half sheets along each edge by the storey rule",
                     roof->half_sheets);
    return true;
}

/* What is assumed here depends on the method. */
static void attachment_clear(struct roof *roof)
{
    roof_unassume(roof, ASSUMPTION_BIT(ASSUME_METHOD) | ASSUMPTION_BIT(ASSUME_PULLOUT) |
                            ASSUMPTION_BIT(ASSUME_PULLOUT_FEW) |
                            ASSUMPTION_BIT(ASSUME_RATINGS) | ASSUMPTION_BIT(ASSUME_RIBS));
    roof->assembly = NULL;
    roof->half_sheets = MISSING;
    roof->state = STATE_UNKNOWN;
    roof->other_count = 0;
}

/* What another method finds wrong is no problem of the roof. @return as roof_attach() */
static bool others_attach(struct arena *arena, struct roof *roof,
                          const struct roof *whole,
                          const struct attach_settings *settings)
{
    unsigned methods = settings->methods & ~(1u << roof->method);
    bool done = true;

    if (methods == 0)
        return true;
    roof->others = arena_array(arena, METHOD_KINDS, sizeof *roof->others);
    if (!roof->others)
        return false;
    for (int method = METHOD_NOT_GIVEN + 1; method < METHOD_KINDS && done; method++) {
        struct roof *other = &roof->others[roof->other_count];

        if (!(methods & 1u << method))
            continue;
        *other = *roof;
        other->given.method = (enum method)method;
        other->problems = NULL;
        other->problems_end = NULL;
        attachment_clear(other);
        done = roof_attach(arena, other, whole, settings);
        roof->other_count++;
    }
    return done;
}

enum outlay_status attach_run(struct building *building,
                              const struct attach_settings *settings,
                              struct outlay_error *err)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];
        const struct roof *whole = roof;
        struct roof as_one;

        attachment_clear(roof);
        if (!roof->zoned || roof->zone_count == 0)
            continue;
        if (roof->section_group > 0) {
            sections_as_one(building, roof, SIZE_MAX, &as_one);
            whole = &as_one;
        }
        if (!roof_attach(building->arena, roof, whole, settings) ||
            !others_attach(building->arena, roof, whole, settings))
            return outlay_fail(err, OUTLAY_E_MEMORY, "attaching a roof");
    }
    return OUTLAY_OK;
}
