/* The page holds the most exposed roofs, whatever their order, and no tag of the data. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <json.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/units.h"
#include "page/page.h"

enum { ROOFS = 60, SHOWN = 7 };

static const struct write_settings us = {.units = &unit_system_us,
                                         .standard = &standard_asce7_22,
                                         .catalog_built_in = true,
                                         .prices_built_in = true,
                                         .currency = "usd"};

/* No weights: the uplift alone decides. */
static const struct rank_settings rank_settings = {.service_life = 20, .year = MISSING};

/* A square roof of one zone; the uplift falls to that of two roofs at a time. */
struct one {
    struct roof roof;
    struct building building;
    char id[24];
    struct point points[4];
    struct ring ring;
    struct polygon polygon;
};

static void one_fill(struct one *one, size_t number)
{
    *one = (struct one){.points = {{-5, -5}, {5.004, -5}, {5, 5}, {-5, 5}}};
    one->ring = (struct ring){one->points, 4};
    one->polygon = (struct polygon){&one->ring, 1};
    snprintf(one->id, sizeof one->id, "</script>%02zu", number);
    one->roof = (struct roof){.id = one->id,
                              .given = attributes_missing(),
                              .outline = {&one->polygon, 1},
                              .whole = true,
                              .zoned = true,
                              .area = 100,
                              .height = 6,
                              .storeys = NAN,
                              .half_sheets = MISSING,
                              .zone_count = 1};
    one->roof.zones[0] =
        (struct zone){.role = ZONE_FIELD, .region = {&one->polygon, 1}, .area = 100};
    one->roof.zones[0].uplift.known = number % 10 != 9;
    one->roof.zones[0].uplift.uplift = 1000 + 100 * (double)(number / 2);
    one->building = (struct building){.roofs = &one->roof, .roof_count = 1};
}

/* Adds a building to the portfolio and to the page. */
static void add(struct page *page, struct portfolio *portfolio, struct one *one)
{
    assert_int_equal(portfolio_add(portfolio, &one->building, NULL), OUTLAY_OK);
    assert_int_equal(page_add(page, &one->building, portfolio, NULL), OUTLAY_OK);
}

/* Prints and frees both. */
static void finish(struct page *page, struct portfolio *portfolio,
                   const struct totals *totals, struct text *out)
{
    struct ranking ranking;
    struct page_content content = {.title = "<b>", .totals = totals, .ranking = &ranking};

    assert_int_equal(ranking_make(portfolio, &rank_settings, &ranking, NULL), OUTLAY_OK);
    page_print(page, &content, out);
    assert_false(out->failed);
    ranking_release(&ranking);
    page_free(page);
    portfolio_free(portfolio);
}

/* The page after adding the roofs first, first + step, ... of all. */
static void print_page(struct text *out, size_t first, size_t step)
{
    struct page *page = page_new(&us, &rank_settings, SHOWN);
    struct portfolio *portfolio = portfolio_new(false);
    struct totals totals = {.roofs = ROOFS};
    struct geo_ctx *ctx = NULL;
    struct frame frame;

    assert_non_null(page);
    assert_int_equal(geo_ctx_new(&ctx, NULL), OUTLAY_OK);
    frame_init(&frame, ctx, (struct point){-90, 40});
    geo_ctx_free(ctx);
    for (size_t i = 0; i < ROOFS; i++) {
        struct one one;

        one_fill(&one, (first + i * step) % ROOFS);
        one.building.frame = frame;
        add(page, portfolio, &one);
    }
    finish(page, portfolio, &totals, out);
}

/* The JSON of a page, from where it stands in the file. */
static json_object *data_of(const struct text *out)
{
    const char *from = strstr(out->data, "id=\"data\">");
    struct json_tokener *tokener = json_tokener_new();
    json_object *object = NULL;

    assert_non_null(from);
    from += strlen("id=\"data\">");
    const char *to = strstr(from, "</script>");
    assert_null(memchr(from, '<', (size_t)(to - from)));
    object = json_tokener_parse_ex(tokener, from, (int)(to - from));
    assert_non_null(object);
    json_tokener_free(tokener);
    return object;
}

