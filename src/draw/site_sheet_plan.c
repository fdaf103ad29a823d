/* The plan of a site sheet: numbered places, each with its name in a box beside it, and
 * below it what the signs mean. */

#include <math.h>

#include "draw/site_sheet.h"
#include "roof/edges.h"
#include "roof/fixtures.h"

#define PI 3.14159265358979323846

/* Beside the outline for names and the north arrow, above and below it for names and the
 * scale bar, pt. */
#define ASIDE 28.0
#define ABOVE 34.0

/* Most of the page that a plan takes, pt. */
#define PLAN_MOST 380.0

/* Radius of a place's sign and of the ring around one at an edge, pt. */
#define SIGN 3.6
#define RING 6.2

/* Half of the square that stays free around a sign, pt; and its corners' distance. */
#define KEPT 4.6
#define KEPT_AT_EDGE 7.2
#define CORNERS 1.45

/* How much longer a line may be that crosses one name, sign or line less, pt. */
#define DETOUR 30.0

/* Of the plan that a name takes with its line and what stays free around, pt2 (ours). */
#define NAME_ROOM 1400.0

/* Around the letters of a name, pt; and their height, as a part of a line. */
#define PAD 1.8
#define CAPITALS 0.8

/* Columns of the key, and around it. */
enum { SIGN_COLUMNS = 4, TASK_COLUMNS = 3 };
#define KEY_LINE (LINE + 1.4)
#define KEY_TOP 6.0

/* Longest scale bar, pt. */
#define BAR 110.0

/* ---- Signs ---- */

/* How a task's sign looks. */
struct shape {
    int corners; /* 0: round */
    double turn; /* of its first corner, parts of a full turn from the top */
    bool filled; /* else white with a dot */
};

static const struct shape shapes[SURVEY_TASKS] = {
    [TASK_PULLOUT] = {0, 0, true},      [TASK_CORE] = {0, 0, false},
    [TASK_DECK] = {4, 0.125, false},    [TASK_SCAN] = {4, 0.125, true},
    [TASK_HEIGHT] = {3, 0, false},      [TASK_EDGE] = {4, 0, true},
    [TASK_SURROUNDINGS] = {3, 0, true}, [TASK_OPENINGS] = {4, 0, false},
    [TASK_DRAINS] = {3, 0.5, false},    [TASK_TRIAL_WELD] = {6, 0, false},
    [TASK_PHOTO] = {3, 0.5, true},
};

static void add_corners(struct canvas *canvas, const struct shape *shape, struct point at)
{
    /* As large to the eye as the disc. */
    const double radius = SIGN * (shape->corners == 6 ? 1.15 : 1.3);
    for (int i = 0; i < shape->corners; i++) {
        double angle = 2 * PI * (shape->turn + (double)i / shape->corners);
        struct point corner = {at.x + radius * sin(angle), at.y - radius * cos(angle)};
        if (i == 0)
            canvas_move(canvas, corner);
        else
            canvas_line(canvas, corner);
    }
    canvas_close(canvas);
}

static void draw_sign(struct canvas *canvas, enum survey_task task, struct point at,
                      bool at_edge)
{
    const struct shape *shape = &shapes[task];
    if (at_edge) {
        canvas_circle(canvas, at, RING);
        canvas_fill(canvas, INK_PAPER, true);
        canvas_stroke(canvas, INK_DARK, 1.5, DASH_NONE);
    }
    if (shape->corners == 0)
        canvas_circle(canvas, at, SIGN);
    else
        add_corners(canvas, shape, at);
    canvas_fill(canvas, shape->filled ? INK_DARK : INK_PAPER, true);
    canvas_stroke(canvas, shape->filled ? INK_PAPER : INK_DARK, 0.9, DASH_NONE);
    if (!shape->filled) {
        canvas_segment(canvas, at, at);
        canvas_stroke(canvas, INK_DARK, 1.6, DASH_NONE);
    }
}

/* ---- Names ---- */

static struct point name_size(struct site_sheet *sheet, const char *name)
{
    struct point size = canvas_measure(sheet->page.canvas, STRONG, name);
    return (struct point){size.x + 2 * PAD, CAPITALS * size.y + PAD};
}

