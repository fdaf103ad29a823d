/* Layouts counted by hand. */

#include "seam_bench.h"

static void near_to(double value, double expected, int line)
{
    if (!(fabs(value - expected) <= 1e-6 * fmax(1, fabs(expected)))) {
        print_error("%.12g isn't %.12g\n", value, expected);
        _fail(__FILE__, line);
    }
}

#define near(value, expected) near_to(value, expected, __LINE__)

/* Corners of a rectangle given in ft. */
static struct ring rectangle(struct point points[4], double x0, double y0, double x1,
                             double y1)
{
    points[0] = (struct point){x0 * FT, y0 * FT};
    points[1] = (struct point){x1 * FT, y0 * FT};
    points[2] = (struct point){x1 * FT, y1 * FT};
    points[3] = (struct point){x0 * FT, y1 * FT};
    return (struct ring){points, 4};
}

/* A rectangle that is field throughout, screws 12 in apart. */
static void plain_init(struct seam_bench *b, struct point points[4], double length,
                       double width)
{
    seam_bench_init(b, rectangle(points, 0, 0, length, width), NULL);
    seam_zone(b, ZONE_FIELD, b->roof.outline, 9.5, 12);
}

/* 100 x 47.5 ft: five sheets of 9.5 ft, so four rows of 100 ft, each with
 * ceil((100 - 2 x 0.5) / 1) + 1 = 100 screws; base securement 295 ft round, 295 screws.
 * Each lap adds 0.5 x 100 ft2 to the 4750 of the roof. */
static void full_sheets(void **state)
{
    struct seam_bench b;
    struct point points[4];

    (void)state;
    plain_init(&b, points, 100, 47.5);
    seam_bench_run(&b);
    assert_int_equal(screws(&b, false, -1), 400);
    assert_int_equal(screws(&b, true, -1), 295);
    assert_int_equal(b.layout.plate_count, 695);
    assert_int_equal(sheets_of(&b, SHEET_FULL), 5);
    assert_int_equal(sheets_of(&b, SHEET_HALF), 0);
    near(sheet_area(&b) / FT2, 4750 + 4 * 50);
    near(b.layout.side_lap / FT, 400);
    near(b.layout.end_lap, 0);
    near(b.layout.base_length / FT, 295);
    near(b.layout.bearing, 0);
    seam_bench_release(&b);
}

/* 100 x 47 ft, one half sheet along each long edge: 4.5 + 4 x 9.5 + 4.5. Five rows. */
static void lines_with_half_sheets(void **state)
{
    struct seam_bench b;
    struct point points[4];

    (void)state;
    plain_init(&b, points, 100, 47);
    b.roof.half_sheets = 1;
    seam_bench_run(&b);
    assert_int_equal(screws(&b, false, -1), 500);
    assert_int_equal(sheets_of(&b, SHEET_FULL), 4);
    assert_int_equal(sheets_of(&b, SHEET_HALF), 2);
    assert_false(b.layout.met_in_middle);
    seam_bench_release(&b);
}

/* An L of 100 x 23.5 ft with an arm of 40 x 32.5 ft, sheets along the 100: half sheets at
 * 0, under the ledge at 23.5 and at 56 ft; between them 9.5 + 5 and 9.5 + 9.5 + 9. Rows
 * at 4.5, 14 or 9.5 and 19 ft are 100 long, those at 23.5, two more and 51.5 are 40. */
static void half_sheets_along_a_ledge(void **state)
{
    struct point points[] = {{0, 0},
                             {100 * FT, 0},
                             {100 * FT, 23.5 * FT},
                             {40 * FT, 23.5 * FT},
                             {40 * FT, 56 * FT},
                             {0, 56 * FT}};
    struct seam_bench b;
    int longer = 0;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 6}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.given.deck_bearing = 0;
    b.roof.half_sheets = 1;
    seam_bench_run(&b);
    assert_int_equal(sheets_of(&b, SHEET_HALF), 3);
    assert_int_equal(sheets_of(&b, SHEET_FULL), 5);
    near(b.layout.side_lap / FT, 3 * 100 + 4 * 40);
    assert_int_equal(screws(&b, false, -1), 3 * 100 + 4 * 40);
    /* no sheet of the arm runs on under the ledge, but for a lap */
    for (size_t k = 0; k < b.layout.sheet_count; k++)
        longer += b.layout.sheets[k].length > 40.5 * FT + 1e-6;
    assert_int_equal(longer, 4);
    seam_bench_release(&b);
}

