#include "takeoff/takeoff.h"

#include <math.h>
#include <stdint.h>

#include "base/units.h"
#include "catalog/catalog.h"
#include "roof/edges.h"
#include "roof/sections.h"
#include "takeoff/board.h"
#include "takeoff/field.h"
#include "takeoff/group.h"
#include "takeoff/seam.h"

struct takeoff_settings takeoff_defaults(void)
{
    return (struct takeoff_settings){.style = EDGES_AUTO};
}

/* Seam-fastened sheets may lie on the deck or the old roof; others are held by boards. */
static bool has_boards(const struct roof *roof)
{
    return roof->scope == SCOPE_RECOVER || roof->basis.stack > 0;
}

/* Whether nothing but edge metal holds seam-fastened sheets along some edge. */
static bool metal_holds(const struct roof *roof, const struct takeoff_settings *settings)
{
    if (roof->method != METHOD_SEAM_FASTENED || settings->edge_row > 0)
        return false;
    for (size_t k = 0; k < roof->edge_count; k++)
        if (edge_is_metal(roof->edges[k].kind))
            return true;
    return false;
}

/* States start as those by area, without what was assumed for want of a layout, and are
 * decided again by what fasteners carry. */
static void lay_start(struct roof *roof, const struct takeoff_settings *settings,
                      struct layout *out)
{
    const struct assembly *assembly = roof->assembly;

    *out = (struct layout){.method = roof->method};
    if (!assembly)
        return;
    out->assembly = assembly->name;
    out->made_of = assembly;
    roof_unassume(roof, ASSUMPTION_BIT(ASSUME_LAYOUT));
    if (metal_holds(roof, settings))
        roof_assume(roof, ASSUME_EDGE_METAL);
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone_attachment *by_area = &roof->zones[i].attachment;
        bool held = by_area->state == STATE_MET || by_area->state == STATE_MET_ASSUMED;

        out->states[roof->zones[i].role] = held ? roof_state_held(roof) : by_area->state;
        out->reasons[roof->zones[i].role] = by_area->reason;
    }
}

static enum outlay_status lay(struct building *building, struct roof *roof,
                              const struct takeoff_settings *settings,
                              struct geo_ctx *ctx, struct layout *out,
                              struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    if (!roof->assembly || roof->outline.polygon_count == 0)
        return OUTLAY_OK;
    if (roof->method != METHOD_SEAM_FASTENED)
        return board_layout(building, roof, settings, ctx, out, err);
    status = seam_layout(building, roof, settings, ctx, out, err);
    if (status == OUTLAY_OK && has_boards(roof))
        status = insulation_boards(building, roof, settings, ctx, out, err);
    return status;
}

/* ---- What a layout tells ---- */

/* What holds on it by area holds nothing. */
static void say_all_wall(struct arena *arena, struct roof *roof)
{
    static const char what[] = "its parapets leave nothing between them";

    roof_problem(arena, roof, PROBLEM_ALL_WALL,
                 "nothing is laid out or ordered for it: check its outline, and how "
                 "thick its parapets are",
                 "%s", what);
    for (size_t i = 0; i < roof->zone_count; i++) {
        struct zone_attachment *attachment = &roof->zones[i].attachment;

        attachment->state = STATE_UNKNOWN;
        attachment->reason = what;
        attachment->fasteners = attachment->board_fasteners = 0;
        attachment->adhesive_area = 0;
    }
    roof->state = STATE_UNKNOWN;
}

/* A layout that came to nothing still says why, and states stay those by area. */
static void say_why(struct arena *arena, struct roof *roof, struct layout *layout)
{
    if (layout->sheet_count > 0)
        return;
    if (roof_all_wall(roof))
        say_all_wall(arena, roof);
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

/* Lengths of edge at which a section ends though the level goes on behind it, m. */
struct joints {
    double laid; /* as joints, since the sections differ */
    double open; /* with nothing along it: what lies behind it isn't laid out */
};

static struct joints joints_of(const struct building *building, const struct roof *roof)
{
    struct joints joints = {0, 0};

    for (size_t k = 0; k < roof->edge_count; k++) {
        const struct edge *edge = &roof->edges[k];
        double length = point_distance(edge->from, edge->to);

        if (edge->kind == EDGE_JOINT && edge->source == EDGE_ASSUMED)
            joints.laid += length;
        else if (edge->kind == EDGE_CONTINUOUS && !edge->slope_change &&
                 !edge_runs_on(building, roof, edge))
            joints.open += length;
    }
    return joints;
}

static void warn_of_joints(struct building *building, struct roof *roof,
                           const struct layout *layout)
{
    const double least = 0.5; /* m (ours); sections adjoin along 1 m or more */
    struct joints joints = joints_of(building, roof);

    if (layout->sheet_count > 0 && joints.laid > least && roof->parted)
        roof_problem(building->arena, roof, PROBLEM_SECTIONS_JOIN,
                     "each ends at a joint, assumed: base securement along it, and half "
                     "of its cover for each",
                     "%.0f ft (%.0f m) of edge adjoin sections of this flat roof that %s",
                     joints.laid / M_PER_FT, joints.laid, roof->parted);
    if (layout->sheet_count > 0 && joints.open > least)
        roof_problem(building->arena, roof, PROBLEM_SECTIONS_JOIN,
                     "the joint is left out: detail, fasten and order it apart",
                     "%.0f ft (%.0f m) of edge adjoin other sections of this flat roof: "
                     "no sheet crosses the joint and no row runs along it",
                     joints.open / M_PER_FT, joints.open);
}

/* ---- What the roof takes over ---- */

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

static void number_sheets(struct layout *layout)
{
    static const enum sheet_kind kinds[] = {SHEET_FULL, SHEET_HALF};
    int number = 0;

    for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++)
        for (size_t i = 0; i < layout->sheet_count; i++)
            if (layout->sheets[i].kind == kinds[k] && layout->sheets[i].length > 0)
                layout->sheets[i].number = ++number;
}

