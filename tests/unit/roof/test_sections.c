/* Which sections are laid out as one roof. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <string.h>

#include "roof/edges.h"
#include "roof/sections.h"

enum { SECTIONS = 4 };

/* Sections in a line, each with an edge to the one before and the one behind it. */
struct line {
    struct building building;
    struct roof roofs[SECTIONS];
    struct edge edges[SECTIONS][3];
};

static void line_init(struct line *line)
{
    memset(line, 0, sizeof *line);
    line->building.arena = arena_new();
    assert_non_null(line->building.arena);
    line->building.roofs = line->roofs;
    line->building.roof_count = SECTIONS;
    for (size_t k = 0; k < SECTIONS; k++) {
        struct roof *roof = &line->roofs[k];

        roof->zoned = true;
        roof->given = attributes_missing();
        roof->storeys = 1;
        roof->basis = (struct basis){
            .deck = DECK_STEEL, .rib_pitch = 0.15, .pullout = NAN, .stack = 0.1};
        roof->area = 100;
        roof->zone_count = 1;
        roof->zones[0].role = ZONE_FIELD;
        roof->zones[0].area = 100;
        roof->edges = line->edges[k];
        for (size_t n = 0; n < 2; n++) {
            size_t other = n == 0 ? k - 1 : k + 1;

            if (other < SECTIONS)
                roof->edges[roof->edge_count++] = (struct edge){
                    .kind = EDGE_CONTINUOUS, .to = {0, 10}, .beside = other};
        }
    }
}

static void line_release(struct line *line)
{
    arena_free(line->building.arena);
}

static void assert_groups(const struct line *line, const int expected[SECTIONS])
{
    for (size_t k = 0; k < SECTIONS; k++)
        assert_int_equal(line->roofs[k].section_group, expected[k]);
}

static void alike_sections_are_one(void **state)
{
    struct line line;

    (void)state;
    line_init(&line);
    assert_int_equal(sections_run(&line.building), OUTLAY_OK);
    assert_groups(&line, (const int[]){1, 1, 1, 1});
    for (size_t k = 0; k < SECTIONS; k++)
        assert_null(line.roofs[k].parted);
    line_release(&line);
}

static void differ_in_deck(struct roof *roof)
{
    roof->basis.deck = DECK_WOOD;
}

static void differ_in_ribs(struct roof *roof)
{
    roof->given.deck_bearing = 90;
}

static void differ_in_stack(struct roof *roof)
{
    roof->basis.stack = 0.05;
}

static void differ_in_scope(struct roof *roof)
{
    roof->scope = SCOPE_RECOVER;
}

static void differ_in_method(struct roof *roof)
{
    roof->given.method = METHOD_ADHERED;
}

static void differ_in_pullout(struct roof *roof)
{
    roof->basis.pullout = 3000;
}

static void differ_in_storeys(struct roof *roof)
{
    roof->storeys = 2;
}

static void differ_in_pressure(struct roof *roof)
{
    roof->velocity.pressure = 1000;
}

static void differ_in_zone(struct roof *roof)
{
    roof->zones[0].uplift.allowable = 1000;
}

static void differ_in_year(struct roof *roof)
{
    roof->given.fixed_year = 2030;
}

/* The third section differs: it and the last one are alone, the first two one roof; it
 * and its neighbours say why. */
static void a_difference_parts(void **state)
{
    static const struct {
        void (*differ)(struct roof *roof);
        const char *name;
    } cases[] = {{differ_in_deck, "differ in deck"},
                 {differ_in_ribs, "differ in rib direction"},
                 {differ_in_stack, "differ in stack"},
                 {differ_in_scope, "differ in whether the old cover stays"},
                 {differ_in_method, "differ in method"},
                 {differ_in_pullout, "differ in pull-out"},
                 {differ_in_storeys, "differ in storeys"},
                 {differ_in_pressure, "differ in wind load"},
                 {differ_in_zone, "differ in wind load"},
                 {differ_in_year, "differ in year"}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct line line;

        line_init(&line);
        cases[i].differ(&line.roofs[2]);
        assert_int_equal(sections_run(&line.building), OUTLAY_OK);
        assert_groups(&line, (const int[]){1, 1, 0, 0});
        assert_null(line.roofs[0].parted);
        for (size_t k = 1; k < SECTIONS; k++)
            assert_string_equal(line.roofs[k].parted, cases[i].name);
        assert_int_equal(line.edges[0][0].kind, EDGE_CONTINUOUS);
        assert_int_equal(line.edges[1][0].kind, EDGE_CONTINUOUS);
        for (size_t k = 1; k < SECTIONS; k++)
            assert_int_equal(line.edges[k][line.roofs[k].edge_count - 1].kind,
                             EDGE_JOINT);
        assert_true(edges_length(&line.roofs[2], EDGE_JOINT) == 20);
        line_release(&line);
    }
}

