/* From the zones' patterns to what is laid: rows and what their fasteners carry, sheets,
 * boards. Like things that follow one another are put together. */

#include <math.h>

#include "base/plural.h"
#include "base/units.h"
#include "explain/derivation_parts.h"
#include "roof/field.h"
#include "roof/fixtures.h"

/* Lengths that differ by less are the same, m: tracing. */
static const double same = 0.02;

static void put_length(const struct derivation *derivation, double value)
{
    put_quantity(derivation, value, &derivation->units->length);
}

/* ---- Sheets ---- */

static const char *sheet_word(enum sheet_kind kind)
{
    switch (kind) {
    case SHEET_FULL:
        return "full sheet";
    case SHEET_HALF:
        return "half sheet";
    case SHEET_COVER_STRIP:
        break;
    }
    return "cover strip";
}

static bool sheets_alike(const struct sheet *a, const struct sheet *b)
{
    return a->kind == b->kind && fabs(a->width - b->width) < same &&
           fabs(a->length - b->length) < same;
}

/* "   sheets 3 to 24: 22 full sheets, 10.0 ft wide, 420.0 ft long" */
static void put_sheets_alike(const struct derivation *derivation,
                             const struct sheet *sheets, size_t count)
{
    struct text *out = derivation->out;

    if (sheets[0].number == 0)
        text_puts(out, "   not numbered");
    else if (count == 1)
        text_printf(out, "   sheet %d", sheets[0].number);
    else
        text_printf(out, "   sheets %d to %d", sheets[0].number,
                    sheets[count - 1].number);
    text_printf(out, ": %zu %s%s, ", count, sheet_word(sheets[0].kind), PLURAL(count));
    put_length(derivation, sheets[0].width);
    text_puts(out, " wide, ");
    put_length(derivation, sheets[0].length);
    text_puts(out, " long\n");
}

static void put_sheets(const struct derivation *derivation, const struct layout *layout)
{
    double bearing = fmod(450 - layout->bearing * 180 / acos(-1), 180);

    text_puts(derivation->out, "   sheets run ");
    text_fixed(derivation->out, bearing, 1);
    text_puts(derivation->out, " degrees from north: ");
    put_words(derivation, layout->bearing_reason);
    text_putc(derivation->out, '\n');
    for (size_t i = 0, next; i < layout->sheet_count; i = next) {
        for (next = i + 1; next < layout->sheet_count &&
                           sheets_alike(&layout->sheets[i], &layout->sheets[next]);)
            next++;
        put_sheets_alike(derivation, &layout->sheets[i], next - i);
    }
    text_puts(derivation->out, "   welds: along the sheets ");
    put_length(derivation, layout->side_lap);
    text_puts(derivation->out, "; at mitres ");
    put_length(derivation, layout->end_lap);
    text_putc(derivation->out, '\n');
}

/* ---- Rows ---- */

/* A row, or a ring, from its pieces. */
struct row_sum {
    size_t first; /* row */
    bool base, closed, intermediate;
    double length; /* m */
    int fasteners;
};

/* @return the piece behind the row's last */
static size_t row_take(const struct layout *layout, size_t piece, struct row_sum *out)
{
    const struct row_piece *first = &layout->rows[piece];

    *out = (struct row_sum){first->row,          first->base, first->closed,
                            first->intermediate, 0,           0};
    for (; piece < layout->row_count && layout->rows[piece].row == first->row; piece++) {
        out->length += point_distance(layout->rows[piece].from, layout->rows[piece].to);
        out->fasteners += layout->rows[piece].fasteners;
    }
    return piece;
}

static bool rows_alike(const struct row_sum *a, const struct row_sum *b)
{
    return a->base == b->base && a->closed == b->closed &&
           a->intermediate == b->intermediate && a->fasteners == b->fasteners &&
           fabs(a->length - b->length) < same;
}

static void put_rows_alike(const struct derivation *derivation, const struct row_sum *row,
                           size_t count)
{
    struct text *out = derivation->out;
    const char *what = row->base           ? "base securement"
                       : row->closed       ? "ring"
                       : row->intermediate ? "row under a cover strip"
                                           : "row";

    text_printf(out, "   %zu x %s of ", count, what);
    put_length(derivation, row->length);
    text_printf(out, ", %d fastener%s%s\n", row->fasteners, PLURAL(row->fasteners),
                count > 1 ? " each" : "");
}

static void put_rows(const struct derivation *derivation, const struct layout *layout)
{
    struct row_sum row = {0}, next = {0};
    size_t alike = 0;
    long fasteners = 0;

    for (size_t i = 0; i < layout->row_count; alike++) {
        i = row_take(layout, i, &next);
        fasteners += next.fasteners;
        if (alike > 0 && !rows_alike(&row, &next)) {
            put_rows_alike(derivation, &row, alike);
            alike = 0;
        }
        row = next;
    }
    if (alike == 0)
        return;
    put_rows_alike(derivation, &row, alike);
    text_printf(derivation->out, "   together %ld fasteners in rows\n", fasteners);
}

/* ---- What a fastener carries ---- */

/* The piece of a row in a zone whose fasteners carry most. */
static const struct row_piece *worst_piece(const struct layout *layout,
                                           enum zone_role role)
{
    const struct row_piece *worst = NULL;

