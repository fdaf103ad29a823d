/* What the edges take, row by row of the table of details. */

#include <math.h>

#include "base/units.h"
#include "order/bill_private.h"
#include "roof/edges.h"

/* One course of nailers, m: a board of nominally 2 in. */
static const double course = 1.5 * M_PER_IN;

/* Corners of sheets as near to an edge lie on it; as near to its end, at a corner, m. */
static const double on_edge = 0.002;

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

/* Where a seam or a cover strip ends at an edge, two corners of sheets lie on it. */
static double seams_at(const struct count *count, enum edge_kind kind)
{
    const struct roof *roof = count->roof;
    size_t corners = 0;

    for (size_t i = 0; i < count->layout->sheet_count && edges_length(roof, kind) > 0;
         i++) {
        const struct region *sheet = &count->layout->sheets[i].region;
        struct box around = region_box(sheet);

        for (size_t k = 0; k < roof->edge_count; k++) {
            const struct edge *edge = &roof->edges[k];
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

/* How high the membrane goes up and over, m: a parapet's is as high as that is and goes
 * over its top. */
static double girth_of(const struct count *count, const struct edge_sum *sum)
{
    double up = count->settings->flashing_height;

    if (sum->kind != EDGE_PARAPET)
        return up;
    if (sum->height > up)
        up = sum->height;
    return up + (isnan(sum->thickness) ? PARAPET_USUAL : sum->thickness);
}

static double courses(const struct count *count)
{
    return fmax(1, ceil(count->stack / course - 1e-6));
}

/* How much of what a detail is counted by a sum of edges has. */
static double measure_of(const struct count *count, const struct detail *detail,
                         const struct edge_sum *sum)
{
    switch (detail->per) {
    case PER_LENGTH:
        return sum->length;
    case PER_COURSE:
        return sum->length * courses(count);
    case PER_GIRTH:
        return sum->length * (girth_of(count, sum) + detail->add);
    case PER_CONVEX:
        return sum->convex;
    case PER_REENTRANT:
        return sum->reentrant;
    case PER_SEAM:
    case PER_AREA:
    case DETAIL_PERS:
        break;
    }
    return 0;
}

static double needed(const struct count *count, const struct detail *detail)
{
    const struct roof *roof = count->roof;
    double sum = 0;

    if (detail->per == PER_SEAM)
        return detail->amount * seams_at(count, detail->kind);
    if (detail->per == PER_AREA && edges_length(roof, detail->kind) > 0)
        return ceil(detail->amount * roof->area - 1e-9);
    for (size_t i = 0; i < roof->edge_sum_count; i++)
        if (roof->edge_sums[i].kind == detail->kind)
            sum += detail->amount * measure_of(count, detail, &roof->edge_sums[i]);
    return sum;
}

/* ---- The bill ---- */

/* How thick the walls under the coping are: a roof has one kind of parapet. */
static enum outlay_status note_thickness(struct count *count, struct bill_item *coping)
{
    double thickness = count->roof->given.parapet_thickness;
    bool given = !isnan(thickness);

    if (!given)
        thickness = PARAPET_USUAL;
    return count_name(count, &coping->note, "for a parapet %.0f in (%.0f mm) thick%s",
                      thickness / M_PER_IN, thickness * 1000, given ? "" : ", assumed");
}

enum outlay_status count_edges(struct count *count)
{
    const struct detail_list *list = count->settings->details;
    double needs[USE_WELD_SIDE] = {0};
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < list->count; i++)
        needs[list->details[i].use] += needed(count, &list->details[i]);
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
            status = count_name(count, &item->note, "%.0f course%s on each other",
                                courses(count), PLURAL((int)courses(count)));
    }
    return status;
}
