/**
 * @file outlines.c
 * Writes generated roof outlines as GeoJSON to standard output, for scripts/bench.
 *
 *     outlines COUNT [SCALE] > outlines.geojson
 *
 * One outline per cell of a square grid of 110 m around 40 N, 95 W, so none overlap;
 * 4 to 12 vertices: rectangles, L, T, U and crosses, and one in eight general; each
 * turned by its own angle; 7 decimals as tracing tools export; heights 4 to 30 m,
 * most of them low. Half of them are larger than 913 m2; SCALE (1) makes all lengths
 * longer. The same bytes for the same count on every machine with the same
 * mathematics library.
 */

#include <inttypes.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#define CELL 110.0 /* m */
#define REACH 52.0 /* m from the cell's centre that no outline exceeds */
#define VERTICES 12
#define RADIUS 6371008.8 /* m; a sphere will do to place test data */

static const double pi = 3.14159265358979323846;

struct vertex {
    double x, y;
};

/* splitmix64: public domain, S. Vigna. */
static uint64_t random_bits(uint64_t *state)
{
    uint64_t z = *state += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static double between(uint64_t *state, double low, double high)
{
    return low + (high - low) * (double)(random_bits(state) >> 11) * 0x1p-53;
}

/* The rectilinear plans by their corners as shares of length and width; u and v are
 * where the notches end. Anticlockwise. */
static int draw_rectilinear(uint64_t *state, struct vertex *out)
{
    double u = between(state, 0.25, 0.45), v = between(state, 0.35, 0.65);
    double w = between(state, 0.55, 0.75);
    struct vertex plans[5][VERTICES] = {
        {{0, 0}, {1, 0}, {1, 1}, {0, 1}},
        {{0, 0}, {1, 0}, {1, v}, {u, v}, {u, 1}, {0, 1}},
        {{0, 0}, {1, 0}, {1, v}, {w, v}, {w, 1}, {u, 1}, {u, v}, {0, v}},
        {{0, 0}, {1, 0}, {1, 1}, {w, 1}, {w, v}, {u, v}, {u, 1}, {0, 1}},
        {{u, 0},
         {w, 0},
         {w, u},
         {1, u},
         {1, w},
         {w, w},
         {w, 1},
         {u, 1},
         {u, w},
         {0, w},
         {0, u},
         {u, u}},
    };
    static const int counts[5] = {4, 6, 8, 8, 12};
    static const double shares[5] = {0.50, 0.75, 0.85, 0.95, 1.0};
    double dice = between(state, 0, 1);
    int plan = 0;
    while (dice > shares[plan]) {
        plan++;
    }
    double length = exp(between(state, log(18), log(92)));
    double width = length * between(state, 0.35, 1.0);
    double diagonal = sqrt(length * length + width * width);
    double fit = diagonal > 2 * REACH ? 2 * REACH / diagonal : 1;
    for (int i = 0; i < counts[plan]; i++) {
        out[i].x = (plans[plan][i].x - 0.5) * length * fit;
        out[i].y = (plans[plan][i].y - 0.5) * width * fit;
    }
    return counts[plan];
}

/* Seen from its centre, every vertex of a general outline is in a direction and at a
 * distance of its own. */
static int draw_general(uint64_t *state, struct vertex *out)
{
    int count = 5 + (int)(random_bits(state) % (VERTICES - 4));
    double size = exp(between(state, log(14), log(REACH)));
    for (int i = 0; i < count; i++) {
        double angle = 2 * pi * (i + between(state, -0.3, 0.3)) / count;
        double radius = size * between(state, 0.6, 1.0);
        out[i].x = radius * cos(angle);
        out[i].y = radius * sin(angle);
    }
    return count;
}

static void write_outline(uint64_t *state, uint64_t number, uint64_t columns,
                          double scale)
{
    struct vertex plan[VERTICES];
    int count = random_bits(state) % 8 == 0 ? draw_general(state, plan)
                                            : draw_rectilinear(state, plan);
    double turn = between(state, 0, 2 * pi);
    double half = between(state, 0, 1);
    double height = 4 + 26 * half * half * half;
    double middle = (double)columns / 2;
    double north = ((double)(number / columns) - middle) * CELL;
    double east = ((double)(number % columns) - middle) * CELL;
    double metre = scale * 180 / (pi * RADIUS); /* degrees */
    double narrowing = cos((40 + north * metre) * pi / 180);

    printf("%s\n{\"type\":\"Feature\",\"properties\":{\"id\":%" PRIu64
           ",\"height_m\":%.2f},\"geometry\":{\"type\":\"Polygon\",\"coordinates\":[[",
           number == 0 ? "" : ",", number + 1, height);
    for (int i = 0; i <= count; i++) {
        struct vertex p = plan[i % count];
        double x = east + p.x * cos(turn) - p.y * sin(turn);
        double y = north + p.x * sin(turn) + p.y * cos(turn);
        printf("%s[%.7f,%.7f]", i == 0 ? "" : ",", -95 + x * metre / narrowing,
               40 + y * metre);
    }
    printf("]]}}");
}

int main(int argc, char **argv)
{
    char *end = NULL;
    unsigned long long count = argc > 1 ? strtoull(argv[1], &end, 10) : 0;
    double scale = argc == 3 ? strtod(argv[2], NULL) : 1;
    if (count == 0 || *end != '\0' || argc > 3 || !(scale > 0)) {
        fprintf(stderr, "usage: outlines COUNT [SCALE] > outlines.geojson\n");
        return 2;
    }
    uint64_t columns = (uint64_t)ceil(sqrt((double)count));
    uint64_t state = 20;
    printf("{\"type\":\"FeatureCollection\",\"features\":[");
    for (uint64_t i = 0; i < count; i++) {
        write_outline(&state, i, columns, scale);
    }
    printf("\n]}\n");
    return ferror(stdout) || fflush(stdout) != 0 ? 3 : 0;
}