/* 100 x 47 ft in frames: a ring of 91 x 38 ft, 258 screws; inside, four sheets of 9.5 ft:
 * three rows of 91 ft with ceil(90) + 1 = 91 screws. Four half sheets round it. Strip
 * 4.75 ft wide (half a lap inward), 4700 - 90.5 x 37.5 ft2; inside, 91.5 x 38.5 ft2 and
 * three laps. At each corner the sheets lap 0.25 ft along the mitre, 4.75 sqrt 2 ft long;
 * of this band two triangles of 0.125 ft lie outside. Where the four mitres and both ends
 * of the three rows meet the ring, three sheets lie on one another. */
static void frame_round_a_rectangle(void **state)
{
    struct seam_bench b;
    struct point points[4];

    (void)state;
    plain_init(&b, points, 100, 47);
    b.roof.half_sheets = 1;
    b.settings.style = EDGES_FRAMES;
    seam_bench_run(&b);
    assert_int_equal(screws(&b, false, -1), 258 + 3 * 91);
    assert_int_equal(sheets_of(&b, SHEET_FULL), 4);
    assert_int_equal(sheets_of(&b, SHEET_HALF), 4);
    near(b.layout.side_lap / FT, 258 + 3 * 91);
    near(sheet_area(&b) / FT2, 4700 - 90.5 * 37.5 + 91.5 * 38.5 + 3 * 0.5 * 91.5 +
                                   4 * (4.75 * sqrt(2) * 0.25 - 2 * 0.125 * 0.125));
    near(b.layout.end_lap / FT, 4 * 4.75 * sqrt(2));
    assert_int_equal(b.layout.t_joints, 4 + 3 * 2);
    /* as long as the edges, for it is cut from the roll with both tips */
    for (size_t k = 0; k < b.layout.sheet_count; k++)
        if (b.layout.sheets[k].kind == SHEET_HALF)
            assert_true(fabs(b.layout.sheets[k].length - 100 * FT) < 1e-6 ||
                        fabs(b.layout.sheets[k].length - 47 * FT) < 1e-6);
    seam_bench_release(&b);
}

/* Along the sheet's own direction no half sheet is wider than its roll and none covers
 * less than it is given to be long: a triangle with corners of 25 degrees. */
static void acute_corners(void **state)
{
    struct point points[] = {{0, 0}, {60, 0}, {30, 14}};
    struct seam_bench b;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 3}, NULL);
    seam_zone(&b, ZONE_PERIMETER, b.roof.outline, 4.5, 12);
    b.roof.half_sheets = 2;
    b.settings.style = EDGES_FRAMES;
    seam_bench_run(&b);
    assert_true(sheets_of(&b, SHEET_HALF) >= 6);
    for (size_t k = 0; k < b.layout.sheet_count; k++)
        assert_true(sheet_fits(&b.layout, &b.layout.sheets[k]));
    seam_bench_release(&b);
}

/* A hall of 30 x 20 m with an arm 2.5 m wide and 10 m long: half sheets from both sides
 * of the arm would meet (2 x 4.5 ft = 2.74 m), so the frame passes below it, and one
 * sheet covers it. */
static void narrow_arm(void **state)
{
    struct point points[] = {{0, 0},   {30, 0},    {30, 20},   {20, 20},
                             {20, 30}, {17.5, 30}, {17.5, 20}, {0, 20}};
    struct seam_bench b;
    double doubled = 0;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 8}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.half_sheets = 1;
    b.settings.style = EDGES_FRAMES;
    seam_bench_run(&b);
    assert_true(b.layout.met_in_middle);
    assert_int_equal(b.layout.half_sheets, 1);
    assert_true(fabs(b.layout.narrow_area - 2.5 * 10) < 0.05);
    assert_int_equal(sheets_of(&b, SHEET_HALF), 4);
    for (size_t k = 0; k < b.layout.sheet_count; k++) {
        struct box box = region_box(&b.layout.sheets[k].region);

        if (box.max_y < 20.5)
            continue;
        assert_int_equal(b.layout.sheets[k].kind, SHEET_FULL);
        assert_true(fabs(b.layout.sheets[k].length - 10 - b.assembly.lap / 2) < 0.02);
        doubled++;
    }
    assert_true(doubled == 1);
    seam_bench_release(&b);
}

