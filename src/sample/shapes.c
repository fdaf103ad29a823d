#include "sample/shapes.h"

#include <math.h>
#include <string.h>

#include "sample/zonal.h"

/* All ours, tried on the made surfaces of tests/sample. A height further off a shape than
 * this many deviations of the noise isn't explained by it. */
#define NEAR 3.0

/* A shape has to explain this share of the heights, and better than the best one on the
 * other side of the limit by this much, in squares of the noise's deviation. */
#define SHARE_LEAST 0.5
#define BETTER_BY 10.0
#define PIXELS_LEAST 12

/* Times that a shape is fitted again to the heights that it explains; they are those
 * within a few medians of its residuals first, so that it finds its way. */
#define TURNS 8
#define MEDIANS 2.2

/* Levels that differ by less, m, are one (as in zoning). */
#define STEP_LEAST 0.9

/* Standard errors that a slope may be off: 9 times out of 10 it is off by less. */
#define DOUBT 1.65

enum { TERMS_MOST = 4 };

struct height {
    double u, v; /* along the longest edge of the outline and across, m */
    double edge; /* m to the nearest edge */
    double z;    /* m */
};

struct heights {
    struct height *items;
    size_t count;
    struct box box;  /* of the outline, along and across */
    double noise;    /* variance, m2 */
    double *scratch; /* as many numbers */
};

enum form { FORM_PLANE, FORM_RIDGE_ALONG, FORM_RIDGE_ACROSS, FORM_HIP, FORM_STEP };

struct shape {
    enum form form;
    bool across; /* of a step: it is passed in the direction v */
    double at;   /* of a step: where */
};

struct fitted {
    double factors[TERMS_MOST];
    double inverse[TERMS_MOST][TERMS_MOST]; /* of the normal equations */
    size_t near;                            /* heights that it explains */
    double cost;                            /* the less the better; INFINITY: no fit */
    double slope, error2;                   /* rise over run; square of its error */
    bool stepped;
};

/* ---- Shapes -------------------------------------------------------------------- */

/* What each factor of a shape is multiplied by at a place. @return how many */
static int terms_of(const struct heights *heights, struct shape shape, struct height at,
                    double out[TERMS_MOST])
{
    const struct box *box = &heights->box;

    out[0] = 1;
    switch (shape.form) {
    case FORM_RIDGE_ALONG:
        out[1] = fabs(at.v - (box->min_y + box->max_y) / 2);
        return 2;
    case FORM_RIDGE_ACROSS:
        out[1] = fabs(at.u - (box->min_x + box->max_x) / 2);
        return 2;
    case FORM_HIP:
        out[1] = at.edge;
        return 2;
    default:
        out[1] = at.u;
        out[2] = at.v;
        out[3] = (shape.across ? at.v : at.u) > shape.at;
        return shape.form == FORM_PLANE ? 3 : 4;
    }
}

static double residual(const struct heights *heights, struct shape shape,
                       const struct fitted *fitted, struct height at)
{
    double terms[TERMS_MOST];
    int count = terms_of(heights, shape, at, terms);
    double off = at.z;

    for (int i = 0; i < count; i++)
        off -= fitted->factors[i] * terms[i];
    return off;
}

/* ---- Least squares ------------------------------------------------------------- */

/* Inverts a matrix in place by elimination; it is symmetric and positive, so no rows need
 * to change places. @return false where it has no inverse */
static bool invert(int size, double m[TERMS_MOST][TERMS_MOST])
{
    for (int k = 0; k < size; k++) {
        double pivot = m[k][k];

        if (!(pivot > 1e-9))
            return false;
        m[k][k] = 1;
        for (int j = 0; j < size; j++)
            m[k][j] /= pivot;
        for (int i = 0; i < size; i++) {
            double times = m[i][k];

            if (i == k)
                continue;
            m[i][k] = 0;
            for (int j = 0; j < size; j++)
                m[i][j] -= times * m[k][j];
        }
    }
    return true;
}

/* Fits a shape to the heights that are within a tolerance of its last fit. */
static bool fit_near(const struct heights *heights, struct shape shape, double tolerance,
                     struct fitted *fitted)
{
    double sums[TERMS_MOST] = {0}, terms[TERMS_MOST];
    double(*m)[TERMS_MOST] = fitted->inverse;
    int count = 0;

