#ifndef OUTLAY_TESTS_READ_HELP_H
#define OUTLAY_TESTS_READ_HELP_H

/* A folder of a test's own, files in it, and reading all of an input at once. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cpl_string.h>
#include <cpl_vsi.h>
#include <gdal.h>
#include <gdal_utils.h>

#include "../roof/attributes.h"
#include "../temporary.h"
#include "read/read.h"

static inline int folder_enter(void **state)
{
    char *name = malloc(TEMPORARY_MOST);

    *state = name;
    return name && mkdtemp(temporary_name(name, "outlay-test-XXXXXX")) && chdir(name) == 0
               ? 0
               : -1;
}

static inline int folder_leave(void **state)
{
    int failed = chdir("/") != 0 || VSIRmdirRecursive(*state) != 0;

    free(*state);
    return failed ? -1 : 0;
}

static inline void file_write(const char *path, const char *content)
{
    FILE *file = fopen(path, "wb");

    assert_non_null(file);
    assert_true(fputs(content, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static inline void file_copy(const char *from, const char *to)
{
    FILE *in = fopen(from, "rb");
    FILE *out = fopen(to, "wb");
    char buffer[8192];
    size_t count;

    assert_non_null(in);
    assert_non_null(out);
    while ((count = fread(buffer, 1, sizeof buffer, in)) > 0)
        assert_int_equal(fwrite(buffer, 1, count, out), count);
    fclose(in);
    assert_int_equal(fclose(out), 0);
}

/* Copies a file by GDAL's names: into archives. */
static inline void file_pack(const char *from, const char *to)
{
    VSILFILE *in = VSIFOpenL(from, "rb");
    VSILFILE *out = VSIFOpenL(to, "wb");
    char buffer[8192];
    size_t count;

    assert_non_null(in);
    assert_non_null(out);
    while ((count = VSIFReadL(buffer, 1, sizeof buffer, in)) > 0)
        assert_int_equal(VSIFWriteL(buffer, 1, count, out), count);
    VSIFCloseL(in);
    assert_int_equal(VSIFCloseL(out), 0);
}

/* Cuts a file off after this share of its bytes. */
static inline void file_cut(const char *path, double share)
{
    struct stat about;

    assert_int_equal(stat(path, &about), 0);
    assert_int_equal(truncate(path, (off_t)((double)about.st_size * share)), 0);
}

/* A feature with one rectangle of a hundredth of a degree; properties without braces. */
static inline void feature_write(FILE *out, double x, double y, const char *properties)
{
    fprintf(
        out,
        "{\"type\":\"Feature\",\"properties\":{%s},\"geometry\":{\"type\":\"Polygon\","
        "\"coordinates\":[[[%.8f,%.8f],[%.8f,%.8f],[%.8f,%.8f],[%.8f,%.8f],"
        "[%.8f,%.8f]]]}}",
        properties, x, y, x + 0.01, y, x + 0.01, y + 0.01, x, y + 0.01, x, y);
}

/* count rectangles with an id, a height in metres and a note, as a FeatureCollection. */
static inline void collection_write(const char *path, int count)
{
    FILE *out = fopen(path, "wb");

    assert_non_null(out);
    fputs("{\"type\":\"FeatureCollection\",\"features\":[\n", out);
    for (int i = 0; i < count; i++) {
        char properties[120];

        snprintf(properties, sizeof properties,
                 "\"roof_id\":\"R%d\",\"height_m\":%d.5,\"note\":\"a \\\"b\\\" %d\"", i,
                 3 + i % 20, i);
        feature_write(out, -80 + 0.02 * (i % 100), 40 + 0.02 * (i / 100), properties);
        fputs(i + 1 < count ? ",\n" : "\n", out);
    }
    fputs("]}\n", out);
    assert_int_equal(fclose(out), 0);
}

/* One feature in a FeatureCollection. */
static inline void feature_file(const char *path, const char *properties,
                                const char *geometry)
{
    FILE *out = fopen(path, "wb");

    assert_non_null(out);
    fprintf(out,
            "{\"type\":\"FeatureCollection\",\"features\":[{\"type\":\"Feature\","
            "\"properties\":{%s},\"geometry\":%s}]}\n",
            properties, geometry);
    assert_int_equal(fclose(out), 0);
}

