/* The last page: kind by kind what an edge takes, with a section through it. */

#include <math.h>

#include "base/plural.h"
#include "draw/plan_page.h"
#include "roof/bill.h"
#include "roof/edges.h"
#include "roof/field.h"

/* Kinds stand in a grid of cells, in as few rows as they need. */
enum { CELLS_ACROSS = 3 };

/* Of a cell, pt: lines of items below the section, the section at the most, and the names
 * of items. */
#define ITEMS_ROOM 166
#define SECTION_MOST 300
#define NAMES 122

/* ---- What the roofs have ---- */

static void widen(struct range *range, double value)
{
    range->least = fmin(range->least, value);
    range->most = fmax(range->most, value);
}

/* Net of a use; 0 where the bill has none of it. */
static double net_of(const struct roof *roof, enum item_use use)
{
    double net = 0;
    for (size_t i = 0; roof->layout_count > 0 && i < roof->bills[0].count; i++)
        if (roof->bills[0].items[i].use == use && isfinite(roof->bills[0].items[i].net))
            net += roof->bills[0].items[i].net;
    return net;
}

/* The boards that are ordered, m thick in all, and how many layers. */
static double stack_of(const struct roof *roof, int *layers)
{
    double stack = 0, area = roof_field(roof).area;
    *layers = 0;
    for (size_t i = 0; roof->layout_count > 0 && i < roof->bills[0].count; i++) {
        const struct bill_item *item = &roof->bills[0].items[i];
        if (item->use != USE_BOARD || item->fills || !(item->net > 0))
            continue;
        int count = (int)fmax(1, round(item->net / area));
        stack += count * item->thickness;
        *layers += count;
    }
    return stack;
}

/* Courses of nailers, as ordered for all edges that have them. */
static double courses_of(const struct roof *roof, const struct detail_list *details)
{
    double length = 0;
    for (size_t i = 0; i < details->count; i++)
        if (details->details[i].use == USE_NAILER &&
            details->details[i].per == PER_COURSE)
            length +=
                details->details[i].amount * edges_length(roof, details->details[i].kind);
    return length > 0 ? round(net_of(roof, USE_NAILER) / length) : 0;
}

/* A stretch of an edge, or the footprint of what stands on a curb. */
static void add_stretch(struct edge_use *use, double length, double up, double thickness,
                        const struct edge_use *roof)
{
    if (use->length == 0)
        use->up = use->thickness = use->stack = (struct range){INFINITY, -INFINITY};
    use->length += length;
    widen(&use->up, up);
    widen(&use->thickness, thickness);
    widen(&use->stack, roof->drawn_stack);
    if (length <= use->drawn_length)
        return;
    use->drawn_length = length;
    use->drawn_up = up;
    use->drawn_thickness = thickness;
    use->drawn_stack = roof->drawn_stack;
    use->drawn_courses = roof->drawn_courses;
    use->layers = roof->layers;
    use->tapered = roof->tapered;
}

/* @return whether the roof has any of the kind */
static bool add_edges(struct edge_use *use, enum edge_kind kind, double least,
                      const struct roof *roof, const struct edge_use *own)
{
    bool any = false;
    for (size_t i = 0; i < roof->edge_sum_count; i++) {
        const struct edge_sum *sum = &roof->edge_sums[i];
        if (sum->kind != kind || !(sum->length > 0))
            continue;
        add_stretch(use, sum->length,
                    kind == EDGE_PARAPET ? fmax(least, sum->height) : least,
                    parapet_thickness(sum->thickness), own);
        any = true;
    }
    for (size_t i = 0; kind == EDGE_CURB && i < roof->fixture_count; i++) {
        const struct fixture *fixture = &roof->fixtures[i];
        double girth = fixture_girth(fixture);
        if (!fixture_is_curbed(fixture->kind) || !(girth > 0))
            continue;
        add_stretch(use, girth, fmax(least, fixture->height), PARAPET_USUAL, own);
        any = true;
    }
    return any;
}

