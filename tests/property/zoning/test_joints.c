/* Roofs cut into sections at any angle and traced a little apart have the zones of the
 * whole, but for the gap itself and what it moves: a strip as deep as the zones and as
 * wide as the gap at either mouth. */

#include "outlines.h"

static const double widest = 0.29; /* m */

enum { CASES = 300 };

/* The wedge left of the first two lines; the rest left and right of the third. */
static int sector_of(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    if (winding[0] <= 0)
        return -1;
    if (winding[1] > 0 && winding[2] > 0)
        return 0;
    return winding[3] > 0 ? 1 : 2;
}

/* A half plane, as far as a roof can reach, left of a line at an angle. */
static struct ring half_plane(struct fixture *f, struct point on, double angle)
{
    return ring_moved(f->arena, box_ring(f->arena, -1000, 0, 2000, 1000), angle, on.x,
                      on.y);
}

/* Turned about the origin and moved. */
static struct region region_moved(struct fixture *f, const struct region *region,
                                  double angle, struct point by)
{
    struct region copy;

    assert_int_equal(region_copy(f->arena, region, &copy), OUTLAY_OK);
    for (size_t i = 0; i < copy.polygon_count; i++)
        for (size_t j = 0; j < copy.polygons[i].ring_count; j++)
            copy.polygons[i].rings[j] =
                ring_moved(f->arena, copy.polygons[i].rings[j], angle, by.x, by.y);
    return copy;
}

/* ---- One case -------------------------------------------------------------------- */

struct trial {
    struct fixture *f;
    struct chance chance;
    struct region shape;
    struct region sections[3];
    int count;
    double gap;
    double height;
    struct zoning_settings settings;
};

static struct trial trial_of(struct fixture *f, uint64_t seed)
{
    struct trial t = {.f = f, .chance = {seed * 1000003}};
    double length = chance_between(&t.chance, 15, 120);
    double width = length * chance_between(&t.chance, 0.4, 1);
    struct ring box = box_ring(f->arena, -length / 2, -width / 2, length, width);

    t.shape =
        seed % 3 ? region_made(f->arena, &box, 1) : boxes_joined(f, &t.chance, length, 4);
    t.shape = region_moved(f, &t.shape, chance_between(&t.chance, 0, 2 * PI),
                           (struct point){0, 0});
    t.height = chance_between(&t.chance, 4, 18);
    t.gap = chance_between(&t.chance, 0, widest);
    t.settings = settings_of(chance_below(&t.chance, 2) ? "asce7-22" : "asce7-10");
    return t;
}

/* Cuts the shape by lines through a point: sections are those of sector_of(). */
static void cut(struct trial *t, struct point at, const double angles[3])
{
    struct layer_rings rings = {NULL, 0, 0};

    assert_true(layer_rings_add_region(t->f->arena, &rings, &t->shape, 0));
    for (int k = 0; k < 3; k++)
        assert_true(
            layer_rings_add(t->f->arena, &rings, half_plane(t->f, at, angles[k]), k + 1));
    arranged(t->f, &rings, sector_of, NULL, 3, t->sections);
    t->count = 3;
}

/* In two, by one line; the section on its right is the second. */
static void cut_in_two(struct trial *t, struct point at, double angle)
{
    cut(t, at, (const double[]){angle, angle, angle});
    t->sections[1] = t->sections[2];
    t->count = 2;
}

static bool is_one_level(struct site *site)
{
    for (size_t r = 0; r < site->building.roof_count; r++)
        if (site->roofs[r].level.index != 0)
            return false;
    return true;
}

/* What gaps may change of a zone, m2: as much as lies in them, and at their mouths. */
static double allowance(const struct trial *t, const struct roof *whole)
{
    double depth = isfinite(whole->level.field_depth) ? whole->level.field_depth
                                                      : whole->level.perimeter_depth;
    double joints = -ring_length(t->shape.polygons[0].rings[0]) / 2;

    for (int r = 0; r < t->count; r++)
        joints += ring_length(t->sections[r].polygons[0].rings[0]) / 2;
    return 0.05 + t->gap * (depth + joints);
}

static int compare(struct trial *t, uint64_t seed, const char *doing)
{
    struct site whole = site_empty(t->f);
    struct site parts = site_empty(t->f);
    struct roof *roof = site_add(&whole, t->shape, t->height);
    int failures = 0;

    site_zone(&whole, &t->settings);
    for (int r = 0; r < t->count; r++) {
        if (t->sections[r].polygon_count != 1 || region_area(&t->sections[r]) < 8)
            return 0;
        site_add(&parts, t->sections[r], t->height);
    }
    site_zone(&parts, &t->settings);
    if (!is_one_level(&parts))
        return 0;
    if (parts.roofs[0].level.outline->polygon_count != 1 ||
        parts.roofs[0].level.outline->polygons[0].ring_count !=
            t->shape.polygons[0].ring_count) {
        print_error("%s, seed %llu: the outline has other rings\n", doing,
                    (unsigned long long)seed);
        failures++;
    }
    for (int role = 0; role < ZONE_ROLES; role++) {
        double change = site_area(&parts, (enum zone_role)role) -
                        zone_area(roof, (enum zone_role)role);

        if (fabs(change) <= allowance(t, roof))
            continue;
        print_error("%s, seed %llu, gap %.3f, h %.1f, %s: %s changes by %.2f m2, %.2f "
                    "at most\n",
                    doing, (unsigned long long)seed, t->gap, t->height,
                    t->settings.standard->name, zone_role_name(role), change,
                    allowance(t, roof));
        failures++;
    }
    return failures;
}

