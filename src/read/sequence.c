#include "read/source.h"

#include <stdlib.h>
#include <string.h>

#include <json-c/json.h>

#include "read/lines.h"
#include "read/members.h"
#include "read/outline.h"
#include "read/value.h"

/* A named column that none of so many features has is taken for a mistake, so that a
 * long stream doesn't run for hours without its heights. */
static const size_t patience = 1000;

/* So many lines without a single feature are taken for another kind of input. */
static const size_t bad_lines_first = 100;

struct sequence {
    struct intake *intake; /* borrowed */
    struct lines lines;
    struct json_tokener *parser; /* owned */
    struct json_object **slots;  /* owned; a value per column of this feature, borrowed
                                    from its tree; NULL: absent or null */
    size_t slot_count;
    size_t features;
    size_t bad_lines;
    struct outlay_error first_bad; /* what the first of them is */
    bool settled;                  /* named columns were looked for the last time */
};

enum outlay_status sequence_open(const struct read_settings *settings, FILE *stream,
                                 struct intake *intake, struct sequence **out,
                                 struct outlay_error *err)
{
    struct sequence *sequence = NULL;
    enum outlay_status status;

    *out = NULL;
    if (settings->where || settings->layer) {
        outlay_fail(err, OUTLAY_E_USAGE, "%s doesn't work on a stream",
                    settings->where ? "--where" : "--layer");
        outlay_fail_todo(err, "filter before the pipe, or name a file");
        return OUTLAY_E_USAGE;
    }
    status = projection_init(&intake->projection, settings->crs, NULL, err);
    if (status != OUTLAY_OK)
        return status;
    if (!settings->crs)
        snprintf(intake->projection.name, sizeof intake->projection.name,
                 "WGS 84 longitude and latitude (RFC 7946)");
    intake->crs_stated = true;
    snprintf(intake->driver, sizeof intake->driver, "GeoJSON text sequence");
    sequence = calloc(1, sizeof *sequence);
    if (!sequence)
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening a stream");
    lines_init(&sequence->lines, stream);
    sequence->intake = intake;
    sequence->parser = json_tokener_new();
    if (!sequence->parser) {
        sequence_close(sequence);
        return outlay_fail(err, OUTLAY_E_MEMORY, "opening a stream");
    }
    json_tokener_set_flags(sequence->parser, JSON_TOKENER_STRICT);
    *out = sequence;
    return OUTLAY_OK;
}

void sequence_close(struct sequence *sequence)
{
    if (!sequence)
        return;
    if (sequence->parser)
        json_tokener_free(sequence->parser);
    lines_release(&sequence->lines);
    free(sequence->slots);
    free(sequence);
}

/* ---- One line ---------------------------------------------------- */

static void tell_line(const struct sequence *sequence, struct outlay_error *err)
{
    outlay_fail_where(err, "%s, %s %zu", sequence->intake->name,
                      sequence->lines.separated ? "record" : "line",
                      sequence->lines.number);
}

static enum outlay_status fail_collection(struct outlay_error *err)
{
    outlay_fail(err, OUTLAY_E_INPUT, "a FeatureCollection, not a sequence of features");
    outlay_fail_todo(err, "name the file instead of -, or pipe it through: ogr2ogr -f "
                          "GeoJSONSeq /vsistdout/ FILE");
    return OUTLAY_E_INPUT;
}

static bool is_first(const struct sequence *sequence)
{
    return sequence->features + sequence->bad_lines == 0;
}

/* fatal: what comes after isn't worth reading. */
static enum outlay_status fail_parse(const struct sequence *sequence, const char *text,
                                     bool whole, const char *why, bool *fatal,
                                     struct outlay_error *err)
{
    *fatal = true;
    if (is_first(sequence) && lines_mention(&sequence->lines, text, "FeatureCollection"))
        return fail_collection(err);
    if (!whole && !is_first(sequence)) {
        outlay_fail(err, OUTLAY_E_INPUT,
                    "the stream is cut off in the middle of a "
                    "feature");
        outlay_fail_todo(err, "the features before it were read; send the rest again");
        return OUTLAY_E_INPUT;
    }
    *fatal = false;
    outlay_fail(err, OUTLAY_E_INPUT, "not a GeoJSON feature: %s", why);
    outlay_fail_todo(err, "put one GeoJSON feature on each line (RFC 8142)");
    return OUTLAY_E_INPUT;
}

/* Strict: what GDAL would refuse in a file, like a comma too many, is refused here. */
static enum outlay_status parse(struct sequence *sequence, const char *text,
                                size_t length, bool whole, bool *fatal,
                                struct json_object **out, struct outlay_error *err)
{
    struct json_object *tree;
    enum json_tokener_error error;
    enum outlay_status status = OUTLAY_OK;

    json_tokener_reset(sequence->parser);
    tree = json_tokener_parse_ex(sequence->parser, text, (int)length);
    error = json_tokener_get_error(sequence->parser);
    if (error == json_tokener_continue)
        status = fail_parse(sequence, text, whole, "the line ends within it", fatal, err);
    else if (error != json_tokener_success)
        status =
            fail_parse(sequence, text, whole, json_tokener_error_desc(error), fatal, err);
    if (status != OUTLAY_OK) {
        json_object_put(tree);
        tree = NULL;
    }
    *out = tree;
    return status;
}

