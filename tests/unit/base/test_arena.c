#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdalign.h>
#include <string.h>

#include "base/arena.h"

static int arena_setup(void **state)
{
    *state = arena_new();
    return *state ? 0 : -1;
}

static int arena_teardown(void **state)
{
    arena_free(*state);
    return 0;
}

static void free_ignores_null(void **state)
{
    (void)state;
    arena_free(NULL);
}

/* Sizes around the chunk size, small ones and none: each block is written full, and
 * none may touch another. */
static void blocks_are_zeroed_aligned_and_apart(void **state)
{
    static const size_t sizes[] = {1, 0, 3, 16, 17, 65535, 65536, 65537, 200000, 5};
    enum { COUNT = sizeof sizes / sizeof sizes[0], ROUNDS = 3 };
    unsigned char *blocks[ROUNDS][COUNT];

    for (int round = 0; round < ROUNDS; round++) {
        for (size_t i = 0; i < COUNT; i++) {
            unsigned char *block = arena_alloc(*state, sizes[i]);

            assert_non_null(block);
            assert_int_equal((uintptr_t)block % alignof(max_align_t), 0);
            for (size_t k = 0; k < sizes[i]; k++)
                assert_int_equal(block[k], 0);
            memset(block, 1 + round * COUNT + (int)i, sizes[i]);
            blocks[round][i] = block;
        }
    }
    for (int round = 0; round < ROUNDS; round++)
        for (size_t i = 0; i < COUNT; i++)
            for (size_t k = 0; k < sizes[i]; k++)
                assert_int_equal(blocks[round][i][k], 1 + round * COUNT + (int)i);
}

static void empty_blocks_differ(void **state)
{
    void *a = arena_alloc(*state, 0);
    void *b = arena_alloc(*state, 0);

    assert_non_null(a);
    assert_ptr_not_equal(a, b);
}

static void reset_gives_the_same_memory_zeroed_again(void **state)
{
    unsigned char *before = arena_alloc(*state, 1000);
    unsigned char *after = NULL;

    assert_non_null(before);
    memset(before, 7, 1000);
    arena_reset(*state);
    after = arena_alloc(*state, 1000);
    assert_ptr_equal(after, before);
    for (size_t i = 0; i < 1000; i++)
        assert_int_equal(after[i], 0);
}

/* After a reset a large block doesn't fit into the kept chunk; the chunk's memory must
 * still be used for what fits, and nothing lost (the leak checker watches). */
static void blocks_of_any_order_follow_a_reset(void **state)
{
    for (int round = 0; round < 4; round++) {
        unsigned char *large = NULL;

        for (int i = 0; i < 200; i++)
            assert_non_null(arena_alloc(*state, (size_t)(1000 * (i % 7) + round)));
        large = arena_alloc(*state, 3000000);
        assert_non_null(large);
        memset(large, 1, 3000000);
        assert_non_null(arena_alloc(*state, 10));
        arena_reset(*state);
    }
}

static void reset_of_an_empty_arena_is_fine(void **state)
{
    arena_reset(*state);
    assert_non_null(arena_alloc(*state, 1));
}

static void sizes_that_overflow_give_null(void **state)
{
    assert_null(arena_alloc(*state, SIZE_MAX));
    assert_null(arena_alloc(*state, SIZE_MAX - alignof(max_align_t)));
    assert_null(arena_array(*state, SIZE_MAX / 8 + 1, 8));
    assert_null(arena_array(*state, 8, SIZE_MAX / 8 + 1));
    assert_null(arena_text(*state, "x", SIZE_MAX));
    assert_non_null(arena_alloc(*state, 1));
}

static void arrays_take_no_items_or_no_size(void **state)
{
    int *numbers = arena_array(*state, 100, sizeof *numbers);

    assert_non_null(numbers);
    for (int i = 0; i < 100; i++)
        assert_int_equal(numbers[i], 0);
    assert_non_null(arena_array(*state, 0, 8));
    assert_non_null(arena_array(*state, SIZE_MAX, 0));
}

static void texts_are_copied_and_ended(void **state)
{
    char source[] = "corner";
    char *whole = arena_text(*state, source, 6);
    char *part = arena_text(*state, source, 3);
    char *none = arena_text(*state, NULL, 0);

    source[0] = 'x';
    assert_string_equal(whole, "corner");
    assert_string_equal(part, "cor");
    assert_string_equal(none, "");
}

#define WITH_ARENA(test) \
    cmocka_unit_test_setup_teardown(test, arena_setup, arena_teardown)

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(free_ignores_null),
        WITH_ARENA(blocks_are_zeroed_aligned_and_apart),
        WITH_ARENA(empty_blocks_differ),
        WITH_ARENA(reset_gives_the_same_memory_zeroed_again),
        WITH_ARENA(blocks_of_any_order_follow_a_reset),
        WITH_ARENA(reset_of_an_empty_arena_is_fine),
        WITH_ARENA(sizes_that_overflow_give_null),
        WITH_ARENA(arrays_take_no_items_or_no_size),
        WITH_ARENA(texts_are_copied_and_ended),
    };

    return cmocka_run_group_tests_name("base/arena", tests, NULL, NULL);
}
