#include <math.h>
#include <string.h>

#include "flow/stages.h"
#include "geo/hull.h"
#include "roof/fixtures.h"

/* The middle of a ring's area. */
static struct point ring_middle(struct ring ring)
{
    struct point origin = ring.points[0];
    struct point sum = {0, 0};
    double twice = 0;

    for (size_t i = 1; i + 1 < ring.count; i++) {
        struct point a = {ring.points[i].x - origin.x, ring.points[i].y - origin.y};
        struct point b = {ring.points[i + 1].x - origin.x,
                          ring.points[i + 1].y - origin.y};
        double cross = a.x * b.y - a.y * b.x;

        twice += cross;
        sum.x += cross * (a.x + b.x) / 3;
        sum.y += cross * (a.y + b.y) / 3;
    }
    return (struct point){origin.x + sum.x / twice, origin.y + sum.y / twice};
}

/* The mark's points in the building's frame. */
static bool to_local(const struct building *building, const struct mark *mark,
                     struct geo_ctx *ctx, struct ring *out)
{
    *out = (struct ring){arena_array(building->arena, mark->count, sizeof *out->points),
                         mark->count};
    if (!out->points)
        return false;
    memcpy(out->points, mark->points, mark->count * sizeof *out->points);
    frame_to_local(&building->frame, ctx, out->points, out->count);
    return true;
}

/* A point's footprint: square to the roof's long side. */
static enum outlay_status make_rectangle(struct arena *arena, const struct roof *roof,
                                         struct fixture *fixture)
{
    static const double signs[4][2] = {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}};
    struct rectangle around;
    struct ring *ring = &fixture->footprint;

    if (isnan(fixture->width) && isnan(fixture->length))
        return OUTLAY_OK;
    if (isnan(fixture->width))
        fixture->width = fixture->length;
    if (isnan(fixture->length))
        fixture->length = fixture->width;
    *ring = (struct ring){arena_array(arena, 4, sizeof *ring->points), 4};
    if (!ring->points || smallest_rectangle(arena, roof->outline.polygons[0].rings[0],
                                            &around) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    for (int i = 0; i < 4; i++) {
        double along = signs[i][0] * fixture->length / 2;
        double across = signs[i][1] * fixture->width / 2;
        double c = cos(around.bearing), s = sin(around.bearing);

        ring->points[i] = (struct point){fixture->at.x + along * c - across * s,
                                         fixture->at.y + along * s + across * c};
    }
    return OUTLAY_OK;
}

/* A traced footprint's sides, where they aren't given. */
static enum outlay_status measure(struct arena *arena, struct fixture *fixture)
{
    struct rectangle around;

    if (smallest_rectangle(arena, fixture->footprint, &around) != OUTLAY_OK)
        return OUTLAY_E_MEMORY;
    if (isnan(fixture->width))
        fixture->width = around.shorter;
    if (isnan(fixture->length))
        fixture->length = around.longer;
    return OUTLAY_OK;
}

/* Outlines are the outside of walls, and a scupper goes through one: how far from an
 * outline it may be drawn, m (ours). */
static const double in_wall = 1;

/* How far a fixture is from a roof that it may stand on, m: 0 in it. */
static double distance_off(const struct roof *roof, const struct fixture *fixture)
{
    double distance = INFINITY;

    if (region_holds(&roof->outline, fixture->at))
        return 0;
    if (fixture->kind == FIXTURE_SCUPPER)
        distance = region_distance(&roof->outline, fixture->at);
    return distance <= in_wall ? distance : (double)INFINITY;
}

/* Whether it stands on that roof: the nearest, and of several around it the smallest,
 * since a roof may stand on another (ours). */
static bool stands_on(const struct building *building, const struct roof *roof,
                      const struct fixture *fixture)
{
    double least = distance_off(roof, fixture);
    double area = region_area(&roof->outline);

    for (size_t k = 0; k < building->roof_count && isfinite(least); k++) {
        const struct roof *other = &building->roofs[k];
        double distance = other->whole ? distance_off(other, fixture) : (double)INFINITY;
        double others = region_area(&other->outline);

        if (distance < least ||
            (distance == least && (others < area || (others == area && other < roof))))
            return false;
    }
    return isfinite(least);
}

/* Puts a mark on the roof where it stands on it. */
static enum outlay_status put(struct building *building, struct roof *roof,
                              const struct marks *marks, size_t index,
                              struct geo_ctx *ctx)
{
    const struct mark *mark = &marks->items[index];
    struct fixture fixture = {.kind = (enum fixture_kind)mark->kind,
                              .id = mark->id,
                              .mark = index,
                              .width = mark->width,
                              .length = mark->length,
                              .height = mark->height};
    struct ring local;
    enum outlay_status status = OUTLAY_OK;

    if (!to_local(building, mark, ctx, &local))
        return OUTLAY_E_MEMORY;
    fixture.at = mark->shape == MARK_RING ? ring_middle(local) : local.points[0];
    if (!stands_on(building, roof, &fixture))
        return OUTLAY_OK;
    if (mark->shape == MARK_RING) {
        fixture.footprint = local;
        status = measure(building->arena, &fixture);
    } else {
        status = make_rectangle(building->arena, roof, &fixture);
    }
    if (status == OUTLAY_OK)
        roof->fixtures[roof->fixture_count++] = fixture;
    return status;
}

/* What is left open by what stands on the roof. */
static void say(struct building *building, struct roof *roof)
{
    const struct fixture *first = NULL;
    int without = 0;
    int units = fixtures_count(roof, FIXTURE_UNIT);

    for (size_t i = 0; i < roof->fixture_count; i++) {
        const struct fixture *fixture = &roof->fixtures[i];

        if (!fixture_is_curbed(fixture->kind) || fixture->footprint.count > 0)
            continue;
        first = first ? first : fixture;
        without++;
    }
    if (first)
        roof_problem(building->arena, roof, PROBLEM_FIXTURE_SIZE,
                     "its flashing isn't counted: give a width and length, or trace it",
                     "%s %s is a point of no size%s", fixture_kind_name((int)first->kind),
                     first->id, without > 1 ? ", and it isn't the only one" : "");
    if (units > 0)
        roof_problem(building->arena, roof, PROBLEM_UNIT_RATED,
                     "have what holds the units down designed apart",
                     "wind zones are the roof's: ASCE 7 rates the roof, not the units on "
                     "it, and none are drawn around them");
}

static enum outlay_status put_all(struct building *building, struct roof *roof,
                                  const struct marks *marks, struct geo_ctx *ctx)
{
    struct box box = box_around_roof(roof);
    size_t *near = NULL;
    size_t count = 0;
    enum outlay_status status = marks_near(marks, &box, building->arena, &near, &count);

    if (status != OUTLAY_OK || count == 0)
        return status;
    roof->fixtures = arena_array(building->arena, count, sizeof *roof->fixtures);
    if (!roof->fixtures)
        return OUTLAY_E_MEMORY;
    for (size_t i = 0; i < count && status == OUTLAY_OK; i++)
        status = put(building, roof, marks, near[i], ctx);
    if (status == OUTLAY_OK)
        say(building, roof);
    return status;
}

enum outlay_status fixtures_run(struct building *building,
                                const struct settings *settings, struct geo_ctx *ctx,
                                struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;

    for (size_t i = 0; i < building->roof_count && settings->fixtures; i++)
        if (building->roofs[i].whole && status == OUTLAY_OK)
            status = put_all(building, &building->roofs[i], settings->fixtures, ctx);
    return status == OUTLAY_OK ? status : outlay_fail(err, status, "out of memory");
}
