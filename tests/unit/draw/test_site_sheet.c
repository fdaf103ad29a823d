/* Pages of site sheets: whatever the survey, no text covers another or leaves what letter
 * and A4 have in common, every place has its name, every row stands on some page. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "draw/site_sheet.h"
#include "roof/edges.h"

#define PLACES_MOST 4000

/* What two boxes may share: roundings of letter forms, pt. */
#define HAIR 0.2

/* A rectangular roof of one zone, and its survey. */
struct site {
    struct point corners[4];
    struct ring ring;
    struct polygon polygon;
    struct roof roof;
    struct building building;
    struct survey_place places[PLACES_MOST];
    struct survey_entry entries[PLACES_MOST];
    struct site_survey survey;
};

static struct write_settings settings_of(bool si)
{
    return (struct write_settings){
        .units = si ? &unit_system_si : &unit_system_us, .currency = "usd", .title = ""};
}

static struct site *make_site(double width, double height)
{
    struct site *site = calloc(1, sizeof *site);
    assert_non_null(site);
    const struct point corners[4] = {{0, 0}, {width, 0}, {width, height}, {0, height}};
    memcpy(site->corners, corners, sizeof corners);
    site->ring = (struct ring){site->corners, 4};
    site->polygon = (struct polygon){&site->ring, 1};
    site->roof = (struct roof){.id = "R-1",
                               .name = "Hall",
                               .given = attributes_missing(),
                               .outline = {&site->polygon, 1},
                               .whole = true,
                               .area = width * height,
                               .height = 9,
                               .method = METHOD_ADHERED,
                               .state = STATE_MET_ASSUMED,
                               .zone_count = 1};
    site->roof.zones[0] =
        (struct zone){.role = ZONE_FIELD, .label = "1", .region = {&site->polygon, 1}};
    site->building = (struct building){.roofs = &site->roof, .roof_count = 1};
    site->survey = (struct site_survey){
        .roof = &site->roof, .places = site->places, .entries = site->entries};
    return site;
}

/* Places spread over the roof, one entry each. */
static void add_places(struct site *site, enum survey_task task, enum finding_kind kind,
                       size_t count, bool at_edge)
{
    struct site_survey *survey = &site->survey;
    struct point size = site->corners[2];
    for (size_t i = 1; i <= count; i++) {
        double step = (double)survey->place_count + 0.5;
        assert_true(survey->place_count < PLACES_MOST);
        struct survey_place *place = &survey->places[survey->place_count];
        *place = (struct survey_place){.task = task, .placed = true, .at_edge = at_edge};
        place->at = (struct point){fmod(step * 0.7548776662, 1) * size.x,
                                   fmod(step * 0.5698402910, 1) * size.y};
        snprintf(place->name, sizeof place->name, "%c%zu", survey_task_letter(task), i);
        survey->entries[survey->entry_count++] =
            (struct survey_entry){survey->place_count++, kind, "as it is", i % 2, 0, 0};
    }
}

/* ---- Drawing ---- */

static void assert_legible(struct site_sheet *sheet)
{
    const struct boxes *boxes = canvas_boxes(sheet->page.canvas);
    struct area frame = sheet->page.frame;
    frame = (struct area){frame.x - HAIR, frame.y - HAIR, frame.width + 2 * HAIR,
                          frame.height + 2 * HAIR};
    size_t count = boxes_texts(boxes);
    assert_true(count > 5);
    for (size_t i = 0; i < count; i++) {
        struct quad quad = boxes_text(boxes, i);
        assert_true(area_holds(frame, quad));
        for (size_t j = 0; j < i; j++)
            if (quads_overlap(quad, boxes_text(boxes, j), HAIR))
                fail_msg("page %d: texts %zu and %zu cover each other at %.0f, %.0f",
                         sheet->number, j, i, quad.corners[0].x, quad.corners[0].y);
    }
}

struct drawn {
    int pages;
    size_t left_out;
};

/* All pages of a site, on letter or A4. */
static struct drawn draw(const struct site *site, bool si,
                         const struct survey_rules *rules)
{
    const struct write_settings set = settings_of(si);
    const struct paper letter = {612 / SITE_FULL, 792 / SITE_FULL, SITE_FULL, true};
    const struct paper a4 = {210 * SITE_MM, 297 * SITE_MM, SITE_FULL, true};
    struct output *output = NULL;
    struct canvas *canvas = NULL;
    assert_int_equal(output_open("/dev/null", &output, NULL), OUTLAY_OK);
    assert_int_equal(canvas_new(CANVAS_PDF, si ? &a4 : &letter, output, &canvas, NULL),
                     OUTLAY_OK);
    struct site_sheet sheet = {.page = {.canvas = canvas,
                                        .set = &set,
                                        .paper = si ? a4 : letter,
                                        .building = &site->building,
                                        .roof = &site->roof,
                                        .scratch = TEXT_INIT},
                               .survey = &site->survey,
                               .rules = rules};
    bool more = true;
    while (more) {
        size_t before = sheet.next;
        more = site_sheet_draw(&sheet);
        assert_true(sheet.next > before || sheet.number == 1);
        assert_legible(&sheet);
        canvas_next_page(canvas);
    }
    assert_int_equal(sheet.next, site_form_items(&sheet));
    struct drawn drawn = {sheet.number, sheet.names_left_out};
    assert_true(site_sheet_release(&sheet));
    assert_int_equal(canvas_finish(canvas, NULL), OUTLAY_OK);
    canvas_free(canvas);
    output_abort(output);
    return drawn;
}