/* Converts by ogr2ogr's own code. options: blank-separated, e.g. "-f GPKG". */
static inline void convert(const char *from, const char *to, const char *options)
{
    char **words = CSLTokenizeString2(options, " ", CSLT_HONOURSTRINGS);
    GDALVectorTranslateOptions *how = GDALVectorTranslateOptionsNew(words, NULL);
    GDALDatasetH in, out;
    int usage_error = 0;

    GDALAllRegister();
    CPLPushErrorHandler(CPLQuietErrorHandler);
    in = GDALOpenEx(from, GDAL_OF_VECTOR, NULL, NULL, NULL);
    assert_non_null(in);
    out = GDALVectorTranslate(to, NULL, 1, &in, how, &usage_error);
    CPLPopErrorHandler();
    assert_non_null(out);
    GDALClose(out);
    GDALClose(in);
    GDALVectorTranslateOptionsFree(how);
    CSLDestroy(words);
}

#define READ_KEPT 64

/* What came out of an input. */
struct reading {
    enum outlay_status status; /* of opening, or of the last read */
    struct outlay_error err;
    bool opened;
    bool streams;
    long long count;
    size_t roofs;                   /* that came out */
    struct roof kept[READ_KEPT];    /* the first of them */
    size_t problems[PROBLEM_CODES]; /* by code */
    struct field_use fields[FIELD_ROLES];
    char columns[FIELD_ROLES][40];
    size_t field_count;
    struct text about;
    struct arena *arena;
};

static inline void reading_release(struct reading *reading)
{
    text_release(&reading->about);
    arena_free(reading->arena);
}

static inline void reading_keep_fields(struct reading *reading,
                                       const struct reader *reader)
{
    const struct field_use *fields;

    reading->field_count = reader_fields(reader, &fields);
    for (size_t i = 0; i < reading->field_count; i++) {
        reading->fields[i] = fields[i];
        snprintf(reading->columns[i], sizeof reading->columns[i], "%s", fields[i].column);
        reading->fields[i].column = reading->columns[i];
    }
}

/* Reads all; whatever comes out stands in *reading, which reading_release() ends. */
static inline void read_all(const struct read_settings *settings, struct reading *reading)
{
    struct arena *scratch = arena_new();
    struct reader *reader = NULL;
    struct roof roof;
    bool end = false;

    *reading = (struct reading){.arena = arena_new(), .count = -2};
    assert_non_null(scratch);
    assert_non_null(reading->arena);
    reading->status = reader_open(settings, &reader, &reading->err);
    reading->opened = reading->status == OUTLAY_OK;
    assert_int_equal(reader != NULL, reading->opened);
    while (reading->status == OUTLAY_OK) {
        bool kept = reading->roofs < READ_KEPT;

        arena_reset(scratch);
        reading->status = reader_next(reader, kept ? reading->arena : scratch, &roof,
                                      &end, &reading->err);
        if (reading->status != OUTLAY_OK || end)
            break;
        assert_int_equal(roof.position, reading->roofs);
        assert_non_null(roof.id);
        assert_non_null(roof.properties);
        for (const struct problem *p = roof.problems; p; p = p->next)
            reading->problems[p->code]++;
        if (kept)
            reading->kept[reading->roofs] = roof;
        reading->roofs++;
    }
    if (reader) {
        reading->count = reader_count(reader);
        reading->streams = reader_streams(reader);
        reading_keep_fields(reading, reader);
        reader_describe(reader, &reading->about);
    }
    reader_close(reader);
    arena_free(scratch);
}

static inline void read_path(const char *path, struct reading *reading)
{
    const struct read_settings settings = {.input = path};

    read_all(&settings, reading);
}

/* Reads text as standard input. */
static inline void read_text(const char *text, size_t length, struct reading *reading)
{
    FILE *stream = fmemopen((void *)(uintptr_t)text, length ? length : 1, "r");
    struct read_settings settings = {.input = "-", .stream = stream};

    assert_non_null(stream);
    if (length == 0)
        assert_int_equal(fgetc(stream), text[0]);
    read_all(&settings, reading);
    fclose(stream);
}

static inline bool reading_has(const struct reading *reading, enum problem_code code,
                               const char *word)
{
    for (size_t i = 0; i < reading->roofs && i < READ_KEPT; i++)
        for (const struct problem *p = reading->kept[i].problems; p; p = p->next)
            if (p->code == code && strstr(p->what, word))
                return true;
    return false;
}

static inline size_t reading_problems(const struct reading *reading)
{
    size_t sum = 0;

    for (size_t i = 0; i < PROBLEM_CODES; i++)
        sum += reading->problems[i];
    return sum;
}

#define assert_contains(text, word)                             \
    do {                                                        \
        if (!strstr((text), (word)))                            \
            fail_msg("\"%s\" isn't in \"%s\"", (word), (text)); \
    } while (0)

#endif
