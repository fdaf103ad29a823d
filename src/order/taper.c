/* Tapered insulation: its panels, the fill under them, its crickets; and what follows
 * from it for screws, nailers, walls and R-values. */

#include "roof/taper.h"

#include <math.h>
#include <string.h>

#include "base/units.h"
#include "order/bill_private.h"
#include "order/cutting.h"
#include "roof/basis.h"
#include "roof/edges.h"
#include "roof/field.h"
#include "roof/fixtures.h"

/* Fill layers that differ by less are of one thickness, m. */
static const double same_fill = 1e-4;

/* ---- Panels ---- */

/* Panels of one letter, or fill of one thickness. */
struct kind {
    enum item_use use;
    struct taper_format format;
    double net;  /* m2 */
    double used; /* whole ones and the boxes of cut ones, m2 */
    double thickness;
    size_t whole;
    struct cut_piece *pieces;
    size_t piece_count;
};

/* Cut panels share one only side by side across the slope, each with all of its length;
 * flat fill is cut either way. */
static void add_to(struct kind *kind, const struct taper_panel *panel, int layers)
{
    double one = kind->format.length * kind->format.width;
    double length = kind->use == USE_TAPER_FILL ? panel->length : kind->format.length;

    kind->net += layers * panel->area;
    if (panel->cricket) {
        kind->used += layers * panel->area; /* of crickets only areas are known */
    } else if (panel->whole) {
        kind->whole += (size_t)layers;
        kind->used += layers * one;
    } else if (panel->length > 0) {
        kind->used += layers * length * panel->width;
        for (int i = 0; i < layers; i++)
            kind->pieces[kind->piece_count++] = (struct cut_piece){length, panel->width};
    }
}

/* Whole panels, those that the pieces are cut from, and by area what has no pieces.
 * NULL: nothing is needed. */
static enum outlay_status add_kind(struct count *count, struct kind *kind,
                                   struct bill_item **out)
{
    double one = kind->format.length * kind->format.width;
    struct bill_item *item = count_item(count, kind->use, kind->net);
    struct board_cuts cuts = {0, 0};
    enum outlay_status status = OUTLAY_OK;

    *out = item;
    if (!item)
        return OUTLAY_OK;
    status = boards_cut(count->arena, kind->pieces, kind->piece_count,
                        kind->format.length, kind->format.width, &cuts, count->err);
    item->holds = one;
    item->pack = kind->use == USE_TAPER_FILL ? "board" : "panel";
    item->thickness = kind->thickness;
    item->packs = fmax((double)(kind->whole + cuts.boards),
                       bill_packs(fmax(kind->used, kind->net), one));
    item->cuts = fmax(kind->used - kind->net, 0);
    item->rounding = item->packs * one - item->net - item->cuts;
    count_close(count, item);
    return status;
}

static enum outlay_status add_letter(struct count *count, size_t first,
                                     const struct taper_format *format,
                                     struct cut_piece *pieces)
{
    const struct taper *taper = count->roof->taper;
    const struct taper_panel *like = &taper->panels[first];
    struct kind kind = {.use = like->cricket ? USE_CRICKET_PANEL : USE_TAPERED_PANEL,
                        .format = *format,
                        .thickness = (like->thin + like->thick) / 2,
                        .pieces = pieces};
    struct bill_item *item = NULL;
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = first; i < taper->panel_count; i++)
        if (taper_panels_alike(like, &taper->panels[i]))
            add_to(&kind, &taper->panels[i], 1);
    status = add_kind(count, &kind, &item);
    if (status != OUTLAY_OK || !item)
        return status;
    status =
        count_name(count, &item->item, "%s %s %g ft x %g ft, %g in to %g in",
                   item_use_name((int)kind.use), like->letter, format->length / M_PER_FT,
                   format->width / M_PER_FT, round(like->thin / M_PER_IN * 100) / 100,
                   round(like->thick / M_PER_IN * 100) / 100);
    if (status != OUTLAY_OK || !like->cricket)
        return status;
    return count_name(
        count, &item->note,
        "for %zu cricket%s, by area; the first row is cut to nothing at its "
        "edge",
        taper->cricket_count, PLURAL((int)taper->cricket_count));
}