/* A row of 40 ft, 6 in apart over the first 10 ft, then 12 in. From 0.5 to 10 ft 19
 * steps, so 20 screws, the one on the zone line included; from 10 to 39.5 ft 30 more. */
static void spacing_changes_with_the_zone(void **state)
{
    struct seam_bench b;
    struct point points[3][4];
    struct ring rings[2];
    struct polygon polygons[2];

    (void)state;
    seam_bench_init(&b, rectangle(points[0], 0, 0, 40, 19), NULL);
    rings[0] = rectangle(points[1], 0, 0, 10, 19);
    rings[1] = rectangle(points[2], 10, 0, 40, 19);
    for (int k = 0; k < 2; k++)
        polygons[k] = (struct polygon){&rings[k], 1};
    seam_zone(&b, ZONE_PERIMETER, (struct region){&polygons[0], 1}, 9.5, 6);
    seam_zone(&b, ZONE_FIELD, (struct region){&polygons[1], 1}, 9.5, 12);
    b.roof.given.deck_bearing = 0; /* ribs run north: sheets run east */
    seam_bench_run(&b);
    assert_int_equal(screws(&b, false, ZONE_PERIMETER), 20);
    assert_int_equal(screws(&b, false, ZONE_FIELD), 30);
    assert_string_equal(b.layout.bearing_reason, "across the ribs");
    seam_bench_release(&b);
}

/* Plates of a row never lie on each other, wherever the zone line falls: neither the last
 * but one before it, nor the first and the last of the row. As many as without moving. */
static void plates_of_a_row_keep_apart(void **state)
{
    static const struct {
        double line, length; /* ft */
        int screws;
    } cases[] = {
        {10.02, 40, 21 + 30}, /* 10.00 and 10.02 ft */
        {10, 40.51, 20 + 31}, /* 40.00 and 40.01 ft */
        {0.51, 40, 2 + 39},   /* 0.50 and 0.51 ft */
        {39.49, 40, 79 + 1},  /* 39.49 and 39.50 ft */
        {0.3, 1.01, 2},       /* 0.50 and 0.51 ft */
    };

    (void)state;
    for (size_t c = 0; c < sizeof cases / sizeof *cases; c++) {
        struct seam_bench b;
        struct point points[3][4];
        struct ring rings[2];
        struct polygon polygons[2];
        double nearest = INFINITY;
        double farthest = 0;

        seam_bench_init(&b, rectangle(points[0], 0, 0, cases[c].length, 19), NULL);
        rings[0] = rectangle(points[1], 0, 0, cases[c].line, 19);
        rings[1] = rectangle(points[2], cases[c].line, 0, cases[c].length, 19);
        for (int k = 0; k < 2; k++)
            polygons[k] = (struct polygon){&rings[k], 1};
        seam_zone(&b, ZONE_PERIMETER, (struct region){&polygons[0], 1}, 9.5, 6);
        seam_zone(&b, ZONE_FIELD, (struct region){&polygons[1], 1}, 9.5, 12);
        b.roof.given.deck_bearing = 0; /* ribs run north: sheets run east */
        seam_bench_run(&b);
        for (size_t k = 1; k < b.layout.plate_count; k++) {
            struct plate p = b.layout.plates[k - 1];
            struct plate q = b.layout.plates[k];

            if (p.of != q.of || p.at.y < 1 || p.at.y > 18 * FT)
                continue; /* base securement */
            nearest = fmin(nearest, point_distance(p.at, q.at));
            farthest = fmax(farthest, point_distance(p.at, q.at));
        }
        assert_true(nearest > 3 * M_PER_IN - 1e-6);
        assert_true(farthest < 12 * M_PER_IN + 1e-6);
        assert_int_equal(screws(&b, false, -1), cases[c].screws);
        seam_bench_release(&b);
    }
}

/* The same roof where the first 10 ft need half rows: one more row in each of the two
 * sheets, which runs on by their distance of 4.75 ft: ceil(14.75 - 1) + 1 = 15 screws
 * each, under cover strips 1 ft wide. */
