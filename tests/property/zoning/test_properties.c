/* What holds for every outline, tried on thousands. Each case has a seed of its own, so
 * that one that fails can be repeated alone. */

#include "outlines.h"

/* ---- One case -------------------------------------------------------------------- */

struct trial {
    struct fixture *f;
    struct chance chance;
    struct region shape;
    struct pose pose;
    double height;
    struct zoning_settings settings;
};

static struct trial trial_of(struct fixture *f, uint64_t seed, int kind)
{
    static const char *const names[] = {"asce7-22", "asce7-10"};
    struct trial t = {.f = f, .chance = {seed * 1000003}};
    double size = exp(chance_between(&t.chance, log(6), log(250)));

    t.shape = shape_of(f, &t.chance, kind, size);
    t.pose = pose_by_chance(&t.chance);
    t.height = exp(chance_between(&t.chance, log(3), log(30)));
    t.settings = zoning_defaults();
    t.settings.standard = standard_find(names[chance_below(&t.chance, 2)]);
    t.settings.reentrant_corners = chance_below(&t.chance, 4) == 0;
    return t;
}

static void tell(const struct trial *t, uint64_t seed, int kind, const char *what)
{
    print_error("seed %llu, shape %d of %zu points, h %.3f, %s: %s\n",
                (unsigned long long)seed, kind, region_points(&t->shape), t->height,
                t->settings.standard->name, what);
}

typedef const char *property(struct trial *t);

/* Tries a property on `count` outlines of a kind; a property gives NULL where it holds,
 * else says what doesn't. @return failures */
static int try_kind(struct fixture *f, int kind, uint64_t count, property *holds)
{
    int failures = 0;

    for (uint64_t seed = 1; seed <= count; seed++) {
        struct trial t = trial_of(f, seed, kind);
        const char *what = holds(&t);

        if (what) {
            tell(&t, seed, kind, what);
            failures++;
        }
        arena_reset(f->arena);
    }
    return failures;
}

static void try_kinds(void **state, uint64_t count, property *holds)
{
    int failures = 0;

    for (int kind = 0; kind < SHAPES; kind++)
        failures += try_kind(*state, kind, count, holds);
    assert_int_equal(failures, 0);
}

/* ---- Partition -------------------------------------------------------------------- */

static double rings_length(const struct region *region)
{
    double sum = 0;

    for (size_t i = 0; i < region->polygon_count; i++)
        for (size_t j = 0; j < region->polygons[i].ring_count; j++)
            sum += ring_length(region->polygons[i].rings[j]);
    return sum;
}

static struct region zones_together(struct fixture *f, const struct roof *roof)
{
    struct region all = {NULL, 0};

    for (size_t i = 0; i < roof->zone_count; i++)
        all.polygon_count += roof->zones[i].region.polygon_count;
    all.polygons = arena_array(f->arena, all.polygon_count + 1, sizeof *all.polygons);
    all.polygon_count = 0;
    for (size_t i = 0; i < roof->zone_count; i++)
        for (size_t j = 0; j < roof->zones[i].region.polygon_count; j++)
            all.polygons[all.polygon_count++] = roof->zones[i].region.polygons[j];
    return all;
}

/* The union of zones differs from the outline by no more than the overlay's rounding,
 * some 2^-29 of the extent, along its edges. */
static const char *zones_partition_the_outline(struct trial *t)
{
    struct site site = site_empty(t->f);
    struct roof *roof = shape_zoned(&site, &t->shape, &t->pose, t->height, &t->settings);
    GEOSContextHandle_t geos = t->f->geos;
    double rounding = 1e-6 + 5e-7 * rings_length(&roof->outline);
    struct region all = zones_together(t->f, roof);
    GEOSGeometry *parts = geos_of(geos, &all);
    GEOSGeometry *outline = geos_of(geos, &roof->outline);
    GEOSGeometry *joined = GEOSUnaryUnion_r(geos, parts);
    GEOSGeometry *different = joined ? GEOSSymDifference_r(geos, joined, outline) : NULL;
    double area = NAN;
    const char *what = NULL;

    if (different)
        GEOSArea_r(geos, different, &area);
    if (!(area < rounding))
        what = "zones together aren't the outline";
    for (size_t i = 0; i < roof->zone_count && !what; i++)
        for (size_t j = 0; j < i && !what; j++)
            if (!(geos_area(geos, &roof->zones[i].region, &roof->zones[j].region,
                            AREA_SHARED) < 1e-6))
                what = "two zones overlap";
    GEOSGeom_destroy_r(geos, different);
    GEOSGeom_destroy_r(geos, joined);
    GEOSGeom_destroy_r(geos, outline);
    GEOSGeom_destroy_r(geos, parts);
    return what;
}

