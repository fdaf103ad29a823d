/* Job files: what they set, and how each mistake is named by file, line and key. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "../temporary.h"
#include "options/job.h"

#define assert_near(a, b, within) assert_true(fabs((a) - (b)) <= (within))

/* Writes a file that the caller unlinks. */
static void write_job(char path[TEMPORARY_MOST], const char *content)
{
    int descriptor = mkstemp(temporary_name(path, "outlay-job-XXXXXX"));
    assert_true(descriptor >= 0);
    assert_int_equal(write(descriptor, content, strlen(content)), strlen(content));
    close(descriptor);
}

static enum outlay_status read_job(const char *content, struct outlay_job *job,
                                   struct outlay_error *err)
{
    char path[TEMPORARY_MOST];
    write_job(path, content);
    enum outlay_status status = outlay_job_read_file(job, path, err);
    unlink(path);
    return status;
}

static void test_all_kinds_of_values(void **state)
{
    (void)state;
    struct settings settings;
    struct outlay_job *job = outlay_job_new();
    assert_int_equal(read_job("# comment\n"
                              "standard: asce7-16\n"
                              "wind_speed: 110 mph\n"
                              "mid-rise: low\n"
                              "write: [zones, \"run\"]\n"
                              "bbox: [-75.5, 39, -75, 40]\n"
                              "kz_floor: false\n"
                              "where: \"HGT > 3\"\n"
                              "field:\n"
                              "  height: HGT:ft\n"
                              "  building: \"\"\n"
                              "threads: 3\n",
                              job, NULL),
                     OUTLAY_OK);
    assert_int_equal(job_settings(job, &settings, NULL), OUTLAY_OK);
    assert_string_equal(standard_offered_name(settings.standard), "asce7-16");
    assert_near(settings.uplift.wind_speed, 110 * 0.44704, 1e-9);
    assert_int_equal(settings.zoning.mid_rise, MID_RISE_LOW);
    assert_int_equal(settings.parts, 1u << PART_ZONES | 1u << PART_RUN);
    assert_near(settings.read.bbox.min_x, -75.5, 0);
    assert_false(settings.uplift.kz_floor);
    assert_string_equal(settings.read.where, "HGT > 3");
    assert_string_equal(settings.read.fields[ROLE_HEIGHT], "HGT:ft");
    assert_string_equal(settings.read.fields[ROLE_BUILDING], "");
    assert_int_equal(settings.threads, 3);
    outlay_job_free(job);
}

static void test_empty_files_set_nothing(void **state)
{
    (void)state;
    static const char *const contents[] = {"", "# only this\n", "---\n", "{}\n"};
    for (size_t i = 0; i < sizeof contents / sizeof contents[0]; i++) {
        struct outlay_job *job = outlay_job_new();
        assert_int_equal(read_job(contents[i], job, NULL), OUTLAY_OK);
        assert_null(job->first);
        outlay_job_free(job);
    }
}

