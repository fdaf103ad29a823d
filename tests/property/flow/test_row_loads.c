/* What every fastener of a seam-fastened layout carries, worked out a second time from
 * the plates, rows and zones of the result, on roofs by chance. Two ways: by the rule (a
 * row carries half the way to the next row or base securement on either side, each part
 * by the zone it lies in), walked along every row in small steps; and by the roof's area
 * nearest to each plate, sampled. No code is shared with takeoff/. */

#include "row_scene.h"

enum { ROOFS = 300 };

/* By the rule: nothing over along this much of a row, m. */
static const double rule_length = 0.3;
/* By the nearest plate: at most this share over along this much of a row, m. */
static const double nearest_share = 0.05, nearest_length = 1.5;
static const double noise = 1e-4;      /* of a sum of steps, relative */
static const double walk_step = 0.05;  /* along rows, m */
static const double coarse_step = 0.1; /* between samples, m */
static const double fine_step = 0.02;  /* where the coarse ones look bad, m */
static const double cell = 0.8;        /* of the grid of plates, m */

/* ---- By the rule ----------------------------------------------------------------- */

/* From p along d to a piece; INFINITY where it isn't met. */
static double way_to_piece(const struct row_piece *row, struct point p, struct point d)
{
    double from = cross(d, minus(row->from, p));
    double to = cross(d, minus(row->to, p));
    double t = inner(d, minus(row->from, p)) +
               from / (from - to) * inner(d, minus(row->to, row->from));

    return (from > 0) != (to > 0) && t > 1e-3 ? t : INFINITY;
}

static double distance_to_piece(const struct row_piece *row, struct point p)
{
    struct point d = minus(row->to, row->from);
    double t = fmin(1, fmax(0, inner(minus(p, row->from), d) / inner(d, d)));

    return point_distance(p,
                          (struct point){row->from.x + t * d.x, row->from.y + t * d.y});
}

/* How far from p along d a piece is no nearer than p's own row, at most `most`. */
static double way_beside(const struct row_piece *row, struct point p, struct point d,
                         double most)
{
    double low = 0;
    double high = most;

    if (distance_to_piece(row, (struct point){p.x + d.x * most, p.y + d.y * most}) >=
        most)
        return most;
    for (int i = 0; i < 30; i++) {
        double t = (low + high) / 2;

        if (distance_to_piece(row, (struct point){p.x + d.x * t, p.y + d.y * t}) < t)
            high = t;
        else
            low = t;
    }
    return high;
}

/* Whether two rows run along each other rather than across: within 45 degrees. */
static bool runs_along(const struct row_piece *row, const struct row_piece *other)
{
    struct point d = minus(row->to, row->from);
    struct point e = minus(other->to, other->from);

    return fabs(inner(d, e)) > sqrt(inner(d, d) * inner(e, e) / 2);
}

/* What a row carries to one side of p: half the way to the next row along it; where other
 * rows end on it or beside the way, no further than to where one of them is nearer.
 * 0: outside. */
static double way_carried(const struct scene *s, size_t self, struct point p,
                          struct point d)
{
    const struct row_piece *rows = s->layout->rows;
    double most = INFINITY;

    for (size_t k = 0; k < s->layout->row_count; k++) {
        double way = k == self ? INFINITY : way_to_piece(&rows[k], p, d);

        most = fmin(most, runs_along(&rows[self], &rows[k]) ? way / 2 : way);
    }
    if (!isfinite(most))
        return 0;
    for (size_t k = 0; k < s->layout->row_count; k++)
        if (k != self && !(runs_along(&rows[self], &rows[k]) &&
                           isfinite(way_to_piece(&rows[k], p, d))))
            most = way_beside(&rows[k], p, d, most);
    return most;
}

/* Pull on a strip of unit width across a row at p, N/m. */
static double pull_across(const struct scene *s, size_t k, struct point p)
{
    const struct row_piece *row = &s->layout->rows[k];
    double length = point_distance(row->from, row->to);
    double sum = 0;

    for (int side = -1; side <= 1; side += 2) {
        struct point d = {(row->from.y - row->to.y) / length * side,
                          (row->to.x - row->from.x) / length * side};
        struct line line;

        line_cut(s, p, d, &line);
        sum += line_pull(&line, way_carried(s, k, p, d));
    }
    return sum;
}

/* A row with its pieces and plates. */
struct walk {
    size_t first, last; /* pieces */
    size_t plate, end;  /* plates */
    double length;      /* m */
    double *at;         /* of each plate along the row, m */
};

static struct walk walk_of(const struct scene *s, size_t first, size_t plate)
{
    const struct row_piece *rows = s->layout->rows;
    struct walk w = {.first = first, .last = first, .plate = plate, .end = plate};
    size_t piece = first;
    double start = 0;

