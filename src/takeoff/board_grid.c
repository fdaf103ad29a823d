/* Boards row by row: the outline and the zones are cut to the row, then to each board
 * that an edge of them may cross. */

#include "takeoff/board_grid.h"

#include <string.h>

#include "base/grow.h"
#include "base/units.h"

/* A growing list in an arena. */
struct list {
    void *items;
    size_t count, capacity;
};

/* The plates of whole boards that lie in one zone, from the board's corner. */
struct pattern {
    struct point *points; /* NULL: not placed yet */
    int count;
};

/* One roof at work. */
struct laying {
    const struct board_job *job;
    struct arena *scratch; /* reset after each row */
    struct arena *cuts;    /* the roof in the grid's axes */
    struct layer_rings outline;
    struct layer_rings zones[ZONE_ROLES]; /* by index in the roof */
    struct layer_rings row_outline;
    struct layer_rings row_zones[ZONE_ROLES];
    struct row_edges row_edges;
    struct pattern patterns[ZONE_ROLES]; /* by role */
    struct list boards, plates;
    struct board_load worst[ZONE_ROLES]; /* by role */
    double left_out, unboarded;
};

/* Room for more items. @return the first new one, NULL when out of memory */
static void *list_grow(struct arena *arena, struct list *list, size_t more, size_t size)
{
    char *items = grow_in(arena, list->items, list->count, more, &list->capacity, size);

    if (!items)
        return NULL;
    list->items = items;
    list->count += more;
    return items + (list->count - more) * size;
}

struct plate_need plate_need_of(int count, double area, double joint, double board_area)
{
    int share = (int)fmax(ceil(count * (area - joint) / board_area - 1e-9), 1);
    int least = area + joint < 8 * M2_PER_FT2 ? 2 : 4;

    if (count == 0)
        return (struct plate_need){0, 0};
    return (struct plate_need){share, share > least ? share : least};
}

static enum outlay_status add_local(struct laying *w, const struct region *region,
                                    struct layer_rings *out)
{
    struct region local;

    if (axes_region(w->cuts, &w->job->grid.axes, region, &local) != OUTLAY_OK ||
        !layer_rings_add_region(w->cuts, out, &local, 0))
        return OUTLAY_E_MEMORY;
    return OUTLAY_OK;
}

