#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>
#include <string.h>

#include "explain/derivation.h"
#include "roof/bill.h"
#include "roof/caution.h"
#include "uplift/uplift.h"

#define FT M_PER_FT
#define FT2 M2_PER_FT2

struct fixture {
    struct arena *arena;
    struct roof roof;
    struct uplift_settings settings;
    struct text text;
    enum edge_style style;
};

/* 100 x 100 ft, 30 ft high, by 7-22. */
static int setup(void **state)
{
    static const char *const labels[] = {"3", "2", "1", "1'"};
    static const double areas[] = {720.0, 5184.0, 3312.0, 784.0};
    struct fixture *fixture = test_calloc(1, sizeof *fixture);
    struct roof *roof = &fixture->roof;

    *state = fixture;
    fixture->arena = arena_new();
    fixture->settings = uplift_defaults();
    *roof = (struct roof){.id = "R7", .name = "Library", .given = attributes_missing()};
    roof->zoned = true;
    roof->area = 10000.0 * FT2;
    roof->corners = 4;
    roof->edge_length = 400.0 * FT;
    roof->given.wind_speed = 120.0 * MPS_PER_MPH;
    roof->half_sheets = MISSING;
    roof->level = (struct level){
        .height = 30.0 * FT,
        .least_dimension = 100.0 * FT,
        .long_side = 100.0 * FT,
        .perimeter_depth = 18.0 * FT,
        .field_depth = 36.0 * FT,
        .leg_length = 18.0 * FT,
        .leg_depth = 6.0 * FT,
    };
    roof->zone_count = ZONE_ROLES;
    for (int i = 0; i < ZONE_ROLES; i++) {
        roof->zones[i].role = (enum zone_role)i;
        roof->zones[i].label = labels[i];
        roof->zones[i].area = areas[i] * FT2;
    }
    return fixture->arena != NULL ? 0 : -1;
}

static int teardown(void **state)
{
    struct fixture *fixture = *state;

    text_release(&fixture->text);
    arena_free(fixture->arena);
    test_free(fixture);
    return 0;
}

static const char *print(struct fixture *fixture, const struct unit_system *units)
{
    struct building building = {
        .arena = fixture->arena, .roofs = &fixture->roof, .roof_count = 1};
    struct write_settings set = {
        .standard = fixture->settings.standard, .units = units, .currency = "usd"};

    uplift_run(&building, &fixture->settings);
    text_clear(&fixture->text);
    derivation_print(&fixture->text, &fixture->roof, &set, fixture->style);
    assert_false(fixture->text.failed);
    return fixture->text.data;
}

#define assert_has(text, part) assert_has_at((text), (part), __LINE__)

static void assert_has_at(const char *text, const char *part, int line)
{
    if (strstr(text, part) == NULL) {
        fail_msg("line %d: no <%s> in\n%s", line, part, text);
    }
}

static void it_reads_like_a_check_by_hand(void **state)
{
    const char *text = print(*state, &unit_system_us);

    assert_has(text, "Derivation for roof R7, Library, by ASCE/SEI 7-22\n");
    assert_has(text, "h = 30.0 ft");
    assert_has(text, "LHD = 100.0 ft");
    assert_has(text, "perimeter depth = 18.0 ft; field to 36.0 ft; corner legs 18.0 ft "
                     "long, 6.0 ft deep");
    assert_has(text, "corner (zone 3): 720.0 ft2 = 7.2 % of A");
    assert_has(text, "V = 120.0 mph, 3-second gust, strength level");
    assert_has(text, "Kz = 2.41 (z / zg)^(2 / alpha) = "
                     "2.41 x (30.0 ft / 2460.0 ft)^(2 / 9.8) = 0.980");
    assert_has(text, "qh = 0.613 Kz Kzt Ke V^2 (Pa, m/s) = "
                     "0.613 x 0.980 x 1.000 x 1.000 x 53.64^2 = 1730 Pa = 36.1 psf");
    assert_has(text, "interior (zone 1'): -0.9 at 100.0 ft2 to -0.4 at 1000.0 ft2: "
                     "GCp = -0.900 (from memory)");
    assert_has(text, "corner (zone 3): 36.1 psf x 0.850 x (3.200 + 0.18) = 103.8 psf; "
                     "uplift = 103.8 psf\n");
    assert_has(text, "corner (zone 3): allowable 62.3 psf, required 124.5 psf");
    assert_has(text, "GCpi = 0.18  [ASCE/SEI 7-22 Table 26.13-1, transcribed]");
}

