#include "write/clash.h"

#include <string.h>

static const char prefix[] = "outlay_";
enum { PREFIX_LENGTH = sizeof prefix - 1 };

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static size_t name_length(const struct column *column, int units)
{
    return column->keys[units].length - 4;
}

static const char *name_of(const struct column *column, int units)
{
    return column->keys[units].json + 2;
}

void clash_index_init(struct clash_index *index, int units)
{
    *index = (struct clash_index){.units = units};
    for (size_t i = 0; i < roof_column_count + PLACE_COLUMNS; i++) {
        unsigned char *first = &index->first[name_of(&roof_columns[i], units)[0] - 'a'];

        index->next[i] = *first;
        *first = (unsigned char)(i + 1);
    }
}

static bool same_name(const char *a, const char *b, size_t length)
{
    for (size_t i = 0; i < length; i++)
        if (lower(a[i]) != lower(b[i]))
            return false;
    return true;
}

/* The column of that name, or -1. */
static int find_column(const struct clash_index *index, const char *key, size_t length)
{
    char first = length > 0 ? lower(key[0]) : '\0';

    if (first < 'a' || first > 'z')
        return -1;
    for (int i = index->first[first - 'a']; i > 0; i = index->next[i - 1]) {
        const struct column *column = &roof_columns[i - 1];

        if (name_length(column, index->units) == length &&
            same_name(key, name_of(column, index->units), length))
            return i - 1;
    }
    return -1;
}

/* From after the opening quote to the closing one, or to the end of the text. */
static const char *string_end(const char *at)
{
    while (*at && *at != '"')
        at += *at == '\\' && at[1] ? 2 : 1;
    return at;
}

/* From after a key's closing quote to the comma before the next key, or to the end. */
static const char *member_end(const char *at)
{
    int depth = 0;

    for (; *at && !(*at == ',' && depth == 0); at++) {
        if (*at == '"') {
            at = string_end(at + 1);
            if (!*at)
                break;
        } else if (*at == '{' || *at == '[') {
            depth++;
        } else if (*at == '}' || *at == ']') {
            depth--;
        }
    }
    return at;
}

/* Bit p of taken[column]: a field is called as the column behind p prefixes. */
static void mark(const struct clash_index *index, const char *key, size_t length,
                 unsigned char taken[COLUMNS_MAX])
{
    for (unsigned prefixes = 0; prefixes < 8; prefixes++) {
        int column = find_column(index, key, length);

        if (column >= 0)
            taken[column] |= (unsigned char)(1u << prefixes);
        if (length <= PREFIX_LENGTH || !same_name(key, prefix, PREFIX_LENGTH))
            break;
        key += PREFIX_LENGTH;
        length -= PREFIX_LENGTH;
    }
}

void clash_find(const struct clash_index *index, const char *properties,
                unsigned char prefixes[COLUMNS_MAX])
{
    const char *at = properties;

    memset(prefixes, 0, COLUMNS_MAX);
    while ((at = strchr(at, '"')) != NULL) {
        const char *end = string_end(at + 1);

        mark(index, at + 1, (size_t)(end - at - 1), prefixes);
        if (!*end)
            break;
        at = member_end(end + 1);
    }
    for (size_t i = 0; i < roof_column_count + PLACE_COLUMNS; i++) {
        unsigned char count = 0;

        while (prefixes[i] & (1u << count))
            count++;
        prefixes[i] = count;
    }
}
