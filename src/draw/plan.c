#include <math.h>

#include "catalog/items.h"
#include "draw/plan_page.h"
#include "roof/field.h"
#include "write/roll_ends.h"

/* Usual distance of rows, m. */
#define ROW_DISTANCE 3.0

/* Across insulation plates, m: 3 in (common practice, no source). */
#define BOARD_PLATE (3 * M_PER_IN)

/* Least distance on paper at which lines and dots still stand apart, pt. */
#define SHEET_LEAST 2.6
#define BOARD_LEAST 4.5
#define PLATE_LEAST 1.7
#define ROW_LEAST 1.6

/* Lines that are nearer to each other than this are drawn lighter, pt. */
#define DENSE 9.0

/* More than these would only make the file large. */
#define BOARDS_MOST 30000
#define PLATES_MOST 60000

void plan_path(struct plan_page *page, const struct region *region)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++) {
            const struct ring *ring = &region->polygons[i].rings[j];
            canvas_move(page->canvas, plan_point(page, ring->points[0]));
            for (size_t k = 1; k < ring->count; k++)
                canvas_line(page->canvas, plan_point(page, ring->points[k]));
            canvas_close(page->canvas);
        }
}

struct look layer_look(enum layer layer)
{
    static const struct look looks[LAYERS] = {
        [LAYER_METAL] = {INK_DARK, 1.6, DASH_NONE},
        [LAYER_GUTTER] = {INK_DARK, 1.6, DASH_LONG},
        [LAYER_PARAPET] = {INK_DARK, 2.4, DASH_NONE},
        [LAYER_WALL] = {INK_MIDDLE, 3.2, DASH_NONE},
        [LAYER_CURB] = {INK_MIDDLE, 1.6, DASH_NONE},
        [LAYER_JOINT] = {INK_DARK, 2.4, DASH_DOT},
        [LAYER_SHARED] = {INK_DARK, 0.8, DASH_LONG},
        [LAYER_OUTLINE] = {INK_DARK, 1.6, DASH_NONE},
        [LAYER_SHEETS] = {INK_DARK, 0.3, DASH_NONE},
        [LAYER_HALF_SHEETS] = {INK_DARK, 0.65, DASH_NONE},
        [LAYER_COVER_STRIPS] = {INK_DARK, 0.2, DASH_NONE},
        [LAYER_ROLL_ENDS] = {INK_DARK, 1, DASH_NONE},
        [LAYER_ROWS] = {INK_DARK, 0.5, DASH_SHORT},
        [LAYER_BASE] = {INK_DARK, 0.6, DASH_DOT},
        [LAYER_BOARDS] = {INK_MIDDLE, 0.18, DASH_NONE},
        [LAYER_PLATES] = {INK_DARK, 2, DASH_NONE},
        [LAYER_BOARD_PLATES] = {INK_MIDDLE, 0.4, DASH_NONE},
        [LAYER_WALKWAYS] = {INK_LIGHT, 2.2, DASH_NONE},
        [LAYER_CROWDED] = {INK_DARK, 1.1, DASH_NONE},
        [LAYER_CONTOURS] = {INK_MIDDLE, 0.5, DASH_LONG},
        [LAYER_NEIGHBOURS] = {INK_LIGHT, 0.8, DASH_SHORT},
    };
    return looks[layer];
}

static void stroke_layer(struct plan_page *page, enum layer layer)
{
    struct look look = layer_look(layer);
    canvas_stroke(page->canvas, look.ink, look.width, look.dash);
}

/* Strokes lines that lie a distance (m) apart: finer and lighter when they stand dense,
 * so that what is below shows. */
static void stroke_spaced(struct plan_page *page, enum layer layer, double distance)
{
    struct look look = layer_look(layer);
    double points = distance * page->points;
    canvas_stroke(page->canvas, points < DENSE ? INK_MIDDLE : look.ink,
                  fmin(look.width, points * 0.03), look.dash);
}

void plan_scale(struct plan_page *page, double aside, double above)
{
    const struct roof *roof = page->roof;
    if (!roof->whole || roof->outline.polygon_count == 0)
        return;
    struct box box = region_box(&roof->outline);
    struct area plan = page->plan;
    page->scale =
        scale_fitting(columns_units(page->set) == UNITS_SI, box.max_x - box.min_x,
                      box.max_y - box.min_y, plan.width - 2 * aside,
                      plan.height - 2 * above, page->paper.full);
    page->points = scale_points(page->scale, page->paper.full);
    page->origin = (struct point){
        plan.x + plan.width / 2 - (box.min_x + box.max_x) / 2 * page->points,
        plan.y + plan.height / 2 + (box.min_y + box.max_y) / 2 * page->points};
}

