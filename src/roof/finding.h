#ifndef OUTLAY_ROOF_FINDING_H
#define OUTLAY_ROOF_FINDING_H

/**
 * @file roof/finding.h
 * What a site visit finds: values that a person read on the roof, at a place of the
 * survey or at one of their own, with their name and the day. Findings come from the
 * file of findings (read/findings.h) and beat the outline's columns; the survey
 * (survey/survey.h) asks for them.
 *
 * Owned: by the file's arena, borrowed for the run. Static names. Threads: any.
 */

#include <stdbool.h>
#include <stddef.h>

#include "geo/shape.h"

/* What several findings of one kind on one roof come to (ours): the one that is worse for
 * the roof, or, where none is, nothing unless all agree. */
enum finding_merge {
    MERGE_GREATEST,
    MERGE_LEAST,
    MERGE_SAME,
    MERGE_SHARE, /**< of yes and no: the share of yes */
    MERGE_ALL    /**< each counts by itself: pull-out tests, photos */
};

/* Code, `kind` in files, letter of its places, how several come to one, what a person
 * writes. The kinds that a column of the outlines has too bear the name of its role and
 * take the same values and units. */
#define FINDING_MAP(X)                                                                   \
    X(PULLOUT, "pullout", 'P', ALL, "load at which the fastener came out")               \
    X(STACK, "stack", 'C', GREATEST,                                                     \
      "thickness of all boards and insulation on the deck")                              \
    X(COVERS, "covers", 'C', GREATEST, "number of old covers")                           \
    X(EXISTING, "existing", 'C', SAME, "kind of the uppermost cover")                    \
    X(WET, "wet", 'C', SHARE, "yes or no: is the insulation wet?")                       \
    X(WET_SHARE, "wet_share", 'M', GREATEST, "share of the scanned area that is wet")    \
    X(HEIGHT, "height", 'H', GREATEST, "from the ground to the roof's mean height")      \
    X(EDGE, "edge", 'E', SAME, "kind of edge")                                           \
    X(PARAPET, "parapet", 'E', LEAST, "height of the parapet above the roof")            \
    X(PARAPET_THICKNESS, "parapet_thickness", 'E', GREATEST, "thickness of the parapet") \
    X(DECK, "deck", 'D', SAME, "kind of deck")                                           \
    X(DECK_BEARING, "deck_bearing", 'D', SAME,                                           \
      "direction of the ribs, clockwise from north")                                     \
    X(DRAINS, "drains", 'R', SAME, "number of drains and scuppers")                      \
    X(PENETRATIONS, "penetrations", 'R', SAME, "number of pipes and posts")              \
    X(EXPOSURE, "exposure", 'G', GREATEST, "exposure category, by what is upwind")       \
    X(ENCLOSURE, "enclosure", 'G', SAME, "openings in the walls")                        \
    X(TOPOGRAPHIC, "topographic", 'G', GREATEST, "topographic factor; 1 on flat ground") \
    X(HOLES, "holes", 'O', SAME, "what the openings in the outline are")                 \
    X(TRIAL_WELD, "trial_weld", 'W', ALL, "how the weld parted, and at what load")       \
    X(PHOTO, "photo", 'F', ALL, "number or file of the picture")

enum finding_kind {
#define X(code, name, letter, merge, what) FINDING_##code,
    FINDING_MAP(X)
#undef X
        FINDING_KINDS
};

/** "pullout"; NULL past the end. */
const char *finding_kind_name(int kind);

/** Of its places: 'P' of P1, P2. */
char finding_letter(enum finding_kind kind);

enum finding_merge finding_merge(enum finding_kind kind);

/** What a person writes, without a full stop. */
const char *finding_what(enum finding_kind kind);

/** The words that a kind takes, as roof.h lists them from 1 on; NULL: other values. */
const char *(*finding_words(enum finding_kind kind))(int value);

struct finding {
    enum finding_kind kind;
    const char *roof;       /**< id; "": the roof that `at` lies on */
    struct point at;        /**< degrees, where the file has points; NAN */
    const char *place;      /**< "P1"; "" for none */
    double value;           /**< SI; of names their enum; NAN: a text */
    const char *text;       /**< as it was written, unit included */
    const char *who, *when; /**< a name; a day as YYYY-MM-DD */
    const char *where;      /**< file and row, for messages: "findings.csv, row 7" */
};

#endif
