#include "sample/plane.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sample/shapes.h"
#include "sample/zonal.h"

/* All ours, tried on made surfaces of 0.5 and 1 m with noise of up to 0.2 m. A cell is at
 * least this many pixels wide, at most this many metres, and else this share of the
 * roof's width; it counts when this share of its pixels has heights. */
#define CELL_PIXELS 4
#define CELL_MOST 4.0
#define CELL_SHARE 0.4
#define CELL_FULL 0.75

/* A cell is off when its heights scatter by this many times the noise; fewer good cells
 * than this leave doubt. */
#define OFF_FROM 3.0
#define CELLS_LEAST 4
#define GOOD_LEAST 0.2

/* Heights scatter by this much at least, m: rasters are rounded. */
#define SCATTER_LEAST 0.05

/* One plane is the roof's when it holds this share of the pixels, they scatter about it
 * by hardly more than the noise, and few lie just off it, as those of a ridge would, and
 * not on another level; it is looked for from this many cells on. */
#define PLANE_SHARE 0.6
#define PLANE_OFF 0.08
#define PLANE_SCATTER 1.5
#define PLANE_STARTS 12

/* Levels that differ by less, m, are one (as in zoning), and each has this share of the
 * cells. */
#define STEP_LEAST 0.9
#define STEP_SHARE 0.1

/* Standard errors that a slope may be off: 9 times out of 10 it is off by less. */
#define DOUBT 1.65

/* A low-slope roof has at most this share of steep cells: more, and a part is pitched. */
#define STEEP_MOST 0.25

struct plane {
    double height;   /* m, at pixel 0, 0 */
    double col, row; /* rise of a column, of a row, m */
    double gradient; /* square of rise over run */
    double noise;    /* of that square, per unit of the heights' variance, a direction */
    double variance; /* of the heights about it, m2 */
    double pixels;   /* how many they are */
    double at;       /* height at their middle, which is: */
    struct point middle;
};

struct cells {
    struct plane *items;
    size_t count;
    double *scratch; /* as many numbers */
};

struct looks {
    const struct mask *mask;
    const double *values;
    double per_metre[4]; /* pixels of a metre */
};

/* ---- Least squares ------------------------------------------------------------- */

struct window {
    int col, row, width, height;
};

/* Sums over pixels, from the middle of their window. */
struct sums {
    double n, c, r, z, cc, cr, rr, cz, rz, zz;
};

/* @param near       plane from which heights may be this far off; NULL: any height */
static struct sums sum_pixels(const struct looks *looks, struct window window,
                              const struct plane *near, double tolerance)
{
    struct sums s = {0};

    for (int j = 0; j < window.height; j++)
        for (int i = 0; i < window.width; i++) {
            int col = window.col + i, row = window.row + j;
            size_t at = (size_t)row * (size_t)looks->mask->width + (size_t)col;
            double z = looks->values[at];
            double c = i - (window.width - 1) / 2.0, r = j - (window.height - 1) / 2.0;

            if (isnan(z))
                continue;
            if (near &&
                fabs(z - near->height - near->col * col - near->row * row) > tolerance)
                continue;
            s.n++;
            s.c += c;
            s.r += r;
            s.z += z;
            s.cc += c * c;
            s.cr += c * r;
            s.rr += r * r;
            s.cz += c * z;
            s.rz += r * z;
            s.zz += z * z;
        }
    return s;
}

/* @return false where the pixels don't tell a plane */
static bool fit(const struct looks *looks, struct window window, struct sums s,
                struct plane *out)
{
    const double *p = looks->per_metre;

    if (s.n < 4)
        return false;
    double cc = s.cc - s.c * s.c / s.n, rr = s.rr - s.r * s.r / s.n;
    double cr = s.cr - s.c * s.r / s.n, zz = s.zz - s.z * s.z / s.n;
    double cz = s.cz - s.c * s.z / s.n, rz = s.rz - s.r * s.z / s.n;
    double det = cc * rr - cr * cr;

    if (det <= 1e-9 * cc * rr)
        return false;
    double col = (cz * rr - rz * cr) / det, row = (rz * cc - cz * cr) / det;
    double east = col * p[0] + row * p[2], north = col * p[1] + row * p[3];
    double middle_col = window.col + (window.width - 1) / 2.0 + s.c / s.n;
    double middle_row = window.row + (window.height - 1) / 2.0 + s.r / s.n;

    *out = (struct plane){
        .height = s.z / s.n - col * middle_col - row * middle_row,
        .col = col,
        .row = row,
        .gradient = east * east + north * north,
        .noise = ((p[0] * p[0] + p[1] * p[1]) * rr + (p[2] * p[2] + p[3] * p[3]) * cc) /
                 det / 2,
        .variance = fmax(zz - col * cz - row * rz, 0) / (s.n - 3),
        .pixels = s.n,
        .at = s.z / s.n,
        .middle = {middle_col, middle_row},
    };
    return true;
}

