#include <math.h>
#include <string.h>

#include "explain/derivation_parts.h"
#include "roof/caution.h"
#include "roof/edges.h"
#include "roof/fixtures.h"

static int decimals_of(const struct unit *unit)
{
    static const struct {
        const char *label;
        int decimals;
    } rows[] = {{"ft", 1},  {"in", 1},  {"ft2", 1}, {"psf", 1}, {"lbf", 0},
                {"mph", 1}, {"ft3", 1}, {"m", 2},   {"mm", 0},  {"m2", 2},
                {"Pa", 0},  {"N", 0},   {"m/s", 2}};

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        if (strcmp(rows[i].label, unit->label) == 0)
            return rows[i].decimals;
    return 2;
}

void put_quantity(const struct derivation *derivation, double value,
                  const struct unit *unit)
{
    int decimals = decimals_of(unit);

    if (!isfinite(value)) {
        text_puts(derivation->out, "unknown");
        return;
    }
    text_fixed(derivation->out, value / unit->factor, decimals);
    text_printf(derivation->out, " %s", unit->label);
}

void put_words(const struct derivation *derivation, const char *words)
{
    units_choose(derivation->out, words, derivation->units);
}

void put_zone(const struct derivation *derivation, const struct zone *zone)
{
    text_printf(derivation->out, "   %s (zone %s): ", zone_role_name(zone->role),
                zone->label);
}

void put_source(const struct derivation *derivation, const char *source)
{
    text_puts(derivation->out, "  [");
    put_words(derivation, source);
    text_puts(derivation->out, "]\n");
}

void put_assumed(const struct derivation *derivation, enum assumption what)
{
    if ((derivation->roof->assumed & ASSUMPTION_BIT(what)) != 0) {
        text_puts(derivation->out, " (assumed: ");
        put_words(derivation, assumption_reason(what));
        text_putc(derivation->out, ')');
    }
}

/* ---- Geometry ------------------------------------------------------------------ */

static void put_heading(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;

    text_printf(derivation->out, "Derivation for roof %s", roof->id);
    if (roof->name != NULL) {
        text_printf(derivation->out, ", %s", roof->name);
    }
    if (roof->building != NULL) {
        text_printf(derivation->out, ", building %s", roof->building);
    }
    text_printf(derivation->out, ", by %s\n", derivation->standard->title);
}

static void put_size(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    text_puts(out, "\n1. Geometry\n   area A = ");
    put_quantity(derivation, roof->area, &derivation->units->area);
    text_puts(out, "\n   mean roof height h = ");
    put_quantity(derivation, roof->zoned ? roof->level.height : roof->height,
                 &derivation->units->length);
    if ((roof->estimated & 1u << ESTIMATE_HEIGHT) != 0) {
        text_puts(out, " (estimated: ");
        put_words(derivation, estimate_reason(ESTIMATE_HEIGHT));
        text_putc(out, ')');
    }
    text_putc(out, '\n');
}

/* Of a stepped building it is said whose dimension it is. */
static void put_least_dimension(const struct derivation *derivation)
{
    const struct level *level = &derivation->roof->level;
    const struct unit *length = &derivation->units->length;
    struct text *out = derivation->out;

    text_puts(out, "   least horizontal dimension LHD = ");
    put_quantity(derivation, level->least_dimension, length);
    if (level->whose == DIMENSION_BUILDING) {
        text_puts(out, " of the whole building; this level ");
        put_quantity(derivation, level->short_side, length);
        text_puts(out, " by ");
    } else {
        text_puts(out, level->whose == DIMENSION_LEVEL ? " of this level alone" : "");
        text_puts(out, ", other side ");
    }
    put_quantity(derivation, level->long_side, length);
    put_assumed(derivation, ASSUME_LEAST_DIMENSION);
    put_assumed(derivation, ASSUME_STEPPED);
}

