#include "roof/problem.h"

#include <stdarg.h>

#include "base/print.h"
#include "roof/roof.h"

static const char *const lost_text = "details lost: out of memory";

const char *problem_code_name(enum problem_code code)
{
#define X(id, severity, name) name,
    static const char *const names[] = { PROBLEM_MAP(X) };
#undef X
    return (unsigned)code < PROBLEM_CODES ? names[code] : NULL;
}

enum severity problem_severity(enum problem_code code)
{
#define X(id, severity, name) SEVERITY_##severity,
    static const enum severity severities[] = { PROBLEM_MAP(X) };
#undef X
    return (unsigned)code < PROBLEM_CODES ? severities[code] : SEVERITY_ERROR;
}

const char *severity_name(enum severity severity)
{
    static const char *const names[] = {"note", "warning", "error"};
    return (unsigned)severity <= SEVERITY_ERROR ? names[severity] : NULL;
}

/* The formatted text in the arena, or the text for lost details. */
static const char *format_text(struct arena *arena, const char *format, va_list args)
{
    va_list again;
    char *text = NULL;
    int length;

    va_copy(again, args);
    length = print_plain(NULL, 0, format, args);
    if (length >= 0) {
        text = arena_alloc(arena, (size_t)length + 1);
    }
    if (text != NULL) {
        print_plain(text, (size_t)length + 1, format, again);
    }
    va_end(again);
    return text != NULL ? text : lost_text;
}

struct problem *roof_problem(struct arena *arena, struct roof *roof,
                             enum problem_code code, const char *done, const char *format,
                             ...)
{
    struct problem *problem = arena_alloc(arena, sizeof *problem);
    va_list args;

    if (problem == NULL) {
        return NULL;
    }
    problem->code = code;
    problem->done = done != NULL ? done : "";
    va_start(args, format);
    problem->what = format_text(arena, format, args);
    va_end(args);
    if (roof->problems_end == NULL) {
        roof->problems = problem;
    } else {
        *roof->problems_end = problem;
    }
    roof->problems_end = &problem->next;
    return problem;
}
