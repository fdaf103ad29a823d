/* Cuts the planes into panels, row by row, and crickets into thicknesses. */

#include <stdlib.h>

#include "base/grow.h"
#include "base/units.h"
#include "taper/taper_private.h"

/* A panel that lacks no more than this each way is whole, m; what is narrower than the
 * second isn't cut, it is filled as a joint (as for boards, ours). */
static const double joint = 0.002;
static const double filled = 0.025;

/* Offsets of planes that differ by less are equal, m. */
static const double same_plane = 1e-4;

/* What of a piece lies in one place of the grid of panels; a panel once those of all
 * pieces are put together. */
struct tile {
    size_t root;
    struct plane plane;
    long row, column;
    int layers; /* of fill */
    double area;
    struct box box; /* x along the slope, y across it */
};

struct tiles {
    struct tile *items;
    size_t count, capacity;
};

/* ---- Tiles ---- */

/* Distance across the slope of a plane from the source that its panels are laid from. */
static struct plane across(const struct plane *plane, struct point from)
{
    return (struct plane){plane->y * from.x - plane->x * from.y, -plane->y, plane->x};
}

/* What of a ring lies between two values of a plane. */
static enum outlay_status strip(struct arena *arena, struct ring ring, struct plane plane,
                                double low, double high, struct ring *out)
{
    struct bounds within = {.count = 0};

    bound(&within, (struct plane){plane.at - low, plane.x, plane.y});
    bound(&within, (struct plane){high - plane.at, -plane.x, -plane.y});
    *out = ring;
    return bounds_cut(arena, &within, out);
}

static enum outlay_status add_tile(struct taper_work *w, struct tiles *tiles,
                                   struct tile tile, struct ring ring, struct plane side)
{
    struct tile *items =
        grow_in(w->arena, tiles->items, tiles->count, 1, &tiles->capacity, sizeof *items);

    if (!items)
        return OUTLAY_E_MEMORY;
    tiles->items = items;
    tile.area = ring_area(ring);
    tile.box = box_empty();
    for (size_t i = 0; i < ring.count; i++)
        box_add(&tile.box, (struct point){plane_at(tile.plane, ring.points[i]),
                                          plane_at(side, ring.points[i])});
    tiles->items[tiles->count++] = tile;
    return OUTLAY_OK;
}

static enum outlay_status cut_row(struct taper_work *w, struct tiles *tiles,
                                  struct tile tile, struct ring row, struct plane side)
{
    double width = w->out->format.width;
    double most = plane_most(side, row);
    enum outlay_status status = OUTLAY_OK;

    for (tile.column = (long)floor(-plane_most(plane_turned(side), row) / width);
         (double)tile.column * width < most && status == OUTLAY_OK; tile.column++) {
        struct ring ring;

        status = strip(w->arena, row, side, (double)tile.column * width,
                       (double)(tile.column + 1) * width, &ring);
        if (status == OUTLAY_OK && ring.count > 0)
            status = add_tile(w, tiles, tile, ring, side);
    }
    return status;
}

static enum outlay_status cut_piece(struct taper_work *w, struct tiles *tiles,
                                    const struct piece *piece)
{
    double length = w->out->format.length;
    size_t root = w->sources.items[piece->source].root;
    struct tile tile = {.root = root, .plane = piece->distance};
    struct plane side = across(&piece->distance, w->sources.items[root].at);
    double most = plane_most(piece->distance, piece->ring);
    enum outlay_status status = OUTLAY_OK;

    for (tile.row = (long)floor(-plane_most(plane_turned(piece->distance), piece->ring) /
                                length);
         (double)tile.row * length < most && status == OUTLAY_OK; tile.row++) {
        struct ring row;

        status = strip(w->arena, piece->ring, piece->distance, (double)tile.row * length,
                       (double)(tile.row + 1) * length, &row);
        if (status == OUTLAY_OK && row.count > 0)
            status = cut_row(w, tiles, tile, row, side);
    }
    return status;
}

/* ---- Panels ---- */

static int compare(double a, double b, double same)
{
    return a < b - same ? -1 : a > b + same;
}

