#include "write/groups.h"

#include <math.h>

#include "write/coordinates.h"

/* Rows that are held as cells at once. */
#define ROWS_AT_ONCE 1024

/* Roofs with that score or more are `above`; what else a measure says of a group. */
#define MEASURE_COLUMNS(name)                                            \
    {"ranked_by_" name, GRID_NUMBER, MEASURE_NONE, {0, 0}, true},        \
        {name "_mean_score", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},  \
        {name "_threshold", GRID_NUMBER, MEASURE_NONE, {3, 3}, false},   \
        {name "_share_above", GRID_NUMBER, MEASURE_NONE, {4, 4}, false}, \
        {name "_worst_roof", GRID_TEXT, MEASURE_NONE, {0, 0}, false},    \
        {name "_worst_score", GRID_NUMBER, MEASURE_NONE, {3, 3}, false}, \
    {                                                                    \
        name "_worst_rank", GRID_NUMBER, MEASURE_NONE, {0, 0}, false     \
    }

static const struct grid_column columns[] = {
    {"group", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"shape", GRID_TEXT, MEASURE_NONE, {0, 0}, false},
    {"roofs", GRID_NUMBER, MEASURE_NONE, {0, 0}, true},
    {"without_result", GRID_NUMBER, MEASURE_NONE, {0, 0}, true},
    {"apart", GRID_NUMBER, MEASURE_NONE, {0, 0}, true},
    {"area", GRID_NUMBER, MEASURE_AREA, {1, 2}, true},
    MEASURE_COLUMNS("rating"),
    MEASURE_COLUMNS("exposure"),
};

const struct grid_sheet groups_sheet = {"groups", columns,
                                        sizeof columns / sizeof columns[0]};

static void put_measure(struct grid *grid, const struct group_measure *measure,
                        uint32_t threshold, const struct ranking *ranking)
{
    const struct ranked *worst =
        measure->count ? &ranking->rows[measure->worst[0]] : NULL;
    double count = (double)measure->count; /* of none, the rest is NAN */

    grid_number(grid, count);
    grid_number(grid, (double)measure->scores / count / 1000);
    grid_number(grid, worst ? threshold / 1000.0 : NAN);
    grid_number(grid, (double)measure->above / count);
    grid_text(grid, worst ? portfolio_id(worst->roof) : NULL);
    grid_number(grid, worst ? worst->score / 1000.0 : NAN);
    grid_number(grid, worst ? (double)worst->rank : NAN);
}

static void put_group(struct grid *grid, const struct groups *groups, size_t index,
                      const struct ranking *ranking)
{
    const struct group *group = groups_at(groups, index);
    struct point corners[4];
    bool shaped = groups_shape(groups, index, corners).count >= 3;
    bool squares = groups_side(groups) > 0;
    const char *without = squares ? "no outline" : "not given";

    grid_text(grid, group->name ? group->name : without);
    grid_text(grid, !shaped ? NULL : squares ? "square" : "hull of its roofs");
    grid_number(grid, (double)group->roofs);
    grid_number(grid, (double)group->unknown);
    grid_number(grid, (double)group->apart);
    grid_number(grid, group->area);
    for (int i = 0; i < GROUP_MEASURES; i++)
        put_measure(grid, &group->measures[i], groups_threshold(groups, i), ranking);
}

void groups_fill(struct grid *grid, const struct groups *groups,
                 const struct ranking *ranking, size_t from, size_t count)
{
    for (size_t i = from; i < groups_count(groups) && i - from < count; i++)
        put_group(grid, groups, i, ranking);
}

/* ---- groups.geojson --------------------------------------------------------------- */

/* The part of a convex ring on one side of a meridian, east of it for a side above 0,
 * moved by a turn. @param out  room for two points more than the ring has */
static struct ring cut(struct ring ring, double meridian, double side, double turn,
                       struct point *out)
{
    struct ring part = {out, 0};

    for (size_t i = 0; i < ring.count; i++) {
        struct point a = ring.points[i], b = ring.points[(i + 1) % ring.count];
        double from = (a.x - meridian) * side, to = (b.x - meridian) * side;

        if (from >= 0)
            out[part.count++] = (struct point){a.x + turn, a.y};
        if ((from > 0 && to < 0) || (from < 0 && to > 0))
            out[part.count++] =
                (struct point){meridian + turn, a.y + (b.y - a.y) * from / (from - to)};
    }
    return part;
}

/* Hulls lie within a turn of their first outline and so cross one of both meridians. */
static void put_shape(struct text *out, struct arena *arena, struct ring shape)
{
    double meridian = ring_box(shape).max_x > 180 ? 180 : -180;
    double turn = meridian > 0 ? -360 : 360;
    struct point *points = arena_array(arena, 2 * shape.count + 4, sizeof *points);
    struct ring rings[2];
    struct polygon polygons[2];
    struct region region = {polygons, 0};

    if (!points) {
        out->failed = true;
        return;
    }
    rings[0] = cut(shape, meridian, turn, 0, points);
    rings[1] = cut(shape, meridian, -turn, turn, points + shape.count + 2);
    for (int i = 0; i < 2; i++)
        if (rings[i].count >= 3)
            polygons[region.polygon_count++] = (struct polygon){&rings[i], 1};
    coordinates_print(out, &region);
    arena_reset(arena);
}

static void put_features(struct text *out, const struct grid *grid, struct arena *arena,
                         const struct groups *groups, size_t from)
{
    for (size_t i = 0; i < grid_rows(grid); i++) {
        struct point corners[4];

        text_puts(out, from + i ? ",\n" : "\n");
        text_puts(out, "{\"type\":\"Feature\",\"properties\":{");
        grid_json_members(out, grid, i);
        text_puts(out, ",\"caution\":\"planning figures, not a design\"},\"geometry\":");
        put_shape(out, arena, groups_shape(groups, from + i, corners));
        text_putc(out, '}');
    }
}

enum outlay_status groups_geojson(struct output *output, const struct groups *groups,
                                  const struct ranking *ranking,
                                  const struct write_settings *set,
                                  struct outlay_error *err)
{
    struct grid *grid = grid_new(&groups_sheet, set);
    struct arena *arena = arena_new();
    struct text out = TEXT_INIT;
    enum outlay_status status = OUTLAY_OK;

    geojson_open(&out, "groups", set);
    out.failed = out.failed || !grid || !arena;
    for (size_t from = 0; !out.failed && from < groups_count(groups);
         from += ROWS_AT_ONCE) {
        groups_fill(grid, groups, ranking, from, ROWS_AT_ONCE);
        put_features(&out, grid, arena, groups, from);
        status = output_text(output, &out, err);
        if (status != OUTLAY_OK)
            break;
        text_clear(&out);
        grid_clear(grid);
    }
    geojson_close(&out);
    if (status == OUTLAY_OK)
        status = output_text(output, &out, err);
    text_release(&out);
    arena_free(arena);
    grid_free(grid);
    return status;
}
