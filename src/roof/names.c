/* Names as users write and read them. */

#include "roof/roof.h"

#define COUNT(list) ((int)(sizeof(list) / sizeof((list)[0])))

static const char *name_at(const char *const *names, int count, int value)
{
    return value >= 0 && value < count ? names[value] : NULL;
}

const char *exposure_name(int value)
{
    static const char *const names[] = {"", "B", "C", "D"};
    return name_at(names, COUNT(names), value);
}

const char *enclosure_name(int value)
{
    static const char *const names[] = {
        "", "enclosed", "partially-enclosed", "partially-open", "open",
    };
    return name_at(names, COUNT(names), value);
}

const char *deck_name(int value)
{
    static const char *const names[] = {
        "", "steel", "wood", "concrete", "gypsum", "wood-fibre", "light-concrete",
    };
    return name_at(names, COUNT(names), value);
}

const char *method_name(int value)
{
    static const char *const names[] = {
        "", "seam-fastened", "induction-welded", "adhered-fastened", "adhered",
    };
    return name_at(names, COUNT(names), value);
}

const char *hole_kind_name(int value)
{
    static const char *const names[] = {"", "court", "penthouse"};
    return name_at(names, COUNT(names), value);
}

const char *edge_kind_name(int value)
{
    static const char *const names[] = {"",     "metal", "gutter", "parapet",
                                        "wall", "curb",  "joint",  "continuous"};
    return name_at(names, COUNT(names), value);
}

const char *own_edge_name(int value)
{
    return value <= EDGE_WALL ? edge_kind_name(value) : NULL;
}

const char *existing_kind_name(int value)
{
    static const char *const names[] = {
        "", "gravel-surfaced", "smooth", "single-ply", "ballasted",
    };
    return name_at(names, COUNT(names), value);
}

const char *building_use_name(int value)
{
#define X(code, name, category) name,
    static const char *const names[] = { "", BUILDING_USE_MAP(X) };
#undef X
    return name_at(names, COUNT(names), value);
}

const char *dimension_of_name(int value)
{
    static const char *const names[] = {"", "building", "level"};
    return name_at(names, COUNT(names), value);
}

const char *flatness_name(int value)
{
    static const char *const names[] = {"", "low-slope", "stepped", "pitched",
                                        "uncertain"};
    return name_at(names, COUNT(names), value);
}

const char *rating_basis_name(int value)
{
    static const char *const names[] = {"", "ultimate", "allowable"};
    return name_at(names, COUNT(names), value);
}

const char *velocity_constant_name(int value)
{
    static const char *const names[] = {"", "0.00256", "0.613"};
    return name_at(names, COUNT(names), value);
}

const char *zone_role_name(int value)
{
    static const char *const names[] = {"corner", "perimeter", "field", "interior"};
    return name_at(names, COUNT(names), value);
}

const char *zone_state_name(int value)
{
    static const char *const names[] = {"unknown", "met", "met assumed", "not met"};
    return name_at(names, COUNT(names), value);
}

const char *coefficient_basis_name(int value)
{
    static const char *const names[] = {"", "print", "transcribed", "recovered",
                                        "from memory"};
    return name_at(names, COUNT(names), value);
}

const char *edge_rule_name(int value)
{
    static const char *const names[] = {
        "calculated",
        "percentage",
        "row-fraction",
        "storey-rule",
    };
    return name_at(names, COUNT(names), value);
}

const char *estimate_name(int value)
{
#define X(code, name, weakens, how) name,
    static const char *const names[] = { ESTIMATE_MAP(X) };
#undef X
    return name_at(names, COUNT(names), value);
}

const char *estimate_reason(int value)
{
/* in brackets, here and below: one may be two literals */
#define X(code, name, weakens, how) (how),
    static const char *const reasons[] = { ESTIMATE_MAP(X) };
#undef X
    return name_at(reasons, COUNT(reasons), value);
}

const char *assumption_name(int value)
{
#define X(code, name, sort, weakens, how) name,
    static const char *const names[] = { ASSUMPTION_MAP(X) };
#undef X
    return name_at(names, COUNT(names), value);
}

const char *assumption_reason(int value)
{
#define X(code, name, sort, weakens, how) (how),
    static const char *const reasons[] = { ASSUMPTION_MAP(X) };
#undef X
    return name_at(reasons, COUNT(reasons), value);
}

enum assumption_sort assumption_sort(enum assumption what)
{
#define X(code, name, sort, weakens, how) SORT_##sort,
    static const enum assumption_sort sorts[] = { ASSUMPTION_MAP(X) };
#undef X
    return sorts[what];
}

