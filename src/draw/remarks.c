/* On the right: what is weak about this roof, by word and shape. What has no room is
 * counted; the tables have it all. */

#include <math.h>
#include <string.h>

#include "base/plural.h"
#include "draw/plan_page.h"
#include "write/vouched.h"

/* The worst comes first. */
struct remarks {
    struct plan_page *page;
    double y;
    size_t left_out;
    uint64_t assumed; /* of ASSUMPTION_BIT(): those left out */
};

static const char *sign_of(enum severity severity)
{
    switch (severity) {
    case SEVERITY_ERROR:
        return "\xE2\x9C\x95"; /* cross */
    case SEVERITY_WARNING:
        return "\xE2\x96\xB3"; /* open triangle */
    case SEVERITY_NOTE:
        break;
    }
    return "\xE2\x80\x93"; /* dash */
}

/* Puts the page's scratch down, its sign in front. */
static void put(struct remarks *remarks, const char *sign, struct lettering lettering)
{
    struct plan_page *page = remarks->page;
    struct area side = page->side;
    double left = side.x + 21, width = side.width - 31;
    double bottom = side.y + side.height - LINE - 3;
    const double longest = 4.3 * LINE;
    double height =
        canvas_paragraph_height(page->canvas, lettering, width, plan_text(page));
    height = fmin(height, longest) + 0.5;
    if (remarks->left_out || remarks->y + height > bottom) {
        remarks->left_out++;
        return;
    }
    plan_cell(page, lettering, side.x + 10, remarks->y - 0.4, 10, ALIGN_LEFT, sign);
    canvas_paragraph(page->canvas, lettering,
                     (struct area){left, remarks->y, width, height}, plan_text(page));
    remarks->y += height + 0.8;
}

static bool same_reason(const struct zone *a, const struct zone *b)
{
    return a->attachment.state == b->attachment.state && b->attachment.reason &&
           strcmp(a->attachment.reason, b->attachment.reason) == 0;
}

/* One remark of a zone and of those after it that share state and reason; none where one
 * before it did. */
static void put_state(struct remarks *remarks, const struct roof *roof, size_t first)
{
    const struct zone *zone = &roof->zones[first];
    struct text *text = NULL;
    for (size_t i = 0; i < first; i++)
        if (same_reason(zone, &roof->zones[i]))
            return;
    text = plan_scratch(remarks->page);
    text_puts(text, zone_state_name((int)zone->attachment.state));
    for (size_t i = first; i < roof->zone_count; i++)
        if (same_reason(zone, &roof->zones[i]))
            text_printf(text, ", %s", zone_role_name((int)roof->zones[i].role));
    text_printf(text, ": %s", zone->attachment.reason);
    put(remarks, state_sign(zone->attachment.state),
        zone->attachment.state == STATE_NOT_MET ? STRONG : PLAIN);
}

static void put_states(struct remarks *remarks)
{
    const struct roof *roof = remarks->page->roof;
    for (int pass = STATE_NOT_MET; pass >= STATE_UNKNOWN; pass--)
        for (size_t i = 0; i < roof->zone_count; i++)
            if (roof->zones[i].attachment.state == (enum zone_state)pass &&
                roof->zones[i].attachment.reason)
                put_state(remarks, roof, i);
}

static void put_problems(struct remarks *remarks, enum severity severity)
{
    for (const struct problem *p = remarks->page->roof->problems; p; p = p->next) {
        /* Zones that aren't met have said why. */
        if (problem_severity(p->code) != severity || p->code == PROBLEM_NOT_MET)
            continue;
        text_printf(plan_scratch(remarks->page), "%s: %s%s%s", severity_name(severity),
                    p->what, *p->done ? "; " : "", p->done);
        put(remarks, sign_of(severity), PLAIN);
    }
}

static void put_open(struct remarks *remarks, int item, const char *sign,
                     const char *word, const char *reason)
{
    struct text *scratch = plan_scratch(remarks->page);
    text_printf(scratch, "%s %s: ", word, open_item_name(item));
    units_choose(scratch, reason, remarks->page->set->units);
    put(remarks, sign, PLAIN);
}

static void put_estimates(struct remarks *remarks)
{
    for (int i = 0; i < ESTIMATES; i++)
        if (remarks->page->roof->estimated & 1u << i)
            put_open(remarks, i, "\xE2\x89\x88", "estimated", estimate_reason(i));
}

