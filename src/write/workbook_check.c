/* Whether a finished workbook holds what was put into it. The library collects each part
 * in a temporary file and doesn't notice when writing there fails: something lacks in the
 * middle, and nothing says so. So the file is read back through its public format
 * (ECMA-376, from memory: part 2, a zip of XML parts, tied together by content types and
 * relationships; part 1, 18.3.1, cells). */

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cpl_string.h>
#include <cpl_vsi.h>
#include <expat.h>
#include <xxhash.h>

#include "base/number.h"
#include "write/workbook_private.h"

enum { CHUNK = 1 << 16, DEPTH = 32 };

/* ---- What a cell holds ------------------------------------------------------------- */

/* Cells are summed, so that their order in a row doesn't matter. */
static void note(struct book_cells *cells, uint64_t row, uint64_t column, char kind,
                 const void *bytes, size_t length)
{
    uint64_t seed = row << 32 | column << 8 | (unsigned char)kind;

    cells->digest += XXH3_64bits_withSeed(bytes, length, seed);
    cells->count++;
}

void book_note_text(struct book_cells *cells, uint32_t row, uint16_t column,
                    const char *text)
{
    note(cells, row, column, 't', text, strlen(text));
}

void book_note_formula(struct book_cells *cells, uint32_t row, uint16_t column,
                       const char *formula)
{
    note(cells, row, column, 'f', formula, strlen(formula));
}

void book_note_number(struct book_cells *cells, uint32_t row, uint16_t column,
                      double number)
{
    note(cells, row, column, 'v', &number, sizeof number);
}

/* ---- Reading it back --------------------------------------------------------------- */

struct reading {
    XML_Parser parser;       /* owned */
    char *chunk;             /* owned, CHUNK bytes */
    struct book_cells cells; /* of this part */
    uint64_t row, column;    /* of this cell */
    struct text text;        /* of this element */
    bool whole;              /* as far as read */
    bool out_of_memory;

    /* elements within elements: how many each has, and says that it has; -1: no word */
    int depth;
    long children[DEPTH];
    long announced[DEPTH];

    /* in all parts */
    size_t types, relationships, sheets;
};

/* "AB12" to row 11, column 27. */
static void find_cell(struct reading *reading, const char *name)
{
    uint64_t column = 0;
    uint64_t row = 0;

    for (; *name >= 'A' && *name <= 'Z'; name++)
        column = column * 26 + (uint64_t)(*name - 'A' + 1);
    for (; *name >= '0' && *name <= '9'; name++)
        row = row * 10 + (uint64_t)(*name - '0');
    reading->row = row - 1;
    reading->column = column - 1;
}

static const char *attribute(const char **attributes, const char *name)
{
    for (; *attributes; attributes += 2)
        if (strcmp(attributes[0], name) == 0)
            return attributes[1];
    return NULL;
}

/* Whether an element carries text. Each of these does, and none else: where it doesn't
 * hold, what stands there is what was left of something. */
static bool carries_text(const char *name)
{
    static const char *const names[] = {"t",
                                        "v",
                                        "f",
                                        "definedName",
                                        "oddFooter",
                                        "vt:lpstr",
                                        "vt:i4",
                                        "dc:title",
                                        "dc:description",
                                        "dcterms:created",
                                        "dcterms:modified",
                                        "Application",
                                        "AppVersion",
                                        "DocSecurity",
                                        "ScaleCrop",
                                        "SharedDoc",
                                        "LinksUpToDate",
                                        "HyperlinksChanged"};

    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(names[i], name) == 0)
            return true;
    return false;
}

static void start_element(void *user, const char *name, const char **attributes)
{
    struct reading *reading = user;
    const char *count = attribute(attributes, "count");
    const char *size = attribute(attributes, "size");
    int announced = -1;

    if (++reading->depth >= DEPTH) {
        reading->whole = false;
        XML_StopParser(reading->parser, XML_FALSE);
        return;
    }
    if ((count || size) && !number_parse_int(count ? count : size, &announced))
        reading->whole = false;
    if (reading->text.length > 0)
        reading->whole = false;
    reading->children[reading->depth - 1]++;
    reading->children[reading->depth] = 0;
    reading->announced[reading->depth] = announced;
    reading->types += strcmp(name, "Override") == 0;
    reading->relationships += strcmp(name, "Relationship") == 0;
    reading->sheets += strcmp(name, "sheet") == 0;
    if (strcmp(name, "c") == 0) {
        if (attribute(attributes, "r") && attribute(attributes, "s"))
            find_cell(reading, attribute(attributes, "r"));
        else
            reading->whole = false;
    }
    text_clear(&reading->text);
}

