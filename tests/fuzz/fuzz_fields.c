/* Roles of fields. The first line is the role's number and what the user gave of it,
 * each further line a column. */

#include "fuzz.h"

#include <string.h>

#include "read/fields.h"
#include "read/roles.h"

static void expect_use(const struct fields *fields)
{
    for (size_t i = 0; i < fields->use_count; i++) {
        const struct field_use *use = &fields->use[i];
        const struct field *field = &fields->roles[use->role];

        FUZZ_EXPECT(i == 0 || use->role > fields->use[i - 1].role);
        FUZZ_EXPECT(field->column >= 0 && (size_t)field->column < fields->column_count);
        FUZZ_EXPECT(strcmp(use->column, fields->columns[field->column]) == 0);
        FUZZ_EXPECT(field->factor > 0);
        FUZZ_EXPECT(!role_needs_unit(use->role) || field->unit[0]);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);
    const char *specs[FIELD_ROLES] = {0};
    struct outlay_error err = {0};
    enum outlay_status status;
    struct fields fields;
    char *line;

    if (!text || size < 2) {
        free(text);
        return 0;
    }
    memcpy(text, data, size);
    text[size] = '\0';
    line = text + strcspn(text, "\n");
    if (*line)
        *line++ = '\0';
    specs[data[0] % FIELD_ROLES] = text + 1;
    FUZZ_EXPECT(fields_init(&fields, specs, &err) == OUTLAY_OK);
    while (*line) {
        char *next = line + strcspn(line, "\n");

        if (*next)
            *next++ = '\0';
        FUZZ_EXPECT(fields_add(&fields, line, &err) == OUTLAY_OK);
        line = next;
    }
    status = fields_resolve(&fields, true, &err);
    FUZZ_EXPECT(status == OUTLAY_OK || status == OUTLAY_E_USAGE);
    FUZZ_EXPECT(status == OUTLAY_OK || (err.what[0] && err.todo[0]));
    expect_use(&fields);
    fields_release(&fields);
    free(text);
    return 0;
}