void site_name_draw(struct site_sheet *sheet, const struct survey_place *place,
                    struct point middle)
{
    struct canvas *canvas = sheet->page.canvas;
    struct point size = name_size(sheet, place->name);
    struct lettering lettering = STRONG;
    bool dark = site_at_edge(place);
    if (dark)
        lettering.ink = INK_PAPER;
    canvas_rectangle(canvas, (struct area){middle.x - size.x / 2, middle.y - size.y / 2,
                                           size.x, size.y});
    canvas_fill(canvas, dark ? INK_DARK : INK_PAPER, true);
    canvas_stroke(canvas, INK_DARK, 0.5, DASH_NONE);
    canvas_turned(canvas, lettering, middle, 0, place->name);
}

static double kept(const struct survey_place *place)
{
    return place->at_edge ? KEPT_AT_EDGE : KEPT;
}

/* Where a name stands: away from its place by a clear distance, in a direction. */
struct spot {
    struct quad box;
    struct point middle;
    struct point from, to; /* line from the sign to the box */
};

static struct spot spot_at(struct point at, struct point size, double least, double away,
                           double angle)
{
    double dx = cos(angle), dy = sin(angle);
    /* From the middle of the box to its side, against the direction. */
    double inside =
        fmin(size.x / 2 / fmax(fabs(dx), 1e-9), size.y / 2 / fmax(fabs(dy), 1e-9));
    double reach = away + inside;
    struct spot spot = {.middle = {at.x + reach * dx, at.y + reach * dy},
                        .from = {at.x + least * dx, at.y + least * dy},
                        .to = {at.x + away * dx, at.y + away * dy}};
    spot.box = quad_turned(spot.middle, size.x + 1, size.y + 1, 0);
    return spot;
}

/* Directions around a place: 16 near by, more where they would be far apart. */
static int directions(double away)
{
    return away < 24 ? 16 : away < 60 ? 32 : 64;
}

/* Beside, above, below, then between: every second, fourth, ... of a full turn. */
static double direction(int index, int count)
{
    int reversed = 0;
    for (int bit = 1; bit < count; bit *= 2)
        reversed = 2 * reversed + (index / bit) % 2;
    return 2 * PI * reversed / count;
}

/* What stands against a place for a name, pt. */
static double cost(struct site_sheet *sheet, const struct spot *spot, double away)
{
    struct quad line = {{spot->from, spot->to, spot->to, spot->from}};
    return away + DETOUR * (double)boxes_met(canvas_boxes(sheet->page.canvas), line);
}

/* A free place: near by, on a line that crosses little. @return false: there is none */
static bool find_spot(struct site_sheet *sheet, struct point at, struct point size,
                      double least, struct spot *out)
{
    const double step = 4;
    struct area plan = sheet->page.plan;
    double most = hypot(plan.width, plan.height), best = INFINITY, away = least;
    while (away < fmin(most, best)) {
        for (int i = 0; i < directions(away); i++) {
            struct spot spot =
                spot_at(at, size, least, away, direction(i, directions(away)));
            if (!place_is_free(&sheet->page, spot.box))
                continue;
            double here = cost(sheet, &spot, away);
            if (here < best) {
                best = here;
                *out = spot;
            }
        }
        away += step;
    }
    return isfinite(best);
}

static void put_name(struct site_sheet *sheet, const struct survey_place *place)
{
    struct canvas *canvas = sheet->page.canvas;
    struct point at = plan_point(&sheet->page, place->at);
    struct point size = name_size(sheet, place->name);
    struct spot spot = {.middle = at};
    if (!find_spot(sheet, at, size, kept(place) * CORNERS, &spot)) {
        sheet->names_left_out++;
        return;
    }
    canvas_segment(canvas, at, spot.to);
    canvas_stroke(canvas, INK_DARK, 0.7, DASH_NONE);
    boxes_add_line(canvas_boxes(canvas), spot.from, spot.to);
    site_name_draw(sheet, place, spot.middle);
    boxes_add_place(canvas_boxes(canvas), spot.box);
}

