/* Job files: a flat YAML mapping read event by event into the option table. libyaml
 * alone, since a schema for a binding library would be a second table of options. */

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <yaml.h>

#include "options/job.h"

struct job_reader {
    yaml_parser_t parser;
    yaml_event_t event; /* the current one; owned */
    struct outlay_job *job;
    const char *path;
    const struct assignment *before; /* the job's last assignment before this file */
    struct outlay_error *err;
};

static unsigned event_line(const struct job_reader *reader)
{
    return (unsigned)reader->event.start_mark.line + 1;
}

/* Fails at the current event, in a key or "" outside of one. */
static enum outlay_status refuse(struct job_reader *reader, const char *key,
                                 const char *what, const char *todo)
{
    outlay_fail(reader->err, OUTLAY_E_USAGE, "%s", what);
    outlay_fail_where(reader->err, "%.120s:%u%s%.60s", reader->path, event_line(reader),
                      *key ? ": " : "", key);
    outlay_fail_todo(reader->err, "%s", todo);
    return OUTLAY_E_USAGE;
}

/* Moves to the next event. */
static enum outlay_status advance(struct job_reader *reader)
{
    yaml_event_delete(&reader->event);
    if (yaml_parser_parse(&reader->parser, &reader->event)) {
        if (reader->event.type == YAML_ALIAS_EVENT)
            return refuse(reader, "", "an alias stands here", "write the value itself");
        return OUTLAY_OK;
    }
    const yaml_parser_t *parser = &reader->parser;
    if (parser->error == YAML_MEMORY_ERROR)
        return outlay_fail(reader->err, OUTLAY_E_MEMORY, "out of memory");
    outlay_fail(reader->err, OUTLAY_E_USAGE, "not YAML: %.160s",
                parser->problem ? parser->problem : "unreadable");
    outlay_fail_where(reader->err, "%.150s:%u", reader->path,
                      (unsigned)parser->problem_mark.line + 1);
    outlay_fail_todo(reader->err,
                     "write one `key: value` a line; indent by blanks, never by tabs");
    return OUTLAY_E_USAGE;
}

static const char *scalar(const struct job_reader *reader)
{
    return (const char *)reader->event.data.scalar.value;
}

/* A scalar that C text can hold. */
static bool at_text(const struct job_reader *reader)
{
    return reader->event.type == YAML_SCALAR_EVENT &&
           strlen(scalar(reader)) == reader->event.data.scalar.length;
}

static enum outlay_status assign(struct job_reader *reader, const struct option *option,
                                 const char *key, unsigned line, const char *value)
{
    char where[200];
    snprintf(where, sizeof where, "%.120s:%u: %.60s", reader->path, line, key);
    return job_assign(reader->job, option, value, where, true, reader->err);
}

/* True when this file has set the option already; a field, the same role. */
static bool assigned(const struct job_reader *reader, const struct option *option,
                     const char *role)
{
    size_t length = strlen(role);
    const struct assignment *a =
        reader->before ? reader->before->next : reader->job->first;
    for (; a; a = a->next)
        if (a->option == option &&
            (length == 0 ||
             (strncmp(a->value, role, length) == 0 && a->value[length] == '=')))
            return true;
    return false;
}

/* Options that are a mapping of roles. */
static bool by_role(const struct option *option)
{
    return option->kind == OPTION_FIELD || option->kind == OPTION_SOURCE;
}

static const char *role_example(const struct option *option)
{
    return option->kind == OPTION_FIELD
               ? "write `height: COLUMN:ft`, indented, one role per line"
               : "write `height: SURFACE.tif:m`, indented, one role per line";
}

/* A mapping of role to column[:unit] or source. Stands at its start. */
static enum outlay_status read_fields(struct job_reader *reader,
                                      const struct option *option)
{
    enum outlay_status status;
    while ((status = advance(reader)) == OUTLAY_OK) {
        char value[400];
        char role[41];
        if (reader->event.type == YAML_MAPPING_END_EVENT)
            return OUTLAY_OK;
        if (!at_text(reader) || strlen(scalar(reader)) >= sizeof role)
            return refuse(reader, option->name, "a role is expected here",
                          role_example(option));
        snprintf(role, sizeof role, "%s", scalar(reader));
        if (assigned(reader, option, role))
            return refuse(reader, role, "this role was given before", "keep one of them");
        unsigned line = event_line(reader);
        if ((status = advance(reader)) != OUTLAY_OK)
            return status;
        if (!at_text(reader) || strlen(scalar(reader)) > 300)
            return refuse(reader, role,
                          option->kind == OPTION_FIELD ? "a column is expected here"
                                                       : "a source is expected here",
                          role_example(option));
        snprintf(value, sizeof value, "%s=%s", role, scalar(reader));
        if ((status = assign(reader, option, role, line, value)) != OUTLAY_OK)
            return status;
    }
    return status;
}

