/* What the edges take, row by row of the table of details. */

#include <math.h>

#include "base/units.h"
#include "order/bill_private.h"
#include "roof/edges.h"
#include "roof/field.h"
#include "roof/fixtures.h"

static const double corner_least = 0.5; /* sine of 30 degrees, as along edges (ours) */

/* Corners of sheets as near to an edge lie on it; as near to its end, at a corner, m. */
static const double on_edge = 0.002;

/* ---- What stands on the roof ---- */

/* A curb as the edge around an opening is: its footprint's corners run into the roof. */
static struct edge_sum curb_of(const struct fixture *fixture)
{
    struct ring ring = fixture->footprint;
    struct edge_sum sum = {.kind = EDGE_CURB,
                           .height = fixture->height,
                           .thickness = NAN,
                           .length = ring_length(ring)};

    for (size_t k = 0; k < ring.count; k++) {
        struct point a = ring.points[k];
        struct point b = ring.points[(k + 1) % ring.count];
        struct point c = ring.points[(k + 2) % ring.count];
        double cross = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
        double sine = cross / (point_distance(a, b) * point_distance(b, c));

        sum.reentrant += sine >= corner_least;
        sum.convex += sine <= -corner_least;
    }
    return sum;
}

static bool stands_on_curb(const struct fixture *fixture)
{
    return fixture_is_curbed(fixture->kind) && fixture->footprint.count > 0;
}

/* ---- Seams that end at edges ---- */

static bool lies_on(const struct edge *edge, struct point p)
{
    double length = point_distance(edge->from, edge->to);
    double x = ((p.x - edge->from.x) * (edge->to.x - edge->from.x) +
                (p.y - edge->from.y) * (edge->to.y - edge->from.y)) /
               length;
    double y = ((p.x - edge->from.x) * (edge->to.y - edge->from.y) -
                (p.y - edge->from.y) * (edge->to.x - edge->from.x)) /
               length;

    return fabs(y) < on_edge && x > on_edge && x < length - on_edge;
}

static size_t corners_on(const struct region *sheet, const struct edge *edge)
{
    size_t count = 0;

    for (size_t i = 0; i < sheet->polygon_count; i++)
        for (size_t j = 0; j < sheet->polygons[i].ring_count; j++)
            for (size_t k = 0; k < sheet->polygons[i].rings[j].count; k++)
                count += lies_on(edge, sheet->polygons[i].rings[j].points[k]);
    return count;
}

/* Whether a line from a to b crosses one from c to d. */
static bool crosses(struct point a, struct point b, struct point c, struct point d)
{
    double c_side = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    double d_side = (b.x - a.x) * (d.y - a.y) - (b.y - a.y) * (d.x - a.x);
    double a_side = (d.x - c.x) * (a.y - c.y) - (d.y - c.y) * (a.x - c.x);
    double b_side = (d.x - c.x) * (b.y - c.y) - (d.y - c.y) * (b.x - c.x);

    return (c_side > 0) != (d_side > 0) && (a_side > 0) != (b_side > 0);
}

static size_t crossings(struct ring a, struct ring b)
{
    size_t count = 0;

    for (size_t i = 0; i < a.count; i++)
        for (size_t k = 0; k < b.count; k++)
            count += crosses(a.points[i], a.points[(i + 1) % a.count], b.points[k],
                             b.points[(k + 1) % b.count]);
    return count;
}

/* Where a seam meets a curb, the edges of its two sheets cross the footprint. */
static double seams_at_curbs(const struct count *count)
{
    size_t found = 0;

    for (size_t i = 0; i < count->roof->fixture_count; i++) {
        const struct fixture *fixture = &count->roof->fixtures[i];
        struct box box = ring_box(fixture->footprint);

        for (size_t k = 0; stands_on_curb(fixture) && k < count->layout->sheet_count;
             k++) {
            const struct region *sheet = &count->layout->sheets[k].region;
            struct box around = region_box(sheet);

            for (size_t j = 0; boxes_near(&box, &around, 0) && j < sheet->polygon_count;
                 j++)
                found += crossings(fixture->footprint, sheet->polygons[j].rings[0]);
        }
    }
    return floor((double)found / 2);
}