static void put_depths(const struct derivation *derivation)
{
    const struct level *level = &derivation->roof->level;
    const struct standard *standard = derivation->standard;
    const struct unit *length = &derivation->units->length;
    struct text *out = derivation->out;

    put_least_dimension(derivation);
    text_puts(out, level->tall ? "\n   rule for h above " : "\n   rule for h up to ");
    put_words(derivation, "60 ft (18.3 m)");
    put_assumed(derivation, ASSUME_MID_RISE);
    text_puts(out, ": ");
    put_words(derivation,
              level->tall ? standard->figure_tall_rule : standard->figure_low_rule);
    put_source(derivation,
               level->tall ? standard->figure_tall_source : standard->figure_low_source);
    put_words(derivation, "   zones and coefficients change at 60 ft (18.3 m): the mean "
                          "uplift over a roof jumps there\n");
    text_puts(out, "   perimeter depth = ");
    put_quantity(derivation, level->perimeter_depth, length);
    if (isfinite(level->field_depth)) {
        text_puts(out, "; field to ");
        put_quantity(derivation, level->field_depth, length);
    }
    text_puts(out, "; corner legs ");
    put_quantity(derivation, level->leg_length, length);
    text_puts(out, " long, ");
    put_quantity(derivation, level->leg_depth, length);
    text_puts(out, " deep\n");
}

static void put_zones(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    text_printf(out, "   corners: %d; free edge ", roof->corners);
    put_quantity(derivation, roof->edge_length, &derivation->units->length);
    text_puts(out, "; edge of openings ");
    put_quantity(derivation, roof->inner_length, &derivation->units->length);
    text_putc(out, '\n');
    for (size_t i = 0; i < roof->zone_count; i++) {
        put_zone(derivation, &roof->zones[i]);
        put_quantity(derivation, roof->zones[i].area, &derivation->units->area);
        text_puts(out, " = ");
        text_fixed(out, 100.0 * roof->zones[i].area / roof->area, 1);
        text_puts(out, " % of A\n");
    }
}

/* What is at the edges, and by what that is known. */
static void put_edges(const struct derivation *derivation)
{
    const struct unit_system *units = derivation->units;
    struct text *out = derivation->out;

    for (size_t i = 0; i < derivation->roof->edge_sum_count; i++) {
        const struct edge_sum *sum = &derivation->roof->edge_sums[i];

        if (!(sum->length > 0))
            continue;
        text_printf(out, "   %s edge: ", edge_kind_name((int)sum->kind));
        put_quantity(derivation, sum->length, &units->length);
        if (isfinite(sum->height)) {
            text_puts(out, "; ");
            put_quantity(derivation, sum->height, &units->length);
            text_puts(out, " high");
        }
        if (isfinite(sum->thickness)) {
            text_puts(out, ", ");
            put_quantity(derivation, sum->thickness, &units->small);
            text_puts(out, " thick");
        }
        text_printf(out, " (%s)\n", edge_source_reason((int)sum->source));
    }
}

/* What stands on the roof, kind by kind. */
static void put_fixtures(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;
    const char *comma = "   on the roof, by the layer of fixtures: ";

    for (int kind = 1; fixture_kind_name(kind); kind++) {
        int count = fixtures_count(roof, (enum fixture_kind)kind);

        if (count == 0)
            continue;
        text_printf(out, "%s%d x %s", comma, count, fixture_kind_name(kind));
        comma = ", ";
    }
    if (roof->fixture_count > 0)
        text_putc(out, '\n');
}

/* ---- What was sampled ---------------------------------------------------------- */

/* A plain number where there is no unit. */
static void put_sampled(const struct derivation *derivation, double value,
                        enum quantity quantity)
{
    const struct unit_system *units = derivation->units;
    const struct unit *unit = NULL;

