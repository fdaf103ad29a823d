#include "surroundings/topographic.h"

#include <math.h>

/* Fig. 26.8-1, from memory. */
static const struct {
    const char *name;
    double k[3];           /* K1 / (H / Lh) in B, C, D */
    double upwind, behind; /* mu */
    double gamma;
} shapes[HILL_SHAPES] = {
    [HILL_RIDGE] = {"ridge", {1.30, 1.45, 1.55}, 1.5, 1.5, 3},
    [HILL_ESCARPMENT] = {"escarpment", {0.75, 0.85, 0.95}, 1.5, 4, 2.5},
    [HILL_AXISYMMETRIC] = {"axisymmetric hill", {0.95, 1.05, 1.15}, 1.5, 1.5, 4},
};

static const double gentlest = 0.2, steepest = 0.5; /* H / Lh */
static const double alone = 100;                    /* H */
static const double furthest = 4;                   /* the largest mu */
static const double two_miles = 2 * 1609.344;
static const double least_open = 15 * M_PER_FT, least_built = 60 * M_PER_FT; /* H */

/* Ours: how much higher, in H, the ground beside a crest may be; samples of a profile at
 * most, with a step that grows for it; finer steps in which crest and half height are
 * found again. */
static const double flank = 0.2;
enum { SAMPLES_MAX = 2000, FINER = 10 };

const char *hill_shape_name(int value)
{
    return value >= 0 && value < HILL_SHAPES ? shapes[value].name : NULL;
}

double hill_factor(struct hill *hill, enum exposure exposure, double z)
{
    double steep = hill->height / hill->length, length = hill->length, mu;

    hill->k1 = hill->k2 = hill->k3 = 0;
    if (!(steep >= gentlest))
        return 1;
    if (steep > steepest) {
        steep = steepest;
        length = 2 * hill->height;
    }
    mu = hill->offset < 0 ? shapes[hill->shape].upwind : shapes[hill->shape].behind;
    hill->k1 = shapes[hill->shape].k[exposure - EXPOSURE_B] * steep;
    hill->k2 = fmax(0, 1 - fabs(hill->offset) / (mu * length));
    hill->k3 = exp(-shapes[hill->shape].gamma * z / length);
    return pow(1 + hill->k1 * hill->k2 * hill->k3, 2);
}

/* ---- A profile in the wind ---- */

/* Samples from the lee to upwind: t is the distance upwind of the building. */
struct profile {
    const struct terrain *terrain;
    double bearing;     /* of the wind, degrees */
    double east, north; /* a step of 1 m upwind */
    double step, start; /* of t, m */
    int count;
    double ground[SAMPLES_MAX]; /* NAN: missing */
    double lowest;
};

static double ground_at(const struct profile *profile, double t, double across)
{
    return profile->terrain->at(profile->terrain->context,
                                t * profile->east + across * profile->north,
                                t * profile->north - across * profile->east);
}

/* From two miles in the lee to four upwind: two beyond any crest. */
static void profile_look(struct profile *profile, const struct terrain *terrain,
                         int direction)
{
    double turn = (double)direction / TOPOGRAPHIC_DIRECTIONS, reach = 3 * two_miles;

    profile->terrain = terrain;
    profile->bearing = 360 * turn;
    profile->east = sin(2 * acos(-1) * turn);
    profile->north = cos(2 * acos(-1) * turn);
    profile->step = fmax(terrain->step, reach / (SAMPLES_MAX - 1));
    profile->start = -floor(two_miles / profile->step) * profile->step;
    profile->count = (int)floor(reach / profile->step);
    profile->lowest = INFINITY;
    for (int i = 0; i < profile->count; i++) {
        profile->ground[i] = ground_at(profile, profile->start + i * profile->step, 0);
        profile->lowest = fmin(profile->lowest, profile->ground[i]);
    }
}

static double place_of(const struct profile *profile, int i)
{
    return profile->start + i * profile->step;
}

/* ---- Crests ---- */

/* The lowest ground upwind of a crest. */
static int find_foot(const struct profile *profile, int crest)
{
    int end = crest + (int)floor(two_miles / profile->step), foot = crest;

    for (int i = crest; i <= end && i < profile->count; i++)
        if (profile->ground[i] < profile->ground[foot])
            foot = i;
    return foot;
}

/* Whether what lies beyond the foot is at most half as high, over 100 H or 2 miles from
 * the crest. */
static bool stands_alone(const struct profile *profile, int crest, int foot)
{
    double height = profile->ground[crest] - profile->ground[foot];
    double search = fmin(alone * height, two_miles);

    for (int i = foot; i < profile->count && (i - crest) * profile->step <= search; i++)
        if (profile->ground[i] - profile->ground[foot] > height / 2)
            return false;
    return true;
}