/* Where a seam or a cover strip ends at an edge, two corners of sheets lie on it. */
static double seams_at(const struct count *count, enum edge_kind kind)
{
    const struct field *field = &count->field;
    size_t corners = 0;

    for (size_t i = 0;
         i < count->layout->sheet_count && edges_length(count->roof, kind) > 0; i++) {
        const struct region *sheet = &count->layout->sheets[i].region;
        struct box around = region_box(sheet);

        for (size_t k = 0; k < field->edge_count; k++) {
            const struct edge *edge = &field->edges[k];
            struct box box = box_empty();

            box_add(&box, edge->from);
            box_add(&box, edge->to);
            if (edge->kind == kind && boxes_near(&box, &around, on_edge))
                corners += corners_on(sheet, edge);
        }
    }
    return floor((double)corners / 2);
}

/* ---- Lengths and girths ---- */

/* How high the membrane goes up and over, m: to the top of a curb whose height is given;
 * a parapet's is as high as that is and goes over its top. */
static double girth_of(const struct count *count, const struct edge_sum *sum)
{
    double up = count->settings->flashing_height;

    if (sum->kind == EDGE_CURB)
        return fmax(up, sum->height);
    if (sum->kind != EDGE_PARAPET)
        return up;
    if (sum->height > up)
        up = sum->height;
    return up + parapet_thickness(sum->thickness);
}

/* How much of what a detail is counted by a sum of edges has. */
static double measure_of(const struct count *count, const struct detail *detail,
                         const struct edge_sum *sum)
{
    switch (detail->per) {
    case PER_LENGTH:
        return sum->length;
    case PER_HALF_LENGTH:
        return sum->length / 2;
    case PER_COURSE:
        return sum->length * nailer_courses(count, sum->kind).mean;
    case PER_GIRTH:
        return field_length(count->roof, sum) * (girth_of(count, sum) + detail->add);
    case PER_CONVEX:
        return sum->convex + (detail->use == USE_CORNER_IN ? sum->ends_at_walls : 0);
    case PER_REENTRANT:
        return sum->reentrant + (detail->use == USE_CORNER_OUT ? sum->ends : 0);
    case PER_SEAM:
    case PER_AREA:
    case DETAIL_PERS:
        break;
    }
    return 0;
}

/* The same of all edges of its kind. */
static double measured(const struct count *count, const struct detail *detail)
{
    const struct roof *roof = count->roof;
    double sum = 0;

    if (detail->per == PER_SEAM)
        return seams_at(count, detail->kind) +
               (detail->kind == EDGE_CURB ? seams_at_curbs(count) : 0);
    if (detail->per == PER_AREA)
        return edges_length(roof, detail->kind) > 0 ? roof->area : 0;
    for (size_t i = 0; i < roof->edge_sum_count; i++)
        if (roof->edge_sums[i].kind == detail->kind)
            sum += measure_of(count, detail, &roof->edge_sums[i]);
    for (size_t i = 0; i < roof->fixture_count && detail->kind == EDGE_CURB; i++)
        if (stands_on_curb(&roof->fixtures[i])) {
            struct edge_sum curb = curb_of(&roof->fixtures[i]);

            sum += measure_of(count, detail, &curb);
        }
    return sum;
}

static enum bill_measure measure_in(enum detail_per per)
{
    switch (per) {
    case PER_LENGTH:
    case PER_HALF_LENGTH:
    case PER_COURSE:
        return BILL_LENGTH;
    case PER_GIRTH:
    case PER_AREA:
        return BILL_AREA;
    case PER_CONVEX:
    case PER_REENTRANT:
    case PER_SEAM:
    case DETAIL_PERS:
        break;
    }
    return BILL_EACH;
}

