#include "base/plural.h"
#include "read/read.h"

#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "read/outline.h"
#include "read/source.h"

/* When so many outlines in a row from the first on can't be lon/lat, the CRS is wrong
 * and not the outlines. */
static const size_t range_trial = 100;

struct reader {
    struct intake intake;
    struct vector *vector;     /* owned; one of these two */
    struct sequence *sequence; /* owned */
    FILE *opened;              /* owned: a named pipe; NULL */
    char *input;               /* owned, for messages */
    const char *id_prefix;     /* of ids that are given here; "" */
    bool filtered;             /* by --where or --bbox */
    bool has_bbox;             /* to be applied here: streams only */
    struct box bbox;
    size_t position;     /* of the next roof */
    size_t polygons;     /* features with an outline so far */
    size_t out_of_range; /* of those */
    size_t numbered;     /* roofs that had no id */
    size_t unread;       /* lines that are no feature */
    bool finished;
};

/* ---- Opening ---------------------------------------------------- */

static enum outlay_status check_settings(const struct read_settings *settings,
                                         struct outlay_error *err)
{
    const struct box *box = &settings->bbox;

    if (!settings->input || !settings->input[0])
        return outlay_fail(err, OUTLAY_E_USAGE, "no input is named");
    if (settings->has_bbox &&
        !(box->min_x < box->max_x && box->min_y < box->max_y && box->min_x >= -360 &&
          box->max_x <= 360 && box->min_y >= -90 && box->max_y <= 90)) {
        outlay_fail(err, OUTLAY_E_USAGE, "--bbox isn't a box in degrees");
        outlay_fail_todo(err, "give it as west,south,east,north, e.g. "
                              "-75.2,39.9,-75.1,40.0");
        return OUTLAY_E_USAGE;
    }
    return OUTLAY_OK;
}

/* A pipe by name (or by a shell's <(...)) can't seek: GDAL would lose features. */
static bool is_pipe(const char *input)
{
    struct stat about;

    return stat(input, &about) == 0 && S_ISFIFO(about.st_mode);
}

static enum outlay_status open_stream(struct reader *reader,
                                      const struct read_settings *settings,
                                      struct outlay_error *err)
{
    FILE *stream = settings->stream ? settings->stream : stdin;

    if (strcmp(settings->input, "-") != 0) {
        reader->opened = fopen(settings->input, "rb");
        if (!reader->opened)
            return outlay_fail(err, OUTLAY_E_INPUT, "the pipe can't be opened: %s",
                               strerror(errno));
        stream = reader->opened;
    }
    reader->has_bbox = settings->has_bbox;
    reader->bbox = settings->bbox;
    return sequence_open(settings, stream, &reader->intake, &reader->sequence, err);
}

enum outlay_status reader_open(const struct read_settings *settings, struct reader **out,
                               struct outlay_error *err)
{
    struct reader *reader = NULL;
    enum outlay_status status = check_settings(settings, err);

    *out = NULL;
    if (status != OUTLAY_OK)
        return status;
    reader = calloc(1, sizeof *reader);
    if (reader)
        reader->input = strdup(settings->input);
    if (!reader || !reader->input) {
        status = outlay_fail(err, OUTLAY_E_MEMORY, "opening the input");
        goto done;
    }
    reader->intake.name = reader_name(reader);
    reader->filtered = settings->where || settings->has_bbox;
    reader->id_prefix = settings->id_prefix ? settings->id_prefix : "";
    status = fields_init(&reader->intake.fields, settings->fields, err);
    if (status != OUTLAY_OK)
        goto done;
    if (strcmp(settings->input, "-") == 0 || is_pipe(settings->input))
        status = open_stream(reader, settings, err);
    else
        status = vector_open(settings, &reader->intake, &reader->vector, err);
    if (status != OUTLAY_OK) {
        outlay_fail_where(err, "%s", reader_name(reader));
        goto done;
    }
    *out = reader;
    reader = NULL; /* moved */

done:
    reader_close(reader);
    return status;
}