/* All signs are in the way before the first name looks for its place, and lie on the
 * lines. */
static void put_places(struct site_sheet *sheet)
{
    const struct site_survey *survey = sheet->survey;
    struct boxes *boxes = canvas_boxes(sheet->page.canvas);
    for (size_t i = 0; i < survey->place_count; i++)
        if (survey->places[i].placed)
            boxes_add_place(boxes,
                            quad_turned(plan_point(&sheet->page, survey->places[i].at),
                                        2 * kept(&survey->places[i]),
                                        2 * kept(&survey->places[i]), 0));
    for (size_t i = 0; i < survey->place_count; i++)
        if (survey->places[i].placed)
            put_name(sheet, &survey->places[i]);
    for (size_t i = 0; i < survey->place_count; i++)
        if (survey->places[i].placed)
            draw_sign(sheet->page.canvas, survey->places[i].task,
                      plan_point(&sheet->page, survey->places[i].at),
                      survey->places[i].at_edge);
}

/* ---- The key ---- */

/* Tasks with a place on the plan: bits. */
static unsigned tasks_placed(const struct site_sheet *sheet)
{
    unsigned tasks = 0;
    for (size_t i = 0; i < sheet->survey->place_count; i++)
        if (sheet->survey->places[i].placed)
            tasks |= 1u << sheet->survey->places[i].task;
    return tasks;
}

static const struct survey_place *first_at_edge(const struct site_sheet *sheet)
{
    for (size_t i = 0; i < sheet->survey->place_count; i++)
        if (site_at_edge(&sheet->survey->places[i]))
            return &sheet->survey->places[i];
    return NULL;
}

static int bits_in(unsigned bits)
{
    int count = 0;
    for (; bits; bits &= bits - 1)
        count++;
    return count;
}

static double lines_of(int entries, int columns)
{
    int lines = (entries + columns - 1) / columns;
    return lines * KEY_LINE;
}

/* Zones, kinds of edges, fixtures, and neighbours where the building has other roofs. */
static int signs_most(const struct roof *roof, const struct building *building)
{
    unsigned edges = 0, fixtures = 0;
    for (size_t i = 0; i < roof->edge_count; i++)
        edges |= 1u << roof->edges[i].kind;
    for (size_t i = 0; i < roof->fixture_count; i++)
        fixtures |= 1u << roof->fixtures[i].kind;
    return (int)roof->zone_count + (edges ? bits_in(edges) : 1) + bits_in(fixtures) +
           (building->roof_count > 1);
}

double site_key_height(const struct site_sheet *sheet)
{
    double signs =
        lines_of(signs_most(sheet->page.roof, sheet->page.building), SIGN_COLUMNS);
    double tasks = lines_of(bits_in(tasks_placed(sheet)), TASK_COLUMNS);
    return KEY_TOP + signs + tasks + KEY_LINE;
}

static void put_task(struct site_sheet *sheet, struct legend_cursor *cursor,
                     enum survey_task task)
{
    struct plan_page *page = &sheet->page;
    struct point middle = {cursor->x + LEGEND_SIGN / 2, cursor->y + LINE / 2};
    draw_sign(page->canvas, task, middle, false);
    text_printf(plan_scratch(page), "%c  %s", survey_task_letter(task),
                survey_task_name((int)task));
    legend_name(page, cursor, plan_text(page));
}

/* What a dark name says, and which names are missing. */
static void put_key_note(struct site_sheet *sheet, double y)
{
    struct plan_page *page = &sheet->page;
    const struct survey_place *example = first_at_edge(sheet);
    struct text *text = plan_scratch(page);
    double x = page->frame.x;
    if (example) {
        double middle = y + LINE / 2;
        draw_sign(page->canvas, example->task,
                  (struct point){x + LEGEND_SIGN / 2, middle}, true);
        site_name_draw(sheet, example, (struct point){x + 2 * LEGEND_SIGN, middle});
        x += 3 * LEGEND_SIGN + 2;
        text_puts(text, "at the edge: fall protection");
    }
    if (sheet->names_left_out)
        text_printf(text, "%s%zu names have no room on the plan", example ? "; " : "",
                    sheet->names_left_out);
    plan_cell(page, STRONG, x, y, page->frame.x + page->frame.width - x, ALIGN_LEFT,
              plan_text(page));
}

