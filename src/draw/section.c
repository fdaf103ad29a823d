/* A section through an edge, to scale but for the thickness of sheets and metal: the roof
 * comes from the left and ends at x = 0, the deck's top is y = 0. */

#include <math.h>

#include "base/units.h"
#include "draw/plan_page.h"
#include "roof/edges.h"

/* How things that the table doesn't give are drawn, m (ours). */
#define DECK (1.5 * M_PER_IN)
#define COURSE (1.5 * M_PER_IN)
#define NAILER (5.5 * M_PER_IN)
#define WALL_DRAWN (8 * M_PER_IN)
#define CURB_DRAWN (1.5 * M_PER_IN)
#define ABOVE (10 * M_PER_IN) /* of a wall that goes on */
#define ROOF_DRAWN (18 * M_PER_IN)
#define FACE (1 * M_PER_IN) /* of metal below the nailer */
#define JOINT_GAP (1 * M_PER_IN)
#define GUTTER_DRAWN (5 * M_PER_IN)

/* For dimensions on the left and below, for names on the right, pt. */
#define LEFT_ROOM 70.0
#define FOOT_ROOM 34.0
#define NAMES_ROOM 124.0

enum { NAMES_MOST = 6 };

struct section {
    struct plan_page *page;
    const struct edge_use *use;
    double top;   /* of the boards, or of the nailers, m */
    double right; /* of the deck, m */
    double edge;  /* on paper, right of all that is drawn */
    struct {
        struct point at; /* on paper */
        const char *name;
    } names[NAMES_MOST];
    size_t count;
};

static struct point at(const struct section *s, double x, double y)
{
    return plan_point(s->page, (struct point){x, y});
}

static void name(struct section *s, double x, double y, const char *words)
{
    s->names[s->count].at = at(s, x, y);
    s->names[s->count++].name = words;
}

static void add_box(struct section *s, double left, double low, double right, double high)
{
    struct point a = at(s, left, high), b = at(s, right, low);
    canvas_rectangle(s->page->canvas, (struct area){a.x, a.y, b.x - a.x, b.y - a.y});
}

static void draw_box(struct section *s, double left, double low, double right,
                     double high, enum ink ink)
{
    add_box(s, left, low, right, high);
    canvas_fill(s->page->canvas, ink, true);
    canvas_stroke(s->page->canvas, INK_DARK, 0.5, DASH_NONE);
}

/* A line through points, m. */
static void draw_line(struct section *s, const struct point *points, size_t count,
                      double width, enum dash dash)
{
    canvas_move(s->page->canvas, at(s, points[0].x, points[0].y));
    for (size_t i = 1; i < count; i++)
        canvas_line(s->page->canvas, at(s, points[i].x, points[i].y));
    canvas_stroke(s->page->canvas, INK_DARK, width, dash);
}

/* From the first point to the second, the line to the right of it as seen on paper. */
static void dimension(struct section *s, double x1, double y1, double x2, double y2,
                      double away)
{
    double length = hypot(x2 - x1, y2 - y1);
    if (length < 1e-6)
        return;
    figure_length(plan_scratch(s->page), length, s->page->set);
    dimension_draw(s->page, at(s, x1, y1), at(s, x2, y2), away, plan_text(s->page));
}

/* ---- Parts ---- */

static void draw_roof(struct section *s, double boards_end)
{
    double stack = s->use->drawn_stack;
    add_box(s, -ROOF_DRAWN, -DECK, s->right, 0);
    canvas_fill(s->page->canvas, INK_FIELD, true);
    canvas_hatch(s->page->canvas, INK_HATCH, 0.35, 3.6);
    add_box(s, -ROOF_DRAWN, -DECK, s->right, 0);
    canvas_stroke(s->page->canvas, INK_DARK, 0.5, DASH_NONE);
    for (int i = 0; i < s->use->layers; i++)
        draw_box(s, -ROOF_DRAWN, stack * i / s->use->layers, boards_end,
                 stack * (i + 1) / s->use->layers, INK_INTERIOR);
    dimension(s, -ROOF_DRAWN, stack, -ROOF_DRAWN, 0, NEAR_LINE);
}

