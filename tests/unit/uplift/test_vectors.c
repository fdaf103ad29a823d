/* Runs testdata/vectors/wind-*.txt through the whole chain. */

#include "../../vectors/vector_file.h"
#include "../temporary.h"

#include <glob.h>
#include <stdlib.h>
#include <unistd.h>

#include "uplift/uplift.h"

struct inputs {
    struct standard standard; /* a copy: a case may change Kd */
    struct figure_input figure;
    struct uplift_settings settings;
    struct attributes given;
    double kz; /* NAN: of the exposure */
};

static bool apply_word(struct inputs *in, const struct vector_pair *pair)
{
    int found = 0;

    if (strcmp(pair->key, "standard") == 0) {
        const struct standard *standard = standard_find(pair->word);

        if (standard != NULL) {
            in->standard = *standard;
        }
        return standard != NULL;
    }
    if (strcmp(pair->key, "exposure") == 0) {
        found = name_find(pair->word, exposure_name);
        in->given.exposure = found > 0 ? (enum exposure)found : EXPOSURE_NOT_GIVEN;
    } else if (strcmp(pair->key, "enclosure") == 0) {
        found = name_find(pair->word, enclosure_name);
        in->given.enclosure = found > 0 ? (enum enclosure)found : ENCLOSURE_NOT_GIVEN;
    } else if (strcmp(pair->key, "mid-rise") == 0) {
        found = strcmp(pair->word, "low") == 0 || strcmp(pair->word, "tall") == 0;
        in->figure.mid_rise = pair->word[0] == 'l' ? MID_RISE_LOW : MID_RISE_TALL;
    } else if (strcmp(pair->key, "kz-floor") == 0) {
        found = strcmp(pair->word, "yes") == 0 || strcmp(pair->word, "no") == 0;
        in->settings.kz_floor = pair->word[0] == 'y';
    }
    return found > 0;
}

static bool apply_number(struct inputs *in, const struct vector_pair *pair)
{
    const struct {
        const char *key;
        double *place;
    } places[] = {
        {"height", &in->figure.height},
        {"least", &in->figure.least_dimension},
        {"speed", &in->given.wind_speed},
        {"elevation", &in->given.elevation},
        {"topographic", &in->given.topographic},
        {"parapet", &in->given.parapet},
        {"area", &in->settings.wind_area},
        {"importance", &in->settings.importance},
        {"kd", &in->standard.kd},
        {"kz", &in->kz},
    };

    if (strcmp(pair->key, "constant") == 0) {
        int found = name_find(pair->word, velocity_constant_name);

        in->settings.constant = found > 0 ? (enum velocity_constant)found : VELOCITY_SI;
        return found > 0;
    }
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        if (strcmp(pair->key, places[i].key) == 0) {
            *places[i].place = pair->number;
            return true;
        }
    }
    return false;
}

static bool read_inputs(const struct vector_case *vector, struct inputs *in)
{
    *in = (struct inputs){
        .standard = standard_asce7_22,
        .figure = {.height = 10.0, .least_dimension = 50.0},
        .settings = uplift_defaults(),
        .given = attributes_missing(),
        .kz = NAN,
    };
    in->given.wind_speed = 50.0;
    for (size_t i = 0; i < vector->inputs.count; i++) {
        const struct vector_pair *pair = &vector->inputs.pairs[i];

        if (!(isnan(pair->number) ? apply_word(in, pair) : apply_number(in, pair))) {
            print_error("%s:%d: unknown input: %s %s\n", vector->file, vector->line,
                        pair->key, pair->word);
            return false;
        }
    }
    return true;
}

/* One roof with each zone that the figure knows. */
static void run_chain(struct inputs *in, struct zone_figure *figure, struct roof *roof)
{
    struct building building = {.arena = arena_new(), .roofs = roof, .roof_count = 1};

    assert_non_null(building.arena);
    in->standard.figure(&in->figure, figure);
    *roof = (struct roof){.given = in->given, .zoned = true};
    roof->level.height = in->figure.height;
    roof->level.parapet = in->given.parapet;
    roof->level.tall = figure->tall;
    for (int role = 0; role < ZONE_ROLES; role++) {
        if (figure->labels[role] != NULL) {
            roof->zones[roof->zone_count].role = (enum zone_role)role;
            roof->zones[roof->zone_count++].label = figure->labels[role];
        }
    }
    in->settings.standard = &in->standard;
    uplift_run(&building, &in->settings);
    if (isfinite(in->kz)) {
        roof->velocity.kz = in->kz;
        roof->velocity.pressure = velocity_pressure(&roof->velocity);
    }
    roof->problems = NULL;
    arena_free(building.arena);
}