    while (w.last < s->layout->row_count && rows[w.last].row == rows[first].row) {
        w.length += point_distance(rows[w.last].from, rows[w.last].to);
        w.end += (size_t)rows[w.last++].fasteners;
    }
    w.at = arena_array(s->arena, w.end - w.plate + 1, sizeof *w.at);
    assert_non_null(w.at);
    for (size_t k = w.plate; k < w.end; k++) {
        struct point p = s->layout->plates[k].at;

        while (distance_to_piece(&rows[piece], p) > 1e-6) {
            start += point_distance(rows[piece].from, rows[piece].to);
            piece++;
            assert_true(piece < w.last);
        }
        w.at[k - w.plate] = start + point_distance(rows[piece].from, p);
    }
    return w;
}

/* Ends of what the plates hold: halfway to the next; those of a ring go on round. */
static void shares_find(struct scene *s, const struct walk *w)
{
    bool closed = s->layout->rows[w->first].closed;
    size_t n = w->end - w->plate;

    for (size_t k = 0; k < n; k++) {
        double before = k > 0    ? (w->at[k] - w->at[k - 1]) / 2
                        : closed ? (w->at[k] + w->length - w->at[n - 1]) / 2
                                 : w->at[k];
        double after = k + 1 < n ? (w->at[k + 1] - w->at[k]) / 2
                       : closed  ? (w->at[0] + w->length - w->at[k]) / 2
                                 : w->length - w->at[k];

        s->shares[w->plate + k] = before + after;
    }
}

/* The plate that holds the place `at` of a row. */
static size_t plate_at(const struct scene *s, const struct walk *w, double at, size_t k)
{
    size_t n = w->end - w->plate;

    while (k + 1 < n && at > (w->at[k] + w->at[k + 1]) / 2)
        k++;
    if (s->layout->rows[w->first].closed && k + 1 == n &&
        at > (w->at[k] + w->at[0] + w->length) / 2)
        return 0;
    return k;
}

/* Mean pull on its share of row, times that share. */
static void walk_measure(struct scene *s, const struct walk *w)
{
    double start = 0;
    size_t k = 0;
    size_t *counts = arena_array(s->arena, w->end - w->plate + 1, sizeof *counts);

    assert_non_null(counts);
    shares_find(s, w);
    for (size_t i = w->plate; i < w->end; i++)
        s->loads[i] = 0;
    for (size_t i = w->first; i < w->last; i++) {
        const struct row_piece *row = &s->layout->rows[i];
        double length = point_distance(row->from, row->to);
        int steps = (int)ceil(length / walk_step);

        for (int step = 0; step < steps; step++) {
            double t = (step + 0.5) / steps;
            struct point p = {row->from.x + t * (row->to.x - row->from.x),
                              row->from.y + t * (row->to.y - row->from.y)};

            k = plate_at(s, w, start + t * length, k);
            s->loads[w->plate + k] += pull_across(s, i, p);
            counts[k]++;
        }
        start += length;
    }
    for (size_t i = w->plate; i < w->end; i++)
        s->loads[i] *= s->shares[i] / fmax(1, (double)counts[i - w->plate]);
}

/* ---- By the nearest plate ---------------------------------------------------------- */

struct plate_grid {
    struct box box;
    size_t columns, lines;
    size_t *starts, *items;
};

static size_t cell_of(const struct plate_grid *grid, struct point p)
{
    double x = fmax(0, floor((p.x - grid->box.min_x) / cell));
    double y = fmax(0, floor((p.y - grid->box.min_y) / cell));

    return (size_t)fmin(y, (double)grid->lines - 1) * grid->columns +
           (size_t)fmin(x, (double)grid->columns - 1);
}

static struct plate_grid grid_of(const struct scene *s)
{
    struct plate_grid grid = {.box = region_box(&s->roof->outline)};
    size_t cells;

    grid.columns = (size_t)((grid.box.max_x - grid.box.min_x) / cell) + 1;
    grid.lines = (size_t)((grid.box.max_y - grid.box.min_y) / cell) + 1;
    cells = grid.columns * grid.lines;
    grid.starts = arena_array(s->arena, cells + 2, sizeof *grid.starts);
    grid.items = arena_array(s->arena, s->plate_count + 1, sizeof *grid.items);
    assert_non_null(grid.starts);
    assert_non_null(grid.items);
    for (size_t k = 0; k < s->plate_count; k++)
        grid.starts[cell_of(&grid, s->layout->plates[k].at) + 2]++;
    for (size_t c = 2; c < cells + 2; c++)
        grid.starts[c] += grid.starts[c - 1];
    for (size_t k = 0; k < s->plate_count; k++)
        grid.items[grid.starts[cell_of(&grid, s->layout->plates[k].at) + 1]++] = k;
    return grid;
}

