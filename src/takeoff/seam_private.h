#ifndef OUTLAY_TAKEOFF_SEAM_PRIVATE_H
#define OUTLAY_TAKEOFF_SEAM_PRIVATE_H

/* What the files seam*.c share. Metres and pascals; all in the building's arena. */

#include "catalog/catalog.h"
#include "geo/arrange.h"
#include "takeoff/seam.h"

/* Planning choices (ours), m. */
#define BASE_SPACING 0.3048 /* screws of base securement: 12 in */
#define ROW_END 0.1524      /* most from a row's end to its first screw: 6 in */
#define SLIVER 0.5          /* no sheet narrower than this where it can be helped */
#define ROW_APART 0.15      /* a row nearer to one that it follows is left out */
#define STRIP_WIDTH 0.3048  /* of a cover strip: 12 in */
#define FRAME_TOLERANCE 0.3 /* jogs that frames don't follow */
#define CUT_SHORT 1e-6      /* of sheets, lest edges on one line leave needles */
#define JOINT_BEYOND 0.05   /* so far outside a shared edge lies the other section */
#define MITRE_LAP 0.0762    /* of half sheets at a mitre, welded without a row: 3 in */

/* A part of a segment in one zone: parameters from 0 at its start to 1 at its end. */
struct span {
    double from, to;
    int role;
};

/* Where a segment is cut, and by the boundary of which zone; -1: by anything else. */
struct cut {
    double t;
    int role;
};

/* What is asked of a clip. */
struct clip {
    const struct region *within; /* NULL: the roof */
    bool edge;                   /* the segment is the roof's own edge: base securement */
    bool rough; /* for costs, from outside the roof to outside: what a row on a zone line
                    or along another one needs isn't looked into */
};

/* Sheets side by side: seam i lies between sheet i - 1 and i; the first and the last
 * seam are the ends of what is covered. */
struct bands {
    double *at;            /* count + 1 seams, across the sheets, m */
    enum sheet_kind *kind; /* count sheets */
    size_t count;
};

/* A ring of a zone with its box: most points and segments miss most boxes. */
struct zone_ring {
    struct ring ring;
    struct box box;
    int role;
};

struct seam_work {
    struct arena *arena;
    struct geo_ctx *ctx;
    const struct roof *roof;
    const struct assembly *assembly;
    const struct takeoff_settings *settings;
    struct layout *out;
    struct outlay_error *err;
    const struct zone *zones[ZONE_ROLES]; /* by role; NULL for none */
    double full, half;                    /* row spacings of full and of half sheets */
    bool joined;                          /* a narrow interior has the field's screws */
    struct zone_ring *rings;              /* of all zones, severest zone first */
    size_t ring_count;
    struct cut *cuts; /* scratch of clips */
    size_t cut_capacity, cut_count;
    bool along_edge, along_row; /* whether one may run along what was clipped last */
    struct span *spans;
    size_t span_capacity;
    struct point *scratch[2]; /* of cut rings */
    size_t scratch_capacity;
    size_t row_capacity, plate_capacity, sheet_capacity;
    size_t next_row;
    size_t kept_rows;           /* pieces that later rows keep ROW_APART from */
    struct point along, across; /* unit vectors of the sheets */
};

/* ---- seam_clip.c ---- */

/* Lists the rings of the roof's zones. Returns false when out of memory. */
bool zone_rings_list(struct seam_work *w) OUTLAY_MUST_CHECK;

/* Role of the zone at a point, -1 outside. */
int role_at(const struct seam_work *w, struct point p);

/* Cuts a segment by the zones: spans in order, in w->spans until the next clip.
 * Returns false when out of memory. */
bool clip_segment(struct seam_work *w, struct point a, struct point b,
                  const struct clip *clip, size_t *count) OUTLAY_MUST_CHECK;

/* ---- seam_rows.c ---- */

/* Spacing of screws in a zone, m. */
double spacing_in(const struct seam_work *w, int role);

