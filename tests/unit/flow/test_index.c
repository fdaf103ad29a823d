/* What the index finds in a layer: buildings, duplicate ids, boxes that meet. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>

#include <cmocka.h>

#include "flow/index.h"

/* Adds a rectangle of degrees. */
static void add(struct roof_index *index, const char *id, const char *building,
                double west, double south, double east, double north)
{
    struct point points[] = {{west, south}, {east, south}, {east, north}, {west, north}};
    struct ring ring = {points, 4};
    struct polygon polygon = {&ring, 1};
    struct roof roof = {.id = id, .building = building, .lonlat = {&polygon, 1}};
    assert_int_equal(index_add(index, &roof, 100 * index->count, NULL), OUTLAY_OK);
}

static void add_empty(struct roof_index *index, const char *id, const char *building)
{
    struct roof roof = {.id = id, .building = building};
    assert_int_equal(index_add(index, &roof, 100 * index->count, NULL), OUTLAY_OK);
}

static void test_an_entry_is_small(void **state)
{
    (void)state;
    assert_true(sizeof(struct index_entry) <= 64);
}

static void test_buildings_are_chained_in_input_order(void **state)
{
    (void)state;
    static const char *const buildings[] = {"B", NULL, "A", "B", "A", NULL, "B"};
    static const uint32_t expected[] = {3,          INDEX_NONE, 4,         6,
                                        INDEX_NONE, INDEX_NONE, INDEX_NONE};
    static const bool starts[] = {true, true, true, false, false, true, false};
    struct roof_index index = {0};
    uint32_t *next;
    bool *first;
    for (size_t i = 0; i < 7; i++)
        add_empty(&index, "same", buildings[i]);
    assert_int_equal(index_buildings(&index, &next, &first, NULL), OUTLAY_OK);
    for (size_t i = 0; i < 7; i++) {
        assert_int_equal(next[i], expected[i]);
        assert_int_equal(first[i], starts[i]);
    }
    free(next);
    free(first);
    index_release(&index);
}

static void test_duplicates_come_in_input_order(void **state)
{
    (void)state;
    static const char *const ids[] = {"x", "b", "y", "a", "b", "a", "b"};
    static const struct duplicate expected[] = {{1, 3}, {3, 2}, {4, 3}, {5, 2}, {6, 3}};
    struct roof_index index = {0};
    struct duplicate *found;
    size_t count;
    for (size_t i = 0; i < 7; i++)
        add_empty(&index, ids[i], NULL);
    assert_int_equal(index_duplicates(&index, &found, &count, NULL), OUTLAY_OK);
    assert_int_equal(count, 5);
    for (size_t i = 0; i < count; i++) {
        assert_int_equal(found[i].position, expected[i].position);
        assert_int_equal(found[i].uses, expected[i].uses);
    }
    free(found);
    index_release(&index);
}

static void test_nothing_is_found_in_nothing(void **state)
{
    (void)state;
    struct roof_index index = {0};
    struct duplicate *duplicates;
    struct roof_pair *pairs;
    size_t count;
    bool complete;
    assert_int_equal(index_duplicates(&index, &duplicates, &count, NULL), OUTLAY_OK);
    assert_null(duplicates);
    assert_int_equal(count, 0);
    assert_int_equal(index_box_pairs(&index, 10, &pairs, &count, &complete, NULL),
                     OUTLAY_OK);
    assert_null(pairs);
    assert_int_equal(count, 0);
    assert_true(complete);
}

/* Degrees of about 11 m: neighbours that touch aren't a pair, those that share half are,
 * an outline without points meets nothing. */
