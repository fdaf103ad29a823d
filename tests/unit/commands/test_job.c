/* Whole jobs through the public calls, on layers of a few roofs. */

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

#include "../temporary.h"
#include "base/text.h"
#include "options/settings.h"
#include "outlay/outlay.h"
#include "results/size.h"

/* Files compared, and those that aren't text. */
#define FILES 11
#define OTHERS 4

static const char *const file_names[FILES] = {
    "zones.geojson", "roofs.geojson", "summary.csv",    "totals.csv",
    "materials.csv", "orders.csv",    "comparison.csv", "ranking.csv",
    "report.html",   "problems.csv",  "run.json"};

static const char *const other_names[OTHERS] = {"layout.gpkg", "plans.pdf",
                                                "workbook.xlsx", "rolls.csv"};

struct scratch {
    char folder[TEMPORARY_MOST];
    char input[TEMPORARY_MOST + 20];
    char output[TEMPORARY_MOST + 20];
};

/* What the callbacks saw. */
struct seen {
    size_t messages;
    char last[200];
    char where[200];
    size_t progress;
    size_t stop_after; /* calls of progress; 0: never */
};

static void see_message(void *user, const struct outlay_message *message)
{
    struct seen *seen = user;
    seen->messages++;
    snprintf(seen->last, sizeof seen->last, "%s", message->what);
    snprintf(seen->where, sizeof seen->where, "%s", message->where);
}

static int see_progress(void *user, double share, size_t roofs)
{
    struct seen *seen = user;
    (void)share;
    (void)roofs;
    seen->progress++;
    return seen->stop_after && seen->progress >= seen->stop_after;
}

/* count squares of 20 m, of which the building and id are as the caller says. */
static void write_layer(const char *path, size_t count, size_t per_building, bool heights)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs("{\"type\":\"FeatureCollection\",\"features\":[", file);
    for (size_t i = 0; i < count; i++) {
        double x = -95 + 0.001 * (double)(i % 100);
        double y = 40 + 0.001 * (double)(i / 100);
        double w = 0.00023;
        double h = 0.00018;
        fprintf(file, "%s\n{\"type\":\"Feature\",\"properties\":{\"id\":\"r%zu\"",
                i ? "," : "", i);
        if (per_building)
            fprintf(file, ",\"building_id\":\"b%zu\"", i % (count / per_building));
        if (heights && i != 5)
            fprintf(file, ",\"height_m\":%zu", 5 + i % 9);
        fprintf(file,
                "},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[%.7f,%.7f],"
                "[%.7f,%.7f],[%.7f,%.7f],[%.7f,%.7f],[%.7f,%.7f]]]}}",
                x, y, x + w, y, x + w, y + h, x, y + h, x, y);
    }
    fputs("\n]}\n", file);
    assert_int_equal(fclose(file), 0);
}

static int make_scratch(void **state)
{
    struct scratch *scratch = calloc(1, sizeof *scratch);
    if (!scratch)
        return 1;
    if (!mkdtemp(temporary_name(scratch->folder, "outlay-test-XXXXXX")))
        return 1;
    snprintf(scratch->input, sizeof scratch->input, "%s/in.geojson", scratch->folder);
    snprintf(scratch->output, sizeof scratch->output, "%s/out", scratch->folder);
    *state = scratch;
    return 0;
}

static void remove_output(const char *output)
{
    char path[TEMPORARY_MOST + 60];
    for (size_t i = 0; i < FILES; i++) {
        snprintf(path, sizeof path, "%s/%s", output, file_names[i]);
        unlink(path);
    }
    for (size_t i = 0; i < OTHERS; i++) {
        snprintf(path, sizeof path, "%s/%s", output, other_names[i]);
        unlink(path);
    }
    rmdir(output);
}

static int remove_scratch(void **state)
{
    struct scratch *scratch = *state;
    remove_output(scratch->output);
    unlink(scratch->input);
    int left = rmdir(scratch->folder); /* fails when a run left something behind */
    free(scratch);
    return left;
}

static void set(struct outlay_job *job, const char *name, const char *value)
{
    assert_int_equal(outlay_job_set(job, name, value, NULL), OUTLAY_OK);
}

static struct outlay_job *new_job(const struct scratch *scratch)
{
    struct outlay_job *job = outlay_job_new();
    assert_non_null(job);
    set(job, "input", scratch->input);
    set(job, "output", scratch->output);
    set(job, "wind-speed", "115mph");
    return job;
}

static void read_file(const char *folder, const char *name, struct text *out)
{
    char path[TEMPORARY_MOST + 60];
    char buffer[4096];
    size_t got;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    while ((got = fread(buffer, 1, sizeof buffer, file)) > 0)
        text_append(out, buffer, got);
    fclose(file);
}