static void try(void **state, uint64_t count, void make(struct trial *t),
                const char *doing)
{
    struct fixture *f = *state;
    int failures = 0;

    for (uint64_t seed = 1; seed <= count; seed++) {
        struct trial t = trial_of(f, seed);

        make(&t);
        failures += compare(&t, seed, doing);
        arena_reset(f->arena);
    }
    assert_int_equal(failures, 0);
}

/* ---- The cuts -------------------------------------------------------------------- */

static double any_angle(struct trial *t)
{
    return chance_between(&t->chance, 0, 2 * PI);
}

static struct point somewhere(struct trial *t)
{
    return (struct point){chance_between(&t->chance, -6, 6),
                          chance_between(&t->chance, -6, 6)};
}

/* A place on the edge of the shape. */
static struct point on_the_edge(struct trial *t, double share)
{
    struct ring ring = t->shape.polygons[0].rings[0];
    size_t k = chance_below(&t->chance, ring.count);
    struct point a = ring.points[k];
    struct point b = ring.points[(k + 1) % ring.count];

    return (struct point){a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

/* Moves the second section so far from the first that the gap is as wide as it should
 * be, `skew` off the way square to the cut. */
static void move_second(struct trial *t, double angle, double skew)
{
    double reach = t->gap / cos(skew);

    t->sections[1] = region_moved(
        t->f, &t->sections[1], 0,
        (struct point){reach * sin(angle + skew), -reach * cos(angle + skew)});
}

static void square_to_the_cut(struct trial *t)
{
    double angle = any_angle(t);

    cut_in_two(t, somewhere(t), angle);
    move_second(t, angle, 0);
}

/* Traced over one another, and along the cut as well: a sharp corner sticks out. */
static void overlapping(struct trial *t)
{
    double angle = any_angle(t);

    cut_in_two(t, somewhere(t), angle);
    move_second(t, angle + PI, chance_between(&t->chance, -0.7, 0.7));
}

/* Along the edge of the roof, which the cut meets at a slant: the mouth is longest, and
 * the edges don't move. On rectangles only; other roofs have edges that would. */
static void along_the_edge(struct trial *t)
{
    struct ring ring = t->shape.polygons[0].rings[0];
    double length = point_distance(ring.points[0], ring.points[1]);
    double width = point_distance(ring.points[1], ring.points[2]);
    double edge =
        atan2(ring.points[1].y - ring.points[0].y, ring.points[1].x - ring.points[0].x);
    double most = ring.count == 4 ? atan(fmax(0, length - 15) / width) : 0;
    double skew = chance_between(&t->chance, -most, most);

    cut_in_two(t, somewhere(t), edge + PI / 2 - skew);
    move_second(t, edge + PI / 2 - skew, skew);
}

/* The same, and turned a little as well. */
static void along_the_edge_and_turned(struct trial *t)
{
    struct box box = region_box(&t->shape);
    double size = hypot(box.max_x - box.min_x, box.max_y - box.min_y);
    double turn = chance_between(&t->chance, -t->gap, t->gap) / (2 * size);

    t->gap /= 2;
    along_the_edge(t);
    t->sections[1] = region_moved(t->f, &t->sections[1], turn, (struct point){0, 0});
    t->gap *= 2;
}

/* Wider towards one end of the cut, from next to nothing up to the gap. */
static void tapering(struct trial *t)
{
    struct box box = region_box(&t->shape);
    double angle = any_angle(t);
    double length = hypot(box.max_x - box.min_x, box.max_y - box.min_y);
    double turn = t->gap / length * (chance_below(&t->chance, 2) ? 1 : -1);

    cut_in_two(t, (struct point){0, 0}, angle);
    t->sections[1] = region_moved(t->f, &t->sections[1], turn, (struct point){0, 0});
    t->gap /= 2;
    move_second(t, angle, 0);
    t->gap *= 2;
}

/* All sections moved away from the point where they meet. */
static void move_apart(struct trial *t, struct point from)
{
    for (int r = 0; r < t->count; r++) {
        struct box box = region_box(&t->sections[r]);
        double dx = (box.min_x + box.max_x) / 2 - from.x;
        double dy = (box.min_y + box.max_y) / 2 - from.y;
        double reach = t->gap / 2 / hypot(dx, dy);

        if (t->sections[r].polygon_count > 0)
            t->sections[r] = region_moved(t->f, &t->sections[r], 0,
                                          (struct point){reach * dx, reach * dy});
    }
}

static void meet_in(struct trial *t, struct point at)
{
    double first = any_angle(t);
    double second = first + chance_between(&t->chance, 0.2, PI - 0.2);
    double third = first + chance_between(&t->chance, PI + 0.2, 1.5 * PI);

    cut(t, at, (const double[]){first, second, third});
    move_apart(t, at);
}

static void three_in_a_point(struct trial *t)
{
    meet_in(t, somewhere(t));
}

static void three_at_the_edge(struct trial *t)
{
    meet_in(t, on_the_edge(t, chance_between(&t->chance, 0.3, 0.7)));
}

static void tee(struct trial *t)
{
    struct point at = somewhere(t);
    double first = any_angle(t);
    double second = first + chance_between(&t->chance, 0.3, PI - 0.3);

    cut(t, at, (const double[]){first, first, second});
    move_apart(t, at);
}

static void at_a_corner(struct trial *t)
{
    struct point at = on_the_edge(t, 0);
    double angle = atan2(-at.y, -at.x) + chance_between(&t->chance, -0.3, 0.3);

    cut_in_two(t, at, angle);
    move_second(t, angle, 0);
}

/* ---- Traced by hand --------------------------------------------------------------- */

/* More vertices, none quite in place. */
static struct region traced(struct trial *t, const struct region *section, double noise)
{
    struct ring ring = section->polygons[0].rings[0];
    struct ring out = ring_new(t->f->arena, 3 * ring.count);

    for (size_t k = 0; k < out.count; k++) {
        struct point a = ring.points[k / 3];
        struct point b = ring.points[(k / 3 + 1) % ring.count];
        double share = (double)(k % 3) / 3;

        out.points[k] = (struct point){
            a.x + share * (b.x - a.x) + chance_between(&t->chance, -noise, noise),
            a.y + share * (b.y - a.y) + chance_between(&t->chance, -noise, noise)};
    }
    return region_made(t->f->arena, &out, 1);
}

static bool is_valid(GEOSContextHandle_t geos, const struct region *region)
{
    GEOSGeometry *geometry = geos_of(geos, region);
    bool valid = GEOSisValid_r(geos, geometry) == 1;

    GEOSGeom_destroy_r(geos, geometry);
    return valid;
}

/* Gaps and overlaps by turns: joined they are one outline without holes, as large as
 * both sections and what can lie between them. */
static void sections_traced_by_hand(void **state)
{
    struct fixture *f = *state;

    for (uint64_t seed = 1; seed <= CASES; seed++) {
        struct trial t = trial_of(f, seed);
        struct site parts = site_empty(f);
        const struct region *outline = NULL;
        double sum = 0;
        double shared = 0;

        tapering(&t);
        for (int r = 0; r < 2 && t.sections[r].polygon_count == 1; r++) {
            struct region section = traced(&t, &t.sections[r], 0.07);

            if (!is_valid(f->geos, &section))
                break;
            sum += region_area(&section);
            site_add(&parts, section, t.height);
        }
        if (parts.building.roof_count < 2)
            continue;
        shared = geos_area(f->geos, &parts.roofs[0].outline, &parts.roofs[1].outline,
                           AREA_SHARED);
        site_zone(&parts, &t.settings);
        outline = parts.roofs[0].level.outline;
        if (!outline)
            continue;
        assert_int_equal(outline->polygon_count, 1);
        assert_int_equal(outline->polygons[0].ring_count, 1);
        assert_true(region_area(outline) > sum - shared - 1e-3);
        assert_true(region_area(outline) <
                    sum - shared + 0.3 * ring_length(outline->polygons[0].rings[0]));
        arena_reset(f->arena);
    }
}

#define JOINTS(make)                        \
    static void joints_##make(void **state) \
    {                                       \
        try(state, CASES, make, #make);     \
    }

JOINTS(square_to_the_cut)
JOINTS(overlapping)
JOINTS(along_the_edge)
JOINTS(along_the_edge_and_turned)
JOINTS(tapering)
JOINTS(three_in_a_point)
JOINTS(three_at_the_edge)
JOINTS(tee)
JOINTS(at_a_corner)

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(joints_square_to_the_cut),
        geometry_test(joints_overlapping),
        geometry_test(joints_along_the_edge),
        geometry_test(joints_along_the_edge_and_turned),
        geometry_test(joints_tapering),
        geometry_test(joints_three_in_a_point),
        geometry_test(joints_three_at_the_edge),
        geometry_test(joints_tee),
        geometry_test(joints_at_a_corner),
        geometry_test(sections_traced_by_hand),
    };

    return cmocka_run_group_tests_name("joints between sections", tests, NULL, NULL);
}
