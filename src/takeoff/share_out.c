/* What is laid on a group of sections, shared out among them. */

#include <math.h>

#include "base/grow.h"
#include "base/number.h"
#include "roof/field.h"
#include "takeoff/board_grid.h"
#include "takeoff/group.h"
#include "takeoff/seam_private.h"

static const double inside = 1e-3;     /* m beside a line: where its left side is */
static const double same_place = 1e-6; /* m */
static const double none = 1e-4;       /* m2; less of a sheet or board is rounding */

/* A line on which two sections meet. */
struct border {
    struct point a, b;
};

struct sharing {
    struct seam_work w;
    const struct group *group;
    const struct layout *laid;
    struct layout *out; /* group->count */
    struct border *borders;
    size_t border_count, border_room;
    double *cuts; /* scratch of rows */
    size_t cut_count, cut_room;
    struct region *pieces; /* scratch: of a sheet or board, by section */
    double *areas;         /* of those, m2 */
    double *sheets;        /* laid, by section, m2 */
};

static enum outlay_status no_memory(struct sharing *s)
{
    return outlay_fail(s->w.err, OUTLAY_E_MEMORY, "sharing a layout out");
}

/* ---- Which section ---- */

/* The section that a point lies in, else the nearest. */
static size_t section_at(const struct group *g, struct point p)
{
    size_t nearest = 0;
    double least = INFINITY;

    for (size_t k = 0; k < g->count; k++)
        if (region_holds(&g->parts[k], p))
            return k;
    for (size_t k = 0; k < g->count; k++) {
        double distance = region_distance(&g->parts[k], p);

        if (distance < least)
            nearest = k;
        least = fmin(least, distance);
    }
    return nearest;
}

/* A point beside the middle of a segment, to its left: a roof is left of its edges. */
static struct point left_of(struct point a, struct point b)
{
    double length = point_distance(a, b);

    return (struct point){(a.x + b.x) / 2 - inside * (b.y - a.y) / length,
                          (a.y + b.y) / 2 + inside * (b.x - a.x) / length};
}

/* ---- Where sections meet ---- */

static bool border_add(struct sharing *s, struct point a, struct point b)
{
    struct border *items = grow_in(s->w.arena, s->borders, s->border_count, 1,
                                   &s->border_room, sizeof *items);

    if (!items || region_distance(&s->group->covered, left_of(a, b)) < 2 * inside)
        return items != NULL;
    s->borders = items;
    items[s->border_count++] = (struct border){a, b};
    return true;
}

/* Edges of the parts that aren't on the outline. */
static bool borders_find(struct sharing *s)
{
    for (size_t k = 0; k < s->group->count; k++) {
        const struct region *part = &s->group->parts[k];

        for (size_t i = 0; i < part->polygon_count; i++)
            for (size_t j = 0; j < part->polygons[i].ring_count; j++) {
                struct ring ring = part->polygons[i].rings[j];

                for (size_t n = 0; n < ring.count; n++)
                    if (!border_add(s, ring.points[n], ring.points[(n + 1) % ring.count]))
                        return false;
            }
    }
    return true;
}

/* Whether a line on which sections meet may run through a box. */
static bool border_meets(const struct border *border, const struct box *box)
{
    const struct point corners[] = {{box->min_x, box->min_y},
                                    {box->max_x, box->min_y},
                                    {box->max_x, box->max_y},
                                    {box->min_x, box->max_y}};
    struct point d = {border->b.x - border->a.x, border->b.y - border->a.y};
    struct box around = box_empty();
    bool left = false;
    bool right = false;

    box_add(&around, border->a);
    box_add(&around, border->b);
    for (int k = 0; k < 4; k++) {
        double v =
            d.x * (corners[k].y - border->a.y) - d.y * (corners[k].x - border->a.x);

        left = left || v >= 0;
        right = right || v <= 0;
    }
    return left && right && boxes_near(&around, box, same_place);
}

/* ---- Rows ---- */

static bool cut_add(struct sharing *s, double t)
{
    double *cuts =
        grow_in(s->w.arena, s->cuts, s->cut_count, 1, &s->cut_room, sizeof *cuts);

    if (!cuts)
        return false;
    s->cuts = cuts;
    cuts[s->cut_count++] = t;
    return true;
}

/* Where borders cross a line a little left of a piece of row, as shares of it, and its
 * end. */
