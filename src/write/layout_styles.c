#include "write/layout_styles.h"

#include <cpl_error.h>

/* All looks are ours: the tones of the plan sheets. A class has the value of the layer's
 * attribute that it is drawn for; a layer without an attribute has one class. */
struct look {
    const char *value, *label;
    const char *fill;   /* "r,g,b,a" of areas and dots; NULL: none */
    const char *stroke; /* of lines and borders */
    const char *width;  /* of the stroke, mm */
    const char *dash;   /* of the stroke: solid, dash, dot, dash dot */
};

enum { LOOKS_MAX = 8 };

struct style {
    const char *kind;      /* of symbols: fill, line, marker */
    const char *attribute; /* NULL: one class */
    const char *size;      /* of dots, m on the ground */
    int scale;             /* shown from 1 : scale on; 0: always */
    struct look looks[LOOKS_MAX];
};

#define DARK "28,38,46,255"
#define MIDDLE "110,122,132,255"
#define LIGHT "176,184,190,255"
#define ZONE_LINE "88,118,140,255"

static const struct style styles[LAYOUT_LAYERS] = {
    [LAYER_OUTLINE] = {"fill", NULL, NULL, 0, {{"", "", NULL, DARK, "0.5", "solid"}}},
    [LAYER_ZONES] =
        {"fill",
         "zone",
         NULL,
         0,
         {{"corner", "corner", "148,173,192,255", ZONE_LINE, "0.2", "solid"},
          {"perimeter", "perimeter", "189,206,218,255", ZONE_LINE, "0.2", "solid"},
          {"field", "field", "229,236,241,255", ZONE_LINE, "0.2", "solid"},
          {"interior", "interior", "250,251,252,255", ZONE_LINE, "0.2", "solid"}}},
    [LAYER_EDGES] = {"line",
                     "kind",
                     NULL,
                     0,
                     {{"metal", "edge metal", NULL, DARK, "0.5", "solid"},
                      {"gutter", "gutter", NULL, DARK, "0.5", "dash"},
                      {"parapet", "parapet", NULL, DARK, "0.9", "solid"},
                      {"wall", "wall", NULL, MIDDLE, "1.2", "solid"},
                      {"curb", "curb", NULL, MIDDLE, "0.5", "solid"},
                      {"joint", "joint", NULL, DARK, "0.9", "dash dot"},
                      {"continuous", "shared edge", NULL, DARK, "0.3", "dot"},
                      {"", "other", NULL, DARK, "0.5", "solid"}}},
    [LAYER_SHEETS] = {"fill",
                      "kind",
                      NULL,
                      2000,
                      {{"full", "full sheet", NULL, DARK, "0.15", "solid"},
                       {"half", "half sheet", "28,38,46,20", DARK, "0.25", "solid"},
                       {"cover strip", "cover strip", "28,38,46,50", DARK, "0.1",
                        "solid"}}},
    [LAYER_BOARDS] = {"fill",
                      "whole",
                      NULL,
                      500,
                      {{"1", "whole board", NULL, LIGHT, "0.1", "solid"},
                       {"0", "cut board", NULL, MIDDLE, "0.1", "dash"}}},
    [LAYER_ROWS] =
        {"line",
         "kind",
         NULL,
         1000,
         {{"in a lap", "row in a lap", NULL, DARK, "0.2", "dash"},
          {"under a cover strip", "row under a cover strip", NULL, DARK, "0.2", "dot"},
          {"base securement", "base securement", NULL, DARK, "0.3", "dash dot"}}},
    [LAYER_PLATES] =
        {"marker", NULL, "0.0762", 300, {{"", "", DARK, DARK, "0.1", "solid"}}},
    [LAYER_INSULATION_PLATES] =
        {"marker", NULL, "0.0762", 300, {{"", "", NULL, MIDDLE, "0.1", "solid"}}},
    [LAYER_TAPER] = {"line", NULL, NULL, 1000, {{"", "", NULL, MIDDLE, "0.15", "dash"}}},
    [LAYER_ROLL_ENDS] = {"line", NULL, NULL, 1000, {{"", "", NULL, DARK, "0.4", "dash"}}},
    [LAYER_FIXTURES] = {"marker", NULL, "0.3", 0, {{"", "", DARK, DARK, "0.1", "solid"}}},
    [LAYER_FOOTPRINTS] =
        {"fill", NULL, NULL, 0, {{"", "", "255,255,255,255", DARK, "0.3", "solid"}}},
    [LAYER_WALKWAYS] = {"line", NULL, NULL, 0, {{"", "", NULL, MIDDLE, "0.6", "dash"}}},
};

/* ---- QML: elements, names and values as in styles and the program of version 3.22; not
 * opened in one ---- */

static void put_property(struct text *out, const char *name, const char *value)
{
    text_printf(out, "<prop k=\"%s\" v=\"%s\"/>", name, value);
}

static void put_symbol(struct text *out, const struct style *style, int index)
{
    static const char *const classes[] = {"SimpleFill", "SimpleLine", "SimpleMarker"};
    const struct look *look = &style->looks[index];
    bool line = style->kind[0] == 'l', marker = style->kind[0] == 'm';

    text_printf(out,
                "<symbol type=\"%s\" name=\"%d\" alpha=\"1\" clip_to_extent=\"1\">"
                "<layer class=\"%s\" enabled=\"1\" locked=\"0\" pass=\"0\">",
                style->kind, index, classes[line + 2 * marker]);
    if (!line)
        put_property(out, "color", look->fill ? look->fill : "255,255,255,0");
    if (!line && !marker)
        put_property(out, "style", look->fill ? "solid" : "no");
    if (marker) {
        put_property(out, "name", "circle");
        put_property(out, "size", style->size);
        put_property(out, "size_unit", "MapUnit");
    }
    put_property(out, line ? "line_color" : "outline_color", look->stroke);
    put_property(out, line ? "line_width" : "outline_width", look->width);
    put_property(out, line ? "line_width_unit" : "outline_width_unit", "MM");
    put_property(out, line ? "line_style" : "outline_style", look->dash);
    text_puts(out, "</layer></symbol>");
}

