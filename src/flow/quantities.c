/* Layouts and bills, and what they replace. */

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "flow/stages.h"

/* ---- Layouts ---- */

/* A layout that came to nothing still says why, and states stay those by area. */
static void say_why(struct roof *roof, struct layout *layout)
{
    if (layout->sheet_count > 0)
        return;
    roof_assume(roof, ASSUME_LAYOUT);
    for (size_t i = 0; i < roof->zone_count; i++) {
        layout->states[roof->zones[i].role] = roof->zones[i].attachment.state;
        layout->reasons[roof->zones[i].role] = roof->zones[i].attachment.reason;
    }
}

/* Half sheets that would meet in the middle stop there. */
static void note_half_sheets(struct arena *arena, struct roof *roof,
                             const struct layout *layout)
{
    if (!layout->met_in_middle || layout->sheet_count == 0)
        return;
    if (layout->half_sheets < roof->half_sheets)
        roof_problem(arena, roof, PROBLEM_HALF_SHEETS_MEET,
                     "the middle laid with full sheets, rows between them where needed",
                     "half sheets from both sides would meet: %d of %d laid along each "
                     "edge",
                     layout->half_sheets, roof->half_sheets);
    else
        roof_problem(arena, roof, PROBLEM_HALF_SHEETS_MEET,
                     "these parts laid with full sheets, rows between them where needed",
                     "half sheets from both sides would meet in parts of %.0f ft2 "
                     "(%.0f m2) together",
                     layout->narrow_area / M2_PER_FT2, layout->narrow_area);
}

/* What the layout leaves out reaches the user, but for shreds (ours). */
static void note_unboarded(struct arena *arena, struct roof *roof,
                           const struct layout *layout)
{
    if (layout->unboarded > 0.5 * M2_PER_FT2)
        roof_problem(arena, roof, PROBLEM_UNBOARDED,
                     "left without a board; fill them as joints are filled",
                     "strips at edges, 3/8 to 1 in (10 to 25 mm) wide, of %.1f ft2 "
                     "(%.2f m2) together",
                     layout->unboarded / M2_PER_FT2, layout->unboarded);
}

/* Edge that the roof shares with other sections of its level, m: what is neither free nor
 * an opening's. */
static double joint_length(const struct roof *roof)
{
    double sum = -roof->edge_length - roof->inner_length;

    if (!roof->level.outline)
        return 0;
    for (size_t i = 0; i < roof->outline.polygon_count; i++)
        for (size_t j = 0; j < roof->outline.polygons[i].ring_count; j++)
            sum += ring_length(roof->outline.polygons[i].rings[j]);
    return sum;
}

/* Sections are laid one by one: nothing holds what lies between them. */
static void warn_of_joint(struct arena *arena, struct roof *roof,
                          const struct layout *layout)
{
    const double least = 0.5; /* m (ours); sections adjoin along 1 m or more */
    double length = joint_length(roof);

    if (layout->sheet_count > 0 && length > least)
        roof_problem(arena, roof, PROBLEM_SECTIONS_JOIN,
                     "the joint is left out: detail, fasten and order it apart, or trace "
                     "the sections as one roof",
                     "%.0f ft (%.0f m) of edge adjoin other sections of this flat roof: "
                     "no sheet crosses the joint and no row runs along it",
                     length / M_PER_FT, length);
}

static enum outlay_status lay(struct building *building, struct roof *roof,
                              const struct settings *settings, struct geo_ctx *ctx,
                              struct layout *out, struct outlay_error *err)
{
    enum outlay_status status =
        takeoff_roof(building, roof, roof->method, &settings->takeoff, ctx, out, err);

    say_why(roof, out);
    note_half_sheets(building->arena, roof, out);
    note_unboarded(building->arena, roof, out);
    warn_of_joint(building->arena, roof, out);
    return status;
}

/* Another method than the roof's own has its own attachment; what that finds wrong is no
 * problem of the roof. */
static enum outlay_status lay_other(struct building *building, const struct roof *roof,
                                    enum method method, const struct settings *settings,
                                    struct geo_ctx *ctx, struct layout *out,
                                    struct outlay_error *err)
{
    struct roof *copy = arena_array(building->arena, 1, sizeof *copy);
    struct building alone = *building;
    enum outlay_status status = OUTLAY_OK;

    if (!copy)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    *copy = *roof;
    copy->given.method = method;
    copy->problems = NULL;
    copy->problems_end = NULL;
    alone.roofs = copy;
    alone.roof_count = 1;
    status = attach_run(&alone, &settings->attach, err);
    return status == OUTLAY_OK ? lay(&alone, copy, settings, ctx, out, err) : status;
}

/* Counts in one zone. */
struct zone_counts {
    double rows;
    double boards;
};

static struct zone_counts count_zone(const struct layout *layout, enum zone_role role)
{
    struct zone_counts counts = {0, 0};

    for (size_t i = 0; i < layout->row_count; i++)
        if (layout->rows[i].zone == role)
            counts.rows += layout->rows[i].fasteners;
    for (size_t i = 0; i < layout->board_count; i++)
        if (layout->boards[i].zone == role)
            counts.boards += layout->boards[i].plates;
    return counts;
}

