/* Draws of the inputs: without a spread they are the plain run to the last bit; on a
 * square roof P10, P90 and what drives them agree with closed forms; between its exact
 * cuts areas are what a cut would give; and nothing depends on what else is drawn. */

#include "../zoning/outlines.h"

#include <string.h>

#include "flow/draw_zones.h"
#include "flow/draws.h"
#include "roof/spread.h"
#include "spread/drivers.h"
#include "spread/normal.h"

static const double side = 60, height = 8, speed = 50; /* m, m, m/s */

static void settings_ready(struct settings *settings, const char *spreads, int draws)
{
    struct outlay_error err = {0};

    settings_init(settings);
    settings->spread.list = spreads;
    settings->spread.draws = draws;
    if (settings_resolve(settings, &err) != OUTLAY_OK)
        fail_msg("%s", err.what);
}

static struct roof *drawn(struct site *site, struct region lonlat, double roof_height,
                          const struct settings *settings)
{
    struct roof *roof = site_read(site, lonlat, NAN);
    struct outlay_error err = {0};

    roof->given.height = roof_height;
    roof->given.wind_speed = speed;
    roof->given.exposure = EXPOSURE_C;
    roof->given.deck = DECK_STEEL;
    site->building.roofs = site->roofs;
    if (stages_run(&site->building, settings, false, site->f->ctx, &err) != OUTLAY_OK)
        fail_msg("%s", err.what);
    return roof;
}

static struct region square_lonlat(struct fixture *f)
{
    struct ring ring = box_ring(f->arena, -side / 2, -side / 2, side, side);
    struct region shape = region_made(f->arena, &ring, 1);
    struct pose pose = {.place = {-95, 40}, .angle = 0.3, .scale = 1};

    return put(f, &shape, &pose);
}

/* ---- No spread --------------------------------------------------------------------- */

static void expect_both(struct spread_range range, double plain)
{
    assert_memory_equal(&range.low, &plain, sizeof plain);
    assert_memory_equal(&range.high, &plain, sizeof plain);
}

static void expect_plain(const struct roof *roof)
{
    double force = 0, fasteners = 0;

    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone *zone = &roof->zones[i];
        bool met = zone->attachment.state == STATE_MET ||
                   zone->attachment.state == STATE_MET_ASSUMED;

        expect_both(roof->spread->zone_area[zone->role], zone->area);
        expect_both(roof->spread->uplift[zone->role], zone->uplift.uplift);
        expect_both(roof->spread->zone_fasteners[zone->role], zone->attachment.fasteners);
        assert_true(roof->spread->met[zone->role] == met);
        force += zone->area * zone->uplift.uplift;
        fasteners += zone->attachment.fasteners;
    }
    expect_both(roof->spread->force, force);
    expect_both(roof->spread->fasteners, fasteners);
    expect_both(roof->spread->height, roof->level.height);
}

static void without_spread_draws_are_the_plain_run(void **state)
{
    struct fixture *f = *state;
    struct settings settings;

    settings_ready(&settings, NULL, 3);
    for (uint64_t seed = 1; seed <= 100; seed++) {
        struct chance chance = {seed * 104729};
        double size = chance_between(&chance, 15, 180);
        double roof_height = chance_between(&chance, 3, 40);
        struct region shape = shape_of(f, &chance, (int)(seed % SHAPES), size);
        struct pose pose = pose_by_chance(&chance);
        struct site site = site_empty(f);

        expect_plain(drawn(&site, put(f, &shape, &pose), roof_height, &settings));
        arena_reset(f->arena);
    }
    settings_release(&settings);
}

/* ---- A square, in closed forms ----------------------------------------------------- */

/* ASCE/SEI 7-22 (and 7-16) Figure 30.3-2A, h <= 60 ft: strips 0.6 h and 1.2 h deep,
 * corners L-shaped, legs 0.6 h long and 0.2 h deep. */
static double area_of(enum zone_role role, double h)
{
    double outer = side - 1.2 * h, inner = side - 2.4 * h;
    double corners = 4 * (2 * 0.6 * 0.2 - 0.2 * 0.2) * h * h;

    switch (role) {
    case ZONE_CORNER:
        return corners;
    case ZONE_PERIMETER:
        return side * side - outer * outer - corners;
    case ZONE_FIELD:
        return outer * outer - inner * inner;
    default:
        return inner * inner;
    }
}