static bool cuts_find(struct sharing *s, const struct row_piece *row)
{
    struct point middle = point_between(row->from, row->to, 0.5);
    struct point left = left_of(row->from, row->to);
    struct point a = {row->from.x + left.x - middle.x, row->from.y + left.y - middle.y};
    struct point d = {row->to.x - row->from.x, row->to.y - row->from.y};

    s->cut_count = 0;
    for (size_t i = 0; i < s->border_count; i++) {
        struct point p = s->borders[i].a;
        struct point q = s->borders[i].b;
        double from = d.x * (p.y - a.y) - d.y * (p.x - a.x);
        double to = d.x * (q.y - a.y) - d.y * (q.x - a.x);
        struct point at;
        double t;

        if ((from > 0) == (to > 0))
            continue;
        at = point_between(p, q, from / (from - to));
        t = dot((struct point){at.x - a.x, at.y - a.y}, d) / dot(d, d);
        if (t > 0 && t < 1 && !cut_add(s, t))
            return false;
    }
    if (!cut_add(s, 1))
        return false;
    numbers_sort(s->cuts, s->cut_count);
    return true;
}

/* Pieces of rows with the section of each. */
struct shared_rows {
    struct row_piece *rows;
    size_t *sections;
    size_t count, row_room, section_room;
};

static bool row_put(struct sharing *s, struct shared_rows *out,
                    const struct row_piece *row, size_t section)
{
    struct row_piece *rows =
        grow_in(s->w.arena, out->rows, out->count, 1, &out->row_room, sizeof *rows);
    size_t *sections = grow_in(s->w.arena, out->sections, out->count, 1,
                               &out->section_room, sizeof *sections);

    if (!rows || !sections)
        return false;
    out->rows = rows;
    out->sections = sections;
    rows[out->count] = *row;
    rows[out->count].fasteners = 0;
    sections[out->count++] = section;
    return true;
}

/* Cuts a piece of row where it goes from one section to another. */
static bool row_cut(struct sharing *s, const struct row_piece *row,
                    struct shared_rows *out)
{
    double length = point_distance(row->from, row->to);
    size_t first = out->count;
    double from = 0;

    if (!cuts_find(s, row))
        return false;
    for (size_t k = 0; k < s->cut_count; k++) {
        struct row_piece part = *row;
        size_t section;

        if ((s->cuts[k] - from) * length < same_place && s->cuts[k] < 1)
            continue;
        part.from = point_between(row->from, row->to, from);
        part.to = point_between(row->from, row->to, s->cuts[k]);
        from = s->cuts[k];
        section = section_at(s->group, left_of(part.from, part.to));
        if (out->count > first && out->sections[out->count - 1] == section)
            out->rows[out->count - 1].to = part.to;
        else if (!row_put(s, out, &part, section))
            return false;
    }
    return true;
}

/* The rows of one section, with the screws that stand in them. */
static bool rows_give(struct sharing *s, const struct shared_rows *shared,
                      const struct layout *counted, size_t section)
{
    struct layout *out = &s->out[section];
    size_t plate = 0;

    out->rows = arena_array(s->w.arena, shared->count, sizeof *out->rows);
    out->plates = arena_array(s->w.arena, counted->plate_count, sizeof *out->plates);
    out->row_count = 0;
    if (!out->rows || !out->plates)
        return false;
    for (size_t k = 0; k < shared->count; k++) {
        size_t end = plate + (size_t)shared->rows[k].fasteners;
        bool here = shared->sections[k] == section;

        if (here)
            out->rows[out->row_count++] = shared->rows[k];
        for (; plate < end && plate < counted->plate_count; plate++)
            if (here)
                out->plates[out->plate_count++] = counted->plates[plate];
    }
    return true;
}

/* Cuts the rows and counts their screws again: a walk along a row puts each where it
 * stood, and they come in the order of the pieces. */
static enum outlay_status rows_share(struct sharing *s, bool placed)
{
    struct shared_rows shared = {NULL, NULL, 0, 0, 0};
    struct takeoff_settings settings = {.place_plates = placed};
    struct layout counted = {.method = s->laid->method};
    struct seam_work w = s->w;

    for (size_t k = 0; k < s->laid->row_count; k++)
        if (!row_cut(s, &s->laid->rows[k], &shared))
            return no_memory(s);
    counted.rows = shared.rows;
    counted.row_count = shared.count;
    w.out = &counted;
    w.settings = &settings;
    if (!rows_count(&w))
        return no_memory(s);
    for (size_t k = 0; k < s->group->count; k++)
        if (!rows_give(s, &shared, &counted, k))
            return no_memory(s);
    return OUTLAY_OK;
}

/* ---- Sheets and boards ---- */

/* Cuts a shape along the borders, into s->pieces and s->areas.
 * @param[out] most  the section with most of it */
