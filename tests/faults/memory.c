/* Every allocation of outlay's own code fails once: from the rooms at the base to whole
 * runs. What comes out is what comes out undisturbed, or OUTLAY_E_MEMORY and nothing. The
 * linker puts the functions here in the place of malloc() and its kin.
 *
 *     memory FOLDER ROOFS [all]
 *         all: every allocation of a whole run; else some 50 of each */

#include <dirent.h>
#include <errno.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

#include "base/arena.h"
#include "base/text.h"
#include "commands/commands.h"
#include "geo/overlap.h"
#include "geo/repair.h"
#include "options/job.h"
#include "outlay/outlay.h"
#include "write/tables.h"
#include "write/write.h"

/* ---- The allocation that fails ---------------------------------------------------- */

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);

static atomic_ulong calls; /* since the last arm() */
static atomic_ulong failing;

static void arm(unsigned long call)
{
    atomic_store(&calls, 0);
    atomic_store(&failing, call);
}

static bool fails(void)
{
    bool now = atomic_fetch_add(&calls, 1) + 1 == atomic_load(&failing);

    if (now)
        errno = ENOMEM;
    return now;
}

void *__wrap_malloc(size_t size)
{
    return fails() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    return fails() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *block, size_t size)
{
    return fails() ? NULL : __real_realloc(block, size);
}

/* ---- One case after the other ------------------------------------------------------ */

/* Does something and appends what came of it. */
typedef enum outlay_status attempt_fn(struct text *out);

static unsigned long try(attempt_fn *attempt, unsigned long call,
                         enum outlay_status *status, struct text *out)
{
    *out = TEXT_INIT;
    arm(call);
    *status = attempt(out);
    unsigned long seen = atomic_load(&calls);
    arm(0);
    return seen;
}

/* @param most  allocations to fail, spread evenly; 0: all */
static void fail_each(attempt_fn *attempt, unsigned long most)
{
    struct text whole, out;
    enum outlay_status status = OUTLAY_OK;
    unsigned long count = try(attempt, 0, &status, &whole);
    unsigned long step = most && count > most ? count / most : 1;
    unsigned long refused = 0;
    unsigned long wrong = 0;

    assert_int_equal(status, OUTLAY_OK);
    assert_true(count > 0);
    for (unsigned long call = 1; call <= count; call += step) {
        try(attempt, call, &status, &out);
        bool same =
            out.length == whole.length && memcmp(out.data, whole.data, out.length) == 0;
        bool none = out.length == 0;
        if (!(status == OUTLAY_OK ? same : status == OUTLAY_E_MEMORY && none)) {
            print_message("allocation %lu of %lu: status %d, %s result\n", call, count,
                          (int)status,
                          same   ? "the same"
                          : none ? "no"
                                 : "another");
            wrong++;
        }
        refused += status == OUTLAY_E_MEMORY;
        text_release(&out);
    }
    assert_int_equal(wrong, 0);
    assert_true(refused > 0);
    print_message("%lu allocations, %lu of %lu tried refused\n", count, refused,
                  (count + step - 1) / step);
    text_release(&whole);
}

/* ---- Rooms ------------------------------------------------------------------------- */

/* What failed has no result. */
static enum outlay_status done(bool fine, struct text *out)
{
    if (!fine)
        text_clear(out);
    return fine ? OUTLAY_OK : OUTLAY_E_MEMORY;
}

static enum outlay_status print_texts(struct text *out)
{
    for (int i = 0; i < 40; i++) {
        text_printf(out, "%d %s ", i, "text");
        text_json(out, "a \"b\"\n");
        text_csv(out, "=a,b");
        text_fixed(out, 1234.5, 2);
    }
    return done(!out->failed, out);
}

static enum outlay_status fill_arena(struct text *out)
{
    struct arena *arena = arena_new();
    bool failed = !arena;

    for (size_t i = 1; arena && i < 20; i++)
        if (!arena_array(arena, i, 20000))
            failed = true;
    /* asked once at the end is enough */
    assert_true(!arena || arena_failed(arena) == failed);
    arena_free(arena);
    text_puts(out, "full");
    return done(!failed && !out->failed, out);
}

/* A bow tie, which GEOS makes valid. */
static struct point corners[] = {{0, 0}, {0.0001, 0.0001}, {0.0001, 0}, {0, 0.0001}};
static struct ring ring = {corners, 4};
static struct polygon polygon = {&ring, 1};
static const struct region bow = {&polygon, 1};

