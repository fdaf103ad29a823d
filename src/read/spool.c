#include "read/spool.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/temporary.h"
#include "base/text.h"
#include "read/source.h"

/*
 * A record is: its length (8 bytes), then the points, each ring's count, each polygon's
 * ring count, the attributes that aren't missing, the texts, the problems. Everything is
 * in this machine's own form. Points come first, so that they are aligned and stay where
 * they were read.
 */

static const size_t buffer_size = 1 << 20;

/* Most records are shorter: one read brings them whole. */
enum { FIRST_READ = 4096 };

enum { ATTRIBUTE_WORDS = sizeof(struct attributes) / 8 };

_Static_assert(sizeof(struct attributes) % 8 == 0, "attributes are kept word by word");
_Static_assert(ATTRIBUTE_WORDS <= 64, "a bit a word");

struct header {
    uint64_t length; /* of the whole record */
    uint64_t position;
    uint64_t attributes; /* bit i: word i differs from a missing attribute's */
    uint32_t points, rings, polygons, problems, samples;
    uint64_t texts; /* bit 0: name, 1: building, 2: group aren't NULL */
};

struct spool {
    int file;
    struct text buffer; /* not written yet */
    uint64_t written;   /* bytes in the file */
};

/* ---- Opening ------------------------------------------------------------------- */

enum outlay_status spool_open(struct spool **out, struct outlay_error *err)
{
    struct spool *spool = calloc(1, sizeof *spool);

    *out = NULL;
    if (!spool)
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening a temporary file");
    spool->file = temporary_open(err);
    if (spool->file < 0) {
        free(spool);
        return OUTLAY_E_OUTPUT;
    }
    *out = spool;
    return OUTLAY_OK;
}

void spool_close(struct spool *spool)
{
    if (!spool)
        return;
    close(spool->file);
    text_release(&spool->buffer);
    free(spool);
}

uint64_t spool_size(const struct spool *spool)
{
    return spool->written + spool->buffer.length;
}

/* ---- Appending ----------------------------------------------------------------- */

enum outlay_status spool_flush(struct spool *spool, struct outlay_error *err)
{
    size_t done = 0;

    while (done < spool->buffer.length) {
        ssize_t count =
            write(spool->file, spool->buffer.data + done, spool->buffer.length - done);

        if (count < 0 && errno == EINTR)
            continue;
        if (count < 0)
            return temporary_fail("writing", err);
        done += (size_t)count;
        spool->written += (uint64_t)count;
    }
    text_clear(&spool->buffer);
    return OUTLAY_OK;
}

static void append_text(struct text *out, const char *text)
{
    text_append(out, text, strlen(text) + 1);
}

static void append_region(struct text *out, const struct region *region,
                          struct header *header)
{
    for (size_t i = 0; i < region->polygon_count; i++) {
        const struct polygon *polygon = &region->polygons[i];

        header->polygons++;
        for (size_t j = 0; j < polygon->ring_count; j++) {
            struct ring ring = polygon->rings[j];

            text_append(out, (const char *)ring.points, ring.count * sizeof *ring.points);
            header->points += (uint32_t)ring.count;
            header->rings++;
        }
    }
    for (size_t i = 0; i < region->polygon_count; i++) {
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            uint32_t count = (uint32_t)region->polygons[i].rings[j].count;

            text_append(out, (const char *)&count, sizeof count);
        }
    }
    for (size_t i = 0; i < region->polygon_count; i++) {
        uint32_t count = (uint32_t)region->polygons[i].ring_count;

        text_append(out, (const char *)&count, sizeof count);
    }
}

static void append_attributes(struct text *out, const struct attributes *given,
                              struct header *header)
{
    const struct attributes missing = attributes_missing();

    for (size_t i = 0; i < ATTRIBUTE_WORDS; i++) {
        const char *word = (const char *)given + 8 * i;

        if (memcmp(word, (const char *)&missing + 8 * i, 8) != 0) {
            text_append(out, word, 8);
            header->attributes |= (uint64_t)1 << i;
        }
    }
}

