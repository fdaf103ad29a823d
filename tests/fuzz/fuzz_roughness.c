/* A table from land cover to surface roughness: any bytes, as CSV. */

#include "fuzz.h"

#include <string.h>

#include "catalog/table.h"
#include "surroundings/roughness.h"

/* Every class is known ground or not; one that is there at least. */
static void expect_table(const struct roughness_table *table)
{
    size_t known = 0;

    for (int i = 0; i < ROUGHNESS_CLASSES; i++) {
        FUZZ_EXPECT(roughness_of(table, i) < ROUGHNESSES);
        known += roughness_of(table, i) != ROUGHNESS_MISSING;
    }
    FUZZ_EXPECT(known > 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena *arena = arena_new();
    struct roughness_table *read = malloc(sizeof *read);
    char *text = malloc(size + 1);
    struct outlay_error err = {0};
    struct table table;
    enum outlay_status status;

    FUZZ_EXPECT(arena && read && text);
    if (size > 0)
        memcpy(text, data, size);
    text[size] = '\0';
    status = table_parse(arena, "roughness.csv", text, &table, &err);
    if (status == OUTLAY_OK)
        status = roughness_read(&table, read, &err);
    FUZZ_EXPECT(status == OUTLAY_OK || status == OUTLAY_E_USAGE);
    FUZZ_EXPECT(status == OUTLAY_OK || (err.what[0] && err.where[0]));
    if (status == OUTLAY_OK)
        expect_table(read);
    free(text);
    free(read);
    arena_free(arena);
    return 0;
}