void reader_close(struct reader *reader)
{
    if (!reader)
        return;
    vector_close(reader->vector);
    sequence_close(reader->sequence);
    if (reader->opened)
        fclose(reader->opened);
    fields_release(&reader->intake.fields);
    projection_release(&reader->intake.projection);
    text_release(&reader->intake.members);
    text_release(&reader->intake.notes);
    free(reader->input);
    free(reader);
}

/* ---- Reading ---------------------------------------------------- */

void source_begin_roof(struct roof *roof)
{
    *roof = (struct roof){0};
    roof->properties = "";
    roof->given = attributes_missing();
    roof->height = (double)NAN;
    roof->storeys = (double)NAN;
    roof->half_sheets = MISSING;
}

static enum outlay_status fail_range(const struct reader *reader,
                                     struct outlay_error *err)
{
    if (reader->intake.crs_stated)
        outlay_fail(err, OUTLAY_E_INPUT,
                    "the coordinates aren't what the input's CRS says (%.100s)",
                    reader->intake.projection.name);
    else
        outlay_fail(err, OUTLAY_E_INPUT,
                    "no CRS is stated, and the coordinates can't be longitude and "
                    "latitude");
    outlay_fail_todo(err, "name the CRS of the coordinates, e.g. --crs EPSG:2272; or "
                          "perhaps x and y are swapped");
    return OUTLAY_E_INPUT;
}

/* Nothing more comes: was there anything to work on? */
static enum outlay_status finish(struct reader *reader, struct outlay_error *err)
{
    reader->finished = true;
    if (reader->position == 0 && reader->sequence)
        return OUTLAY_OK; /* one of many shards may hold nothing */
    if (reader->position == 0) {
        outlay_fail(err, OUTLAY_E_INPUT, "there is no feature %s",
                    reader->filtered ? "that --where and --bbox let through" : "in it");
        outlay_fail_todo(err, "check the layer and the filters");
        return OUTLAY_E_INPUT;
    }
    if (reader->intake.others.count == reader->position)
        return outline_fail_type(reader->intake.others.first, err);
    if (reader->polygons == 0) {
        outlay_fail(err, OUTLAY_E_INPUT, "no usable polygon in its %zu feature%s",
                    reader->position, PLURAL(reader->position));
        outlay_fail_todo(err, "give a layer of roof outlines");
        return OUTLAY_E_INPUT;
    }
    if (reader->out_of_range == reader->polygons)
        return fail_range(reader, err);
    return OUTLAY_OK;
}

/* A line of a stream that is no feature has no roof and no place. */
static bool is_unread(const struct roof *roof)
{
    return roof->problems && roof->problems->code == PROBLEM_BAD_LINE;
}

static enum outlay_status number_roof(struct reader *reader, struct arena *arena,
                                      struct roof *roof, struct outlay_error *err)
{
    struct text id = TEXT_INIT;

    roof->position = reader->position++;
    reader->unread += is_unread(roof);
    if (roof->id)
        return OUTLAY_OK;
    reader->numbered += !is_unread(roof);
    text_printf(&id, "%s%zu", reader->id_prefix, reader->position);
    if (!id.failed)
        roof->id = arena_text(arena, id.data, id.length);
    text_release(&id);
    if (!roof->id)
        return outlay_fail(err, OUTLAY_E_MEMORY, "numbering a roof");
    return OUTLAY_OK;
}

static bool outside_bbox(const struct reader *reader, const struct roof *roof)
{
    struct box box = region_box(&roof->lonlat);

    return reader->has_bbox && !is_unread(roof) &&
           !(box.min_x <= reader->bbox.max_x && box.max_x >= reader->bbox.min_x &&
             box.min_y <= reader->bbox.max_y && box.max_y >= reader->bbox.min_y);
}