static void append_problems(struct text *out, const struct problem *problem,
                            struct header *header)
{
    for (; problem; problem = problem->next) {
        uint32_t code = problem->code;

        text_append(out, (const char *)&code, sizeof code);
        /* static storage, and the reader is this process */
        text_append(out, (const char *)&problem->done, sizeof problem->done);
        text_append(out, (const char *)&problem->field, sizeof problem->field);
        append_text(out, problem->what);
        header->problems++;
    }
}

/* Their texts are static or the run's, and the reader is this process; findings are the
 * roof's. */
static void append_samples(struct text *out, const struct roof *roof,
                           struct header *header)
{
    header->samples = (uint32_t)roof->sample_count;
    text_append(out, (const char *)roof->samples,
                roof->sample_count * sizeof *roof->samples);
    for (size_t i = 0; i < roof->sample_count; i++)
        if (roof->samples[i].finding)
            append_text(out, roof->samples[i].finding);
}

enum outlay_status spool_append(struct spool *spool, const struct roof *roof,
                                uint64_t *offset, struct outlay_error *err)
{
    struct text *out = &spool->buffer;
    struct header header = {.position = roof->position,
                            .texts = (roof->name != NULL) |
                                     (roof->building != NULL) << 1 |
                                     (roof->group != NULL) << 2};
    size_t start = out->length;

    *offset = spool->written + start;
    text_append(out, (const char *)&header, sizeof header);
    append_region(out, &roof->lonlat, &header);
    append_attributes(out, &roof->given, &header);
    append_text(out, roof->id);
    append_text(out, roof->properties);
    if (roof->name)
        append_text(out, roof->name);
    if (roof->building)
        append_text(out, roof->building);
    if (roof->group)
        append_text(out, roof->group);
    append_problems(out, roof->problems, &header);
    append_samples(out, roof, &header);
    if (out->failed)
        return outlay_fail(err, OUTLAY_E_MEMORY, "putting a roof aside");
    header.length = out->length - start;
    memcpy(out->data + start, &header, sizeof header);
    return out->length < buffer_size ? OUTLAY_OK : spool_flush(spool, err);
}

/* ---- Reading ------------------------------------------------------------------- */

static enum outlay_status read_bytes(const struct spool *spool, uint64_t offset,
                                     char *bytes, size_t length, size_t *got,
                                     struct outlay_error *err)
{
    *got = 0;
    while (*got < length) {
        ssize_t count =
            pread(spool->file, bytes + *got, length - *got, (off_t)(offset + *got));

        if (count < 0 && errno == EINTR)
            continue;
        if (count < 0)
            return outlay_fail(err, OUTLAY_E_INPUT, "reading a temporary file: %s",
                               strerror(errno));
        if (count == 0)
            break;
        *got += (size_t)count;
    }
    return OUTLAY_OK;
}

/* The record's bytes in arena. */
static enum outlay_status read_record(const struct spool *spool, uint64_t offset,
                                      struct arena *arena, struct header *header,
                                      char **out, struct outlay_error *err)
{
    char first[FIRST_READ];
    size_t got, more, length;
    enum outlay_status status;

    status = read_bytes(spool, offset, first, sizeof first, &got, err);
    if (status != OUTLAY_OK)
        return status;
    if (got < sizeof *header)
        return outlay_fail(err, OUTLAY_E_INPUT, "a temporary file ends too early");
    memcpy(header, first, sizeof *header);
    length = (size_t)header->length;
    *out = arena_alloc(arena, length);
    if (!*out)
        return outlay_fail(err, OUTLAY_E_MEMORY, "bringing a roof back");
    if (got > length)
        got = length;
    memcpy(*out, first, got);
    status = read_bytes(spool, offset + got, *out + got, length - got, &more, err);
    if (status == OUTLAY_OK && got + more < length)
        return outlay_fail(err, OUTLAY_E_INPUT, "a temporary file ends too early");
    return status;
}

