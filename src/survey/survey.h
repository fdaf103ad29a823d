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
    char name[8];        /**< "P12": the task's letter and its number on this roof */
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
};

/** All that is to be checked on one roof, most decisive first. */
struct site_survey {
    const struct roof *roof;
    struct survey_place *places;
    size_t place_count;
    struct survey_entry *entries;
    size_t entry_count;
};

#endif
