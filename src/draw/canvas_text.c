#include <math.h>

#include "draw/canvas.h"
#include "draw/canvas_private.h"

/* Letters look the same on paper, on screen and in pictures: none is fitted to dots. */
bool canvas_text_open(struct canvas *canvas)
{
    cairo_font_options_t *options = cairo_font_options_create();
    canvas->layout = pango_cairo_create_layout(canvas->cairo);
    canvas->font = pango_font_description_new();
    if (!options || !canvas->layout || !canvas->font)
        return false;
    PangoContext *context = pango_layout_get_context(canvas->layout);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(context, options);
    pango_context_set_round_glyph_positions(context, FALSE);
    pango_font_description_set_family_static(canvas->font, "DejaVu Sans");
    cairo_font_options_destroy(options);
    return true;
}

void canvas_text_close(struct canvas *canvas)
{
    if (canvas->font)
        pango_font_description_free(canvas->font);
    if (canvas->layout)
        g_object_unref(canvas->layout);
}

/* UTF-8 without what isn't: bytes become U+FFFD, signs that move a cursor blanks. Freed
 * by g_free(). */
static char *clean(const char *text)
{
    char *valid = g_utf8_make_valid(text, -1);
    for (char *c = valid; *c; c++)
        if ((unsigned char)*c < 0x20 || *c == 0x7F)
            *c = ' ';
    return valid;
}

/* Gives the layout a text. @param width  NAN: as wide as it gets, on one line */
static void load(struct canvas *canvas, struct lettering lettering, double width,
                 bool one_line, const char *text)
{
    PangoLayout *layout = canvas->layout;
    char *valid = clean(text);
    pango_font_description_set_absolute_size(canvas->font, lettering.size * PANGO_SCALE);
    pango_font_description_set_weight(canvas->font, lettering.bold ? PANGO_WEIGHT_BOLD
                                                                   : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, canvas->font);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    pango_layout_set_alignment(layout, PANGO_ALIGN_LEFT);
    pango_layout_set_auto_dir(layout, FALSE);
    pango_layout_set_ellipsize(layout,
                               isnan(width) ? PANGO_ELLIPSIZE_NONE : PANGO_ELLIPSIZE_END);
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_width(layout, isnan(width) ? -1 : (int)floor(width * PANGO_SCALE));
    pango_layout_set_height(layout, one_line ? -1 : -1000);
    pango_layout_set_text(layout, valid, -1);
    g_free(valid);
}

/* Takes up what is seen of a text that was put down at x, y within area. */
static void take_up(struct canvas *canvas, double x, double y, struct area area)
{
    PangoRectangle ink;
    pango_layout_get_extents(canvas->layout, &ink, NULL);
    if (ink.width == 0 || ink.height == 0)
        return;
    double left = fmax(area.x, x + (double)ink.x / PANGO_SCALE);
    double top = fmax(area.y, y + (double)ink.y / PANGO_SCALE);
    double right =
        fmin(area.x + area.width, x + (double)(ink.x + ink.width) / PANGO_SCALE);
    double bottom =
        fmin(area.y + area.height, y + (double)(ink.y + ink.height) / PANGO_SCALE);
    if (right > left && bottom > top)
        boxes_add_text(canvas->boxes,
                       quad_of((struct area){left, top, right - left, bottom - top}));
}

static void show(struct canvas *canvas, enum ink ink, double x, double y,
                 struct area area)
{
    canvas_clip(canvas, area);
    canvas_ink(canvas, ink);
    cairo_move_to(canvas->cairo, x, y);
    pango_cairo_show_layout(canvas->cairo, canvas->layout);
    canvas_unclip(canvas);
    take_up(canvas, x, y, area);
}

static struct point size_of(struct canvas *canvas)
{
    PangoRectangle logical;
    pango_layout_get_extents(canvas->layout, NULL, &logical);
    return (struct point){(double)logical.width / PANGO_SCALE,
                          (double)logical.height / PANGO_SCALE};
}

struct point canvas_measure(struct canvas *canvas, struct lettering lettering,
                            const char *text)
{
    load(canvas, lettering, NAN, true, text);
    return size_of(canvas);
}

bool canvas_cell(struct canvas *canvas, struct lettering lettering, struct area area,
                 enum align align, const char *text)
{
    if (area.width <= 0)
        return false;
    load(canvas, lettering, area.width, true, text);
    struct point size = size_of(canvas);
    double left = align == ALIGN_LEFT     ? 0
                  : align == ALIGN_MIDDLE ? (area.width - size.x) / 2
                                          : area.width - size.x;
    show(canvas, lettering.ink, area.x + left, area.y + (area.height - size.y) / 2, area);
    return !pango_layout_is_ellipsized(canvas->layout);
}

double canvas_paragraph_height(struct canvas *canvas, struct lettering lettering,
                               double width, const char *text)
{
    load(canvas, lettering, width, false, text);
    return size_of(canvas).y;
}

void canvas_paragraph(struct canvas *canvas, struct lettering lettering, struct area area,
                      const char *text)
{
    load(canvas, lettering, area.width, false, text);
    pango_layout_set_height(canvas->layout, (int)floor(area.height * PANGO_SCALE));
    show(canvas, lettering.ink, area.x, area.y, area);
}

void canvas_turned(struct canvas *canvas, struct lettering lettering, struct point middle,
                   double angle, const char *text)
{
    struct point size = canvas_measure(canvas, lettering, text);
    cairo_t *cairo = canvas->cairo;
    cairo_save(cairo);
    cairo_translate(cairo, middle.x, middle.y);
    cairo_rotate(cairo, angle);
    canvas_ink(canvas, lettering.ink);
    cairo_move_to(cairo, -size.x / 2, -size.y / 2);
    pango_cairo_show_layout(cairo, canvas->layout);
    cairo_restore(cairo);
    PangoRectangle ink;
    pango_layout_get_extents(canvas->layout, &ink, NULL);
    double x = (ink.x + ink.width / 2.0) / PANGO_SCALE - size.x / 2;
    double y = (ink.y + ink.height / 2.0) / PANGO_SCALE - size.y / 2;
    middle.x += x * cos(angle) - y * sin(angle);
    middle.y += x * sin(angle) + y * cos(angle);
    if (ink.width > 0 && ink.height > 0)
        boxes_add_text(canvas->boxes,
                       quad_turned(middle, (double)ink.width / PANGO_SCALE,
                                   (double)ink.height / PANGO_SCALE, angle));
}