    memset(fitted->inverse, 0, sizeof fitted->inverse);
    for (size_t k = 0; k < heights->count; k++) {
        struct height at = heights->items[k];

        if (fabs(residual(heights, shape, fitted, at)) > tolerance)
            continue;
        count = terms_of(heights, shape, at, terms);
        for (int i = 0; i < count; i++) {
            sums[i] += terms[i] * at.z;
            for (int j = 0; j < count; j++)
                m[i][j] += terms[i] * terms[j];
        }
    }
    if (!invert(count, m))
        return false;
    for (int i = 0; i < count; i++) {
        fitted->factors[i] = 0;
        for (int j = 0; j < count; j++)
            fitted->factors[i] += m[i][j] * sums[j];
    }
    return count > 0;
}

static double median_off(const struct heights *heights, struct shape shape,
                         const struct fitted *fitted)
{
    for (size_t k = 0; k < heights->count; k++)
        heights->scratch[k] = fabs(residual(heights, shape, fitted, heights->items[k]));
    return percentile(heights->scratch, heights->count, 50);
}

/* Squares of what is off, in the noise's deviations; what isn't explained counts as just
 * not explained, and each factor costs what chance would let it explain. */
static void judge(const struct heights *heights, struct shape shape,
                  struct fitted *fitted)
{
    double terms[TERMS_MOST];
    int factors = terms_of(heights, shape, heights->items[0], terms);

    fitted->near = 0;
    fitted->cost = factors * log((double)heights->count);
    for (size_t k = 0; k < heights->count; k++) {
        double off = residual(heights, shape, fitted, heights->items[k]);
        double square = off * off / heights->noise;

        fitted->near += square <= NEAR * NEAR;
        fitted->cost += fmin(square, NEAR * NEAR);
    }
}

/* The slope of a fitted shape and its error. */
static void measure(const struct heights *heights, struct shape shape,
                    struct fitted *fitted)
{
    const double *f = fitted->factors;
    double(*m)[TERMS_MOST] = fitted->inverse;
    bool flat = shape.form == FORM_PLANE || shape.form == FORM_STEP;

    fitted->slope = flat ? sqrt(f[1] * f[1] + f[2] * f[2]) : fabs(f[1]);
    fitted->error2 = heights->noise * (flat ? (m[1][1] + m[2][2]) / 2 : m[1][1]);
    fitted->stepped = shape.form == FORM_STEP;
    if (fitted->stepped && fabs(f[3]) < STEP_LEAST)
        fitted->cost = INFINITY;
}

static void fit_shape(const struct heights *heights, struct shape shape,
                      struct fitted *out)
{
    double near = NEAR * sqrt(heights->noise), tolerance = INFINITY;

    *out = (struct fitted){.cost = INFINITY};
    for (int turn = 0; turn < TURNS; turn++) {
        if (!fit_near(heights, shape, tolerance, out))
            return;
        tolerance = turn > TURNS / 2
                        ? near
                        : fmax(near, MEDIANS * median_off(heights, shape, out));
    }
    judge(heights, shape, out);
    measure(heights, shape, out);
}

/* ---- The roof ------------------------------------------------------------------ */

/* The best shapes on both sides of the limit. */
struct rivals {
    struct fitted low, pitched;
};

static void compare(const struct heights *heights, struct shape shape, double limit,
                    struct rivals *rivals)
{
    struct fitted fitted;

    fit_shape(heights, shape, &fitted);
    struct fitted *rival = fitted.slope > limit ? &rivals->pitched : &rivals->low;

    if (fitted.cost < rival->cost)
        *rival = fitted;
}

/* Steps at every metre between the edges, 2 m from either. */
static void compare_steps(const struct heights *heights, bool across, double from,
                          double to, double limit, struct rivals *rivals)
{
    for (int m = 2; m < to - from - 2; m++)
        compare(heights, (struct shape){FORM_STEP, across, from + m}, limit, rivals);
}