static struct json_object *member(struct json_object *object, const char *name)
{
    struct json_object *value = NULL;

    json_object_object_get_ex(object, name, &value);
    return value;
}

static enum outlay_status check_type(const struct sequence *sequence,
                                     struct json_object *tree, bool *fatal,
                                     struct outlay_error *err)
{
    struct json_object *type = NULL;
    const char *name = "";

    if (json_object_is_type(tree, json_type_object))
        type = member(tree, "type");
    if (json_object_is_type(type, json_type_string))
        name = json_object_get_string(type);
    if (strcmp(name, "Feature") == 0)
        return OUTLAY_OK;
    *fatal = is_first(sequence) && strcmp(name, "FeatureCollection") == 0;
    if (strcmp(name, "FeatureCollection") == 0)
        return fail_collection(err);
    if (member(tree, "coordinates") || member(tree, "geometries")) {
        outlay_fail(err, OUTLAY_E_INPUT, "a bare geometry (%.30s), not a feature", name);
        outlay_fail_todo(err, "wrap it: {\"type\":\"Feature\",\"properties\":{},"
                              "\"geometry\":...}");
        return OUTLAY_E_INPUT;
    }
    outlay_fail(err, OUTLAY_E_INPUT, "JSON, but not a GeoJSON feature");
    outlay_fail_todo(err, "put one GeoJSON feature on each line (RFC 8142)");
    return OUTLAY_E_INPUT;
}

/* ---- Properties ---------------------------------------------------- */

static enum outlay_status add_column(struct sequence *sequence, const char *name,
                                     struct outlay_error *err)
{
    struct fields *fields = &sequence->intake->fields;

    if (fields->column_count == sequence->slot_count) {
        size_t count = sequence->slot_count ? 2 * sequence->slot_count : 64;
        struct json_object **slots = realloc(sequence->slots, count * sizeof *slots);

        if (!slots)
            return outlay_fail(err, OUTLAY_E_MEMORY, "keeping the column names");
        memset(slots + sequence->slot_count, 0,
               (count - sequence->slot_count) * sizeof *slots);
        sequence->slots = slots;
        sequence->slot_count = count;
    }
    return fields_add(fields, name, err);
}

/* The column of that name; features mostly have them in the same order, so the one
 * behind the last found is tried first. -1: a new one. */
static int column_of(const struct fields *fields, const char *name, size_t expected)
{
    if (expected < fields->column_count && strcmp(fields->columns[expected], name) == 0)
        return (int)expected;
    for (size_t i = 0; i < fields->column_count; i++)
        if (strcmp(fields->columns[i], name) == 0)
            return (int)i;
    return -1;
}

/* Files a property under its column and appends it to the members. */
static enum outlay_status take_property(struct sequence *sequence, const char *name,
                                        struct json_object *value, size_t *expected,
                                        bool *grown, struct outlay_error *err)
{
    struct intake *intake = sequence->intake;
    int column = column_of(&intake->fields, name, *expected);

    if (column < 0 && intake->fields.column_count < FIELDS_COLUMNS_MAX) {
        enum outlay_status status = add_column(sequence, name, err);

        if (status != OUTLAY_OK)
            return status;
        column = (int)intake->fields.column_count - 1;
        *grown = true;
    }
    if (column >= 0 && sequence->slots) {
        sequence->slots[column] = value;
        *expected = (size_t)column + 1;
    }
    if (intake->members.length)
        text_putc(&intake->members, ',');
    text_json(&intake->members, name);
    text_putc(&intake->members, ':');
    members_json(&intake->members, value);
    return OUTLAY_OK;
}

/* A feature's own id serves as a column "id" when it is a text and no property has that
 * name, as it does where GDAL reads the same feature from a file. */
static enum outlay_status take_properties(struct sequence *sequence,
                                          struct json_object *feature,
                                          struct outlay_error *err)
{
    struct json_object *properties = member(feature, "properties");
    struct json_object *id = member(feature, "id");
    struct fields *fields = &sequence->intake->fields;
    enum outlay_status status = OUTLAY_OK;
    bool grown = false, own_id = false;
    size_t expected = 0;

    text_clear(&sequence->intake->members);
    if (sequence->slots)
        memset(sequence->slots, 0, sequence->slot_count * sizeof *sequence->slots);
    if (!json_object_is_type(properties, json_type_object))
        properties = NULL;
    own_id = properties && json_object_object_get_ex(properties, "id", NULL);
    if (json_object_is_type(id, json_type_string) && !own_id)
        status = take_property(sequence, "id", id, &expected, &grown, err);
    if (properties) {
        json_object_object_foreach(properties, name, value)
        {
            if (status == OUTLAY_OK)
                status = take_property(sequence, name, value, &expected, &grown, err);
        }
    }
    if (status == OUTLAY_OK && sequence->intake->members.failed)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "keeping a feature's fields");
    if (status == OUTLAY_OK && grown)
        status = fields_resolve(fields, false, err);
    return status;
}

