#include "read/tags.h"

#include <string.h>

const char *const tags_read[] = {"height", "building:levels", NULL};

/* Reads a text in quotes at *at, in which a backslash stands before a quote or another
 * backslash, and moves behind it. @return false for anything else */
static bool take_quoted(const char **at, struct text *out)
{
    const char *c = *at;

    text_clear(out);
    if (*c++ != '"')
        return false;
    for (; *c && *c != '"'; c++) {
        if (*c == '\\' && c[1])
            c++;
        text_putc(out, *c);
    }
    *at = c + (*c == '"');
    return *c == '"';
}

static bool is_key(const struct text *found, const char *key)
{
    return !found->failed && found->length == strlen(key) &&
           memcmp(found->data, key, found->length) == 0;
}

bool tags_find(const char *tags, const char *key, struct text *out)
{
    struct text name = TEXT_INIT;
    bool found = false;

    while (!found && take_quoted(&tags, &name) && strncmp(tags, "=>", 2) == 0) {
        tags += 2;
        if (!take_quoted(&tags, out)) /* NULL without quotes is no value */
            break;
        found = is_key(&name, key);
        tags += strspn(tags, ", ");
    }
    text_release(&name);
    return found && !out->failed;
}