static void take_over(struct roof *roof, const struct layout *layout)
{
    enum zone_state worst = STATE_MET;

    for (size_t i = 0; i < roof->zone_count; i++) {
        struct zone *zone = &roof->zones[i];
        struct zone_attachment *attachment = &zone->attachment;
        struct zone_counts counts = count_zone(layout, zone->role);

        if (layout->method == METHOD_SEAM_FASTENED) {
            attachment->fasteners = counts.rows;
            attachment->board_fasteners = counts.boards;
        } else if (layout->method != METHOD_ADHERED) {
            attachment->fasteners = counts.boards;
        }
        attachment->state = layout->states[zone->role];
        attachment->reason = layout->reasons[zone->role];
        worst = zone_state_worse(worst, attachment->state);
    }
    roof->state = worst;
}

static enum outlay_status lay_roof(struct building *building, struct roof *roof,
                                   const struct settings *settings, struct geo_ctx *ctx,
                                   struct outlay_error *err)
{
    struct layout *next = NULL;
    enum outlay_status status = OUTLAY_OK;

    roof->layouts = arena_array(building->arena, METHOD_KINDS, sizeof *roof->layouts);
    if (!roof->layouts)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    status = lay(building, roof, settings, ctx, &roof->layouts[0], err);
    if (status != OUTLAY_OK)
        return status;
    roof->layout_count = 1;
    if (roof_laid_out(roof))
        take_over(roof, &roof->layouts[0]);
    for (int method = METHOD_NOT_GIVEN + 1; method < METHOD_KINDS; method++) {
        if ((enum method)method == roof->method || !(settings->methods & 1u << method))
            continue;
        next = &roof->layouts[roof->layout_count];
        status = lay_other(building, roof, (enum method)method, settings, ctx, next, err);
        if (status != OUTLAY_OK)
            return status;
        roof->layout_count++;
    }
    return OUTLAY_OK;
}

enum outlay_status takeoff_run(struct building *building, const struct settings *settings,
                               struct geo_ctx *ctx, struct outlay_error *err)
{
    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];
        enum outlay_status status = OUTLAY_OK;

        if (!roof->zoned)
            continue;
        status = lay_roof(building, roof, settings, ctx, err);
        if (status != OUTLAY_OK)
            return status;
    }
    return OUTLAY_OK;
}

/* ---- Bills ---- */

static enum outlay_status bill_roof(struct building *building, struct roof *roof,
                                    const struct settings *settings, bool set_up,
                                    struct outlay_error *err)
{
    bool whole_packs =
        settings->order.order_by == ORDER_BY_ROOF ||
        (settings->order.order_by == ORDER_BY_BUILDING && building->roof_count == 1);
    enum outlay_status status = OUTLAY_OK;

    roof->bills = arena_array(building->arena, roof->layout_count, sizeof *roof->bills);
    if (!roof->bills && roof->layout_count > 0)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t k = 0; k < roof->layout_count && status == OUTLAY_OK; k++) {
        status = order_bill(building->arena, roof, &roof->layouts[k], &settings->order,
                            set_up, &roof->bills[k], err);
        if (status == OUTLAY_OK && whole_packs)
            order_packs(&roof->bills[k]);
        else if (status == OUTLAY_OK)
            order_whole_packs(&roof->bills[k]);
    }
    return status;
}

/* Room for what the roofs' bills hold together. */
static bool sum_start(struct building *building, enum method method, struct bill *sum,
                      size_t *room)
{
    *room = 0;
    for (size_t i = 0; i < building->roof_count; i++)
        for (size_t k = 0; k < building->roofs[i].layout_count; k++)
            if (building->roofs[i].layouts[k].method == method)
                *room += building->roofs[i].bills[k].count;
    *sum = (struct bill){NULL, 0};
    if (*room == 0)
        return true;
    sum->items = arena_array(building->arena, *room, sizeof *sum->items);
    return sum->items != NULL;
}

static enum outlay_status round_building(struct building *building,
                                         struct outlay_error *err)
{
    building->rounding =
        arena_array(building->arena, METHOD_KINDS, sizeof *building->rounding);
    if (!building->rounding)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (int method = 0; method < METHOD_KINDS; method++) {
        struct bill *sum = &building->rounding[method];
        size_t room = 0;

        if (!sum_start(building, (enum method)method, sum, &room))
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        for (size_t i = 0; i < building->roof_count; i++)
            for (size_t k = 0; k < building->roofs[i].layout_count; k++)
                if (building->roofs[i].layouts[k].method == (enum method)method)
                    (void)order_add(sum, room, &building->roofs[i].bills[k]);
        order_rounding(sum);
    }
    return OUTLAY_OK;
}

/* The roof that carries the building's set-up: the largest that is laid out, of equal
 * ones that whose id comes first. NULL for none. */
static const struct roof *set_up_roof(const struct building *building)
{
    const struct roof *best = NULL;

    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];

        if (!roof_laid_out(roof))
            continue;
        if (!best || roof->area > best->area ||
            (roof->area == best->area && strcmp(roof->id, best->id) < 0))
            best = roof;
    }
    return best;
}

enum outlay_status quantities_run(struct building *building,
                                  const struct settings *settings, struct geo_ctx *ctx,
                                  struct outlay_error *err)
{
    const struct roof *set_up = set_up_roof(building);

    (void)ctx;
    for (size_t i = 0; i < building->roof_count; i++) {
        struct roof *roof = &building->roofs[i];
        enum outlay_status status =
            bill_roof(building, roof, settings, roof == set_up, err);

        if (status != OUTLAY_OK)
            return status;
    }
    if (settings->order.order_by == ORDER_BY_BUILDING && building->roof_count > 1)
        return round_building(building, err);
    return OUTLAY_OK;
}