static json_object *member(json_object *object, const char *name)
{
    json_object *found = NULL;

    assert_true(json_object_object_get_ex(object, name, &found));
    return found;
}

static const char *id_at(json_object *data, size_t at)
{
    json_object *roof = json_object_array_get_idx(member(data, "roofs"), at);

    return json_object_get_string(json_object_array_get_idx(member(roof, "s"), 0));
}

static void test_the_most_exposed_come_first(void **state)
{
    /* 59 and 49 have no uplift; of equal ones the lesser id comes first */
    static const char *const ids[SHOWN] = {"58", "56", "57", "54", "55", "52", "53"};
    struct text out = TEXT_INIT;
    (void)state;

    print_page(&out, 0, 1);
    json_object *data = data_of(&out);
    assert_int_equal(json_object_array_length(member(data, "roofs")), SHOWN);
    for (size_t i = 0; i < SHOWN; i++)
        assert_string_equal(strchr(id_at(data, i), '>') + 1, ids[i]);
    json_object_put(data);
    text_release(&out);
}

static void test_the_order_of_roofs_changes_nothing(void **state)
{
    struct text forward = TEXT_INIT;
    struct text mixed = TEXT_INIT;
    (void)state;

    print_page(&forward, 0, 1);
    print_page(&mixed, 17, 49);
    assert_string_equal(forward.data, mixed.data);
    text_release(&forward);
    text_release(&mixed);
}

static void test_the_distribution_counts_roofs_that_are_not_shown(void **state)
{
    struct text out = TEXT_INIT;
    int64_t roofs = 0;
    (void)state;

    print_page(&out, 0, 1);
    json_object *data = data_of(&out);
    json_object *counts = member(member(data, "distribution"), "roofs");
    for (size_t i = 0; i < json_object_array_length(counts); i++)
        roofs += json_object_get_int64(json_object_array_get_idx(counts, i));
    assert_int_equal(roofs, ROOFS - ROOFS / 10);
    /* 1000 Pa are 20.9 psf: class 4 of 5 psf each; 1100 Pa are 22.97 */
    assert_int_equal(json_object_get_int64(json_object_array_get_idx(counts, 4)), 4);
    json_object_put(data);
    text_release(&out);
}

static void test_rings_are_centimetres_by_steps(void **state)
{
    static const int steps[] = {-500, -500, 1000, 0, 0, 1000, -1000, 0};
    struct text out = TEXT_INIT;
    (void)state;

    print_page(&out, 0, 1);
    json_object *data = data_of(&out);
    json_object *roof = json_object_array_get_idx(member(data, "roofs"), 0);
    json_object *polygon = json_object_array_get_idx(member(roof, "p"), 0);
    json_object *ring = json_object_array_get_idx(polygon, 0);
    assert_int_equal(json_object_array_length(ring), 8);
    for (size_t i = 0; i < 8; i++)
        assert_int_equal(json_object_get_int(json_object_array_get_idx(ring, i)),
                         steps[i]);
    json_object_put(data);
    text_release(&out);
}

static void test_a_page_without_roofs_is_whole(void **state)
{
    struct page *page = page_new(&us, &rank_settings, SHOWN);
    struct totals totals = {0};
    struct text out = TEXT_INIT;
    (void)state;

    finish(page, portfolio_new(false), &totals, &out);
    assert_non_null(strstr(out.data, "Planning figures, not a design"));
    assert_non_null(strstr(out.data, "</html>"));
    json_object_put(data_of(&out));
    text_release(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_most_exposed_come_first),
        cmocka_unit_test(test_the_order_of_roofs_changes_nothing),
        cmocka_unit_test(test_the_distribution_counts_roofs_that_are_not_shown),
        cmocka_unit_test(test_rings_are_centimetres_by_steps),
        cmocka_unit_test(test_a_page_without_roofs_is_whole),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