static double height_at(const struct looks *looks, int col, int row)
{
    return looks->values[(size_t)row * (size_t)looks->mask->width + (size_t)col];
}

/* Variance of the noise, m2: of three pixels in a line the middle one is off the mean of
 * the others by noise alone, wherever they lie in one plane, however steep. The median
 * bears with the others. @return false when out of memory */
static bool find_noise(const struct looks *looks, struct arena *arena, double *out)
{
    int width = looks->mask->width, height = looks->mask->height;
    double *bends = arena_array(arena, 2 * (size_t)width * (size_t)height, sizeof *bends);
    size_t count = 0;

    for (int row = 0; bends && row < height; row++)
        for (int col = 0; col < width; col++) {
            double z = 2 * height_at(looks, col, row);
            double across =
                col > 0 && col + 1 < width
                    ? height_at(looks, col - 1, row) - z + height_at(looks, col + 1, row)
                    : (double)NAN;
            double along =
                row > 0 && row + 1 < height
                    ? height_at(looks, col, row - 1) - z + height_at(looks, col, row + 1)
                    : (double)NAN;

            if (!isnan(across))
                bends[count++] = fabs(across);
            if (!isnan(along))
                bends[count++] = fabs(along);
        }
    /* the median of |x| is 0.6745 deviations, and a bend is of variance 1 + 4 + 1 */
    double bend = bends && count ? percentile(bends, count, 50) / 0.6745 : 0;

    *out = fmax(bend * bend / 6, SCATTER_LEAST * SCATTER_LEAST);
    return bends != NULL;
}

/* ---- Cells --------------------------------------------------------------------- */

static size_t count_pixels(const struct looks *looks)
{
    size_t all = (size_t)looks->mask->width * (size_t)looks->mask->height, count = 0;

    for (size_t i = 0; i < all; i++)
        count += !isnan(looks->values[i]);
    return count;
}

/* Pixels that a cell is wide. */
static int cell_side(const struct looks *looks)
{
    const double *m = looks->mask->metres;
    double most = CELL_MOST / sqrt(fabs(m[0] * m[3] - m[1] * m[2]));

    return (int)fmax(CELL_PIXELS,
                     fmin(most, CELL_SHARE * sqrt((double)count_pixels(looks))));
}

static bool fit_cells(const struct looks *looks, struct arena *arena, struct cells *out)
{
    const struct mask *mask = looks->mask;
    int side = cell_side(looks), stride = side / 2;
    size_t most =
        (size_t)(mask->width / stride + 1) * (size_t)(mask->height / stride + 1);

    *out = (struct cells){.items = arena_array(arena, most, sizeof *out->items),
                          .scratch = arena_array(arena, most, sizeof *out->scratch)};
    if (!out->items || !out->scratch)
        return false;
    for (int row = 0; row + side <= mask->height; row += stride)
        for (int col = 0; col + side <= mask->width; col += stride) {
            struct window window = {col, row, side, side};
            struct sums sums = sum_pixels(looks, window, NULL, 0);

            if (sums.n >= CELL_FULL * side * side)
                out->count += fit(looks, window, sums, &out->items[out->count]);
        }
    return true;
}

/* A percentile of a member of the cells. */
static double percentile_of(struct cells *cells, size_t member, double percent)
{
    for (size_t i = 0; i < cells->count; i++)
        memcpy(&cells->scratch[i], (const char *)&cells->items[i] + member,
               sizeof(double));
    return percentile(cells->scratch, cells->count, percent);
}

#define PERCENTILE(cells, member, percent) \
    percentile_of(cells, offsetof(struct plane, member), percent)

/* Leaves out the cells that scatter by more than noise. @return the share kept */
static double drop_off_cells(struct cells *cells, double noise)
{
    size_t all = cells->count, kept = 0;

    for (size_t i = 0; i < all; i++)
        if (cells->items[i].variance <= OFF_FROM * noise)
            cells->items[kept++] = cells->items[i];
    cells->count = kept;
    return (double)kept / (double)all;
}

/* Whether enough cells of a low-slope roof lie off its main level. */
static bool is_stepped(const struct cells *cells, const struct plane *level)
{
    size_t off = 0;

    for (size_t i = 0; i < cells->count; i++) {
        const struct plane *cell = &cells->items[i];
        double there =
            level->height + level->col * cell->middle.x + level->row * cell->middle.y;

        off += fabs(cell->at - there) >= STEP_LEAST;
    }
    return (double)off >= STEP_SHARE * (double)cells->count;
}

/* Share of the cells that are steeper than the limit, beyond their noise. */
static double steep_share(const struct cells *cells, double limit, double noise2)
{
    if (cells->count == 0)
        return 0;
    double from = limit + 2 * sqrt(noise2);
    size_t steep = 0;

    for (size_t i = 0; i < cells->count; i++)
        steep += cells->items[i].gradient > from * from;
    return (double)steep / (double)cells->count;
}

