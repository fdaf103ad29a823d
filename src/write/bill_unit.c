#include "write/bill_unit.h"

#include "base/units.h"
#include "write/columns.h"

struct bill_unit bill_unit_of(enum bill_measure measure, const struct write_settings *set)
{
    bool si = columns_units(set) == UNITS_SI;

    switch (measure) {
    case BILL_EACH:
        return (struct bill_unit){"each", 1, 0};
    case BILL_LENGTH:
        return (struct bill_unit){set->units->length.suffix, set->units->length.factor,
                                  1};
    case BILL_AREA:
        return (struct bill_unit){set->units->area.suffix, set->units->area.factor, 1};
    case BILL_WEIGHT:
        return (struct bill_unit){si ? "kg" : "lb", si ? 1 : KG_PER_LB, 0};
    case BILL_VOLUME:
        return (struct bill_unit){si ? "m3" : "yd3", si ? 1 : M3_PER_YD3, 1};
    case BILL_HOURS:
        break;
    }
    return (struct bill_unit){"h", 1, 1};
}