static int by_place(const void *a, const void *b)
{
    const struct tile *p = a;
    const struct tile *q = b;
    int order = (p->root > q->root) - (p->root < q->root);

    if (order == 0)
        order = compare(p->plane.x, q->plane.x, 0);
    if (order == 0)
        order = compare(p->plane.y, q->plane.y, 0);
    if (order == 0)
        order =
            compare(round(p->plane.at / same_plane), round(q->plane.at / same_plane), 0);
    if (order == 0)
        order = (p->row > q->row) - (p->row < q->row);
    return order ? order : (p->column > q->column) - (p->column < q->column);
}

/* Puts the tiles of one panel together. */
static void join_tiles(struct tiles *tiles)
{
    size_t kept = 0;

    if (tiles->count > 0)
        qsort(tiles->items, tiles->count, sizeof *tiles->items, by_place);
    for (size_t i = 0; i < tiles->count; i++) {
        struct tile *tile = &tiles->items[i];
        struct tile *last = kept > 0 ? &tiles->items[kept - 1] : NULL;

        if (last && by_place(last, tile) == 0) {
            last->area += tile->area;
            box_add(&last->box, (struct point){tile->box.min_x, tile->box.min_y});
            box_add(&last->box, (struct point){tile->box.max_x, tile->box.max_y});
        } else {
            tiles->items[kept++] = *tile;
        }
    }
    tiles->count = kept;
}

/* The panel of a row: the sequence is repeated over flat fill. */
static struct taper_panel panel_of(struct panel_sequence sequence, size_t row)
{
    const struct panel *panel = &sequence.panels[row % sequence.count];

    return (struct taper_panel){.letter = panel->name,
                                .thin = panel->thin,
                                .thick = panel->thick,
                                .fill = (int)(row / sequence.count)};
}

static struct taper_panel panel_cut(const struct taper_work *w, struct taper_panel panel,
                                    const struct tile *tile)
{
    struct taper_format format = w->out->format;

    panel.area = tile->area;
    panel.length = fmin(tile->box.max_x - tile->box.min_x, format.length);
    panel.width = fmin(tile->box.max_y - tile->box.min_y, format.width);
    panel.whole = tile->area >= (format.length - joint) * (format.width - joint);
    if (panel.length < filled || panel.width < filled)
        panel.length = panel.width = 0;
    return panel;
}

static void add_panels(struct taper_work *w, struct panel_sequence sequence, size_t first,
                       struct tiles *tiles)
{
    struct taper *out = w->out;

    for (size_t i = 0; i < tiles->count; i++) {
        struct tile *tile = &tiles->items[i];
        struct taper_panel panel = panel_of(sequence, first + (size_t)tile->row);

        tile->layers = panel.fill;
        out->panels[out->panel_count++] = panel_cut(w, panel, tile);
    }
}

/* ---- Fill ---- */

/* Flat fill has no slope: tiles on all sides of a drain lie in one grid of squares, so
 * that those on both sides of a valley become one. */
static void flatten(const struct taper_work *w, struct tile *tile)
{
    struct point from = w->sources.items[tile->root].at;

    if (fabs(w->out->format.length - w->out->format.width) > joint ||
        fabs(plane_at(tile->plane, from)) > same_plane)
        return;
    while (tile->plane.x < 0.5) { /* quarter turns */
        struct box box = tile->box;
        long row = tile->row;

        tile->plane = (struct plane){0, tile->plane.y, -tile->plane.x};
        tile->row = -1 - tile->column;
        tile->column = row;
        tile->box = (struct box){-box.max_y, box.min_x, -box.min_y, box.max_x};
    }
    tile->plane = (struct plane){-from.x, 1, 0};
}

static void add_fills(struct taper_work *w, struct tiles *tiles)
{
    struct taper *out = w->out;
    size_t kept = 0;

    for (size_t i = 0; i < tiles->count; i++)
        if (tiles->items[i].layers > 0) {
            tiles->items[kept] = tiles->items[i];
            flatten(w, &tiles->items[kept++]);
        }
    tiles->count = kept;
    join_tiles(tiles);
    for (size_t i = 0; i < tiles->count; i++) {
        struct taper_panel fill = {.fill = tiles->items[i].layers};

        out->fills[out->fill_count++] = panel_cut(w, fill, &tiles->items[i]);
    }
}