/* Rows between the seams of a sheet that advances by `advance`, in a zone. */
int rows_between(const struct seam_work *w, int role, double advance);

/* Adds a straight row. False of this and the next two: out of memory. */
bool row_add(struct seam_work *w, struct point a, struct point b,
             const struct clip *clip) OUTLAY_MUST_CHECK;

/* Adds rows between two seams, where a zone needs them, under cover strips. */
bool rows_add_between(struct seam_work *w, struct point a, struct point b, double advance,
                      const struct clip *clip) OUTLAY_MUST_CHECK;

/* What holds the sheet along an edge. */
enum hold {
    HOLD_SCREWS, /* a row */
    HOLD_METAL,  /* edge metal: it takes half the way to the next row, as a row would */
    HOLD_NOTHING
};

/* Adds a row along a ring. holds: by segment; NULL: screws all around. */
bool ring_row_add(struct seam_work *w, struct ring ring, const enum hold *holds,
                  const struct clip *clip) OUTLAY_MUST_CHECK;

/* Leaves out what is no row, once loads are settled. */
void rows_drop_held(struct seam_work *w);

/* Counts the screws of all rows, once their spacings are settled. */
bool rows_count(struct seam_work *w) OUTLAY_MUST_CHECK;

/* ---- seam_base.c ---- */

/* Base securement along parapets, walls and curbs and where the slope changes; along edge
 * metal where a setting asks for it. All later rows keep away from it. */
enum outlay_status base_lay(struct seam_work *w);

/* Base securement around what stands on a curb; adds its length. Rows run through below
 * as if nothing stood there, so it is laid once loads are settled and takes nothing off
 * them; it carries at most half the way to the next row (ours). */
enum outlay_status curbs_lay(struct seam_work *w);

/* ---- seam_near.c ---- */

struct row_bins;

/* All rows laid so far, by place. NULL: out of memory. */
struct row_bins *row_bins_make(struct seam_work *w) OUTLAY_MUST_CHECK;

/* Pieces, each once, among them all that come nearer than `reach` (m) to the piece
 * `self`: in *near until the next call. */
size_t row_bins_near(const struct seam_work *w, struct row_bins *bins, size_t self,
                     double reach, const size_t **near);

/* ---- seam_carry.c ---- */

/* What lies beside a row, piece by piece; memory that all pieces share. */
struct beside;

/* NULL: out of memory. */
struct beside *beside_make(struct seam_work *w) OUTLAY_MUST_CHECK;

/* Looks at all that lies beside a piece of row. False: out of memory. */
bool piece_see(struct beside *b, size_t k) OUTLAY_MUST_CHECK;

/* The most that the piece seen last carries in the mean over any `length` (m) of it, the
 * share of one fastener: width of sheet, m, and pull on a m of row, N/m at allowable
 * level, NAN while uplift is unknown. */
void piece_carries(const struct beside *b, double length, double *width, double *pull);

/* ---- seam_load.c ---- */

/* Load of every piece; denser screws where a row near a severer zone needs them; the
 * zones' states again. */
bool loads_settle(struct seam_work *w) OUTLAY_MUST_CHECK;

/* ---- seam_bands.c ---- */

/* Places of the odd sheet: first, last, and two in the middle, so that turning a roof
 * upside down leaves the same choice. */
enum { ODD_PLACES = 4 };

/* Half sheets along an edge, from and to across the sheets, m. */
struct fixed_band {
    double from, to;
    int half_sheets;
};

struct fixed_bands {
    struct fixed_band *bands; /* in order; between them SLIVER or more, or nothing */
    size_t count;
    double low, high; /* ends of what is covered, m */
};

/* Half sheets along both ends and along every longer edge of the region that runs with
 * the sheets (w->along), as many as there is room for. False: out of memory. */
bool fixed_bands_find(struct seam_work *w, const struct region *region, double low,
                      double high, int half_sheets,
                      struct fixed_bands *out) OUTLAY_MUST_CHECK;

