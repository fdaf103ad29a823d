/* Relief of corners for a parapet is the whole level's or nobody's. */

#include "../zoning/site.h"

#include "explain/derivation.h"
#include "uplift/uplift.h"

static const double h = 10;
static const double ft = M_PER_FT;

/* A section 40 m wide beside those before it. NAN: its parapet isn't given. */
static struct roof *section(struct site *site, double height, double parapet)
{
    double x = 40 * (double)site->building.roof_count;
    struct roof *roof = site_ring(site, box_ring(site->f->arena, x, 0, 40, 50), height);

    roof->given.parapet = parapet;
    roof->given.edge = EDGE_PARAPET;
    roof->given.wind_speed = 50;
    return roof;
}

static void rate(struct site *site)
{
    struct zoning_settings zoning = settings_of("asce7-22");
    struct uplift_settings uplift = uplift_defaults();

    site_zone(site, &zoning);
    uplift_run(&site->building, &uplift);
}

static bool relieved(const struct roof *roof)
{
    assert_int_equal(roof->zones[0].role, ZONE_CORNER);
    assert_true(roof->zones[0].uplift.known);
    return roof->zones[0].uplift.parapet_relief;
}

static void all_sections_need_the_parapet(void **state)
{
    const struct {
        double first, second;
        bool relief;
    } cases[] = {{4 * ft, 4 * ft, true},    {4 * ft, 3 * ft, true},
                 {4 * ft, 0, false},        {0, 4 * ft, false},
                 {4 * ft, 2.9 * ft, false}, {4 * ft, NAN, false},
                 {NAN, 4 * ft, false},      {0, 0, false},
                 {NAN, NAN, false}};

    for (size_t i = 0; i < LENGTH(cases); i++) {
        struct site site = site_empty(*state);
        struct roof *first = section(&site, h, cases[i].first);
        struct roof *second = section(&site, h, cases[i].second);

        rate(&site);
        assert_int_equal(relieved(first), cases[i].relief);
        assert_int_equal(relieved(second), cases[i].relief);
        assert_int_equal(roof_assumes(first, ASSUME_PARAPET), isnan(cases[i].first));
        assert_int_equal(roof_assumes(second, ASSUME_PARAPET), isnan(cases[i].second));
        assert_false(roof_assumes(first, ASSUME_PARAPET_AROUND));
    }
}

/* Whoever has relief rests on all sections' parapets going around. */
static void one_partial_parapet_weakens_all(void **state)
{
    struct site site = site_empty(*state);
    struct roof *first = section(&site, h, 4 * ft);
    struct roof *second = section(&site, h, 4 * ft);

    second->given.edge = EDGE_NOT_GIVEN;
    rate(&site);
    assert_true(relieved(first) && relieved(second));
    assert_true(roof_assumes(first, ASSUME_PARAPET_AROUND));
    assert_true(roof_assumes(second, ASSUME_PARAPET_AROUND));
}

/* No parapet runs along a step, so neither level is walled in all around. */
static void a_step_takes_the_relief_of_both_levels(void **state)
{
    struct site site = site_empty(*state);
    struct site apart = site_empty(*state);
    struct roof *low = section(&site, h, 4 * ft);
    struct roof *flush = section(&site, h, 4 * ft);
    struct roof *high = section(&site, h + 5, 4 * ft);
    struct roof *alone = section(&apart, h, 4 * ft);

    rate(&site);
    assert_false(relieved(low));
    assert_false(relieved(flush));
    assert_false(relieved(high));
    assert_false(roof_assumes(low, ASSUME_PARAPET_AROUND));
    rate(&apart);
    assert_true(relieved(alone));
}

/* What is known of the edge contradicts the height: nothing is taken off the load. */
static void an_edge_of_metal_takes_the_relief(void **state)
{
    struct site site = site_empty(*state);
    struct roof *first = section(&site, h, 4 * ft);
    struct roof *second = section(&site, h, 4 * ft);
    struct write_settings set = {.standard = standard_find("asce7-22"),
                                 .units = &unit_system_us};
    struct text out = TEXT_INIT;

    second->given.edge = EDGE_METAL;
    rate(&site);
    assert_false(relieved(first));
    assert_false(relieved(second));
    assert_false(roof_assumes(first, ASSUME_PARAPET_AROUND));
    derivation_print(&out, first, &set, EDGES_AUTO);
    assert_non_null(strstr(out.data, "not here: a section of this level has a lower"));
    text_release(&out);
}

/* It may be higher or lower, so that no parapet need run between the two. */
static void a_neighbour_of_unknown_height_takes_the_relief(void **state)
{
    struct site site = site_empty(*state);
    struct roof *first = section(&site, h, 4 * ft);
    struct roof *unknown = section(&site, NAN, 4 * ft);

    rate(&site);
    assert_false(unknown->zoned);
    assert_false(relieved(first));
    assert_true(roof_assumes(first, ASSUME_STEP));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(all_sections_need_the_parapet),
        geometry_test(one_partial_parapet_weakens_all),
        geometry_test(a_step_takes_the_relief_of_both_levels),
        geometry_test(an_edge_of_metal_takes_the_relief),
        geometry_test(a_neighbour_of_unknown_height_takes_the_relief),
    };

    return cmocka_run_group_tests_name("flow/parapets", tests, NULL, NULL);
}