/* Whether a letter stands further ahead already. */
static bool seen_before(const struct taper *taper, size_t panel)
{
    for (size_t i = 0; i < panel; i++)
        if (taper_panels_alike(&taper->panels[i], &taper->panels[panel]))
            return true;
    return false;
}

static enum outlay_status add_letters(struct count *count, struct cut_piece *pieces)
{
    const struct taper *taper = count->roof->taper;
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < taper->panel_count && status == OUTLAY_OK; i++)
        if (!seen_before(taper, i))
            status = add_letter(count, i,
                                taper->panels[i].cricket ? &taper->cricket_format
                                                         : &taper->format,
                                pieces);
    return status;
}

/* ---- Fill ---- */

static size_t fill_layers(const struct taper *taper)
{
    size_t layers = 0;

    for (size_t i = 0; i < taper->fill_count; i++)
        layers += (size_t)taper->fills[i].fill;
    return layers;
}

static const struct taper_format *format_of(const struct taper *taper,
                                            const struct taper_panel *panel)
{
    return panel->cricket ? &taper->cricket_format : &taper->format;
}

/* Flat fill of one thickness, under panels and crickets alike. */
static enum outlay_status add_fill(struct count *count, const struct taper_format *format,
                                   struct cut_piece *pieces)
{
    const struct taper *taper = count->roof->taper;
    struct kind kind = {.use = USE_TAPER_FILL,
                        .format = *format,
                        .thickness = format->fill,
                        .pieces = pieces};
    struct bill_item *item = NULL;
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < taper->fill_count; i++) {
        const struct taper_panel *fill = &taper->fills[i];

        if (fabs(format_of(taper, fill)->fill - format->fill) < same_fill)
            add_to(&kind, fill, fill->fill);
    }
    status = add_kind(count, &kind, &item);
    if (status != OUTLAY_OK || !item)
        return status;
    return count_name(count, &item->item, "taper fill board %g ft x %g ft x %g in",
                      format->length / M_PER_FT, format->width / M_PER_FT,
                      round(format->fill / M_PER_IN * 100) / 100);
}

static enum outlay_status add_fills(struct count *count, struct cut_piece *pieces)
{
    const struct taper *taper = count->roof->taper;
    enum outlay_status status = add_fill(count, &taper->format, pieces);

    if (status == OUTLAY_OK &&
        fabs(taper->cricket_format.fill - taper->format.fill) >= same_fill)
        status = add_fill(count, &taper->cricket_format, pieces);
    return status;
}

/* ---- R-values ---- */

/* Old boards that stay and the board over them aren't counted: their R isn't known. */
static void sum_resistance(const struct count *count)
{
    const double per_metre = R_PER_IN * RSI_PER_R / M_PER_IN;
    struct taper *taper = count->roof->taper;

    taper->flat = count->roof->scope == SCOPE_RECOVER ? 0 : count->stack;
    taper->r_mean = per_metre * (taper_mean(taper) + taper->flat);
    taper->r_effective = per_metre / taper_inverse_mean(taper, taper->flat);
}

bool is_tapered(const struct count *count)
{
    return count->roof->taper && !count->roof->taper->lacking;
}

enum outlay_status count_taper(struct count *count)
{
    const struct taper *taper = count->roof->taper;
    struct cut_piece *pieces = NULL;
    enum outlay_status status = OUTLAY_OK;

    if (taper && taper->lacking)
        count_not_given(count, USE_TAPERED_PANEL,
                        "not counted: the places of drains aren't known");
    if (taper && (taper->lacking || taper->panels_lacking))
        count_not_given(count, USE_TAPER_FILL,
                        "not counted: tapered panels aren't, on which it depends");
    if (!is_tapered(count))
        return OUTLAY_OK;
    if (count->layout == &count->roof->layouts[0])
        sum_resistance(count);
    if (taper->panels_lacking)
        count_not_given(count, USE_TAPERED_PANEL, taper->panels_lacking);
    else if (taper->unreached > 0)
        count_not_given(count, USE_TAPERED_PANEL,
                        "not counted where no drain can be reached");
    if (taper->crickets_lacking)
        count_not_given(count, USE_CRICKET_PANEL, taper->crickets_lacking);
    pieces = arena_array(count->arena, taper->panel_count + fill_layers(taper),
                         sizeof *pieces);
    if (!pieces)
        return outlay_fail(count->err, OUTLAY_E_MEMORY, "counting tapered panels");
    status = add_letters(count, pieces);
    return status == OUTLAY_OK ? add_fills(count, pieces) : status;
}