/* What each row of the table comes to, added up by use. @return false: out of memory */
static bool takings_find(struct count *count, double needs[USE_WELD_SIDE])
{
    const struct detail_list *list = count->settings->details;
    struct bill *bill = count->bill;

    bill->takings = arena_array(count->arena, list->count, sizeof *bill->takings);
    for (size_t i = 0; bill->takings && i < list->count; i++) {
        const struct detail *detail = &list->details[i];
        double measure = measured(count, detail);
        double needed = detail->amount * measure;

        if (detail->per == PER_AREA)
            needed = ceil(needed - 1e-9);
        needs[detail->use] += needed;
        if (needed > 0)
            bill->takings[bill->taking_count++] =
                (struct edge_taking){.kind = detail->kind,
                                     .use = detail->use,
                                     .per = detail_per_words(detail->per, measure == 1),
                                     .measure = measure,
                                     .in = measure_in(detail->per),
                                     .needed = needed};
    }
    return bill->takings != NULL;
}

/* ---- The bill ---- */

/* How thick the walls under the coping are. */
static enum outlay_status note_thickness(struct count *count, struct bill_item *coping)
{
    double least = INFINITY, most = 0;
    bool given = true;

    for (size_t i = 0; i < count->roof->edge_sum_count; i++) {
        const struct edge_sum *sum = &count->roof->edge_sums[i];
        bool known = !isnan(sum->thickness);
        double thickness = parapet_thickness(sum->thickness);

        if (sum->kind != EDGE_PARAPET || !(sum->length > 0))
            continue;
        given = given && known;
        least = fmin(least, thickness);
        most = fmax(most, thickness);
    }
    if (most > least)
        return count_name(count, &coping->note,
                          "for parapets %.0f to %.0f in (%.0f to %.0f mm) thick%s",
                          least / M_PER_IN, most / M_PER_IN, least * 1000, most * 1000,
                          given ? "" : ", partly assumed");
    return count_name(count, &coping->note, "for a parapet %.0f in (%.0f mm) thick%s",
                      most / M_PER_IN, most * 1000, given ? "" : ", assumed");
}

static enum outlay_status note_courses(struct count *count, struct bill_item *nailer)
{
    const struct detail_list *list = count->settings->details;
    double least = INFINITY;
    double most = 1;

    for (size_t i = 0; i < list->count; i++) {
        struct courses courses = nailer_courses(count, list->details[i].kind);

        if (list->details[i].use == USE_NAILER && list->details[i].per == PER_COURSE) {
            least = fmin(least, courses.least);
            most = fmax(most, courses.most);
        }
    }
    if (most > least)
        return count_name(count, &nailer->note,
                          "%.0f to %.0f courses on each other, by the greatest thickness "
                          "of the taper along each edge",
                          least, most);
    return count_name(count, &nailer->note, "%.0f course%s on each other%s", most,
                      PLURAL((int)most),
                      count->roof->taper && !is_tapered(count) ? WITHOUT_TAPER : "");
}

enum outlay_status count_edges(struct count *count)
{
    double needs[USE_WELD_SIDE] = {0};
    enum outlay_status status = OUTLAY_OK;

    if (!takings_find(count, needs))
        return outlay_fail(count->err, OUTLAY_E_MEMORY, "counting edges");
    count->t_joints += needs[USE_T_JOINT];
    needs[USE_T_JOINT] = 0;
    for (int use = 0; use < USE_WELD_SIDE && status == OUTLAY_OK; use++) {
        bool pieces = item_use_measure((enum item_use)use) == BILL_EACH;
        double need = pieces ? ceil(needs[use] - 1e-6) : needs[use];
        struct bill_item *item = count_item(count, (enum item_use)use, need);

        if (item)
            count_close(count, item);
        if (item && use == USE_COPING)
            status = note_thickness(count, item);
        if (item && use == USE_NAILER)
            status = note_courses(count, item);
    }
    return status;
}