static enum outlay_status take_next(struct reader *reader, struct arena *arena,
                                    struct roof *roof, bool *end, bool *wanted,
                                    struct outlay_error *err)
{
    enum outline_state state;
    enum outlay_status status;

    if (reader->vector)
        status = vector_next(reader->vector, arena, roof, end, err);
    else
        status = sequence_next(reader->sequence, arena, roof, end, err);
    if (status != OUTLAY_OK)
        return status;
    if (*end)
        return finish(reader, err);
    status = outline_settle(arena, roof, &reader->intake.projection, &state, err);
    if (status != OUTLAY_OK)
        return status;
    *wanted = !outside_bbox(reader, roof);
    if (!*wanted)
        return OUTLAY_OK;
    reader->polygons += state != OUTLINE_NONE;
    reader->out_of_range += state == OUTLINE_OUT_OF_RANGE;
    if (reader->out_of_range == range_trial && reader->polygons == range_trial)
        return fail_range(reader, err);
    return number_roof(reader, arena, roof, err);
}

enum outlay_status reader_next(struct reader *reader, struct arena *arena,
                               struct roof *roof, bool *end, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    bool wanted = false;

    *end = reader->finished;
    while (status == OUTLAY_OK && !*end && !wanted)
        status = take_next(reader, arena, roof, end, &wanted, err);
    if (status == OUTLAY_OK && arena_failed(arena))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "reading a roof");
    if (status != OUTLAY_OK)
        outlay_fail_where(err, "%s", reader_name(reader));
    return status;
}

/* ---- About the input ---------------------------------------------------- */

const char *reader_name(const struct reader *reader)
{
    return strcmp(reader->input, "-") == 0 ? "standard input" : reader->input;
}

long long reader_count(const struct reader *reader)
{
    return reader->vector ? vector_count(reader->vector) : -1;
}

enum outlay_status reader_extent(struct reader *reader, long long most,
                                 struct extent *out, struct outlay_error *err)
{
    *out = (struct extent){-1, box_empty()};
    return reader->vector ? vector_extent(reader->vector, most, out, err) : OUTLAY_OK;
}

bool reader_streams(const struct reader *reader)
{
    return reader->sequence != NULL;
}

const char *reader_layer(const struct reader *reader)
{
    return reader->intake.layer;
}

const char *reader_crs(const struct reader *reader)
{
    return reader->intake.crs_stated ? reader->intake.projection.name : NULL;
}

size_t reader_fields(const struct reader *reader, const struct field_use **out)
{
    *out = reader->intake.fields.use;
    return reader->intake.fields.use_count;
}

void reader_describe(const struct reader *reader, struct text *out)
{
    const struct intake *intake = &reader->intake;

    text_printf(out, "driver: %s\n", intake->driver);
    if (intake->layer[0])
        text_printf(out, "layer: %s\n", intake->layer);
    text_printf(out, "CRS: %s\n", intake->projection.name);
    if (!intake->crs_stated)
        text_puts(out, "note: no CRS is stated; the coordinates are taken as longitude "
                       "and latitude; --crs names another\n");
    if (reader->sequence)
        text_puts(out, "note: a stream: duplicate ids, overlaps and roofs of a building "
                       "that don't follow each other aren't found\n");
    fields_describe(&intake->fields, out);
    if (intake->notes.data)
        text_puts(out, intake->notes.data);
    if (reader->sequence && reader->finished && reader->position == 0)
        text_printf(out, "note: the stream is empty%s: no roof was read\n",
                    reader->has_bbox ? " within --bbox" : "");
    if (reader->sequence && reader->finished && reader->numbered && !*reader->id_prefix)
        text_printf(
            out,
            "note: roofs without an id were numbered (%zu of %zu): other parts of "
            "the same layer repeat these numbers unless each gets an --id-prefix "
            "of its own\n",
            reader->numbered, reader->position - reader->unread);
}