/* The velocity pressure goes with V2 and, above 15 ft, with h^(2 / alpha). */
static double force_at(const struct roof *roof, double h, double v)
{
    double by_height = pow(h / height, 2 / roof->velocity.alpha);
    double sum = 0;

    for (size_t i = 0; i < roof->zone_count; i++)
        sum += roof->zones[i].uplift.uplift * area_of(roof->zones[i].role, h);
    return sum * by_height * v * v / (speed * speed);
}

enum { GRID = 600, DRAWS = 4000 };

static const double height_sd = 0.5, speed_sd = 2.5;

struct truth {
    struct spread_range range;
    double density[2]; /* at P10 and P90 */
    double share_of_height, share_of_speed;
};

/* The whole distribution, on a grid of equal probabilities. */
static struct truth truth_of(const struct roof *roof)
{
    static double values[GRID * GRID];
    double rows[GRID] = {0}, columns[GRID] = {0}, mean = 0, square = 0, h2 = 0, v2 = 0;
    struct truth truth;

    for (int i = 0; i < GRID; i++)
        for (int k = 0; k < GRID; k++) {
            double h = height + height_sd * normal_cut_quantile((i + 0.5) / GRID);
            double v = speed + speed_sd * normal_cut_quantile((k + 0.5) / GRID);
            double force = force_at(roof, h, v);

            values[i * GRID + k] = force;
            rows[i] += force / GRID;
            columns[k] += force / GRID;
            mean += force / GRID / GRID;
            square += force * force / GRID / GRID;
        }
    for (int i = 0; i < GRID; i++) {
        h2 += (rows[i] - mean) * (rows[i] - mean) / GRID;
        v2 += (columns[i] - mean) * (columns[i] - mean) / GRID;
    }
    truth.share_of_height = h2 / (square - mean * mean);
    truth.share_of_speed = v2 / (square - mean * mean);
    truth.range = spread_range_of(values, GRID * GRID);
    truth.density[0] = 0.02 / (sorted_quantile(values, GRID * GRID, 0.11) -
                               sorted_quantile(values, GRID * GRID, 0.09));
    truth.density[1] = 0.02 / (sorted_quantile(values, GRID * GRID, 0.91) -
                               sorted_quantile(values, GRID * GRID, 0.89));
    return truth;
}

/* The standard error of a quantile: sqrt(p (1 - p) / n) / density. */
static void expect_quantile(double value, double truth, double density)
{
    double error = sqrt(0.1 * 0.9 / DRAWS) / density;

    if (fabs(value - truth) > 3 * error)
        fail_msg("%.6g for %.6g: more than 3 standard errors of %.3g", value, truth,
                 error);
}

static void expect_share(struct driver driver, double truth)
{
    assert_true(driver.error > 0 && driver.error < 0.1);
    if (fabs(driver.share - truth) > 3 * driver.error)
        fail_msg("share %.4f for %.4f, standard error %.4f", driver.share, truth,
                 driver.error);
}

static double area_density(enum zone_role role, double p)
{
    double low = height + height_sd * normal_cut_quantile(p - 0.01);
    double high = height + height_sd * normal_cut_quantile(p + 0.01);

    return 0.02 / fabs(area_of(role, high) - area_of(role, low));
}

/* Of a zone's area, which goes one way with the height. */
static void expect_area(const struct roof *roof, enum zone_role role)
{
    struct spread_range range = roof->spread->zone_area[role];
    double low = area_of(role, height + height_sd * normal_cut_quantile(0.1));
    double high = area_of(role, height + height_sd * normal_cut_quantile(0.9));

    expect_quantile(range.low, fmin(low, high),
                    area_density(role, low < high ? 0.1 : 0.9));
    expect_quantile(range.high, fmax(low, high),
                    area_density(role, low < high ? 0.9 : 0.1));
}

/* Uplift is the square of one deviate times a power of another; its quantiles are those
 * of the force on one m2. */