static bool ring_meets_plan(const struct plan_page *page, const struct ring *ring)
{
    struct quad plan = quad_of(page->plan);
    for (size_t k = 0; k < ring->count; k++) {
        struct point a = plan_point(page, ring->points[k]);
        struct point b = plan_point(page, ring->points[(k + 1) % ring->count]);
        if (quads_overlap(plan, (struct quad){{a, b, b, a}}, 0))
            return true;
    }
    return false;
}

static bool meets_plan(const struct plan_page *page, const struct region *region)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            if (ring_meets_plan(page, &region->polygons[i].rings[j]))
                return true;
    return false;
}

static void draw_neighbours(struct plan_page *page)
{
    const struct building *building = page->building;
    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *other = &building->roofs[i];
        if (other == page->roof || !other->whole || !meets_plan(page, &other->outline))
            continue;
        plan_path(page, &other->outline);
        stroke_layer(page, LAYER_NEIGHBOURS);
        page->drawn |= 1u << LAYER_NEIGHBOURS;
    }
}

/* Walls on the edge stay white. */
static void draw_zones(struct plan_page *page)
{
    const struct roof roof = roof_inside(page->roof);
    for (size_t i = 0; i < roof.zone_count; i++) {
        plan_path(page, &roof.zones[i].region);
        legend_tone(page, roof.zones[i].role);
    }
}

static void outline_zones(struct plan_page *page)
{
    const struct roof roof = roof_inside(page->roof);
    for (size_t i = 0; i < roof.zone_count; i++) {
        plan_path(page, &roof.zones[i].region);
        canvas_stroke(page->canvas, INK_ZONE_LINE, 0.7, DASH_NONE);
    }
}

/* Notes whether a layer is shown; false: it isn't. */
static bool shows(struct plan_page *page, enum layer layer, bool there, bool legible)
{
    if (there && legible)
        page->drawn |= 1u << layer;
    else if (there)
        page->dropped |= 1u << layer;
    return there && legible;
}

static void draw_boards(struct plan_page *page)
{
    const struct layout *layout = page->layout;
    double narrowest = INFINITY;
    for (size_t i = 0; i < layout->board_count; i++)
        if (layout->boards[i].whole) {
            struct box box = region_box(&layout->boards[i].region);
            narrowest =
                fmin(narrowest, fmin(box.max_x - box.min_x, box.max_y - box.min_y));
        }
    if (!shows(page, LAYER_BOARDS, layout->board_count > 0,
               narrowest * page->points >= BOARD_LEAST &&
                   layout->board_count <= BOARDS_MOST))
        return;
    for (size_t i = 0; i < layout->board_count; i++)
        if (meets_plan(page, &layout->boards[i].region))
            plan_path(page, &layout->boards[i].region);
    stroke_layer(page, LAYER_BOARDS);
}

static void draw_sheets(struct plan_page *page)
{
    static const enum layer layers[] = {[SHEET_FULL] = LAYER_SHEETS,
                                        [SHEET_HALF] = LAYER_HALF_SHEETS,
                                        [SHEET_COVER_STRIP] = LAYER_COVER_STRIPS};
    const struct layout *layout = page->layout;
    for (int kind = SHEET_FULL; kind <= SHEET_COVER_STRIP; kind++) {
        double narrowest = INFINITY;
        for (size_t i = 0; i < layout->sheet_count; i++)
            if (layout->sheets[i].kind == (enum sheet_kind)kind)
                narrowest = fmin(narrowest, layout->sheets[i].width);
        double least = kind == SHEET_COVER_STRIP ? 1 : SHEET_LEAST;
        if (!shows(page, layers[kind], isfinite(narrowest),
                   narrowest * page->points >= least))
            continue;
        for (size_t i = 0; i < layout->sheet_count; i++)
            if (layout->sheets[i].kind == (enum sheet_kind)kind &&
                meets_plan(page, &layout->sheets[i].region))
                plan_path(page, &layout->sheets[i].region);
        stroke_spaced(page, layers[kind],
                      kind == SHEET_COVER_STRIP ? INFINITY : narrowest);
    }
}

static bool add_roll_end(void *self, const struct roll_end *end)
{
    struct plan_page *page = self;
    struct point from = plan_point(page, end->from), to = plan_point(page, end->to);
    if (quads_overlap(quad_of(page->plan), (struct quad){{from, to, to, from}}, 0)) {
        canvas_segment(page->canvas, from, to);
        page->drawn |= 1u << LAYER_ROLL_ENDS;
    }
    return true;
}

/* Where rolls end on the sheets, if these are drawn. */
static void draw_roll_ends(struct plan_page *page)
{
    if (page->dropped & 1u << LAYER_SHEETS)
        return;
    page->scratch.failed |=
        !roll_ends_walk(page->building, page->roof, page->layout, add_roll_end, page);
    stroke_layer(page, LAYER_ROLL_ENDS);
}

/* The ends of a piece of row on paper. @return whether it is of the base or not, as asked
 * for, and seen */