/* The plate nearest to p; `guess` is one that isn't far. */
static size_t nearest_plate(const struct scene *s, const struct plate_grid *grid,
                            struct point p, size_t guess)
{
    const struct plate *plates = s->layout->plates;
    double least = point_distance(plates[guess].at, p);
    size_t low = cell_of(grid, (struct point){p.x - least, p.y - least});
    size_t high = cell_of(grid, (struct point){p.x + least, p.y + least});

    for (size_t y = low / grid->columns; y <= high / grid->columns; y++)
        for (size_t x = low % grid->columns; x <= high % grid->columns; x++) {
            size_t c = y * grid->columns + x;

            for (size_t i = grid->starts[c]; i < grid->starts[c + 1]; i++) {
                double d = point_distance(plates[grid->items[i]].at, p);

                if (d < least) {
                    least = d;
                    guess = grid->items[i];
                }
            }
        }
    return guess;
}

/* Adds the pull on samples in a box to the plates nearest to them, line by line. */
static void samples_add(struct scene *s, const struct plate_grid *grid, struct box box,
                        double step)
{
    struct line line;
    size_t plate = 0;

    for (double y = box.min_y + step / 2; y < box.max_y; y += step) {
        struct point from = {box.min_x + step / 2, y};
        double pressure = 0;
        size_t next = 0;

        line_cut(s, from, (struct point){1, 0}, &line);
        for (double x = 0; from.x + x < box.max_x; x += step) {
            while (next < line.count && line.at[next].t <= x)
                pressure += line.at[next++].step;
            if (!(pressure > 1e-6))
                continue;
            plate = nearest_plate(s, grid, (struct point){from.x + x, y}, plate);
            s->loads[plate] += pressure * step * step;
        }
    }
}

/* ---- What is wrong ----------------------------------------------------------------- */

static bool is_met(const struct scene *s, enum zone_role role)
{
    enum zone_state state = s->layout->states[role];

    return state == STATE_MET || state == STATE_MET_ASSUMED;
}

static bool is_over(const struct scene *s, size_t plate, double limit)
{
    return is_met(s, s->layout->plates[plate].zone) && s->loads[plate] > limit;
}

/* A stretch of row whose plates all carry more than they may. */
struct stretch {
    size_t from, to; /* plates */
    double length;   /* m */
    double over;     /* greatest load over what is allowed */
};

/* The next stretch from a plate on where each plate carries more than (1 + share) times
 * what it may. False: none. */
static bool stretch_next(const struct scene *s, size_t from, double share,
                         struct stretch *out)
{
    const struct plate *plates = s->layout->plates;
    double limit = s->allowable * (1 + share);

    while (from < s->plate_count && !is_over(s, from, limit))
        from++;
    *out = (struct stretch){from, from, 0, 0};
    while (out->to < s->plate_count && plates[out->to].of == plates[from].of &&
           is_over(s, out->to, limit)) {
        out->length += s->shares[out->to];
        out->over = fmax(out->over, s->loads[out->to] / s->allowable);
        out->to++;
    }
    return out->to > out->from;
}

/* Greatest excess along a length of row, a share; 0 for none. */
static double worst_by_rule(struct scene *s, struct stretch *worst)
{
    size_t plate = 0;

    *worst = (struct stretch){0, 0, 0, 0};
    for (size_t first = 0; first < s->layout->row_count;) {
        struct walk w = walk_of(s, first, plate);

        walk_measure(s, &w);
        first = w.last;
        plate = w.end;
    }
    for (struct stretch next = {0}; stretch_next(s, next.to, noise, &next);)
        if (next.length >= rule_length && next.over > worst->over)
            *worst = next;
    return worst->over > 0 ? worst->over - 1 : 0;
}

static struct box box_around(const struct scene *s, const struct stretch *stretch)
{
    const double reach = 4; /* m; half a sheet and more */
    struct box box = {INFINITY, INFINITY, -INFINITY, -INFINITY};

    for (size_t k = stretch->from; k < stretch->to; k++) {
        struct point p = s->layout->plates[k].at;

        box.min_x = fmin(box.min_x, p.x - reach);
        box.min_y = fmin(box.min_y, p.y - reach);
        box.max_x = fmax(box.max_x, p.x + reach);
        box.max_y = fmax(box.max_y, p.y + reach);
    }
    return box;
}

/* Again with finer samples: sums in the same array, of the stretch alone. */
static bool is_over_indeed(struct scene *s, const struct plate_grid *grid,
                           struct stretch *stretch)
{
    struct stretch fine;

