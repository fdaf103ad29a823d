#include <stdlib.h>

#include "results/parts.h"
#include "results/sinks.h"
#include "write/folder.h"
#include "write/output.h"

/* A file being written. */
struct slot {
    struct output *output; /* owned; NULL for an object, and for a file not wanted */
    void *object;          /* owned; NULL likewise */
    bool begun;            /* a chunk was written */
};

struct folder_sink {
    const struct settings *settings;
    unsigned parts;
    struct folder *folder; /* owned */
    struct slot slots[PARTS];
    struct outcome outcome;
};

static bool wanted(const struct folder_sink *sink, int part)
{
    return (sink->parts & 1u << part) != 0;
}

/* The path of a file in the folder. Owned; NULL with the status set. */
static char *path_of(const struct folder_sink *sink, int part, enum outlay_status *status,
                     struct outlay_error *err)
{
    char *path = folder_file(sink->folder, part_file(part));
    *status = path ? OUTLAY_OK : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    return path;
}

static enum outlay_status open_part(struct folder_sink *sink, int part,
                                    struct outlay_error *err)
{
    const struct part_maker *maker = &part_makers[part];
    struct slot *slot = &sink->slots[part];
    struct text head = TEXT_INIT;
    enum outlay_status status;
    char *path = path_of(sink, part, &status, err);
    if (status == OUTLAY_OK && !maker->object)
        status = output_open(path, &slot->output, err);
    else if (status == OUTLAY_OK && maker->object->open)
        status = maker->object->open(&sink->outcome, path, &slot->object, err);
    if (status == OUTLAY_OK && maker->head) {
        maker->head(&head, &sink->settings->write);
        status = output_text(slot->output, &head, err);
    }
    text_release(&head);
    free(path);
    return status;
}

enum outlay_status folder_sink_open(const struct settings *settings,
                                    struct folder_sink **out, struct outlay_error *err)
{
    *out = NULL;
    struct folder_sink *sink = calloc(1, sizeof *sink);
    if (!sink)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    sink->settings = settings;
    enum outlay_status status =
        folder_open(settings->output, settings->overwrite, &sink->folder, err);
    if (status == OUTLAY_OK)
        *out = sink;
    else
        folder_sink_abort(sink);
    return status;
}

enum outlay_status folder_sink_start(struct folder_sink *sink,
                                     const struct extent *extent,
                                     struct outlay_error *err)
{
    /* The mark of a folder that a run wrote, without which none is replaced. */
    sink->parts = sink->settings->parts | 1u << PART_RUN;
    enum outlay_status status =
        outcome_init(&sink->outcome, sink->settings, extent, sink->parts, err);
    for (int part = 0; status == OUTLAY_OK && part < PARTS; part++)
        if (wanted(sink, part))
            status = open_part(sink, part, err);
    return status;
}

size_t folder_sink_files(const struct folder_sink *sink, const char *out[FOLDER_FILES])
{
    size_t count = 0;
    for (int part = 0; part < PARTS; part++)
        if (wanted(sink, part) &&
            !(part_makers[part].object && part_makers[part].object->file))
            out[count++] = part_file(part);
    for (int part = 0; part < PARTS; part++) {
        const struct part_object *object = part_makers[part].object;
        const char *name = NULL;
        for (size_t i = 0; wanted(sink, part) && object && object->file &&
                           (name = object->file(sink->slots[part].object, i)) != NULL;
             i++)
            out[count++] = name;
    }
    return count;
}

static enum outlay_status put_building(struct folder_sink *sink,
                                       const struct building *building,
                                       struct outlay_error *err)
{
    enum outlay_status status = outcome_add(&sink->outcome, building, err);
    for (int part = 0; status == OUTLAY_OK && part < PARTS; part++) {
        const struct part_object *object = part_makers[part].object;
        if (wanted(sink, part) && object && object->add)
            status = object->add(sink->slots[part].object, &sink->outcome, building, err);
    }
    return status;
}

static enum outlay_status put_batch(void *self, const struct batch *batch,
                                    struct outlay_error *err)
{
    struct folder_sink *sink = self;
    enum outlay_status status = OUTLAY_OK;
    for (int part = 0; status == OUTLAY_OK && part < PARTS; part++) {
        const struct text *text = &batch->texts[part];
        struct slot *slot = &sink->slots[part];
        if (text->length == 0)
            continue;
        size_t skipped = slot->begun ? 0 : part_makers[part].joint;
        slot->begun = true;
        status =
            output_write(slot->output, text->data + skipped, text->length - skipped, err);
    }
    for (size_t i = 0; status == OUTLAY_OK && i < batch->building_count; i++)
        status = put_building(sink, &batch->buildings[i], err);
    outcome_add_draws(&sink->outcome, batch->sums);
    return status;
}

