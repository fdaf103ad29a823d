/* Half sheets that follow the edges, frame by frame. A frame is laid along the boundary
 * of what the one before it leaves: a seam a half-row spacing inside, half a lap more on
 * either side. Its sheets, one an edge, are cut along the mitres of the corners, where
 * they lap. Parts too narrow for half sheets from both sides are cut off first and get
 * parallel sheets of their own, so no frames cross. */

#include <math.h>

#include "geo/hull.h"
#include "geo/jogs.h"
#include "geo/offset.h"
#include "geo/outline.h"
#include "takeoff/seam_private.h"

/* Smaller pieces that no half sheet reaches are rounding, m2. */
static const double filler_min = 1e-3;

/* What is moved out again goes on by so much, and so does what is cut off then, lest
 * rounding leaves slivers, m. */
static const double further = 0.01;

/* An edge of what is framed, without small jogs. */
struct frame_ring {
    struct ring ring;
    double shift; /* of its jogs beyond it: the frame lies so much further out, m */
};

struct frames {
    struct seam_work *w;
    struct region rest;  /* not framed yet */
    struct region loose; /* too narrow for frames */
    struct ring *walls;  /* openings without strips */
    size_t wall_count;
    struct frame_ring *rings; /* of the rest */
    size_t ring_count;
    double tolerance; /* of jogs, m */
};

static enum outlay_status no_memory(struct frames *f)
{
    return outlay_fail(f->w->err, OUTLAY_E_MEMORY, "laying half sheets");
}

/* ---- What is framed ---- */

bool hole_is_wall(const struct seam_work *w, struct ring ring)
{
    double edge = 0;
    double length = 0;

    for (size_t k = 0, j = ring.count - 1; k < ring.count; j = k++) {
        struct point a = ring.points[j];
        struct point b = ring.points[k];
        double part = point_distance(a, b);
        struct point at = point_between(a, b, 0.5);
        int role = role_at(w, (struct point){at.x - (b.y - a.y) / part * 0.01,
                                             at.y + (b.x - a.x) / part * 0.01});

        length += part;
        edge += role == ZONE_CORNER || role == ZONE_PERIMETER ? part : 0;
    }
    return edge <= length / 2;
}

static bool walls_find(struct frames *f)
{
    const struct region *outline = &f->w->roof->outline;

    f->walls = arena_array(f->w->arena, region_points(outline), sizeof *f->walls);
    for (size_t i = 0; f->walls && i < outline->polygon_count; i++)
        for (size_t j = 1; j < outline->polygons[i].ring_count; j++)
            if (hole_is_wall(f->w, outline->polygons[i].rings[j]))
                f->walls[f->wall_count++] = outline->polygons[i].rings[j];
    return f->walls != NULL;
}

/* Whether a ring of the rest is an opening's, still whole. */
static bool ring_is_wall(const struct frames *f, struct ring ring)
{
    for (size_t i = 0; i < f->wall_count; i++)
        for (size_t k = 0; k < f->walls[i].count; k++)
            if (point_distance(f->walls[i].points[k], ring.points[0]) < 1e-3)
                return true;
    return false;
}

static enum outlay_status frame_rings_find(struct frames *f, const struct region *region)
{
    f->ring_count = 0;
    f->rings = arena_array(f->w->arena, region_points(region), sizeof *f->rings);
    if (!f->rings)
        return no_memory(f);
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            struct frame_ring *out = &f->rings[f->ring_count];
            struct ring level;
            struct thin_ring thin;

            if (j > 0 && ring_is_wall(f, region->polygons[i].rings[j]))
                continue;
            if (ring_without_jogs(f->w->arena, region->polygons[i].rings[j], f->tolerance,
                                  &level) != OUTLAY_OK ||
                ring_thin(f->w->arena, level, f->tolerance, &thin) != OUTLAY_OK)
                return no_memory(f);
            *out = (struct frame_ring){thin.ring, 0};
            for (size_t k = 0; k < thin.ring.count; k++)
                out->shift = fmax(out->shift, thin.deviation[k]);
            f->ring_count++;
        }
    return OUTLAY_OK;
}

