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

/** All stages into a folder; report gets the result table.
 *  @return as outlay_job_run() */
enum outlay_status command_run(const struct settings *settings,
                               const struct messages *messages,
                               struct outlay_result *result, struct text *report,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/** As command_run(), into a folder of materials, layouts and summary unless
 *  settings->parts says otherwise. */
enum outlay_status command_takeoff(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** As command_run(), by all methods unless settings->methods says otherwise, into a
 *  folder of comparison and summary; report gets one line per method. */
enum outlay_status command_compare(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Plan sheets of all roofs, or of settings->roof and settings->set, as one PDF or one file
 *  per page. With a choice, only the roofs chosen decide result->left_out.
 *  @return OUTLAY_E_USAGE too when a roof that was named isn't in the layer */
enum outlay_status command_draw(const struct settings *settings,
                                const struct messages *messages,
                                struct outlay_result *result, struct text *report,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Roofs in the order of their exposure to wind, into a folder; none is laid out. report
 *  gets the first of them. @return as outlay_job_run() */
enum outlay_status command_rank(const struct settings *settings,
                                const struct messages *messages,
                                struct outlay_result *result, struct text *report,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Roofs over years under caps, into a folder; each is laid out and priced by its own
 *  method. report gets the years. @return as outlay_job_run(); OUTLAY_E_LIMIT where what
 *  must be done doesn't fit the caps */
enum outlay_status command_budget(const struct settings *settings,
                                  const struct messages *messages,
                                  struct outlay_result *result, struct text *report,
                                  struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Zones, uplift and fastening as one layer or stream; report gets the result table
 *  unless standard output holds the zones. @return as outlay_job_run() */
enum outlay_status command_zones(const struct settings *settings,
                                 const struct messages *messages,
                                 struct outlay_result *result, struct text *report,
                                 struct outlay_error *err) OUTLAY_MUST_CHECK;

/** What was read and what is missing; writes nothing. result->left_out counts roofs
 *  that could not be zoned. */
enum outlay_status command_inspect(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** The derivation of the roof settings->roof.
 *  @return OUTLAY_E_USAGE when the layer has no such roof or several */
enum outlay_status command_explain(const struct settings *settings,
                                   const struct messages *messages,
                                   struct outlay_result *result, struct text *report,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Writes assemblies.csv, items.csv and prices.csv into the folder settings->output,
 *  which may exist; "-": assemblies.csv into report. */
enum outlay_status command_catalog(const struct settings *settings, struct text *report,
                                   struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Writes a starter job file to settings->output; "-": into report. */
enum outlay_status command_job(const struct settings *settings, struct text *report,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