    for (size_t i = 0; i < layout->row_count; i++) {
        const struct row_piece *piece = &layout->rows[i];

        if (piece->zone == role && isfinite(piece->load) &&
            (!worst || piece->load > worst->load))
            worst = piece;
    }
    return worst;
}

static void put_load(const struct derivation *derivation, const struct zone *zone,
                     const struct row_piece *piece)
{
    const struct unit_system *units = derivation->units;
    struct text *out = derivation->out;

    put_zone(derivation, zone);
    text_puts(out, "tributary area of a fastener ");
    put_length(derivation, piece->tributary);
    text_puts(out, " x ");
    put_quantity(derivation, piece->spacing, &units->small);
    text_puts(out, " = ");
    put_quantity(derivation, piece->tributary * piece->spacing, &units->area);
    text_puts(out, "; x allowable uplift ");
    put_quantity(derivation, zone->uplift.allowable, &units->pressure);
    text_puts(out, " = ");
    put_quantity(derivation, piece->tributary * piece->spacing * zone->uplift.allowable,
                 &units->force);
    text_puts(out, "\n      as laid, with its share of the zones beside it: ");
    put_quantity(derivation, piece->load, &units->force);
    text_puts(out, "; a fastener holds ");
    put_quantity(derivation, derivation->roof->fastener_load, &units->force);
    text_printf(out, ": %s\n",
                zone_state_name(derivation->roof->layouts[0].states[zone->role]));
}

static void put_loads(const struct derivation *derivation, const struct layout *layout)
{
    const struct roof *roof = derivation->roof;

    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct row_piece *worst = worst_piece(layout, roof->zones[i].role);

        if (worst)
            put_load(derivation, &roof->zones[i], worst);
    }
}

/* ---- Boards ---- */

struct board_sum {
    size_t whole, cut;
    int each;              /* plates of a whole board; MISSING: they differ */
    long in_whole, in_cut; /* plates */
};

static void put_zone_boards(const struct derivation *derivation, const struct zone *zone,
                            const struct board_sum *sum)
{
    struct text *out = derivation->out;

    put_zone(derivation, zone);
    text_printf(out, "%zu whole board%s", sum->whole, PLURAL(sum->whole));
    if (sum->in_whole > 0 && sum->each != MISSING)
        text_printf(out, " x %d = %ld", sum->each, sum->in_whole);
    else if (sum->in_whole > 0)
        text_printf(out, " with %ld", sum->in_whole);
    text_printf(out, ", %zu cut", sum->cut);
    if (sum->in_cut > 0)
        text_printf(out, " with %ld", sum->in_cut);
    if (sum->in_whole + sum->in_cut > 0)
        text_printf(out, ": %ld fasteners", sum->in_whole + sum->in_cut);
    text_putc(out, '\n');
}

static void put_boards(const struct derivation *derivation, const struct layout *layout)
{
    const struct roof *roof = derivation->roof;
    struct board_sum sums[ZONE_ROLES] = {{0}};

    for (size_t i = 0; i < layout->board_count; i++) {
        const struct board *board = &layout->boards[i];
        struct board_sum *sum = &sums[board->zone];

        if (board->whole && sum->whole == 0)
            sum->each = board->plates;
        else if (board->whole && sum->each != board->plates)
            sum->each = MISSING;
        *(board->whole ? &sum->whole : &sum->cut) += 1;
        *(board->whole ? &sum->in_whole : &sum->in_cut) += board->plates;
    }
    if (layout->board_count > 0)
        text_puts(derivation->out, "   boards of one layer, each with the zone whose "
                                   "pattern it has:\n");
    for (size_t i = 0; i < roof->zone_count; i++)
        if (sums[roof->zones[i].role].whole + sums[roof->zones[i].role].cut > 0)
            put_zone_boards(derivation, &roof->zones[i], &sums[roof->zones[i].role]);
}

static void put_walkways(const struct derivation *derivation)
{
    const struct roof *roof = derivation->roof;
    double sum = 0;

    for (size_t i = 0; i < roof->walkway_count; i++)
        sum += point_distance(roof->walkways[i].from, roof->walkways[i].to);
    if (roof->walkway_count == 0)
        return;
    text_puts(derivation->out, "   walkways: ");
    put_length(derivation, sum);
    text_printf(derivation->out, " in %zu straight part%s\n", roof->walkway_count,
                PLURAL(roof->walkway_count));
}

/* What is covered, where walls stand on the outline. */
static void put_field(const struct derivation *derivation)
{
    const struct field *field = derivation->roof->field;

    if (!field)
        return;
    text_puts(derivation->out, "   inside the parapets: ");
    put_quantity(derivation, field->area, &derivation->units->area);
    text_puts(derivation->out, "\n");
}

void put_layout(const struct derivation *derivation)
{
    const struct layout *layout = derivation->roof->layouts;

    text_puts(derivation->out, "\n7. Layout\n");
    if (!roof_laid_out(derivation->roof)) {
        text_printf(derivation->out, "   nothing laid out: %s\n",
                    roof_all_wall(derivation->roof)
                        ? "parapets leave nothing between them"
                        : "no assembly serves");
        return;
    }
    put_field(derivation);
    put_sheets(derivation, layout);
    put_rows(derivation, layout);
    put_loads(derivation, layout);
    put_boards(derivation, layout);
    put_walkways(derivation);
}