static void draw_metal(struct section *s, bool gutter)
{
    double top = s->top, face = top > COURSE ? -FACE : top - COURSE - FACE;
    double field = s->use->tapered ? top : s->use->drawn_stack;
    draw_roof(s, -NAILER);
    if (field > s->use->drawn_stack) {
        draw_box(s, -ROOF_DRAWN, s->use->drawn_stack, -NAILER, field, INK_FIELD);
        name(s, -NAILER - 0.03, (field + s->use->drawn_stack) / 2, "tapered insulation");
    }
    for (int i = 0; i < (int)s->use->drawn_courses; i++)
        draw_box(s, -NAILER, i * COURSE, 0, (i + 1) * COURSE, INK_PERIMETER);
    draw_line(s,
              (struct point[]){{-ROOF_DRAWN, field + 0.003},
                               {-NAILER - 0.04, field + 0.003},
                               {-NAILER, top + 0.003},
                               {0, top + 0.003}},
              4, 1.2, DASH_NONE);
    draw_line(s,
              (struct point[]){{-0.1, top + 0.009},
                               {0.006, top + 0.009},
                               {0.006, face},
                               {0.016, face - 0.012}},
              4, 1.6, DASH_NONE);
    draw_line(s, (struct point[]){{-0.2, top + 0.016}, {-0.01, top + 0.016}}, 2, 1.2,
              DASH_SHORT);
    name(s, -0.15, top + 0.016, "strip-in");
    name(s, 0.006, top - 0.01, "edge metal");
    if (gutter) {
        double high = top - 0.02, low = high - GUTTER_DRAWN;
        draw_line(s,
                  (struct point[]){{0.02, high},
                                   {0.02, low},
                                   {0.02 + GUTTER_DRAWN, low},
                                   {0.02 + GUTTER_DRAWN, high - 0.02}},
                  4, 1.2, DASH_NONE);
        draw_line(s, (struct point[]){{0.02, high}, {0.02 + GUTTER_DRAWN, high - 0.02}},
                  2, 0.5, DASH_NONE);
        name(s, 0.02 + GUTTER_DRAWN, low + 0.05, "gutter, hangers");
    }
    dimension(s, -NAILER, 0, 0, 0, DECK * s->page->points + NEAR_LINE);
    if (s->use->drawn_courses > 0) {
        name(s, -NAILER / 3, COURSE / 2, "nailers");
        dimension(s, -NAILER, s->use->drawn_courses * COURSE, -NAILER, 0, NEAR_LINE);
    }
}

/* Membrane on the field and flashing up to a height, its lap onto the field. */
static void draw_flashing(struct section *s, double lap, double up)
{
    double top = s->top;
    draw_line(s, (struct point[]){{-ROOF_DRAWN, top + 0.003}, {0, top + 0.003}}, 2, 1.2,
              DASH_NONE);
    draw_line(
        s, (struct point[]){{-lap, top + 0.01}, {-0.006, top + 0.01}, {-0.006, top + up}},
        3, 1.6, DASH_NONE);
    name(s, -0.006, top + up * 0.45, "flashing");
    dimension(s, -0.006, top + up, -0.006, top,
              (lap + 0.02) * s->page->points + NEAR_LINE);
    dimension(s, -lap, 0, 0, 0, DECK * s->page->points + NEAR_LINE);
}

static void draw_bar(struct section *s, double high)
{
    draw_box(s, -0.022, high - 0.025, -0.008, high, INK_DARK);
    name(s, -0.014, high - 0.012, "bar and caulk");
}

static void draw_wall(struct section *s, double lap)
{
    double up = s->use->drawn_up, end = s->top + up;
    double high = end + ABOVE, right = s->right, middle = s->right / 2;
    draw_roof(s, 0);
    add_box(s, 0, -DECK, right, high);
    canvas_fill(s->page->canvas, INK_PERIMETER, false);
    draw_line(s,
              (struct point[]){{0, -DECK},
                               {0, high},
                               {middle - 0.03, high},
                               {middle - 0.01, high + 0.03},
                               {middle + 0.01, high - 0.03},
                               {middle + 0.03, high},
                               {right, high},
                               {right, -DECK}},
              8, 0.5, DASH_NONE);
    draw_flashing(s, lap, up);
    draw_bar(s, end);
    draw_line(s,
              (struct point[]){{0, end + 0.08}, {-0.03, end + 0.07}, {-0.03, end - 0.03}},
              3, 1.2, DASH_NONE);
    name(s, -0.02, end + 0.07, "counterflashing");
}

static void draw_parapet(struct section *s, double lap)
{
    double up = s->use->drawn_up, end = s->top + up, thick = s->use->drawn_thickness;
    draw_roof(s, 0);
    draw_box(s, 0, -DECK, thick, end, INK_PERIMETER);
    draw_flashing(s, lap, up);
    draw_line(s, (struct point[]){{-0.006, end + 0.004}, {thick, end + 0.004}}, 2, 1.6,
              DASH_NONE);
    draw_line(s,
              (struct point[]){{-0.03, end - 0.06},
                               {-0.03, end + 0.02},
                               {thick + 0.03, end + 0.02},
                               {thick + 0.03, end - 0.06}},
              4, 1.2, DASH_NONE);
    name(s, thick * 0.7, end + 0.02, "coping");
    dimension(s, thick, end + 0.02, 0, end + 0.02, NEAR_LINE);
}

