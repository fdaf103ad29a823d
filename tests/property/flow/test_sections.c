/* A roof cut into two sections that are alike is laid out as the roof traced as a whole:
 * rectangles and L shapes by chance, cut across, anywhere on earth, by every method. What
 * the sections get adds up to the whole. So it is where they are traced a little apart,
 * or one over the other. */

#include "../zoning/outlines.h"

#include "flow/stages.h"
#include "roof/bill.h"
#include "roof/layout.h"

enum { ROOFS = 150 };

/* What one method puts on a roof, or on sections together. */
struct sum {
    int numbers; /* of sheets: the highest */
    int screws[2][ZONE_ROLES];
    int boards, whole_boards; /* that are cut here */
    int plates[ZONE_ROLES];
    size_t t_joints;
    double sheets, rolls, strips, boarded; /* m2, m of roll taken, m, m2 */
    double side_lap, end_lap, base;
    enum zone_state states[ZONE_ROLES];
};

static int label_common(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] > 0 && winding[1] > 0 ? 0 : -1;
}

/* What lies on one side of a line across. */
static struct region cut_by(struct fixture *f, const struct region *shape, double x,
                            bool left)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct region cut;

    assert_true(layer_rings_add_region(f->arena, &rings, shape, 0));
    assert_true(layer_rings_add(
        f->arena, &rings, box_ring(f->arena, left ? x - 1000 : x, -500, 1000, 1000), 1));
    arranged(f, &rings, label_common, NULL, 1, &cut);
    return cut;
}

/* A rectangle, or one with a corner cut out of it. */
static struct region shape_by_chance(struct fixture *f, struct chance *chance)
{
    double width = chance_between(chance, 15, 90);
    double depth = chance_between(chance, 12, 60);
    double notch = chance_below(chance, 2) ? chance_between(chance, 0.2, 0.7) : 0;
    struct ring ring = ring_new(f->arena, notch > 0 ? 6 : 4);
    const struct point points[] = {{0, 0},
                                   {width, 0},
                                   {width, depth * (1 - notch)},
                                   {width * notch, depth * (1 - notch)},
                                   {width * notch, depth},
                                   {0, depth}};

    for (size_t k = 0; k < ring.count; k++)
        ring.points[k] = points[k];
    if (notch == 0)
        ring.points[3] = (struct point){0, depth};
    return region_made(f->arena, &ring, 1);
}

/* Where the shape is cut; an L shape in one of four cases at its inner corner, unless
 * that would move the corner. */
static double place_by_chance(const struct region *shape, bool flush,
                              struct chance *chance)
{
    struct ring ring = shape->polygons[0].rings[0];
    double x = region_box(shape).max_x * chance_between(chance, 0.2, 0.8);

    return ring.count == 6 && flush && chance_below(chance, 4) == 0 ? ring.points[3].x
                                                                    : x;
}

static void sheets_add(struct sum *sum, const struct layout *layout)
{
    for (size_t i = 0; i < layout->sheet_count; i++) {
        const struct sheet *sheet = &layout->sheets[i];

        if (sheet->kind == SHEET_COVER_STRIP) {
            sum->strips += sheet->length;
            continue;
        }
        sum->numbers = sheet->number > sum->numbers ? sheet->number : sum->numbers;
        sum->sheets += sheet->area;
        sum->rolls += sheet->length * (1 - sheet->elsewhere);
    }
}

static void sum_add(struct sum *sum, const struct roof *roof, const struct layout *layout)
{
    sheets_add(sum, layout);
    for (size_t i = 0; i < layout->row_count; i++)
        sum->screws[layout->rows[i].base][layout->rows[i].zone] +=
            layout->rows[i].fasteners;
    for (size_t i = 0; i < layout->board_count; i++) {
        const struct board *board = &layout->boards[i];

        sum->boards += !board->cut_elsewhere;
        sum->whole_boards += board->whole && !board->cut_elsewhere;
        sum->plates[board->zone] += board->plates;
        sum->boarded += board->area;
    }
    sum->t_joints += layout->t_joints;
    sum->side_lap += layout->side_lap;
    sum->end_lap += layout->end_lap;
    sum->base += layout->base_length;
    for (size_t i = 0; i < roof->zone_count; i++) {
        enum zone_role role = roof->zones[i].role;

        sum->states[role] = zone_state_worse(sum->states[role], layout->states[role]);
    }
}

static struct sum sum_of(const struct site *site, size_t method)
{
    struct sum sum = {0};