/* As written: no two zones overlap, and neighbours share their vertices. */
static const char *written_zones_are_a_partition(struct trial *t)
{
    struct site site = site_empty(t->f);
    struct roof *roof = shape_zoned(&site, &t->shape, &t->pose, t->height, &t->settings);

    for (size_t i = 0; i < roof->zone_count; i++)
        for (size_t j = 0; j < roof->zone_count; j++) {
            if (i == j)
                continue;
            if (geos_area(t->f->geos, &roof->zones[i].lonlat, &roof->zones[j].lonlat,
                          AREA_SHARED) != 0)
                return "written zones overlap";
            assert_vertices_shared(&roof->zones[i].lonlat, &roof->zones[j].lonlat, 1e-10);
        }
    return NULL;
}

static void partition(void **state)
{
    try_kinds(state, 300, zones_partition_the_outline);
}

static void written_partition(void **state)
{
    try_kinds(state, 200, written_zones_are_a_partition);
}

/* ---- The same however it is traced ------------------------------------------------- */

static const char *differs(const struct roof *a, const struct roof *b, double tolerance)
{
    for (int role = 0; role < ZONE_ROLES; role++)
        if (!(fabs(zone_area(a, (enum zone_role)role) -
                   zone_area(b, (enum zone_role)role)) <= tolerance))
            return zone_role_name(role);
    if (a->corners != b->corners)
        return "corners";
    return fabs(a->edge_length - b->edge_length) <= 1e-6 * a->edge_length ? NULL
                                                                          : "edge length";
}

/* Rings begun elsewhere, some turned round. */
static struct region retraced(struct trial *t)
{
    struct region copy;

    assert_int_equal(region_copy(t->f->arena, &t->shape, &copy), OUTLAY_OK);
    for (size_t j = 0; j < copy.polygons[0].ring_count; j++) {
        struct ring *ring = &copy.polygons[0].rings[j];

        *ring = ring_started(t->f->arena, *ring, chance_below(&t->chance, ring->count));
        if (chance_below(&t->chance, 2))
            ring_reverse(*ring);
    }
    return copy;
}

static const char *start_and_direction_do_not_matter(struct trial *t)
{
    struct site first = site_empty(t->f);
    struct site second = site_empty(t->f);
    struct region other = retraced(t);
    struct roof *a = shape_zoned(&first, &t->shape, &t->pose, t->height, &t->settings);
    struct roof *b = shape_zoned(&second, &other, &t->pose, t->height, &t->settings);
    const char *what = differs(a, b, 5e-9 * a->area);

    for (size_t i = 0; i < a->zone_count && !what; i++)
        if (!region_same(&a->zones[i].lonlat, &b->zones[i].lonlat))
            what = "written coordinates";
    return what;
}

static void retracing(void **state)
{
    try_kinds(state, 300, start_and_direction_do_not_matter);
}

static const char *place_and_angle_do_not_matter(struct trial *t)
{
    struct site first = site_empty(t->f);
    struct site second = site_empty(t->f);
    struct pose pose = pose_by_chance(&t->chance);
    struct roof *a = shape_zoned(&first, &t->shape, &t->pose, t->height, &t->settings);
    struct roof *b = shape_zoned(&second, &t->shape, &pose, t->height, &t->settings);

    return differs(a, b, 1e-6 * a->area);
}

static void moving(void **state)
{
    try_kinds(state, 300, place_and_angle_do_not_matter);
}

/* ---- Sections -------------------------------------------------------------------- */

static int side_of_cut(const int winding[ARRANGE_LAYERS], const void *user)
{
    (void)user;
    return winding[0] > 0 ? winding[1] > 0 : -1;
}

/* Both sides of a cut across the shape. */
static void cut(struct trial *t, struct region sides[2])
{
    struct layer_rings rings = {NULL, 0, 0};
    double at = chance_between(&t->chance, -0.1, 0.1) * t->height;
    struct ring half = box_ring(t->f->arena, at, -1000, 1000, 2000);

    assert_true(layer_rings_add_region(t->f->arena, &rings, &t->shape, 0));
    assert_true(layer_rings_add(
        t->f->arena, &rings,
        ring_moved(t->f->arena, half, chance_between(&t->chance, 0, 2 * PI), 0, 0), 1));
    arranged(t->f, &rings, side_of_cut, NULL, 2, sides);
}

