#include "draw/draw.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/ascii.h"
#include "base/grow.h"
#include "draw/bookmarks.h"
#include "draw/plan_page.h"
#include "write/output.h"

/* Of a roof; the details come after them all. */
enum { PAGES_EACH = 2 };

struct plans {
    struct plan_settings settings;
    enum plan_format format;
    char *path;               /* owned */
    struct output *output;    /* owned; of the PDF, or of the page being drawn */
    struct canvas *canvas;    /* likewise */
    struct output **finished; /* owned, and each of them; a file each, closed */
    size_t finished_count;
    size_t room; /* of finished */
    struct edge_use uses[EDGE_KINDS];
    long long roofs, pages;
    long long expected; /* pages; -1: not known */
    struct bookmarks bookmarks;
};

enum plan_format plan_format_of(const char *path)
{
    static const struct {
        const char *ending;
        enum plan_format format;
    } endings[] = {{".pdf", PLAN_PDF}, {".svg", PLAN_SVG}, {".png", PLAN_PNG}};
    const char *name = strrchr(path, '/');
    const char *dot = strrchr(name ? name : path, '.');
    for (size_t i = 0; dot && i < sizeof endings / sizeof endings[0]; i++)
        if (ascii_same(dot, endings[i].ending))
            return endings[i].format;
    return PLAN_NOT_GIVEN;
}

static struct paper paper_of(const struct plans *plans)
{
    const double inch = 72 / CANVAS_FULL, mm = inch / 25.4;
    if (columns_units(plans->settings.write) == UNITS_SI)
        return (struct paper){841 * mm, 594 * mm, CANVAS_FULL, false};
    return (struct paper){34 * inch, 22 * inch, CANVAS_FULL, false};
}

static enum outlay_status open_file(struct plans *plans, const char *path,
                                    struct outlay_error *err)
{
    static const enum canvas_kind kinds[] = {
        [PLAN_PDF] = CANVAS_PDF, [PLAN_SVG] = CANVAS_SVG, [PLAN_PNG] = CANVAS_PNG};
    struct paper paper = paper_of(plans);
    enum outlay_status status = output_open(path, &plans->output, err);
    if (status != OUTLAY_OK)
        return status;
    return canvas_new(kinds[plans->format], &paper, plans->output, &plans->canvas, err);
}

/* Keeps the file for plans_commit(). */
static enum outlay_status close_file(struct plans *plans, struct outlay_error *err)
{
    struct output **finished = NULL;
    enum outlay_status status = canvas_finish(plans->canvas, err);
    canvas_free(plans->canvas);
    plans->canvas = NULL;
    if (status == OUTLAY_OK)
        status = output_finish(plans->output, err);
    finished =
        grow(plans->finished, plans->finished_count, 1, &plans->room, sizeof *finished);
    if (status == OUTLAY_OK && !finished)
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (finished)
        plans->finished = finished;
    if (status != OUTLAY_OK)
        return status;
    plans->finished[plans->finished_count++] = plans->output;
    plans->output = NULL;
    return OUTLAY_OK;
}

/* "plans.svg" to "plans-12.svg", the path itself where there is but one. Owned; NULL when
 * out of memory. */
static char *page_path(const struct plans *plans, long long number)
{
    if (plans->format == PLAN_PDF || (plans->settings.single && number == 1))
        return path_with(plans->path, "");
    const char *dot = strrchr(plans->path, '.');
    size_t size = strlen(plans->path) + 24;
    char *path = malloc(size);
    if (path)
        snprintf(path, size, "%.*s-%lld%s", (int)(dot - plans->path), plans->path, number,
                 dot);
    return path;
}

/* Whether a page's file may be written, and, where tried, whether it can be. */
static enum outlay_status check_page(const struct plans *plans, long long number,
                                     bool tried, struct outlay_error *err)
{
    bool overwrite = plans->settings.overwrite;
    char *path = page_path(plans, number);
    if (!path)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    enum outlay_status status =
        tried ? output_check(path, overwrite, err) : output_refuse(path, overwrite, err);
    free(path);
    return status;
}

