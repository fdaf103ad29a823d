/* Boards on a pattern of fasteners: induction-welded, where a plate holds board and sheet
 * at once, and adhered-fastened, where the sheet is glued to the boards. */

#include "attach/pattern.h"
#include "attach/rules.h"

struct board {
    const struct site *site;
    const struct assembly *assembly;
    double area;      /* of a board, m2 */
    double allowable; /* load of one fastener, N */
    int most;         /* fasteners a board that still add strength */
    bool by_pullout;
};

static struct board board_of(const struct site *site, const struct assembly *assembly)
{
    struct board board = {site, assembly, 0, 0, 0, false};

    board.area = assembly->board_length * assembly->board_width;
    board.allowable = fastener_allowable(
        site, assembly, board.area / assembly->tested_per_board, &board.by_pullout);
    board.most =
        (int)floor(assembly->tested_per_board * density_limit(assembly) * (1 + ROUNDING));
    return board;
}

static double capacity_of(const struct board *board, int count)
{
    return (count < board->most ? count : board->most) * board->allowable / board->area;
}

/* Judges a pattern by strength; the count may come from a rule. */
static struct pattern pattern_judge(const struct board *board, int count, double demand)
{
    struct pattern pattern = {NAN,
                              NAN,
                              NAN,
                              count,
                              0,
                              count / board->area,
                              VERDICT_FITS,
                              0,
                              0,
                              board->by_pullout};

    pattern.capacity = capacity_of(board, count);
    if (demand > pattern.capacity * (1 + ROUNDING)) {
        pattern.verdict = VERDICT_WEAK;
        pattern.needed = demand;
        pattern.given = pattern.capacity;
    }
    return pattern;
}

/* The fewest allowed fasteners from `count` up; the most allowed if none are enough. */
static int pattern_from(const struct board *board, double count)
{
    const struct assembly *assembly = board->assembly;

    for (size_t i = 0; i < assembly->pattern_count; i++) {
        if (assembly->patterns[i] >= count)
            return assembly->patterns[i];
    }
    return assembly->patterns[assembly->pattern_count - 1];
}

/* The densest pattern whose strength counts in full. */
static int pattern_strongest(const struct board *board)
{
    const struct assembly *assembly = board->assembly;
    int strongest = assembly->patterns[0];

    for (size_t i = 1; i < assembly->pattern_count; i++) {
        if (assembly->patterns[i] <= board->most)
            strongest = assembly->patterns[i];
    }
    return strongest;
}

/* A zone by its own strength. */
static struct pattern pattern_calculate(const struct board *board, double demand)
{
    double needed = ceil(demand * board->area / board->allowable - ROUNDING);
    double count = fmax(needed, board->assembly->tested_per_board);
    int pattern = pattern_from(board, count);
    int strongest = pattern_strongest(board);

    return pattern_judge(board, pattern < strongest ? pattern : strongest, demand);
}

/* Edge zone i by percentage of the field's pattern. */
static struct pattern pattern_by_percentage(const struct board *board, size_t i,
                                            const struct pattern *field)
{
    const struct attach_settings *settings = board->site->settings;
    enum percentage_edition edition = settings->percentage_edition;
    int count = percentage_count(edition, board->site->roof->zones[i].role,
                                 field->per_board, board->area);
    int allowed = pattern_from(board, count);
    struct pattern pattern = pattern_judge(board, allowed, demand_at(board->site, i));
    double rating = field->capacity * settings->safety_factor;
    double limit = percentage_rating_limit(edition);

    if (rating > limit * (1 + ROUNDING)) {
        pattern.verdict = VERDICT_REFUSED;
        pattern.needed = limit;
        pattern.given = rating;
    } else if (pattern.verdict == VERDICT_FITS && allowed < count) {
        pattern.verdict = VERDICT_COUNT;
        pattern.needed = count;
        pattern.given = allowed;
    }
    return pattern;
}

void board_fit(const struct site *site, struct fit *fit)
{
    const struct board board = board_of(site, fit->assembly);
    const struct roof *roof = site->roof;
    /* Until a field zone says otherwise: a roof may be edge zones throughout. */
    struct pattern field = pattern_calculate(&board, 0);

    for (size_t i = roof->zone_count; i-- > 0;) {
        enum zone_role role = roof->zones[i].role;
        bool edge = role == ZONE_CORNER || role == ZONE_PERIMETER;

        if (edge && site->rule == RULE_PERCENTAGE)
            fit->patterns[i] = pattern_by_percentage(&board, i, &field);
        else
            fit->patterns[i] = pattern_calculate(&board, demand_at(site, i));
        if (role == ZONE_FIELD)
            field = fit->patterns[i];
    }
}