void edge_uses_add(struct edge_use uses[EDGE_KINDS], const struct detail_list *details,
                   double least, const struct roof *roof)
{
    struct edge_use own = {.drawn_courses = courses_of(roof, details),
                           .tapered = roof->taper != NULL};
    own.drawn_stack = stack_of(roof, &own.layers);
    for (int kind = 0; kind < EDGE_KINDS; kind++)
        uses[kind].roofs +=
            add_edges(&uses[kind], (enum edge_kind)kind, least, roof, &own);
}

/* ---- The page ---- */

static void put_range(struct plan_page *page, struct text *text, const char *name,
                      struct range range)
{
    text_printf(text, "; %s ", name);
    figure_length(text, range.least, page->set);
    if (range.most > range.least + 0.001) {
        text_puts(text, " to ");
        figure_length(text, range.most, page->set);
    }
}

/* "Parapet: 1,032 ft on 3 roofs; up-turn 2'-0" to 3'-0"; thickness 8"" */
static void put_use(struct plan_page *page, struct area cell, enum edge_kind kind)
{
    const struct edge_use *use = &page->uses[kind];
    const struct unit *unit = &page->set->units->length;
    struct text *text = plan_scratch(page);
    text_grouped(text, use->length / unit->factor, 0);
    text_printf(text, " %s on %zu roof%s", unit->suffix, use->roofs, PLURAL(use->roofs));
    if (edge_is_flashed(kind))
        put_range(page, text, "up-turn", use->up);
    if (kind == EDGE_PARAPET)
        put_range(page, text, "thickness", use->thickness);
    if (edge_is_metal(kind))
        put_range(page, text, "boards", use->stack);
    plan_cell(page, PLAIN, cell.x + 10, cell.y + LINE + 8, cell.width - 20, ALIGN_LEFT,
              plan_text(page));
}

/* "all along", "3 each ft", "2 ft each ft of a course" */
static void put_along(struct plan_page *page, struct text *text,
                      const struct detail *detail)
{
    static const char *const ends[] = {[PER_LENGTH] = "",
                                       [PER_HALF_LENGTH] = " of half its length",
                                       [PER_COURSE] = " of a course"};
    static const char *const once[] = {[PER_LENGTH] = "all along",
                                       [PER_HALF_LENGTH] = "half of its length",
                                       [PER_COURSE] = "each course"};
    const struct unit *unit = &page->set->units->length;
    if (item_use_measure(detail->use) == BILL_EACH) {
        text_number(text, detail->amount * unit->factor, 3);
        text_printf(text, " each %s%s", unit->suffix, ends[detail->per]);
    } else if (fabs(detail->amount - 1) > 1e-9) {
        text_number(text, detail->amount, 3);
        text_printf(text, " %s each %s%s", unit->suffix, unit->suffix, ends[detail->per]);
    } else {
        text_puts(text, once[detail->per]);
    }
}

static void put_girth(struct plan_page *page, struct text *text,
                      const struct detail *detail)
{
    bool twice = fabs(detail->amount - 1) > 1e-9;
    if (twice) {
        text_number(text, detail->amount, 3);
        text_puts(text, " \xC3\x97 (");
    }
    text_puts(text, "up-turn");
    if (detail->kind == EDGE_PARAPET)
        text_puts(text, " + thickness");
    if (detail->add > 0) {
        text_puts(text, " + ");
        figure_length(text, detail->add, page->set);
    }
    text_puts(text, twice ? ")" : "");
}

static void put_amount(struct plan_page *page, struct text *text,
                       const struct detail *detail)
{
    switch (detail->per) {
    case PER_LENGTH:
    case PER_HALF_LENGTH:
    case PER_COURSE:
        put_along(page, text, detail);
        break;
    case PER_GIRTH:
        put_girth(page, text, detail);
        break;
    case PER_CONVEX:
    case PER_REENTRANT:
    case PER_SEAM:
        text_number(text, detail->amount, 3);
        text_puts(text, detail->per == PER_CONVEX      ? " at an outer corner"
                        : detail->per == PER_REENTRANT ? " at an inner corner"
                                                       : " at a seam that ends here");
        break;
    case PER_AREA:
        text_puts(text, "1 for each ");
        text_grouped(text, 1 / detail->amount / page->set->units->area.factor, 0);
        text_printf(text, " %s of roof", figure_unit(page->set->units->area.suffix));
        break;
    case DETAIL_PERS:
        break;
    }
}