/* A list, joined by commas. Stands at its start. */
static enum outlay_status read_list(struct job_reader *reader,
                                    const struct option *option, const char *key,
                                    unsigned line)
{
    struct text joined = TEXT_INIT;
    enum outlay_status status;
    while ((status = advance(reader)) == OUTLAY_OK &&
           reader->event.type != YAML_SEQUENCE_END_EVENT) {
        if (!at_text(reader)) {
            status = refuse(reader, key, "a word is expected here", "write `- word`");
            goto done;
        }
        text_printf(&joined, "%s%s", joined.length ? "," : "", scalar(reader));
    }
    if (status != OUTLAY_OK)
        goto done;
    if (joined.failed)
        status = outlay_fail(reader->err, OUTLAY_E_MEMORY, "out of memory");
    else
        status = assign(reader, option, key, line, joined.data ? joined.data : "");
done:
    text_release(&joined);
    return status;
}

static enum outlay_status read_value(struct job_reader *reader,
                                     const struct option *option, const char *key,
                                     unsigned line)
{
    enum outlay_status status = advance(reader);
    if (status != OUTLAY_OK)
        return status;
    if (reader->event.type == YAML_MAPPING_START_EVENT && by_role(option))
        return read_fields(reader, option);
    if (by_role(option))
        return refuse(reader, key, "roles are expected below this key",
                      role_example(option));
    if (reader->event.type == YAML_SEQUENCE_START_EVENT &&
        (option->kind == OPTION_LIST || option->kind == OPTION_BOX))
        return read_list(reader, option, key, line);
    if (!at_text(reader))
        return refuse(reader, key, "a single value is expected here",
                      "write `key: value` on one line");
    if (reader->event.data.scalar.length == 0)
        return refuse(reader, key, "the key has no value",
                      "give it one, or put # in front of the line");
    return assign(reader, option, key, line, scalar(reader));
}

static enum outlay_status read_key(struct job_reader *reader)
{
    char key[61];
    if (!at_text(reader))
        return refuse(reader, "", "a key is expected here", "write `key: value`");
    unsigned line = event_line(reader);
    size_t length = strlen(scalar(reader));
    snprintf(key, sizeof key, "%.60s", scalar(reader));
    const struct option *option = option_find(scalar(reader), length);
    if (!option || !option->in_job) {
        char todo[100];
        const char *nearest = option_nearest(key, ~0u);
        snprintf(todo, sizeof todo, nearest ? "did you mean %s?" : "`%s` lists all keys",
                 nearest ? nearest : "outlay job -o -");
        return refuse(reader, key, "no setting has this name", todo);
    }
    if (!by_role(option) && assigned(reader, option, ""))
        return refuse(reader, key, "this key was given before", "keep one of them");
    return read_value(reader, option, key, line);
}

/* The document's mapping; stands at its start. */
static enum outlay_status read_keys(struct job_reader *reader)
{
    enum outlay_status status;
    while ((status = advance(reader)) == OUTLAY_OK &&
           reader->event.type != YAML_MAPPING_END_EVENT)
        if ((status = read_key(reader)) != OUTLAY_OK)
            return status;
    return status;
}

static enum outlay_status read_documents(struct job_reader *reader)
{
    enum outlay_status status;
    bool had_one = false;
    while ((status = advance(reader)) == OUTLAY_OK) {
        switch (reader->event.type) {
        case YAML_STREAM_END_EVENT:
            return OUTLAY_OK;
        case YAML_DOCUMENT_START_EVENT:
            if (had_one)
                return refuse(reader, "", "a second document begins here",
                              "keep one document; remove the line with ---");
            had_one = true;
            break;
        case YAML_MAPPING_START_EVENT:
            if ((status = read_keys(reader)) != OUTLAY_OK)
                return status;
            break;
        case YAML_SCALAR_EVENT:
            if (reader->event.data.scalar.length == 0)
                break;
            /* fall through */
        case YAML_SEQUENCE_START_EVENT:
            return refuse(reader, "", "keys with values are expected here",
                          "write one `key: value` a line");
        default:
            break;
        }
    }
    return status;
}

static const struct assignment *last_assignment(const struct outlay_job *job)
{
    const struct assignment *last = NULL;
    for (const struct assignment *a = job->first; a; a = a->next)
        last = a;
    return last;
}

enum outlay_status outlay_job_read_file(struct outlay_job *job, const char *path,
                                        struct outlay_error *err)
{
    struct job_reader reader = {
        .job = job, .path = path, .before = last_assignment(job), .err = err};
    enum outlay_status status;
    FILE *file = fopen(path, "rb");
    if (!file) {
        outlay_fail(err, OUTLAY_E_USAGE, "the job file can't be read: %s",
                    strerror(errno));
        outlay_fail_where(err, "%s", path);
        outlay_fail_todo(err, "check the path; `outlay job -o job.yaml` writes one");
        return OUTLAY_E_USAGE;
    }
    if (!yaml_parser_initialize(&reader.parser)) {
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        goto done;
    }
    yaml_parser_set_input_file(&reader.parser, file);
    status = read_documents(&reader);
    yaml_event_delete(&reader.event);
    yaml_parser_delete(&reader.parser);
done:
    fclose(file);
    return status;
}