static void the_other_units_say_the_same(void **state)
{
    const char *text = print(*state, &unit_system_si);

    assert_has(text, "h = 9.14 m");
    assert_has(text, "corner (zone 3): 66.89 m2 = 7.2 % of A");
    assert_has(text, "V = 53.64 m/s");
    assert_has(text, "x 53.64^2 = 1730 Pa  [");
    assert_has(text, "uplift = 4969 Pa");
    assert_null(strstr(text, "psf,"));
    assert_null(strstr(text, "mph,"));
}

static void a_stepped_building_says_whose_dimension_it_is(void **state)
{
    struct fixture *fixture = *state;
    struct level *level = &fixture->roof.level;
    const char *text;

    level->short_side = 39 * FT;
    level->whose = DIMENSION_BUILDING;
    fixture->roof.assumed = ASSUMPTION_BIT(ASSUME_STEPPED);
    text = print(fixture, &unit_system_us);
    assert_has(text,
               "LHD = 100.0 ft of the whole building; this level 39.0 ft by 100.0 ft "
               "(assumed: stepped building: ");
    level->whose = DIMENSION_LEVEL;
    level->least_dimension = 39 * FT;
    text = print(fixture, &unit_system_us);
    assert_has(text, "LHD = 39.0 ft of this level alone, other side 100.0 ft (assumed: ");
}

/* 0.00256 x 0.980 x 120^2 = 36.14 psf; 0.613 gives 36.13. */
static void the_constant_in_use_is_printed(void **state)
{
    struct fixture *fixture = *state;

    fixture->settings.constant = VELOCITY_US;
    assert_has(print(fixture, &unit_system_us),
               "qh = 0.00256 Kz Kzt Ke V^2 (psf, mph) = "
               "0.00256 x 0.980 x 1.000 x 1.000 x 120.00^2 = 36.14 psf  [");
    assert_has(print(fixture, &unit_system_si), "x 120.00^2 = 36.14 psf = 1731 Pa  [");
}

static void each_weakness_is_named_with_its_reason(void **state)
{
    struct fixture *fixture = *state;
    const char *text;

    fixture->roof.estimated = 1u << ESTIMATE_HEIGHT;
    fixture->roof.given.slope = 0.3;
    text = print(fixture, &unit_system_us);
    assert_has(text, "estimated height (site): from storeys");
    assert_has(text, "assumed exposure (site): exposure C, since none was given");
    assert_has(text, "exposure C (assumed: exposure C, since none was given)");
    assert_has(text, "assumed parapet (site): no parapet");
    assert_has(text, "warning slope-too-steep: slope of 16.70 degrees is above 7");
    assert_has(text, caution_text());
}

static void a_confirmed_roof_has_nothing_weak(void **state)
{
    struct fixture *fixture = *state;
    struct attributes *given = &fixture->roof.given;
    const char *text;

    given->exposure = EXPOSURE_B;
    given->enclosure = ENCLOSURE_ENCLOSED;
    given->elevation = 1000.0 * FT;
    given->topographic = 1.0;
    given->parapet = fixture->roof.level.parapet = 4.0 * FT;
    fixture->roof.level.parapet_around = true;
    fixture->roof.closed = ASSUMPTION_BIT(ASSUME_COEFFICIENTS);
    text = print(fixture, &unit_system_us);
    assert_has(text, "Estimated and assumed\n   nothing\n");
    assert_has(text, "Problems\n   none\n");
    assert_has(text, "Ke = exp(-0.0000362 x 1000 ft) = 0.964");
    assert_has(text, "taken as perimeter for the parapet");
    assert_null(strstr(text, "(assumed"));
}

static void a_parapet_that_relieves_nothing_says_why(void **state)
{
    struct fixture *fixture = *state;

    fixture->roof.given.parapet = fixture->roof.level.parapet = 4.0 * FT;
    assert_null(strstr(print(fixture, &unit_system_us), "not here"));
    fixture->roof.level.parapet = NAN;
    assert_has(print(fixture, &unit_system_us), "not here: a section");
    fixture->roof.level.step = true;
    assert_has(print(fixture, &unit_system_us), "not here: another level, or");
    fixture->roof.given.parapet = 2.0 * FT;
    assert_null(strstr(print(fixture, &unit_system_us), "not here"));
}

static void floors_and_minimum_are_shown_where_they_act(void **state)
{
    struct fixture *fixture = *state;
    const char *text;

    fixture->settings.standard = &standard_asce7_16;
    fixture->roof.given.exposure = EXPOSURE_B;
    fixture->roof.given.wind_speed = 80.0 * MPS_PER_MPH;
    fixture->roof.level.height = 10.0 * FT;
    text = print(fixture, &unit_system_us);
    assert_has(text, "z = h, but at least 15 ft: 15.0 ft");
    assert_has(text, "Kz = 0.700, the least value in exposure B below 30 ft "
                     "(assumed: ");
    assert_has(text, "Kd = 0.85, within qh");
    assert_has(text, "uplift = 16.0 psf (the minimum)");
    assert_has(text, "warning wind-speed-low");
}