/* ---- Crickets ---- */

/* The area of each thickness of all crickets, of the panels' rise. */
static enum outlay_status cut_crickets(struct taper_work *w,
                                       struct panel_sequence sequence)
{
    /* the cricket gains twice as much in the length of a panel */
    double step = 2 * w->out->cricket_format.length;
    double most = 0;

    for (size_t i = 0; i < w->pieces.count; i++)
        most =
            fmax(most, plane_most(w->pieces.items[i].cricket, w->pieces.items[i].ring));
    for (size_t row = 0; (double)row * step < most; row++) {
        struct taper_panel panel = panel_of(sequence, row);

        for (size_t i = 0; i < w->pieces.count; i++) {
            const struct piece *piece = &w->pieces.items[i];
            struct ring ring = {NULL, 0};

            if (piece->cricket.x != 0 &&
                strip(w->arena, piece->ring, piece->cricket, (double)row * step,
                      (double)(row + 1) * step, &ring))
                return OUTLAY_E_MEMORY;
            panel.area += ring_area(ring);
        }
        panel.cricket = true;
        w->out->panels[w->out->panel_count++] = panel;
        if (panel.fill > 0)
            w->out->fills[w->out->fill_count++] = panel;
    }
    return OUTLAY_OK;
}

/* ---- All ---- */

static struct taper_format format_of(struct panel_sequence sequence)
{
    const struct panel *panels = sequence.panels;

    if (sequence.count == 0)
        return (struct taper_format){0, 0, 0};
    return (struct taper_format){panels[0].length, panels[0].width,
                                 panels[sequence.count - 1].thick - panels[0].thin};
}

/* The panel that begins at the least thickness; the sequence's count for none. */
static size_t first_panel(struct panel_sequence sequence, double least)
{
    size_t first = 0;

    while (first < sequence.count && fabs(sequence.panels[first].thin - least) > 5e-4)
        first++;
    return first;
}

static enum outlay_status cut_tiles(struct taper_work *w, struct tiles *tiles)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < w->pieces.count && status == OUTLAY_OK; i++)
        if (isfinite(w->pieces.items[i].distance.at))
            status = cut_piece(w, tiles, &w->pieces.items[i]);
    return status;
}

/* Rows of crickets that there may be, for room. */
static size_t cricket_rows(const struct taper_work *w)
{
    double length = w->out->cricket_format.length;

    return length > 0 ? 2 + (size_t)(w->out->most / (2 * length * w->out->slope)) : 0;
}

enum outlay_status panels_cut(struct taper_work *w)
{
    struct taper *out = w->out;
    struct panel_sequence sequence = panels_of_slope(w->settings->panels, out->slope);
    struct panel_sequence twice = panels_of_slope(w->settings->panels, 2 * out->slope);
    size_t first = first_panel(sequence, out->least);
    struct tiles tiles = {NULL, 0, 0};
    size_t room = 0;
    enum outlay_status status = OUTLAY_OK;

    out->format = format_of(sequence);
    out->cricket_format = format_of(twice);
    if (sequence.count == 0)
        out->panels_lacking = "the catalogue has no panels of this slope";
    else if (first == sequence.count)
        out->panels_lacking = "no panel of the catalogue begins at the least thickness";
    if (out->cricket_area > 0 && twice.count == 0)
        out->crickets_lacking = "the catalogue has no panels of twice the slope";
    if (!out->panels_lacking)
        status = cut_tiles(w, &tiles);
    if (status != OUTLAY_OK)
        return status;
    join_tiles(&tiles);
    room = tiles.count + cricket_rows(w);
    out->panels = arena_array(w->arena, room, sizeof *out->panels);
    out->fills = arena_array(w->arena, room, sizeof *out->fills);
    if (!out->panels || !out->fills)
        return OUTLAY_E_MEMORY;
    add_panels(w, sequence, first, &tiles);
    add_fills(w, &tiles);
    return twice.count > 0 ? cut_crickets(w, twice) : OUTLAY_OK;
}
