#ifndef OUTLAY_FLOW_STAGES_H
#define OUTLAY_FLOW_STAGES_H

/**
 * @file flow/stages.h
 * The stages that every building goes through, in order. Adding a stage is a row in
 * stages.c; it reads the facets of those before it and adds its own.
 */

#include "geo/frame.h"
#include "options/settings.h"
#include "outlay/status.h"
#include "roof/roof.h"

struct stage {
    const char *name;
    bool layout; /**< only where layouts are wanted */
    /** @return only what stops the run; what one roof lacks is a problem of the roof */
    enum outlay_status (*run)(struct building *building, const struct settings *settings,
                              struct geo_ctx *ctx, struct outlay_error *err);
};

extern const struct stage stages[];
extern const size_t stage_count;

/** Runs all stages, those of layouts only where they are wanted. Threads: any, one
 *  building and one ctx per thread. */
enum outlay_status stages_run(struct building *building, const struct settings *settings,
                              bool layouts, struct geo_ctx *ctx,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Stage `given`: what was found on the roof beats its columns, what was decided and
 * confirmed closes assumptions; then options complete roof.given.
 * Own storeys win over a height by option, and a metal edge over a parapet.
 */
enum outlay_status given_run(struct building *building, const struct settings *settings,
                             struct geo_ctx *ctx,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * The box around a roof in degrees, wider by about 2 m: what is outside is no concern of
 * its edges.
 */
struct box box_around_roof(const struct roof *roof);

/**
 * Stage `fixtures`: the marks of the layer of fixtures that lie in each roof become
 * roof.fixtures; in several roofs of the building, those of the smallest, which may stand
 * on another (ours). A scupper is in the wall: outside of all, it is of the nearest roof
 * within 1 m. A point with a width or length gets a rectangle square to the roof's long
 * side, its length along it (ours); with one of the two, a square.
 */
enum outlay_status fixtures_run(struct building *building,
                                const struct settings *settings, struct geo_ctx *ctx,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Stage `lines`: the marks of the layer of edges that are near the building become
 * building.lines, a part for each of their straight parts.
 */
enum outlay_status lines_run(struct building *building, const struct settings *settings,
                             struct geo_ctx *ctx,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Stage `edge readings`: a parapet that findings alone tell of runs all around only where
 * they are as many as the survey's rules ask for; else that stays assumed. After `zones`.
 */
enum outlay_status edge_readings_run(struct building *building,
                                     const struct settings *settings, struct geo_ctx *ctx,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Stage `pullouts`: the pull-out tests of each deck in the building give roof.pullout and
 * the basis of all its roofs that have that deck. After `basis`.
 */
enum outlay_status pullouts_run(struct building *building,
                                const struct settings *settings, struct geo_ctx *ctx,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Stage `heights`: the height given, else from storeys (first 18 ft, each further
 * 13 ft (ours), estimated); storeys the other way round where the edge rule needs them.
 * Gives roof.height and roof.storeys.
 */
enum outlay_status heights_run(struct building *building, const struct settings *settings,
                               struct geo_ctx *ctx,
                               struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Stage `survey`: what to check on site, building.surveys, where anybody asks for it;
 * doubts places of findings that no survey of the roofs has.
 */
enum outlay_status survey_run(struct building *building, const struct settings *settings,
                              struct geo_ctx *ctx,
                              struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Stage `words`: what stages said in both systems of units, before anyone asked which,
 * says it in that of the output: problems, reasons of zones and layouts, and why a survey
 * asks.
 */
enum outlay_status words_run(struct building *building, const struct settings *settings,
                             struct geo_ctx *ctx,
                             struct outlay_error *err) OUTLAY_MUST_CHECK;

#endif