static void test_boxes_that_share_more_than_a_seam(void **state)
{
    (void)state;
    struct roof_index index = {0};
    struct roof_pair *pairs;
    size_t count;
    bool complete;
    add(&index, "0", NULL, -75.0002, 40, -75.0001, 40.0001);
    add(&index, "1", NULL, -75.0001, 40, -75.0000, 40.0001);   /* touches 0 */
    add(&index, "2", NULL, -75.00015, 40, -75.00005, 40.0001); /* half of both */
    add_empty(&index, "3", NULL);
    add(&index, "4", NULL, -75.0002, 40.0001, -75.0001, 40.0002);     /* touches 0 */
    add(&index, "5", NULL, -75.00018, 40.00015, -75.00016, 40.00016); /* within 4 */
    add(&index, "6", NULL, 10, 50, 10.001, 50.001);
    assert_int_equal(index_box_pairs(&index, 10, &pairs, &count, &complete, NULL),
                     OUTLAY_OK);
    assert_true(complete);
    assert_int_equal(count, 3);
    assert_int_equal(pairs[0].a, 0);
    assert_int_equal(pairs[0].b, 2);
    assert_int_equal(pairs[1].a, 1);
    assert_int_equal(pairs[1].b, 2);
    assert_int_equal(pairs[2].a, 4);
    assert_int_equal(pairs[2].b, 5);
    free(pairs);

    assert_int_equal(index_box_pairs(&index, 2, &pairs, &count, &complete, NULL),
                     OUTLAY_OK);
    assert_false(complete);
    assert_int_equal(count, 2);
    free(pairs);
    index_release(&index);
}

/* An outline across the antimeridian doesn't span the world. */
static void test_the_antimeridian(void **state)
{
    (void)state;
    struct roof_index index = {0};
    struct roof_pair *pairs;
    size_t count;
    bool complete;
    struct point points[] = {
        {179.9999, -17}, {-179.9999, -17}, {-179.9999, -16.9999}, {179.9999, -16.9999}};
    struct ring ring = {points, 4};
    struct polygon polygon = {&ring, 1};
    struct roof roof = {.id = "0", .lonlat = {&polygon, 1}};
    assert_int_equal(index_add(&index, &roof, 0, NULL), OUTLAY_OK);
    add(&index, "1", NULL, 0, -17, 0.001, -16.9999);
    add(&index, "2", NULL, 179.9998, -17, 179.99995, -16.9999); /* meets 0 */
    assert_int_equal(index_box_pairs(&index, 10, &pairs, &count, &complete, NULL),
                     OUTLAY_OK);
    assert_int_equal(count, 1);
    assert_int_equal(pairs[0].a, 0);
    assert_int_equal(pairs[0].b, 2);
    free(pairs);
    index_release(&index);
}

/* Along a curve that fills the plane all four neighbours of a square come one after the
 * other, and no place twice. */
static void test_the_order_of_place_keeps_neighbours_together(void **state)
{
    enum { SIDE = 8 };
    struct roof_index index = {0};
    uint32_t *order;
    (void)state;
    for (int i = 0; i < SIDE * SIDE; i++) {
        int at = i * 37 % (SIDE * SIDE); /* the input's order is another one */
        double x = at % SIDE, y = at / SIDE;
        add(&index, "", NULL, x, y, x + 0.5, y + 0.5);
    }
    assert_int_equal(index_by_place(&index, &order, NULL), OUTLAY_OK);
    for (int i = 1; i < SIDE * SIDE; i++) {
        int a = (int)order[i - 1] * 37 % (SIDE * SIDE);
        int b = (int)order[i] * 37 % (SIDE * SIDE);
        assert_int_equal(abs(a % SIDE - b % SIDE) + abs(a / SIDE - b / SIDE), 1);
    }
    free(order);
    index_release(&index);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_an_entry_is_small),
        cmocka_unit_test(test_buildings_are_chained_in_input_order),
        cmocka_unit_test(test_duplicates_come_in_input_order),
        cmocka_unit_test(test_nothing_is_found_in_nothing),
        cmocka_unit_test(test_boxes_that_share_more_than_a_seam),
        cmocka_unit_test(test_the_antimeridian),
        cmocka_unit_test(test_the_order_of_place_keeps_neighbours_together),
    };
    return cmocka_run_group_tests_name("flow/index", tests, NULL, NULL);
}
