#include "site.h"

#include "attach/rules.h"

/* Common practice, no source: one half sheet for one or two storeys, one more for each
 * storey from the third on. One more on long buildings, with a limit of our own. */
static void half_sheets_by_storeys(void **state)
{
    static const struct {
        double storeys;
        int half_sheets;
    } cases[] = {{0.5, 1}, {1, 1}, {1.5, 1}, {2, 1},  {2.5, 2},
                 {3, 2},   {4, 3}, {5, 4},   {10, 9}, {1e300, 1001}};

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(
            storey_half_sheets(cases[i].storeys, 300 * M_PER_FT, 300 * M_PER_FT),
            cases[i].half_sheets);
        assert_int_equal(
            storey_half_sheets(cases[i].storeys, 301 * M_PER_FT, 300 * M_PER_FT),
            cases[i].half_sheets + 1);
        assert_int_equal(storey_half_sheets(cases[i].storeys, NAN, 300 * M_PER_FT),
                         cases[i].half_sheets);
    }
}

static void percentage_counts(void **state)
{
    static const struct {
        int field;
        double board_ft2;
        int perimeter_2003, corner_2003, perimeter_2006, corner_2006;
    } cases[] = {
        {8, 32, 12, 14, 16, 32},  {5, 32, 8, 9, 16, 32}, {16, 32, 24, 28, 24, 32},
        {20, 32, 30, 35, 30, 40}, {4, 16, 6, 7, 8, 16},  {6, 15, 9, 11, 9, 15},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int field = cases[i].field;
        double area = cases[i].board_ft2 * FT2;

        assert_int_equal(percentage_count(PERCENTAGE_2003, ZONE_PERIMETER, field, area),
                         cases[i].perimeter_2003);
        assert_int_equal(percentage_count(PERCENTAGE_2003, ZONE_CORNER, field, area),
                         cases[i].corner_2003);
        assert_int_equal(percentage_count(PERCENTAGE_2006, ZONE_PERIMETER, field, area),
                         cases[i].perimeter_2006);
        assert_int_equal(percentage_count(PERCENTAGE_2006, ZONE_CORNER, field, area),
                         cases[i].corner_2006);
    }
}

static void each_method_has_its_rules(void **state)
{
    static const enum edge_rule acting[METHOD_KINDS][EDGE_RULES] = {
        [METHOD_SEAM_FASTENED] = {RULE_CALCULATED, RULE_CALCULATED, RULE_ROW_FRACTION,
                                  RULE_STOREY},
        [METHOD_INDUCTION_WELDED] = {RULE_CALCULATED, RULE_PERCENTAGE, RULE_CALCULATED,
                                     RULE_CALCULATED},
        [METHOD_ADHERED_FASTENED] = {RULE_CALCULATED, RULE_PERCENTAGE, RULE_CALCULATED,
                                     RULE_CALCULATED},
        [METHOD_ADHERED] = {RULE_CALCULATED, RULE_CALCULATED, RULE_CALCULATED,
                            RULE_CALCULATED},
    };

    (void)state;
    for (int method = METHOD_SEAM_FASTENED; method < METHOD_KINDS; method++) {
        for (int rule = RULE_CALCULATED; rule < EDGE_RULES; rule++)
            assert_int_equal(rule_for((enum edge_rule)rule, (enum method)method),
                             acting[method][rule]);
    }
}

/* The rule that acted is named, and the reason says what became of the other. */
static void replaced_rules_are_told(void **state)
{
    static const struct {
        enum method method;
        enum edge_rule rule;
        const char *reason;
    } cases[] = {
        {METHOD_INDUCTION_WELDED, RULE_STOREY, "storey rule"},
        {METHOD_ADHERED, RULE_STOREY, "storey rule"},
        {METHOD_ADHERED_FASTENED, RULE_ROW_FRACTION, "row-fraction rule"},
        {METHOD_SEAM_FASTENED, RULE_PERCENTAGE, "percentage rule"},
    };

    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct assembly a = cases[i].method == METHOD_SEAM_FASTENED ? seam_assembly()
                            : cases[i].method == METHOD_ADHERED
                                ? ribbon_assembly()
                                : board_assembly(cases[i].method);
        struct bench bench;

        bench_init(&bench, a, 500, 30, 30, 30);
        bench.settings.edge_rule = cases[i].rule;
        bench_run(&bench);
        assert_int_equal(zone_of(&bench, ZONE_FIELD)->rule, RULE_CALCULATED);
        assert_int_equal(zone_of(&bench, ZONE_FIELD)->state, STATE_MET_ASSUMED);
        reason_holds(zone_of(&bench, ZONE_FIELD), cases[i].reason);
        reason_holds(zone_of(&bench, ZONE_CORNER), cases[i].reason);
        reason_holds(zone_of(&bench, ZONE_CORNER), "required 1000 psf");
        bench_release(&bench);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(half_sheets_by_storeys),
        cmocka_unit_test(percentage_counts),
        cmocka_unit_test(each_method_has_its_rules),
        cmocka_unit_test(replaced_rules_are_told),
    };

    return cmocka_run_group_tests_name("rules", tests, NULL, NULL);
}