/* y of what follows the entries. */
static double entries_end(const struct legend_cursor *cursor)
{
    return cursor->y + (cursor->x > cursor->left ? KEY_LINE : 0);
}

static struct legend_cursor key_cursor(const struct site_sheet *sheet, double y,
                                       int entries)
{
    struct area frame = sheet->page.frame;
    /* A hair more, so that the last entry of a line isn't lost to rounding. */
    return (struct legend_cursor){frame.x, frame.x, y, frame.x + frame.width + 0.1,
                                  frame.width / entries};
}

static void put_key(struct site_sheet *sheet)
{
    struct legend_cursor signs = key_cursor(sheet, sheet->y + KEY_TOP, SIGN_COLUMNS);
    legend_signs(&sheet->page, &signs);
    struct legend_cursor tasks = key_cursor(sheet, entries_end(&signs), TASK_COLUMNS);
    unsigned placed = tasks_placed(sheet);
    for (int task = 0; task < SURVEY_TASKS; task++)
        if (placed & 1u << task)
            put_task(sheet, &tasks, (enum survey_task)task);
    sheet->y = entries_end(&tasks);
    if (first_at_edge(sheet) || sheet->names_left_out) {
        put_key_note(sheet, sheet->y + 1);
        sheet->y += KEY_LINE + 1;
    }
}

/* In the margin, on paper of their own: a neighbour may run through there. */
static void put_scale(struct site_sheet *sheet)
{
    struct plan_page *page = &sheet->page;
    struct area plan = page->plan;
    double bottom = plan.y + plan.height, right = plan.x + plan.width;
    struct quad bar = quad_of((struct area){plan.x + 2, bottom - 33, BAR + 42, 31});
    struct quad north = quad_of((struct area){right - 26, plan.y + 2, 24, 50});
    place_clear(page, bar);
    place_clear(page, north);
    legend_bar(page, plan.x + 16, bottom - 20, BAR);
    legend_north(page, (struct point){right - 14, plan.y + 18});
    boxes_add_place(canvas_boxes(page->canvas), bar);
    boxes_add_place(canvas_boxes(page->canvas), north);
}

/* ---- The plan ---- */

double site_plan_wanted(const struct site_sheet *sheet)
{
    const struct roof *roof = sheet->page.roof;
    if (!roof->whole || roof->outline.polygon_count == 0)
        return SITE_PLAN_LEAST;
    struct box box = region_box(&roof->outline);
    double height = box.max_y - box.min_y;
    const struct scale *scale = scale_fitting(
        columns_units(sheet->page.set) == UNITS_SI, box.max_x - box.min_x, height,
        sheet->page.frame.width - 2 * ASIDE, PLAN_MOST - 2 * ABOVE, SITE_FULL);
    /* A point more, so that rounding doesn't cost a scale; and as much as the names need
     * where there are many on a narrow roof. */
    double wanted = height * scale_points(scale, SITE_FULL) + 2 * ABOVE + 1;
    double names =
        (double)sheet->survey->place_count * NAME_ROOM / sheet->page.frame.width;
    return fmin(fmax(wanted, fmax(names, SITE_PLAN_LEAST)), PLAN_MOST);
}

void site_plan_draw(struct site_sheet *sheet, double height)
{
    struct plan_page *page = &sheet->page;
    page->plan = (struct area){page->frame.x, sheet->y, page->frame.width, height};
    canvas_rectangle(page->canvas, page->plan);
    canvas_stroke(page->canvas, INK_DARK, 0.7, DASH_NONE);
    plan_scale(page, ASIDE, ABOVE);
    sheet->y += height;
    if (!page->scale) {
        canvas_cell(page->canvas, HEADING, page->plan, ALIGN_MIDDLE, "no usable outline");
        return;
    }
    plan_draw(page);
    put_scale(sheet);
    put_places(sheet);
    put_key(sheet);
}