static enum outlay_status shape_cut(struct sharing *s, const struct region *shape,
                                    size_t *most)
{
    struct box box = region_box(shape);
    bool meets = false;
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < s->group->count; k++) {
        s->pieces[k] = (struct region){NULL, 0};
        s->areas[k] = 0;
    }
    for (size_t i = 0; i < s->border_count && !meets; i++)
        meets = border_meets(&s->borders[i], &box);
    *most = 0;
    if (!meets) {
        const struct point *points = shape->polygons[0].rings[0].points;

        *most = section_at(s->group, left_of(points[0], points[1]));
        s->pieces[*most] = *shape;
        s->areas[*most] = region_area(shape);
        return OUTLAY_OK;
    }
    for (size_t k = 0; k < s->group->count && status == OUTLAY_OK; k++) {
        status = regions_common(&s->w, shape, &s->group->parts[k], &s->pieces[k]);
        s->areas[k] = region_area(&s->pieces[k]);
        if (s->areas[k] > s->areas[*most] * (1 + 1e-9))
            *most = k;
    }
    return status;
}

/* Leaves out what is rounding. @return area of the rest, m2 */
static double pieces_settle(struct sharing *s, size_t most)
{
    double sum = 0;

    for (size_t k = 0; k < s->group->count; k++) {
        if (s->areas[k] < none && k != most)
            s->areas[k] = 0;
        sum += s->areas[k];
    }
    return sum;
}

static enum outlay_status sheet_share(struct sharing *s, const struct sheet *sheet)
{
    size_t most = 0;
    enum outlay_status status = shape_cut(s, &sheet->region, &most);
    double sum = pieces_settle(s, most);

    for (size_t k = 0; k < s->group->count && status == OUTLAY_OK; k++) {
        struct layout *out = &s->out[k];
        struct sheet piece = *sheet;

        if (!(s->areas[k] > 0))
            continue;
        piece.region = s->pieces[k];
        piece.area = s->areas[k];
        if (sheet->kind == SHEET_COVER_STRIP) {
            piece.length = sheet->length * s->areas[k] / sum;
        } else {
            piece.elsewhere = s->areas[k] == sum ? 0 : 1 - s->areas[k] / sum;
            piece.cut_elsewhere = k != most;
            s->sheets[k] += piece.area;
        }
        out->sheets[out->sheet_count++] = piece;
    }
    return status;
}

static enum outlay_status sheets_share(struct sharing *s)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t k = 0; k < s->group->count; k++) {
        s->out[k].sheet_count = 0;
        s->out[k].sheets =
            arena_array(s->w.arena, s->laid->sheet_count, sizeof *s->out[k].sheets);
        if (!s->out[k].sheets)
            return no_memory(s);
    }
    for (size_t i = 0; i < s->laid->sheet_count && status == OUTLAY_OK; i++)
        status = sheet_share(s, &s->laid->sheets[i]);
    return status;
}

/* The plates that hold boards. */
struct plate_list {
    struct plate *plates;
    size_t count;
};

static struct plate_list board_plates_of(const struct layout *layout)
{
    if (layout->method == METHOD_SEAM_FASTENED)
        return (struct plate_list){layout->board_plates, layout->board_plate_count};
    return (struct plate_list){layout->plates, layout->plate_count};
}

static void board_plates_set(struct layout *layout, struct plate_list list)
{
    if (layout->method == METHOD_SEAM_FASTENED) {
        layout->board_plates = list.plates;
        layout->board_plate_count = list.count;
    } else {
        layout->plates = list.plates;
        layout->plate_count = list.count;
    }
}

/* A board in each section in which it lies, without screws so far. */
static enum outlay_status board_share(struct sharing *s, const struct board *board,
                                      size_t *most)
{
    enum outlay_status status = shape_cut(s, &board->region, most);
    double sum = pieces_settle(s, *most);

    for (size_t k = 0; k < s->group->count && status == OUTLAY_OK; k++) {
        struct layout *out = &s->out[k];
        struct board piece = *board;

        if (!(s->areas[k] > 0))
            continue;
        piece.region = s->pieces[k];
        piece.area = s->areas[k];
        piece.elsewhere = s->areas[k] == sum ? 0 : 1 - s->areas[k] / sum;
        piece.cut_elsewhere = k != *most;
        piece.plates = 0;
        out->boards[out->board_count++] = piece;
    }
    return status;
}

/* Its screws count where they stand; those beside its pieces where most of it lies. */
static void plate_share(struct sharing *s, struct plate_list *lists, struct plate plate,
                        size_t most)
{
    size_t at = section_at(s->group, plate.at);
    size_t k = s->areas[at] > 0 ? at : most;

    plate.of = s->out[k].board_count - 1;
    s->out[k].boards[plate.of].plates++;
    lists[k].plates[lists[k].count++] = plate;
}

static enum outlay_status boards_share(struct sharing *s, bool placed)
{
    const struct plate_list laid = board_plates_of(s->laid);
    struct plate_list *lists = arena_array(s->w.arena, s->group->count, sizeof *lists);
    size_t next = 0;
    enum outlay_status status = OUTLAY_OK;

