#include "read/tail.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include <cpl_vsi.h>
#include <json-c/json.h>

enum { RECORD_SEPARATOR = 0x1E };

static const vsi_l_offset first_reach = 64 * 1024;

/* Reads the file's last `reach` bytes, fewer where it has fewer. Owned by the caller,
 * ended by NUL; NULL when that fails. */
static char *read_tail(VSILFILE *file, vsi_l_offset size, vsi_l_offset reach,
                       size_t *length)
{
    char *bytes;

    if (reach > size)
        reach = size;
    *length = (size_t)reach;
    bytes = malloc(*length + 1);
    if (!bytes)
        return NULL;
    bytes[*length] = '\0';
    if (VSIFSeekL(file, size - reach, SEEK_SET) != 0 ||
        VSIFReadL(bytes, 1, *length, file) != *length) {
        free(bytes);
        return NULL;
    }
    return bytes;
}

static vsi_l_offset size_of(VSILFILE *file)
{
    return VSIFSeekL(file, 0, SEEK_END) == 0 ? VSIFTellL(file) : 0;
}

static bool is_end(char byte)
{
    return byte == '\n' || byte == '\r';
}

bool tail_is_open(const char *path)
{
    VSILFILE *file = VSIFOpenL(path, "rb");
    char *bytes = NULL;
    size_t length = 0;
    bool open;

    if (!file)
        return false;
    bytes = read_tail(file, size_of(file), 1, &length);
    open = bytes && length == 1 && !is_end(bytes[0]);
    free(bytes);
    VSIFCloseL(file);
    return open;
}

static bool parses(const char *text, size_t length)
{
    struct json_tokener *parser = json_tokener_new();
    struct json_object *tree = NULL;
    bool whole = true;

    if (!parser || length > INT_MAX)
        goto done;
    tree = json_tokener_parse_ex(parser, text, (int)length);
    whole = json_tokener_get_error(parser) == json_tokener_success;

done:
    json_object_put(tree);
    if (parser)
        json_tokener_free(parser);
    return whole;
}

/* Where the last text begins: behind the last separator that has something behind it.
 * NULL when it begins before `bytes`. */
static const char *last_text(const char *bytes, size_t *length, char separator)
{
    size_t end = *length, start;

    while (end > 0 && (is_end(bytes[end - 1]) || bytes[end - 1] == RECORD_SEPARATOR))
        end--;
    for (start = end; start > 0 && bytes[start - 1] != separator; start--)
        ;
    *length = end - start;
    return start > 0 ? bytes + start : NULL;
}

bool tail_is_cut_json(const char *path)
{
    VSILFILE *file = VSIFOpenL(path, "rb");
    vsi_l_offset size = file ? size_of(file) : 0;
    char first = '\0';
    bool cut = false, found = false;

    if (!file)
        return false;
    VSIFSeekL(file, 0, SEEK_SET);
    VSIFReadL(&first, 1, 1, file);
    for (vsi_l_offset reach = first_reach; !found; reach *= 8) {
        size_t length = 0;
        char *bytes = read_tail(file, size, reach, &length);
        const char *text = NULL;

        found = !bytes || reach >= size;
        if (bytes)
            text = last_text(bytes, &length, first == RECORD_SEPARATOR ? first : '\n');
        if (!text && found)
            text = bytes; /* the file is one text */
        if (text) {
            found = true;
            cut = length > 0 && !parses(text, length);
        }
        free(bytes);
    }
    VSIFCloseL(file);
    return cut;
}
