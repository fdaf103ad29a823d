#ifndef OUTLAY_COMMANDS_COMMANDS_H
#define OUTLAY_COMMANDS_COMMANDS_H

/**
 * @file commands/commands.h
 * What the commands do, apart from how they are called: each takes resolved settings
 * and messages, and appends what it has to say on standard output to a text.
 */

#include "base/text.h"
#include "options/messages.h"
#include "options/settings.h"
#include "outlay/outlay.h"

/** @return as outlay_job_run(), or as a command says */
typedef enum outlay_status command_work(const struct settings *settings,
                                        const struct messages *messages,
                                        struct outlay_result *result, struct text *report,
                                        struct outlay_error *err);

/* Into a folder of files, which settings->parts chooses; report gets a table. */

/** All stages; everything is written, within limits. */
OUTLAY_MUST_CHECK command_work command_run;

/** Materials, layouts and summary. */
OUTLAY_MUST_CHECK command_work command_takeoff;

/** Comparison and summary, by all methods unless settings->attach.methods names some. */
OUTLAY_MUST_CHECK command_work command_compare;

/** What to check on each roof, where and why, as forms to fill in. */
OUTLAY_MUST_CHECK command_work command_survey;

/** Roofs in the order of their exposure to wind; none is laid out. */
OUTLAY_MUST_CHECK command_work command_rank;

/** Roofs over years under caps; each is laid out and priced by its own method.
 *  @return OUTLAY_E_LIMIT too where what must be done doesn't fit the caps */
OUTLAY_MUST_CHECK command_work command_budget;

/* Others. */

/** Plan sheets of all roofs, or of settings->roof and settings->set, as one PDF or one
 *  file per page. With a choice, only the roofs chosen decide result->left_out.
 *  @return OUTLAY_E_USAGE too when a roof that was named isn't in the layer */
OUTLAY_MUST_CHECK command_work command_draw;

/** Zones, uplift and fastening as one layer or stream; report gets the result table
 *  unless standard output holds the zones. */
OUTLAY_MUST_CHECK command_work command_zones;

/** What was read and what is missing; writes nothing. result->left_out counts roofs
 *  that could not be zoned. */
OUTLAY_MUST_CHECK command_work command_inspect;

/** The derivation of the roof settings->roof.
 *  @return OUTLAY_E_USAGE when the layer has no such roof or several */
OUTLAY_MUST_CHECK command_work command_explain;

/** Writes assemblies.csv, items.csv, details.csv, panels.csv, prices.csv and actions.csv
 *  into the folder settings->output, which may exist; "-": assemblies.csv into report. */
OUTLAY_MUST_CHECK command_work command_catalog;

/** The version, its commit, and the libraries that run with it, a line each. */
void command_version(struct text *report);

/** Writes a starter job file to settings->output; "-": into report. */
OUTLAY_MUST_CHECK command_work command_job;

#endif
