#include "draw/versions.h"

#include <pango/pangocairo.h>

void draw_versions(struct text *out)
{
    text_printf(out, "  cairo %s\n", cairo_version_string());
    text_printf(out, "  Pango %s\n", pango_version_string());
}