    for (int role = 0; role < ZONE_ROLES; role++)
        sum.states[role] = STATE_MET;
    for (size_t r = 0; r < site->building.roof_count; r++)
        sum_add(&sum, &site->roofs[r], &site->roofs[r].layouts[method]);
    return sum;
}

static bool same(double a, double b)
{
    return fabs(a - b) < 1e-3 + 1e-6 * fabs(a);
}

/* Tips of sheets that are trimmed as rounding. */
static const double tips = 0.02; /* m */

static const char *difference(const struct sum *whole, const struct sum *cut)
{
    if (whole->numbers != cut->numbers)
        return "number of sheets";
    if (memcmp(whole->screws, cut->screws, sizeof whole->screws) != 0)
        return "screws of rows";
    if (whole->boards != cut->boards || whole->whole_boards != cut->whole_boards)
        return "boards";
    if (memcmp(whole->plates, cut->plates, sizeof whole->plates) != 0)
        return "screws of boards";
    if (!same(whole->sheets, cut->sheets) || fabs(whole->rolls - cut->rolls) > tips)
        return "sheets";
    if (!same(whole->strips, cut->strips))
        return "cover strips";
    if (!same(whole->boarded, cut->boarded))
        return "area of boards";
    if (!same(whole->side_lap, cut->side_lap) || !same(whole->end_lap, cut->end_lap) ||
        !same(whole->base, cut->base) || whole->t_joints != cut->t_joints)
        return "lengths";
    return memcmp(whole->states, cut->states, sizeof whole->states) != 0 ? "states"
                                                                         : NULL;
}

/* ---- Bills --------------------------------------------------------------------- */

static double net_of(const struct site *site, size_t method, enum item_use use)
{
    double net = 0;

    for (size_t r = 0; r < site->building.roof_count; r++) {
        const struct bill *bill = &site->roofs[r].bills[method];

        for (size_t i = 0; i < bill->count; i++)
            if (bill->items[i].use == use)
                net += isnan(bill->items[i].net) ? 0 : bill->items[i].net;
    }
    return net;
}

static const char *parts_wrong(const struct bill *bill)
{
    for (size_t i = 0; i < bill->count; i++) {
        const struct bill_item *item = &bill->items[i];
        double sum = item->laid + item->cuts + item->spare + item->rounding;

        if (item->net < 0 || item->laps < 0 || item->cuts < 0 || item->spare < 0 ||
            item->rounding < 0)
            return "a part of a bill is negative";
        if (!isnan(sum) && !same(item->ordered, sum))
            return "parts of a bill don't add up";
    }
    return NULL;
}

/* Whole boards are ordered for sections together. */
static bool boards_are_whole(const struct site *site, size_t method)
{
    double boards = 0;

    for (size_t r = 0; r < site->building.roof_count; r++) {
        const struct bill *bill = &site->roofs[r].bills[method];

        for (size_t i = 0; i < bill->count; i++)
            if (bill->items[i].use == USE_BOARD)
                boards += bill->items[i].ordered / bill->items[i].holds;
    }
    return fabs(boards - round(boards)) < 1e-6;
}

/* What is counted from the geometry, not by how rolls and boards are cut. */
static bool adds_up(enum item_use use)
{
    static const enum item_use counted[] = {
        USE_COVER_STRIP, USE_SEAM_PLATE,  USE_SEAM_SCREW, USE_WELD_PLATE, USE_BOARD_PLATE,
        USE_BOARD_SCREW, USE_RIBBON,      USE_BONDING,    USE_BAR,        USE_FLASHING,
        USE_COPING,      USE_EDGE_METAL,  USE_NAILER,     USE_WELD_SIDE,  USE_CORNER_OUT,
        USE_CORNER_IN,   USE_EDGE_CORNER, USE_TEAR_OFF};

    for (size_t i = 0; i < LENGTH(counted); i++)
        if (counted[i] == use)
            return true;
    return false;
}

static const char *bills_differ(const struct site *whole, const struct site *cut,
                                size_t method)
{
    double sheets[] = {
        net_of(whole, method, USE_FIELD_SHEET) + net_of(whole, method, USE_HALF_SHEET),
        net_of(cut, method, USE_FIELD_SHEET) + net_of(cut, method, USE_HALF_SHEET)};

    for (size_t r = 0; r < cut->building.roof_count; r++) {
        const char *wrong = parts_wrong(&cut->roofs[r].bills[method]);

        if (wrong)
            return wrong;
    }
    if (!same(sheets[0], sheets[1]))
        return "sheets on the bills";
    if (!boards_are_whole(cut, method))
        return "parts of boards";
    for (int use = 0; use < ITEM_USES; use++)
        if (adds_up((enum item_use)use) &&
            !same(net_of(whole, method, (enum item_use)use),
                  net_of(cut, method, (enum item_use)use)))
            return item_use_name(use);
    return NULL;
}