    if (!lists)
        return no_memory(s);
    for (size_t k = 0; k < s->group->count && status == OUTLAY_OK; k++) {
        struct layout *out = &s->out[k];

        out->board_count = 0;
        out->boards = arena_array(s->w.arena, s->laid->board_count, sizeof *out->boards);
        lists[k].plates = arena_array(s->w.arena, laid.count, sizeof *laid.plates);
        if (!out->boards || !lists[k].plates)
            status = no_memory(s);
    }
    for (size_t i = 0; i < s->laid->board_count && status == OUTLAY_OK; i++) {
        size_t most = 0;

        status = board_share(s, &s->laid->boards[i], &most);
        for (; status == OUTLAY_OK && next < laid.count && laid.plates[next].of == i;
             next++)
            plate_share(s, lists, laid.plates[next], most);
    }
    for (size_t k = 0; k < s->group->count && status == OUTLAY_OK; k++)
        board_plates_set(&s->out[k], placed ? lists[k] : (struct plate_list){NULL, 0});
    return status;
}

/* ---- What has no place ---- */

/* Lengths of rows, which have places. */
static void rows_measure(struct layout *out)
{
    out->side_lap = 0;
    out->base_length = 0;
    for (size_t i = 0; i < out->row_count; i++) {
        const struct row_piece *row = &out->rows[i];
        double length = point_distance(row->from, row->to);

        if (row->base)
            out->base_length += length;
        else if (!row->intermediate)
            out->side_lap += length;
    }
}

/* A whole number by area, as plates_by_area(). */
static size_t count_by_area(const struct sharing *s, size_t count, double sum, size_t k)
{
    double before = 0;

    for (size_t i = 0; i < k; i++)
        before += s->sheets[i];
    return (size_t)(lround((double)count * (before + s->sheets[k]) / sum) -
                    lround((double)count * before / sum));
}

static void rest_share(struct sharing *s, struct roof *const *roofs)
{
    const struct layout *laid = s->laid;
    const struct group *g = s->group;
    double sheets = 0;
    double doubled = 0;

    for (size_t k = 0; k < g->count; k++) {
        sheets += s->sheets[k];
        doubled += fmax(s->sheets[k] - region_area(&g->parts[k]), 0);
    }
    for (size_t k = 0; k < g->count && sheets > 0; k++) {
        struct layout *out = &s->out[k];
        const struct roof covered = roof_inside(roofs[k]);
        double twice = fmax(s->sheets[k] - region_area(&g->parts[k]), 0);
        double share = s->sheets[k] / sheets;

        rows_measure(out);
        if (laid->method != METHOD_SEAM_FASTENED)
            out->side_lap = doubled > 0 ? laid->side_lap * twice / doubled : 0;
        out->end_lap = laid->end_lap * share;
        out->t_joints = count_by_area(s, laid->t_joints, sheets, k);
        out->unboarded = laid->unboarded * share;
        out->ribbon_length = out->full_cover = out->glued_area = 0;
        adhesive_lay(&covered, out);
    }
}

/* ---- All of it ---- */

static bool sharing_start(struct sharing *s)
{
    size_t count = s->group->count;

    s->pieces = arena_array(s->w.arena, count, sizeof *s->pieces);
    s->areas = arena_array(s->w.arena, count, sizeof *s->areas);
    s->sheets = arena_array(s->w.arena, count, sizeof *s->sheets);
    for (size_t k = 0; k < count; k++) {
        s->out[k] = *s->laid;
        s->out[k].plates = s->out[k].board_plates = NULL;
        s->out[k].plate_count = s->out[k].board_plate_count = 0;
    }
    return s->pieces && s->areas && s->sheets && borders_find(s);
}

enum outlay_status layout_share_out(const struct group *group, struct roof *const *roofs,
                                    const struct layout *laid, bool placed,
                                    struct geo_ctx *ctx, struct layout *out,
                                    struct outlay_error *err)
{
    struct sharing s = {.w = {.arena = group->building->arena, .ctx = ctx, .err = err},
                        .group = group,
                        .laid = laid,
                        .out = out};
    bool seam = laid->method == METHOD_SEAM_FASTENED;
    enum outlay_status status = OUTLAY_OK;

    if (!sharing_start(&s))
        return no_memory(&s);
    if (laid->sheet_count == 0)
        return OUTLAY_OK;
    status = rows_share(&s, seam && placed);
    if (status == OUTLAY_OK)
        status = sheets_share(&s);
    if (status == OUTLAY_OK)
        status = boards_share(&s, placed);
    if (status == OUTLAY_OK)
        rest_share(&s, roofs);
    return status;
}