/* A few metres of elevation are no other wind; as one they take the most of it. */
static void a_thousandth_of_wind_is_nothing(void **state)
{
    struct line line;
    struct roof whole;

    (void)state;
    line_init(&line);
    for (size_t k = 0; k < SECTIONS; k++) {
        double factor = k == 2 ? 1.0009 : 1;

        line.roofs[k].velocity =
            (struct velocity){.known = true, .pressure = 900 * factor};
        line.roofs[k].zones[0].uplift = (struct zone_uplift){
            .known = true, .allowable = 1500 * factor, .required = 3000 * factor};
    }
    assert_int_equal(sections_run(&line.building), OUTLAY_OK);
    assert_groups(&line, (const int[]){1, 1, 1, 1});
    sections_as_one(&line.building, &line.roofs[0], SIZE_MAX, &whole);
    assert_true(whole.zones[0].uplift.required == 3000 * 1.0009);
    line.roofs[2].zones[0].uplift.required = 3000 * 1.0011;
    assert_int_equal(sections_run(&line.building), OUTLAY_OK);
    assert_groups(&line, (const int[]){1, 1, 0, 0});
    line_release(&line);
}

/* A change of slope, another level, a roof that isn't zoned: nothing runs on there. */
static void only_continuous_edges_join(void **state)
{
    struct line line;

    (void)state;
    line_init(&line);
    line.edges[0][0].slope_change = line.edges[1][0].slope_change = true;
    line.roofs[2].level.index = 1;
    line.roofs[3].zoned = false;
    assert_int_equal(sections_run(&line.building), OUTLAY_OK);
    assert_groups(&line, (const int[]){0, 0, 0, 0});
    for (size_t k = 0; k < SECTIONS; k++)
        assert_null(line.roofs[k].parted);
    line_release(&line);
}

/* Sections in a ring climb little by little and meet where the slope changes; a joint
 * runs along a part of the line between two. */
static void a_step_or_joint_within_a_group_parts_it(void **state)
{
    static const struct edge within[] = {
        {.kind = EDGE_CONTINUOUS, .to = {5, 0}, .beside = 3, .slope_change = true},
        {.kind = EDGE_JOINT, .to = {5, 0}, .beside = 1}};

    (void)state;
    for (int i = 0; i < 2; i++) {
        struct line line;

        line_init(&line);
        line.edges[0][line.roofs[0].edge_count++] = within[i];
        assert_int_equal(sections_run(&line.building), OUTLAY_OK);
        assert_groups(&line, (const int[]){0, 0, 0, 0});
        assert_string_equal(line.roofs[1].parted, "meet it at a step or joint elsewhere");
        assert_int_equal(line.edges[1][0].kind, EDGE_JOINT);
        line_release(&line);
    }
}

/* A line may say that the roof goes on where no section is. */
static void nothing_beside_an_edge(void **state)
{
    struct line line;

    (void)state;
    line_init(&line);
    line.edges[3][line.roofs[3].edge_count++] =
        (struct edge){.kind = EDGE_CONTINUOUS, .to = {5, 0}, .beside = NO_SECTION};
    assert_int_equal(sections_run(&line.building), OUTLAY_OK);
    assert_groups(&line, (const int[]){1, 1, 1, 1});
    assert_int_equal(line.edges[3][1].kind, EDGE_CONTINUOUS);
    assert_false(edge_runs_on(&line.building, &line.roofs[3], &line.edges[3][1]));
    assert_true(edge_runs_on(&line.building, &line.roofs[3], &line.edges[3][0]));
    line_release(&line);
}

static void as_one_sums_up(void **state)
{
    struct line line;
    struct roof whole;

    (void)state;
    line_init(&line);
    line.roofs[2].zones[1] = line.roofs[2].zones[0];
    line.roofs[2].zones[0] = (struct zone){.role = ZONE_CORNER, .area = 7};
    line.roofs[2].zone_count = 2;
    line.roofs[3].assumed = 4;
    assert_int_equal(sections_run(&line.building), OUTLAY_OK);
    sections_as_one(&line.building, &line.roofs[1], SIZE_MAX, &whole);
    assert_true(whole.area == 400);
    assert_int_equal(whole.assumed, 4);
    assert_int_equal(whole.zone_count, 2);
    assert_int_equal(whole.zones[0].role, ZONE_CORNER);
    assert_true(whole.zones[0].area == 7);
    assert_true(whole.zones[1].area == 400);
    line_release(&line);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(alike_sections_are_one),
        cmocka_unit_test(a_difference_parts),
        cmocka_unit_test(a_thousandth_of_wind_is_nothing),
        cmocka_unit_test(only_continuous_edges_join),
        cmocka_unit_test(a_step_or_joint_within_a_group_parts_it),
        cmocka_unit_test(nothing_beside_an_edge),
        cmocka_unit_test(as_one_sums_up),
    };

    return cmocka_run_group_tests_name("sections", tests, NULL, NULL);
}
