#include "help.h"

#include <signal.h>
#include <sys/resource.h>

#include "read/spool.h"

static uint64_t random_next(uint64_t *seed)
{
    *seed ^= *seed << 13;
    *seed ^= *seed >> 7;
    *seed ^= *seed << 17;
    return *seed;
}

static const char *random_text(struct arena *arena, uint64_t *seed, size_t most)
{
    size_t length = random_next(seed) % (most + 1);
    char *text = arena_alloc(arena, length + 1);

    assert_non_null(text);
    for (size_t i = 0; i < length; i++)
        text[i] = (char)(1 + random_next(seed) % 255);
    return text;
}

static void random_region(struct arena *arena, uint64_t *seed, struct region *region)
{
    region->polygon_count = random_next(seed) % 4;
    region->polygons = arena_array(arena, region->polygon_count, sizeof(struct polygon));
    for (size_t i = 0; i < region->polygon_count; i++) {
        struct polygon *polygon = &region->polygons[i];

        polygon->ring_count = 1 + random_next(seed) % 3;
        polygon->rings = arena_array(arena, polygon->ring_count, sizeof(struct ring));
        for (size_t j = 0; j < polygon->ring_count; j++) {
            struct ring *ring = &polygon->rings[j];

            ring->count = random_next(seed) % 50 ? 12 : 3000;
            ring->count = 3 + random_next(seed) % ring->count;
            ring->points = arena_array(arena, ring->count, sizeof(struct point));
            for (size_t k = 0; k < ring->count; k++) {
                ring->points[k].x = (double)random_next(seed) / 1e17;
                ring->points[k].y = -(double)random_next(seed) / 1e18;
            }
        }
    }
}

static void random_samples(struct arena *arena, uint64_t *seed, struct roof *roof)
{
    roof->sample_count = random_next(seed) % 4;
    roof->samples = arena_array(arena, roof->sample_count, sizeof *roof->samples);
    for (size_t i = 0; i < roof->sample_count; i++) {
        roof->samples[i].role = "exposure";
        roof->samples[i].value = (double)random_next(seed);
        if (random_next(seed) % 2)
            roof->samples[i].finding = random_text(arena, seed, 900);
    }
}

static void random_roof(struct arena *arena, uint64_t *seed, struct roof *roof)
{
    static const char done[] = "value ignored";

    *roof = (struct roof){.given = attributes_missing()};
    roof->position = random_next(seed);
    roof->id = random_text(arena, seed, 20);
    roof->properties = random_text(arena, seed, random_next(seed) % 10 ? 300 : 20000);
    roof->name = random_next(seed) % 2 ? random_text(arena, seed, 30) : NULL;
    roof->building = random_next(seed) % 2 ? random_text(arena, seed, 30) : NULL;
    random_region(arena, seed, &roof->lonlat);
    if (random_next(seed) % 2)
        roof->given.height = (double)random_next(seed);
    if (random_next(seed) % 2)
        roof->given.deck = DECK_GYPSUM;
    if (random_next(seed) % 2)
        roof->given.fixed_year = 2031;
    if (random_next(seed) % 2)
        roof->given.replacement_value = 0;
    if (random_next(seed) % 2)
        roof->given.risk = 4;
    for (size_t i = random_next(seed) % 4; i > 0; i--) {
        enum problem_code code = (enum problem_code)(random_next(seed) % PROBLEM_CODES);

        roof_problem(arena, roof, code, done, "%s", random_text(arena, seed, 60));
    }
    random_samples(arena, seed, roof);
}

static void expect_same_text(const char *a, const char *b)
{
    assert_int_equal(a == NULL, b == NULL);
    if (a)
        assert_string_equal(a, b);
}

static void expect_same(const struct roof *a, const struct roof *b)
{
    const struct problem *p = a->problems, *q = b->problems;

    assert_int_equal(a->position, b->position);
    expect_same_text(a->id, b->id);
    expect_same_text(a->name, b->name);
    expect_same_text(a->building, b->building);
    expect_same_text(a->properties, b->properties);
    expect_same_attributes(&a->given, &b->given);
    assert_int_equal(a->lonlat.polygon_count, b->lonlat.polygon_count);
    for (size_t i = 0; i < a->lonlat.polygon_count; i++) {
        assert_int_equal(a->lonlat.polygons[i].ring_count,
                         b->lonlat.polygons[i].ring_count);
        for (size_t j = 0; j < a->lonlat.polygons[i].ring_count; j++) {
            struct ring x = a->lonlat.polygons[i].rings[j];
            struct ring y = b->lonlat.polygons[i].rings[j];

            assert_int_equal(x.count, y.count);
            assert_memory_equal(x.points, y.points, x.count * sizeof *x.points);
        }
    }
    for (; p && q; p = p->next, q = q->next) {
        assert_int_equal(p->code, q->code);
        assert_string_equal(p->what, q->what);
        assert_ptr_equal(p->done, q->done);
    }
    assert_null(p);
    assert_null(q);
    assert_int_equal(a->sample_count, b->sample_count);
    for (size_t i = 0; i < a->sample_count; i++) {
        assert_ptr_equal(a->samples[i].role, b->samples[i].role);
        assert_true(a->samples[i].value == b->samples[i].value);
        expect_same_text(a->samples[i].finding, b->samples[i].finding);
    }
}

