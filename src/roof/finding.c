#include "roof/finding.h"

#include "roof/roof.h"

struct finding_row {
    const char *name;
    char letter;
    enum finding_merge merge;
    const char *what;
};

static const struct finding_row rows[FINDING_KINDS] = {
#define X(code, name, letter, merge, what) {name, letter, MERGE_##merge, what},
    FINDING_MAP(X)
#undef X
};

const char *finding_kind_name(int kind)
{
    return kind >= 0 && kind < FINDING_KINDS ? rows[kind].name : NULL;
}

char finding_letter(enum finding_kind kind)
{
    return rows[kind].letter;
}

enum finding_merge finding_merge(enum finding_kind kind)
{
    return rows[kind].merge;
}

const char *finding_what(enum finding_kind kind)
{
    return rows[kind].what;
}

const char *(*finding_words(enum finding_kind kind))(int value)
{
    switch (kind) {
    case FINDING_EXISTING:
        return existing_kind_name;
    case FINDING_EDGE:
        return own_edge_name;
    case FINDING_DECK:
        return deck_name;
    case FINDING_EXPOSURE:
        return exposure_name;
    case FINDING_ENCLOSURE:
        return enclosure_name;
    case FINDING_HOLES:
        return hole_kind_name;
    default:
        return NULL;
    }
}