size_t taper_items(const struct roof *roof, const struct item_list *items)
{
    const struct taper *taper = roof->taper;
    size_t letters = 0;

    if (!taper)
        return 0;
    for (size_t i = 0; i < taper->panel_count; i++)
        letters += !seen_before(taper, i);
    return letters + 2 + items->count; /* fill; screws of every length */
}

/* ---- Nailers and walls ---- */

/* One course of nailers, m: a board of nominally 2 in. */
static const double course = 1.5 * M_PER_IN;

static double courses_at(const struct count *count, double thickness)
{
    return fmax(1, ceil((count->stack + thickness) / course - 1e-6));
}

struct courses nailer_courses(const struct count *count, enum edge_kind kind)
{
    const struct roof *roof = count->roof;
    struct field field = roof_field(roof);
    struct courses courses = {INFINITY, 0, 0};
    double flat = courses_at(count, 0);
    double length = 0;
    double sum = 0;

    if (!is_tapered(count))
        return (struct courses){flat, flat, flat};
    for (size_t k = 0; k < field.edge_count; k++) {
        const struct edge *edge = &field.edges[k];
        double along = point_distance(edge->from, edge->to);
        double of = courses_at(count, roof->taper->edge_most[k]);

        if (edge->kind != kind)
            continue;
        courses.least = fmin(courses.least, of);
        courses.most = fmax(courses.most, of);
        length += along;
        sum += along * of;
    }
    courses.mean = length > 0 ? sum / length : flat; /* around fixtures */
    return courses;
}

/* How far the new surface lies above the present one where the taper is so thick, m. */
static double surface_rise(const struct roof *roof, double taper)
{
    double flat = roof->scope == SCOPE_RECOVER ? RECOVER_BOARD : roof->taper->flat;
    double gone = roof->scope == SCOPE_RECOVER ? 0 : roof->basis.stack;

    return flat - gone + taper;
}

/* The wall or curb of which least is left. */
struct lowest {
    double left; /* m */
    enum edge_kind kind;
};

/* A height that isn't known says nothing. */
static void lowest_take(struct lowest *lowest, double left, enum edge_kind kind)
{
    if (left < lowest->left)
        *lowest = (struct lowest){left, kind};
}

static struct lowest lowest_find(const struct roof *roof)
{
    struct lowest lowest = {INFINITY, EDGE_NOT_GIVEN};
    struct field field = roof_field(roof);

    for (size_t k = 0; k < field.edge_count; k++) {
        const struct edge *edge = &field.edges[k];

        if (edge_is_flashed(edge->kind))
            lowest_take(&lowest,
                        edge->height - surface_rise(roof, roof->taper->edge_most[k]),
                        edge->kind);
    }
    for (size_t i = 0; i < roof->fixture_count; i++) {
        const struct fixture *fixture = &roof->fixtures[i];

        if (fixture_is_curbed(fixture->kind) && fixture->footprint.count > 0)
            lowest_take(
                &lowest,
                fixture->height -
                    surface_rise(roof, taper_most_under(roof->taper, fixture->footprint)),
                EDGE_CURB);
    }
    return lowest;
}

void taper_check_walls(struct arena *arena, struct roof *roof, double flashing_height)
{
    struct lowest lowest = {INFINITY, EDGE_NOT_GIVEN};
    bool buried = false;

    if (roof->taper && !roof->taper->lacking)
        lowest = lowest_find(roof);
    buried = lowest.left < 0;
    if (lowest.left < flashing_height - 1e-3)
        roof_problem(
            arena, roof, PROBLEM_TAPER_WALL,
            "flashing is counted for the whole wall: raise the wall, move drains "
            "or make the taper thinner",
            "the taper %s %.1f in (%.0f mm) %s a %s, and flashing needs %.1f in "
            "(%.0f mm) of it above the taper",
            buried ? "ends" : "leaves", fabs(lowest.left) / M_PER_IN,
            fabs(lowest.left) * 1000, buried ? "above the top of" : "of",
            edge_kind_name((int)lowest.kind), flashing_height / M_PER_IN,
            flashing_height * 1000);
}
