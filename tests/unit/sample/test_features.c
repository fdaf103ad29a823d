/* What layers say at an outline. */

#include "help.h"

#include <unistd.h>

#include "../temporary.h"
#include "sample/features.h"

#define FEATURE(value, type, coordinates)                                   \
    "{\"type\":\"Feature\",\"properties\":{\"V\":" value "},\"geometry\":{" \
    "\"type\":\"" type "\",\"coordinates\":" coordinates "}}"

#define WEST_HALF "[[[-1,-1],[6e-4,-1],[6e-4,1],[-1,1],[-1,-1]]]"
#define EAST_HALF "[[[6e-4,-1],[2e-3,-1],[2e-3,1],[6e-4,1],[6e-4,-1]]]"

/* A layer of these features, in a file that is gone afterwards. */
static struct features *open_layer(const char *members)
{
    char path[TEMPORARY_MOST];
    int file = mkstemp(temporary_name(path, "outlay-XXXXXX"));
    FILE *out = file < 0 ? NULL : fdopen(file, "w");
    struct features *features = NULL;
    struct outlay_error err = {.status = OUTLAY_OK};

    assert_non_null(out);
    fprintf(out, "{\"type\":\"FeatureCollection\",\"features\":[%s]}", members);
    fclose(out);
    if (features_open(path, "V", &features, &err) != OUTLAY_OK)
        fail_msg("%s: %s", err.where, err.what);
    unlink(path);
    return features;
}

/* What the layer says at the square from x, 0 to x + 1, 1 in thousandths of a degree. */
static struct finding look(struct arena *arena, struct features *features, double x)
{
    struct point points[] = {
        {x / 1e3, 0}, {(x + 1) / 1e3, 0}, {(x + 1) / 1e3, 1e-3}, {x / 1e3, 1e-3}};
    struct region outline = region_of(arena, points, 4);
    struct finding found;

    assert_int_equal(features_at(features, &outline, &found, NULL), OUTLAY_OK);
    return found;
}

static void test_the_largest_overlap_wins(void **state)
{
    struct features *features = open_layer(FEATURE(
        "\"B\"", "Polygon", WEST_HALF) "," FEATURE("\"C\"", "Polygon", EAST_HALF));
    struct finding found = look(*state, features, 0);

    assert_true(found.found && !found.weak);
    assert_string_equal(found.value.text, "B");
    assert_int_equal(found.count, 1);
    assert_string_equal(look(*state, features, 0.2).value.text, "C");
    assert_non_null(look(*state, features, 1.7).weak); /* three tenths of it */
    assert_false(look(*state, features, 5).found);
    features_close(features);
}

static void test_points_vote(void **state)
{
    struct features *features =
        open_layer(FEATURE("3", "Point", "[0.0001,0.0005]") "," FEATURE(
            "4", "Point", "[0.0002,0.0005]") "," FEATURE("4", "Point",
                                                         "[0.0003,0.0005]"));
    struct finding found = look(*state, features, 0);

    assert_int_equal(found.value.whole, 4);
    assert_int_equal(found.count, 2);
    assert_true(found.spread == 1);
    assert_non_null(found.weak);
    assert_false(look(*state, features, 3).found);
    features_close(features);
}

static void test_between_two_lines(void **state)
{
    struct features *features =
        open_layer(FEATURE("110", "LineString", "[[0,-1],[0,1]]") "," FEATURE(
            "120", "LineString",
            "[[0.004,-1],[0.004,1]]") "," FEATURE("120", "LineString",
                                                  "[[0.02,-1],[0.02,1]]"));
    struct finding found = look(*state, features, 0.5);

    assert_true(fabs(found.value.real - 112.5) < 1e-6); /* a quarter of the way */
    assert_int_equal(found.count, 2);
    assert_true(found.spread == 10 && !found.weak);
    found = look(*state, features, -3); /* beyond the last line */
    assert_true(found.value.real == 110 && found.count == 1);
    assert_non_null(found.weak);
    found = look(*state, features, 9); /* between two lines of one value */
    assert_true(found.value.real == 120);
    features_close(features);
}

static void test_what_cannot_be_opened(void **state)
{
    struct features *features;
    struct outlay_error err;

    (void)state;
    assert_int_equal(features_open("/nowhere/zones.gpkg", "V", &features, &err),
                     OUTLAY_E_INPUT);
    assert_true(err.where[0] && err.todo[0]);
    assert_int_equal(
        features_open(TESTDATA "/demo/demo.geojson", "NONE", &features, &err),
        OUTLAY_E_USAGE);
    assert_non_null(strstr(err.what, "NONE"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_largest_overlap_wins),
        cmocka_unit_test(test_points_vote),
        cmocka_unit_test(test_between_two_lines),
        cmocka_unit_test(test_what_cannot_be_opened),
    };

    return cmocka_run_group_tests(tests, arena_open, arena_close);
}