    if (quantity == QUANTITY_LENGTH)
        unit = &units->length;
    else if (quantity == QUANTITY_SPEED)
        unit = &units->speed;
    else if (quantity == QUANTITY_PRESSURE)
        unit = &units->pressure;
    else if (quantity == QUANTITY_FORCE)
        unit = &units->force;
    if (unit)
        put_quantity(derivation, value, unit);
    else
        text_number(derivation->out, value, 3);
}

static void put_sample(const struct derivation *derivation, const struct sampled *sample)
{
    struct text *out = derivation->out;

    text_printf(out, "   %s", sample->role);
    if (isfinite(sample->value)) {
        text_puts(out, " = ");
        put_sampled(derivation, sample->value, sample->quantity);
    }
    if (sample->flatness)
        text_printf(out, " (%s)", flatness_name((int)sample->flatness));
    text_printf(out, ", %s of %zu from %s", sample->statistic, sample->count,
                sample->source);
    if (isfinite(sample->spread)) {
        text_puts(out, ", spread ");
        put_sampled(derivation, sample->spread, sample->quantity);
    }
    if (sample->weak)
        text_printf(out, "; weak: %s", sample->weak);
    text_putc(out, '\n');
    if (sample->finding)
        text_puts(out, sample->finding);
}

static void put_samples(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;

    if (roof->sample_count)
        text_puts(derivation->out, "\nSampled\n");
    for (size_t i = 0; i < roof->sample_count; i++)
        put_sample(derivation, &roof->samples[i]);
}

/* ---- What is weak -------------------------------------------------------------- */

static void put_weak_point(const struct derivation *derivation, const char *how,
                           const char *name, const char *reason)
{
    text_printf(derivation->out, "   %s %s: ", how, name);
    put_words(derivation, reason);
    text_putc(derivation->out, '\n');
}

static void put_weak_points(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    text_puts(out, "\nEstimated and assumed\n");
    for (int i = 0; i < ESTIMATES; i++) {
        if ((roof->estimated & 1u << i) != 0) {
            put_weak_point(derivation, "estimated", open_item_name(i),
                           estimate_reason(i));
        }
    }
    for (int i = 0; i < ASSUMPTIONS; i++) {
        if ((roof->assumed & ASSUMPTION_BIT(i)) != 0) {
            put_weak_point(derivation, "assumed", open_item_name(ESTIMATES + i),
                           assumption_reason(i));
        }
    }
    if (roof->estimated == 0 && roof->assumed == 0) {
        text_puts(out, "   nothing\n");
    }
}

static void put_problems(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    struct text *out = derivation->out;

    text_puts(out, "\nProblems\n");
    for (const struct problem *p = roof->problems; p != NULL; p = p->next) {
        text_printf(out, "   %s %s: ", severity_name(problem_severity(p->code)),
                    problem_code_name(p->code));
        put_words(derivation, p->what);
        text_puts(out, "; ");
        put_words(derivation, p->done);
        text_putc(out, '\n');
    }
    if (roof->problems == NULL) {
        text_puts(out, "   none\n");
    }
}

void derivation_print(struct text *out, const struct roof *roof,
                      const struct write_settings *set, enum edge_style style)
{
    const struct derivation derivation = {out,        roof, set->standard,
                                          set->units, set,  style};

    put_heading(&derivation);
    put_size(&derivation);
    if (!roof->zoned) {
        text_puts(out, "   not zoned: the problems below say why\n");
    } else {
        put_depths(&derivation);
        put_zones(&derivation);
        put_edges(&derivation);
        put_fixtures(&derivation);
        put_velocity(&derivation);
        if (roof->velocity.known) {
            put_coefficients(&derivation);
            put_pressures(&derivation);
            put_ratings(&derivation);
        }
        put_attachment(&derivation);
        put_layout(&derivation);
        put_taper(&derivation);
        put_bill(&derivation);
    }
    put_samples(&derivation);
    put_vouched(&derivation);
    put_spread(&derivation);
    put_weak_points(&derivation);
    put_problems(&derivation);
    text_printf(out, "\nCaution: %s\n", caution_text());
}
