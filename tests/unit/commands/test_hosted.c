/* The library in a program that has chosen a locale: another decimal sign and other
 * letters change no byte of what a run writes. */

#include <ctype.h>
#include <dirent.h>
#include <locale.h>
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
#include "outlay/outlay.h"

/* A step in height, a re-entrant corner, roofs to recover and to tear off. */
static const char roofs[] =
    "{\"type\":\"FeatureCollection\",\"features\":[\n"
    "{\"type\":\"Feature\",\"properties\":{\"id\":\"I-1\",\"building\":\"h\","
    "\"height_ft\":24.5,\"deck\":\"STEEL\",\"existing\":\"Single-Ply\",\"wet_share\":0.1,"
    "\"condition\":40.5,\"installed\":2004},\"geometry\":{\"type\":\"Polygon\","
    "\"coordinates\":[[[-95,40],[-94.9998,40],[-94.9998,40.0001],[-95,40.0001],[-95,40]]"
    "]}},\n"
    "{\"type\":\"Feature\",\"properties\":{\"id\":\"2\",\"building\":\"h\","
    "\"height_ft\":36,\"deck\":\"steel\",\"method\":\"INDUCTION-WELDED\","
    "\"condition\":30},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[["
    "[-94.9998,40],"
    "[-94.9996,40],[-94.9996,40.00005],[-94.9997,40.00005],[-94.9997,40.0001],"
    "[-94.9998,40.0001],[-94.9998,40]]]}}]}\n";

static void put_file(const char *path, const char *content)
{
    FILE *file = fopen(path, "w");

    assert_non_null(file);
    assert_true(fputs(content, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

/* Takes up and removes the files of a folder. What holds times isn't compared, but that a
 * GeoPackage is there is. */
static void take_files(const char *folder, struct text *out)
{
    struct dirent **names = NULL;
    int count = scandir(folder, &names, NULL, alphasort);
    char path[300];

    for (int i = 0; i < count; i++) {
        static char bytes[1 << 20];
        struct stat info;

        snprintf(path, sizeof path, "%s/%.200s", folder, names[i]->d_name);
        free(names[i]);
        if (strcmp(path, "./roofs.geojson") == 0 || stat(path, &info) != 0 ||
            !S_ISREG(info.st_mode))
            continue;
        text_printf(out, "\n--- %s\n", path);
        if (!strstr(path, ".gpkg") && !strstr(path, "run.json")) {
            FILE *file = fopen(path, "rb");

            assert_non_null(file);
            text_append(out, bytes, fread(bytes, 1, sizeof bytes, file));
            fclose(file);
        }
        unlink(path);
    }
    free(names);
}

static void set(struct outlay_job *job, const char *name, const char *value)
{
    struct outlay_error err = {0};

    if (outlay_job_set(job, name, value, &err) != OUTLAY_OK)
        fail_msg("%s: %s: %s", err.what, err.where, err.todo);
}

static struct outlay_job *new_job(const char *output, const char *units)
{
    struct outlay_job *job = outlay_job_new();

    assert_non_null(job);
    set(job, "input", "roofs.geojson");
    set(job, "output", output);
    set(job, "units", units);
    set(job, "wind-speed", "51.5 m/s");
    set(job, "method", "INDUCTION-WELDED");
    set(job, "methods", "seam-fastened,adhered");
    set(job, "cap", "40000");
    set(job, "start", "2027");
    return job;
}

static void run(const char *output, const char *units, struct text *out)
{
    struct outlay_job *job = new_job(output, units);
    struct outlay_error err = {0};

    if (outlay_job_run(job, NULL, &err) != OUTLAY_OK)
        fail_msg("%s: %s: %s", err.what, err.where, err.todo);
    outlay_job_free(job);
    take_files("out", out);
    rmdir("out");
    take_files(".", out);
}

/* Everything that the library writes. */
static void run_all(struct text *out)
{
    *out = TEXT_INIT;
    run("out", "SI", out);
    run("z.GEOJSON", "SI", out);
    run("z.fgb", "US", out);
    run("z.gpkg", "SI", out);
}

static void expect_same_in(const char *locale)
{
    struct text plain, hosted;
    char shown[8];

    put_file("roofs.geojson", roofs);
    run_all(&plain);
    assert_non_null(setlocale(LC_NUMERIC, locale));
    assert_non_null(setlocale(LC_CTYPE, locale));
    snprintf(shown, sizeof shown, "%.1f", 1.5);
    assert_string_equal(shown, "1,5");
    run_all(&hosted);
    /* the host keeps its own */
    snprintf(shown, sizeof shown, "%.1f", 1.5);
    assert_string_equal(shown, "1,5");
    setlocale(LC_ALL, "C");
    assert_true(plain.length > 50000);
    for (size_t i = 0; i < plain.length && i < hosted.length; i++)
        if (plain.data[i] != hosted.data[i])
            fail_msg("byte %zu: %.60s, not %.60s", i, hosted.data + (i > 20 ? i - 20 : 0),
                     plain.data + (i > 20 ? i - 20 : 0));
    assert_int_equal(plain.length, hosted.length);
    text_release(&plain);
    text_release(&hosted);
}

static void a_decimal_comma_changes_nothing(void **state)
{
    (void)state;
    expect_same_in("comma");
}

static void other_letters_change_nothing(void **state)
{
    (void)state;
    expect_same_in("dotless");
}

/* Otherwise the test shows nothing. */
static void the_letters_are_others(void **state)
{
    volatile char letter = 'I'; /* not answered by the compiler */

    (void)state;
    assert_non_null(setlocale(LC_CTYPE, "dotless"));
    assert_int_not_equal(tolower(letter), 'i');
    setlocale(LC_ALL, "C");
}

static int enter(void **state)
{
    static char folder[TEMPORARY_MOST];

    *state = temporary_name(folder, "outlay-test-XXXXXX");
    setenv("LOCPATH", TEST_LOCALES, 1);
    return mkdtemp(folder) && chdir(folder) == 0 ? 0 : -1;
}

static int leave(void **state)
{
    unlink("roofs.geojson");
    return chdir("/") == 0 ? rmdir(*state) : -1;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_letters_are_others),
        cmocka_unit_test(a_decimal_comma_changes_nothing),
        cmocka_unit_test(other_letters_change_nothing),
    };

    return cmocka_run_group_tests_name("hosted", tests, enter, leave);
}