    for (size_t k = 0; k < s->plate_count; k++)
        s->loads[k] = 0;
    samples_add(s, grid, box_around(s, stretch), fine_step);
    for (size_t at = stretch->from;
         stretch_next(s, at, nearest_share, &fine) && fine.from < stretch->to;
         at = fine.to)
        if (fine.length >= nearest_length) {
            *stretch = fine;
            return true;
        }
    return false;
}

static double worst_by_nearest(struct scene *s, struct stretch *worst)
{
    struct plate_grid grid = grid_of(s);
    double *coarse = arena_array(s->arena, s->plate_count + 1, sizeof *coarse);
    double *loads = s->loads;

    assert_non_null(coarse);
    *worst = (struct stretch){0, 0, 0, 0};
    for (size_t k = 0; k < s->plate_count; k++)
        s->loads[k] = 0;
    samples_add(s, &grid, grid.box, coarse_step);
    /* a plate's samples are some dozens: what the mean of three says is enough */
    for (size_t k = 0; k < s->plate_count; k++) {
        size_t from = k > 0 ? k - 1 : k;
        size_t to = k + 1 < s->plate_count ? k + 1 : k;

        for (size_t i = from; i <= to; i++)
            coarse[k] += s->loads[i] / (double)(to - from + 1);
    }
    memcpy(loads, coarse, s->plate_count * sizeof *loads);
    for (struct stretch next = {0}; stretch_next(s, next.to, 0, &next);) {
        struct stretch tried = next;

        if (next.length < nearest_length / 2)
            continue;
        if (is_over_indeed(s, &grid, &tried) && tried.over > worst->over)
            *worst = tried;
        memcpy(loads, coarse, s->plate_count * sizeof *loads);
    }
    return worst->over > 0 ? worst->over - 1 : 0;
}

/* ---- The test ---------------------------------------------------------------------- */

static int complain(const struct scene *s, uint64_t seed, int style, const char *how,
                    const struct stretch *worst)
{
    struct point p = s->layout->plates[worst->from].at;
    const struct row_piece *row = s->layout->rows;

    if (!(worst->over > 0))
        return 0;
    while (row->row != s->layout->plates[worst->from].of)
        row++;
    print_error("roof %d, %s, %s: %.1f %% over along %.2f m of %s in the %s, from "
                "(%.2f, %.2f) on\n",
                (int)seed, edge_style_name(style), how, 100 * (worst->over - 1),
                worst->length, row->base ? "base securement" : "a row",
                zone_role_name((int)s->layout->plates[worst->from].zone), p.x, p.y);
    return 1;
}

struct count {
    int laid, met, wrong;
};

static void roof_check(struct fixture *f, uint64_t seed, int style, struct count *count)
{
    struct chance chance = {seed * 1000003};
    struct region shape = outline_by_chance(f, &chance);
    struct pose pose = pose_by_chance(&chance);
    struct site site = site_empty(f);
    struct roof *roof = site_read(&site, put(f, &shape, &pose), NAN);
    struct settings settings;
    struct outlay_error err = {0};
    struct stretch worst;
    struct scene s;

    give_attributes(roof, &chance);
    roof->given.edge = EDGE_PARAPET; /* edge metal holds sheets without a plate */
    settings_make(&settings, &chance, style);
    site.building.roofs = site.roofs;
    if (stages_run(&site.building, &settings, true, f->ctx, &err) != OUTLAY_OK)
        fail_msg("roof %d: %s", (int)seed, err.what);
    if (roof->layout_count > 0 && roof->layouts[0].row_count > 0) {
        s = scene_of(f->arena, roof, &settings);
        count->laid++;
        for (size_t z = 0; z < roof->zone_count; z++)
            count->met += is_met(&s, roof->zones[z].role);
        (void)worst_by_rule(&s, &worst);
        count->wrong += complain(&s, seed, style, "by the rule", &worst);
        (void)worst_by_nearest(&s, &worst);
        count->wrong += complain(&s, seed, style, "by the nearest plate", &worst);
    }
    settings_release(&settings);
    arena_reset(f->arena);
}

static void no_fastener_carries_too_much(void **state)
{
    struct fixture *f = *state;
    struct count count = {0, 0, 0};

    for (uint64_t seed = 1; seed <= ROOFS; seed++)
        roof_check(f, seed, seed % 2 ? EDGES_LINES : EDGES_FRAMES, &count);
    print_message("%d layouts, %d zones met, %d wrong\n", count.laid, count.met,
                  count.wrong);
    assert_true(count.laid > ROOFS / 2);
    assert_true(count.met > ROOFS);
    assert_int_equal(count.wrong, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        geometry_test(no_fastener_carries_too_much),
    };

    return cmocka_run_group_tests_name("row loads", tests, NULL, NULL);
}
