#include "draw/bookmarks.h"

#include <stdlib.h>
#include <string.h>

#include "base/text.h"

/* The building's, below which its roofs come; stays 0 where there is but one. */
static enum outlay_status find_parent(struct bookmarks *bookmarks, struct canvas *canvas,
                                      const struct building *building, int *parent,
                                      struct outlay_error *err)
{
    if (!building->name || building->roof_count < 2)
        return OUTLAY_OK;
    if (!bookmarks->building || strcmp(bookmarks->building, building->name) != 0) {
        free(bookmarks->building);
        bookmarks->building = path_with(building->name, "");
        if (!bookmarks->building)
            return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
        bookmarks->number = canvas_bookmark(canvas, 0, building->name);
    }
    *parent = bookmarks->number;
    return OUTLAY_OK;
}

enum outlay_status bookmarks_add(struct bookmarks *bookmarks, struct canvas *canvas,
                                 const struct building *building, const struct roof *roof,
                                 struct outlay_error *err)
{
    struct text title = TEXT_INIT;
    int parent = 0;
    text_puts(&title, roof->id);
    if (roof->name)
        text_printf(&title, "  %s", roof->name);
    enum outlay_status status =
        title.failed ? outlay_fail(err, OUTLAY_E_MEMORY, "out of memory")
                     : find_parent(bookmarks, canvas, building, &parent, err);
    if (status == OUTLAY_OK)
        canvas_bookmark(canvas, parent, title.data);
    text_release(&title);
    return status;
}

void bookmarks_release(struct bookmarks *bookmarks)
{
    free(bookmarks->building);
    bookmarks->building = NULL;
}