static void test_mistakes_name_line_and_key(void **state)
{
    (void)state;
    static const struct {
        const char *content, *where, *what, *todo;
    } cases[] = {
        {"units: us\nwnid_speed: 3\n", ":2: wnid_speed", "no setting", "wind-speed"},
        {"units: us\n\nunits: si\n", ":3: units", "given before", "keep one"},
        {"wind-speed: 1\nwind_speed: 2\n", ":2: wind_speed", "given before", "keep"},
        {"strict:\n", ":1: strict", "no value", "put #"},
        {"strict: [yes]\n", ":1: strict", "single value", "key: value"},
        {"layer: {a: b}\n", ":1: layer", "single value", "key: value"},
        {"write: [[zones]]\n", ":1: write", "a word", "- word"},
        {"field: height=HGT\n", ":1: field", "roles are expected", "height: COLUMN"},
        {"field:\n  height: [a]\n", ":2: height", "a column", "height: COLUMN"},
        {"field:\n  height: a\n  height: b\n", ":3: height", "given before", "keep"},
        {"field:\n  [a]: b\n", ":2: field", "a role", "one role per line"},
        {"- units\n", ":1", "keys with values", "key: value"},
        {"just words\n", ":1", "keys with values", "key: value"},
        {"units: us\n---\nunits: si\n", ":2", "second document", "one document"},
        {"units: us\n\tthreads: 2\n", ":2", "not YAML", "never by tabs"},
        {"units: \"us\n", ":2", "not YAML", "key: value"},
        {"units: &a us\nlayer: *a\n", ":2", "an alias", "the value itself"},
        {"help: yes\n", ":1: help", "no setting", ""},
        {"job: other.yaml\n", ":1: job", "no setting", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct outlay_error err = {0};
        struct outlay_job *job = outlay_job_new();
        assert_int_equal(read_job(cases[i].content, job, &err), OUTLAY_E_USAGE);
        assert_non_null(strstr(err.where, "/outlay-job-"));
        assert_non_null(strstr(err.where, cases[i].where));
        assert_non_null(strstr(err.what, cases[i].what));
        assert_non_null(strstr(err.todo, cases[i].todo));
        outlay_job_free(job);
    }
}

static void test_bad_values_name_line_and_key(void **state)
{
    (void)state;
    struct settings settings;
    struct outlay_error err = {0};
    struct outlay_job *job = outlay_job_new();
    assert_int_equal(read_job("units: us\nwind_speed: 400\n", job, NULL), OUTLAY_OK);
    assert_int_equal(job_settings(job, &settings, &err), OUTLAY_E_USAGE);
    assert_non_null(strstr(err.where, ":2: wind_speed"));
    assert_non_null(strstr(err.what, "\"400\" is out of range"));
    outlay_job_free(job);
}

static void test_missing_file(void **state)
{
    (void)state;
    struct outlay_error err = {0};
    struct outlay_job *job = outlay_job_new();
    assert_int_equal(outlay_job_read_file(job, "/nonexistent/job.yaml", &err),
                     OUTLAY_E_USAGE);
    assert_string_equal(err.where, "/nonexistent/job.yaml");
    outlay_job_free(job);
}

/* Bare numbers of a file are in the file's units, whatever the caller chooses. */
static void test_options_override_files_but_not_their_units(void **state)
{
    (void)state;
    struct settings settings;
    struct outlay_job *job = outlay_job_new();
    assert_int_equal(outlay_job_set(job, "rib-pitch", "150", NULL), OUTLAY_OK);
    assert_int_equal(outlay_job_set(job, "exposure", "D", NULL), OUTLAY_OK);
    assert_int_equal(outlay_job_set(job, "units", "si", NULL), OUTLAY_OK);
    assert_int_equal(read_job("exposure: B\nwind_speed: 115\n", job, NULL), OUTLAY_OK);
    assert_int_equal(job_settings(job, &settings, NULL), OUTLAY_OK);
    assert_near(settings.uplift.wind_speed, 115 * 0.44704, 1e-9);
    assert_near(settings.basis.rib_pitch, 0.150, 1e-12);
    assert_int_equal(settings.uplift.exposure, EXPOSURE_D);
    assert_int_equal(settings.unit_system, 1);
    outlay_job_free(job);
}

static void test_unknown_names_are_refused_at_once(void **state)
{
    (void)state;
    struct outlay_error err = {0};
    struct outlay_job *job = outlay_job_new();
    assert_int_equal(outlay_job_set(job, "expsure", "B", &err), OUTLAY_E_USAGE);
    assert_string_equal(err.todo, "did you mean exposure?");
    assert_int_equal(outlay_job_set(job, "help", "yes", &err), OUTLAY_E_USAGE);
    outlay_job_free(job);
}

/* Every line of the starter that a user may free of its # is a valid setting, and with
 * all defaults freed the settings are the defaults. */
static void test_the_starter_is_valid(void **state)
{
    (void)state;
    struct text starter = TEXT_INIT;
    struct text freed = TEXT_INIT;
    struct settings settings;
    struct settings defaults;
    size_t keys = 0;
    options_starter(&starter);
    for (const char *line = starter.data; *line; line += strcspn(line, "\n") + 1) {
        size_t length = strcspn(line, "\n");
        bool key = line[0] == '#' && line[1] != ' ' && line[1] != '\0';
        const char *colon = memchr(line, ':', length);
        /* Capitals stand for what only the user knows. */
        bool known = key && colon && length > 1 &&
                     strcspn(colon, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") >=
                         (size_t)(line + length - colon);
        bool roles =
            strncmp(line, "#field:", 7) == 0 || strncmp(line, "#sample:", 8) == 0;
        if (known && !roles) {
            text_append(&freed, line + 1, length);
            keys++;
        }
        if (line[length] == '\0')
            break;
    }
    assert_true(keys > 15);
    struct outlay_job *job = outlay_job_new();
    assert_int_equal(read_job(starter.data, job, NULL), OUTLAY_OK);
    assert_null(job->first);
    assert_int_equal(read_job(freed.data, job, NULL), OUTLAY_OK);
    assert_int_equal(job_settings(job, &settings, NULL), OUTLAY_OK);
    settings_init(&defaults);
    for (size_t i = 0; i < option_count(); i++) {
        struct text a = TEXT_INIT;
        struct text b = TEXT_INIT;
        option_print(option_at(i), &settings, &a);
        option_print(option_at(i), &defaults, &b);
        assert_string_equal(a.data ? a.data : "", b.data ? b.data : "");
        text_release(&a);
        text_release(&b);
    }
    outlay_job_free(job);
    text_release(&starter);
    text_release(&freed);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_all_kinds_of_values),
        cmocka_unit_test(test_empty_files_set_nothing),
        cmocka_unit_test(test_mistakes_name_line_and_key),
        cmocka_unit_test(test_bad_values_name_line_and_key),
        cmocka_unit_test(test_missing_file),
        cmocka_unit_test(test_options_override_files_but_not_their_units),
        cmocka_unit_test(test_unknown_names_are_refused_at_once),
        cmocka_unit_test(test_the_starter_is_valid),
    };
    return cmocka_run_group_tests_name("options/job_file", tests, NULL, NULL);
}
