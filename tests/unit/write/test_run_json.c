#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <json.h>

#include "roof/caution.h"
#include "sample.h"
#include "write/run_json.h"

static json_object *print_and_parse(const struct run_record *record)
{
    struct text out = TEXT_INIT;
    json_object *root = NULL;

    run_json(&out, record);
    assert_false(out.failed);
    root = json_tokener_parse(out.data);
    if (!root)
        fail_msg("not JSON:\n%s", out.data);
    text_release(&out);
    return root;
}

/* The text at a path like "/input/path"; NULL for null. */
static const char *at(json_object *root, const char *path)
{
    json_object *found = NULL;

    if (json_pointer_get(root, path, &found) != 0)
        fail_msg("nothing at %s", path);
    return found ? json_object_get_string(found) : NULL;
}

static const struct run_setting settings[] = {{"wind-speed", "115 mph"}, {"where", NULL}};
static const struct run_field fields[] = {{"height", "HGT \"m\"", "m", true, 40},
                                          {"name", "NAME", "", false, 12}};
static const char *const files[] = {"zones.geojson", "summary.csv"};
static const struct run_timing timings[] = {{"read", 0.25}, {"all", 1.5}};

/* A run over the sample. The caller frees the result. */
static json_object *sample_run(void)
{
    struct sample sample;
    struct totals totals = {0};
    struct run_record record = {.command = "run",
                                .set = &sample.set,
                                .input = {.path = "a \"b\".gpkg",
                                          .crs = "EPSG:4326",
                                          .digest = "0123abc",
                                          .streamed = true},
                                .settings = settings,
                                .setting_count = 2,
                                .fields = fields,
                                .field_count = 2,
                                .files = files,
                                .file_count = 2,
                                .timings = timings,
                                .timing_count = 2,
                                .threads = 2,
                                .rated = 1,
                                .totals = &totals};

    sample_fill(&sample, &unit_system_us);
    totals_add(&totals, &sample.building, &sample.set);
    return print_and_parse(&record);
}

static void everything_to_repeat_the_run_is_there(void **state)
{
    json_object *root = sample_run();

    (void)state;
    assert_string_equal(at(root, "/version"), OUTLAY_VERSION);
    assert_string_equal(at(root, "/command"), "run");
    assert_string_equal(at(root, "/standard"), "asce7-22");
    assert_string_equal(at(root, "/units"), "us");
    assert_string_equal(at(root, "/catalogue"), "built in");
    assert_string_equal(at(root, "/input/path"), "a \"b\".gpkg");
    assert_null(at(root, "/input/layer"));
    assert_string_equal(at(root, "/input/crs"), "EPSG:4326");
    assert_string_equal(at(root, "/input/digest"), "0123abc");
    assert_string_equal(at(root, "/input/whole_layer_checks"), "false");
    assert_string_equal(at(root, "/settings/wind-speed"), "115 mph");
    assert_null(at(root, "/settings/where"));
    assert_string_equal(at(root, "/fields/0/column"), "HGT \"m\"");
    assert_string_equal(at(root, "/fields/0/unit"), "m");
    assert_string_equal(at(root, "/fields/0/found"), "given");
    assert_string_equal(at(root, "/fields/0/filled"), "40");
    assert_null(at(root, "/fields/1/unit"));
    assert_string_equal(at(root, "/fields/1/found"), "by name");
    assert_string_equal(at(root, "/files/1"), "summary.csv");
    assert_string_equal(at(root, "/seconds/read"), "0.250");
    assert_string_equal(at(root, "/threads"), "2");
    json_object_put(root);
}

static void what_is_weak_comes_with_its_reason(void **state)
{
    json_object *root = sample_run();

    (void)state;
    assert_memory_equal(at(root, "/caution"), caution_text(), strlen(caution_text()));
    assert_string_equal(at(root, "/ratings_invented"), "true");
    assert_string_equal(at(root, "/packs_invented"), "true");
    assert_string_equal(at(root, "/prices_invented"), "true");
    assert_string_equal(at(root, "/actions_invented"), "true");
    assert_string_equal(at(root, "/counts/roofs"), "2");
    assert_string_equal(at(root, "/counts/left_out"), "1");
    assert_string_equal(at(root, "/counts/with_wind_speed"), "1");
    assert_string_equal(at(root, "/counts/not met"), "1");
    assert_string_equal(at(root, "/estimated/0/name"), "storeys");
    assert_string_equal(at(root, "/estimated/0/how"), estimate_reason(ESTIMATE_STOREYS));
    assert_string_equal(at(root, "/assumed/1/name"), "pullout-untested");
    assert_string_equal(at(root, "/assumed/1/how"), assumption_reason(ASSUME_PULLOUT));
    assert_string_equal(at(root, "/assumed/1/roofs"), "1");
    assert_string_equal(at(root, "/problems/0/code"), "height-missing");
    assert_string_equal(at(root, "/problems/0/severity"), "error");
    assert_string_equal(at(root, "/problems/0/count"), "1");
    json_object_put(root);
}

static void nothing_at_all_is_still_valid(void **state)
{
    struct sample sample;
    struct totals totals = {0};
    struct run_record record = {
        .command = "run", .set = &sample.set, .catalog = "my.csv", .totals = &totals};
    json_object *root = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_si);
    sample.set.catalog_built_in = sample.set.items_built_in = false;
    sample.set.prices_built_in = sample.set.actions_built_in = false;
    root = print_and_parse(&record);
    assert_string_equal(at(root, "/catalogue"), "my.csv");
    assert_string_equal(at(root, "/ratings_invented"), "false");
    assert_string_equal(at(root, "/packs_invented"), "false");
    assert_string_equal(at(root, "/prices_invented"), "false");
    assert_string_equal(at(root, "/actions_invented"), "false");
    assert_string_equal(at(root, "/units"), "si");
    assert_string_equal(at(root, "/problems"), "[ ]");
    assert_string_equal(at(root, "/settings"), "{ }");
    assert_null(at(root, "/input/path"));
    json_object_put(root);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(everything_to_repeat_the_run_is_there),
        cmocka_unit_test(what_is_weak_comes_with_its_reason),
        cmocka_unit_test(nothing_at_all_is_still_valid),
    };

    return cmocka_run_group_tests_name("write/run_json", tests, NULL, NULL);
}