static void put_items(struct plan_page *page, struct area cell, enum edge_kind kind,
                      double y)
{
    double left = cell.x + 10 + NAMES, width = cell.width - 20 - NAMES;
    double bottom = cell.y + cell.height - LINE - 2;
    size_t left_out = 0;
    for (size_t i = 0; i < page->details->count; i++) {
        const struct detail *detail = &page->details->details[i];
        if (detail->kind != kind)
            continue;
        struct text *text = plan_scratch(page);
        put_amount(page, text, detail);
        if (detail->note && *detail->note)
            text_printf(text, "; %s", detail->note);
        double height =
            canvas_paragraph_height(page->canvas, PLAIN, width, plan_text(page));
        height = fmin(height, 2.2 * LINE) + 0.5;
        if (left_out || y + height > bottom) {
            left_out++;
            continue;
        }
        canvas_paragraph(page->canvas, PLAIN, (struct area){left, y, width, height},
                         plan_text(page));
        canvas_paragraph(page->canvas, PLAIN,
                         (struct area){cell.x + 10, y, NAMES - 4, LINE},
                         item_use_name((int)detail->use));
        y += height;
    }
    if (!left_out)
        return;
    text_printf(plan_scratch(page), "%zu further item%s: see details.csv", left_out,
                PLURAL(left_out));
    plan_cell(page, PLAIN, cell.x + 10, y, cell.width - 20, ALIGN_LEFT, plan_text(page));
}

/* How far flashing of a kind is welded onto the field, m: the most that girths add. */
static double lap_of(const struct detail_list *details, enum edge_kind kind)
{
    double lap = 0;
    for (size_t i = 0; i < details->count; i++)
        if (details->details[i].kind == kind && details->details[i].per == PER_GIRTH)
            lap = fmax(lap, details->details[i].add);
    return lap;
}

static void draw_kind(struct plan_page *page, struct area cell, enum edge_kind kind)
{
    static const char *const titles[EDGE_KINDS] = {
        [EDGE_METAL] = "Edge metal", [EDGE_GUTTER] = "Gutter", [EDGE_PARAPET] = "Parapet",
        [EDGE_WALL] = "Wall",        [EDGE_CURB] = "Curb",     [EDGE_JOINT] = "Joint"};
    page->side = cell;
    side_heading(page, cell.y + 4, titles[kind]);
    put_use(page, cell, kind);
    page->plan =
        (struct area){cell.x + 6, cell.y + 2 * LINE + 10, cell.width - 12,
                      fmin(SECTION_MOST, cell.height - 2 * LINE - 10 - ITEMS_ROOM)};
    section_draw(page, kind, &page->uses[kind], lap_of(page->details, kind));
    put_items(page, cell, kind, page->plan.y + page->plan.height + 4);
}

static bool is_shown(const struct plan_page *page, int kind)
{
    return page->uses[kind].length > 0 && kind != EDGE_CONTINUOUS;
}

void details_draw(struct plan_page *page)
{
    struct area frame = page->frame;
    int count = 0, place = 0;
    for (int kind = EDGE_NOT_GIVEN + 1; kind < EDGE_KINDS; kind++)
        count += is_shown(page, kind);
    int lines = (count + CELLS_ACROSS - 1) / CELLS_ACROSS;
    double width = frame.width / CELLS_ACROSS;
    double height = (page->caution.y - frame.y) / fmax(1, lines);
    for (int kind = EDGE_NOT_GIVEN + 1; kind < EDGE_KINDS; kind++) {
        if (!is_shown(page, kind))
            continue;
        int column = place % CELLS_ACROSS, line = place / CELLS_ACROSS;
        struct area cell = {frame.x + column * width, frame.y + line * height, width,
                            height};
        draw_kind(page, cell, (enum edge_kind)kind);
        place++;
    }
    if (place == 0)
        canvas_cell(page->canvas, HEADING, frame, ALIGN_MIDDLE,
                    "no roof of this set has zones, so nothing is known of edges");
}