/* ---- The whole roof ------------------------------------------------------------ */

/* Squares of the slope, and what they may be off. */
struct slopes {
    double slope2, error2;
};

/* Of a pitched or divided roof: the median of the cells. */
static struct slopes slopes_of_cells(struct cells *cells, double noise2)
{
    /* of a flat roof the squares are chi-squared of 2 degrees: their median is 1.386 */
    double slope2 = fmax(PERCENTILE(cells, gradient, 50) - 1.386 * noise2, 0);
    /* overlapping cells repeat each other: about every fourth is one of its own; the
     * error of a median is 1.25 times that of a mean */
    double own = fmax((double)cells->count / 4, 1);

    return (struct slopes){slope2,
                           DOUBT * 1.25 * sqrt(4 * noise2 * (slope2 + noise2) / own)};
}

/* Fits a plane again and again to the heights that are near it. */
static void settle_plane(const struct looks *looks, double noise, struct plane *plane)
{
    struct window all = {0, 0, looks->mask->width, looks->mask->height};

    for (int turn = 0; turn < 5; turn++) {
        struct sums near = sum_pixels(looks, all, plane, 3 * sqrt(noise));

        if (near.n == plane->pixels && turn > 0)
            return;
        if (!fit(looks, all, near, plane)) {
            plane->pixels = 0;
            return;
        }
    }
}

/* The plane that holds most pixels, from the planes of cells on. @return whether it is
 * the whole roof's */
static bool find_plane(const struct looks *looks, const struct cells *cells, double noise,
                       struct plane *out)
{
    size_t step = cells->count / PLANE_STARTS + 1;

    *out = (struct plane){0};
    for (size_t i = step / 2; i < cells->count; i += step) {
        struct plane plane = cells->items[i];

        settle_plane(looks, noise, &plane);
        if (plane.pixels > out->pixels)
            *out = plane;
    }
    /* few pixels scatter by more or less than their noise */
    double most = fmax(PLANE_SCATTER, 1 + 4 * sqrt(2 / fmax(out->pixels, 1)));
    double all = (double)count_pixels(looks);
    struct window window = {0, 0, looks->mask->width, looks->mask->height};
    double off = sum_pixels(looks, window, out, 6 * sqrt(noise)).n - out->pixels;

    return out->pixels >= PLANE_SHARE * all && out->variance <= most * noise &&
           off <= PLANE_OFF * all;
}

static struct slopes slopes_of_plane(const struct plane *plane)
{
    double noise2 = plane->variance * plane->noise;

    return (struct slopes){plane->gradient,
                           DOUBT * sqrt(4 * noise2 * (plane->gradient + noise2))};
}

static void decide(const struct looks *looks, struct cells *cells, double noise,
                   double limit, struct plane_fit *out)
{
    double noise2 = noise * PERCENTILE(cells, noise, 50);
    struct plane plane;

    out->cells = (int)cells->count;
    bool one = find_plane(looks, cells, noise, &plane);
    double good = drop_off_cells(cells, noise);
    double steep = steep_share(cells, limit, noise2);
    bool few = cells->count < CELLS_LEAST || good < GOOD_LEAST;

    one = one && (steep <= STEEP_MOST || plane.gradient > limit * limit);
    if (!one && few)
        return;
    struct slopes slopes = one ? slopes_of_plane(&plane) : slopes_of_cells(cells, noise2);
    double least = sqrt(fmax(slopes.slope2 - slopes.error2, 0));
    double most = sqrt(slopes.slope2 + slopes.error2);

    out->slope = sqrt(slopes.slope2);
    out->doubt = (most - least) / 2;
    if (most <= limit && steep <= STEEP_MOST)
        out->flatness = is_stepped(cells, &plane) ? FLATNESS_STEPPED : FLATNESS_LOW;
    else if (least >= limit)
        out->flatness = FLATNESS_PITCHED;
}

bool plane_fit(const struct mask *mask, const struct region *outline,
               const double *values, double limit, struct arena *arena,
               struct plane_fit *out)
{
    struct looks looks = {mask, values, {0}};
    struct cells cells;
    double noise = 0;

    *out = (struct plane_fit){.slope = NAN, .doubt = NAN, .flatness = FLATNESS_UNCERTAIN};
    if (!scale_invert(mask->metres, looks.per_metre))
        return true;
    if (!find_noise(&looks, arena, &noise))
        return false;
    if (count_pixels(&looks) <= SHAPES_PIXELS_MOST)
        return shapes_fit(mask, outline, values, noise, limit, arena, out);
    if (!fit_cells(&looks, arena, &cells))
        return false;
    if (cells.count > 0)
        decide(&looks, &cells, noise, limit, out);
    return true;
}
