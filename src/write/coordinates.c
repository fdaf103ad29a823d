#include "write/coordinates.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <string.h>

/* Half of all that a run writes is coordinates. They are whole numbers of 1e-8 degree
 * here, written two digits at a time: three times as fast as text_number(). */
static const double units_per_degree = 1e8;

/* Beyond any longitude, and still far from what a 64-bit number of units holds. */
static const double largest_degree = 1000;

static const char digit_pairs[] =
    "00010203040506070809101112131415161718192021222324252627282930313233343536373839"
    "40414243444546474849505152535455565758596061626364656667686970717273747576777879"
    "8081828384858687888990919293949596979899";

/* Longest `[-999.12345678,-999.12345678],`, and some. */
enum { POINT_SIZE = 40, CHUNK_SIZE = 2048 };

struct units {
    int64_t x;
    int64_t y;
};

static struct units round_point(struct point point)
{
    double x = point.x * units_per_degree;
    double y = point.y * units_per_degree;

    return (struct units){(int64_t)(x + copysign(0.5, x)),
                          (int64_t)(y + copysign(0.5, y))};
}

static bool same_units(struct units a, struct units b)
{
    return a.x == b.x && a.y == b.y;
}

static char *put_pair(char *at, uint32_t pair)
{
    memcpy(at, digit_pairs + 2 * pair, 2);
    return at + 2;
}

/* Up to three digits. */
static char *put_whole(char *at, uint32_t whole)
{
    if (whole >= 100) {
        *at++ = (char)('0' + whole / 100);
        return put_pair(at, whole % 100);
    }
    if (whole >= 10)
        return put_pair(at, whole);
    *at++ = (char)('0' + whole);
    return at;
}

static char *put_units(char *at, int64_t units)
{
    uint64_t size = units < 0 ? (uint64_t)-units : (uint64_t)units;
    uint32_t fraction = (uint32_t)(size % 100000000u);

    if (units < 0)
        *at++ = '-';
    at = put_whole(at, (uint32_t)(size / 100000000u));
    if (fraction == 0)
        return at;
    *at++ = '.';
    at = put_pair(at, fraction / 1000000);
    at = put_pair(at, fraction / 10000 % 100);
    at = put_pair(at, fraction / 100 % 100);
    at = put_pair(at, fraction % 100);
    while (at[-1] == '0')
        at--;
    return at;
}

static char *put_point(char *at, struct units point)
{
    *at++ = '[';
    at = put_units(at, point.x);
    *at++ = ',';
    at = put_units(at, point.y);
    *at++ = ']';
    *at++ = ',';
    return at;
}

/* The short way round from one longitude to another. */
static double eastward(double from, double to)
{
    double way = to - from;

    return way > 180 ? way - 360 : way < -180 ? way + 360 : way;
}

/* Twice the signed area in square degrees, from the first point, so that a ring across
 * the antimeridian keeps its direction. */
static double turning(struct ring ring)
{
    struct point first = ring.points[0];
    double x = 0;
    double y = 0;
    double sum = 0;

    for (size_t i = 1; i < ring.count; i++) {
        double next_x = eastward(first.x, ring.points[i].x);
        double next_y = ring.points[i].y - first.y;

        sum += x * next_y - next_x * y;
        x = next_x;
        y = next_y;
    }
    return sum;
}

/* Leaves off what rounding joins to the first point at either end. */
static struct ring without_repeats(struct ring ring)
{
    struct units first = round_point(ring.points[0]);

    while (ring.count > 1 && same_units(round_point(ring.points[ring.count - 1]), first))
        ring.count--;
    while (ring.count > 1 && same_units(round_point(ring.points[1]), first)) {
        ring.points++;
        ring.count--;
    }
    return ring;
}

/* Appends `[[x,y],...]`, or nothing for a ring that rounding makes too small.
 * Returns whether it did. */
static bool print_ring(struct text *out, struct ring ring, bool hole)
{
    char chunk[CHUNK_SIZE];
    char *at = chunk;
    size_t start = out->length;
    size_t written = 1;
    bool backward = false;
    struct units last = {0, 0};

    if (ring.count < 3)
        return false;
    ring = without_repeats(ring);
    backward = (turning(ring) < 0) != hole;
    last = round_point(ring.points[0]);
    *at++ = '[';
    at = put_point(at, last);
    for (size_t i = 1; i < ring.count; i++) {
        struct units next = round_point(ring.points[backward ? ring.count - i : i]);

        if (same_units(next, last))
            continue;
        last = next;
        at = put_point(at, next);
        written++;
        if (at > chunk + CHUNK_SIZE - 2 * POINT_SIZE) {
            text_append(out, chunk, (size_t)(at - chunk));
            at = chunk;
        }
    }
    at = put_point(at, round_point(ring.points[0]));
    at[-1] = ']';
    text_append(out, chunk, (size_t)(at - chunk));
    if (written < 3)
        out->length = start;
    return written >= 3;
}

/* Appends `[ring,ring...]`; a polygon goes with its shell. Returns whether it did. */
static bool print_polygon(struct text *out, const struct polygon *polygon)
{
    size_t start = out->length;

    text_putc(out, '[');
    for (size_t i = 0; i < polygon->ring_count; i++) {
        size_t before = out->length;

        if (i > 0)
            text_putc(out, ',');
        if (print_ring(out, polygon->rings[i], i > 0))
            continue;
        if (i == 0) {
            out->length = start;
            return false;
        }
        out->length = before;
    }
    text_putc(out, ']');
    return true;
}

static bool is_place(const struct region *region)
{
    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t r = 0; r < region->polygons[i].ring_count; r++) {
            struct ring ring = region->polygons[i].rings[r];

            for (size_t p = 0; p < ring.count; p++)
                if (!(fabs(ring.points[p].x) < largest_degree &&
                      fabs(ring.points[p].y) < largest_degree))
                    return false;
        }
    return true;
}

void coordinates_print(struct text *out, const struct region *lonlat)
{
    size_t start = out->length;
    size_t written = 0;
    bool many = lonlat->polygon_count > 1;

    if (lonlat->polygon_count == 0 || !is_place(lonlat)) {
        text_puts(out, "null");
        return;
    }
    text_puts(out, many ? "{\"type\":\"MultiPolygon\",\"coordinates\":["
                        : "{\"type\":\"Polygon\",\"coordinates\":");
    for (size_t i = 0; i < lonlat->polygon_count; i++) {
        size_t before = out->length;

        if (written > 0)
            text_putc(out, ',');
        if (print_polygon(out, &lonlat->polygons[i]))
            written++;
        else
            out->length = before;
    }
    if (written == 0) {
        out->length = start;
        text_puts(out, "null");
        return;
    }
    text_puts(out, many ? "]}" : "}");
}
