/* A table of prices: any bytes, as CSV. */

#include "fuzz.h"

#include <math.h>
#include <string.h>

#include "catalog/prices.h"
#include "catalog/table.h"

/* What pricing relies on: every item has one price, and no sum comes out unknown. */
static void expect_list(const struct price_list *list, const struct item_list *items)
{
    FUZZ_EXPECT(strlen(list->currency) == 3 && strlen(list->date) == 7);
    for (int term = 0; term < PRICE_TERMS; term++)
        FUZZ_EXPECT(list->terms[term] >= 0 && isfinite(list->terms[term]));
    FUZZ_EXPECT(list->terms[TERM_SIZE_AREA] > 0 && list->terms[TERM_REGION] > 0);
    for (size_t i = 0; i < list->count; i++) {
        const struct price *price = &list->prices[i];

        FUZZ_EXPECT((int)price->use >= 0 && price->use < ITEM_USES);
        FUZZ_EXPECT((int)price->labour >= 0 && price->labour <= ITEM_USES);
        FUZZ_EXPECT(price->amount >= 0 && isfinite(price->amount));
    }
    for (size_t i = 0; i < items->count; i++)
        FUZZ_EXPECT(items->items[i].use >= USE_WELD_SIDE || !items->items[i].name[0] ||
                    price_find(list, items->items[i].use, items->items[i].name));
    for (int use = 0; use < ITEM_USES; use++)
        FUZZ_EXPECT(price_hour(list, (enum item_use)use) >= 0);
}

static void read_prices(struct catalog *catalog, const char *csv)
{
    struct outlay_error err = {0};
    struct item_list items;
    struct price_list list;
    struct table table;
    enum outlay_status status = items_load(catalog->arena, NULL, &items, &err);

    FUZZ_EXPECT(status == OUTLAY_OK);
    status = table_parse(catalog->arena, "prices.csv", csv, &table, &err);
    if (status == OUTLAY_OK)
        status = prices_read(catalog->arena, &table, &items, catalog, &list, &err);
    FUZZ_EXPECT(status == OUTLAY_OK || status == OUTLAY_E_USAGE);
    FUZZ_EXPECT(status == OUTLAY_OK || (err.what[0] && err.where[0]));
    if (status == OUTLAY_OK)
        expect_list(&list, &items);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    struct outlay_error err = {0};
    struct catalog catalog;

    if (!text)
        return 0;
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    FUZZ_EXPECT(catalog_builtin(&catalog, &err) == OUTLAY_OK);
    read_prices(&catalog, text);
    catalog_release(&catalog);
    free(text);
    return 0;
}