/* Two decks, and a cover over the gap between their sheets. */
static void draw_joint(struct section *s)
{
    double top = s->top, gap = JOINT_GAP, end = s->right;
    draw_roof(s, -gap / 2);
    add_box(s, -gap / 2, -DECK, gap / 2, 0);
    canvas_fill(s->page->canvas, INK_PAPER, false);
    draw_box(s, gap / 2, 0, end, top, INK_INTERIOR);
    draw_line(s, (struct point[]){{-ROOF_DRAWN, top + 0.003}, {-gap / 2, top + 0.003}}, 2,
              1.2, DASH_NONE);
    draw_line(s, (struct point[]){{gap / 2, top + 0.003}, {end, top + 0.003}}, 2, 1.2,
              DASH_NONE);
    draw_line(s,
              (struct point[]){{-0.12, top + 0.012},
                               {-0.03, top + 0.012},
                               {0, top + 0.05},
                               {0.03, top + 0.012},
                               {0.12, top + 0.012}},
              5, 1.6, DASH_NONE);
    draw_line(s, (struct point[]){{-0.2, top + 0.02}, {-0.08, top + 0.02}}, 2, 1.2,
              DASH_SHORT);
    draw_line(s, (struct point[]){{0.08, top + 0.02}, {0.2, top + 0.02}}, 2, 1.2,
              DASH_SHORT);
    name(s, 0, top + 0.05, "joint cover");
    name(s, 0.15, top + 0.02, "strip-in");
}

static void draw_curb(struct section *s, double lap)
{
    double up = s->use->drawn_up;
    draw_roof(s, 0);
    draw_box(s, 0, -DECK, CURB_DRAWN, s->top + up, INK_PERIMETER);
    draw_flashing(s, lap, up);
    draw_bar(s, s->top + up);
    name(s, CURB_DRAWN, s->top * 0.3, "curb");
}

/* ---- The whole ---- */

/* Names one below the other at the right, each as near to what it names as there is
 * room, from the highest on. */
static void put_names(struct section *s)
{
    struct area plan = s->page->plan;
    double left = s->edge + 26, y = plan.y;
    for (size_t i = 0; i < s->count; i++) {
        size_t highest = i;
        for (size_t k = i + 1; k < s->count; k++)
            if (s->names[k].at.y < s->names[highest].at.y)
                highest = k;
        struct point end = s->names[highest].at;
        const char *words = s->names[highest].name;
        s->names[highest] = s->names[i];
        double most = plan.y + plan.height - 2 * LINE * (double)(s->count - i);
        y = fmin(fmax(y, end.y - 2 * LINE), most);
        canvas_segment(s->page->canvas, end, (struct point){left - 3, y + LINE / 2});
        canvas_stroke(s->page->canvas, INK_MIDDLE, 0.35, DASH_NONE);
        plan_cell(s->page, PLAIN, left, y, NAMES_ROOM - 30, ALIGN_LEFT, words);
        y += 2 * LINE;
    }
}

void section_draw(struct plan_page *page, enum edge_kind kind, const struct edge_use *use,
                  double lap)
{
    bool metal = edge_is_metal(kind);
    double nailers = use->drawn_courses * COURSE;
    double top = metal ? fmax(use->drawn_stack, nailers) : use->drawn_stack;
    double right = kind == EDGE_GUTTER    ? GUTTER_DRAWN + 0.03
                   : kind == EDGE_PARAPET ? use->drawn_thickness + 0.03
                   : kind == EDGE_WALL    ? WALL_DRAWN
                   : kind == EDGE_CURB    ? CURB_DRAWN
                   : kind == EDGE_JOINT   ? ROOF_DRAWN
                                          : 0.02;
    double height = top + (edge_is_flashed(kind) ? use->drawn_up : 0.05) + 0.02 +
                    (kind == EDGE_WALL ? ABOVE : 0);
    double foot = kind == EDGE_GUTTER ? fmax(DECK, GUTTER_DRAWN + 0.02 - top) : DECK;
    struct section s = {.page = page,
                        .use = use,
                        .top = top,
                        .right = metal                  ? 0
                                 : kind == EDGE_PARAPET ? use->drawn_thickness
                                                        : right};
    double room = page->plan.height - FOOT_ROOM - 20;
    page->scale = scale_fitting(columns_units(page->set) == UNITS_SI, ROOF_DRAWN + right,
                                height + foot, page->plan.width - LEFT_ROOM - NAMES_ROOM,
                                room, page->paper.full);
    page->points = scale_points(page->scale, page->paper.full);
    page->origin = (struct point){page->plan.x + LEFT_ROOM + ROOF_DRAWN * page->points,
                                  page->plan.y + page->plan.height - FOOT_ROOM -
                                      foot * page->points};
    s.edge = at(&s, right, 0).x;
    if (metal)
        draw_metal(&s, kind == EDGE_GUTTER);
    else if (kind == EDGE_PARAPET)
        draw_parapet(&s, lap);
    else if (kind == EDGE_WALL)
        draw_wall(&s, lap);
    else if (kind == EDGE_CURB)
        draw_curb(&s, lap);
    else if (kind == EDGE_JOINT)
        draw_joint(&s);
    put_names(&s);
    plan_cell(page, SMALL_PRINT, page->plan.x + 4,
              page->plan.y + page->plan.height - LINE, 120, ALIGN_LEFT,
              page->scale->text);
}
