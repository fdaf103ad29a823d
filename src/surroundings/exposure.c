#include "surroundings/exposure.h"

#include <math.h>

/* Lengths of sec. 26.7.3, from memory. */
static const double low_building = 30 * M_PER_FT;
static const double built_low = 1500 * M_PER_FT, built_high = 2600 * M_PER_FT;
static const double water_fetch = 5000 * M_PER_FT, shore_reach = 600 * M_PER_FT;
static const double heights = 20;

/* How ground is looked at (ours): rings 20 m wide, each at nine bearings of a sector. At
 * most so many rings; a building that would need more gets wider ones. */
static const double ring_width = 20;
enum { RAYS = 9, RINGS_MAX = 400 };

const char *exposure_sector_name(int sector)
{
    static const char *const names[EXPOSURE_SECTORS] = {
        "north", "north-east", "east", "south-east",
        "south", "south-west", "west", "north-west"};

    return sector >= 0 && sector < EXPOSURE_SECTORS ? names[sector] : NULL;
}

static double longer(double fixed, double height)
{
    return fmax(fixed, heights * height);
}

double exposure_reach(double height)
{
    return longer(shore_reach, height) + longer(water_fetch, height);
}

/* A sector ring by ring: area by roughness, summed up from the building outward. */
struct rings {
    double width;
    int count;
    double part[RINGS_MAX][ROUGHNESSES];     /* of a ring's rays */
    double sums[RINGS_MAX + 1][ROUGHNESSES]; /* weighted by radius */
};

static void rings_look(struct rings *rings, const struct land *land, int sector)
{
    for (int i = 0; i < rings->count; i++)
        for (int kind = 0; kind < ROUGHNESSES; kind++)
            rings->part[i][kind] = 0;
    for (int ray = 0; ray < RAYS; ray++) {
        double bearing = (sector - 0.5 + (ray + 0.5) / RAYS) * acos(-1) / 4;
        double east = sin(bearing), north = cos(bearing);

        for (int i = 0; i < rings->count; i++) {
            double radius = (i + 0.5) * rings->width;

            rings->part[i][land->at(land->context, radius * east, radius * north)] +=
                1.0 / RAYS;
        }
    }
    for (int i = 0; i < rings->count; i++)
        for (int kind = 0; kind < ROUGHNESSES; kind++)
            rings->sums[i + 1][kind] =
                rings->sums[i][kind] + (i + 0.5) * rings->width * rings->part[i][kind];
}

/* Rings up to a length: those whose middle it passes. */
static int rings_within(const struct rings *rings, double length)
{
    return (int)fmin(floor(length / rings->width + 0.5), rings->count);
}

/* Share of the area of some rings; missing ground counts along where it is taken so. */
static double share(const struct rings *rings, int from, int to, enum roughness kind,
                    bool missing)
{
    double part = 0, all = 0;

    for (int i = 0; i < ROUGHNESSES; i++) {
        double sum = rings->sums[to][i] - rings->sums[from][i];

        all += sum;
        part += i == (int)kind || (missing && i == ROUGHNESS_MISSING) ? sum : 0;
    }
    return all > 0 ? part / all : 0;
}

/* The largest share of D over the fetch, among all places where it may begin. */
static double find_water(const struct rings *rings,
                         const struct exposure_finding *finding, bool missing,
                         double *begins)
{
    int length = rings_within(rings, finding->water_length);
    double most = 0;

    for (int i = 0; i <= rings_within(rings, finding->shore_length); i++) {
        double here = rings->part[i][ROUGHNESS_D] +
                      (missing ? rings->part[i][ROUGHNESS_MISSING] : 0);
        double water = share(rings, i, i + length, ROUGHNESS_D, missing);

        if (here >= 0.5 && water > most + 1e-12) {
            most = water;
            *begins = i * rings->width;
        }
    }
    return most;
}

static void judge(const struct rings *rings, const struct exposure_finding *finding,
                  struct exposure_sector *out)
{
    int built = rings_within(rings, finding->built_length);
    double need = finding->prevails - 1e-9, unused;

