/* What edges take, counted on paper. */

#include "bill_site.h"

static void test_walls(void **state)
{
    struct site *site = *state;
    struct bill bill;

    rectangle(site);
    edges(site, EDGE_PARAPET, 391 * FT, 3 * FT);
    site->sums[1] = (struct edge_sum){
        .kind = EDGE_CURB, .length = 20 * FT, .height = NAN, .thickness = NAN};
    site->roof.edge_sum_count = 2;
    bill = count(site);
    near(need(&bill, USE_COPING)->net, 391 * FT);
    near(need(&bill, USE_BAR)->net, 411 * FT);
    near(need(&bill, USE_FLASHING)->net, (391 * 3 + 20 * 8 / 12.0) * FT2);
    assert_null(find(&bill, USE_EDGE_METAL));
    site->sums[0].height = 0.1; /* flashing still goes 8 in up */
    bill = count(site);
    near(need(&bill, USE_FLASHING)->net, 411 * FT * 8 * M_PER_IN);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(test_walls, set_up, tear_down),
    };

    return cmocka_run_group_tests_name("order/edges", tests, NULL, NULL);
}
