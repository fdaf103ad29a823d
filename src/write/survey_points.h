#ifndef OUTLAY_WRITE_SURVEY_POINTS_H
#define OUTLAY_WRITE_SURVEY_POINTS_H

/**
 * @file write/survey_points.h
 * survey.gpkg: the form of the survey as points to walk to, WGS 84, for a mobile GIS: a
 * layer `survey`, a feature for each value to be read, with the columns of survey.csv and
 * the cautions. What isn't of a place stands in the middle of its roof.
 *
 *     survey_points_open(path, &set, &points, err);
 *     survey_points_add(points, building, err);      for each building
 *     survey_points_close(points, err);              or survey_points_abort(points)
 *
 * Threads: one a file.
 */

#include "survey/survey.h"
#include "write/write.h"

struct survey_points;

/** @param set  borrowed until the end @param[out] out  owned
 *  @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status survey_points_open(const char *path, const struct write_settings *set,
                                      struct survey_points **out,
                                      struct outlay_error *err) OUTLAY_MUST_CHECK;

/** @return OUTLAY_E_OUTPUT, OUTLAY_E_MEMORY */
enum outlay_status survey_points_add(struct survey_points *points,
                                     const struct building *building,
                                     struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Finishes the file, counts its features again, and frees. @return OUTLAY_E_OUTPUT */
enum outlay_status survey_points_close(struct survey_points *points,
                                       struct outlay_error *err) OUTLAY_MUST_CHECK;

/** Frees; the file is left unfinished. NULL is ignored. */
void survey_points_abort(struct survey_points *points);

#endif