static void compare_all(const struct heights *heights, double limit,
                        struct rivals *rivals)
{
    const struct box *box = &heights->box;

    *rivals = (struct rivals){.low.cost = INFINITY, .pitched.cost = INFINITY};
    for (int form = FORM_PLANE; form <= FORM_HIP; form++)
        compare(heights, (struct shape){.form = (enum form)form}, limit, rivals);
    compare_steps(heights, false, box->min_x, box->max_x, limit, rivals);
    compare_steps(heights, true, box->min_y, box->max_y, limit, rivals);
}

static void decide(const struct heights *heights, double limit, struct plane_fit *out)
{
    struct rivals rivals;

    compare_all(heights, limit, &rivals);
    bool pitched = rivals.pitched.cost < rivals.low.cost;
    const struct fitted *best = pitched ? &rivals.pitched : &rivals.low;
    double better = fabs(rivals.pitched.cost - rivals.low.cost);

    if (isinf(best->cost))
        return;
    out->slope = best->slope;
    out->doubt = DOUBT * sqrt(best->error2);
    if (better < BETTER_BY || fabs(best->slope - limit) < out->doubt ||
        (double)best->near < SHARE_LEAST * (double)heights->count)
        return;
    out->flatness = pitched         ? FLATNESS_PITCHED
                    : best->stepped ? FLATNESS_STEPPED
                                    : FLATNESS_LOW;
}

/* The direction of the outline's longest edge, of length 1. */
static struct point longest_edge(const struct mask *mask, const struct region *outline)
{
    struct point longest = {1, 0};
    double most = 0;

    for (size_t i = 0; i < outline->polygon_count; i++) {
        struct ring ring = outline->polygons[i].rings[0];

        for (size_t k = 0; k < ring.count; k++) {
            struct point a = ring.points[k], b = ring.points[(k + 1) % ring.count];
            struct point along = mask_metres(mask, b.x - a.x, b.y - a.y);
            double length = sqrt(along.x * along.x + along.y * along.y);

            if (length > most) {
                most = length;
                longest = (struct point){along.x / length, along.y / length};
            }
        }
    }
    return longest;
}

static struct point turn(struct point p, struct point along)
{
    return (struct point){p.x * along.x + p.y * along.y, p.y * along.x - p.x * along.y};
}

static void find_box(const struct mask *mask, const struct region *outline,
                     struct point along, struct box *out)
{
    *out = box_empty();
    for (size_t i = 0; i < outline->polygon_count; i++) {
        struct ring ring = outline->polygons[i].rings[0];

        for (size_t k = 0; k < ring.count; k++)
            box_add(out,
                    turn(mask_metres(mask, ring.points[k].x, ring.points[k].y), along));
    }
}

static void take_heights(const struct mask *mask, const struct region *outline,
                         const double *values, struct point along,
                         struct heights *heights)
{
    for (int row = 0; row < mask->height; row++)
        for (int col = 0; col < mask->width; col++) {
            double z = values[(size_t)row * (size_t)mask->width + (size_t)col];
            struct point at = turn(mask_metres(mask, col + 0.5, row + 0.5), along);

            if (isnan(z))
                continue;
            heights->items[heights->count++] = (struct height){
                at.x, at.y, mask_edge_distance(mask, outline, col, row), z};
        }
}

bool shapes_fit(const struct mask *mask, const struct region *outline,
                const double *values, double noise, double limit, struct arena *arena,
                struct plane_fit *out)
{
    size_t all = (size_t)mask->width * (size_t)mask->height;
    struct point along = longest_edge(mask, outline);
    struct heights heights = {.items = arena_array(arena, all, sizeof *heights.items),
                              .scratch = arena_array(arena, all, sizeof(double)),
                              .noise = noise};

    *out = (struct plane_fit){.slope = NAN, .doubt = NAN, .flatness = FLATNESS_UNCERTAIN};
    if (!heights.items || !heights.scratch)
        return false;
    find_box(mask, outline, along, &heights.box);
    take_heights(mask, outline, values, along, &heights);
    if (heights.count >= PIXELS_LEAST) {
        out->cells = (int)heights.count;
        decide(&heights, limit, out);
    }
    return true;
}
