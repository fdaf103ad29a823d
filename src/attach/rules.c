#include "attach/rules.h"

#include <math.h>

#include "attach/pattern.h"
#include "base/units.h"

enum edge_rule rule_for(enum edge_rule rule, enum method method)
{
    bool rows = method == METHOD_SEAM_FASTENED;
    bool boards = method == METHOD_INDUCTION_WELDED || method == METHOD_ADHERED_FASTENED;

    if (rule == RULE_PERCENTAGE && !boards)
        return RULE_CALCULATED;
    if ((rule == RULE_ROW_FRACTION || rule == RULE_STOREY) && !rows)
        return RULE_CALCULATED;
    return rule;
}

const char *rule_replaced_text(enum edge_rule rule)
{
    if (rule == RULE_PERCENTAGE)
        return "the percentage rule is for boards with fasteners: calculated instead";
    if (rule == RULE_ROW_FRACTION)
        return "the row-fraction rule is for rows of fasteners: calculated instead";
    return "the storey rule is for seam-fastened sheets: calculated instead";
}

int storey_half_sheets(double storeys, double long_side, double limit)
{
    double whole = ceil(storeys - ROUNDING);
    int count = 1;

    if (whole > 2)
        count += (int)fmin(whole - 2, 1000);
    if (long_side > limit * (1 + ROUNDING))
        count++;
    return count;
}

int percentage_count(enum percentage_edition edition, enum zone_role role, int field,
                     double board_area)
{
    bool corner = role == ZONE_CORNER;
    double area = board_area / M2_PER_FT2;
    double count;

    if (edition == PERCENTAGE_2003)
        return (int)ceil(field * (corner ? 1.75 : 1.5) - ROUNDING);
    count = fmax(field * (corner ? 2.0 : 1.5), corner ? area : area / 2);
    return (int)ceil(count - ROUNDING);
}

double percentage_rating_limit(enum percentage_edition edition)
{
    return edition == PERCENTAGE_2003 ? INFINITY : 75 * PA_PER_PSF;
}

double row_fraction(enum zone_role role)
{
    return role == ZONE_CORNER ? 0.4 : 0.6;
}
