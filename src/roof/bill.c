#include "roof/bill.h"

#include <math.h>
#include <string.h>

const char *item_use_name(int use)
{
    static const char *const names[] = {
#define X(code, name, measure) name,
        ITEM_USE_MAP(X)
#undef X
    };

    return use >= 0 && use < ITEM_USES ? names[use] : NULL;
}

enum bill_measure item_use_measure(enum item_use use)
{
    static const enum bill_measure measures[] = {
#define X(code, name, measure) measure,
        ITEM_USE_MAP(X)
#undef X
    };

    return measures[use];
}

bool item_use_is_board(enum item_use use)
{
    return use >= USE_BOARD && use <= USE_CRICKET_PANEL;
}

bool bill_same_goods(const struct bill_item *a, const struct bill_item *b)
{
    return a->use == b->use && a->paid == b->paid &&
           (a->price == b->price || (isnan(a->price) && isnan(b->price))) &&
           strcmp(a->item, b->item) == 0;
}

double bill_packs(double ordered, double holds)
{
    return ceil(ordered / holds - 1e-9);
}

money bill_money(double ordered, double price)
{
    double amount = ordered * price;

    /* halves go up also where adding up in another order left them a hair below */
    return isfinite(amount) ? (money)floor(amount + 0.5 + 1e-4) : 0;
}
