#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/print.h"
#include "base/units.h"
#include "order/bill_private.h"
#include "order/debris.h"
#include "order/insulation.h"
#include "roof/basis.h"
#include "roof/field.h"
#include "roof/fixtures.h"

const char *order_by_name(int value)
{
    static const char *const names[] = {"visit", "building", "roof", "portfolio"};

    return value >= 0 && value < 4 ? names[value] : NULL;
}

struct order_settings order_defaults(void)
{
    return (struct order_settings){
        .order_by = ORDER_BY_VISIT,
        .opening_area = 30 * M2_PER_FT2,
        .flashing_height = 8 * M_PER_IN,
        .end_lap = 3 * M_PER_IN,
        .offcut = 10 * M_PER_FT,
    };
}

/* ---- Items ---- */

static struct bill_item *new_item(struct count *count, enum item_use use)
{
    const struct item *found = item_find(count->settings->items, use, count->deck);
    struct bill_item *item = NULL;

    if (count->bill->count == count->room)
        return NULL;
    item = &count->bill->items[count->bill->count++];
    *item = (struct bill_item){.use = use,
                               .item = item_use_name((int)use),
                               .holds = NAN,
                               .packs = NAN,
                               .bundle = found ? found->bundle : NAN};
    if (found && found->name[0])
        item->item = found->name;
    if (found && found->pack[0])
        item->pack = found->pack;
    if (found)
        item->holds = found->holds;
    return item;
}

struct bill_item *count_item(struct count *count, enum item_use use, double net)
{
    struct bill_item *item = net > 0 ? new_item(count, use) : NULL;

    if (item)
        item->net = net;
    return item;
}

void count_not_given(struct count *count, enum item_use use, const char *note)
{
    struct bill_item *item = new_item(count, use);

    if (!item)
        return;
    item->note = note;
    item->net = item->laps = item->cuts = item->spare = item->rounding = NAN;
    item->laid = item->ordered = NAN;
}

void count_close(struct count *count, struct bill_item *item)
{
    const struct item *found = item_find(count->settings->items, item->use, count->deck);
    bool pieces = item_use_measure(item->use) == BILL_EACH;

    item->laid = item->net + item->laps;
    if (found) {
        item->spare = item->laid * found->spare;
        if (pieces)
            item->spare = ceil(item->spare - 1e-9);
        count->hours += item->laid * found->hours;
    }
    item->ordered = item->laid + item->cuts + item->spare + item->rounding;
}

enum outlay_status count_name(struct count *count, const char **out, const char *format,
                              ...)
{
    char name[240];
    va_list args;
    const char *made = NULL;

    va_start(args, format);
    print_plain(name, sizeof name, format, args);
    va_end(args);
    made = arena_text(count->arena, name, strlen(name));
    if (!made)
        return outlay_fail(count->err, OUTLAY_E_MEMORY, "counting a roof");
    *out = made;
    return OUTLAY_OK;
}

static struct bill_item *add(struct count *count, enum item_use use, double net)
{
    struct bill_item *item = count_item(count, use, net);

    if (item)
        count_close(count, item);
    return item;
}

/* ---- What follows from counts and the old roof ---- */

/* Pads end to end, each straight part with whole ones. */
static void count_walkways(struct count *count)
{
    const struct roof *roof = count->roof;
    const struct item *pad = item_find(count->settings->items, USE_WALKWAY, count->deck);
    double length = pad_size_of(pad ? pad->name : "").length;
    double pads = 0;

    for (size_t i = 0; i < roof->walkway_count; i++)
        pads += ceil(
            point_distance(roof->walkways[i].from, roof->walkways[i].to) / length - 1e-6);
    if (pads > 0)
        add(count, USE_WALKWAY, pads);
    else
        count_not_given(count, USE_WALKWAY,
                        "not counted: ways to hatches and units not given");
}

static void count_details(struct count *count)
{
    int penetrations = roof_penetrations(count->roof);
    int drains = roof_drains(count->roof);

    if (penetrations >= 0)
        add(count, USE_BOOT, penetrations);
    else
        count_not_given(count, USE_BOOT, "not counted: penetrations not given");
    if (drains >= 0) {
        add(count, USE_TARGET, drains);
        add(count, USE_SUMP, drains);
    } else {
        count_not_given(count, USE_TARGET, "not counted: drains not given");
        count_not_given(count, USE_SUMP, "not counted: drains not given");
    }
    add(count, USE_SCUPPER, fixtures_count(count->roof, FIXTURE_SCUPPER));
    count_walkways(count);
}

/* The covers and, since new boards are counted in full, the old ones below them. */
static void count_debris(struct count *count, double area)
{
    const struct roof *roof = count->roof;
    double density = debris_density(roof->given.existing);
    int covers = roof->given.covers > 1 ? roof->given.covers : 1;
    double cover = area * covers * debris_weight(roof->given.existing);
    double boards = area * roof->basis.stack;
    struct bill_item *item =
        add(count, USE_DEBRIS_WEIGHT, cover + boards * debris_board_density());

    if (item && roof->given.existing == EXISTING_NOT_GIVEN)
        item->note = boards > 0 ? "cover not given, taken for gravel-surfaced; old boards"
                                : "cover not given, taken for gravel-surfaced";
    else if (item)
        item->note = boards > 0 ? "cover and old boards" : "cover";
    add(count, USE_DEBRIS_VOLUME, cover / density + boards * debris_board_bulking());
}