/* Takes bytes off the front of what is left. */
static void take(char **at, void *out, size_t length)
{
    memcpy(out, *at, length);
    *at += length;
}

static const char *take_text(char **at)
{
    const char *text = *at;

    *at += strlen(text) + 1;
    return text;
}

static bool take_region(char **at, struct arena *arena, struct header header,
                        struct region *region)
{
    struct point *points = (struct point *)(void *)*at;
    struct ring *rings = arena_array(arena, header.rings, sizeof *rings);

    region->polygons = arena_array(arena, header.polygons, sizeof *region->polygons);
    if (!rings || !region->polygons)
        return false;
    region->polygon_count = header.polygons;
    *at += header.points * sizeof *points;
    for (uint32_t i = 0; i < header.rings; i++) {
        uint32_t count;

        take(at, &count, sizeof count);
        rings[i] = (struct ring){points, count};
        points += count;
    }
    for (uint32_t i = 0; i < header.polygons; i++) {
        uint32_t count;

        take(at, &count, sizeof count);
        region->polygons[i] = (struct polygon){rings, count};
        rings += count;
    }
    return true;
}

static bool take_problems(char **at, struct arena *arena, uint32_t count,
                          struct roof *roof)
{
    struct problem *problems = arena_array(arena, count, sizeof *problems);

    if (!problems)
        return false;
    for (uint32_t i = 0; i < count; i++) {
        uint32_t code;

        take(at, &code, sizeof code);
        problems[i].code = (enum problem_code)code;
        take(at, &problems[i].done, sizeof problems[i].done);
        take(at, &problems[i].field, sizeof problems[i].field);
        problems[i].what = take_text(at);
        problems[i].next = i + 1 < count ? &problems[i + 1] : NULL;
    }
    if (count > 0) {
        roof->problems = problems;
        roof->problems_end = &problems[count - 1].next;
    }
    return true;
}

static bool take_samples(char **at, struct arena *arena, uint32_t count,
                         struct roof *roof)
{
    roof->samples = arena_array(arena, count, sizeof *roof->samples);
    roof->sample_count = count;
    if (roof->samples && count > 0)
        take(at, roof->samples, count * sizeof *roof->samples);
    for (uint32_t i = 0; roof->samples && i < count; i++)
        if (roof->samples[i].finding)
            roof->samples[i].finding = take_text(at);
    return roof->samples != NULL;
}

enum outlay_status spool_read(const struct spool *spool, uint64_t offset,
                              struct arena *arena, struct roof *roof,
                              struct outlay_error *err)
{
    struct header header = {0};
    char *record = NULL;
    char *at;
    enum outlay_status status = read_record(spool, offset, arena, &header, &record, err);

    if (status != OUTLAY_OK || !record)
        return status;
    at = record + sizeof header;
    source_begin_roof(roof);
    roof->position = (size_t)header.position;
    if (!take_region(&at, arena, header, &roof->lonlat))
        return outlay_fail(err, OUTLAY_E_MEMORY, "bringing a roof back");
    for (size_t i = 0; i < ATTRIBUTE_WORDS; i++)
        if (header.attributes >> i & 1)
            take(&at, (char *)&roof->given + 8 * i, 8);
    roof->id = take_text(&at);
    roof->properties = take_text(&at);
    if (header.texts & 1)
        roof->name = take_text(&at);
    if (header.texts & 2)
        roof->building = take_text(&at);
    if (header.texts & 4)
        roof->group = take_text(&at);
    if (!take_problems(&at, arena, header.problems, roof) ||
        !take_samples(&at, arena, header.samples, roof))
        return outlay_fail(err, OUTLAY_E_MEMORY, "bringing a roof back");
    return OUTLAY_OK;
}