enum outlay_status plans_open(const char *path, const struct plan_settings *settings,
                              struct plans **out, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    struct plans *plans = calloc(1, sizeof *plans);
    *out = NULL;
    if (!plans || !(plans->path = path_with(path, ""))) {
        free(plans);
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    plans->settings = *settings;
    plans->expected = -1;
    plans->format = plan_format_of(path);
    if (plans->format == PLAN_NOT_GIVEN) {
        status =
            outlay_fail(err, OUTLAY_E_USAGE, "the format can't be seen from the name");
        outlay_fail_where(err, "%s", path);
        outlay_fail_todo(err, "end it in .pdf, .svg or .png");
    } else if (plans->format == PLAN_PDF) {
        status = output_refuse(path, settings->overwrite, err);
        if (status == OUTLAY_OK)
            status = open_file(plans, path, err);
    } else {
        status = check_page(plans, 1, true, err);
    }
    if (status != OUTLAY_OK) {
        plans_abort(plans);
        return status;
    }
    *out = plans;
    return OUTLAY_OK;
}

enum outlay_status plans_expect(struct plans *plans, long long roofs,
                                struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    plans->expected = roofs < 0 ? -1 : PAGES_EACH * roofs + (roofs > 0);
    for (long long i = 2;
         plans->format != PLAN_PDF && status == OUTLAY_OK && i <= plans->expected; i++)
        status = check_page(plans, i, false, err);
    return status;
}

static enum outlay_status open_page(struct plans *plans, struct outlay_error *err)
{
    char *path = page_path(plans, plans->pages);
    if (!path)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    enum outlay_status status = output_refuse(path, plans->settings.overwrite, err);
    if (status == OUTLAY_OK)
        status = open_file(plans, path, err);
    free(path);
    return status;
}

/* Draws a page whose own fields are set. */
static enum outlay_status add_page(struct plans *plans, struct plan_page *page,
                                   struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    plans->pages++;
    if (plans->format != PLAN_PDF)
        status = open_page(plans, err);
    else if (plans->pages > 1)
        canvas_next_page(plans->canvas);
    if (status != OUTLAY_OK)
        return status;
    page->canvas = plans->canvas;
    page->set = plans->settings.write;
    page->number = plans->pages;
    page->of = plans->expected;
    page->paper = paper_of(plans);
    if (!plan_page_draw(page))
        status = outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (status == OUTLAY_OK && page->kind == PAGE_PLAN)
        status = bookmarks_add(&plans->bookmarks, plans->canvas, page->building,
                               page->roof, err);
    else if (page->kind == PAGE_DETAILS)
        canvas_bookmark(plans->canvas, 0, "Details");
    if (status == OUTLAY_OK && plans->format != PLAN_PDF)
        status = close_file(plans, err);
    return status;
}

enum outlay_status plans_add(struct plans *plans, const struct building *building,
                             const struct roof *roof, const char *revision,
                             struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    plans->roofs++;
    edge_uses_add(plans->uses, plans->settings.details, plans->settings.flashing_height,
                  roof);
    for (int kind = PAGE_PLAN; kind <= PAGE_ORDER && status == OUTLAY_OK; kind++) {
        struct plan_page page = {.kind = (enum page_kind)kind,
                                 .building = building,
                                 .roof = roof,
                                 .revision = revision,
                                 .scratch = TEXT_INIT};
        status = add_page(plans, &page, err);
    }
    return status;
}

long long plans_roofs(const struct plans *plans)
{
    return plans->roofs;
}

enum outlay_status plans_finish(struct plans *plans, const char *about,
                                struct outlay_error *err)
{
    struct plan_page page = {.kind = PAGE_DETAILS,
                             .uses = plans->uses,
                             .details = plans->settings.details,
                             .scratch = TEXT_INIT};
    enum outlay_status status = OUTLAY_OK;
    if (plans->roofs > 0)
        status = add_page(plans, &page, err);
    if (status != OUTLAY_OK || plans->format != PLAN_PDF)
        return status;
    canvas_describe(plans->canvas, "Roof plans", about);
    return close_file(plans, err);
}

enum outlay_status plans_commit(struct plans *plans, struct outlay_error *err)
{
    enum outlay_status status = OUTLAY_OK;
    size_t placed = 0;
    for (; status == OUTLAY_OK && placed < plans->finished_count; placed++) {
        struct output *output = plans->finished[placed];
        plans->finished[placed] = NULL;
        status = output_commit(output, err);
    }
    /* The last one failed: those before it go too. */
    for (size_t i = 1; status != OUTLAY_OK && i < placed; i++) {
        char *path = page_path(plans, (long long)i);
        if (path)
            unlink(path);
        free(path);
    }
    plans_abort(plans);
    return status;
}

void plans_abort(struct plans *plans)
{
    if (!plans)
        return;
    canvas_free(plans->canvas);
    output_abort(plans->output);
    for (size_t i = 0; i < plans->finished_count; i++)
        output_abort(plans->finished[i]);
    free(plans->finished);
    bookmarks_release(&plans->bookmarks);
    free(plans->path);
    free(plans);
}