    out->built = share(rings, 0, built, ROUGHNESS_B, false);
    out->water = find_water(rings, finding, false, &out->begins);
    out->missing = share(rings, 0, rings->count, ROUGHNESS_MISSING, false);
    out->mildest =
        share(rings, 0, built, ROUGHNESS_B, true) >= need ? EXPOSURE_B : EXPOSURE_C;
    out->severest = out->built >= need ? EXPOSURE_B : EXPOSURE_C;
    if (out->water >= need)
        out->mildest = EXPOSURE_D;
    if (find_water(rings, finding, true, &unused) >= need)
        out->severest = EXPOSURE_D;
}

void exposure_find(const struct land *land, double height, double prevails,
                   struct exposure_finding *out)
{
    double reach = exposure_reach(height);
    struct rings rings = {.width = fmax(ring_width, reach / (RINGS_MAX - 2))};

    rings.count = (int)ceil(reach / rings.width) + 1;
    *out = (struct exposure_finding){
        .mildest = EXPOSURE_B,
        .severest = EXPOSURE_B,
        .height = height,
        .prevails = prevails,
        .built_length = height <= low_building ? built_low : longer(built_high, height),
        .water_length = longer(water_fetch, height),
        .shore_length = longer(shore_reach, height)};
    for (int i = 0; i < EXPOSURE_SECTORS; i++) {
        struct exposure_sector *sector = &out->sectors[i];

        rings_look(&rings, land, i);
        judge(&rings, out, sector);
        if (sector->severest > out->severest) {
            out->severest = sector->severest;
            out->governs = i;
        }
        out->mildest = sector->mildest > out->mildest ? sector->mildest : out->mildest;
        out->missing = fmax(out->missing, sector->missing);
    }
    out->exposure = out->mildest == out->severest ? out->mildest : EXPOSURE_NOT_GIVEN;
}

static void put_length(struct text *out, double length, const struct unit_system *units)
{
    text_grouped(out, length / units->length.factor, 0);
    text_printf(out, " %s", units->length.label);
}

static void put_percent(struct text *out, double share)
{
    text_fixed(out, 100 * share, 0);
    text_puts(out, " %");
}

static void put_range(struct text *out, enum exposure mildest, enum exposure severest)
{
    text_puts(out, exposure_name((int)mildest));
    if (mildest != severest)
        text_printf(out, " to %s", exposure_name((int)severest));
}

static void explain_sector(struct text *out, const struct exposure_finding *finding,
                           int i, const struct unit_system *units)
{
    const struct exposure_sector *sector = &finding->sectors[i];

    text_printf(out, "      %s: ", exposure_sector_name(i));
    put_range(out, sector->mildest, sector->severest);
    text_puts(out, "; built-up or wooded on ");
    put_percent(out, sector->built);
    text_puts(out, " of ");
    put_length(out, finding->built_length, units);
    text_puts(out, ", open water or flat ground on ");
    put_percent(out, sector->water);
    text_puts(out, " of ");
    put_length(out, finding->water_length, units);
    if (sector->begins > 0) {
        text_puts(out, " from ");
        put_length(out, sector->begins, units);
        text_puts(out, " on");
    }
    if (sector->missing > 0) {
        text_puts(out, "; missing on ");
        put_percent(out, sector->missing);
    }
    text_putc(out, '\n');
}

void exposure_explain(struct text *out, const struct exposure_finding *finding,
                      const struct unit_system *units)
{
    text_puts(out, "      ");
    put_range(out, finding->mildest, finding->severest);
    text_printf(out, " by the ground upwind, as in the %s, for h = ",
                exposure_sector_name(finding->governs));
    put_length(out, finding->height, units);
    text_puts(out, " (ASCE 7 sec. 26.7.3, lengths from memory);\n      a roughness "
                   "prevails on ");
    put_percent(out, finding->prevails);
    text_puts(out, " of a sector (ours)\n");
    for (int i = 0; i < EXPOSURE_SECTORS; i++)
        explain_sector(out, finding, i, units);
}