static struct value value_of(struct json_object *json)
{
    switch (json_object_get_type(json)) {
    case json_type_null:
        break;
    case json_type_int:
        return (struct value){.kind = VALUE_WHOLE, .whole = json_object_get_int64(json)};
    case json_type_double:
        return (struct value){.kind = VALUE_REAL, .real = json_object_get_double(json)};
    case json_type_boolean:
    case json_type_string:
    case json_type_array:
    case json_type_object:
        return (struct value){.kind = VALUE_TEXT, .text = json_object_get_string(json)};
    }
    return (struct value){.kind = VALUE_NULL};
}

static void take_roles(struct sequence *sequence, struct arena *arena, struct roof *roof)
{
    struct fields *fields = &sequence->intake->fields;

    for (size_t i = 0; i < fields->use_count; i++) {
        const struct field_use *use = &fields->use[i];
        const struct field *field = &fields->roles[use->role];
        struct value value = value_of(sequence->slots[field->column]);

        if (value_store(arena, roof, use->role, field, use->column, &value))
            fields_filled(fields, use->role);
    }
}

static enum outlay_status take_feature(struct sequence *sequence, struct arena *arena,
                                       struct roof *roof, struct json_object *feature,
                                       struct outlay_error *err)
{
    struct intake *intake = sequence->intake;
    enum outlay_status status = take_properties(sequence, feature, err);

    if (status != OUTLAY_OK)
        return status;
    source_begin_roof(roof);
    take_roles(sequence, arena, roof);
    roof->properties = arena_text(arena, intake->members.data ? intake->members.data : "",
                                  intake->members.length);
    if (!roof->properties)
        return outlay_fail(err, OUTLAY_E_MEMORY, "keeping a feature's fields");
    return outline_from_json(arena, roof, member(feature, "geometry"), &intake->others,
                             err);
}

/* Named columns that never came up. Asked once. */
static enum outlay_status settle_fields(struct sequence *sequence,
                                        struct outlay_error *err)
{
    enum outlay_status status;

    sequence->settled = true;
    status = fields_resolve(&sequence->intake->fields, true, err);
    if (status != OUTLAY_OK)
        outlay_fail_where(err, "%s, features 1 to %zu", sequence->intake->name,
                          sequence->features);
    return status;
}

/* ---- Lines that aren't features ---------------------------------------------------- */

/* The one for which nothing is left of the stream but bad lines. */
static enum outlay_status fail_bad(const struct sequence *sequence,
                                   struct outlay_error *err)
{
    if (err)
        *err = sequence->first_bad;
    return OUTLAY_E_INPUT;
}

/* A line that isn't a feature stands for a roof that can't be read, so that it's counted
 * and reported as one, and the stream goes on. */
static enum outlay_status pass_over(struct sequence *sequence, struct arena *arena,
                                    struct roof *roof, const struct outlay_error *why,
                                    struct outlay_error *err)
{
    const char *kind = sequence->lines.separated ? "record" : "line";

    if (sequence->bad_lines++ == 0) {
        sequence->first_bad = *why;
        tell_line(sequence, &sequence->first_bad);
    }
    if (sequence->features == 0 && sequence->bad_lines == bad_lines_first)
        return fail_bad(sequence, err);
    source_begin_roof(roof);
    if (!roof_problem(arena, roof, PROBLEM_BAD_LINE,
                      "left out; each line has to be a GeoJSON feature (RFC 8142)",
                      "%s %zu: %s", kind, sequence->lines.number, why->what))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return OUTLAY_OK;
}

enum outlay_status sequence_next(struct sequence *sequence, struct arena *arena,
                                 struct roof *roof, bool *end, struct outlay_error *err)
{
    struct json_object *tree = NULL;
    struct outlay_error why = {0};
    enum outlay_status status;
    bool whole, fatal = false;
    size_t length;
    char *text;

    status = lines_next(&sequence->lines, &text, &length, &whole, err);
    if (status != OUTLAY_OK)
        goto done;
    *end = text == NULL;
    if (!sequence->settled && sequence->features > 0 &&
        (*end || sequence->features == patience)) {
        status = settle_fields(sequence, err);
        if (status != OUTLAY_OK)
            goto done;
    }
    if (*end) {
        if (sequence->features == 0 && sequence->bad_lines > 0)
            status = fail_bad(sequence, err);
        goto done;
    }
    status = parse(sequence, text, length, whole, &fatal, &tree, &why);
    if (status == OUTLAY_OK)
        status = check_type(sequence, tree, &fatal, &why);
    if (status != OUTLAY_OK) {
        if (!fatal)
            status = pass_over(sequence, arena, roof, &why, err);
        else if (err)
            *err = why;
        goto done;
    }
    status = take_feature(sequence, arena, roof, tree, err);
    if (status == OUTLAY_OK)
        sequence->features++;

done:
    if (status != OUTLAY_OK)
        tell_line(sequence, err);
    json_object_put(tree);
    return status;
}