/* ---- Tests ---- */

static void test_small_survey_is_one_page(void **state)
{
    (void)state;
    struct site *site = make_site(20, 12);
    add_places(site, TASK_CORE, FINDING_STACK, 2, false);
    for (int si = 0; si < 2; si++) {
        struct drawn drawn = draw(site, si, NULL);
        assert_int_equal(drawn.pages, 1);
        assert_int_equal(drawn.left_out, 0);
    }
    free(site);
}

static void test_sixty_pull_outs(void **state)
{
    (void)state;
    static const double sizes[][2] = {{300, 150}, {60, 60}, {140, 18}, {18, 140}};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        struct site *site = make_site(sizes[i][0], sizes[i][1]);
        add_places(site, TASK_PULLOUT, FINDING_PULLOUT, 60, false);
        struct drawn drawn = draw(site, i % 2, NULL);
        assert_int_equal(drawn.left_out, 0);
        assert_true(drawn.pages == 3 || drawn.pages == 4);
        free(site);
    }
}

static void test_all_tasks(void **state)
{
    (void)state;
    struct survey_rule by_day = {.task = TASK_TRIAL_WELD,
                                 .by = BY_DAY,
                                 .note = "at the start of each half day",
                                 .source = "invented"};
    struct survey_rules rules = {&by_day, 1};
    struct site *site = make_site(80, 50);
    for (int task = 0; task < SURVEY_TASKS; task++)
        add_places(site, (enum survey_task)task,
                   (enum finding_kind)((task * 3) % FINDING_KINDS), 3, task % 2);
    for (int si = 0; si < 2; si++)
        assert_int_equal(draw(site, si, &rules).left_out, 0);
    free(site);
}

/* Every kind of finding, each place by the edge, all at one spot. */
static void test_one_spot(void **state)
{
    (void)state;
    struct site *site = make_site(40, 30);
    for (int kind = 0; kind < FINDING_KINDS; kind++)
        add_places(site, TASK_EDGE, (enum finding_kind)kind, 1, true);
    for (size_t i = 0; i < site->survey.place_count; i++)
        site->places[i].at = (struct point){1, 1};
    assert_int_equal(draw(site, false, NULL).left_out, 0);
    free(site);
}

/* The head of each page stays short, whatever it names. */
static void test_many_at_the_edge(void **state)
{
    (void)state;
    for (int alternating = 0; alternating < 2; alternating++) {
        struct site *site = make_site(200, 20);
        add_places(site, TASK_PULLOUT, FINDING_PULLOUT, 120, true);
        for (size_t i = 0; alternating && i < site->survey.place_count; i += 2)
            site->places[i].at_edge = false;
        struct drawn drawn = draw(site, false, NULL);
        assert_int_equal(drawn.left_out, 0);
        free(site);
    }
}

/* More names than the plan has room for are counted, not put over each other. */
static void test_crowded(void **state)
{
    (void)state;
    struct site *site = make_site(100, 100);
    add_places(site, TASK_PULLOUT, FINDING_PULLOUT, 900, false);
    struct drawn drawn = draw(site, false, NULL);
    assert_true(drawn.left_out > 0 && drawn.left_out < 900);
    free(site);
}

/* Without an outline there is still a form. */
static void test_no_outline(void **state)
{
    (void)state;
    struct site *site = make_site(40, 30);
    add_places(site, TASK_HEIGHT, FINDING_HEIGHT, 2, false);
    site->places[0].placed = site->places[1].placed = false;
    site->roof.whole = false;
    site->roof.zone_count = 0;
    site->roof.height = NAN;
    site->roof.state = STATE_UNKNOWN;
    assert_int_equal(draw(site, false, NULL).pages, 1);
    free(site);
}

static void test_empty_survey(void **state)
{
    (void)state;
    struct site *site = make_site(40, 30);
    assert_int_equal(draw(site, true, NULL).pages, 1);
    free(site);
}

static void test_names_and_open_points(void **state)
{
    (void)state;
    char lengthy[600];
    memset(lengthy, 'W', sizeof lengthy - 1);
    lengthy[sizeof lengthy - 1] = '\0';
    const char *const names[] = {lengthy, "<b>%s\n\t", "\xFF\xC3 broken",
                                 "\xD9\x85\xD8\xAF\xD8\xB1 12"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct site *site = make_site(40, 30);
        add_places(site, TASK_CORE, FINDING_COVERS, 4, false);
        site->roof.id = site->roof.name = site->roof.building = names[i];
        site->roof.assumed = (UINT64_C(1) << ASSUMPTIONS) - 1;
        site->roof.estimated = (1u << ESTIMATES) - 1;
        draw(site, i % 2, NULL);
        free(site);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_small_survey_is_one_page),
        cmocka_unit_test(test_sixty_pull_outs),
        cmocka_unit_test(test_all_tasks),
        cmocka_unit_test(test_one_spot),
        cmocka_unit_test(test_many_at_the_edge),
        cmocka_unit_test(test_crowded),
        cmocka_unit_test(test_no_outline),
        cmocka_unit_test(test_empty_survey),
        cmocka_unit_test(test_names_and_open_points),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