/* What stands in the folder is at most twice, at least half of what results_size()
 * says of so many roofs, but for single small files. */
static void assert_size_as_told(const char *output)
{
    struct settings settings;
    double all = 0;
    settings_init(&settings);
    for (int part = 0; part < PARTS; part++) {
        char path[TEMPORARY_MOST + 60];
        struct stat info;
        double given = results_size(&settings, 1u << part, 300);
        snprintf(path, sizeof path, "%s/%s", output, part_file((enum part)part));
        if (stat(path, &info) != 0)
            continue;
        all += (double)info.st_size;
        if (given > 50000 &&
            !((double)info.st_size < 2 * given && (double)info.st_size > given / 2))
            fail_msg("%s: %lld bytes, not %.0f", path, (long long)info.st_size, given);
    }
    unsigned left_out =
        1u << PART_LAYOUT | 1u << PART_PLANS | parts_needing(NEEDS_PLAN | NEEDS_SURVEY);
    double given = results_size(&settings, PARTS_ALL & ~left_out, 300);
    assert_true(all < 2 * given && all > given / 2);
}

static void test_counts_and_files(void **state)
{
    const struct scratch *scratch = *state;
    struct outlay_result result;
    struct seen seen = {0};
    struct text problems = TEXT_INIT;
    write_layer(scratch->input, 300, 0, true);
    struct outlay_job *job = new_job(scratch);
    outlay_job_on_message(job, see_message, &seen);
    assert_int_equal(outlay_job_run(job, &result, NULL), OUTLAY_OK);
    assert_int_equal(result.roofs, 300);
    assert_int_equal(result.zoned, 299);
    assert_int_equal(result.left_out, 1);
    assert_int_equal(result.buildings, 300);
    assert_int_equal(result.errors, 1);
    assert_int_equal(seen.messages, 3); /* no drawing of so many; the roof; the count */
    read_file(scratch->output, "problems.csv", &problems);
    assert_non_null(strstr(problems.data, "r5,error,height-missing,"));
    text_release(&problems);
    assert_size_as_told(scratch->output);

    /* What stands there is only replaced when the job says so. */
    assert_int_equal(outlay_job_run(job, NULL, NULL), OUTLAY_E_OUTPUT);
    set(job, "overwrite", "yes");
    set(job, "write", "summary");
    assert_int_equal(outlay_job_run(job, NULL, NULL), OUTLAY_OK);
    outlay_job_free(job);
}

/* The same bytes for 1, 2 and 4 workers, roofs alone and in scattered buildings: 15
 * batches, far more than workers. */
static void test_threads_change_nothing(void **state)
{
    const struct scratch *scratch = *state;
    static const char *const threads[] = {"1", "2", "4"};
    for (size_t per_building = 0; per_building <= 4; per_building += 4) {
        struct text first[FILES - 1] = {TEXT_INIT};
        write_layer(scratch->input, 120, per_building, true);
        for (size_t t = 0; t < 3; t++) {
            struct outlay_job *job = new_job(scratch);
            set(job, "threads", threads[t]);
            set(job, "overwrite", "yes");
            set(job, "write",
                "zones,roofs,summary,totals,materials,orders,comparison,ranking,page,"
                "problems");
            assert_int_equal(outlay_job_run(job, NULL, NULL), OUTLAY_OK);
            outlay_job_free(job);
            for (size_t i = 0; i < FILES - 1; i++) {
                struct text again = TEXT_INIT;
                read_file(scratch->output, file_names[i], t ? &again : &first[i]);
                if (t)
                    assert_string_equal(first[i].data, again.data);
                text_release(&again);
            }
        }
        for (size_t i = 0; i < FILES - 1; i++)
            text_release(&first[i]);
    }
}

static void test_buildings_are_gathered_from_all_over_a_file(void **state)
{
    const struct scratch *scratch = *state;
    struct outlay_result result;
    struct text summary = TEXT_INIT;
    write_layer(scratch->input, 12, 3, true);
    struct outlay_job *job = new_job(scratch);
    assert_int_equal(outlay_job_run(job, &result, NULL), OUTLAY_OK);
    assert_int_equal(result.buildings, 4);
    read_file(scratch->output, "summary.csv", &summary);
    /* Roofs 0, 4 and 8 are building b0 and stand together. */
    const char *r0 = strstr(summary.data, "\nr0,");
    const char *r4 = strstr(summary.data, "\nr4,");
    const char *r8 = strstr(summary.data, "\nr8,");
    const char *r1 = strstr(summary.data, "\nr1,");
    assert_true(r0 && r0 < r4 && r4 < r8 && r8 < r1);
    text_release(&summary);
    outlay_job_free(job);
}

