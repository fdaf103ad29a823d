#ifndef OUTLAY_STATUS_H
#define OUTLAY_STATUS_H

/**
 * @file outlay/status.h
 * How every outlay call reports failure: a status to branch on and, for people,
 * an error in three parts.
 *
 * A call that can fail returns an enum outlay_status and takes a struct
 * outlay_error pointer last; NULL is allowed. On OUTLAY_OK the error is untouched.
 * The first failure wins: a caller that adds something only fills an empty part.
 */

#ifdef __cplusplus
extern "C" {
#endif

/* One list makes the enum and the texts, so neither can be forgotten. */
#define OUTLAY_STATUS_MAP(X)                                    \
    X(OK, "done")                                               \
    X(E_MEMORY, "out of memory")                                \
    X(E_ARGUMENT, "a caller broke a documented precondition")   \
    X(E_USAGE, "an option, a setting or a table can't be used") \
    X(E_INPUT, "the input can't be read or used")               \
    X(E_GEOMETRY, "a geometry operation failed")                \
    X(E_OUTPUT, "the output can't be written")                  \
    X(E_LIMIT, "stopped by --strict or by a limit")             \
    X(E_INTERRUPTED, "interrupted")

enum outlay_status {
#define X(name, text) OUTLAY_##name,
    OUTLAY_STATUS_MAP(X)
#undef X
};

/** Why a call failed, in the three parts that the command line prints. */
struct outlay_error {
    enum outlay_status status;
    char what[240];  /**< set where the failure is found */
    char where[200]; /**< file, feature, field; set by the first caller that knows */
    char todo[200];  /**< what the user can do; "" when nothing can be said */
};

/* Nothing else leaves the shared library. */
#if defined(__GNUC__)
#define OUTLAY_API __attribute__((visibility("default")))
#define OUTLAY_PRINTF(fmt, args) __attribute__((format(printf, fmt, args)))
#define OUTLAY_MUST_CHECK __attribute__((warn_unused_result))
#else
#define OUTLAY_API
#define OUTLAY_PRINTF(fmt, args)
#define OUTLAY_MUST_CHECK
#endif

/** Text of a status: static storage, never NULL. */
OUTLAY_API const char *outlay_status_text(enum outlay_status status);

/**
 * Fills *err (NULL allowed) with a status and a formatted `what`, clears its other
 * parts, and returns the status, so that a failing line reads
 * `return outlay_fail(err, OUTLAY_E_INPUT, "...", ...);`
 */
OUTLAY_API enum outlay_status outlay_fail(struct outlay_error *err,
                                          enum outlay_status status, const char *format,
                                          ...) OUTLAY_PRINTF(3, 4);

/** Fills err->where unless a deeper call already did. NULL err is allowed. */
OUTLAY_API void outlay_fail_where(struct outlay_error *err, const char *format, ...)
    OUTLAY_PRINTF(2, 3);

/** Fills err->todo unless a deeper call already did. NULL err is allowed. */
OUTLAY_API void outlay_fail_todo(struct outlay_error *err, const char *format, ...)
    OUTLAY_PRINTF(2, 3);

#ifdef __cplusplus
}
#endif

#endif