static void rows_between_seams(void **state)
{
    struct seam_bench b;
    struct point points[3][4];
    struct ring rings[2];
    struct polygon polygons[2];
    double strips = 0;

    (void)state;
    seam_bench_init(&b, rectangle(points[0], 0, 0, 40, 19), NULL);
    rings[0] = rectangle(points[1], 0, 0, 10, 19);
    rings[1] = rectangle(points[2], 10, 0, 40, 19);
    for (int k = 0; k < 2; k++)
        polygons[k] = (struct polygon){&rings[k], 1};
    seam_zone(&b, ZONE_PERIMETER, (struct region){&polygons[0], 1}, 4.5, 12);
    seam_zone(&b, ZONE_FIELD, (struct region){&polygons[1], 1}, 9.5, 12);
    b.roof.given.deck_bearing = 0;
    seam_bench_run(&b);
    assert_int_equal(sheets_of(&b, SHEET_COVER_STRIP), 2);
    assert_int_equal(screws(&b, false, -1), 40 + 2 * 15);
    for (size_t k = 0; k < b.layout.sheet_count; k++)
        if (b.layout.sheets[k].kind == SHEET_COVER_STRIP)
            strips += b.layout.sheets[k].area;
    near(strips / FT2, 2 * 14.75);
    seam_bench_release(&b);
}

/* One row in the middle of 40 x 19 ft carries 9.5 ft: at 20 psf 190 lbf a screw, of 285
 * allowed (60 psf x 9.5 ft2 / 2). At 31 psf 294.5 lbf would be too much, so the screws
 * come 6 in apart and carry half; at 61 psf even they carry 289.75: not met, also where
 * it isn't known what else acts. */
static void load_decides_again(void **state)
{
    const double pressures[] = {20, 31, 61, 61};
    const double loads[] = {190, 147.25, 289.75, 289.75};
    /* 40 ft less 6 in at each end: 39 steps of 12 in or 78 of 6 in, and one */
    const size_t screws[] = {40, 79, 79, 79};
    const enum zone_state before[] = {STATE_MET, STATE_UNKNOWN, STATE_UNKNOWN,
                                      STATE_MET_ASSUMED};
    const enum zone_state after[] = {STATE_MET, STATE_UNKNOWN, STATE_NOT_MET,
                                     STATE_NOT_MET};

    (void)state;
    for (int k = 0; k < 4; k++) {
        struct seam_bench b;
        struct point points[4];
        const struct row_piece *row = NULL;

        plain_init(&b, points, 40, 19);
        b.roof.zones[0].uplift.known = true;
        b.roof.zones[0].uplift.allowable = pressures[k] * PA_PER_PSF;
        b.layout.states[ZONE_FIELD] = before[k];
        seam_bench_run(&b);
        row = &b.layout.rows[b.layout.row_count - 1];
        assert_false(row->base);
        near(row->tributary / FT, 9.5);
        near(row->load / N_PER_LBF, loads[k]);
        assert_int_equal(row->fasteners, screws[k]);
        assert_int_equal(b.layout.states[ZONE_FIELD], after[k]);
        if (after[k] == STATE_NOT_MET)
            assert_non_null(strstr(b.layout.reasons[ZONE_FIELD], "285 lbf"));
        seam_bench_release(&b);
    }
}

/* Half sheets need 9 ft and 0.5 m between them: 8 ft and even 2 ft are laid without. */
static void narrow_roofs(void **state)
{
    const double widths[] = {2, 8, 9.4};

    (void)state;
    for (int k = 0; k < 6; k++) {
        struct seam_bench b;
        struct point points[4];

        plain_init(&b, points, 30, widths[k % 3]);
        b.roof.half_sheets = 1;
        b.settings.style = k < 3 ? EDGES_LINES : EDGES_FRAMES;
        seam_bench_run(&b);
        assert_true(b.layout.met_in_middle);
        assert_int_equal(b.layout.sheet_count, 1);
        near(sheet_area(&b) / FT2, 30 * widths[k % 3]);
        assert_int_equal(screws(&b, false, -1), 0);
        seam_bench_release(&b);
    }
}

/* A round roof of 200 vertices, 30 m across: frames follow it with straight half sheets,
 * as long as leave no more than 0.3 m beside them; none is bent and nothing is bare. */