/* Found again in finer steps, since K2 goes by the distance from the crest. */
static double refine_crest(const struct profile *profile, int crest, double *ground)
{
    double best = place_of(profile, crest);

    *ground = profile->ground[crest];
    for (int i = -FINER; i <= FINER; i++) {
        double t = place_of(profile, crest) + i * profile->step / FINER;
        double here = ground_at(profile, t, 0);

        if (here >= *ground) {
            *ground = here;
            best = t;
        }
    }
    return best;
}

/* A way from a crest: along the wind (sign 1: upwind, -1: in the lee) or across it. */
struct way {
    double crest, sign;
    bool across;
};

static double ground_along(const struct profile *profile, struct way way, double far)
{
    return way.across ? ground_at(profile, way.crest, way.sign * far)
                      : ground_at(profile, way.crest + way.sign * far, 0);
}

/* How far along the way the ground first lies at a level or below; INFINITY: not within a
 * distance. Finer steps are only taken where it falls. */
static double falls_to(const struct profile *profile, struct way way, double level,
                       double within)
{
    double far = 0, fine = profile->step / FINER, last = INFINITY;

    while (far <= within && !(ground_along(profile, way, far) <= level))
        far += profile->step;
    far = fmax(0, far - profile->step);
    /* one more, since sums of steps are rounded */
    for (int i = 0; i <= FINER + 1 && far <= within; i++) {
        double ground = ground_along(profile, way, far);

        if (ground <= level)
            return far > 0 ? far - fine * fmin(1, (level - ground) / (last - ground)) : 0;
        last = ground;
        far += fine;
    }
    return INFINITY;
}

static enum hill_shape shape_of(const struct profile *profile, double crest, double half,
                                double length)
{
    const struct way lee = {crest, -1, false}, left = {crest, 1, true},
                     right = {crest, -1, true};
    double within = 2 * length;

    if (isinf(falls_to(profile, lee, half, within)))
        return HILL_ESCARPMENT;
    return isinf(falls_to(profile, left, half, within)) ||
                   isinf(falls_to(profile, right, half, within))
               ? HILL_RIDGE
               : HILL_AXISYMMETRIC;
}

/* Whether the ground across the wind is much higher than a crest: then it is the flank of
 * a hill whose crest lies elsewhere. */
static bool is_flank(const struct profile *profile, double crest, double top,
                     const struct hill *hill)
{
    int within = (int)(2 * hill->length / profile->step);

    for (int i = -within; i <= within; i++)
        if (ground_at(profile, crest, i * profile->step) - top > flank * hill->height)
            return true;
    return false;
}

/* Whether a crest might count if its foot were the lowest ground of all: for most ground
 * that saves looking for it. No hill acts further off than its multiplier K2. */
static bool may_count(const struct profile *profile, int crest, double site, double least)
{
    double most = profile->ground[crest] - profile->lowest;
    double reach = furthest * most / gentlest + profile->step;

    return most >= least && 2 * (site - profile->lowest) >= most &&
           fabs(place_of(profile, crest)) <= reach;
}

/* Whether the ground behind a brow stays up there and rises little: where it rises much,
 * it is a terrace of a higher hill; where it falls again, the crest is elsewhere. */
static bool is_plateau(const struct profile *profile, int brow, const struct hill *hill)
{
    int within = (int)ceil(2 * hill->length / profile->step);

    for (int i = brow - 1; i >= 0 && i >= brow - within; i--) {
        double rise = profile->ground[i] - profile->ground[brow];

        if (rise < 0 || rise > flank * hill->height)
            return false;
    }
    return true;
}

/* Whether the conditions of sec. 26.8.1 hold for a crest or a brow; fills the hill. */
static bool measure(const struct profile *profile, int crest, bool brow, double site,
                    double least, struct hill *hill)
{
    int foot = find_foot(profile, crest);
    double base = profile->ground[foot], top = profile->ground[crest];
    double place = place_of(profile, crest), half;

    if (profile->ground[crest] - base < least || !stands_alone(profile, crest, foot))
        return false;
    if (!brow)
        place = refine_crest(profile, crest, &top);
    hill->height = top - base;
    half = base + hill->height / 2;
    if (site < half)
        return false;
    hill->length =
        falls_to(profile, (struct way){place, 1, false}, half, hill->height / gentlest);
    hill->offset = place;
    if (isinf(hill->length) || is_flank(profile, place, top, hill) ||
        (brow && !is_plateau(profile, crest, hill)))
        return false;
    hill->shape = shape_of(profile, place, half, hill->length);
    return true;
}