static void test_no_building_has_thousands_of_roofs(void **state)
{
    const struct scratch *scratch = *state;
    struct outlay_error err = {0};
    struct stat info;
    write_layer(scratch->input, 2001, 2001, true);
    struct outlay_job *job = new_job(scratch);
    assert_int_equal(outlay_job_run(job, NULL, &err), OUTLAY_E_LIMIT);
    assert_non_null(strstr(err.what, "\"b0\""));
    assert_non_null(strstr(err.todo, "--field building="));
    assert_int_not_equal(stat(scratch->output, &info), 0);
    outlay_job_free(job);
}

static void test_an_interrupted_run_leaves_nothing(void **state)
{
    const struct scratch *scratch = *state;
    struct stat info;
    write_layer(scratch->input, 2000, 0, true);
    for (size_t after = 1; after <= 9; after += 4) {
        struct seen seen = {.stop_after = after};
        struct outlay_error err = {0};
        struct outlay_job *job = new_job(scratch);
        outlay_job_on_progress(job, see_progress, &seen);
        assert_int_equal(outlay_job_run(job, NULL, &err), OUTLAY_E_INTERRUPTED);
        assert_int_equal(seen.progress, after);
        assert_int_not_equal(stat(scratch->output, &info), 0);
        outlay_job_free(job);
    }
}

static void test_strict_writes_nothing_when_a_roof_is_left_out(void **state)
{
    const struct scratch *scratch = *state;
    struct outlay_error err = {0};
    struct outlay_result result;
    struct stat info;
    write_layer(scratch->input, 10, 0, true);
    struct outlay_job *job = new_job(scratch);
    set(job, "strict", "yes");
    assert_int_equal(outlay_job_run(job, &result, &err), OUTLAY_E_LIMIT);
    assert_int_equal(result.left_out, 1);
    assert_int_not_equal(stat(scratch->output, &info), 0);
    outlay_job_free(job);
}

static void test_no_wind_speed_is_one_warning(void **state)
{
    const struct scratch *scratch = *state;
    struct seen seen = {0};
    write_layer(scratch->input, 5, 0, true);
    struct outlay_job *job = outlay_job_new();
    set(job, "input", scratch->input);
    set(job, "output", scratch->output);
    outlay_job_on_message(job, see_message, &seen);
    assert_int_equal(outlay_job_run(job, NULL, NULL), OUTLAY_OK);
    assert_int_equal(seen.messages, 1);
    assert_string_equal(seen.last, "wind-speed-missing: no wind speed");
    assert_non_null(strstr(seen.where, ", all 5 roofs"));
    outlay_job_free(job);
}

static void test_only_the_files_asked_for_are_written(void **state)
{
    const struct scratch *scratch = *state;
    write_layer(scratch->input, 3, 0, true);
    struct outlay_job *job = new_job(scratch);
    set(job, "write", "summary");
    assert_int_equal(outlay_job_run(job, NULL, NULL), OUTLAY_OK);
    for (size_t i = 0; i < FILES; i++) {
        char path[TEMPORARY_MOST + 60];
        snprintf(path, sizeof path, "%s/%s", scratch->output, file_names[i]);
        bool wanted = strcmp(file_names[i], "summary.csv") == 0 ||
                      strcmp(file_names[i], "run.json") == 0;
        assert_int_equal(access(path, F_OK) == 0, wanted);
    }
    outlay_job_free(job);
}

/* Two roofs with one id, and two that overlap by half: rows, and nothing left out. */
static void test_checks_over_the_layer(void **state)
{
    const struct scratch *scratch = *state;
    struct outlay_result result;
    struct text problems = TEXT_INIT;
    FILE *file = fopen(scratch->input, "w");
    assert_non_null(file);
    fputs("{\"type\":\"FeatureCollection\",\"features\":[", file);
    for (int i = 0; i < 3; i++) {
        double x = -95 + 0.00012 * i;
        double w = i < 2 ? 0.00024 : 0.0001199; /* the third touches the second at most */
        x = i < 2 ? x : -95 + 0.00036;
        fprintf(file,
                "%s{\"type\":\"Feature\",\"properties\":{\"id\":\"%s\",\"height_m\":6},"
                "\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[[%.8f,40],"
                "[%.8f,40],[%.8f,40.0002],[%.8f,40.0002],[%.8f,40]]]}}",
                i ? "," : "", i == 0 ? "one" : "two", x, x + w, x + w, x, x);
    }
    fputs("]}", file);
    assert_int_equal(fclose(file), 0);
    struct outlay_job *job = new_job(scratch);
    assert_int_equal(outlay_job_run(job, &result, NULL), OUTLAY_OK);
    assert_int_equal(result.zoned, 3);
    assert_int_equal(result.warnings, 3);
    read_file(scratch->output, "problems.csv", &problems);
    assert_non_null(
        strstr(problems.data, "two,warning,duplicate-id,feature 2 is one of 2"));
    assert_non_null(
        strstr(problems.data, "two,warning,duplicate-id,feature 3 is one of 2"));
    /* 0.00012 degrees of longitude at 40 N by 0.0002 of latitude: 10.25 m x 22.2 m */
    assert_non_null(strstr(problems.data, "one,warning,roofs-overlap,\"shares 24"));
    assert_non_null(strstr(problems.data, "ft2 with roof two, 50 % of the smaller"));
    text_release(&problems);
    outlay_job_free(job);
}