static void count_tear_off(struct count *count)
{
    const struct roof *roof = count->roof;
    int covers = roof->given.covers;
    bool recover = roof->scope == SCOPE_RECOVER;
    double area = count->field.area * (recover ? fmax(roof->given.wet_share, 0) : 1);
    struct bill_item *item = NULL;

    if (covers == 0)
        return;
    item = add(count, USE_TEAR_OFF, area * (covers > 1 ? covers : 1));
    if (item && recover)
        item->note = "the wet part only";
    if (item && covers > 1)
        item->note = "area of all covers, one on the other";
    if (item && covers < 0)
        item->note = "covers not given: one cover torn off, assumed";
    count_debris(count, area);
}

/* Crews are slower on high roofs. */
static void count_hours(struct count *count)
{
    double above = fmax(count->roof->height - count->settings->high_from, 0);
    double factor = 1 + count->settings->high_share * above;
    struct bill_item *item = add(count, USE_CREW, count->hours * factor);

    if (item)
        item->note = "rates of the catalogue, which is invented unless you changed it";
}

/* ---- The bill ---- */

static double small_openings(const struct region *outline, double limit)
{
    double sum = 0;

    for (size_t i = 0; i < outline->polygon_count; i++)
        for (size_t r = 1; r < outline->polygons[i].ring_count; r++) {
            double area = fabs(ring_area(outline->polygons[i].rings[r]));

            sum += area < limit ? area : 0;
        }
    return sum;
}

static struct count start(struct arena *arena, const struct roof *roof,
                          const struct layout *layout,
                          const struct order_settings *settings, struct bill *bill,
                          struct outlay_error *err)
{
    bool seam = layout->method == METHOD_SEAM_FASTENED;
    struct field field = roof_field(roof);
    double old = roof->basis.stack;
    /* No boards is an answer for sheets that are fastened themselves only. */
    double alike = old > 0 || seam ? old : STACK_USUAL;
    bool recover = roof->scope == SCOPE_RECOVER;
    /* A roof without any insulation is taken for one over a space that isn't heated. */
    double least = old > 0 ? insulation_least(settings->climate_zone) : 0;
    double needed = recover ? RECOVER_BOARD : fmax(alike, least);
    double stack = needed > 0 || seam ? needed : STACK_USUAL;

    return (struct count){
        .arena = arena,
        .roof = roof,
        .layout = layout,
        .settings = settings,
        .assembly = layout->made_of,
        .deck = roof->basis.deck,
        .stack = stack,
        .under = recover ? old : 0,
        .layers = layers_of(stack),
        .stack_given = !isnan(roof->given.stack) && alike == old,
        .openings = small_openings(&field.outline, settings->opening_area),
        .field = field,
        .end_laps = layout->end_lap,
        .t_joints = (double)layout->t_joints,
        .bill = bill,
        .room = BILL_ROOM + taper_items(roof, settings->items),
        .err = err,
    };
}

/* By name where a use has several items. */
static int by_use(const void *a, const void *b)
{
    const struct bill_item *x = a;
    const struct bill_item *y = b;

    if (x->use != y->use)
        return x->use < y->use ? -1 : 1;
    return strcmp(x->item, y->item);
}

enum outlay_status order_bill(struct arena *arena, const struct roof *roof,
                              const struct layout *layout,
                              const struct order_settings *settings, bool set_up,
                              struct bill *out, struct outlay_error *err)
{
    struct count count = start(arena, roof, layout, settings, out, err);
    enum outlay_status status = OUTLAY_OK;

    *out = (struct bill){0};
    if (!count.assembly || layout->sheet_count == 0)
        return OUTLAY_OK;
    out->items = arena_array(arena, count.room, sizeof *out->items);
    if (!out->items)
        return outlay_fail(err, OUTLAY_E_MEMORY, "counting a roof");
    status = count_sheets(&count);
    if (status == OUTLAY_OK)
        status = count_boards(&count);
    if (status == OUTLAY_OK)
        status = count_taper(&count);
    if (status != OUTLAY_OK)
        return status;
    status = count_edges(&count);
    add(&count, USE_T_JOINT, count.t_joints);
    add(&count, USE_CUT_EDGE, count.end_laps);
    add(&count, USE_WELD_SIDE, layout->side_lap);
    add(&count, USE_WELD_END, count.end_laps);
    count_details(&count);
    count_tear_off(&count);
    add(&count, USE_SET_UP, set_up ? 1 : 0);
    count_hours(&count);
    qsort(out->items, out->count, sizeof *out->items, by_use);
    return status;
}
