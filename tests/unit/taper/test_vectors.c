/* Runs testdata/vectors/taper.txt: closed forms on rectangles. */

#include "../../vectors/vector_file.h"

#include "place.h"

static double number_of(const struct vector_case *vector, const char *key)
{
    double value = NAN;

    for (size_t i = 0; i < vector->inputs.count; i++)
        if (strcmp(vector->inputs.pairs[i].key, key) == 0)
            value = vector->inputs.pairs[i].number;
    return value;
}

static enum taper_model model_of(const struct vector_case *vector)
{
    int model = TAPER_AUTO;

    for (size_t i = 0; i < vector->inputs.count; i++)
        if (strcmp(vector->inputs.pairs[i].key, "model") == 0)
            while (taper_model_name(model) &&
                   strcmp(taper_model_name(model), vector->inputs.pairs[i].word) != 0)
                model++;
    return (enum taper_model)model;
}

static void build(struct place *place, const struct vector_case *vector)
{
    place->slope = number_of(vector, "slope") / 12;
    place->settings.least = number_of(vector, "least");
    place->settings.model = model_of(vector);
    place_rectangle(place, number_of(vector, "length") / FT,
                    number_of(vector, "width") / FT);
    for (int i = 1; i < DRAINS_MAX; i++) {
        const char x[] = {'x', (char)('0' + i), '\0'};
        const char y[] = {'y', (char)('0' + i), '\0'};

        if (isfinite(number_of(vector, x)))
            place_drain(place, number_of(vector, x) / FT, number_of(vector, y) / FT);
    }
}

static bool quantity_of(const struct place *place, const struct vector_case *vector,
                        const char *quantity, double *value)
{
    const struct taper *taper = &place->taper;
    double length = number_of(vector, "length") / FT;
    double width = number_of(vector, "width") / FT;

    if (strcmp(quantity, "mid-edge") == 0)
        *value = place_at(place, length / 2, width);
    else if (strcmp(quantity, "corner") == 0)
        *value = place_at(place, length, width);
    else if (strcmp(quantity, "most") == 0)
        *value = taper->most;
    else if (strcmp(quantity, "mean") == 0)
        *value = taper_mean(taper);
    else if (strcmp(quantity, "inverse") == 0)
        *value = 1 / taper_inverse_mean(taper, number_of(vector, "more"));
    else if (strcmp(quantity, "crickets") == 0)
        *value = (double)taper->cricket_count;
    else if (strcmp(quantity, "cricket-area") == 0)
        *value = taper->cricket_area;
    else
        return false;
    return true;
}

static bool compute(const struct vector_case *vector, const char *quantity, double *value)
{
    struct place place;
    bool known = false;

    if (!place_open(&place, 0.6))
        return false;
    build(&place, vector);
    known = place_find(&place) && quantity_of(&place, vector, quantity, value);
    arena_free(place.arena);
    return known;
}

static void rectangles(void **state)
{
    int cases = 0;

    (void)state;
    assert_int_equal(vector_file_run(TESTDATA "/vectors/taper.txt", compute, &cases), 0);
    assert_true(cases >= 20);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(rectangles)};

    return cmocka_run_group_tests_name("taper/vectors", tests, NULL, NULL);
}
