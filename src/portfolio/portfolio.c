#include "portfolio/portfolio.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/arena.h"
#include "base/grow.h"
#include "roof/layout.h"

#define TEXT_BLOCK 65536 /* bytes of texts that are allocated at once */

struct portfolio {
    struct portfolio_roof *roofs;  /* owned */
    struct portfolio_money *money; /* owned; NULL without money */
    bool with_money;
    size_t count, room;
    struct arena *arena; /* owned; texts */
    char *at;            /* the block being filled */
    size_t left;
};

struct portfolio *portfolio_new(bool with_money)
{
    struct portfolio *portfolio = calloc(1, sizeof *portfolio);

    if (!portfolio)
        return NULL;
    portfolio->with_money = with_money;
    portfolio->arena = arena_new();
    if (portfolio->arena)
        return portfolio;
    portfolio_free(portfolio);
    return NULL;
}

void portfolio_free(struct portfolio *portfolio)
{
    if (!portfolio)
        return;
    arena_free(portfolio->arena);
    free(portfolio->roofs);
    free(portfolio->money);
    free(portfolio);
}

/* ---- Texts ---- */

static char *text_room(struct portfolio *portfolio, size_t size)
{
    char *room = NULL;

    if (size > portfolio->left) {
        size_t block = size > TEXT_BLOCK ? size : TEXT_BLOCK;

        portfolio->at = arena_alloc(portfolio->arena, block);
        portfolio->left = portfolio->at ? block : 0;
    }
    if (!portfolio->at)
        return NULL;
    room = portfolio->at;
    portfolio->at += size;
    portfolio->left -= size;
    return room;
}

static const char *keep_texts(struct portfolio *portfolio, const struct roof *roof)
{
    const char *const texts[] = {roof->id, roof->name ? roof->name : "",
                                 roof->building ? roof->building : ""};
    size_t sizes[3], total = 0;
    char *room = NULL;

    for (size_t i = 0; i < 3; i++)
        total += sizes[i] = strlen(texts[i]) + 1;
    room = text_room(portfolio, total);
    for (size_t i = 0, at = 0; room && i < 3; at += sizes[i++])
        memcpy(room + at, texts[i], sizes[i]);
    return room;
}

const char *portfolio_id(const struct portfolio_roof *roof)
{
    return roof->texts;
}

const char *portfolio_name(const struct portfolio_roof *roof)
{
    return roof->texts + strlen(roof->texts) + 1;
}

const char *portfolio_building(const struct portfolio_roof *roof)
{
    const char *name = portfolio_name(roof);

    return name + strlen(name) + 1;
}

/* ---- Records ---- */

static int16_t year_of(int year)
{
    return year >= 0 && year <= INT16_MAX ? (int16_t)year : MISSING;
}

/* Demand is what the rating is compared with: the factor of safety is in `required`, for
 * ultimate ratings, and in an allowable rating itself. */
static void keep_zones(struct portfolio_roof *out, const struct roof *roof)
{
    bool allowable = roof->given.rating_basis == RATING_ALLOWABLE;

    for (int role = 0; role < ZONE_ROLES; role++)
        out->uplift[role] = NAN;
    for (size_t i = 0; i < roof->zone_count; i++) {
        const struct zone *zone = &roof->zones[i];
        double demand = allowable ? zone->uplift.allowable : zone->uplift.required;

        out->share[zone->role] = (float)(zone->area / roof->area);
        if (!zone->uplift.known)
            continue;
        out->uplift[zone->role] = (float)zone->uplift.uplift;
        if (out->worst == ZONE_ROLES || demand > out->demand) {
            out->worst = (uint8_t)zone->role;
            out->demand = (float)demand;
            out->outside = zone->uplift.outside;
        }
    }
}

struct portfolio_roof portfolio_record(const struct roof *roof)
{
    const struct attributes *given = &roof->given;
    struct portfolio_roof out = {
        .area = roof->area,
        .demand = NAN,
        .capacity = (float)given->rating,
        .height = (float)roof->height,
        .edge_condition = (float)given->edge_condition,
        .condition = (float)given->condition,
        .slope = (float)given->slope,
        .position = (uint32_t)roof->position,
        .sections = (uint32_t)roof->position,
        .installed = year_of(given->installed),
        .assumed = roof->assumed,
        .estimated = (uint8_t)roof->estimated,
        .exposure =
            (uint8_t)(roof->velocity.known ? roof->velocity.exposure : given->exposure),
        .worst = ZONE_ROLES,
        .rating_basis = (uint8_t)given->rating_basis,
        .risk = (int8_t)given->risk,
        .use = (uint8_t)given->use,
        .whole = roof->whole,
        .zoned = roof->zoned,
        .topographic = (float)roof->velocity.kzt};

    if (roof->zoned)
        keep_zones(&out, roof);
    return out;
}

_Static_assert(ASSUMPTIONS <= 64 && ESTIMATES <= 8, "lists fit their bits");

/* The roof's own method is the first that is laid out. */
static struct portfolio_money money_of(const struct roof *roof, const struct quote *quote)
{
    return (struct portfolio_money){.quote = quote,
                                    .wet_share = (float)roof->given.wet_share,
                                    .covers = (int16_t)roof->given.covers,
                                    .replacement = roof->given.replacement_value,
                                    .earliest = year_of(roof->given.earliest),
                                    .latest = year_of(roof->given.latest),
                                    .fixed = year_of(roof->given.fixed_year),
                                    .method = (uint8_t)roof->method,
                                    .state = (uint8_t)roof->state,
                                    .scope = (uint8_t)roof->scope,
                                    .price = (uint8_t)(quote ? quote->basis : 0),
                                    .priced = quote != NULL};
}

/* ---- Quotes ---- */

