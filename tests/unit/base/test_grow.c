/* Arrays that grow. */

#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/grow.h"

enum { MANY = 1000 };

static void keeps_its_items(void **state)
{
    struct arena *arena = arena_new();
    size_t room_in = 0;
    size_t room = 0;
    int *in_arena = NULL;
    int *on_heap = NULL;

    (void)state;
    for (size_t n = 0; n < MANY; n++) {
        int *moved_in = grow_in(arena, in_arena, n, 1, &room_in, sizeof *in_arena);
        int *moved = grow(on_heap, n, 1, &room, sizeof *on_heap);

        assert_non_null(moved_in);
        assert_non_null(moved);
        in_arena = moved_in;
        on_heap = moved;
        in_arena[n] = on_heap[n] = (int)n;
    }
    for (size_t n = 0; n < MANY; n++) {
        assert_int_equal(in_arena[n], n);
        assert_int_equal(on_heap[n], n);
    }
    assert_true(room >= MANY && room < 4 * MANY);
    assert_int_equal(room, room_in);
    free(on_heap);
    arena_free(arena);
}

static void moves_only_when_full(void **state)
{
    size_t room = 0;
    char *items = grow(NULL, 0, 1, &room, 1);
    size_t first = room;

    (void)state;
    assert_ptr_equal(grow(items, first - 1, 1, &room, 1), items);
    assert_int_equal(room, first);
    free(items);
}

static void gives_room_for_none(void **state)
{
    struct arena *arena = arena_new();
    size_t room = 0;

    (void)state;
    assert_non_null(grow_in(arena, NULL, 0, 0, &room, 8));
    arena_free(arena);
}

static void refuses_what_cannot_be_addressed(void **state)
{
    struct arena *arena = arena_new();
    size_t room = 4;
    int items[4];

    (void)state;
    assert_null(grow_in(arena, items, 4, SIZE_MAX / 2, &room, sizeof *items));
    assert_null(grow(items, 4, SIZE_MAX / 2, &room, sizeof *items));
    assert_int_equal(room, 4);
    arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keeps_its_items), cmocka_unit_test(moves_only_when_full),
        cmocka_unit_test(gives_room_for_none),
        cmocka_unit_test(refuses_what_cannot_be_addressed)};

    return cmocka_run_group_tests_name("base/grow", tests, NULL, NULL);
}