static void a_square_agrees_with_closed_forms(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct settings settings;
    struct truth truth;
    const struct roof *roof;
    double moved;

    settings_ready(&settings, "height=0.5m, wind_speed=2.5 m/s", DRAWS);
    roof = drawn(&site, square_lonlat(f), height, &settings);
    assert_int_equal(roof->zone_count, ZONE_ROLES);
    for (int role = 0; role < ZONE_ROLES; role++)
        expect_area(roof, (enum zone_role)role);
    truth = truth_of(roof);
    expect_quantile(roof->spread->force.low, truth.range.low, truth.density[0]);
    expect_quantile(roof->spread->force.high, truth.range.high, truth.density[1]);
    expect_share(roof->spread->drivers[DRIVEN_FORCE][SPREAD_HEIGHT],
                 truth.share_of_height);
    expect_share(roof->spread->drivers[DRIVEN_FORCE][SPREAD_WIND_SPEED],
                 truth.share_of_speed);
    assert_true(isnan(roof->spread->drivers[DRIVEN_FORCE][SPREAD_TRACE].share));
    moved = force_at(roof, height, speed + speed_sd * normal_cut_quantile(0.9)) -
            force_at(roof, height, speed + speed_sd * normal_cut_quantile(0.1));
    assert_float_equal(roof->spread->drivers[DRIVEN_FORCE][SPREAD_WIND_SPEED].moved,
                       (float)moved, 1e-3f * (float)moved);
    settings_release(&settings);
}

/* The innermost zone takes the length of the edge times the move. */
static void a_trace_moves_the_innermost_zone(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct settings settings;
    const struct roof *roof;
    double inner = area_of(ZONE_INTERIOR, height), moved;

    settings_ready(&settings, "trace=0.2m", DRAWS);
    roof = drawn(&site, square_lonlat(f), height, &settings);
    moved = 4 * side * 0.2 * normal_cut_quantile(0.9);
    expect_quantile(roof->spread->zone_area[ZONE_INTERIOR].high, inner + moved,
                    0.02 / (4 * side * 0.2 *
                            (normal_cut_quantile(0.91) - normal_cut_quantile(0.89))));
    expect_both(roof->spread->zone_area[ZONE_FIELD], roof->zones[ZONE_FIELD].area);
    settings_release(&settings);
}

/* A roof so narrow that strips are all of it: moved in, it loses them too, about what the
 * outline loses. */
static void a_narrow_roof_loses_its_strips(void **state)
{
    struct fixture *f = *state;
    struct site site = site_empty(f);
    struct settings settings;
    const struct roof *roof;
    struct ring ring = box_ring(f->arena, -50, -4, 100, 8);
    struct region shape = region_made(f->arena, &ring, 1);
    struct pose pose = {.place = {-95, 40}, .angle = 0.3, .scale = 1};
    double in = 0.8 * normal_cut_quantile(0.9), exact = (100 - 2 * in) * (8 - 2 * in);

    settings_ready(&settings, "trace=0.8m", DRAWS);
    roof = drawn(&site, put(f, &shape, &pose), height, &settings);
    assert_true(fabs(roof->spread->area.low - exact) < 0.1 * exact);
    settings_release(&settings);
}

/* However unlikely, a step of the exposure counts by its variance, as in the indices. */
static void an_unlikely_exposure_is_a_driver(void **state)
{
    static const char *const spreads[] = {"exposure=0.05,wind_speed=2.5 m/s",
                                          "exposure=0.3,wind_speed=2.5 m/s"};
    struct fixture *f = *state;

    for (size_t i = 0; i < 2; i++) {
        struct settings one, many;
        struct site first = site_empty(f), second = site_empty(f);
        double share;
        struct driver index;

        settings_ready(&one, spreads[i], 2);
        settings_ready(&many, spreads[i], DRAWS);
        share = drawn(&first, square_lonlat(f), height, &one)
                    ->spread->drivers[DRIVEN_FORCE][SPREAD_EXPOSURE]
                    .share;
        index = drawn(&second, square_lonlat(f), height, &many)
                    ->spread->drivers[DRIVEN_FORCE][SPREAD_EXPOSURE];
        assert_true(share > 0.05);
        assert_true(fabs(share - index.share) < 3 * index.error);
        settings_release(&one);
        settings_release(&many);
    }
}

/* ---- Between exact cuts ------------------------------------------------------------ */

/* What a cut at that height gives. */
static void areas_cut(struct fixture *f, struct region lonlat, double roof_height,
                      const struct settings *settings, double areas[ZONE_ROLES])
{
    struct settings plain = *settings;
    struct site site = site_empty(f);
    const struct roof *roof;

    plain.spread.draws = 0;
    roof = drawn(&site, lonlat, roof_height, &plain);
    memset(areas, 0, ZONE_ROLES * sizeof *areas);
    for (size_t i = 0; i < roof->zone_count; i++)
        areas[roof->zones[i].role] = roof->zones[i].area;
}

