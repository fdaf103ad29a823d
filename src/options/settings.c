#include "options/settings.h"

#include <math.h>
#include <string.h>

#include "base/nearest.h"
#include "options/vouched.h"

/* Standards that are kept for checks only aren't counted. */
static const struct standard *standard_offered(int index)
{
    for (size_t i = 0; standards[i]; i++)
        if (standards[i]->offered && index-- == 0)
            return standards[i];
    return NULL;
}

const char *standard_offered_name(int index)
{
    const struct standard *standard = index < 0 ? NULL : standard_offered(index);
    return standard ? standard->name : NULL;
}

const char *unit_system_name(int index)
{
    static const char *const names[] = {"us", "si"};
    return index >= 0 && index < 2 ? names[index] : NULL;
}

const char *mid_rise_name(int value)
{
    static const char *const names[] = {"tall", "low"};
    return value >= 0 && value < 2 ? names[value] : NULL;
}

const char *edge_style_name(int value)
{
    static const char *const names[] = {"auto", "frames", "lines"};
    return value >= 0 && value < 3 ? names[value] : NULL;
}

const char *percentage_edition_name(int value)
{
    static const char *const names[] = {"2003", "2006"};
    return value >= 0 && value < 2 ? names[value] : NULL;
}

const struct unit_system *settings_units(const struct settings *settings)
{
    return settings->unit_system == 1 ? &unit_system_si : &unit_system_us;
}

void settings_init(struct settings *settings)
{
    memset(settings, 0, sizeof *settings);
    settings->given = attributes_missing();
    settings->zoning = zoning_defaults();
    settings->uplift = uplift_defaults();
    settings->basis = basis_defaults();
    settings->attach = attach_defaults();
    settings->takeoff = takeoff_defaults();
    settings->taper = taper_defaults();
    settings->order = order_defaults();
    settings->rank = rank_defaults();
    settings->sample = sample_defaults();
    settings->plan = budget_defaults();
    settings->spread = spread_defaults();
    settings->safety_factor = settings->uplift.safety_factor;
    settings->grid = NAN;
    settings->parts = PARTS_ALL;
}

static enum outlay_status fail_assembly(const struct settings *settings,
                                        struct outlay_error *err)
{
    struct nearest nearest = nearest_start(settings->assembly);

    for (size_t i = 0; i < settings->catalog.assembly_count; i++)
        nearest_try(&nearest, settings->catalog.assemblies[i].name);
    outlay_fail(err, OUTLAY_E_USAGE, "no assembly of the catalogue is called \"%.80s\"",
                settings->assembly);
    outlay_fail_where(err, "--assembly");
    if (nearest.best)
        outlay_fail_todo(err, "did you mean \"%.120s\"?", nearest.best);
    else
        outlay_fail_todo(err, "`outlay catalog -o -` prints the built-in ones; write the "
                              "whole name");
    return OUTLAY_E_USAGE;
}

/* An assembly brings its method. */
static enum outlay_status find_assembly(struct settings *settings,
                                        struct outlay_error *err)
{
    const struct assembly *found = NULL;
    enum method method = settings->attach.method;

    if (!settings->assembly)
        return OUTLAY_OK;
    for (size_t i = 0; i < settings->catalog.assembly_count; i++)
        if (name_same(settings->assembly, settings->catalog.assemblies[i].name))
            found = &settings->catalog.assemblies[i];
    if (!found)
        return fail_assembly(settings, err);
    if (method != METHOD_NOT_GIVEN && method != found->method) {
        outlay_fail(err, OUTLAY_E_USAGE, "the assembly is %s, the method %s",
                    method_name((int)found->method), method_name((int)method));
        outlay_fail_where(err, "--assembly");
        outlay_fail_todo(err, "leave --method away, or name another assembly");
        return OUTLAY_E_USAGE;
    }
    settings->attach.method = found->method;
    settings->attach.assembly = found;
    return OUTLAY_OK;
}

bool settings_group(const struct settings *settings)
{
    const char *column = settings->read.fields[ROLE_GROUP];

    return isfinite(settings->grid) || (column && *column);
}

/* Roofs are summed up in one way. */
static enum outlay_status check_groups(const struct settings *settings,
                                       struct outlay_error *err)
{
    if (!isfinite(settings->grid) || !settings->read.fields[ROLE_GROUP])
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_USAGE, "--group and --grid can't both be given");
    outlay_fail_todo(err, "leave one away, or run twice");
    return OUTLAY_E_USAGE;
}

static enum outlay_status read_tables(struct settings *settings, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    if (settings->catalog_path)
        status = catalog_load(settings->catalog_path, &settings->catalog, err);
    else
        status = catalog_builtin(&settings->catalog, err);
    if (status == OUTLAY_OK)
        status = find_assembly(settings, err);
    if (status == OUTLAY_OK)
        status = items_load(settings->catalog.arena, settings->items_path,
                            &settings->items, err);
    if (status == OUTLAY_OK)
        status = details_load(settings->catalog.arena, settings->details_path,
                              &settings->details, err);
    if (status == OUTLAY_OK)
        status = panels_load(settings->catalog.arena, settings->panels_path,
                             &settings->panels, err);
    if (status == OUTLAY_OK)
        status =
            prices_load(settings->catalog.arena, settings->prices_path, &settings->items,
                        &settings->catalog, &settings->prices, err);
    if (status == OUTLAY_OK)
        status = actions_load(settings->catalog.arena, settings->actions_path,
                              settings->prices.currency, &settings->actions, err);
    if (status == OUTLAY_OK)
        status = survey_rules_load(settings->catalog.arena, settings->rules_path,
                                   &settings->rules, err);
    if (status == OUTLAY_OK)
        status = duplicates_read(settings->catalog.arena, settings->duplicates_path,
                                 &settings->duplicates, err);
    return status;
}