static void round_roof(void **state)
{
    struct point points[200];
    const double pi = acos(-1);

    (void)state;
    for (int k = 0; k < 200; k++)
        points[k] = (struct point){15 * cos(k * pi / 100), 15 * sin(k * pi / 100)};
    for (int style = EDGES_FRAMES; style <= EDGES_LINES; style++) {
        struct seam_bench b;
        int longer = 0;

        seam_bench_init(&b, (struct ring){points, 200}, NULL);
        seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
        b.roof.half_sheets = 1;
        b.settings.style = (enum edge_style)style;
        seam_bench_run(&b);
        assert_true(sheet_area(&b) >
                    ring_area(b.rings[0]) + 0.5 * b.layout.side_lap * b.assembly.lap);
        for (size_t k = 0; k < b.layout.sheet_count; k++) {
            const struct sheet *sheet = &b.layout.sheets[k];

            assert_true(sheet_fits(&b.layout, sheet));
            longer += sheet->kind == SHEET_HALF && sheet->length > 6;
        }
        if (style == EDGES_FRAMES) /* the odd one inside the frame */
            assert_true(longer <= 1 && sheets_of(&b, SHEET_HALF) > 15);
        seam_bench_release(&b);
    }
}

/* Notches of 1 x 1 m, smaller than a sheet, in the middle of both long edges: sheets run
 * past them, the row beside one stops there, and no sheet is narrower than 0.5 m. */
static void small_notches(void **state)
{
    struct point points[] = {{0, 0},   {15, 0},  {15, 1},  {16, 1},  {16, 0},  {30, 0},
                             {30, 20}, {16, 20}, {16, 19}, {15, 19}, {15, 20}, {0, 20}};

    (void)state;
    for (int style = EDGES_FRAMES; style <= EDGES_LINES; style++) {
        struct seam_bench b;

        seam_bench_init(&b, (struct ring){points, 12}, NULL);
        seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
        b.roof.half_sheets = 1;
        b.settings.style = (enum edge_style)style;
        seam_bench_run(&b);
        assert_true(sheet_area(&b) > 600 - 2);
        assert_false(b.layout.met_in_middle);
        for (size_t k = 0; k < b.layout.sheet_count; k++) {
            assert_true(sheet_fits(&b.layout, &b.layout.sheets[k]));
            assert_true(b.layout.sheets[k].area / b.layout.sheets[k].length > SLIVER);
        }
        seam_bench_release(&b);
    }
}

/* 48.5 ft is five sheets and 1 ft: instead of a sliver a half sheet of 4.5 ft and one
 * sheet cut to 6 ft. */
static void no_slivers(void **state)
{
    struct seam_bench b;
    struct point points[4];

    (void)state;
    plain_init(&b, points, 100, 48.5);
    b.roof.given.deck_bearing = 0;
    seam_bench_run(&b);
    assert_int_equal(sheets_of(&b, SHEET_FULL), 5);
    assert_int_equal(sheets_of(&b, SHEET_HALF), 1);
    assert_int_equal(screws(&b, false, -1), 500);
    for (size_t k = 0; k < b.layout.sheet_count; k++)
        assert_true(b.layout.sheets[k].area / b.layout.sheets[k].length > SLIVER);
    seam_bench_release(&b);
}

/* An L whose arm ends 0.2 ft beyond the seam at 19 ft: along that edge the base
 * securement holds the sheet, so the row stops where the arm begins, at 50 ft. */
static void no_row_beside_an_edge(void **state)
{
    struct point points[] = {{0, 0},
                             {100 * FT, 0},
                             {100 * FT, 19.2 * FT},
                             {50 * FT, 19.2 * FT},
                             {50 * FT, 47.5 * FT},
                             {0, 47.5 * FT}};
    struct seam_bench b;
    int found = 0;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 6}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.given.deck_bearing = 0;
    seam_bench_run(&b);
    for (size_t k = 0; k < b.layout.row_count; k++) {
        const struct row_piece *row = &b.layout.rows[k];

        if (row->base || fabs(row->from.y - 19 * FT) > 1e-6)
            continue;
        near(fmax(row->from.x, row->to.x) / FT, 50);
        found++;
    }
    assert_int_equal(found, 1);
    seam_bench_release(&b);
}

/* A ledge that leaves the seam at 19 ft by 1 in 20: the row begins where it is 0.15 m
 * away, which is neither an end nor the middle of the ledge. */
static void row_leaves_a_slanting_edge(void **state)
{
    struct point points[] = {{0, 0}, {100 * FT, 0}, {100 * FT, 24 * FT}, {0, 19 * FT}};
    struct seam_bench b;
    int found = 0;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 4}, NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.given.deck_bearing = 0;
    seam_bench_run(&b);
    for (size_t k = 0; k < b.layout.row_count; k++) {
        const struct row_piece *row = &b.layout.rows[k];
        double off;

        if (row->base || row->from.y < 19 * FT)
            continue;
        /* the ledge at that place, square to it */
        off = (19 * FT + 0.05 * fmin(row->from.x, row->to.x) - row->from.y) /
              sqrt(1 + 0.05 * 0.05);
        near(off, ROW_APART);
        found++;
    }
    assert_int_equal(found, 1);
    seam_bench_release(&b);
}

