#include "roof/pullout.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/print.h"
#include "base/student.h"
#include "base/text.h"
#include "roof/finding.h"

const char *pullout_by_name(int by)
{
    static const char *const names[] = {"fractile", "mean"};

    return by >= 0 && by < 2 ? names[by] : NULL;
}

double pullout_k(size_t n)
{
    return student_t(0.95, (int)n - 1) * sqrt(1 + 1 / (double)n);
}

/* Equal ones in the order of their places, so that the file's order doesn't count. */
static int by_value(const void *of_a, const void *of_b)
{
    const struct finding *a = *(const struct finding *const *)of_a;
    const struct finding *b = *(const struct finding *const *)of_b;
    int order = (a->value > b->value) - (a->value < b->value);

    if (isnan(a->value) != isnan(b->value))
        return isnan(a->value) ? -1 : 1;
    if (order == 0)
        order = strcmp(a->roof, b->roof);
    return order ? order : strcmp(a->place, b->place);
}

/* The middle of values from `first` on. */
static double middle_of(const struct finding **tests, size_t first, size_t count)
{
    size_t half = first + count / 2;

    return count % 2 ? tests[half]->value
                     : (tests[half - 1]->value + tests[half]->value) / 2;
}

static void find_fences(struct pullout *out)
{
    size_t half = out->count / 2;
    double lower = middle_of(out->tests, 0, half);
    double upper = middle_of(out->tests, out->count - half, half);

    out->low = lower - 1.5 * (upper - lower);
    out->high = upper + 1.5 * (upper - lower);
}

static void find_moments(struct pullout *out)
{
    double sum = 0, squares = 0;

    for (size_t i = 0; i < out->count; i++)
        sum += out->tests[i]->value;
    out->mean = sum / (double)out->count;
    for (size_t i = 0; i < out->count; i++)
        squares += pow(out->tests[i]->value - out->mean, 2);
    if (out->count > 1)
        out->deviation = sqrt(squares / (double)(out->count - 1));
}

/* @return false when out of memory */
static bool refuse(struct arena *arena, struct pullout *out, const char *format,
                   const char *what)
{
    struct text text = TEXT_INIT;

    text_printf(&text, format, what);
    if (!text.failed)
        out->unknown = arena_text(arena, text.data, text.length);
    text_release(&text);
    return out->unknown != NULL;
}

static bool decide(struct arena *arena, struct pullout *out)
{
    char count[40];

    if (isnan(out->tests[0]->value))
        return refuse(arena, out, "a pull-out test can't be read: %s",
                      out->tests[0]->where);
    if (out->count < PULLOUT_LEAST) {
        print_into(count, sizeof count, "%zu pull-out test%s", out->count,
                   out->count == 1 ? "" : "s");
        return refuse(arena, out, "%s: under three tell no value", count);
    }
    out->k = pullout_k(out->count);
    out->fractile = out->mean - out->k * out->deviation;
    out->design = out->by == PULLOUT_BY_MEAN ? out->mean
                                             : fmin(out->fractile, out->tests[0]->value);
    if (out->design > 0)
        return true;
    out->design = NAN;
    return refuse(
        arena, out, "%s",
        "the pull-out tests scatter so much that their 5 % fractile isn't above "
        "0: find out why, and test more");
}

struct pullout *pullout_of(struct arena *arena, const struct finding **tests,
                           size_t count, enum pullout_by by)
{
    struct pullout *out = arena_alloc(arena, sizeof *out);

    if (!out)
        return NULL;
    qsort(tests, count, sizeof *tests, by_value);
    *out = (struct pullout){.by = by,
                            .count = count,
                            .tests = tests,
                            .low = NAN,
                            .high = NAN,
                            .mean = NAN,
                            .deviation = NAN,
                            .k = NAN,
                            .fractile = NAN,
                            .design = NAN};
    find_moments(out);
    if (count >= 4)
        find_fences(out);
    return decide(arena, out) ? out : NULL;
}

const char *pullout_last(const struct pullout *pullout)
{
    const char *last = pullout->tests[0]->when;

    for (size_t i = 1; i < pullout->count; i++)
        if (strcmp(pullout->tests[i]->when, last) > 0)
            last = pullout->tests[i]->when;
    return last;
}
