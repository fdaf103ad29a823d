#include "draw/canvas.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <math.h>
#include <stdlib.h>

#include "draw/canvas_private.h"

#define PNG_DOTS 150.0 /* an inch of the canvas */
#define POINTS_PER_INCH 72.0
#define PI 3.14159265358979323846

/* Never tells cairo of a failure: the PDF surface of 1.16 doesn't survive one. From then
 * on nothing is written, and canvas_finish() tells. */
static cairo_status_t put_bytes(void *closure, const unsigned char *data,
                                unsigned int length)
{
    struct canvas *canvas = closure;
    if (canvas->status == OUTLAY_OK)
        canvas->status =
            output_write(canvas->output, (const char *)data, length, &canvas->error);
    return CAIRO_STATUS_SUCCESS;
}

static cairo_surface_t *open_surface(struct canvas *canvas)
{
    double width = canvas->paper.width, height = canvas->paper.height;
    double full = canvas->paper.full;
    double dots = PNG_DOTS / POINTS_PER_INCH;
    cairo_surface_t *surface = NULL;
    switch (canvas->kind) {
    case CANVAS_PDF:
        surface = cairo_pdf_surface_create_for_stream(put_bytes, canvas, width * full,
                                                      height * full);
        /* "" leaves the date out. */
        cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
        cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR,
                                       "outlay " OUTLAY_VERSION);
        break;
    case CANVAS_SVG:
        surface = cairo_svg_surface_create_for_stream(put_bytes, canvas, width * full,
                                                      height * full);
        break;
    case CANVAS_PNG:
        surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)ceil(width * dots),
                                             (int)ceil(height * dots));
        cairo_surface_set_device_scale(surface, dots, dots);
        break;
    }
    return surface;
}

enum outlay_status canvas_new(enum canvas_kind kind, const struct paper *paper,
                              struct output *output, struct canvas **out,
                              struct outlay_error *err)
{
    struct canvas *canvas = calloc(1, sizeof *canvas);
    *out = NULL;
    if (!canvas)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    canvas->kind = kind;
    canvas->paper = *paper;
    canvas->output = output;
    canvas->page = 1;
    canvas->boxes = boxes_new();
    canvas->surface = open_surface(canvas);
    canvas->cairo = cairo_create(canvas->surface);
    if (kind != CANVAS_PNG)
        cairo_scale(canvas->cairo, paper->full, paper->full);
    if (!canvas->boxes || !canvas_text_open(canvas) ||
        cairo_status(canvas->cairo) != CAIRO_STATUS_SUCCESS) {
        canvas_free(canvas);
        return outlay_fail(err, OUTLAY_E_MEMORY, "no drawing surface could be opened");
    }
    if (kind == CANVAS_PNG) {
        canvas_ink(canvas, INK_PAPER);
        cairo_paint(canvas->cairo);
    }
    *out = canvas;
    return OUTLAY_OK;
}

void canvas_next_page(struct canvas *canvas)
{
    cairo_show_page(canvas->cairo);
    boxes_clear(canvas->boxes);
    canvas->page++;
}

int canvas_bookmark(struct canvas *canvas, int parent, const char *title)
{
    char link[40];
    if (canvas->kind != CANVAS_PDF)
        return 0;
    snprintf(link, sizeof link, "page=%d pos=[0 0]", canvas->page);
    char *valid = g_utf8_make_valid(title, -1);
    int number = cairo_pdf_surface_add_outline(canvas->surface, parent, valid, link, 0);
    g_free(valid);
    return number;
}

