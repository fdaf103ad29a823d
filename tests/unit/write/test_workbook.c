#define _XOPEN_SOURCE 700 /* nftw() */

/* The workbook: which roofs it shows, and what it does when it can't be written. Its
 * cells are compared with the CSV files by tests/workbook. */

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include "sample.h"
#include "scratch.h"
#include "write/shown.h"

enum { ROOFS = SHOWN_MOST + 500 };

/* In which all are among the first, unless a test says otherwise. */
static uint32_t places[ROOFS];
static const struct ranking ranking = {.places = places};

/* A roof that can't be zoned, a building of its own. */
static void add(struct shown *shown, size_t number, struct ranked merit)
{
    char id[20];
    struct roof roof = {.properties = "",
                        .id = id,
                        .area = NAN,
                        .height = NAN,
                        .storeys = NAN,
                        .half_sheets = MISSING};
    struct building building = {.roofs = &roof, .roof_count = 1};

    snprintf(id, sizeof id, "r%05zu", number);
    shown_add(shown, &building, 0, &merit);
}

static size_t number_of(const struct grid *grid, size_t row)
{
    return strtoul(grid_cell_text(grid, row, 0) + 1, NULL, 10);
}

/* A score from 0 to ROOFS - 1, each once, in no order. */
static size_t mixed(size_t number)
{
    return number * 1237 % ROOFS;
}

static void test_the_highest_ranks_are_shown(void **state)
{
    struct sample sample;
    struct shown *shown = NULL;
    struct grid *grid = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    shown = shown_new(&sample.set);
    assert_non_null(shown);
    for (size_t i = 0; i < ROOFS; i++) {
        size_t score = mixed(i);
        bool given = score >= 100;

        /* 400 of the first group; 100 whose score isn't known */
        add(shown, i,
            (struct ranked){.group = score >= 500 ? 1 : 0,
                            .score = given ? (uint32_t)score : 0});
    }
    shown_finish(shown, &ranking);
    assert_false(shown_failed(shown));
    assert_false(shown_whole(shown));
    grid = shown_grid(shown, SHOWN_SUMMARY);
    assert_non_null(grid);
    assert_int_equal(grid_rows(grid), SHOWN_MOST);
    /* Out are the lowest scores of the second group. */
    for (size_t i = 0, last = 0; i < SHOWN_MOST; i++) {
        size_t number = number_of(grid, i);

        assert_true(i == 0 || number > last);
        assert_true(mixed(number) < 500 || mixed(number) >= ROOFS - 1500);
        last = number;
    }
    grid_free(grid);
    shown_free(shown);
}

/* Equal scores: by id, whatever the order. */
static void test_ties_do_not_depend_on_the_order(void **state)
{
    struct sample sample;
    struct shown *shown = NULL;
    struct grid *grid = NULL;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    shown = shown_new(&sample.set);
    assert_non_null(shown);
    for (size_t i = ROOFS; i > 0; i--)
        add(shown, i - 1, (struct ranked){.score = 1});
    places[ROOFS - 1 - 7] = SHOWN_MOST; /* r00007 turns out to be apart */
    shown_finish(shown, &ranking);
    places[ROOFS - 1 - 7] = 0;
    grid = shown_grid(shown, SHOWN_SUMMARY);
    assert_non_null(grid);
    assert_int_equal(grid_rows(grid), SHOWN_MOST - 1);
    for (size_t i = 0; i < SHOWN_MOST - 1; i++)
        assert_int_equal(number_of(grid, i), SHOWN_MOST - 1 - i - (i >= SHOWN_MOST - 8));
    grid_free(grid);
    shown_free(shown);
}

/* With the sample's building a number of times. */
static struct book *filled_book(const char *path, const struct sample *sample, int times)
{
    struct book *book = NULL;
    struct shown *shown = shown_new(&sample->set);

    assert_non_null(shown);
    assert_int_equal(book_open(path, &sample->set, &book, NULL), OUTLAY_OK);
    for (int k = 0; k < times; k++)
        for (size_t i = 0; i < SAMPLE_ROOFS; i++)
            shown_add(shown, &sample->building, i, &(struct ranked){.score = 1});
    shown_finish(shown, &ranking);
    for (int table = 0; table < SHOWN_TABLES; table++)
        shown_sheet(shown, (enum shown_table)table, book);
    shown_free(shown);
    return book;
}