static enum outlay_status compare_outlines(struct text *out)
{
    struct arena *arena = arena_new();
    struct geo_ctx *ctx = NULL;
    struct overlap_shape *shape = NULL;
    struct frame frame;
    struct region made;
    struct repair repair;
    double area = 0;
    enum outlay_status status = arena ? geo_ctx_new(&ctx, NULL) : OUTLAY_E_MEMORY;

    if (status == OUTLAY_OK)
        status = outline_repair(ctx, arena, &bow, &made, &repair, NULL);
    if (status == OUTLAY_OK) {
        frame_init(&frame, ctx, bow.polygons[0].rings[0].points[0]);
        status = overlap_shape_new(ctx, arena, &frame, &bow, &shape, NULL);
    }
    if (status == OUTLAY_OK)
        status = overlap_shared(ctx, shape, shape, &area, NULL);
    if (ctx)
        overlap_shape_free(ctx, shape);
    if (status == OUTLAY_OK)
        status = shared_length(ctx, &made, &made, 0.1, &area, NULL);
    if (status == OUTLAY_OK)
        text_fixed(out, area, 9);
    geo_ctx_free(ctx);
    arena_free(arena);
    return status == OUTLAY_OK ? done(!out->failed, out) : status;
}

static enum outlay_status print_grid(struct text *out)
{
    const struct write_settings set = {.units = &unit_system_us};
    struct grid *grid = grid_new(&problems_sheet, &set);

    for (size_t i = 0; grid && i < 200 * problems_sheet.column_count; i++)
        grid_text(grid, "a long enough text for a cell");
    if (grid)
        grid_csv_rows(out, grid);
    bool failed = !grid || out->failed;
    grid_free(grid);
    return done(!failed, out);
}

/* Without the numbers of surfaces, which cairo counts over the whole process. */
static void append_masked(struct text *out, const char *bytes, size_t length)
{
    static const char mark[] = "\"surface";
    const size_t size = sizeof mark - 1;

    for (size_t at = 0; at < length; at++) {
        text_putc(out, bytes[at]);
        if (at + 1 >= size && memcmp(bytes + at + 1 - size, mark, size) == 0)
            while (at + 1 < length && bytes[at + 1] >= '0' && bytes[at + 1] <= '9')
                at++;
    }
}

/* ---- Whole runs -------------------------------------------------------------------- */

/* The input, and the layers beside it. */
static const char *roofs;
static char fixtures[400], edges[400], findings[400], decisions[400];

/* Appends the files of a folder, in the order of their names; removes them. */
static void take_files(const char *folder, struct text *out)
{
    struct dirent **names = NULL;
    int count = scandir(folder, &names, NULL, alphasort);
    char path[300];

    for (int i = 0; i < count; i++) {
        static char bytes[1 << 20];
        struct stat info;

        snprintf(path, sizeof path, "%s/%.200s", folder, names[i]->d_name);
        free(names[i]);
        if (stat(path, &info) != 0 || !S_ISREG(info.st_mode))
            continue;
        text_printf(out, "%s\n", path);
        /* what holds times and seconds isn't compared */
        if (!strstr(path, ".gpkg") && !strstr(path, "run.json")) {
            FILE *file = fopen(path, "rb");

            assert_non_null(file);
            append_masked(out, bytes, fread(bytes, 1, sizeof bytes, file));
            fclose(file);
        }
        unlink(path);
    }
    free(names);
}

/* The files of a run that succeeded; of another there must be none. */
static enum outlay_status take_results(enum outlay_status status, struct text *out)
{
    arm(0);
    text_clear(out);
    take_files("out", out);
    rmdir("out");
    take_files(".", out);
    return status;
}

static enum outlay_status set_all(struct outlay_job *job, const char *const *pairs)
{
    enum outlay_status status = outlay_job_set(job, "input", roofs, NULL);

    if (status == OUTLAY_OK)
        status = outlay_job_set(job, "wind-speed", "115mph", NULL);
    if (status == OUTLAY_OK)
        status = outlay_job_set(job, "threads", "1", NULL);
    if (status == OUTLAY_OK)
        status = outlay_job_set(job, "fixtures", fixtures, NULL);
    if (status == OUTLAY_OK)
        status = outlay_job_set(job, "edges", edges, NULL);
    for (; status == OUTLAY_OK && *pairs; pairs += 2)
        status = outlay_job_set(job, pairs[0], pairs[1], NULL);
    return status;
}