static void end_element(void *user, const char *name)
{
    struct reading *reading = user;
    const struct text *text = &reading->text;
    const char *content = text->data ? text->data : "";
    long announced = reading->announced[reading->depth];
    double number = 0;

    if (announced >= 0 && announced != reading->children[reading->depth])
        reading->whole = false;
    if (carries_text(name) != (text->length > 0))
        reading->whole = false;
    reading->depth--;
    if (strcmp(name, "t") == 0 || strcmp(name, "f") == 0)
        note(&reading->cells, reading->row, reading->column, name[0], content,
             strlen(content));
    else if (strcmp(name, "v") == 0 && number_parse(content, &number))
        note(&reading->cells, reading->row, reading->column, 'v', &number, sizeof number);
    text_clear(&reading->text);
}

static void add_text(void *user, const char *text, int length)
{
    text_append(&((struct reading *)user)->text, text, (size_t)length);
}

/* Whether the part is well formed; notes its cells. */
static bool read_part(struct reading *reading, const char *path)
{
    VSILFILE *file = VSIFOpenL(path, "rb");
    size_t length = CHUNK;
    bool fine = file && XML_ParserReset(reading->parser, NULL);

    reading->cells = (struct book_cells){0};
    reading->depth = 0;
    XML_SetUserData(reading->parser, reading);
    XML_SetElementHandler(reading->parser, start_element, end_element);
    XML_SetCharacterDataHandler(reading->parser, add_text);
    while (fine && length == CHUNK) {
        length = VSIFReadL(reading->chunk, 1, CHUNK, file);
        fine = XML_Parse(reading->parser, reading->chunk, (int)length, length < CHUNK) ==
               XML_STATUS_OK;
    }
    if (file)
        VSIFCloseL(file);
    reading->out_of_memory = reading->out_of_memory || reading->text.failed ||
                             XML_GetErrorCode(reading->parser) == XML_ERROR_NO_MEMORY;
    return fine && !reading->out_of_memory;
}

static bool ends_in(const char *text, const char *ending)
{
    size_t length = strlen(text);
    size_t tail = strlen(ending);

    return length >= tail && strcmp(text + length - tail, ending) == 0;
}

/* Whether a part that is a sheet has the cells that it was given. */
static bool is_as_given(const struct reading *reading, const char *name,
                        const struct book *book)
{
    char sheet[48];

    for (size_t i = 0; i < book->sheets; i++) {
        snprintf(sheet, sizeof sheet, "xl/worksheets/sheet%zu.xml", i + 1);
        if (strcmp(name, sheet) == 0)
            return reading->cells.count == book->cells[i].count &&
                   reading->cells.digest == book->cells[i].digest;
    }
    return true;
}

/* Reads every part; each but the lists themselves stands in both lists. */
static bool read_parts(struct reading *reading, const char *folder, char **names,
                       const struct book *book)
{
    size_t listed = 0;
    bool fine = names != NULL;

    for (char **name = names; fine && *name; name++) {
        struct text path = TEXT_INIT;

        if (ends_in(*name, "/"))
            continue;
        listed += !ends_in(*name, ".rels") && strcmp(*name, "[Content_Types].xml") != 0;
        text_printf(&path, "%s/%s", folder, *name);
        reading->out_of_memory = reading->out_of_memory || path.failed;
        fine = !path.failed && read_part(reading, path.data) &&
               is_as_given(reading, *name, book);
        text_release(&path);
    }
    return fine && reading->whole && reading->types == listed &&
           reading->relationships == listed && reading->sheets == book->sheets;
}

enum outlay_status book_read_back(const struct book *book)
{
    struct reading reading = {
        .parser = XML_ParserCreate(NULL), .chunk = malloc(CHUNK), .whole = true};
    struct text folder = TEXT_INIT;
    char **names = NULL;
    enum outlay_status status = OUTLAY_E_MEMORY;

    /* braces end the name early where they are in it */
    text_printf(&folder, strpbrk(book->path, "{}") ? "/vsizip/%s" : "/vsizip/{%s}",
                book->path);
    if (reading.parser && reading.chunk && !folder.failed) {
        names = VSIReadDirRecursive(folder.data);
        status = read_parts(&reading, folder.data, names, book) ? OUTLAY_OK
                 : reading.out_of_memory                        ? OUTLAY_E_MEMORY
                                                                : OUTLAY_E_OUTPUT;
    }
    CSLDestroy(names);
    text_release(&folder);
    text_release(&reading.text);
    free(reading.chunk);
    if (reading.parser)
        XML_ParserFree(reading.parser);
    return status;
}