/* ---- Roofs --------------------------------------------------------------------- */

static void settings_by_chance(struct settings *settings, struct chance *chance)
{
    static const enum edge_rule rules[] = {RULE_CALCULATED, RULE_PERCENTAGE,
                                           RULE_ROW_FRACTION, RULE_STOREY};
    struct outlay_error err = {0};

    settings_init(settings);
    settings->attach.methods = ~0u;
    settings->order.order_by = ORDER_BY_PORTFOLIO;
    settings->attach.edge_rule = rules[chance_below(chance, LENGTH(rules))];
    settings->takeoff.style = (enum edge_style)chance_below(chance, 3);
    settings->takeoff.place_plates = chance_below(chance, 2) != 0;
    if (settings_resolve(settings, &err) != OUTLAY_OK)
        fail_msg("%s", err.what);
}

static struct attributes attributes_by_chance(struct chance *chance)
{
    struct attributes given = attributes_missing();

    given.height = chance_between(chance, 4, 25);
    given.wind_speed = chance_between(chance, 40, 65);
    given.exposure = EXPOSURE_C;
    given.deck = chance_below(chance, 2) ? DECK_STEEL : DECK_CONCRETE;
    given.deck_bearing = chance_below(chance, 3) ? NAN : chance_between(chance, 0, 180);
    given.edge = chance_below(chance, 2) ? EDGE_METAL : EDGE_PARAPET;
    given.parapet = given.edge == EDGE_PARAPET ? 0.5 : 0;
    given.pullout = 3000;
    return given;
}

static void run(struct site *site, const struct attributes *given,
                const struct settings *settings, uint64_t seed)
{
    struct outlay_error err = {0};

    site->building.roofs = site->roofs;
    for (size_t r = 0; r < site->building.roof_count; r++)
        site->roofs[r].given = *given;
    if (stages_run(&site->building, settings, true, site->f->ctx, &err) != OUTLAY_OK)
        fail_msg("roof %d: %s", (int)seed, err.what);
}

static bool warns_of_joint(const struct site *site)
{
    for (size_t r = 0; r < site->building.roof_count; r++)
        for (const struct problem *p = site->roofs[r].problems; p; p = p->next)
            if (p->code == PROBLEM_SECTIONS_JOIN)
                return true;
    return false;
}

static int compare(const struct site *whole, const struct site *cut, bool flush,
                   uint64_t seed)
{
    int failures = 0;

    for (size_t k = 0; k < whole->roofs[0].layout_count; k++) {
        struct sum one = sum_of(whole, k);
        struct sum two = sum_of(cut, k);
        const char *what = difference(&one, &two);

        if (!what && flush)
            what = bills_differ(whole, cut, k);
        if (!what)
            continue;
        print_error("roof %d, %s: %s\n", (int)seed,
                    method_name((int)whole->roofs[0].layouts[k].method), what);
        failures++;
    }
    return failures;
}

static void sections_are_laid_as_one(void **state)
{
    struct fixture *f = *state;
    int failures = 0;

    for (uint64_t seed = 1; seed <= ROOFS; seed++) {
        struct chance chance = {seed * 1000003};
        struct region shape = shape_by_chance(f, &chance);
        bool flush = seed % 3 != 0;
        double x = place_by_chance(&shape, flush, &chance);
        double gap = flush ? 0 : chance_between(&chance, -0.25, 0.29);
        struct region left = cut_by(f, &shape, x - gap / 2, true);
        struct region right = cut_by(f, &shape, x + gap / 2, false);
        struct pose pose = pose_by_chance(&chance);
        struct attributes given = attributes_by_chance(&chance);
        struct site whole = site_empty(f);
        struct site cut = site_empty(f);
        struct settings settings;

        settings_by_chance(&settings, &chance);
        (void)site_read(&whole, put(f, &shape, &pose), NAN);
        (void)site_read(&cut, put(f, &left, &pose), NAN);
        (void)site_read(&cut, put(f, &right, &pose), NAN);
        run(&whole, &given, &settings, seed);
        run(&cut, &given, &settings, seed);
        assert_false(warns_of_joint(&cut));
        failures += compare(&whole, &cut, flush, seed);
        settings_release(&settings);
        arena_reset(f->arena);
    }
    assert_int_equal(failures, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(sections_are_laid_as_one),
    };

    return cmocka_run_group_tests_name("sections", tests, NULL, NULL);
}
