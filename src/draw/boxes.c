#include "draw/boxes.h"
#include "base/grow.h"

#include <math.h>
#include <stdlib.h>

/* A quad with its upright box, by which most others are told apart at once. */
struct kept {
    struct quad quad;
    struct box box;
};

struct list {
    struct kept *items;
    size_t count, room;
};

struct boxes {
    struct list texts, others; /* lines are boxes of no width */
    bool failed;
};

struct boxes *boxes_new(void)
{
    return calloc(1, sizeof(struct boxes));
}

void boxes_free(struct boxes *boxes)
{
    if (!boxes)
        return;
    free(boxes->texts.items);
    free(boxes->others.items);
    free(boxes);
}

void boxes_clear(struct boxes *boxes)
{
    boxes->texts.count = 0;
    boxes->others.count = 0;
}

static struct box box_of(const struct quad *quad)
{
    struct box box = box_empty();
    for (int i = 0; i < 4; i++)
        box_add(&box, quad->corners[i]);
    return box;
}

static void add(struct boxes *boxes, struct list *list, struct quad quad)
{
    struct kept *items = grow(list->items, list->count, 1, &list->room, sizeof *items);
    if (!items) {
        boxes->failed = true;
        return;
    }
    list->items = items;
    list->items[list->count++] = (struct kept){quad, box_of(&quad)};
}

void boxes_add_text(struct boxes *boxes, struct quad quad)
{
    add(boxes, &boxes->texts, quad);
}

void boxes_add_place(struct boxes *boxes, struct quad quad)
{
    add(boxes, &boxes->others, quad);
}

void boxes_add_line(struct boxes *boxes, struct point from, struct point to)
{
    add(boxes, &boxes->others, (struct quad){{from, to, to, from}});
}

/* The stretch that a box covers in a direction. */
static void reach(const struct quad *quad, double dx, double dy, double *least,
                  double *most)
{
    *least = INFINITY;
    *most = -INFINITY;
    for (int i = 0; i < 4; i++) {
        double along = quad->corners[i].x * dx + quad->corners[i].y * dy;
        *least = fmin(*least, along);
        *most = fmax(*most, along);
    }
}

/* Whether a line square to one of a's sides has a on one side and b on the other. */
static bool parted(const struct quad *a, const struct quad *b, double depth)
{
    for (int i = 0; i < 4; i++) {
        struct point from = a->corners[i], to = a->corners[(i + 1) % 4];
        double length = point_distance(from, to);
        double a_least, a_most, b_least, b_most;
        if (length < 1e-9)
            continue;
        double dx = (to.y - from.y) / length, dy = (from.x - to.x) / length;
        for (int turn = 0; turn < 2; turn++) {
            reach(a, dx, dy, &a_least, &a_most);
            reach(b, dx, dy, &b_least, &b_most);
            if (a_most - b_least <= depth || b_most - a_least <= depth)
                return true;
            double swap = dx;
            dx = -dy;
            dy = swap;
        }
    }
    return false;
}

bool quads_overlap(struct quad a, struct quad b, double depth)
{
    return !parted(&a, &b, depth) && !parted(&b, &a, depth);
}

static bool meets(const struct kept *item, const struct quad *quad, const struct box *box)
{
    return box->min_x <= item->box.max_x && box->max_x >= item->box.min_x &&
           box->min_y <= item->box.max_y && box->max_y >= item->box.min_y &&
           quads_overlap(*quad, item->quad, 0);
}

static size_t met(const struct list *list, struct quad quad)
{
    struct box box = box_of(&quad);
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++)
        count += meets(&list->items[i], &quad, &box);
    return count;
}

static bool free_of(const struct list *list, struct quad quad)
{
    struct box box = box_of(&quad);
    for (size_t i = 0; i < list->count; i++)
        if (meets(&list->items[i], &quad, &box))
            return false;
    return true;
}

bool boxes_free_at(const struct boxes *boxes, struct quad quad)
{
    return free_of(&boxes->texts, quad) && free_of(&boxes->others, quad);
}

size_t boxes_met(const struct boxes *boxes, struct quad quad)
{
    return met(&boxes->texts, quad) + met(&boxes->others, quad);
}

bool boxes_failed(const struct boxes *boxes)
{
    return boxes->failed;
}

size_t boxes_texts(const struct boxes *boxes)
{
    return boxes->texts.count;
}

struct quad boxes_text(const struct boxes *boxes, size_t index)
{
    return boxes->texts.items[index].quad;
}

struct quad quad_of(struct area area)
{
    double right = area.x + area.width, bottom = area.y + area.height;
    return (struct quad){
        {{area.x, area.y}, {right, area.y}, {right, bottom}, {area.x, bottom}}};
}

struct quad quad_turned(struct point middle, double width, double height, double angle)
{
    double c = cos(angle), s = sin(angle), w = width / 2, h = height / 2;
    const struct point corners[4] = {{-w, -h}, {w, -h}, {w, h}, {-w, h}};
    struct quad quad;
    for (int i = 0; i < 4; i++)
        quad.corners[i] = (struct point){middle.x + corners[i].x * c - corners[i].y * s,
                                         middle.y + corners[i].x * s + corners[i].y * c};
    return quad;
}

bool area_holds(struct area area, struct quad quad)
{
    for (int i = 0; i < 4; i++) {
        struct point p = quad.corners[i];
        if (p.x < area.x || p.x > area.x + area.width || p.y < area.y ||
            p.y > area.y + area.height)
            return false;
    }
    return true;
}