/* Sheets from end to end. False: out of memory. */
bool bands_make(struct seam_work *w, const struct fixed_bands *fixed, int place,
                struct bands *out) OUTLAY_MUST_CHECK;

/* ---- seam_keep.c ---- */

/* Moves the seams between full sheets away from drains and pipes, sheets narrower where
 * that takes it, to half a sheet at least. within: NULL: the roof. False: out of
 * memory. */
bool seams_keep_clear(struct seam_work *w, const struct fixed_bands *fixed, int place,
                      const struct region *within, struct bands *bands) OUTLAY_MUST_CHECK;

/* Drains and pipes that still have a seam too near. */
size_t seams_crowd(const struct seam_work *w, const struct region *within,
                   const struct bands *bands);

/* ---- seam_lines.c ---- */

/* Lays parallel sheets over a region, direction and offset by cost.
 * within: NULL: the roof
 * cover: what the sheets cover, laps with what lies around included; NULL: the same */
enum outlay_status lines_lay(struct seam_work *w, const struct region *within,
                             const struct region *cover, int half_sheets);

/* Lays parallel sheets over the roof in one direction, without half sheets along its
 * edges and without rows; the odd sheet where least seam lies near an edge. */
enum outlay_status sheets_lay(struct seam_work *w, double bearing);

/* ---- seam_cut.c ---- */

/* What lies on the side of a line to which `inward` (of any length) points. */
struct half_plane {
    struct point at, inward;
};

/* The part of a region that lies in all half planes. */
enum outlay_status region_cut(struct seam_work *w, const struct region *region,
                              const struct half_plane *halves, size_t count,
                              struct region *out);

/* What lies in layers 0 and 1 and not in layer 2. */
enum outlay_status layers_common(struct seam_work *w, const struct layer_rings *rings,
                                 struct region *out);

/* What lies in layer 0 and not in layer 1. */
enum outlay_status layers_rest(struct seam_work *w, const struct layer_rings *rings,
                               struct region *out);

/* What two regions share. */
enum outlay_status regions_common(struct seam_work *w, const struct region *a,
                                  const struct region *b, struct region *out);

/* What is not taken of a region. */
enum outlay_status region_less(struct seam_work *w, const struct region *region,
                               const struct region *taken, struct region *out);

/* Adds a region's rings moved outward. Returns false when out of memory. */
bool layer_rings_add_grown(struct seam_work *w, struct layer_rings *rings,
                           const struct region *region, double depth,
                           int layer) OUTLAY_MUST_CHECK;

/* A region and what lies within `depth` around it, as far as the roof goes. */
enum outlay_status region_grow(struct seam_work *w, const struct region *region,
                               double depth, struct region *out);

/* ---- seam_strips.c ---- */

/* Cover strips; base securement and welded rows summed up. */
enum outlay_status strips_lay(struct seam_work *w);

/* ---- seam_sheets.c ---- */

bool sheet_add(struct seam_work *w, const struct sheet *sheet) OUTLAY_MUST_CHECK;

/* The sheets of bands, one per piece of roof, with their end laps. */
enum outlay_status sheets_cut(struct seam_work *w, const struct bands *bands,
                              const struct region *cover);

/* The polygons of a region as sheets of one kind that run along a direction. */
bool pieces_add(struct seam_work *w, const struct region *region, enum sheet_kind kind,
                struct point along) OUTLAY_MUST_CHECK;

/* ---- seam_frames.c ---- */

/* Whether a hole is no free edge: the zones beside it are no edge zones. */
bool hole_is_wall(const struct seam_work *w, struct ring ring);

/* Half sheets along all edges, then parallel sheets inside. */
enum outlay_status frames_lay(struct seam_work *w, int half_sheets);

static inline double dot(struct point a, struct point b)
{
    return a.x * b.x + a.y * b.y;
}

#endif