void canvas_describe(struct canvas *canvas, const char *title, const char *subject)
{
    if (canvas->kind != CANVAS_PDF)
        return;
    cairo_pdf_surface_set_metadata(canvas->surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(canvas->surface, CAIRO_PDF_METADATA_SUBJECT, subject);
}

enum outlay_status canvas_finish(struct canvas *canvas, struct outlay_error *err)
{
    cairo_status_t drawn = cairo_status(canvas->cairo);
    if (drawn == CAIRO_STATUS_SUCCESS && canvas->kind == CANVAS_PNG)
        drawn = cairo_surface_write_to_png_stream(canvas->surface, put_bytes, canvas);
    cairo_surface_finish(canvas->surface);
    if (drawn == CAIRO_STATUS_SUCCESS)
        drawn = cairo_surface_status(canvas->surface);
    if (canvas->status != OUTLAY_OK) {
        if (err)
            *err = canvas->error;
        return canvas->status;
    }
    if (drawn == CAIRO_STATUS_NO_MEMORY || boxes_failed(canvas->boxes))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (drawn != CAIRO_STATUS_SUCCESS)
        return outlay_fail(err, OUTLAY_E_OUTPUT, "drawing failed: %s",
                           cairo_status_to_string(drawn));
    return OUTLAY_OK;
}

void canvas_free(struct canvas *canvas)
{
    if (!canvas)
        return;
    canvas_text_close(canvas);
    cairo_destroy(canvas->cairo);
    /* What is left is written nowhere. */
    if (canvas->status == OUTLAY_OK)
        canvas->status = OUTLAY_E_OUTPUT;
    cairo_surface_destroy(canvas->surface);
    boxes_free(canvas->boxes);
    free(canvas);
}

struct boxes *canvas_boxes(struct canvas *canvas)
{
    return canvas->boxes;
}

/* ---- Lines and areas ------------------------------------------------------------- */

/* Tones of areas are lighter, since copies darken them and people write on them. */
static double grey_of(enum ink ink, double bright)
{
    bool tone = ink >= INK_INTERIOR && ink <= INK_CORNER;
    return tone ? 1 - 0.65 * (1 - bright) : bright;
}

void canvas_ink(struct canvas *canvas, enum ink ink)
{
    static const unsigned char inks[INKS][3] = {
#define X(name, red, green, blue) {red, green, blue},
        INK_MAP(X)
#undef X
    };
    double red = inks[ink][0] / 255.0, green = inks[ink][1] / 255.0;
    double blue = inks[ink][2] / 255.0;
    /* As bright to the eye: weights of ITU-R BT.601 (from memory). */
    if (canvas->paper.grey)
        red = green = blue = grey_of(ink, 0.299 * red + 0.587 * green + 0.114 * blue);
    cairo_set_source_rgb(canvas->cairo, red, green, blue);
}

void canvas_move(struct canvas *canvas, struct point to)
{
    cairo_move_to(canvas->cairo, to.x, to.y);
}

void canvas_line(struct canvas *canvas, struct point to)
{
    cairo_line_to(canvas->cairo, to.x, to.y);
}

void canvas_segment(struct canvas *canvas, struct point from, struct point to)
{
    canvas_move(canvas, from);
    canvas_line(canvas, to);
}

void canvas_close(struct canvas *canvas)
{
    cairo_close_path(canvas->cairo);
}

void canvas_rectangle(struct canvas *canvas, struct area area)
{
    cairo_rectangle(canvas->cairo, area.x, area.y, area.width, area.height);
}

void canvas_circle(struct canvas *canvas, struct point middle, double radius)
{
    cairo_new_sub_path(canvas->cairo);
    cairo_arc(canvas->cairo, middle.x, middle.y, radius, 0, 2 * PI);
    cairo_close_path(canvas->cairo);
}

void canvas_fill(struct canvas *canvas, enum ink ink, bool keep)
{
    canvas_ink(canvas, ink);
    cairo_set_fill_rule(canvas->cairo, CAIRO_FILL_RULE_EVEN_ODD);
    if (keep)
        cairo_fill_preserve(canvas->cairo);
    else
        cairo_fill(canvas->cairo);
}

void canvas_stroke(struct canvas *canvas, enum ink ink, double width, enum dash dash)
{
    static const struct {
        double lengths[4];
        int count;
    } dashes[] = {[DASH_NONE] = {{0}, 0},
                  [DASH_SHORT] = {{2.4, 1.8}, 2},
                  [DASH_LONG] = {{7, 2.5}, 2},
                  [DASH_DOT] = {{7, 2, 0.8, 2}, 4}};
    canvas_ink(canvas, ink);
    cairo_set_line_width(canvas->cairo, width);
    cairo_set_line_join(canvas->cairo, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(canvas->cairo,
                       dash == DASH_NONE ? CAIRO_LINE_CAP_ROUND : CAIRO_LINE_CAP_BUTT);
    cairo_set_dash(canvas->cairo, dashes[dash].lengths, dashes[dash].count, 0);
    cairo_stroke(canvas->cairo);
}

void canvas_hatch(struct canvas *canvas, enum ink ink, double width, double distance)
{
    double left, top, right, bottom;
    cairo_t *cairo = canvas->cairo;
    double step = distance * sqrt(2.0);
    cairo_path_extents(cairo, &left, &top, &right, &bottom);
    cairo_save(cairo);
    cairo_clip(cairo);
    /* Lines x + y = k * step, so that neighbouring areas are ruled alike. */
    int last = (int)ceil((right + bottom) / step);
    for (int k = (int)floor((left + top) / step); k <= last; k++) {
        cairo_move_to(cairo, k * step - top, top);
        cairo_line_to(cairo, k * step - bottom, bottom);
    }
    canvas_stroke(canvas, ink, width, DASH_NONE);
    cairo_restore(cairo);
}

void canvas_clip(struct canvas *canvas, struct area area)
{
    cairo_save(canvas->cairo);
    canvas_rectangle(canvas, area);
    cairo_clip(canvas->cairo);
}

void canvas_unclip(struct canvas *canvas)
{
    cairo_restore(canvas->cairo);
}