/* What several rooms go by is the same in all of them. */
static void share_tables(struct settings *settings)
{
    settings->attach.catalog = &settings->catalog;
    settings->order.items = &settings->items;
    settings->order.details = &settings->details;
    settings->taper.panels = &settings->panels;
    settings->order.high_from = settings->prices.terms[TERM_HEIGHT_FROM];
    settings->order.high_share = settings->prices.terms[TERM_HEIGHT_SHARE] / M_PER_FT;
    settings->price.prices = &settings->prices;
    settings->price.items = &settings->items;
    settings->plan.actions = settings->actions;
    settings->plan.prices = visit_prices_of(&settings->prices, &settings->items);
    settings->write.items_built_in = settings->items_path == NULL ||
                                     settings->details_path == NULL ||
                                     settings->panels_path == NULL;
    settings->write.prices_built_in = settings->prices.built_in;
    settings->write.actions_built_in = settings->actions.built_in;
    settings->write.currency = settings->prices.currency;
    settings->write.price_date = settings->prices.date;
    settings->write.catalog_built_in = settings->catalog.built_in;
}

static void share_values(struct settings *settings)
{
    const struct standard *standard = standard_offered(settings->standard);
    settings->sample.height = settings->given.height;
    settings->sample.storeys = settings->given.storeys;
    settings->sample.exposure = settings->uplift.exposure;
    settings->sample.pitched = rank_steepest(&settings->rank);
    settings->sample.units = settings_units(settings);
    settings->zoning.standard = standard;
    settings->uplift.standard = standard;
    settings->write.standard = standard;
    if (settings->velocity_constant == VELOCITY_OF_UNITS)
        settings->velocity_constant =
            settings_units(settings) == &unit_system_si ? VELOCITY_SI : VELOCITY_US;
    settings->uplift.constant = settings->velocity_constant;
    settings->uplift.safety_factor = settings->safety_factor;
    settings->attach.safety_factor = settings->safety_factor;
    settings->taper.contour =
        settings_units(settings) == &unit_system_si ? 0.025 : M_PER_IN;
    settings->write.title = "";
    settings->write.units = settings_units(settings);
}

/* Who gives a spread wants draws. */
static void choose_draws(struct settings *settings)
{
    struct spread_settings *spread = &settings->spread;

    if (spread->draws == MISSING)
        spread->draws = spread->list && *spread->list ? SPREAD_USUAL_DRAWS : 0;
}

enum outlay_status settings_resolve(struct settings *settings, struct outlay_error *err)
{
    enum outlay_status status = check_groups(settings, err);
    if (status == OUTLAY_OK)
        status = spread_list_read(&settings->spread, err);
    choose_draws(settings);
    if (status == OUTLAY_OK)
        status = read_tables(settings, err);
    settings->plan.start = settings->rank.year;
    settings->plan.curve.life = settings->rank.service_life;
    if (status == OUTLAY_OK)
        status = budget_settings_read(&settings->plan, err);
    if (status == OUTLAY_OK && settings->fixtures_path)
        status = marks_open(MARKS_FIXTURES, settings->fixtures_path, settings->read.marks,
                            &settings->fixtures, err);
    if (status == OUTLAY_OK && settings->edges_path)
        status = marks_open(MARKS_EDGES, settings->edges_path, settings->read.marks,
                            &settings->edges, err);
    if (status == OUTLAY_OK && settings->findings_path)
        status = findings_open(settings->findings_path, &settings->findings, err);
    if (status == OUTLAY_OK)
        status = vouched_read(settings, err);
    if (status != OUTLAY_OK)
        return status;
    share_values(settings);
    share_tables(settings);
    if (!settings->plan.cap && settings->order.order_by == ORDER_BY_VISIT)
        settings->order.order_by = ORDER_BY_BUILDING;
    return OUTLAY_OK;
}

unsigned settings_need(const struct settings *settings, unsigned parts)
{
    unsigned needs = parts_need(parts);

    if (settings->plan.cap && needs & FOLLOWS_PLAN)
        needs |= NEEDS_PLAN;
    if (settings->plan.cap && needs & SHOWS_PLAN)
        needs |= NEEDS_LAYOUTS | NEEDS_PLAN | NEEDS_SCENARIOS;
    return needs;
}

void settings_release(struct settings *settings)
{
    catalog_release(&settings->catalog);
    marks_close(settings->fixtures);
    marks_close(settings->edges);
    findings_close(settings->findings);
    settings->findings = NULL;
    settings->fixtures = NULL;
    settings->edges = NULL;
}