/* As high as all ground within two steps and higher than that upwind: of a plateau, its
 * edge. */
static bool is_crest(const struct profile *profile, int i)
{
    double ground = profile->ground[i];

    for (int k = i - 2; k <= i + 2; k++)
        if (k >= 0 && k < profile->count && k != i &&
            (k > i ? profile->ground[k] >= ground : profile->ground[k] > ground))
            return false;
    return !isnan(ground);
}

/* Where a slope steep enough to count ends in ground that rises more gently: the edge of
 * a plateau that isn't level, which has no highest point near by. */
static bool is_brow(const struct profile *profile, int i)
{
    /* of two steps: the upper half of the gentlest hill rises by H / 2 over Lh */
    double least = gentlest / 2 * (2 * profile->step);
    const double *ground = &profile->ground[i];

    if (i < 2 || i + 2 >= profile->count || !(ground[0] - ground[2] >= least) ||
        !(ground[-2] - ground[0] < least))
        return false;
    for (int k = i - 3; k <= i + 3; k++)
        if (k >= 0 && k < profile->count && is_crest(profile, k))
            return false;
    return true;
}

/* The worst crest within two miles of the building in one direction. */
static void look_up(const struct profile *profile, enum exposure exposure, double z,
                    struct topographic_finding *out)
{
    double site = ground_at(profile, 0, 0);
    int last = (int)floor(2 * two_miles / profile->step);

    for (int i = 0; i <= last && i < profile->count; i++) {
        struct hill hill = {.bearing = profile->bearing};
        double factor;
        bool crest = is_crest(profile, i);

        if ((!crest && !is_brow(profile, i)) ||
            !may_count(profile, i, site, out->least_height) ||
            !measure(profile, i, !crest, site, out->least_height, &hill))
            continue;
        factor = hill_factor(&hill, exposure, z);
        if (factor > out->factor) {
            out->factor = factor;
            out->hill = hill;
            out->hilly = true;
        }
    }
}

void topographic_find(const struct terrain *terrain, enum exposure exposure, double z,
                      struct topographic_finding *out)
{
    struct profile profile;

    *out = (struct topographic_finding){
        .known = !isnan(terrain->at(terrain->context, 0, 0)),
        .factor = 1,
        .whole = true,
        .least_height = exposure == EXPOSURE_B ? least_built : least_open};
    for (int direction = 0; out->known && direction < TOPOGRAPHIC_DIRECTIONS;
         direction++) {
        profile_look(&profile, terrain, direction);
        for (int i = 0; i < profile.count; i++)
            out->whole = out->whole && !isnan(profile.ground[i]);
        look_up(&profile, exposure, z, out);
    }
}

/* ---- Words ---- */

static void put_length(struct text *out, const char *name, double length,
                       const struct unit_system *units)
{
    text_puts(out, name);
    text_grouped(out, length / units->length.factor, 0);
    text_printf(out, " %s", units->length.label);
}

static void put_factor(struct text *out, const char *name, double factor)
{
    text_puts(out, name);
    text_fixed(out, factor, 3);
}

static void explain_hill(struct text *out, const struct hill *hill,
                         const struct unit_system *units)
{
    text_printf(out, "      %s, wind from ", hill_shape_name((int)hill->shape));
    text_fixed(out, hill->bearing, 1);
    put_length(out, " degrees: H = ", hill->height, units);
    put_length(out, ", Lh = ", hill->length, units);
    put_length(out, ", x = ", fabs(hill->offset), units);
    text_puts(out,
              hill->offset < 0 ? " upwind of the crest\n" : " downwind of the crest\n");
    put_factor(out, "      K1 = ", hill->k1);
    put_factor(out, ", K2 = ", hill->k2);
    put_factor(out, ", K3 = ", hill->k3);
    text_puts(out, ": Kzt = (1 + K1 K2 K3)^2");
    put_factor(out, " = ", pow(1 + hill->k1 * hill->k2 * hill->k3, 2));
    text_putc(out, '\n');
}

void topographic_explain(struct text *out, const struct topographic_finding *finding,
                         const struct unit_system *units)
{
    text_puts(out, "      by profiles of the terrain in 16 directions (ASCE 7 sec. 26.8, "
                   "from memory)\n");
    if (finding->hilly)
        explain_hill(out, &finding->hill, units);
    else
        text_puts(out,
                  "      no hill, ridge or escarpment meets the conditions: Kzt = 1\n");
    if (!finding->whole)
        text_puts(out, "      some terrain is missing: what lies there may be worse\n");
}
