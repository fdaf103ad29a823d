#include "roof/caution.h"
#include "write/write.h"

void caution_print(struct text *out, bool ratings_invented)
{
    text_puts(out, caution_text());
    if (ratings_invented)
        text_puts(out, " Ratings are invented: those of the built-in catalogue.");
}
