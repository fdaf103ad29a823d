/* Boards row by row: the outline and the zones are cut to the row, then to each board. */

#include "takeoff/board_grid.h"

#include <string.h>

#include "base/units.h"

/* A whole board but for rounding, relative. */
static const double whole_tolerance = 1e-9;

/* Narrower pieces are joints, m (ours). */
static const double joint = 0.002;

/* A zone must cover this much of a board to give it its pattern. */
static const double zone_share = 1.0 * M2_PER_FT2;

/* A growing list in an arena. */
struct list {
    void *items;
    size_t count, capacity;
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
    struct list boards, plates;
    double left_out;
};

/* Room for more items. @return the first new one, NULL when out of memory */
static void *list_grow(struct arena *arena, struct list *list, size_t more, size_t size)
{
    if (list->count + more > list->capacity) {
        size_t capacity = 2 * list->capacity + more + 16;
        void *items = arena_array(arena, capacity, size);

        if (!items)
            return NULL;
        if (list->count > 0)
            memcpy(items, list->items, list->count * size);
        list->items = items;
        list->capacity = capacity;
    }
    list->count += more;
    return (char *)list->items + (list->count - more) * size;
}

int board_count(int count, double area, double board_area)
{
    int share = (int)ceil(count * area / board_area - 1e-9);
    int least = area < 8 * M2_PER_FT2 ? 2 : 4;

    if (count == 0)
        return 0;
    return share > least ? share : least;
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

/* The most severe zone that covers enough of a board; of a piece so small that none
 * does, the zone that covers most. */
static enum outlay_status zone_find(struct laying *w, double low, double high,
                                    enum zone_role *role)
{
    const struct roof *roof = w->job->roof;
    double most = 0;

    *role = ZONE_FIELD;
    for (size_t i = 0; i < roof->zone_count; i++) {
        struct layer_rings part;
        double area;

        if (rings_clip(w->scratch, &w->row_zones[i], 0, low, high, &part) != OUTLAY_OK)
            return OUTLAY_E_MEMORY;
        area = rings_area(&part);
        if (area > most) {
            most = area;
            *role = roof->zones[i].role;
        }
        if (area >= zone_share * (1 - whole_tolerance))
            break;
    }
    return OUTLAY_OK;
}

static enum outlay_status place(struct laying *w, const struct region *local,
                                const struct box *box, const struct board *board,
                                size_t index, struct outlay_error *err)
{
    const struct board_job *job = w->job;
    size_t count = (size_t)board->plates;
    struct point *points = arena_array(w->scratch, count, sizeof *points);
    struct plate *plates = list_grow(job->arena, &w->plates, count, sizeof(struct plate));
    double box_area = (box->max_x - box->min_x) * (box->max_y - box->min_y);

    if (!points || !plates)
        return outlay_fail(err, OUTLAY_E_MEMORY, "placing plates");
    if (board->area >= box_area * (1 - whole_tolerance)) {
        plates_on_rectangle(*box, board->plates, job->edge, points);
    } else {
        enum outlay_status status = plates_on_piece(
            job->ctx, w->scratch, local, board->plates, job->edge, points, err);

        if (status != OUTLAY_OK)
            return status;
    }
    for (size_t k = 0; k < count; k++) {
        struct plate *plate = &plates[k];

        plate->at = axes_to_frame(&job->grid.axes, points[k]);
        plate->zone = board->zone;
        plate->of = index;
    }
    return OUTLAY_OK;
}

/* One piece, a polygon in the grid's axes, becomes a board. */
static enum outlay_status board_add(struct laying *w, struct polygon *polygon,
                                    enum zone_role zone, struct outlay_error *err)
{
    const struct board_job *job = w->job;
    double whole = job->grid.length * job->grid.width;
    struct region local = {polygon, 1};
    struct box box = region_box(&local);
    struct board *board = NULL;
    double area = region_area(&local);

    if (box.max_x - box.min_x < joint || box.max_y - box.min_y < joint) {
        w->left_out += area;
        return OUTLAY_OK;
    }
    board = list_grow(job->arena, &w->boards, 1, sizeof *board);
    if (!board || region_copy(job->arena, &local, &board->region) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");
    for (size_t r = 0; r < polygon->ring_count; r++) {
        struct ring ring = board->region.polygons[0].rings[r];

        for (size_t k = 0; k < ring.count; k++)
            ring.points[k] = axes_to_frame(&job->grid.axes, ring.points[k]);
    }
    board->area = area;
    board->whole = area >= whole * (1 - whole_tolerance);
    board->zone = zone;
    board->plates =
        board->whole ? job->counts[zone] : board_count(job->counts[zone], area, whole);
    board->cut_length = box.max_x - box.min_x;
    board->cut_width = box.max_y - box.min_y;
    if (!job->place || board->plates == 0)
        return OUTLAY_OK;
    return place(w, &local, &box, board, w->boards.count - 1, err);
}

static enum outlay_status cell_lay(struct laying *w, double low, double high,
                                   struct outlay_error *err)
{
    struct layer_rings part;
    struct region pieces;
    enum zone_role zone;
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
    if (zone_find(w, low, high, &zone) != OUTLAY_OK)
        return outlay_fail(err, OUTLAY_E_MEMORY, "laying boards");
    for (size_t i = 0; i < pieces.polygon_count && status == OUTLAY_OK; i++)
        status = board_add(w, &pieces.polygons[i], zone, err);
    return status;
}

static enum outlay_status row_lay(struct laying *w, double row, struct outlay_error *err)
{
    const struct board_grid *grid = &w->job->grid;
    double low = grid->shift_v + row * grid->width;
    double shift = grid->shift_u + (fmod(row, 2) != 0 ? grid->length / 2 : 0);
    struct box box;
    enum outlay_status status =
        rings_clip(w->scratch, &w->outline, 1, low, low + grid->width, &w->row_outline);

    for (size_t i = 0; i < w->job->roof->zone_count && status == OUTLAY_OK; i++)
        status = rings_clip(w->scratch, &w->zones[i], 1, low, low + grid->width,
                            &w->row_zones[i]);
    if (status != OUTLAY_OK)
        return outlay_fail(err, status, "laying boards");
    if (w->row_outline.count == 0)
        return OUTLAY_OK;
    box = rings_box(&w->row_outline);
    for (double j = floor((box.min_x - shift) / grid->length);
         shift + j * grid->length < box.max_x && status == OUTLAY_OK; j++)
        status =
            cell_lay(w, shift + j * grid->length, shift + (j + 1) * grid->length, err);
    return status;
}

static enum outlay_status rows_lay(struct laying *w, struct outlay_error *err)
{
    const struct board_grid *grid = &w->job->grid;
    struct box box = rings_box(&w->outline);
    enum outlay_status status = OUTLAY_OK;

    if (w->outline.count == 0)
        return OUTLAY_OK;
    for (double row = floor((box.min_y - grid->shift_v) / grid->width);
         grid->shift_v + row * grid->width < box.max_y && status == OUTLAY_OK; row++) {
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
    if (left_out)
        *left_out = w.left_out;

done:
    arena_free(w.scratch);
    arena_free(w.cuts);
    return status;
}