/* Cover strips end at the edge of the roof, slanting as it may be. */
static void strips_stay_inside(void **state)
{
    struct point points[] = {{0, 0}, {30, 0}, {20, 9 * FT}, {5, 9 * FT}};
    struct seam_bench b;
    double area = 0;

    (void)state;
    seam_bench_init(&b, (struct ring){points, 4}, NULL);
    seam_zone(&b, ZONE_PERIMETER, b.roof.outline, 4.5, 12);
    b.roof.given.deck_bearing = 0;
    seam_bench_run(&b);
    assert_int_equal(sheets_of(&b, SHEET_COVER_STRIP), 1);
    for (size_t k = 0; k < b.layout.sheet_count; k++) {
        const struct sheet *strip = &b.layout.sheets[k];

        if (strip->kind != SHEET_COVER_STRIP)
            continue;
        area = strip->area;
        for (size_t i = 0; i < strip->region.polygons[0].rings[0].count; i++) {
            struct point p = strip->region.polygons[0].rings[0].points[i];

            assert_true(p.x >= p.y * 5 / (9 * FT) - 1e-6);
            assert_true(p.x <= 30 - p.y * 10 / (9 * FT) + 1e-6);
        }
        assert_true(area < strip->length * STRIP_WIDTH - 0.01);
        near(region_area(&strip->region), area);
    }
    assert_true(area > 0);
    seam_bench_release(&b);
}

/* Two sections of one level, 40 ft and 60 ft of 100 x 47.5: base securement of the first
 * runs 40 + 47.5 + 40 ft round, but not along the line between them. */
static void shared_edges(void **state)
{
    struct seam_bench b;
    struct point points[4];

    (void)state;
    seam_bench_init(&b, rectangle(points, 0, 0, 40, 47.5), NULL);
    seam_zone(&b, ZONE_FIELD, b.roof.outline, 9.5, 12);
    b.roof.given.deck_bearing = 0;
    b.roof.edges[1].kind = EDGE_CONTINUOUS;
    seam_bench_run(&b);
    near(b.layout.base_length / FT, 40 + 47.5 + 40);
    /* an open row: from 6 in on, 126.5 steps */
    assert_int_equal(screws(&b, true, -1), 128);
    seam_bench_release(&b);
}

/* A spacing that doesn't fit the ribs is missing: counted as dense as may be, 6 in:
 * ceil((40 - 1) / 0.5) + 1 = 79. */
static void missing_spacing(void **state)
{
    struct seam_bench b;
    struct point points[4];

    (void)state;
    plain_init(&b, points, 40, 19);
    b.roof.zones[0].attachment.fastener_spacing = NAN;
    b.layout.states[ZONE_FIELD] = STATE_NOT_MET;
    seam_bench_run(&b);
    assert_int_equal(screws(&b, false, -1), 79);
    assert_int_equal(b.layout.states[ZONE_FIELD], STATE_NOT_MET);
    seam_bench_release(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(full_sheets),
        cmocka_unit_test(lines_with_half_sheets),
        cmocka_unit_test(half_sheets_along_a_ledge),
        cmocka_unit_test(frame_round_a_rectangle),
        cmocka_unit_test(acute_corners),
        cmocka_unit_test(narrow_arm),
        cmocka_unit_test(spacing_changes_with_the_zone),
        cmocka_unit_test(plates_of_a_row_keep_apart),
        cmocka_unit_test(rows_between_seams),
        cmocka_unit_test(load_decides_again),
        cmocka_unit_test(narrow_roofs),
        cmocka_unit_test(round_roof),
        cmocka_unit_test(small_notches),
        cmocka_unit_test(no_slivers),
        cmocka_unit_test(no_row_beside_an_edge),
        cmocka_unit_test(row_leaves_a_slanting_edge),
        cmocka_unit_test(strips_stay_inside),
        cmocka_unit_test(shared_edges),
        cmocka_unit_test(missing_spacing),
    };

    return cmocka_run_group_tests_name("takeoff/seam", tests, NULL, NULL);
}