/* What of the row's zones lies between two levels, m2. */
static enum outlay_status zone_areas(struct laying *w, double low, double high,
                                     double areas[ZONE_ROLES])
{
    for (size_t i = 0; i < w->job->roof->zone_count; i++) {
        struct layer_rings part;

        if (rings_clip(w->scratch, &w->row_zones[i], 0, low, high, &part) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        areas[i] = rings_area(&part);
    }
    return OUTLAY_OK;
}

/* A board of which no more than joints is missing. */
static bool is_whole(const struct board_grid *grid, const struct box *box, double area)
{
    return box->max_x - box->min_x >= grid->length - BOARD_JOINT &&
           box->max_y - box->min_y >= grid->width - BOARD_JOINT &&
           area >= (grid->length - BOARD_JOINT) * (grid->width - BOARD_JOINT);
}

/* Where the fasteners of a board go, in the grid's axes, and how many they are. */
static enum outlay_status fasten(struct laying *w, const struct region *local,
                                 struct board *board, struct point **points,
                                 struct outlay_error *err)
{
    const struct board_job *job = w->job;
    int count = job->counts[board->zone];
    double joint = 2 * BOARD_JOINT * (board->cut_length + board->cut_width);
    struct plate_need need =
        plate_need_of(count, board->area, joint, job->grid.length * job->grid.width);

    if (board->whole)
        need = (struct plate_need){count, count};
    board->plates = 0;
    if (count == 0)
        return OUTLAY_OK;
    *points = arena_array(w->scratch, (size_t)need.wanted, sizeof **points);
    if (!*points)
        return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    return plates_on_piece(job->ctx, w->scratch, local, need, job->edge, *points,
                           &board->plates, err);
}

/* @param points  from the corner, in the grid's axes */
static enum outlay_status place(struct laying *w, const struct board *board, size_t index,
                                struct point corner, const struct point *points,
                                struct outlay_error *err)
{
    const struct board_job *job = w->job;
    size_t count = (size_t)board->plates;
    struct plate *plates = list_grow(job->arena, &w->plates, count, sizeof(struct plate));

    if (!plates)
        return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    for (size_t k = 0; k < count; k++) {
        struct point at = {corner.x + points[k].x, corner.y + points[k].y};

        plates[k] =
            (struct plate){axes_to_frame(&job->grid.axes, at), board->zone, index};
    }
    return OUTLAY_OK;
}

/* Where a board lies, if that is asked for. */
static bool shape_put(const struct board_job *job, const struct region *local,
                      struct board *board)
{
    if (!job->shapes)
        return true;
    if (region_copy(job->arena, local, &board->region) != OUTLAY_OK)
        return false;
    for (size_t r = 0; r < local->polygons[0].ring_count; r++) {
        struct ring ring = board->region.polygons[0].rings[r];

        for (size_t k = 0; k < ring.count; k++)
            ring.points[k] = axes_to_frame(&job->grid.axes, ring.points[k]);
    }
    return true;
}

/* A board in the layout, all of it but its plates.
 * @param areas  of each zone, m2, by place in the roof */
static struct board *board_new(struct laying *w, const struct region *local,
                               const struct box *box, double area,
                               const double areas[ZONE_ROLES])
{
    const struct board_job *job = w->job;
    struct board *board = list_grow(job->arena, &w->boards, 1, sizeof *board);

    if (!board || !shape_put(job, local, board))
        return NULL;
    board->area = area;
    board->whole = is_whole(&job->grid, box, area);
    board->zone = job->roof->zones[board_pattern(job, areas)].role;
    board->cut_length = box->max_x - box->min_x;
    board->cut_width = box->max_y - box->min_y;
    return board;
}

/* How far what of the rings lies between two levels of one axis reaches in the other. */
static enum outlay_status reach(struct arena *arena, const struct layer_rings *rings,
                                int axis, double low, double high, double *from,
                                double *to)
{
    struct layer_rings part;
    struct box box;

    if (rings_clip(arena, rings, axis, low, high, &part) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    box = layer_rings_box(&part);
    *from = axis == 0 ? box.min_y : box.min_x;
    *to = axis == 0 ? box.max_y : box.max_x;
    return OUTLAY_OK;
}

/* The box that a piece is cut from. Where an edge was traced along a joint of boards,
 * a hairline no wider than that may be left of the board beyond it; it is filled. */
static enum outlay_status cut_box(struct arena *arena, const struct region *piece,
                                  double area, struct box *box)
{
    struct layer_rings rings = {NULL, 0, 0};
    struct box cut = *box;

    if (area > 0.99 * (box->max_x - box->min_x) * (box->max_y - box->min_y))
        return OUTLAY_OK;
    if (!layer_rings_add_region(arena, &rings, piece, 0) ||
        reach(arena, &rings, 1, box->min_y + BOARD_JOINT, box->max_y - BOARD_JOINT,
              &cut.min_x, &cut.max_x) != OUTLAY_OK ||
        reach(arena, &rings, 0, box->min_x + BOARD_JOINT, box->max_x - BOARD_JOINT,
              &cut.min_y, &cut.max_y) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    if (box->max_x - box->min_x - (cut.max_x - cut.min_x) > BOARD_FILLED) {
        box->min_x = cut.min_x;
        box->max_x = cut.max_x;
    }
    if (box->max_y - box->min_y - (cut.max_y - cut.min_y) > BOARD_FILLED) {
        box->min_y = cut.min_y;
        box->max_y = cut.max_y;
    }
    return OUTLAY_OK;
}

/* One piece, a polygon in the grid's axes, becomes a board. */
static enum outlay_status board_add(struct laying *w, struct polygon *polygon,
                                    const double areas[ZONE_ROLES],
                                    struct outlay_error *err)
{
    struct region local = {polygon, 1};
    struct box box = region_box(&local);
    struct board *board = NULL;
    struct point *points = NULL;
    double area = region_area(&local);
    enum outlay_status status = cut_box(w->scratch, &local, area, &box);
    double narrow = fmin(box.max_x - box.min_x, box.max_y - box.min_y);

    if (status != OUTLAY_OK)
        return outlay_fail(err, status, "laying boards");
    if (narrow < BOARD_FILLED) {
        w->left_out += area;
        w->unboarded += narrow > JOINT_MOST ? area : 0;
        return OUTLAY_OK;
    }
    board = board_new(w, &local, &box, area, areas);
    if (!board)
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");
    status = fasten(w, &local, board, &points, err);
    board_measure(w->job, board, areas, w->worst);
    if (status == OUTLAY_OK && w->job->place && board->plates > 0)
        status = place(w, board, w->boards.count - 1, (struct point){0, 0}, points, err);
    return status;
}

/* The pattern of a zone's whole boards, found with the first of them. */
static enum outlay_status pattern_find(struct laying *w, struct board *board,
                                       struct pattern *pattern, struct outlay_error *err)
{
    double length = w->job->grid.length, width = w->job->grid.width;
    struct point corners[] = {{0, 0}, {length, 0}, {length, width}, {0, width}};
    struct ring ring = {corners, 4};
    struct polygon polygon = {&ring, 1};
    struct region local = {&polygon, 1};
    int count = w->job->counts[board->zone];

    pattern->points = arena_array(w->cuts, (size_t)count, sizeof *pattern->points);
    if (!pattern->points)
        return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    if (count == 0)
        return OUTLAY_OK;
    return plates_on_piece(w->job->ctx, w->scratch, &local,
                           (struct plate_need){count, count}, w->job->edge,
                           pattern->points, &pattern->count, err);
}

/* A whole board in one zone: nothing is cut. @param zone  its place in the roof */
static enum outlay_status whole_lay(struct laying *w, struct box box, int zone,
                                    struct outlay_error *err)
{
    struct point corners[] = {{box.min_x, box.min_y},
                              {box.max_x, box.min_y},
                              {box.max_x, box.max_y},
                              {box.min_x, box.max_y}};
    struct ring ring = {corners, 4};
    struct polygon polygon = {&ring, 1};
    struct region local = {&polygon, 1};
    double areas[ZONE_ROLES] = {0};
    struct board *board = NULL;
    struct pattern *pattern = NULL;
    enum outlay_status status = OUTLAY_OK;

    areas[zone] = ring_area(ring);
    board = board_new(w, &local, &box, areas[zone], areas);
    if (!board)
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");
    pattern = &w->patterns[board->zone];
    if (!pattern->points)
        status = pattern_find(w, board, pattern, err);
    board->plates = pattern->count;
    board_measure(w->job, board, areas, w->worst);
    if (status == OUTLAY_OK && w->job->place && board->plates > 0)
        status = place(w, board, w->boards.count - 1, corners[0], pattern->points, err);
    return status;
}

/* What of the row lies between two levels is cut to boards. */
static enum outlay_status cell_cut(struct laying *w, double low, double high,
                                   struct outlay_error *err)
{
    struct layer_rings part;
    struct region pieces;
    double areas[ZONE_ROLES] = {0};
    enum outlay_status status;
    double area;

    if (rings_clip(w->scratch, &w->row_outline, 0, low, high, &part) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");
    area = rings_area(&part);
    if (part.count == 0 || !(area > 0))
        return OUTLAY_OK;
    status = rings_region(w->job->ctx, w->scratch, &part, &pieces, err);
    if (status != OUTLAY_OK)
        return status;
    if (zone_areas(w, low, high, areas) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");
    for (size_t i = 0; i < pieces.polygon_count && status == OUTLAY_OK; i++)
        status = board_add(w, &pieces.polygons[i], areas, err);
    return status;
}

/* @param box  of the board, whole */
static enum outlay_status cell_lay(struct laying *w, struct box box,
                                   struct outlay_error *err)
{
    int zone = row_zone(&w->row_edges, box.min_x, box.max_x);

    if (zone == ROW_OUTSIDE)
        return OUTLAY_OK;
    if (zone == ROW_CUT)
        return cell_cut(w, box.min_x, box.max_x, err);
    return whole_lay(w, box, zone, err);
}

/* Cuts the outline and the zones to the row. */
static enum outlay_status row_cut(struct laying *w, double low, double high)
{
    enum outlay_status status =
        rings_clip(w->scratch, &w->outline, 1, low, high, &w->row_outline);
    bool room = true;

    w->row_edges = (struct row_edges){NULL, 0, 0};
    for (size_t i = 0; i < w->job->roof->zone_count && status == OUTLAY_OK; i++) {
        status = rings_clip(w->scratch, &w->zones[i], 1, low, high, &w->row_zones[i]);
        room =
            room && status == OUTLAY_OK &&
            row_edges_add(w->scratch, &w->row_edges, &w->row_zones[i], low, high, (int)i);
    }
    return room ? status : OUTLAY_E_MEMORY;
}

static enum outlay_status row_lay(struct laying *w, long row, struct outlay_error *err)
{
    const struct board_grid *grid = &w->job->grid;
    double low = grid->shift_v + (double)row * grid->width;
    double shift = grid->shift_u + (row % 2 != 0 ? grid->length / 2 : 0);
    struct box box;
    enum outlay_status status = row_cut(w, low, low + grid->width);

    if (status != OUTLAY_OK)
        return outlay_fail(err, status, "laying boards");
    if (w->row_outline.count == 0)
        return OUTLAY_OK;
    box = layer_rings_box(&w->row_outline);
    for (long j = lround(floor((box.min_x - shift) / grid->length));
         shift + (double)j * grid->length < box.max_x && status == OUTLAY_OK; j++)
        status = cell_lay(w,
                          (struct box){shift + (double)j * grid->length, low,
                                       shift + (double)(j + 1) * grid->length,
                                       low + grid->width},
                          err);
    return status;
}

static enum outlay_status rows_lay(struct laying *w, struct outlay_error *err)
{
    const struct board_grid *grid = &w->job->grid;
    struct box box = layer_rings_box(&w->outline);
    enum outlay_status status = OUTLAY_OK;

    if (w->outline.count == 0)
        return OUTLAY_OK;
    for (long row = lround(floor((box.min_y - grid->shift_v) / grid->width));
         grid->shift_v + (double)row * grid->width < box.max_y && status == OUTLAY_OK;
         row++) {
        status = row_lay(w, row, err);
        arena_reset(w->scratch);
    }
    return status;
}

enum outlay_status boards_lay(const struct board_job *job, struct layout *out,
                              double *left_out, struct outlay_error *err)
{
    struct laying w = {.job = job, .scratch = arena_new(), .cuts = arena_new()};
    enum outlay_status status = OUTLAY_E_MEMORY;

    if (!w.scratch || !w.cuts) {
        outlay_fail(err, status, "laying boards");
        goto done;
    }
    status = add_local(&w, &job->roof->outline, &w.outline);
    for (size_t i = 0; i < job->roof->zone_count && status == OUTLAY_OK; i++)
        status = add_local(&w, &job->roof->zones[i].region, &w.zones[i]);
    if (status != OUTLAY_OK) {
        outlay_fail(err, status, "laying boards");
        goto done;
    }
    status = rows_lay(&w, err);
    out->boards = w.boards.items;
    out->board_count = w.boards.count;
    out->plates = w.plates.items;
    out->plate_count = w.plates.count;
    out->unboarded = w.unboarded;
    if (left_out)
        *left_out = w.left_out;
    if (status == OUTLAY_OK && board_states(job->arena, w.worst, out) != OUTLAY_OK)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");

done:
    arena_free(w.scratch);
    arena_free(w.cuts);
    return status;
}