static bool row_seen(const struct plan_page *page, const struct row_piece *piece,
                     bool base, struct point ends[2])
{
    ends[0] = plan_point(page, piece->from);
    ends[1] = plan_point(page, piece->to);
    return piece->base == base &&
           quads_overlap(quad_of(page->plan),
                         (struct quad){{ends[0], ends[1], ends[1], ends[0]}}, 0);
}

static void draw_rows(struct plan_page *page, bool base, enum layer layer)
{
    const struct layout *layout = page->layout;
    struct point ends[2];
    bool there = false;
    for (size_t i = 0; i < layout->row_count && !there; i++)
        there = row_seen(page, &layout->rows[i], base, ends);
    /* Rows lie half a half-sheet apart at the least: about 1 m. */
    if (!shows(page, layer, there, page->points >= ROW_LEAST))
        return;
    for (size_t i = 0; i < layout->row_count; i++)
        if (row_seen(page, &layout->rows[i], base, ends))
            canvas_segment(page->canvas, ends[0], ends[1]);
    stroke_spaced(page, layer, ROW_DISTANCE);
}

/* Least distance between neighbours along a row, or of the plates of a board, m. */
static double plate_distance(const struct layout *layout)
{
    double least = INFINITY;
    for (size_t i = 0; i < layout->row_count; i++)
        if (layout->rows[i].spacing > 0)
            least = fmin(least, layout->rows[i].spacing);
    for (size_t i = 0; i < layout->board_count; i++)
        if (layout->boards[i].plates > 0 && layout->boards[i].whole)
            least = fmin(least, sqrt(layout->boards[i].area / layout->boards[i].plates));
    return least;
}

/* Dots as large as they may be without running into a line. */
static void draw_plates(struct plan_page *page)
{
    const struct layout *layout = page->layout;
    double distance = plate_distance(layout) * page->points;
    if (!shows(page, LAYER_PLATES, layout->plate_count > 0,
               distance >= PLATE_LEAST && layout->plate_count <= PLATES_MOST))
        return;
    for (size_t i = 0; i < layout->plate_count; i++) {
        struct point at = plan_point(page, layout->plates[i].at);
        if (!area_holds(page->plan, (struct quad){{at, at, at, at}}))
            continue;
        canvas_segment(page->canvas, at, at);
    }
    struct look look = layer_look(LAYER_PLATES);
    canvas_stroke(page->canvas, look.ink, fmin(fmax(distance * 0.4, 1), look.width),
                  look.dash);
}

/* The plates of the boards below the sheets, as large as they are: on the enlarged corner
 * alone, elsewhere they would hide what holds the sheets. */
static void draw_board_plates(struct plan_page *page)
{
    const struct layout *layout = page->layout;
    for (size_t i = 0; i < layout->board_plate_count; i++) {
        struct point at = plan_point(page, layout->board_plates[i].at);
        if (!area_holds(page->plan, (struct quad){{at, at, at, at}}))
            continue;
        canvas_circle(page->canvas, at, BOARD_PLATE / 2 * page->points);
        page->drawn |= 1u << LAYER_BOARD_PLATES;
    }
    stroke_layer(page, LAYER_BOARD_PLATES);
}

/* Of the pads that the roof takes, m. */
static double walkway_width(const struct bill *bill)
{
    for (size_t i = 0; bill && i < bill->count; i++)
        if (bill->items[i].use == USE_WALKWAY && bill->items[i].item)
            return pad_size_of(bill->items[i].item).width;
    return pad_size_of("").width;
}

/* As wide as the pads, where that is wide enough to be seen. */
static void draw_walkways(struct plan_page *page)
{
    const struct roof *roof = page->roof;
    struct look look = layer_look(LAYER_WALKWAYS);
    bool there = roof->walkway_count > 0;
    if (!shows(page, LAYER_WALKWAYS, there, true))
        return;
    for (size_t i = 0; i < roof->walkway_count; i++) {
        canvas_segment(page->canvas, plan_point(page, roof->walkways[i].from),
                       plan_point(page, roof->walkways[i].to));
    }
    canvas_stroke(page->canvas, look.ink,
                  fmax(look.width, walkway_width(page->bill) * page->points), look.dash);
}

void plan_draw(struct plan_page *page)
{
    canvas_clip(page->canvas, page->plan);
    draw_neighbours(page);
    draw_zones(page);
    if (page->layout) {
        draw_boards(page);
        if (page->kind == PAGE_ORDER)
            draw_board_plates(page);
        draw_sheets(page);
        draw_roll_ends(page);
        draw_rows(page, true, LAYER_BASE);
    }
    outline_zones(page);
    if (page->layout) {
        draw_plates(page);
        /* Where its plates are shown, they are the row. */
        if (!(page->drawn & 1u << LAYER_PLATES))
            draw_rows(page, false, LAYER_ROWS);
    }
    edges_draw(page);
    draw_walkways(page);
    fixtures_draw(page);
    canvas_unclip(page->canvas);
}