/* What lies deeper than `depth` inside the rings of a region. */
static enum outlay_status inset(struct frames *f, const struct region *region,
                                double depth, struct region *out)
{
    struct layer_rings rings = {NULL, 0, 0};

    *out = (struct region){NULL, 0};
    if (!layer_rings_add_region(f->w->arena, &rings, region, 0))
        return no_memory(f);
    for (size_t k = 0; k < f->ring_count; k++) {
        struct ring moved;

        if (ring_inset(f->w->arena, f->rings[k].ring, depth - f->rings[k].shift,
                       &moved) != OUTLAY_OK ||
            !layer_rings_add(f->w->arena, &rings, moved, 1))
            return no_memory(f);
    }
    return layers_common(f->w, &rings, out);
}

/* Twice the area over the length of the boundary: about the width of a long piece. */
static double width_of(const struct polygon *polygon)
{
    double length = 0;

    for (size_t j = 0; j < polygon->ring_count; j++)
        length += ring_length(polygon->rings[j]);
    return 2 * region_area(&(struct region){(struct polygon *)polygon, 1}) / length;
}

static bool loose_add(struct frames *f, const struct region *more)
{
    struct polygon *all = arena_array(
        f->w->arena, f->loose.polygon_count + more->polygon_count, sizeof *all);

    for (size_t i = 0; all && i < f->loose.polygon_count; i++)
        all[i] = f->loose.polygons[i];
    for (size_t i = 0; all && i < more->polygon_count; i++)
        all[f->loose.polygon_count + i] = more->polygons[i];
    f->loose.polygons = all;
    f->loose.polygon_count += more->polygon_count;
    return all != NULL;
}

/* Parts in which half sheets from both sides would meet: what comes back when the rest
 * is moved in and out again is wide enough. core: moved in; empty: nothing is. */
static enum outlay_status narrow_find(struct frames *f, struct region *core,
                                      struct region *narrow)
{
    double depth = f->w->half + SLIVER / 2;
    struct region wide;
    size_t count = 0;
    enum outlay_status status = inset(f, &f->rest, depth, core);

    *narrow = (struct region){NULL, 0};
    if (status != OUTLAY_OK || core->polygon_count == 0)
        return status;
    status = region_grow(f->w, core, depth + further, &wide);
    if (status == OUTLAY_OK)
        status = region_less(f->w, &f->rest, &wide, narrow);
    for (size_t i = 0; status == OUTLAY_OK && i < narrow->polygon_count; i++)
        if (width_of(&narrow->polygons[i]) > SLIVER)
            narrow->polygons[count++] = narrow->polygons[i];
    narrow->polygon_count = status == OUTLAY_OK ? count : 0;
    return count > 0 ? region_grow(f->w, narrow, further, narrow) : status;
}

/* ---- Sheets of one frame ---- */

static struct point direction(struct ring ring, size_t k)
{
    struct point a = ring.points[k % ring.count];
    struct point b = ring.points[(k + 1) % ring.count];
    double length = point_distance(a, b);

    return (struct point){(b.x - a.x) / length, (b.y - a.y) / length};
}

/* The side of the mitre at vertex k on which the edge that leaves it lies, MITRE_LAP / 2
 * moved back. */
static struct half_plane mitre(struct ring ring, size_t k)
{
    struct point in = direction(ring, k + ring.count - 1);
    struct point out = direction(ring, k);
    struct point normal = {in.x + out.x, in.y + out.y};
    double size = sqrt(dot(normal, normal));
    struct point p = ring.points[k % ring.count];

    if (!(size > 1e-3)) { /* turns back */
        normal = out;
        size = 1;
    }
    normal = (struct point){normal.x / size, normal.y / size};
    return (struct half_plane){
        {p.x - normal.x * MITRE_LAP / 2, p.y - normal.y * MITRE_LAP / 2}, normal};
}

static struct half_plane turned_back(struct half_plane half)
{
    return (struct half_plane){
        {half.at.x + half.inward.x * MITRE_LAP, half.at.y + half.inward.y * MITRE_LAP},
        {-half.inward.x, -half.inward.y}};
}

