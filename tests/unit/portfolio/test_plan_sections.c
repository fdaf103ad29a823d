#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "portfolio/plan_private.h"

/* Three pairs of sections and a roof alone: done together, in two years, one never. */
static void parted_by_years(void **state)
{
    const struct {
        uint32_t sections;
        int year;
        bool parted;
    } cases[] = {{0, 2027, false}, {0, 2027, false},    {2, 2027, true}, {4, 2028, true},
                 {2, 2029, true},  {4, MISSING, false}, {6, 2028, false}};
    enum { COUNT = sizeof cases / sizeof cases[0] };
    struct portfolio_roof records[COUNT] = {{0}};
    struct plan_roof roofs[COUNT] = {{0}};
    struct plan plan = {.roofs = roofs, .count = COUNT, .arena = arena_new()};

    (void)state;
    assert_non_null(plan.arena);
    for (size_t i = 0; i < COUNT; i++) {
        records[i].sections = cases[i].sections;
        roofs[i] = (struct plan_roof){.roof = &records[i], .year = cases[i].year};
    }
    assert_true(plan_part_sections(&plan));
    for (size_t i = 0; i < COUNT; i++)
        assert_int_equal(roofs[i].parted, cases[i].parted);
    arena_free(plan.arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(parted_by_years)};

    return cmocka_run_group_tests_name("plan_sections", tests, NULL, NULL);
}
