/* Adhesive under sheets and boards. */

#include "takeoff/board_grid.h"

void adhesive_lay(const struct roof *roof, struct layout *out)
{
    if (out->method != METHOD_ADHERED && out->method != METHOD_ADHERED_FASTENED)
        return;
    for (size_t i = 0; i < roof->zone_count; i++) {
        double spacing = roof->zones[i].attachment.ribbon_spacing;

        out->glued_area += roof->zones[i].area;
        if (out->method == METHOD_ADHERED && spacing > 0)
            out->ribbon_length += roof->zones[i].area / spacing;
        else if (out->method == METHOD_ADHERED)
            out->full_cover += roof->zones[i].area;
    }
}