static void the_limits_of_the_figures_have_lines(void **state)
{
    struct fixture *fixture = *state;
    struct attributes *given = &fixture->roof.given;
    const char *text = print(fixture, &unit_system_us);

    assert_null(strstr(text, "not covered"));
    assert_null(strstr(text, "tornado"));
    given->overhang = 3.0 * FT;
    given->risk = 3;
    given->wind_speed = 90.0 * MPS_PER_MPH;
    text = print(fixture, &unit_system_us);
    assert_has(text, "V = 90.0 mph, 3-second gust, strength level (assumed: a strength");
    assert_has(text, "   not covered, state unknown: overhang: ");
    assert_has(text, "   tornado loads: not checked (assumed: ");
    assert_has(text, "warning overhang: the roof overhangs by 3.0 ft; ");
    given->enclosure = ENCLOSURE_OPEN;
    fixture->roof.zones[ZONE_CORNER].uplift.outside = NULL;
    fixture->roof.zones[ZONE_PERIMETER].uplift.outside = NULL;
    assert_has(print(fixture, &unit_system_us), "not covered, state unknown: open ");
}

static void without_wind_the_rest_is_still_told(void **state)
{
    struct fixture *fixture = *state;
    const char *text;

    fixture->roof.given.wind_speed = NAN;
    text = print(fixture, &unit_system_us);
    assert_has(text, "no wind speed was given: uplift is unknown");
    assert_has(text, "corner (zone 3): 720.0 ft2");
    assert_has(text, "6. Attachment\n");
    assert_has(text, "whole roof: unknown");
    assert_null(strstr(text, "GCp ="));
    assert_null(strstr(text, "nan"));
}

static void a_roof_without_zones_says_why(void **state)
{
    struct fixture *fixture = *state;
    const char *text;

    fixture->roof.zoned = false;
    fixture->roof.height = NAN;
    roof_problem(fixture->arena, &fixture->roof, PROBLEM_HEIGHT_MISSING, "left out",
                 "neither height nor storeys");
    text = print(fixture, &unit_system_us);
    assert_has(text, "mean roof height h = unknown");
    assert_has(text, "not zoned");
    assert_has(text, "error height-missing: neither height nor storeys; left out");
    assert_has(text, caution_text());
    assert_null(strstr(text, "nan"));
}

static void attachment_is_printed_with_its_reason(void **state)
{
    struct fixture *fixture = *state;
    struct zone *zones = fixture->roof.zones;
    const char *text;

    fixture->roof.method = METHOD_SEAM_FASTENED;
    fixture->roof.half_sheets = 2;
    fixture->roof.state = STATE_NOT_MET;
    zones[ZONE_CORNER].attachment = (struct zone_attachment){
        .state = STATE_NOT_MET,
        .reason = "needs 62.3 psf, the densest gives 55.0 psf",
        .assembly = "seam-fastened sheet on steel",
        .row_spacing = 4.75 * FT,
        .fastener_spacing = 0.5 * FT,
        .per_board = MISSING,
        .ribbon_spacing = NAN,
        .capacity = 55.0 * PA_PER_PSF,
        .fasteners = 303.0,
        .board_fasteners = 90.0,
    };
    zones[ZONE_FIELD].attachment = (struct zone_attachment){
        .state = STATE_MET,
        .assembly = "glued boards",
        .row_spacing = NAN,
        .fastener_spacing = NAN,
        .per_board = MISSING,
        .ribbon_spacing = 0.0,
        .capacity = NAN,
        .fasteners = NAN,
        .adhesive_area = 3312.0 * FT2,
    };
    zones[ZONE_PERIMETER].attachment.reason = "no assembly suits a gypsum deck";
    text = print(fixture, &unit_system_us);
    assert_has(text, "method: seam-fastened\n");
    assert_has(text, "corner (zone 3): seam-fastened sheet on steel, rule calculated; "
                     "rows 4.8 ft apart, fasteners 6.0 in apart\n");
    assert_has(text, "allowable resistance 55.0 psf against allowable uplift 62.3 psf: "
                     "not met\n");
    assert_has(text, "by area: 303 fasteners or plates, 90 more that only hold boards\n");
    assert_has(text, "why: needs 62.3 psf, the densest gives 55.0 psf\n");
    assert_has(text, "perimeter (zone 2): unknown: no assembly suits a gypsum deck\n");
    assert_has(text, "glued boards, rule calculated; adhesive in full cover\n");
    assert_has(text, "by area: unknown fasteners");
    assert_has(text, "3312.0 ft2 glued");
    assert_has(text, "whole roof: not met\n   half sheets along every edge: 2\n");
    fixture->style = EDGES_LINES;
    text = print(fixture, &unit_system_us);
    assert_has(text, "half sheets along each edge that runs with the sheets: 2\n");
}

