#include "roof/field.h"

struct field roof_field(const struct roof *roof)
{
    if (roof->field)
        return *roof->field;
    return (struct field){.outline = roof->outline,
                          .area = roof->area,
                          .edges = roof->edges,
                          .edge_count = roof->edge_count};
}

bool roof_all_wall(const struct roof *roof)
{
    return roof->field && roof->field->outline.polygon_count == 0;
}

struct roof roof_inside(const struct roof *roof)
{
    struct roof inside = *roof;
    const struct field *field = roof->field;

    if (!field)
        return inside;
    inside.outline = field->outline;
    inside.area = field->area;
    inside.edges = field->edges;
    inside.edge_count = field->edge_count;
    if (inside.level.outline)
        inside.level.outline = &field->level;
    for (size_t i = 0; i < inside.zone_count; i++) {
        inside.zones[i].region = field->zones[inside.zones[i].role];
        inside.zones[i].area = region_area(&inside.zones[i].region);
    }
    return inside;
}

double field_length(const struct roof *roof, const struct edge_sum *sum)
{
    double outside = 0, inside = 0;

    if (!roof->field || sum->kind != EDGE_PARAPET)
        return sum->length;
    for (size_t k = 0; k < roof->edge_count; k++)
        if (edge_is_alike(&roof->edges[k], sum))
            outside += point_distance(roof->edges[k].from, roof->edges[k].to);
    for (size_t k = 0; k < roof->field->edge_count; k++)
        if (edge_is_alike(&roof->field->edges[k], sum))
            inside +=
                point_distance(roof->field->edges[k].from, roof->field->edges[k].to);
    return outside > 0 ? sum->length * inside / outside : sum->length;
}