/* Quantities like "net-corner". */
static bool zone_quantity(const struct roof *roof, const char *quantity, double *value)
{
    const char *role = strchr(quantity, '-');
    size_t length = role != NULL ? (size_t)(role - quantity) : 0;

    for (size_t i = 0; role != NULL && i < roof->zone_count; i++) {
        const struct zone_uplift *uplift = &roof->zones[i].uplift;
        const struct {
            const char *name;
            double value;
        } values[] = {
            {"gcp", uplift->gcp},           {"net", uplift->net},
            {"uplift", uplift->uplift},     {"allowable", uplift->allowable},
            {"required", uplift->required},
        };

        if (strcmp(role + 1, zone_role_name(roof->zones[i].role)) != 0) {
            continue;
        }
        for (size_t j = 0; j < sizeof values / sizeof values[0]; j++) {
            if (strlen(values[j].name) == length &&
                strncmp(quantity, values[j].name, length) == 0) {
                *value = values[j].value;
                return true;
            }
        }
    }
    return false;
}

static bool compute(const struct vector_case *vector, const char *quantity, double *value)
{
    struct inputs in;
    struct zone_figure figure = {0};
    struct roof roof;

    if (!read_inputs(vector, &in)) {
        return false;
    }
    run_chain(&in, &figure, &roof);
    const struct {
        const char *name;
        double value;
    } values[] = {
        {"kz", roof.velocity.kz},
        {"lambda", roof.velocity.kz / 0.70}, /* of the simplified methods */
        {"ke", roof.velocity.ke},
        {"kd", roof.velocity.kd},
        {"gcpi", roof.velocity.gcpi},
        {"q", roof.velocity.pressure},
        {"perimeter-depth", figure.perimeter_depth},
        {"field-depth", figure.field_depth},
        {"leg-length", figure.leg_length},
        {"leg-depth", figure.leg_depth},
        {"interior", isfinite(figure.field_depth) ? 1.0 : 0.0},
        {"tall", figure.tall ? 1.0 : 0.0},
    };

    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        if (strcmp(quantity, values[i].name) == 0) {
            *value = values[i].value;
            return true;
        }
    }
    return zone_quantity(&roof, quantity, value);
}

static void every_published_value_is_met(void **state)
{
    glob_t files;
    int failures = 0;

    (void)state;
    assert_int_equal(glob(TESTDATA "/vectors/wind-*.txt", 0, NULL, &files), 0);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        int cases;

        failures += vector_file_run(files.gl_pathv[i], compute, &cases);
        print_message("%s: %d values\n", strrchr(files.gl_pathv[i], '/') + 1, cases);
    }
    globfree(&files);
    assert_int_equal(failures, 0);
}

/* ---- The runner itself: what it must refuse ------------------------------------- */

static int failures_of(const char *text)
{
    char path[TEMPORARY_MOST];
    int descriptor = mkstemp(temporary_name(path, "outlay-vectors-XXXXXX"));
    FILE *file;
    int cases, failures;

    assert_true(descriptor >= 0);
    file = fdopen(descriptor, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
    failures = vector_file_run(path, compute, &cases);
    remove(path);
    return failures;
}

#define HEAD "source: x\nlabel: derived\ntolerance: 0.001\n"

static void the_runner_refuses_what_it_cant_check(void **state)
{
    (void)state;
    assert_int_equal(failures_of(HEAD "case: elevation 0 ft -> ke 1\n"), 0);
    assert_int_equal(failures_of("# only a comment\n"), 1);
    assert_int_equal(failures_of(HEAD), 1);
    assert_true(failures_of(HEAD "case: elevation 0 ft -> ke 1.01\n") > 0);
    assert_true(failures_of(HEAD "case: elevation 0 ft -> ku 1\n") > 0);
    assert_true(failures_of(HEAD "case: elevatoin 0 ft -> ke 1\n") > 0);
    assert_true(failures_of(HEAD "case: elevation 0 fathom -> ke 1\n") > 0);
    assert_true(failures_of(HEAD "case: exposure E -> kz 1\n") > 0);
    assert_true(failures_of(HEAD "case: standard asce -> kz 1\n") > 0);
    assert_true(failures_of(HEAD "case: elevation 0 ft ->\n") > 0);
    assert_true(failures_of(HEAD "case: elevation 0 ft ke 1\n") > 0);
    assert_true(failures_of(HEAD "cases: elevation 0 ft -> ke 1\n") > 0);
    assert_true(failures_of("source: x\ntolerance: 1\ncase: height 9 m -> ke 1\n") > 0);
    assert_true(failures_of("source: x\nlabel: printed\ntolerance: 1\n"
                            "case: height 9 m -> ke 1\n") > 0);
    assert_true(failures_of("source: x\nlabel: read\ncase: height 9 m -> ke 1\n") > 0);
}

static void an_expected_failure_must_fail(void **state)
{
    (void)state;
    assert_int_equal(failures_of(HEAD "case: elevation 0 ft -> ke 1\n"
                                      "fails: elevation 0 ft -> ke 0.9\n"),
                     0);
    assert_int_equal(failures_of(HEAD "case: elevation 0 ft -> ke 1\n"
                                      "fails: elevation 0 ft -> ke 1\n"),
                     1);
    assert_true(failures_of(HEAD "case: elevation 0 ft -> ke 1\n"
                                 "fails: elevation 0 ft -> ku 0.9\n") > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_published_value_is_met),
        cmocka_unit_test(the_runner_refuses_what_it_cant_check),
        cmocka_unit_test(an_expected_failure_must_fail),
    };

    return cmocka_run_group_tests_name("wind vectors", tests, NULL, NULL);
}
