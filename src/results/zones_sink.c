#include <stdlib.h>
#include <string.h>

#include "base/ascii.h"
#include "results/problems_file.h"
#include "results/sinks.h"
#include "write/layers.h"
#include "write/output.h"

struct zones_sink {
    const struct settings *settings;
    enum zones_format format;
    bool to_stdout;
    struct output *output;    /* owned; NULL for layers */
    struct layer_file *layer; /* owned; NULL for texts */
    size_t not_drawn;         /* zones that the format can't hold without a polygon */
    bool begun;               /* a feature was written */
    struct problems_file *problems; /* owned; NULL for standard output */
};

enum zones_format zones_format_of(const char *path)
{
    static const struct {
        const char *ending;
        enum zones_format format;
    } endings[] = {
        {".geojson", ZONES_GEOJSON}, {".json", ZONES_GEOJSON}, {".geojsonl", ZONES_LINES},
        {".geojsons", ZONES_LINES},  {".ndjson", ZONES_LINES}, {".jsonl", ZONES_LINES},
        {".gpkg", ZONES_GPKG},       {".fgb", ZONES_FGB},
    };
    if (strcmp(path, "-") == 0)
        return ZONES_LINES;
    const char *name = strrchr(path, '/');
    const char *dot = strrchr(name ? name : path, '.');
    for (size_t i = 0; dot && i < sizeof endings / sizeof endings[0]; i++)
        if (ascii_same(dot, endings[i].ending))
            return endings[i].format;
    return ZONES_NOT_GIVEN;
}

static enum outlay_status open_text(struct zones_sink *sink, struct outlay_error *err)
{
    struct text head = TEXT_INIT;
    enum outlay_status status = output_open(sink->settings->output, &sink->output, err);
    if (status == OUTLAY_OK && sink->format == ZONES_GEOJSON) {
        geojson_open(&head, "zones", &sink->settings->write);
        status = output_text(sink->output, &head, err);
    }
    text_release(&head);
    return status;
}

static enum outlay_status open_paths(struct zones_sink *sink, struct outlay_error *err)
{
    const struct settings *settings = sink->settings;
    enum outlay_status status;
    if (sink->format == ZONES_NOT_GIVEN) {
        outlay_fail(err, OUTLAY_E_USAGE, "the format can't be seen from the name");
        outlay_fail_where(err, "--output %s", settings->output);
        outlay_fail_todo(err, "end it in .geojson, .geojsonl, .gpkg or .fgb");
        return OUTLAY_E_USAGE;
    }
    if (!sink->to_stdout) {
        status = output_check(settings->output, settings->overwrite, err);
        if (status == OUTLAY_OK)
            status = problems_file_new(settings, &sink->problems, err);
        if (status != OUTLAY_OK)
            return status;
    }
    if (sink->format == ZONES_GPKG || sink->format == ZONES_FGB)
        return layer_file_open(settings->output, &settings->write, &sink->layer, err);
    return open_text(sink, err);
}

enum outlay_status zones_sink_open(const struct settings *settings,
                                   struct zones_sink **out, struct outlay_error *err)
{
    *out = NULL;
    struct zones_sink *sink = calloc(1, sizeof *sink);
    if (!sink)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    sink->settings = settings;
    sink->format = zones_format_of(settings->output);
    sink->to_stdout = strcmp(settings->output, "-") == 0;
    enum outlay_status status = open_paths(sink, err);
    if (status != OUTLAY_OK) {
        zones_sink_abort(sink);
        return status;
    }
    *out = sink;
    return OUTLAY_OK;
}

static enum outlay_status put_problems(void *self, const struct grid *rows,
                                       struct outlay_error *err)
{
    struct zones_sink *sink = self;
    return sink->problems ? problems_file_put_grid(sink->problems, rows, err) : OUTLAY_OK;
}

static enum outlay_status withdraw_problem(void *self, const struct grid *row,
                                           struct outlay_error *err)
{
    struct zones_sink *sink = self;
    return sink->problems ? problems_file_withdraw(sink->problems, row, err) : OUTLAY_OK;
}

static enum outlay_status put_features(struct zones_sink *sink, const struct text *text,
                                       struct outlay_error *err)
{
    if (text->length == 0)
        return OUTLAY_OK;
    bool joins = sink->format == ZONES_GEOJSON && !sink->begun;
    size_t skipped = joins ? GEOJSON_JOINT : 0;
    sink->begun = true;
    enum outlay_status status =
        output_write(sink->output, text->data + skipped, text->length - skipped, err);
    if (status == OUTLAY_OK && sink->to_stdout)
        status = output_flush(sink->output, err);
    return status;
}

static enum outlay_status put_batch(void *self, const struct batch *batch,
                                    struct outlay_error *err)
{
    struct zones_sink *sink = self;
    enum outlay_status status = OUTLAY_OK;
    if (sink->output)
        status = put_features(sink, &batch->texts[PART_ZONES], err);
    for (size_t i = 0; sink->layer && status == OUTLAY_OK && i < batch->building_count;
         i++)
        status = layer_file_add(sink->layer, &batch->buildings[i], err);
    if (status == OUTLAY_OK && sink->problems)
        status = problems_file_put(sink->problems, &batch->texts[PART_PROBLEMS], err);
    return status;
}

struct sink zones_sink_calls(struct zones_sink *sink)
{
    batch_rows *zones = sink->format == ZONES_LINES ? geojson_zone_lines : geojson_zones;
    return (struct sink){
        .rows =
            {[PART_ZONES] = sink->output ? zones : NULL, [PART_PROBLEMS] = problems_rows},
        .self = sink,
        .commit = put_batch,
        .problems = put_problems,
        .withdraw = withdraw_problem};
}

static enum outlay_status finish_zones(struct zones_sink *sink, struct outlay_error *err)
{
    struct text tail = TEXT_INIT;
    enum outlay_status status = OUTLAY_OK;
    if (sink->layer)
        return layer_file_finish(sink->layer, &sink->not_drawn, err);
    if (sink->format == ZONES_GEOJSON) {
        geojson_close(&tail);
        status = output_text(sink->output, &tail, err);
        text_release(&tail);
    }
    return status == OUTLAY_OK ? output_finish(sink->output, err) : status;
}

static enum outlay_status commit_zones(struct zones_sink *sink, struct outlay_error *err)
{
    struct layer_file *layer = sink->layer;
    struct output *output = sink->output;
    sink->layer = NULL;
    sink->output = NULL;
    return layer ? layer_file_commit(layer, &sink->not_drawn, err)
                 : output_commit(output, err);
}

/* The zones come last: when they stand, all does. */
enum outlay_status zones_sink_commit(struct zones_sink *sink, size_t *not_drawn,
                                     struct outlay_error *err)
{
    enum outlay_status status = finish_zones(sink, err);
    if (status == OUTLAY_OK && sink->problems)
        status = problems_file_commit(sink->problems, err);
    if (status == OUTLAY_OK) {
        status = commit_zones(sink, err);
        if (status != OUTLAY_OK && sink->problems)
            problems_file_undo(sink->problems);
    }
    *not_drawn = sink->not_drawn;
    zones_sink_abort(sink);
    return status;
}

const char *zones_sink_problems(const struct zones_sink *sink)
{
    return sink->problems ? problems_file_path(sink->problems) : NULL;
}

void zones_sink_abort(struct zones_sink *sink)
{
    if (!sink)
        return;
    output_abort(sink->output);
    problems_file_abort(sink->problems);
    layer_file_abort(sink->layer);
    free(sink);
}