static enum outlay_status run(struct text *out, const char *const *pairs)
{
    struct outlay_job *job = outlay_job_new();
    enum outlay_status status = job ? set_all(job, pairs) : OUTLAY_E_MEMORY;
    unsigned long seen = 0;

    if (status == OUTLAY_OK)
        status = outlay_job_run(job, NULL, NULL);
    outlay_job_free(job);
    seen = atomic_load(&calls);
    status = take_results(status, out);
    atomic_store(&calls, seen);
    return status;
}

static enum outlay_status run_folder(struct text *out)
{
    return run(out,
               (const char *const[]){"output", "out", "cap", "40000", "start", "2027",
                                     "waiting", "60", "steps", "1", "methods", "adhered",
                                     "order-by", "portfolio", NULL});
}

static enum outlay_status run_survey(struct text *out)
{
    return run(out,
               (const char *const[]){
                   "output", "out", "findings", findings, "decisions", decisions, "write",
                   "survey,survey-xlsx,survey-gpkg,site-sheets,problems", NULL});
}

static enum outlay_status run_draws(struct text *out)
{
    return run(out, (const char *const[]){
                        "output", "out", "write", "spread,drivers,ranking", "draws", "5",
                        "spread", "height=2ft,trace=1ft,price=10%", NULL});
}

static enum outlay_status run_zones(struct text *out)
{
    return run(out, (const char *const[]){"output", "z.geojson", NULL});
}

static enum outlay_status run_layer(struct text *out)
{
    return run(out, (const char *const[]){"output", "z.fgb", NULL});
}

static enum outlay_status draw_to(struct text *out, const char *path)
{
    const char *const pairs[] = {"output", path, NULL};
    struct outlay_job *job = outlay_job_new();
    struct outlay_result result;
    struct settings settings;
    struct text report = TEXT_INIT;
    enum outlay_status status = job ? set_all(job, pairs) : OUTLAY_E_MEMORY;
    unsigned long seen = 0;

    if (status == OUTLAY_OK) {
        status = job_settings(job, &settings, NULL);
        if (status == OUTLAY_OK)
            status = settings_resolve(&settings, NULL);
        if (status == OUTLAY_OK)
            status = command_draw(&settings, &job->messages, &result, &report, NULL);
        settings_release(&settings);
    }
    text_release(&report);
    outlay_job_free(job);
    seen = atomic_load(&calls);
    status = take_results(status, out);
    atomic_store(&calls, seen);
    return status;
}

static enum outlay_status draw_pdf(struct text *out)
{
    return draw_to(out, "p.pdf");
}

static enum outlay_status draw_svg(struct text *out)
{
    return draw_to(out, "p.svg");
}

/* ---- The tests --------------------------------------------------------------------- */

static unsigned long most = 50;

#define CASE(attempt, most)                  \
    static void test_##attempt(void **state) \
    {                                        \
        (void)state;                         \
        fail_each(attempt, most);            \
    }
CASE(print_texts, 0)
CASE(fill_arena, 0)
CASE(compare_outlines, 0)
CASE(print_grid, 0)
CASE(run_zones, most)
CASE(run_layer, most)
CASE(draw_svg, most)
CASE(draw_pdf, most)
CASE(run_folder, most)
CASE(run_survey, most)
CASE(run_draws, most)

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_print_texts),      cmocka_unit_test(test_fill_arena),
        cmocka_unit_test(test_compare_outlines), cmocka_unit_test(test_print_grid),
        cmocka_unit_test(test_run_zones),        cmocka_unit_test(test_run_layer),
        cmocka_unit_test(test_draw_svg),         cmocka_unit_test(test_draw_pdf),
        cmocka_unit_test(test_run_folder),       cmocka_unit_test(test_run_survey),
        cmocka_unit_test(test_run_draws),
    };

    if (argc < 3 || chdir(argv[1]) != 0)
        return 2;
    roofs = argv[2];
    int folder = (int)(strrchr(roofs, '/') - roofs);
    snprintf(fixtures, sizeof fixtures, "%.*s/fixtures.geojson", folder, roofs);
    snprintf(edges, sizeof edges, "%.*s/edges.geojson", folder, roofs);
    snprintf(findings, sizeof findings, "%.*s/findings.csv", folder, roofs);
    snprintf(decisions, sizeof decisions, "%.*s/decisions.csv", folder, roofs);
    if (argc > 3)
        most = 0;
    return cmocka_run_group_tests_name("faults/memory", tests, NULL, NULL);
}