/* The sheet along the edge that leaves vertex k. */
static enum outlay_status edge_sheet(struct frames *f, const struct region *strip,
                                     const struct frame_ring *along, size_t k,
                                     struct layer_rings *laid)
{
    struct seam_work *w = f->w;
    struct point p = along->ring.points[k];
    struct point u = direction(along->ring, k);
    double outer = -w->assembly->lap / 2 - along->shift + CUT_SHORT;
    double inner = outer + w->assembly->sheet_width / 2 - 2 * CUT_SHORT;
    const struct half_plane sides[] = {
        {{p.x - u.y * outer, p.y + u.x * outer}, {-u.y, u.x}},
        {{p.x - u.y * inner, p.y + u.x * inner}, {u.y, -u.x}},
        mitre(along->ring, k),
        turned_back(mitre(along->ring, k + 1)),
    };
    struct region sheet;
    enum outlay_status status = region_cut(w, strip, sides, 4, &sheet);

    if (status == OUTLAY_OK && (!pieces_add(w, &sheet, SHEET_HALF, u) ||
                                !layer_rings_add_region(w->arena, laid, &sheet, 1)))
        status = no_memory(f);
    return status;
}

/* The weld along the mitre at a vertex, and the patch where it ends on the next seam. */
static void mitre_count(struct frames *f, struct ring ring, size_t k)
{
    struct point in = direction(ring, k + ring.count - 1);
    struct point out = direction(ring, k);
    double cosine = sqrt(fmax((1 + dot(in, out)) / 2, 0.01)); /* of half the turn */

    f->w->out->end_lap += (f->w->half + f->w->assembly->lap / 2) / cosine;
    f->w->out->t_joints++;
}

/* A piece of the strip that no sheet along an edge covers: one sheet, or parallel ones
 * where it bends. */
static enum outlay_status filler_lay(struct frames *f, const struct region *bare)
{
    struct seam_work *w = f->w;
    struct region piece;
    struct rectangle around;
    enum outlay_status status = region_grow(w, bare, MITRE_LAP, &piece);

    if (status != OUTLAY_OK || piece.polygon_count == 0)
        return status;
    if (smallest_rectangle(w->arena, piece.polygons[0].rings[0], &around) != OUTLAY_OK)
        return no_memory(f);
    if (around.shorter > w->assembly->sheet_width)
        return lines_lay(w, bare, &piece, 0);
    if (!pieces_add(w, &piece,
                    around.shorter > w->assembly->sheet_width / 2 ? SHEET_FULL
                                                                  : SHEET_HALF,
                    (struct point){cos(around.bearing), sin(around.bearing)}))
        return no_memory(f);
    return OUTLAY_OK;
}

static enum outlay_status fillers_lay(struct frames *f, struct layer_rings *laid)
{
    struct seam_work *w = f->w;
    struct region bare;
    enum outlay_status status = layers_rest(w, laid, &bare);

    for (size_t i = 0; status == OUTLAY_OK && i < bare.polygon_count; i++) {
        const struct region piece = {bare.polygons + i, 1};

        if (region_area(&piece) >= filler_min && width_of(bare.polygons + i) >= 2e-3)
            status = filler_lay(f, &piece);
    }
    return status;
}

/* body: what is framed; next: what the frame leaves */
static enum outlay_status frame_sheets(struct frames *f, const struct region *body,
                                       const struct region *next)
{
    struct seam_work *w = f->w;
    double lap = w->assembly->lap;
    struct layer_rings rings = {NULL, 0, 0};
    struct layer_rings laid = {NULL, 0, 0};
    struct region strip;
    enum outlay_status status = OUTLAY_OK;

    if (!layer_rings_add_region(w->arena, &rings, &w->roof->outline, 0) ||
        !layer_rings_add_grown(w, &rings, body, lap / 2, 1))
        return no_memory(f);
    for (size_t i = 0; i < next->polygon_count; i++)
        for (size_t j = 0; j < next->polygons[i].ring_count; j++) {
            struct ring ring = next->polygons[i].rings[j];

            if (!(j > 0 && ring_is_wall(f, ring)) &&
                ring_inset(w->arena, ring, lap / 2, &ring) != OUTLAY_OK)
                return no_memory(f);
            if (!layer_rings_add(w->arena, &rings, ring, 2))
                return no_memory(f);
        }
    status = layers_common(w, &rings, &strip);
    if (status == OUTLAY_OK && !layer_rings_add_region(w->arena, &laid, &strip, 0))
        return no_memory(f);
    for (size_t r = 0; r < f->ring_count; r++)
        for (size_t k = 0; k < f->rings[r].ring.count && status == OUTLAY_OK; k++) {
            status = edge_sheet(f, &strip, &f->rings[r], k, &laid);
            mitre_count(f, f->rings[r].ring, k);
        }
    return status == OUTLAY_OK ? fillers_lay(f, &laid) : status;
}

