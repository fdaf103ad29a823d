/* What stands behind --sample ROLE=. */

#include "help.h"

#include "sample/source.h"

static struct sample_source read_source(struct arena *arena, enum field_role role,
                                        const char *text)
{
    struct sample_source source;
    struct outlay_error err = {.status = OUTLAY_OK};

    if (sample_source_parse(role, text, arena, &source, &err) != OUTLAY_OK)
        fail_msg("%s: %s", text, err.what);
    return source;
}

static void test_a_raster_and_its_defaults(void **state)
{
    struct sample_source source = read_source(*state, ROLE_ELEVATION, "dem/my-land.tif");

    assert_string_equal(source.path, "dem/my-land.tif");
    assert_null(source.minus);
    assert_null(source.column);
    assert_int_equal(source.statistic, STATISTIC_PERCENTILE);
    assert_true(source.percent == 50);
    assert_string_equal(source.word, "median");
    assert_string_equal(source.field.unit, "");
}

static void test_a_difference(void **state)
{
    struct sample_source source =
        read_source(*state, ROLE_HEIGHT, "lidar-2022/s.tif-lidar-2022/t.tif@ring@p90:ft");

    assert_string_equal(source.path, "lidar-2022/s.tif");
    assert_string_equal(source.minus, "lidar-2022/t.tif");
    assert_true(source.ring);
    assert_true(source.percent == 90);
    assert_string_equal(source.word, "p90");
    assert_string_equal(source.field.unit, "ft");
    assert_true(source.field.factor == 0.3048);
}

static void test_a_statistic_may_stand_in_front_of_the_minus(void **state)
{
    struct sample_source source = read_source(*state, ROLE_HEIGHT, "s.tif@max-t.tif:m");

    assert_string_equal(source.path, "s.tif");
    assert_string_equal(source.minus, "t.tif");
    assert_int_equal(source.statistic, STATISTIC_MOST);
}

static void test_a_layer(void **state)
{
    struct sample_source source =
        read_source(*state, ROLE_WIND_SPEED, "maps.gpkg/speeds:V_2022:mph");

    assert_string_equal(source.path, "maps.gpkg/speeds");
    assert_string_equal(source.column, "V_2022");
    assert_string_equal(source.field.unit, "mph");
    source = read_source(*state, ROLE_EXPOSURE, "PG:dbname=city:EXPOSURE");
    assert_string_equal(source.path, "PG:dbname=city");
    assert_string_equal(source.column, "EXPOSURE");
}

static void test_a_password_is_not_shown(void **state)
{
    struct sample_source source =
        read_source(*state, ROLE_RISK, "PG:dbname=city password=word:RISK");

    assert_string_equal(source.text, "PG:dbname=city password=***");
}

static void test_a_slope_is_fitted_to_heights(void **state)
{
    struct sample_source source = read_source(*state, ROLE_SLOPE, "s.tif:ft");

    assert_string_equal(source.word, "plane");
    assert_string_equal(source.field.unit, "ft");
}

static void test_an_exposure_has_a_table_of_classes(void **state)
{
    struct sample_source source =
        read_source(*state, ROLE_EXPOSURE, "my-land/cover.tif:tables/Roughness.CSV");

    assert_string_equal(source.path, "my-land/cover.tif");
    assert_string_equal(source.table, "tables/Roughness.CSV");
    assert_string_equal(source.word, "worst sector");
    assert_null(source.column);
    assert_string_equal(read_source(*state, ROLE_EXPOSURE, "a.tif:b.xlsx").table,
                        "b.xlsx");
    assert_null(read_source(*state, ROLE_EXPOSURE, "zones.csv:terrain").table);
    assert_null(read_source(*state, ROLE_USE, "zones.gpkg:a.csv").table);
}

static void test_a_topographic_factor_is_of_heights_or_of_a_column(void **state)
{
    struct sample_source source = read_source(*state, ROLE_TOPOGRAPHIC, "t.tif:ft");

    assert_null(source.column);
    assert_string_equal(source.field.unit, "ft");
    assert_string_equal(source.word, "worst direction");
    source = read_source(*state, ROLE_TOPOGRAPHIC, "zones.gpkg:KZT");
    assert_string_equal(source.column, "KZT");
}

static void test_what_is_refused(void **state)
{
    static const struct {
        enum field_role role;
        const char *text, *word;
    } rows[] = {
        {ROLE_HEIGHT, "", "no file"},
        {ROLE_HEIGHT, "@p50", "no raster"},
        {ROLE_HEIGHT, "a.tif@p101", "isn't known"},
        {ROLE_HEIGHT, "a.tif@modal", "isn't known"},
        {ROLE_HEIGHT, "a.tif@p50-b.tif@p90", "two statistics"},
        {ROLE_HEIGHT, "a.tif@ring", "isn't known"},
        {ROLE_SLOPE, "a.tif-b.tif", "a second raster"},
        {ROLE_SLOPE, "a.tif@p50", "a second raster"},
        {ROLE_EXPOSURE, "a.tif", "isn't sampled from a raster"},
        {ROLE_RISK, "a.tif", "isn't sampled from a raster"},
        {ROLE_TOPOGRAPHIC, "a.tif@p50", "a second raster"},
        {ROLE_TOPOGRAPHIC, "a.tif-b.tif", "a second raster"},
        {ROLE_ID, "a.gpkg:ID", "isn't sampled"},
        {ROLE_BUILDING, "a.gpkg:ID", "isn't sampled"},
    };

    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct sample_source source;
        struct outlay_error err = {.status = OUTLAY_OK};

        assert_int_equal(
            sample_source_parse(rows[i].role, rows[i].text, *state, &source, &err),
            OUTLAY_E_USAGE);
        if (!strstr(err.what, rows[i].word))
            fail_msg("\"%s\": %s", rows[i].text, err.what);
        assert_true(err.where[0] && err.todo[0]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_a_raster_and_its_defaults),
        cmocka_unit_test(test_a_difference),
        cmocka_unit_test(test_a_statistic_may_stand_in_front_of_the_minus),
        cmocka_unit_test(test_a_layer),
        cmocka_unit_test(test_a_password_is_not_shown),
        cmocka_unit_test(test_a_slope_is_fitted_to_heights),
        cmocka_unit_test(test_an_exposure_has_a_table_of_classes),
        cmocka_unit_test(test_a_topographic_factor_is_of_heights_or_of_a_column),
        cmocka_unit_test(test_what_is_refused),
    };

    return cmocka_run_group_tests(tests, arena_open, arena_close);
}