/* The largest error, as a share of the zone's area; of zones under a tenth of the roof,
 * of a tenth of the roof. */
static double error_of(struct fixture *f, struct chance *chance, struct region lonlat,
                       double roof_height, const struct settings *settings)
{
    struct settings plain = *settings;
    struct site site = site_empty(f);
    struct outlay_error err = {0};
    struct draw_zones *zones = NULL;
    double reach = 0.3 * roof_height, largest = 0;
    struct roof copy, *roof;

    plain.spread.draws = 0;
    roof = drawn(&site, lonlat, roof_height, &plain);
    assert_int_equal(draw_zones_make(&site.building, &plain.zoning, &reach, f->ctx,
                                     f->arena, &zones, &err),
                     OUTLAY_OK);
    for (int i = 0; i < 5; i++) {
        double moved = chance_between(chance, -reach, reach), cut[ZONE_ROLES];
        double areas[ZONE_ROLES] = {0};

        copy = *roof;
        assert_int_equal(draw_zones_at(zones, &moved, &copy, &err), OUTLAY_OK);
        for (size_t k = 0; k < copy.zone_count; k++)
            areas[copy.zones[k].role] = copy.zones[k].area;
        areas_cut(f, lonlat, roof_height + moved, settings, cut);
        assert_true(copy.level.height == roof->level.height + moved);
        for (int role = 0; role < ZONE_ROLES; role++)
            largest = fmax(largest, fabs(areas[role] - cut[role]) /
                                        fmax(cut[role], 0.1 * roof->area));
    }
    draw_zones_close(zones);
    return largest;
}

static void areas_between_cuts_are_those_of_a_cut(void **state)
{
    struct fixture *f = *state;
    struct settings settings;
    double largest = 0;

    settings_ready(&settings, NULL, 0);
    for (uint64_t seed = 1; seed <= 300; seed++) {
        struct chance chance = {seed * 15485863};
        double size = chance_between(&chance, 10, 180);
        double roof_height = chance_between(&chance, 3, 30);
        struct region shape = shape_of(f, &chance, (int)(seed % SHAPES), size);
        struct pose pose = pose_by_chance(&chance);
        double error =
            error_of(f, &chance, put(f, &shape, &pose), roof_height, &settings);

        if (error > 0.002)
            print_error("roof %d: %.3f %%\n", (int)seed, 100 * error);
        largest = fmax(largest, error);
        arena_reset(f->arena);
    }
    settings_release(&settings);
    print_message("largest error: %.3f %%\n", 100 * largest);
    assert_true(largest <= 0.002);
}

/* ---- What draws depend on ---------------------------------------------------------- */

/* A roof's results are the same in a building of its own, whatever came before; another
 * seed draws others. */
static void draws_go_by_seed_and_id(void **state)
{
    struct fixture *f = *state;
    struct settings settings;
    struct site first = site_empty(f), second = site_empty(f), third = site_empty(f);
    const struct roof *one, *two, *other;

    settings_ready(&settings, "height=0.5m,wind_speed=2 m/s,trace=0.1m,exposure=0.2", 50);
    one = drawn(&first, square_lonlat(f), height, &settings);
    two = drawn(&second, square_lonlat(f), height, &settings);
    settings.spread.seed = 2;
    other = drawn(&third, square_lonlat(f), height, &settings);
    assert_memory_equal(one->spread->scores, two->spread->scores,
                        50 * sizeof *one->spread->scores);
    assert_true(one->spread->force.low == two->spread->force.low);
    assert_true(one->spread->force.low != other->spread->force.low);
    settings_release(&settings);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(without_spread_draws_are_the_plain_run),
        geometry_test(a_square_agrees_with_closed_forms),
        geometry_test(a_trace_moves_the_innermost_zone),
        geometry_test(an_unlikely_exposure_is_a_driver),
        geometry_test(a_narrow_roof_loses_its_strips),
        geometry_test(areas_between_cuts_are_those_of_a_cut),
        geometry_test(draws_go_by_seed_and_id),
    };

    return cmocka_run_group_tests_name("draws", tests, NULL, NULL);
}
