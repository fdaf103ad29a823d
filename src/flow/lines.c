#include <math.h>

#include "base/grow.h"
#include "flow/stages.h"
#include "roof/edges.h"

/* About 2 m, in degrees of latitude. */
static const double reach = 2e-5;

struct box box_around_roof(const struct roof *roof)
{
    struct box box = region_box(&roof->lonlat);
    /* wider than the globe at a pole, which does no harm */
    double wide = reach / fmax(cos(box.min_y * 3.14159265358979323846 / 180), 1e-7);

    return (struct box){box.min_x - wide, box.min_y - reach, box.max_x + wide,
                        box.max_y + reach};
}

static struct box near_building(const struct building *building)
{
    struct box box = box_empty();

    for (size_t i = 0; i < building->roof_count; i++) {
        struct box one = box_around_roof(&building->roofs[i]);

        if (!building->roofs[i].whole)
            continue;
        box_add(&box, (struct point){one.min_x, one.min_y});
        box_add(&box, (struct point){one.max_x, one.max_y});
    }
    return box;
}

/* Adds the straight parts of a line. */
static bool add_line(struct building *building, const struct mark *mark, size_t index,
                     struct geo_ctx *ctx, size_t *room)
{
    struct point *points = arena_array(building->arena, mark->count, sizeof *points);
    double start = 0;
    struct edge_line *lines =
        grow_in(building->arena, building->lines, building->line_count, mark->count, room,
                sizeof *lines);

    if (!points || !lines)
        return false;
    building->lines = lines;
    for (size_t i = 0; i < mark->count; i++)
        points[i] = mark->points[i];
    frame_to_local(&building->frame, ctx, points, mark->count);
    for (size_t i = 0; i + 1 < mark->count; i++) {
        lines[building->line_count++] =
            (struct edge_line){.from = points[i],
                               .to = points[i + 1],
                               .kind = (enum edge_kind)mark->kind,
                               .height = mark->height,
                               .thickness = mark->thickness,
                               .mark = index,
                               .start = start};
        start += point_distance(points[i], points[i + 1]);
    }
    return true;
}

enum outlay_status lines_run(struct building *building, const struct settings *settings,
                             struct geo_ctx *ctx, struct outlay_error *err)
{
    struct box box = near_building(building);
    size_t *near = NULL;
    size_t count = 0;
    size_t room = 0;
    bool fine = true;

    if (!settings->edges || !(box.min_x < box.max_x))
        return OUTLAY_OK;
    fine = marks_near(settings->edges, &box, building->arena, &near, &count) == OUTLAY_OK;
    for (size_t i = 0; i < count && fine; i++)
        fine = add_line(building, &settings->edges->items[near[i]], near[i], ctx, &room);
    return fine ? OUTLAY_OK : outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
}
