#include "roof/edges.h"

#include <math.h>

#include "base/number.h"
#include "roof/field.h"

static const double corner_least = 0.5; /* sine of 30 degrees */
static const double wall_least = 0.3;   /* m; as much less was found by tracing (ours) */
static const double end_least = 0.025;  /* m; parapets that differ by less go on (ours) */

const char *edge_source_name(int value)
{
    static const char *const names[] = {"layer", "heights", "column", "option",
                                        "assumed"};

    return value >= 0 && value <= EDGE_ASSUMED ? names[value] : NULL;
}

const char *edge_source_reason(int value)
{
    static const char *const reasons[] = {
        "by the layer of edges", "by the heights of the sections",
        "by the roof's columns", "by an option", "assumed"};

    return value >= 0 && value <= EDGE_ASSUMED ? reasons[value] : NULL;
}

bool edge_is_flashed(enum edge_kind kind)
{
    return kind == EDGE_PARAPET || kind == EDGE_WALL || kind == EDGE_CURB;
}

bool edge_is_metal(enum edge_kind kind)
{
    return kind == EDGE_METAL || kind == EDGE_GUTTER;
}

enum edge_kind edge_own_kind(const struct roof *roof, enum edge_source *source)
{
    const struct attributes *given = &roof->given;

    *source = roof->edge_by_option ? EDGE_BY_OPTION : EDGE_BY_COLUMN;
    if (given->edge != EDGE_NOT_GIVEN)
        return given->edge;
    if (isnan(given->parapet))
        *source = EDGE_ASSUMED;
    return given->parapet > 0 ? EDGE_PARAPET : EDGE_METAL;
}

/* ---- Sums ---- */

bool edge_is_alike(const struct edge *edge, const struct edge_sum *sum)
{
    return sum->kind == edge->kind && sum->source == edge->source &&
           same_number(sum->height, edge->height) &&
           same_number(sum->thickness, edge->thickness);
}

/* The sum that an edge of this sort belongs to; made where there is none. There is room:
 * for one a stretch, and one more. */
static struct edge_sum *sum_of(struct roof *roof, const struct edge *edge)
{
    struct edge_sum *made = NULL;

    for (size_t i = 0; i < roof->edge_sum_count; i++)
        if (edge_is_alike(edge, &roof->edge_sums[i]))
            return &roof->edge_sums[i];
    made = &roof->edge_sums[roof->edge_sum_count++];
    *made = (struct edge_sum){.kind = edge->kind,
                              .source = edge->source,
                              .height = edge->height,
                              .thickness = edge->thickness};
    return made;
}

/* Sine of the turn to the left from one stretch to the next; 1 or -1 beyond a right
 * angle. */
static double turn_between(const struct edge *edge, const struct edge *next)
{
    struct point d = {edge->to.x - edge->from.x, edge->to.y - edge->from.y};
    struct point e = {next->to.x - next->from.x, next->to.y - next->from.y};
    double sine = (d.x * e.y - d.y * e.x) / (point_distance(edge->from, edge->to) *
                                             point_distance(next->from, next->to));

    return d.x * e.x + d.y * e.y < 0 ? copysign(1, sine) : sine;
}

/* The stretch that follows on the same ring. */
static size_t edge_after(const struct roof *roof, size_t k, size_t first)
{
    bool same =
        k + 1 < roof->edge_count && roof->edges[k + 1].ring == roof->edges[k].ring;

    return same ? k + 1 : first;
}

/* Adds the corner between two edges, if they turn one that goods go round. */
static void corner_add(const struct edge *edge, const struct edge *next,
                       struct edge_sum *sum)
{
    double turn = turn_between(edge, next);
    bool goes_round = (edge_is_flashed(edge->kind) && edge_is_flashed(next->kind)) ||
                      (edge_is_metal(edge->kind) && edge_is_metal(next->kind));

    if (!goes_round || fabs(turn) < corner_least)
        return;
    if (turn > 0)
        sum->convex++;
    else
        sum->reentrant++;
}

/* A corner between two kinds belongs to the one that goes higher up: where a parapet ends
 * at a wall, flashing turns a corner, coping doesn't. */
static void count_corner(struct roof *roof, const struct edge *edge,
                         const struct edge *next)
{
    corner_add(edge, next, sum_of(roof, next->kind > edge->kind ? next : edge));
}

static double thickness_of(const struct edge *edge)
{
    return edge->kind == EDGE_PARAPET ? parapet_thickness(edge->thickness) : 0;
}

/* A parapet ends within a side, or where the outline turns away from it into the roof:
 * elsewhere it goes on up to the next side. */
static void end_add(const struct edge *edge, const struct edge *next,
                    struct edge_sum *sum)
{
    double more = thickness_of(edge) - thickness_of(next);
    const struct edge *beyond = more > 0 ? next : edge;
    double turn = turn_between(edge, next);
    bool flashed = edge_is_flashed(beyond->kind);

    if (fabs(more) < end_least || turn >= corner_least ||
        (turn <= -corner_least && flashed) || beyond->kind == EDGE_CONTINUOUS)
        return;
    sum->ends++;
    sum->ends_at_walls += flashed;
}

/* It belongs to the thicker parapet. @param other  the roof that has the next edge */
static void count_end(struct roof *roof, const struct edge *edge, struct roof *other,
                      const struct edge *next)
{
    bool first = thickness_of(edge) > thickness_of(next);

    end_add(edge, next, first ? sum_of(roof, edge) : sum_of(other, next));
}

void edges_corner_add(struct roof *roof, const struct edge *edge, struct roof *other,
                      const struct edge *next)
{
    corner_add(edge, next, sum_of(roof, edge));
    count_end(roof, edge, other, next);
}

/* Of a wall_length what no wall was found for. */
static void sum_walls(struct roof *roof)
{
    struct edge wall = {
        .kind = EDGE_WALL, .source = EDGE_BY_COLUMN, .height = NAN, .thickness = NAN};
    enum edge_source source;
    enum edge_kind own = edge_own_kind(roof, &source);
    double left = roof->given.wall_length - edges_length(roof, EDGE_WALL);

    if (!(left > wall_least) || own == EDGE_WALL)
        return;
    for (size_t i = 0; i < roof->edge_sum_count && left > 0; i++) {
        double taken = 0;

        if (roof->edge_sums[i].kind != own)
            continue;
        taken = fmin(left, roof->edge_sums[i].length);
        roof->edge_sums[i].length -= taken;
        sum_of(roof, &wall)->length += taken;
        left -= taken;
    }
}

enum outlay_status edges_sum(struct arena *arena, struct roof *roof)
{
    size_t first = 0;

    roof->edge_sum_count = 0;
    roof->edge_sums = arena_array(arena, roof->edge_count + 1, sizeof *roof->edge_sums);
    if (!roof->edge_sums)
        return OUTLAY_E_MEMORY;
    for (size_t k = 0; k < roof->edge_count; k++) {
        const struct edge *edge = &roof->edges[k], *next = NULL;

        if (edge->ring != roof->edges[first].ring)
            first = k;
        next = &roof->edges[edge_after(roof, k, first)];
        sum_of(roof, edge)->length += point_distance(edge->from, edge->to);
        count_corner(roof, edge, next);
        count_end(roof, edge, roof, next);
    }
    sum_walls(roof);
    return OUTLAY_OK;
}

double edges_length(const struct roof *roof, enum edge_kind kind)
{
    double sum = 0;

    for (size_t i = 0; i < roof->edge_sum_count; i++)
        sum += roof->edge_sums[i].kind == kind ? roof->edge_sums[i].length : 0;
    return sum;
}