static const char *order_of_roofs_does_not_matter(struct trial *t)
{
    struct site forward = site_empty(t->f);
    struct site backward = site_empty(t->f);
    struct region sides[2];

    cut(t, sides);
    for (int r = 0; r < 2; r++) {
        if (region_area(&sides[r]) < 1)
            return NULL;
        site_read(&forward, put(t->f, &sides[r], &t->pose), t->height);
    }
    for (int r = 2; r-- > 0;)
        site_read(&backward, put(t->f, &sides[r], &t->pose), t->height);
    site_run(&forward, &t->settings);
    site_run(&backward, &t->settings);
    for (int r = 0; r < 2; r++) {
        const char *what = differs(&forward.roofs[r], &backward.roofs[1 - r],
                                   1e-9 * forward.roofs[r].area);

        if (what)
            return what;
    }
    return NULL;
}

static void order(void **state)
{
    try_kinds(state, 150, order_of_roofs_does_not_matter);
}

/* Sections have the zones of the whole. Joining closes niches under 0.3 m wide, so only
 * shapes without any are tried; edges move by less than a millimetre. */
static const char *sections_add_up(struct trial *t)
{
    struct site sections = site_empty(t->f);
    struct site whole = site_empty(t->f);
    struct region sides[2];
    struct roof *roof = shape_zoned(&whole, &t->shape, &t->pose, t->height, &t->settings);

    cut(t, sides);
    for (int r = 0; r < 2; r++) {
        if (region_area(&sides[r]) < 1)
            return NULL;
        site_read(&sections, put(t->f, &sides[r], &t->pose), t->height);
    }
    site_run(&sections, &t->settings);
    for (int role = 0; role < ZONE_ROLES; role++)
        if (!(fabs(site_area(&sections, (enum zone_role)role) -
                   zone_area(roof, (enum zone_role)role)) <=
              0.02 + 1e-3 * rings_length(&roof->outline)))
            return zone_role_name(role);
    return site_corners(&sections) == roof->corners ? NULL : "corners";
}

static void adding_up(void **state)
{
    assert_int_equal(try_kind(*state, SHAPE_BLOCKS, 400, sections_add_up), 0);
}

/* ---- Height and scale ------------------------------------------------------------ */

/* Corner and perimeter never shrink as the roof grows, while one rule holds. */
static const char *edges_grow_with_height(struct trial *t)
{
    double last = 0;

    for (double height = 3; height < 18; height *= 1.3) {
        struct site site = site_empty(t->f);
        struct roof *roof = shape_zoned(&site, &t->shape, &t->pose, height, &t->settings);
        double edge = zone_area(roof, ZONE_CORNER) + zone_area(roof, ZONE_PERIMETER);

        if (edge < last - 1e-6 * roof->area)
            return "corner and perimeter shrink";
        last = edge;
    }
    return NULL;
}

static void growing(void **state)
{
    try_kinds(state, 100, edges_grow_with_height);
}

/* Twice all lengths, four times all areas. Below 3 ft (0.9 m) the strips have a least
 * depth, so only the rule by height is tried. */
static const char *twice_the_length_is_four_times_the_area(struct trial *t)
{
    struct site small = site_empty(t->f);
    struct site large = site_empty(t->f);
    struct pose pose = t->pose;
    struct zoning_settings settings = t->settings;
    double height = fmin(t->height, 9);
    struct roof *a = NULL;
    struct roof *b = NULL;

    t->settings.standard = settings.standard = standard_find("asce7-22");
    settings.jog_tolerance *= 2;
    settings.opening_width *= 2;
    settings.opening_area *= 4;
    pose.scale = 2;
    a = shape_zoned(&small, &t->shape, &t->pose, height, &t->settings);
    b = shape_zoned(&large, &t->shape, &pose, 2 * height, &settings);
    for (int role = 0; role < ZONE_ROLES; role++)
        if (!(fabs(4 * zone_area(a, (enum zone_role)role) -
                   zone_area(b, (enum zone_role)role)) <=
              0.05 + 2e-3 * rings_length(&b->outline)))
            return zone_role_name(role);
    return a->corners == b->corners ? NULL : "corners";
}

static void scaling(void **state)
{
    try_kinds(state, 200, twice_the_length_is_four_times_the_area);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(partition), geometry_test(written_partition),
        geometry_test(retracing), geometry_test(moving),
        geometry_test(order),     geometry_test(adding_up),
        geometry_test(growing),   geometry_test(scaling),
    };

    return cmocka_run_group_tests_name("zoning properties", tests, NULL, NULL);
}