static void put_renderer(struct text *out, const struct style *style)
{
    int count = 0;

    while (count < LOOKS_MAX && style->looks[count].stroke)
        count++;
    if (style->attribute) {
        text_printf(out,
                    "<renderer-v2 type=\"categorizedSymbol\" attr=\"%s\" "
                    "symbollevels=\"0\" forceraster=\"0\"><categories>",
                    style->attribute);
        for (int i = 0; i < count; i++)
            text_printf(out,
                        "<category symbol=\"%d\" value=\"%s\" label=\"%s\" "
                        "render=\"true\"/>",
                        i, style->looks[i].value, style->looks[i].label);
        text_puts(out, "</categories>");
    } else {
        text_puts(out, "<renderer-v2 type=\"singleSymbol\" symbollevels=\"0\" "
                       "forceraster=\"0\">");
    }
    text_puts(out, "<symbols>");
    for (int i = 0; i < count; i++)
        put_symbol(out, style, i);
    text_puts(out, "</symbols></renderer-v2>");
}

static void put_style(struct text *out, const struct style *style)
{
    text_puts(out, "<!DOCTYPE qgis PUBLIC 'http://mrcc.com/qgis.dtd' 'SYSTEM'>\n"
                   "<qgis version=\"3.22\" styleCategories=\"Symbology|Rendering\" ");
    text_printf(out, "hasScaleBasedVisibilityFlag=\"%d\" minScale=\"%d\" maxScale=\"0\">",
                style->scale > 0, style->scale > 0 ? style->scale : 100000000);
    put_renderer(out, style);
    text_puts(out, "</qgis>\n");
}

/* ---- The table ---- */

enum {
    CATALOG,
    SCHEMA,
    TABLE,
    GEOMETRY,
    NAME,
    QML,
    SLD,
    DEFAULT,
    DESCRIPTION,
    OWNER,
    UI,
    TIME,
    COLUMNS
};

static const struct {
    const char *name;
    OGRFieldType type;
    int width;
} columns[COLUMNS] = {
    [CATALOG] = {"f_table_catalog", OFTString, 256},
    [SCHEMA] = {"f_table_schema", OFTString, 256},
    [TABLE] = {"f_table_name", OFTString, 256},
    [GEOMETRY] = {"f_geometry_column", OFTString, 256},
    [NAME] = {"styleName", OFTString, 30},
    [QML] = {"styleQML", OFTString, 0},
    [SLD] = {"styleSLD", OFTString, 0},
    [DEFAULT] = {"useAsDefault", OFTInteger, 0},
    [DESCRIPTION] = {"description", OFTString, 0},
    [OWNER] = {"owner", OFTString, 30},
    [UI] = {"ui", OFTString, 30},
    [TIME] = {"update_time", OFTDateTime, 0},
};

static bool make_columns(OGRLayerH table)
{
    bool made = true;

    for (int i = 0; made && i < COLUMNS; i++) {
        OGRFieldDefnH field = OGR_Fld_Create(columns[i].name, columns[i].type);

        OGR_Fld_SetWidth(field, columns[i].width);
        if (i == DEFAULT)
            OGR_Fld_SetSubType(field, OFSTBoolean);
        made = OGR_L_CreateField(table, field, TRUE) == OGRERR_NONE;
        OGR_Fld_Destroy(field);
    }
    return made;
}

static bool add_style(OGRLayerH table, OGRLayerH layer, enum layout_layer which)
{
    struct text qml = TEXT_INIT;
    OGRFeatureH row = NULL;
    bool added = false;

    put_style(&qml, &styles[which]);
    if (qml.failed) {
        CPLError(CE_Failure, CPLE_OutOfMemory, "out of memory");
    } else {
        row = OGR_F_Create(OGR_L_GetLayerDefn(table));
        OGR_F_SetFieldString(row, CATALOG, "");
        OGR_F_SetFieldString(row, SCHEMA, "");
        OGR_F_SetFieldString(row, TABLE, layout_layer_name(which));
        OGR_F_SetFieldString(row, GEOMETRY, OGR_L_GetGeometryColumn(layer));
        OGR_F_SetFieldString(row, NAME, layout_layer_name(which));
        OGR_F_SetFieldString(row, QML, qml.data);
        OGR_F_SetFieldString(row, SLD, "");
        OGR_F_SetFieldInteger(row, DEFAULT, 1);
        OGR_F_SetFieldString(row, DESCRIPTION, "as on the plan sheets");
        OGR_F_SetFieldString(row, OWNER, "");
        added = OGR_L_CreateFeature(table, row) == OGRERR_NONE;
        OGR_F_Destroy(row);
    }
    text_release(&qml);
    return added;
}

bool layout_styles_add(GDALDatasetH dataset, const OGRLayerH layers[LAYOUT_LAYERS])
{
    char id[] = "FID=id";
    char *options[] = {id, NULL};
    OGRLayerH table =
        GDALDatasetCreateLayer(dataset, "layer_styles", NULL, wkbNone, options);
    bool added = table && make_columns(table);

    for (int i = 0; added && i < LAYOUT_LAYERS; i++)
        added = add_style(table, layers[i], (enum layout_layer)i);
    return added;
}