static void test_a_book_is_written_or_not(void **state)
{
    struct sample sample;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    assert_int_equal(book_commit(filled_book("book.xlsx", &sample, 1), NULL), OUTLAY_OK);
    assert_true(scratch_is_there("book.xlsx"));
    book_abort(filled_book("aborted.xlsx", &sample, 1));
    assert_false(scratch_is_there("aborted.xlsx"));
}

static void test_no_place_is_an_error(void **state)
{
    struct sample sample;
    struct outlay_error err = {0};

    (void)state;
    sample_fill(&sample, &unit_system_us);
    assert_int_equal(book_commit(filled_book("none/book.xlsx", &sample, 1), &err),
                     OUTLAY_E_OUTPUT);
    assert_string_equal(err.where, "none/book.xlsx");
    assert_true(err.todo[0] != '\0');
}

/* Nothing stays open, nothing in the folder for temporary files. */
static void test_nothing_is_left_behind(void **state)
{
    struct sample sample;
    int open = scratch_count("/proc/self/fd");

    (void)state;
    sample_fill(&sample, &unit_system_us);
    book_abort(filled_book("aborted.xlsx", &sample, 1));
    assert_int_equal(book_commit(filled_book("none/book.xlsx", &sample, 1), NULL),
                     OUTLAY_E_OUTPUT);
    assert_int_equal(book_commit(filled_book("book.xlsx", &sample, 1), NULL), OUTLAY_OK);
    assert_int_equal(scratch_count("/proc/self/fd"), open);
}

/* In a process of its own, whose files can't grow beyond a limit. @return it succeeded */
static bool write_limited(const char *path, const struct sample *sample, rlim_t limit)
{
    int status = 0;
    pid_t child = fork();

    assert_true(child >= 0);
    if (child == 0) {
        struct rlimit most = {limit, limit};

        signal(SIGXFSZ, SIG_IGN);
        if (!freopen("/dev/null", "w", stderr) || setrlimit(RLIMIT_FSIZE, &most) != 0)
            _exit(2);
        _exit(book_commit(filled_book(path, sample, 60), NULL) == OUTLAY_OK ? 0 : 1);
    }
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status) && WEXITSTATUS(status) < 2);
    return WEXITSTATUS(status) == 0;
}

static void expect_alike(const char *path, const char *other)
{
    FILE *a = fopen(path, "rb");
    FILE *b = fopen(other, "rb");
    int byte = 0;

    assert_non_null(a);
    assert_non_null(b);
    while ((byte = getc(a)) != EOF)
        assert_int_equal(getc(b), byte);
    assert_int_equal(getc(b), EOF);
    fclose(a);
    fclose(b);
}

/* Wherever room runs out: in a sheet's rows, in the sheet, in the file. */
static void test_a_full_disk_is_noticed(void **state)
{
    struct sample sample;
    size_t fitted = 0, refused = 0;

    (void)state;
    sample_fill(&sample, &unit_system_us);
    assert_true(write_limited("whole.xlsx", &sample, RLIM_INFINITY));
    for (rlim_t limit = 4096; limit <= 65 * 4096; limit += 2048) {
        if (write_limited("book.xlsx", &sample, limit)) {
            expect_alike("whole.xlsx", "book.xlsx");
            fitted++;
        } else {
            refused++;
        }
    }
    assert_true(fitted > 0 && refused > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_highest_ranks_are_shown),
        cmocka_unit_test(test_ties_do_not_depend_on_the_order),
        cmocka_unit_test_setup_teardown(test_a_book_is_written_or_not, scratch_enter,
                                        scratch_leave),
        cmocka_unit_test_setup_teardown(test_no_place_is_an_error, scratch_enter,
                                        scratch_leave),
        cmocka_unit_test_setup_teardown(test_nothing_is_left_behind, scratch_enter,
                                        scratch_leave),
        cmocka_unit_test_setup_teardown(test_a_full_disk_is_noticed, scratch_enter,
                                        scratch_leave),
    };

    return cmocka_run_group_tests(tests, NULL, NULL);
}