static void records_come_back_in_any_order(void **state)
{
    enum { ROOFS = 3000 };
    static uint64_t offsets[ROOFS];
    struct arena *arena = arena_new();
    struct spool *spool = NULL;
    uint64_t seed = 1;

    (void)state;
    assert_int_equal(spool_open(&spool, NULL), OUTLAY_OK);
    for (size_t i = 0; i < ROOFS; i++) {
        uint64_t roof_seed = 0x9E3779B97F4A7C15u * (i + 1);
        struct roof roof;

        arena_reset(arena);
        random_roof(arena, &roof_seed, &roof);
        assert_int_equal(spool_append(spool, &roof, &offsets[i], NULL), OUTLAY_OK);
    }
    assert_int_equal(spool_flush(spool, NULL), OUTLAY_OK);
    assert_true(spool_size(spool) > 1 << 20); /* more than once around the buffer */
    for (size_t n = 0; n < ROOFS; n++) {
        size_t i = random_next(&seed) % ROOFS;
        uint64_t roof_seed = 0x9E3779B97F4A7C15u * (i + 1);
        struct roof expected, roof;

        arena_reset(arena);
        random_roof(arena, &roof_seed, &expected);
        assert_int_equal(spool_read(spool, offsets[i], arena, &roof, NULL), OUTLAY_OK);
        expect_same(&expected, &roof);
        /* and goes on as a fresh one would */
        roof_problem(arena, &roof, PROBLEM_STEEP, "", "steep");
        assert_true(isnan(roof.height));
        assert_int_equal(roof.half_sheets, MISSING);
    }
    spool_close(spool);
    arena_free(arena);
}

static void nothing_is_left_in_the_folder(void **state)
{
    struct spool *spool = NULL;
    char **names;

    (void)state;
    assert_int_equal(mkdir("empty", 0700), 0);
    assert_int_equal(setenv("TMPDIR", "empty", 1), 0);
    assert_int_equal(spool_open(&spool, NULL), OUTLAY_OK);
    names = VSIReadDir("empty");
    for (int i = 0; names && names[i]; i++)
        assert_true(names[i][0] == '.');
    CSLDestroy(names);
    spool_close(spool);
    unsetenv("TMPDIR");
}

static void a_missing_folder_is_named(void **state)
{
    struct outlay_error err = {0};
    struct spool *spool = NULL;

    (void)state;
    assert_int_equal(setenv("TMPDIR", "/nonexistent/folder", 1), 0);
    assert_int_equal(spool_open(&spool, &err), OUTLAY_E_OUTPUT);
    assert_null(spool);
    assert_contains(err.where, "/nonexistent/folder");
    assert_contains(err.todo, "TMPDIR");
    unsetenv("TMPDIR");
    spool_close(NULL);
}

/* A limit on the size of files stands for a full disk: write() fails alike. */
static void a_full_disk_is_told(void **state)
{
    struct rlimit before, small;
    struct roof roof = {.id = "a", .properties = "", .given = attributes_missing()};
    enum outlay_status status = OUTLAY_OK;
    struct outlay_error err = {0};
    struct spool *spool = NULL;
    struct arena *arena = arena_new();
    uint64_t offset;

    (void)state;
    roof.properties = memset(arena_alloc(arena, 100001), 'x', 100000);
    assert_int_equal(spool_open(&spool, NULL), OUTLAY_OK);
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = before;
    small.rlim_cur = 3 << 20;
    signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    for (int i = 0; i < 100 && status == OUTLAY_OK; i++)
        status = spool_append(spool, &roof, &offset, &err);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    assert_int_equal(status, OUTLAY_E_OUTPUT);
    assert_contains(err.todo, "TMPDIR");
    spool_close(spool);
    arena_free(arena);
}

static void an_offset_behind_the_end_fails(void **state)
{
    struct arena *arena = arena_new();
    struct spool *spool = NULL;
    struct roof roof;

    (void)state;
    assert_int_equal(spool_open(&spool, NULL), OUTLAY_OK);
    assert_int_equal(spool_flush(spool, NULL), OUTLAY_OK);
    assert_int_equal(spool_read(spool, 0, arena, &roof, NULL), OUTLAY_E_INPUT);
    spool_close(spool);
    arena_free(arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(records_come_back_in_any_order),
        cmocka_unit_test(nothing_is_left_in_the_folder),
        cmocka_unit_test(a_missing_folder_is_named),
        cmocka_unit_test(a_full_disk_is_told),
        cmocka_unit_test(an_offset_behind_the_end_fails),
    };

    return cmocka_run_group_tests_name("read/spool", tests, folder_enter, folder_leave);
}
