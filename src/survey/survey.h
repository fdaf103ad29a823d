#ifndef OUTLAY_SURVEY_SURVEY_H
#define OUTLAY_SURVEY_SURVEY_H

/**
 * @file survey/survey.h
 * What to check on each roof before anything is ordered: how many tests of each kind by a
 * table of rules (survey/rules.h), where on the roof, what is to be written there, and
 * why. Needs roof.zones, roof.basis and roof.assumed; changes nothing of a roof.
 *
 * The same roofs have the same places, whatever ring they start with and whatever order
 * they come in.
 */

#include "outlay/status.h"
#include "roof/finding.h"
#include "roof/roof.h"
#include "survey/rules.h"

/** A place to walk to, numbered within its roof. */
struct survey_place {
    enum survey_task task;
    char name[16];       /**< "P12": the task's letter and its number on this roof */
    bool placed;         /**< false: of the roof as a whole, without a spot on it */
    enum zone_role zone; /**< in which it lies; of no use where it isn't placed */
    bool at_edge;        /**< nearer than 3 ft (0.91 m) to an edge: fall protection */
    struct point at;     /**< m, in the building's frame; inside the zone */
    struct point lonlat; /**< the same, degrees */
};

/** A value to be read at a place: a row of the form. */
struct survey_entry {
    size_t place;           /**< of site_survey.places */
    enum finding_kind kind; /**< what is to be written */
    const char *why;        /**< what hangs on it, for people; in the arena or static */
    bool open;              /**< something that is assumed or estimated rests on it */
    int weight;   /**< how decisive it is: 3, a state hangs on it; 0, it confirms */
    double share; /**< of the spread of the roof's force, what inputs cause that
                       it settles; 0 without draws */
};

/** All that is to be checked on one roof, most decisive first. */
struct site_survey {
    const struct roof *roof;
    struct survey_place *places;
    size_t place_count;
    struct survey_entry *entries;
    size_t entry_count;
};

/**
 * Makes the surveys of a building's zoned roofs, after attachment. What was found already
 * isn't asked for again: an entry whose place has its finding, or whose value one finding
 * gives; pull-out tests once their deck has enough.
 * A roof that has no height is only asked for that.
 * @param[out] out  building->roof_count of them, in arena; of another roof without zones,
 *                  empty
 * @return OUTLAY_E_MEMORY. Threads: any, one building each
 */
enum outlay_status survey_building(struct arena *arena, const struct building *building,
                                   const struct survey_rules *rules,
                                   struct site_survey **out) OUTLAY_MUST_CHECK;

/**
 * How many places of each task the survey of each roof has, by the rules alone.
 * @param[out] out  roof_count rows of SURVEY_TASKS
 * @return OUTLAY_E_MEMORY
 */
enum outlay_status survey_counts(struct arena *arena, const struct building *building,
                                 const struct survey_rules *rules,
                                 int (*out)[SURVEY_TASKS]) OUTLAY_MUST_CHECK;

/** The task whose places begin with a letter; SURVEY_TASKS: none. */
enum survey_task survey_task_of(char letter);

/** Pull-out tests that the rules ask for of a deck in a building; 0: none. */
int survey_pullouts(const struct building *building, enum deck deck,
                    const struct survey_rules *rules);

/** Whether something on the roof that weakens its state waits for a finding. */
bool survey_decisive(const struct roof *roof);

#endif