/* The constant of velocity pressure goes with the units unless it is given, whichever
 * comes first, and run.json has the one that was used. */
static void test_the_velocity_constant_is_that_of_the_units(void **state)
{
    const struct scratch *scratch = *state;
    static const struct {
        const char *units, *constant, *recorded;
    } cases[] = {{"us", NULL, "0.00256"},
                 {"si", NULL, "0.613"},
                 {"us", "0.613", "0.613"},
                 {"si", "0.00256", "0.00256"}};

    write_layer(scratch->input, 2, 0, true);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct outlay_job *job = new_job(scratch);
        struct text record = TEXT_INIT;
        char line[60];

        if (cases[i].constant)
            set(job, "velocity-constant", cases[i].constant);
        set(job, "units", cases[i].units);
        set(job, "write", "run");
        set(job, "overwrite", "yes");
        assert_int_equal(outlay_job_run(job, NULL, NULL), OUTLAY_OK);
        read_file(scratch->output, "run.json", &record);
        snprintf(line, sizeof line, "\"velocity-constant\": \"%s\"", cases[i].recorded);
        assert_non_null(strstr(record.data, line));
        text_release(&record);
        outlay_job_free(job);
    }
}

static void test_the_output_says_what_is_run(void **state)
{
    const struct scratch *scratch = *state;
    char path[TEMPORARY_MOST + 60];
    struct outlay_result result;
    write_layer(scratch->input, 4, 0, true);
    snprintf(path, sizeof path, "%s/zones.geojson", scratch->folder);
    struct outlay_job *job = new_job(scratch);
    set(job, "output", path);
    assert_int_equal(outlay_job_run(job, &result, NULL), OUTLAY_OK);
    assert_int_equal(result.zoned, 4);
    assert_int_equal(unlink(path), 0); /* a file, and no list of problems beside it */
    outlay_job_free(job);
}

static void test_usage_and_input_errors(void **state)
{
    const struct scratch *scratch = *state;
    struct outlay_error err = {0};
    struct outlay_job *job = outlay_job_new();
    assert_int_equal(outlay_job_run(job, NULL, &err), OUTLAY_E_USAGE);
    set(job, "output", scratch->output);
    assert_int_equal(outlay_job_run(job, NULL, &err), OUTLAY_E_USAGE);
    set(job, "input", scratch->input); /* isn't there */
    assert_int_equal(outlay_job_run(job, NULL, &err), OUTLAY_E_INPUT);
    set(job, "wind-speed", "500 mph");
    assert_int_equal(outlay_job_run(job, NULL, &err), OUTLAY_E_USAGE);
    assert_string_equal(err.where, "wind-speed");
    outlay_job_free(job);
    outlay_job_free(NULL);
}

#define SCRATCH_TEST(name) \
    cmocka_unit_test_setup_teardown(name, make_scratch, remove_scratch)

int main(void)
{
    const struct CMUnitTest tests[] = {
        SCRATCH_TEST(test_counts_and_files),
        SCRATCH_TEST(test_threads_change_nothing),
        SCRATCH_TEST(test_buildings_are_gathered_from_all_over_a_file),
        SCRATCH_TEST(test_no_building_has_thousands_of_roofs),
        SCRATCH_TEST(test_an_interrupted_run_leaves_nothing),
        SCRATCH_TEST(test_strict_writes_nothing_when_a_roof_is_left_out),
        SCRATCH_TEST(test_no_wind_speed_is_one_warning),
        SCRATCH_TEST(test_only_the_files_asked_for_are_written),
        SCRATCH_TEST(test_checks_over_the_layer),
        SCRATCH_TEST(test_the_velocity_constant_is_that_of_the_units),
        SCRATCH_TEST(test_the_output_says_what_is_run),
        SCRATCH_TEST(test_usage_and_input_errors),
    };
    return cmocka_run_group_tests_name("commands/job", tests, NULL, NULL);
}
