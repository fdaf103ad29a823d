#ifndef OUTLAY_SAMPLE_SAMPLE_H
#define OUTLAY_SAMPLE_SAMPLE_H

/**
 * @file sample/sample.h
 * Fills what outlines lack from rasters and layers: `--sample ROLE=SOURCE`.
 *
 *     sampler_open(&settings, &sampler, err);
 *     for each roof, best in order of place: sampler_roof(sampler, arena, &roof, err);
 *     sampler_close(sampler);
 *
 * Nothing that is missing becomes zero: a value without pixels or features stays missing
 * and is a problem of the roof; one that few pixels say, or that varies much, is used and
 * is a problem as well. Not thread-safe: one thread samples.
 */

#include "read/read.h"

struct sample_settings {
    const char *sources[FIELD_ROLES]; /**< as sample/source.h says; NULL; borrowed */
    bool over;                        /**< samples win over the columns of a roof */

    /* of the run, for what depends on other values of a roof */
    double height, storeys;          /**< of roofs without their own, m; NAN */
    enum exposure exposure;          /**< likewise; NOT_GIVEN: C */
    double pitched;                  /**< rise over run above which a roof is pitched */
    const struct unit_system *units; /**< of findings */
};

struct sampler;

/** Whether any role is sampled. */
bool sample_wanted(const struct sample_settings *settings);

/** Opens all sources.
 *  @param settings  borrowed until sampler_close()
 *  @return OUTLAY_E_USAGE, OUTLAY_E_INPUT, OUTLAY_E_MEMORY */
enum outlay_status sampler_open(const struct sample_settings *settings,
                                struct sampler **out,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/**
 * Fills the given attributes of a roof as read, its samples and problems. Texts of its
 * samples are borrowed until sampler_close().
 * @return OUTLAY_E_INPUT when a source is damaged, OUTLAY_E_MEMORY
 */
enum outlay_status sampler_roof(struct sampler *sampler, struct arena *arena,
                                struct roof *roof,
                                struct outlay_error *err) OUTLAY_MUST_CHECK;

/** NULL is ignored. */
void sampler_close(struct sampler *sampler);

#endif