/* "Hall 2 (12 m)" is a name, not a quantity in both systems. */
static void names_stay_as_they_are(void **state)
{
    struct fixture *fixture = *state;
    struct roof *roof = &fixture->roof;
    struct bill_item item = {.use = USE_BOARD,
                             .item = "Board 2 in (51 mm)",
                             .note = "4.00 in (102 mm) of boards",
                             .net = 1,
                             .ordered = 1};
    struct bill bill = {.items = &item, .count = 1};
    struct sheet sheet = {.number = 1};
    struct layout layout = {
        .bearing_reason = "as given", .sheets = &sheet, .sheet_count = 1};

    roof->id = "Bay 1 (3 m)";
    roof->name = "Hall 2 (12 m)";
    roof->building = "Yard 3 ft (0.9 m)";
    roof->layouts = &layout;
    roof->bills = &bill;
    roof->layout_count = 1;
    for (int si = 0; si < 2; si++) {
        const char *text = print(fixture, si ? &unit_system_si : &unit_system_us);

        assert_has(text, "for roof Bay 1 (3 m), Hall 2 (12 m), building "
                         "Yard 3 ft (0.9 m), by ");
        assert_has(text, "board (Board 2 in (51 mm)): ");
        assert_has(text, si ? "; 102 mm of boards\n" : "; 4.00 in of boards\n");
        assert_has(text, si ? "rule for h up to 18.3 m" : "rule for h up to 60 ft");
    }
}

/* Boards of a zone that carry of others too may have more plates. */
static void whole_boards_are_multiplied_where_they_are_alike(void **state)
{
    struct fixture *fixture = *state;
    struct sheet sheet = {.number = 1};
    struct board boards[] = {{.zone = ZONE_FIELD, .whole = true, .plates = 4},
                             {.zone = ZONE_FIELD, .whole = true, .plates = 4},
                             {.zone = ZONE_FIELD, .whole = true, .plates = 4},
                             {.zone = ZONE_FIELD, .plates = 3}};
    struct layout layout = {.bearing_reason = "as given",
                            .sheets = &sheet,
                            .sheet_count = 1,
                            .boards = boards,
                            .board_count = 4};

    fixture->roof.layouts = &layout;
    fixture->roof.layout_count = 1;
    assert_has(print(fixture, &unit_system_us),
               ": 3 whole boards x 4 = 12, 1 cut with 3: 15 fasteners\n");
    boards[1].plates = 5;
    assert_has(print(fixture, &unit_system_us),
               ": 3 whole boards with 13, 1 cut with 3: 16 fasteners\n");
}

static void every_edition_prints(void **state)
{
    struct fixture *fixture = *state;

    for (size_t i = 0; standards[i] != NULL; i++) {
        const char *text;

        fixture->settings.standard = standards[i];
        fixture->roof.zone_count = 3;
        fixture->roof.level.field_depth = INFINITY;
        for (int tall = 0; tall < 2; tall++) {
            fixture->roof.level.tall = tall != 0;
            text = print(fixture, &unit_system_us);
            assert_has(text, standards[i]->title);
            assert_has(text, tall ? standards[i]->figure_tall_source
                                  : standards[i]->figure_low_source);
            assert_null(strstr(text, "inf"));
            assert_null(strstr(text, "(null)"));
        }
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, setup, teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(it_reads_like_a_check_by_hand),
        TEST(a_stepped_building_says_whose_dimension_it_is),
        TEST(the_other_units_say_the_same),
        TEST(the_constant_in_use_is_printed),
        TEST(each_weakness_is_named_with_its_reason),
        TEST(a_confirmed_roof_has_nothing_weak),
        TEST(a_parapet_that_relieves_nothing_says_why),
        TEST(floors_and_minimum_are_shown_where_they_act),
        TEST(the_limits_of_the_figures_have_lines),
        TEST(without_wind_the_rest_is_still_told),
        TEST(a_roof_without_zones_says_why),
        TEST(attachment_is_printed_with_its_reason),
        TEST(names_stay_as_they_are),
        TEST(whole_boards_are_multiplied_where_they_are_alike),
        TEST(every_edition_prints),
    };

    return cmocka_run_group_tests_name("derivation", tests, NULL, NULL);
}