static void *copy(struct arena *arena, const void *items, size_t count, size_t size)
{
    void *out = arena_array(arena, count, size);

    if (out && count)
        memcpy(out, items, count * size);
    return out;
}

/* The building's kinds of goods, once for all of its roofs. */
static const struct good_list *keep_list(struct arena *arena,
                                         const struct good_list *list)
{
    struct good_list *out = arena_array(arena, 1, sizeof *out);

    if (!out)
        return NULL;
    out->count = list->count;
    out->kinds = copy(arena, list->kinds, list->count, sizeof *list->kinds);
    return out->kinds ? out : NULL;
}

/* @param list  NULL until one of the building's roofs has needed it */
static const struct quote *keep_quote(struct arena *arena, const struct quote *quote,
                                      const struct good_list **list)
{
    struct quote *out = copy(arena, quote, 1, sizeof *quote);

    if (!out || !quote->list)
        return out;
    if (!*list)
        *list = keep_list(arena, quote->list);
    out->list = *list;
    out->goods = copy(arena, quote->goods, quote->good_count, sizeof *quote->goods);
    return out->list && out->goods ? out : NULL;
}

/* @return false when out of memory */
static bool keep_money(struct portfolio *portfolio, const struct roof *roof,
                       const struct good_list **list)
{
    bool priced = roof->costs && roof->layout_count > 0 && roof->costs[0].known;
    const struct quote *quote =
        priced ? keep_quote(portfolio->arena, &roof->quotes[0], list) : NULL;

    portfolio->money[portfolio->count] = money_of(roof, quote);
    return quote || !priced;
}

static bool make_room(struct portfolio *portfolio, size_t more)
{
    size_t room = portfolio->room;
    struct portfolio_roof *roofs =
        grow(portfolio->roofs, portfolio->count, more, &room, sizeof *portfolio->roofs);

    if (!roofs)
        return false;
    portfolio->roofs = roofs;
    if (portfolio->with_money) {
        struct portfolio_money *moneys = grow(portfolio->money, portfolio->count, more,
                                              &portfolio->room, sizeof *portfolio->money);

        if (!moneys)
            return false;
        portfolio->money = moneys;
    }
    portfolio->room = room;
    return true;
}

enum outlay_status portfolio_add(struct portfolio *portfolio,
                                 const struct building *building,
                                 struct outlay_error *err)
{
    const struct good_list *list = NULL;

    if (!make_room(portfolio, building->roof_count))
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    for (size_t i = 0; i < building->roof_count; i++) {
        const struct roof *roof = &building->roofs[i];
        struct portfolio_roof *out = &portfolio->roofs[portfolio->count];

        *out = portfolio_record(roof);
        if (roof->section_group > 0)
            out->sections = (uint32_t)building->roofs[roof->section_group - 1].position;
        out->texts = keep_texts(portfolio, roof);
        if (!out->texts)
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        if (portfolio->with_money && !keep_money(portfolio, roof, &list))
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        portfolio->count++;
    }
    return OUTLAY_OK;
}

enum outlay_status portfolio_set_apart(struct portfolio *portfolio,
                                       const struct duplicate_list *list,
                                       struct outlay_error *err)
{
    for (size_t i = 0; list->count && i < portfolio->count; i++) {
        struct portfolio_roof *roof = &portfolio->roofs[i];
        const char *reason = duplicates_find(list, portfolio_id(roof), roof->position);

        if (!reason)
            continue;
        roof->duplicate = arena_text(portfolio->arena, reason, strlen(reason));
        if (!roof->duplicate)
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    }
    return OUTLAY_OK;
}

size_t portfolio_count(const struct portfolio *portfolio)
{
    return portfolio->count;
}

const struct portfolio_roof *portfolio_roof(const struct portfolio *portfolio,
                                            size_t index)
{
    return &portfolio->roofs[index];
}

const struct portfolio_money *portfolio_money(const struct portfolio *portfolio,
                                              size_t index)
{
    return portfolio->with_money ? &portfolio->money[index] : NULL;
}

double portfolio_force(const struct portfolio_roof *roof, enum zone_role role)
{
    if (!roof->zoned || roof->worst == ZONE_ROLES)
        return NAN;
    return roof->share[role] > 0
               ? (double)roof->uplift[role] * (double)roof->share[role] * roof->area
               : 0;
}

double portfolio_force_in_all(const struct portfolio_roof *roof)
{
    double force = 0;

    for (int role = 0; role < ZONE_ROLES; role++)
        force += portfolio_force(roof, (enum zone_role)role);
    return force;
}

/* ---- Order ---- */

/* Missing numbers come last. */
static int compare_numbers(double a, double b)
{
    if (isnan(a) || isnan(b))
        return isnan(a) - isnan(b);
    return (a > b) - (a < b);
}

int portfolio_compare(const struct portfolio_roof *a, const struct portfolio_roof *b)
{
    const double of_a[] = {a->area,      a->height,         a->demand,    a->capacity,
                           a->condition, a->edge_condition, a->installed, a->risk,
                           a->exposure,  a->share[0],       a->share[1],  a->share[2],
                           a->use};
    const double of_b[] = {b->area,      b->height,         b->demand,    b->capacity,
                           b->condition, b->edge_condition, b->installed, b->risk,
                           b->exposure,  b->share[0],       b->share[1],  b->share[2],
                           b->use};
    int order = strcmp(portfolio_id(a), portfolio_id(b));

    if (order == 0)
        order = strcmp(portfolio_building(a), portfolio_building(b));
    if (order == 0)
        order = strcmp(portfolio_name(a), portfolio_name(b));
    for (size_t i = 0; order == 0 && i < sizeof of_a / sizeof of_a[0]; i++)
        order = compare_numbers(of_a[i], of_b[i]);
    return order;
}