static enum outlay_status put_problems(void *self, const struct grid *rows,
                                       struct outlay_error *err)
{
    struct folder_sink *sink = self;
    struct text packed = TEXT_INIT;
    (void)err; /* running out of memory shows where the rows are printed */
    grid_pack(&packed, rows);
    grid_unpack(sink->outcome.rest[SHOWN_PROBLEMS], &packed);
    text_release(&packed);
    return OUTLAY_OK;
}

static enum outlay_status withdraw_problem(void *self, const struct grid *row,
                                           struct outlay_error *err)
{
    struct folder_sink *sink = self;
    struct output *problems = sink->slots[PART_PROBLEMS].output;
    if (sink->slots[PART_WORKBOOK].object)
        shown_withdraw_problem(sink->slots[PART_WORKBOOK].object, row);
    return problems ? problems_withdraw(problems, row, err) : OUTLAY_OK;
}

static enum outlay_status put_duplicates(void *self, const struct duplicate_list *list,
                                         struct outlay_error *err)
{
    struct folder_sink *sink = self;
    return outcome_set_apart(&sink->outcome, list, err);
}

struct sink folder_sink_calls(struct folder_sink *sink)
{
    struct sink calls = {.self = sink,
                         .commit = put_batch,
                         .problems = put_problems,
                         .withdraw = withdraw_problem,
                         .duplicates = put_duplicates};
    for (int part = 0; part < PARTS; part++)
        if (wanted(sink, part))
            calls.rows[part] = part_makers[part].rows;
    return calls;
}

enum outlay_status folder_sink_decide(struct folder_sink *sink,
                                      const struct messages *messages,
                                      struct outlay_error *err)
{
    return outcome_decide(&sink->outcome, messages, err);
}

const struct outcome *folder_sink_outcome(const struct folder_sink *sink)
{
    return &sink->outcome;
}

static enum outlay_status close_text(struct folder_sink *sink, int part,
                                     struct outlay_error *err)
{
    const struct part_maker *maker = &part_makers[part];
    struct output *output = sink->slots[part].output;
    struct text tail = TEXT_INIT;
    sink->slots[part].output = NULL;
    if (sink->outcome.rest[maker->rest])
        grid_csv_rows(&tail, sink->outcome.rest[maker->rest]);
    if (maker->tail)
        maker->tail(&tail, &sink->outcome);
    enum outlay_status status = output_text(output, &tail, err);
    if (status == OUTLAY_OK && maker->fill)
        status = output_fill(output, maker->fill, &sink->outcome, err);
    text_release(&tail);
    return output_end(output, status, err);
}

static enum outlay_status close_object(struct folder_sink *sink, int part,
                                       struct outlay_error *err)
{
    void *object = sink->slots[part].object;
    enum outlay_status status;
    char *path = path_of(sink, part, &status, err);
    if (status == OUTLAY_OK) {
        sink->slots[part].object = NULL;
        status = part_makers[part].object->commit(object, &sink->outcome, path, err);
    }
    free(path);
    return status;
}

enum outlay_status folder_sink_commit(struct folder_sink *sink,
                                      const struct run_record *record,
                                      struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    sink->outcome.record = record;
    for (int part = 0; status == OUTLAY_OK && part < PARTS; part++)
        if (wanted(sink, part) && !part_makers[part].object)
            status = close_text(sink, part, err);
    /* Only now: the record borrows names from objects. */
    for (int part = 0; status == OUTLAY_OK && part < PARTS; part++)
        if (wanted(sink, part) && part_makers[part].object)
            status = close_object(sink, part, err);
    if (status == OUTLAY_OK) {
        struct folder *folder = sink->folder;
        sink->folder = NULL;
        status = folder_commit(folder, err);
    }
    folder_sink_abort(sink);
    return status;
}

void folder_sink_abort(struct folder_sink *sink)
{
    if (!sink)
        return;
    for (int part = 0; part < PARTS; part++) {
        const struct part_object *object = part_makers[part].object;
        output_abort(sink->slots[part].output);
        if (object && object->drop)
            object->drop(sink->slots[part].object);
    }
    outcome_release(&sink->outcome);
    folder_abort(sink->folder);
    free(sink);
}