/* What is said of a roof's layout for one method. */
static void conclude(struct building *building, struct roof *roof, struct layout *layout)
{
    say_why(building->arena, roof, layout);
    note_unboarded(building->arena, roof, layout);
    warn_of_joints(building, roof, layout);
}

static bool layouts_start(struct building *building, struct roof *roof)
{
    roof->layouts =
        arena_array(building->arena, 1 + roof->other_count, sizeof *roof->layouts);
    return roof->layouts != NULL;
}

static enum outlay_status lay_roof(struct building *building, struct roof *roof,
                                   const struct takeoff_settings *settings,
                                   struct geo_ctx *ctx, struct outlay_error *err)
{
    struct seam_work w = {.arena = building->arena, .ctx = ctx, .err = err};
    enum outlay_status status = fields_find(&w, roof, NULL);

    if (!layouts_start(building, roof))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t k = 0; k <= roof->other_count && status == OUTLAY_OK; k++) {
        struct roof *laid = k == 0 ? roof : &roof->others[k - 1];
        struct layout *layout = &roof->layouts[k];
        struct roof inside = roof_inside(laid);

        lay_start(laid, settings, layout);
        status = lay(building, &inside, settings, ctx, layout, err);
        number_sheets(layout);
        note_half_sheets(building->arena, laid, layout);
        conclude(building, laid, layout);
        if (status == OUTLAY_OK)
            status = layout_crowding_note(building->arena, laid, &inside.outline, layout,
                                          k == 0, err);
        if (status == OUTLAY_OK)
            roof->layout_count++;
    }
    if (roof_laid_out(roof))
        take_over(roof, &roof->layouts[0]);
    return status;
}

/* ---- Sections as one roof ---- */

/* A section starts from what its own zones say; where the layout refused a zone, it is
 * refused for all. */
static void states_share(struct roof *section, const struct takeoff_settings *settings,
                         const struct layout *before, const struct layout *after,
                         struct layout *out)
{
    struct layout own;

    lay_start(section, settings, &own);
    for (size_t i = 0; i < section->zone_count; i++) {
        enum zone_role role = section->zones[i].role;
        bool refused = after->states[role] != before->states[role];

        out->states[role] = refused ? after->states[role] : own.states[role];
        out->reasons[role] = refused ? after->reasons[role] : own.reasons[role];
    }
}

/* Lays all sections of a group for one method, the own one (SIZE_MAX) or another. */
static enum outlay_status lay_sections(const struct group *group, size_t other,
                                       const struct takeoff_settings *settings,
                                       struct geo_ctx *ctx, struct outlay_error *err)
{
    struct building *building = group->building;
    struct takeoff_settings placing = *settings;
    struct roof **sections = arena_array(building->arena, group->count, sizeof *sections);
    struct layout *shares = arena_array(building->arena, group->count, sizeof *shares);
    struct layout before;
    struct layout layout;
    struct roof whole;
    struct roof inside;
    enum outlay_status status = OUTLAY_OK;

    if (!sections || !shares)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t k = 0; k < group->count; k++) {
        struct roof *roof = &building->roofs[group->sections[k]];

        sections[k] = other == SIZE_MAX ? roof : &roof->others[other];
    }
    group_roof(group, other, &whole);
    placing.place_plates = true;
    lay_start(&whole, settings, &layout);
    before = layout;
    inside = roof_inside(&whole);
    status = lay(building, &inside, &placing, ctx, &layout, err);
    if (status != OUTLAY_OK)
        return status;
    number_sheets(&layout);
    note_half_sheets(building->arena, sections[0], &layout);
    status = layout_share_out(group, sections, &layout, settings->place_plates, ctx,
                              shares, err);
    for (size_t k = 0; k < group->count && status == OUTLAY_OK; k++) {
        struct roof *roof = &building->roofs[group->sections[k]];

        states_share(sections[k], settings, &before, &layout, &shares[k]);
        conclude(building, sections[k], &shares[k]);
        status = layout_crowding_note(building->arena, sections[k], &inside.outline,
                                      &layout, other == SIZE_MAX, err);
        if (status == OUTLAY_OK)
            roof->layouts[roof->layout_count++] = shares[k];
    }
    return status;
}

static enum outlay_status lay_group(struct building *building, struct roof *first,
                                    const struct takeoff_settings *settings,
                                    struct geo_ctx *ctx, struct outlay_error *err)
{
    struct group group;
    enum outlay_status status = group_make(building, first, ctx, &group, err);

    for (size_t k = 0; k < group.count && status == OUTLAY_OK; k++)
        if (!layouts_start(building, &building->roofs[group.sections[k]]))
            status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t k = 0; k <= first->other_count && status == OUTLAY_OK; k++)
        status = lay_sections(&group, k == 0 ? SIZE_MAX : k - 1, settings, ctx, err);
    for (size_t k = 0; k < group.count && status == OUTLAY_OK; k++) {
        struct roof *roof = &building->roofs[group.sections[k]];

        if (roof_laid_out(roof))
            take_over(roof, &roof->layouts[0]);
    }
    return status;
}

enum outlay_status takeoff_run(struct building *building,
                               const struct takeoff_settings *settings,
                               struct geo_ctx *ctx, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < building->roof_count && status == OUTLAY_OK; i++) {
        struct roof *roof = &building->roofs[i];

        if (!roof->zoned)
            continue;
        if (roof->section_group == 0)
            status = lay_roof(building, roof, settings, ctx, err);
        else if (roof->layout_count == 0)
            status = lay_group(building, roof, settings, ctx, err);
    }
    return status;
}
