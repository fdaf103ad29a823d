/* Values of fields: the first byte is the role, the rest what stands in its column. */

#include "fuzz.h"

#include <string.h>

#include "read/roles.h"
#include "read/value.h"

/* A value is stored, missing, or a problem that says so; a number that is stored with
 * a problem beside it is a range's mean. */
static void expect_told(const struct roof *roof, bool stored, const char *text)
{
    const struct problem *problem = roof->problems;

    FUZZ_EXPECT(stored || problem || text[strspn(text, " \t\r\n\v\f-_")] == '\0');
    if (!problem)
        return;
    FUZZ_EXPECT(problem->what[0] && problem->done[0] && !problem->next);
    FUZZ_EXPECT(!stored || problem->code == PROBLEM_VALUE_RANGE_MEAN);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct arena *arena = arena_new();
    char *text = malloc(size + 1);
    struct roof roof = {.given = attributes_missing()};
    struct field field = {.unit = "", .factor = 1};

    if (arena && text && size > 0) {
        enum field_role role = (enum field_role)(data[0] % FIELD_ROLES);
        struct value value = {.kind = VALUE_TEXT, .text = text};

        memcpy(text, data + 1, size - 1);
        text[size - 1] = '\0';
        role_unit(role, "ft", &field);
        expect_told(&roof, value_store(arena, &roof, role, &field, "C", &value), text);
    }
    free(text);
    arena_free(arena);
    return 0;
}
