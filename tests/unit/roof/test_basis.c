/* What a roof's work starts from: given, else the setting, else assumed. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>

#include "roof/basis.h"

static struct roof basis_of(struct attributes given, struct basis_settings settings)
{
    struct roof roof = {.given = given, .zoned = true};
    struct building building = {.roofs = &roof, .roof_count = 1};

    basis_run(&building, &settings);
    return roof;
}

static void test_given_wins_over_the_setting(void **state)
{
    struct basis_settings settings = {.deck = DECK_WOOD, .pullout = 900};
    struct attributes given = attributes_missing();
    struct roof roof = basis_of(given, settings);

    (void)state;
    assert_int_equal(roof.basis.deck, DECK_WOOD);
    assert_true(roof.basis.pullout == 900);
    given.deck = DECK_GYPSUM;
    given.pullout = 500;
    given.stack = 0;
    roof = basis_of(given, settings);
    assert_int_equal(roof.basis.deck, DECK_GYPSUM);
    assert_true(roof.basis.pullout == 500);
    assert_true(roof.basis.stack == 0);
    assert_int_equal(roof.assumed, 0);
}

static void test_what_nobody_gives(void **state)
{
    struct roof roof = basis_of(attributes_missing(), basis_defaults());

    (void)state;
    assert_int_equal(roof.basis.deck, DECK_STEEL);
    assert_int_equal(roof.assumed, ASSUMPTION_BIT(ASSUME_DECK));
    assert_true(isnan(roof.basis.pullout));
    assert_true(fabs(roof.basis.stack - 0.1016) < 1e-12); /* 4 in */
}

/* The larger, of equal ones the first id. */
static void test_who_pays(void **state)
{
    const struct roof small = {.id = "a", .area = 10};
    const struct roof large = {.id = "c", .area = 20};
    const struct roof equal = {.id = "b", .area = 20};

    (void)state;
    assert_true(roof_pays_before(&small, NULL));
    assert_false(roof_pays_before(&small, &large));
    assert_true(roof_pays_before(&large, &small));
    assert_true(roof_pays_before(&equal, &large));
    assert_false(roof_pays_before(&large, &equal));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_given_wins_over_the_setting),
        cmocka_unit_test(test_what_nobody_gives),
        cmocka_unit_test(test_who_pays),
    };

    return cmocka_run_group_tests_name("roof/basis", tests, NULL, NULL);
}
