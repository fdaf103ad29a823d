/* A roof with a layout made by hand, for the tests of order/. */

#ifndef OUTLAY_TEST_ORDER_BILL_SITE_H
#define OUTLAY_TEST_ORDER_BILL_SITE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/units.h"
#include "order/order.h"
#include "roof/basis.h"
#include "roof/edges.h"
#include "roof/fixtures.h"

#define FT M_PER_FT
#define FT2 M2_PER_FT2

struct site {
    struct catalog catalog;
    struct item_list items;
    struct detail_list details;
    struct order_settings settings;
    struct roof roof;
    struct layout layout;
    struct sheet sheets[64];
    struct row_piece rows[64];
    struct board boards[256];
    struct point hole[4];
    struct point shell[4];
    struct ring rings[2];
    struct polygon polygon;
    struct edge_sum sums[4];
};

static inline void square(struct point *points, double length, double width)
{
    points[0] = (struct point){0, 0};
    points[1] = (struct point){length, 0};
    points[2] = (struct point){length, width};
    points[3] = (struct point){0, width};
}

static inline int set_up(void **state)
{
    struct site *site = calloc(1, sizeof *site);
    struct outlay_error err = {0};

    assert_non_null(site);
    assert_int_equal(catalog_builtin(&site->catalog, &err), OUTLAY_OK);
    assert_int_equal(items_load(site->catalog.arena, NULL, &site->items, &err),
                     OUTLAY_OK);
    assert_int_equal(details_load(site->catalog.arena, NULL, &site->details, &err),
                     OUTLAY_OK);
    site->settings = order_defaults();
    site->settings.details = &site->details;
    site->settings.items = &site->items;
    site->roof.given = attributes_missing();
    site->roof.height = 5;
    site->roof.zoned = true;
    site->layout.sheets = site->sheets;
    site->layout.rows = site->rows;
    site->layout.boards = site->boards;
    site->layout.method = site->catalog.assemblies[0].method;
    site->layout.made_of = &site->catalog.assemblies[0];
    *state = site;
    return 0;
}

static inline int tear_down(void **state)
{
    struct site *site = *state;

    catalog_release(&site->catalog);
    free(site);
    return 0;
}

static inline struct bill count(struct site *site)
{
    struct outlay_error err = {0};
    struct basis_settings basis = basis_defaults();
    struct building building = {.roofs = &site->roof, .roof_count = 1};
    struct bill bill;

    basis_run(&building, &basis);
    assert_int_equal(order_bill(site->catalog.arena, &site->roof, &site->layout,
                                &site->settings, true, &bill, &err),
                     OUTLAY_OK);
    return bill;
}

static inline const struct bill_item *find(const struct bill *bill, enum item_use use)
{
    for (size_t i = 0; i < bill->count; i++)
        if (bill->items[i].use == use)
            return &bill->items[i];
    return NULL;
}

static inline const struct bill_item *need(const struct bill *bill, enum item_use use)
{
    const struct bill_item *found = find(bill, use);

    assert_non_null(found);
    return found;
}

static inline void near(double value, double expected)
{
    assert_true(fabs(value - expected) <= 1e-6 * fmax(1, fabs(expected)));
}

static inline size_t index_of(const struct bill *bill, enum item_use use)
{
    return (size_t)(need(bill, use) - bill->items);
}

static inline void edges(struct site *site, enum edge_kind kind, double length,
                         double height)
{
    site->sums[0] = (struct edge_sum){
        .kind = kind, .length = length, .height = height, .thickness = NAN};
    site->roof.edge_sums = site->sums;
    site->roof.edge_sum_count = 1;
}

/* 100 x 95.5 ft, ten full sheets of 10 ft: 9.5 ft apart the last ends at 9 x 9.5 + 10 =
 * 95.5 ft. Nine laps of 6 in. Nine rows of 100 fasteners. */
static inline void rectangle(struct site *site)
{
    square(site->shell, 100 * FT, 95.5 * FT);
    site->rings[0] = (struct ring){site->shell, 4};
    site->polygon = (struct polygon){site->rings, 1};
    site->roof.outline = (struct region){&site->polygon, 1};
    site->roof.area = 9550 * FT2;
    edges(site, EDGE_METAL, 391 * FT, NAN);
    site->roof.given.stack = 2 * M_PER_IN;
    for (size_t i = 0; i < 10; i++)
        site->sheets[i] = (struct sheet){
            .kind = SHEET_FULL, .width = 10 * FT, .length = 100 * FT, .area = 1000 * FT2};
    site->layout.sheet_count = 10;
    for (size_t i = 0; i < 9; i++)
        site->rows[i] = (struct row_piece){.row = i, .fasteners = 100};
    site->layout.row_count = 9;
    site->layout.side_lap = 900 * FT;
}

#endif
