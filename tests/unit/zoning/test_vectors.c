/* Runs testdata/vectors/zones-*.txt: areas of the zones of rectangles. */

#include "../../vectors/vector_file.h"

#include "site.h"

static double length_of(const struct vector_case *vector, const char *key)
{
    double value = NAN;

    for (size_t i = 0; i < vector->inputs.count; i++)
        if (strcmp(vector->inputs.pairs[i].key, key) == 0)
            value = vector->inputs.pairs[i].number;
    return value;
}

static const char *standard_of(const struct vector_case *vector)
{
    const char *name = NULL;

    for (size_t i = 0; i < vector->inputs.count; i++)
        if (strcmp(vector->inputs.pairs[i].key, "standard") == 0)
            name = vector->inputs.pairs[i].word;
    return name;
}

/* The rectangle of a case, zoned; turned, so that nothing is easy. */
static double area_in_case(struct fixture *f, const struct vector_case *vector,
                           enum zone_role role)
{
    struct site site = site_empty(f);
    struct zoning_settings settings = settings_of(standard_of(vector));
    struct ring box =
        box_ring(f->arena, 0, 0, length_of(vector, "length"), length_of(vector, "width"));

    site_ring(&site, ring_moved(f->arena, box, 0.6, 20, -30),
              length_of(vector, "height"));
    site_zone(&site, &settings);
    return zone_area(&site.roofs[0], role);
}

static bool compute(const struct vector_case *vector, const char *quantity, double *value)
{
    void *state = NULL;
    bool known = false;

    if (fixture_open(&state) != 0)
        return false;
    for (int role = 0; role < ZONE_ROLES && !known; role++) {
        known = strcmp(zone_role_name(role), quantity) == 0;
        if (known)
            *value = area_in_case(state, vector, (enum zone_role)role);
    }
    fixture_close(&state);
    return known;
}

static void rectangles(void **state)
{
    int cases = 0;

    (void)state;
    assert_int_equal(
        vector_file_run(TESTDATA "/vectors/zones-rectangles.txt", compute, &cases), 0);
    assert_true(cases >= 40);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(rectangles)};

    return cmocka_run_group_tests_name("zoning/vectors", tests, NULL, NULL);
}