/* ---- Rounds ---- */

static enum outlay_status rings_lay(struct frames *f, const struct region *inside)
{
    struct clip clip = {.within = NULL};

    for (size_t i = 0; i < inside->polygon_count; i++)
        for (size_t j = 0; j < inside->polygons[i].ring_count; j++) {
            f->w->kept_rows = f->w->out->row_count;
            if (!ring_row_add(f->w, inside->polygons[i].rings[j], NULL, &clip))
                return no_memory(f);
        }
    f->w->kept_rows = f->w->out->row_count;
    return OUTLAY_OK;
}

/* One frame; *room: there was room for it. */
static enum outlay_status frame_lay(struct frames *f, bool *room)
{
    struct region core;
    struct region narrow;
    struct region next = {NULL, 0};
    enum outlay_status status = frame_rings_find(f, &f->rest);

    *room = false;
    if (status == OUTLAY_OK)
        status = narrow_find(f, &core, &narrow);
    if (status != OUTLAY_OK || core.polygon_count == 0)
        return status;
    *room = true;
    if (narrow.polygon_count > 0) {
        status = region_less(f->w, &f->rest, &narrow, &f->rest);
        if (status == OUTLAY_OK && !loose_add(f, &narrow))
            status = no_memory(f);
        if (status == OUTLAY_OK)
            status = frame_rings_find(f, &f->rest);
    }
    if (status == OUTLAY_OK)
        status = inset(f, &f->rest, f->w->half, &next);
    if (status == OUTLAY_OK)
        status = rings_lay(f, &next);
    if (status == OUTLAY_OK)
        status = rings_lay(f, &narrow);
    if (status == OUTLAY_OK)
        status = frame_sheets(f, &f->rest, &next);
    f->rest = next;
    return status;
}

/* Parallel sheets over each part; the largest tells the direction of the roof. */
static enum outlay_status parts_lay(struct frames *f, const struct region *parts,
                                    double *largest, double *bearing)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < parts->polygon_count && status == OUTLAY_OK; i++) {
        struct region part = {parts->polygons + i, 1};
        struct region cover;
        double area = region_area(&part);

        status = region_grow(f->w, &part, f->w->assembly->lap / 2, &cover);
        if (status == OUTLAY_OK)
            status = lines_lay(f->w, &part, &cover, 0);
        if (area > *largest) {
            *largest = area;
            *bearing = f->w->out->bearing;
        }
    }
    return status;
}

enum outlay_status frames_lay(struct seam_work *w, int half_sheets)
{
    struct frames f = {.w = w, .rest = w->roof->outline};
    double largest = 0;
    double bearing = 0;
    bool room = true;
    int laid = 0;
    enum outlay_status status = OUTLAY_OK;

    f.tolerance = fmin(FRAME_TOLERANCE, 0.1 * w->roof->level.short_side);
    if (!walls_find(&f))
        return no_memory(&f);
    while (laid < half_sheets && room && status == OUTLAY_OK) {
        status = frame_lay(&f, &room);
        laid += room;
    }
    w->out->half_sheets = laid;
    w->out->narrow_area = region_area(&f.loose);
    w->out->met_in_middle = laid < half_sheets || w->out->narrow_area > 0;
    if (laid == 0 && status == OUTLAY_OK)
        return lines_lay(w, NULL, NULL, 0);
    if (status == OUTLAY_OK)
        status = parts_lay(&f, &f.rest, &largest, &bearing);
    if (status == OUTLAY_OK)
        status = parts_lay(&f, &f.loose, &largest, &bearing);
    w->out->bearing = bearing;
    return status;
}
