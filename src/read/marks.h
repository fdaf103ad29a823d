#ifndef OUTLAY_READ_MARKS_H
#define OUTLAY_READ_MARKS_H

/**
 * @file read/marks.h
 * The layer of what stands on roofs, and the layer of what is along their edges: each
 * read whole before the first roof, and then only looked at, by any number of threads.
 * A feature of several parts is as many marks.
 *
 *     marks_open(MARKS_FIXTURES, path, settings->read.marks, &marks, err);
 *     marks_near(marks, box, arena, &near, &count, err);
 *     marks_close(marks);
 */

#include "geo/shape.h"
#include "outlay/status.h"
#include "roof/problem.h"

enum mark_layer { MARKS_FIXTURES, MARKS_EDGES, MARK_LAYERS };

/* code, name in --field, layer, name of its column, most m (0: no length; ours, as wide
 * as can be believed), what it changes. */
#define MARK_ROLE_MAP(X)                                                               \
    X(FIXTURE_KIND, "fixture_kind", FIXTURES, "kind", 0,                               \
      "of --fixtures: what stands there")                                              \
    X(FIXTURE_ID, "fixture_id", FIXTURES, "id", 0, "of --fixtures: its name in files") \
    X(FIXTURE_WIDTH, "fixture_width", FIXTURES, "width", 100,                          \
      "of --fixtures: size, for flashing around it; a point without it has none")      \
    X(FIXTURE_LENGTH, "fixture_length", FIXTURES, "length", 100,                       \
      "of --fixtures: the same along the roof's long side")                            \
    X(FIXTURE_HEIGHT, "fixture_height", FIXTURES, "height", 10,                        \
      "of --fixtures: of the upstand: height of its flashing")                         \
    X(EDGE_KIND, "edge_kind", EDGES, "kind", 0, "of --edges: what is along the line")  \
    X(EDGE_ID, "edge_id", EDGES, "id", 0, "of --edges: its name in messages")          \
    X(EDGE_HEIGHT, "edge_height", EDGES, "height", 300,                                \
      "of --edges: of the parapet or wall above the roof")                             \
    X(EDGE_THICKNESS, "edge_thickness", EDGES, "thickness", 2,                         \
      "of --edges: of the parapet: which coping is ordered")

enum mark_role {
#define X(code, name, layer, column, most, effect) MARK_##code,
    MARK_ROLE_MAP(X)
#undef X
        MARK_ROLES
};

/** "fixture_kind"; NULL past the end. */
const char *mark_role_name(int role);
const char *mark_role_effect(int role);

/** Whether its values need a unit. */
bool mark_role_is_length(int role);

enum mark_shape { MARK_POINT, MARK_LINE, MARK_RING };

struct mark {
    enum mark_shape shape;
    int kind;       /**< enum fixture_kind or enum edge_kind; never 0 */
    const char *id; /**< "feature 3" where the layer gives none */
    double width, length, height, thickness; /**< m; NAN */
    struct point *points; /**< degrees; of a ring counter-clockwise, without the last */
    size_t count;
    struct box box;
};

/** What is wrong with a feature, for problems.csv. */
struct mark_doubt {
    enum problem_code code;
    const char *what;  /**< file and feature included */
    const char *done;  /**< static storage */
    const char *field; /**< a role's name; NULL */
    struct mark_doubt *next;
};

struct marks {
    const char *name; /**< of the layer for people, without a password */
    struct mark *items;
    size_t count;
    struct mark_doubt *doubts; /**< in the layer's order */
    struct mark_index *index;
};

/**
 * Reads the layer.
 * @param path     of the dataset, or dataset/layer
 * @param columns  MARK_ROLES texts "column" or "column:unit"; NULL: found by name; "":
 *                 not read
 * @param[out] out  owned by the caller
 * @return OUTLAY_E_INPUT: no such file, damaged, no CRS, too large; OUTLAY_E_USAGE: no
 *         such layer or column, a length without a unit; OUTLAY_E_MEMORY
 */
enum outlay_status marks_open(enum mark_layer layer, const char *path,
                              const char *const *columns, struct marks **out,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * The marks whose boxes meet a box of degrees, in the layer's order. Threads: any.
 * @param[out] near  indices of marks->items, in arena
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status marks_near(const struct marks *marks, const struct box *box,
                              struct arena *arena, size_t **near,
                              size_t *count) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void marks_close(struct marks *marks);

#endif