/* What lacks a source is the same on most sheets, and is said in a line. */
static void put_sources(struct remarks *remarks)
{
    const struct roof *roof = remarks->page->roof;
    struct text *scratch = plan_scratch(remarks->page);
    uint64_t sources = 0;
    for (int i = 0; i < ASSUMPTIONS; i++) {
        if (!(roof->assumed & ASSUMPTION_BIT(i)) ||
            assumption_sort((enum assumption)i) != SORT_SOURCE)
            continue;
        text_printf(scratch, "%s%s",
                    sources ? ", " : "assumed, without a source: ", assumption_name(i));
        sources |= ASSUMPTION_BIT(i);
    }
    if (sources)
        put(remarks, state_sign(STATE_MET_ASSUMED), PLAIN);
    if (remarks->left_out)
        remarks->assumed |= sources;
}

static void put_assumptions(struct remarks *remarks)
{
    for (int i = 0; i < ASSUMPTIONS; i++) {
        if (!(remarks->page->roof->assumed & ASSUMPTION_BIT(i)) ||
            assumption_sort((enum assumption)i) == SORT_SOURCE)
            continue;
        put_open(remarks, ESTIMATES + i, state_sign(STATE_MET_ASSUMED), "assumed",
                 assumption_reason(i));
        if (remarks->left_out)
            remarks->assumed |= ASSUMPTION_BIT(i);
    }
}

static void put_vouched(struct remarks *remarks)
{
    const struct roof *roof = remarks->page->roof;
    struct text *scratch = plan_scratch(remarks->page);
    vouched_found(scratch, roof);
    if (scratch->length)
        put(remarks, state_sign(STATE_MET), PLAIN);
    for (int i = 0; i < ASSUMPTIONS; i++)
        if (vouched_closing(plan_scratch(remarks->page), roof, (enum assumption)i))
            put(remarks, state_sign(STATE_MET), PLAIN);
}

/* What has no room is counted; what is assumed is named all the same. */
static void put_left_out(struct remarks *remarks)
{
    struct plan_page *page = remarks->page;
    struct text *text = plan_scratch(page);
    const char *before = " (assumed ";
    text_printf(text, "%zu further remark%s", remarks->left_out,
                PLURAL(remarks->left_out));
    for (int bit = 0; bit < ASSUMPTIONS; bit++)
        if (remarks->assumed & ASSUMPTION_BIT(bit)) {
            text_printf(text, "%s%s", before, assumption_name(bit));
            before = ", ";
        }
    text_puts(text, remarks->assumed ? "): see the tables" : ": see the tables");
    plan_cell(page, STRONG, page->side.x + 21, remarks->y, page->side.width - 31,
              ALIGN_LEFT, plan_text(page));
}

static void put_scope(struct remarks *remarks)
{
    const struct roof *roof = remarks->page->roof;
    if (roof->scope == SCOPE_NOT_GIVEN || !roof->scope_reason)
        return;
    text_printf(plan_scratch(remarks->page), "%s: %s", scope_name((int)roof->scope),
                roof->scope_reason);
    bool assumed = strncmp(roof->scope_reason, "assumed", strlen("assumed")) == 0;
    put(remarks, assumed ? state_sign(STATE_MET_ASSUMED) : sign_of(SEVERITY_NOTE), PLAIN);
}

static void put_invented(struct remarks *remarks)
{
    const struct write_settings *set = remarks->page->set;
    if (!set->catalog_built_in && !set->items_built_in)
        return;
    text_printf(plan_scratch(remarks->page), "invented: %s%s%s of the built-in tables",
                set->catalog_built_in ? "ratings" : "",
                set->catalog_built_in && set->items_built_in ? ", " : "",
                set->items_built_in ? "packs and crew rates" : "");
    put(remarks, state_sign(STATE_MET_ASSUMED), PLAIN);
}

void remarks_draw(struct plan_page *page, double y)
{
    struct remarks remarks = {page, side_heading(page, y, "Remarks"), 0, 0};
    remarks.y += 1;
    put_problems(&remarks, SEVERITY_ERROR);
    put_states(&remarks);
    put_problems(&remarks, SEVERITY_WARNING);
    put_invented(&remarks);
    put_estimates(&remarks);
    put_assumptions(&remarks);
    put_sources(&remarks);
    put_vouched(&remarks);
    put_scope(&remarks);
    put_problems(&remarks, SEVERITY_NOTE);
    if (remarks.left_out)
        put_left_out(&remarks);
}