bool assumption_weakens(enum assumption what)
{
#define X(code, name, sort, weakens, how) weakens,
    static const bool weak[] = { ASSUMPTION_MAP(X) };
#undef X
    return weak[what];
}

#define SORT_WORD_SITE " (site)"
#define SORT_WORD_READING " (reading)"
#define SORT_WORD_SOURCE " (source)"

const char *open_item_name(int item)
{
    static const char *const names[] = {
#define X(code, name, weakens, how) name SORT_WORD_SITE,
        ESTIMATE_MAP(X)
#undef X
#define X(code, name, sort, weakens, how) name SORT_WORD_##sort,
            ASSUMPTION_MAP(X)
#undef X
    };
    return name_at(names, COUNT(names), item);
}

/* ---- Finding ------------------------------------------------------------------ */

/* Other words that mean one thing only. "Fully adhered" and the like are left out:
 * people use them for glued sheets on screwed boards as well as for glued boards. */
struct alias {
    const char *(*name_of)(int value);
    const char *text;
    int value;
};

static const struct alias aliases[] = {
    {exposure_name, "exposure b", EXPOSURE_B},
    {exposure_name, "exposure c", EXPOSURE_C},
    {exposure_name, "exposure d", EXPOSURE_D},
    {deck_name, "metal", DECK_STEEL},
    {deck_name, "steel deck", DECK_STEEL},
    {deck_name, "metal deck", DECK_STEEL},
    {deck_name, "timber", DECK_WOOD},
    {deck_name, "plywood", DECK_WOOD},
    {deck_name, "wood deck", DECK_WOOD},
    {deck_name, "structural concrete", DECK_CONCRETE},
    {deck_name, "concrete deck", DECK_CONCRETE},
    {deck_name, "wood fiber", DECK_WOOD_FIBRE},
    {deck_name, "cementitious wood fibre", DECK_WOOD_FIBRE},
    {deck_name, "cementitious wood fiber", DECK_WOOD_FIBRE},
    {deck_name, "lightweight concrete", DECK_LIGHT_CONCRETE},
    {deck_name, "lightweight insulating concrete", DECK_LIGHT_CONCRETE},
    {method_name, "mechanically fastened", METHOD_SEAM_FASTENED},
    {method_name, "mechanically attached", METHOD_SEAM_FASTENED},
    {method_name, "induction weld", METHOD_INDUCTION_WELDED},
    {hole_kind_name, "courtyard", HOLES_COURT},
    {own_edge_name, "metal edge", EDGE_METAL},
    {existing_kind_name, "gravel", EXISTING_GRAVEL_SURFACED},
    {existing_kind_name, "smooth surfaced", EXISTING_SMOOTH},
    {existing_kind_name, "ballast", EXISTING_BALLASTED},
    {building_use_name, "storage", BUILDING_WAREHOUSE},
    {building_use_name, "industrial", BUILDING_INDUSTRY},
    {building_use_name, "retail", BUILDING_SHOP},
    {building_use_name, "residential", BUILDING_DWELLING},
    {building_use_name, "data center", BUILDING_DATA_CENTRE},
    {rating_basis_name, "ASD", RATING_ALLOWABLE},
};

/* ctype.h isn't used: names are the same in every locale. */
static bool is_gap(char byte)
{
    return byte == '_' || byte == '-' || byte == ' ' || (byte >= '\t' && byte <= '\r');
}

static int lower(char byte)
{
    return byte >= 'A' && byte <= 'Z' ? byte - 'A' + 'a' : (unsigned char)byte;
}

/* The next letter of a name: lower case, any run of gaps as one blank, none at the
 * ends. Advances *text. */
static int next_letter(const char **text, bool at_start)
{
    bool gap = false;

    while (**text != '\0' && is_gap(**text)) {
        gap = true;
        (*text)++;
    }
    if (**text == '\0') {
        return '\0';
    }
    if (gap && !at_start) {
        return ' ';
    }
    return lower(*(*text)++);
}

bool name_same(const char *a, const char *b)
{
    int letter_a, letter_b;
    bool at_start = true;

    do {
        letter_a = next_letter(&a, at_start);
        letter_b = next_letter(&b, at_start);
        at_start = letter_a == ' ';
    } while (letter_a == letter_b && letter_a != '\0');
    return letter_a == letter_b;
}

int name_find(const char *text, const char *(*name_of)(int value))
{
    if (text == NULL) {
        return -1;
    }
    for (int value = 0; name_of(value) != NULL; value++) {
        if (name_same(text, name_of(value))) {
            return value;
        }
    }
    for (size_t i = 0; i < sizeof aliases / sizeof aliases[0]; i++) {
        if (aliases[i].name_of == name_of && name_same(text, aliases[i].text)) {
            return aliases[i].value;
        }
    }
    return -1;
}
