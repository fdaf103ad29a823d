#ifndef OUTLAY_DRAW_SITE_SHEET_H
#define OUTLAY_DRAW_SITE_SHEET_H

/**
 * @file draw/site_sheet.h
 * The pages of one roof's site sheet while they are drawn, and the parts that fill them.
 * Private to the room.
 *
 * First the caution and what the roof is, on every page; then, on the first, the plan
 * with its key and what to bring; then the form, item by item, on as many pages as it
 * takes.
 */

#include <stdbool.h>
#include <stddef.h>

#include "draw/plan_page.h"
#include "survey/survey.h"

/** Points on paper for a point of the canvas: the least lettering of plan sheets, 7.8 pt,
 *  is 8.6 pt here. */
#define SITE_FULL 1.1

/** Points of the canvas for a millimetre on paper. */
#define SITE_MM (72 / 25.4 / SITE_FULL)

/* What is common to letter (215.9 x 279.4 mm) and A4 (210 x 297 mm) wherever one of them
 * is put on the other, less 5 mm or more on all sides, which printers leave white. */
#define SITE_WIDTH (190 * SITE_MM)
#define SITE_HEIGHT (250 * SITE_MM)

struct site_sheet {
    struct plan_page page; /**< canvas, set, paper, building and roof are the caller's */
    const struct site_survey *survey;
    const struct survey_rules *rules;
    int number;  /**< of the page within the roof, from 1 once it is drawn */
    double y;    /**< where the next part goes */
    size_t next; /**< item of the form that comes next */
    bool fresh;  /**< a further page, of which nothing is drawn below the head */
    size_t names_left_out; /**< of places that found no room on the plan */
};

/**
 * Draws the next page of a sheet, the first one when number is 0. The canvas's page must
 * be empty.
 * @return whether another page follows
 */
bool site_sheet_draw(struct site_sheet *sheet);

/** Frees what the sheet owns.
 *  @return false when memory ran out: a page lacks something */
bool site_sheet_release(struct site_sheet *sheet);

/** Bits 1u << TASK_... of its places and of what goes by day. */
unsigned site_sheet_tasks(const struct site_sheet *sheet);

/** Paragraph across the sheet, as high as it needs; moves on below it. */
void site_paragraph(struct site_sheet *sheet, struct lettering lettering,
                    const char *text);

/** The bottom of the sheet for its parts; below is the line of the page's number. */
double site_bottom(const struct site_sheet *sheet);

/** Whether a place lies at an edge, where work needs fall protection. */
bool site_at_edge(const struct survey_place *place);

/* ---- The parts, each in its file ---- */

/* site_sheet_plan.c */

/** The plan with numbered places, and its key below. @param height  of the plan, pt */
void site_plan_draw(struct site_sheet *sheet, double height);

/** What the key takes below the plan at the most, pt. */
double site_key_height(const struct site_sheet *sheet);

/** The height at which the plan uses the sheet's width, within bounds, pt. */
double site_plan_wanted(const struct site_sheet *sheet);

/** Below this a plan is of little use, pt. */
#define SITE_PLAN_LEAST 120.0

/** A name of a place in its box: dark for one at an edge. @param middle  of the box */
void site_name_draw(struct site_sheet *sheet, const struct survey_place *place,
                    struct point middle);

/* site_sheet_bring.c: what to bring, to tick off. */
void site_bring_draw(struct site_sheet *sheet);
double site_bring_height(const struct site_sheet *sheet);

/* site_sheet_form.c */

/** Number of its items: rows, notes, the lines to sign. */
size_t site_form_items(const struct site_sheet *sheet);

/** What the items from sheet->next on take on one page, pt. */
double site_form_height(struct site_sheet *sheet);

/** Draws the items from sheet->next on that this page has room for. */
void site_form_draw(struct site_sheet *sheet);

/* site_sheet_words.c */

/** What a value is written in: "lbf", "yes / no", "word". */
const char *site_entry_unit(enum finding_kind kind, bool si);

/** What goes onto the roof for some tasks, from 0.
 *  @param tasks  bits 1u << TASK_...  @return NULL past the last that they need */
const char *site_tool(unsigned tasks, size_t index);

#endif
