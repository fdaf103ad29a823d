#define _DEFAULT_SOURCE /* the terminal's size */

#include "cli/terminal.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/number.h"
#include "base/plural.h"
#include "base/text.h"

#define FIRST_BAR 0.5 /* s; shorter runs show none */
#define BAR_EVERY 0.1
#define USUAL_WIDTH 80
#define LEAST_BAR 5   /* columns; narrower ones show nothing */
#define FIRST_GUESS 2 /* s; what is left isn't guessed before */

/* Begins a line anew; nothing is left of what stood there. */
#define LINE_ANEW "\r\033[K"

void terminal_init(struct terminal *terminal, struct interrupt *interrupt)
{
    const char *kind = getenv("TERM");
    bool plain = !kind || !*kind || strcmp(kind, "dumb") == 0;
    *terminal = (struct terminal){.watched = !plain && isatty(STDERR_FILENO) == 1,
                                  .start = clock_start(),
                                  .next_bar = FIRST_BAR,
                                  .interrupt = interrupt};
}

/* Standard error has no buffer: what is put at once is one write. */
static void put(struct text *text)
{
    if (text->length)
        (void)fwrite(text->data, 1, text->length, stderr);
    text_release(text);
}

/* Texts may come from the data: what would move the cursor or end the line is shown as
 * a question mark. */
static void append_plain(struct text *out, const char *text)
{
    for (; *text; text++)
        text_putc(out, (unsigned char)*text < ' ' || *text == 0x7f ? '?' : *text);
}

static void put_line(struct terminal *terminal, const char *kind, const char *what,
                     const char *where, const char *todo)
{
    const char *const parts[] = {what, where, todo};
    struct text line = TEXT_INIT;
    text_printf(&line, "%soutlay: %s", terminal->bar_shown ? LINE_ANEW : "", kind);
    terminal->bar_shown = false;
    for (size_t i = 0; i < 3; i++)
        if (*parts[i]) {
            text_puts(&line, ": ");
            append_plain(&line, parts[i]);
        }
    text_putc(&line, '\n');
    put(&line);
}

void terminal_message(void *user, const struct outlay_message *message)
{
    static const char *const kinds[] = {"note", "warning", "error"};
    struct terminal *terminal = user;
    if (terminal->quiet && message->kind == OUTLAY_MESSAGE_NOTE)
        return;
    put_line(terminal, kinds[message->kind], message->what, message->where,
             message->todo);
}

void terminal_error(struct terminal *terminal, const struct outlay_error *err)
{
    put_line(terminal, "error", *err->what ? err->what : outlay_status_text(err->status),
             err->where, err->todo);
}

/* Columns; asked for anew each time, since a window may be made wider. */
static size_t width(void)
{
    struct winsize size;
    const char *given = getenv("COLUMNS");
    double columns = 0;
    if (ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
        return size.ws_col;
    if (given && number_parse(given, &columns) && columns >= 1 && columns <= 10000)
        return (size_t)columns;
    return USUAL_WIDTH;
}

/* ", 2 min left": as long again as it took so far for each share done. */
static void append_left(struct text *out, double share, double seconds)
{
    if (!(share > 0 && share < 1) || seconds < FIRST_GUESS)
        return;
    double left = seconds / share - seconds;
    if (left < 90)
        text_printf(out, ", %.0f s left", left);
    else if (left < 90 * 60)
        text_printf(out, ", %.0f min left", left / 60);
    else
        text_printf(out, ", %.1f h left", left / 3600);
}

/* One column stays free: a character in the last one may begin a new line. */
static void draw_bar(double share, size_t roofs, double seconds)
{
    struct text tail = TEXT_INIT;
    struct text line = TEXT_INIT;
    size_t room = width() - 1;
    if (share >= 0)
        text_printf(&tail, "%3d %%, ", (int)(share * 100));
    text_printf(&tail, "%zu roof%s", roofs, PLURAL(roofs));
    append_left(&tail, share, seconds);
    text_puts(&line, LINE_ANEW);
    if (share >= 0 && room >= tail.length + LEAST_BAR + 3) {
        size_t columns = room - tail.length - 3;
        size_t filled = (size_t)(share * (double)columns + 0.5);
        text_putc(&line, '[');
        for (size_t i = 0; i < columns; i++)
            text_putc(&line, i < filled ? '#' : ' ');
        text_puts(&line, "] ");
    }
    if (!tail.failed)
        text_append(&line, tail.data, tail.length < room ? tail.length : room);
    text_release(&tail);
    put(&line);
}

int terminal_progress(void *user, double share, size_t roofs)
{
    struct terminal *terminal = user;
    if (interrupt_asked(terminal->interrupt))
        return 1;
    if (!terminal->watched || terminal->quiet)
        return 0;
    double seconds = clock_seconds(&terminal->start);
    if (seconds >= terminal->next_bar) {
        terminal->next_bar = seconds + BAR_EVERY;
        draw_bar(share, roofs, seconds);
        terminal->bar_shown = true;
    }
    return 0;
}

void terminal_clear(struct terminal *terminal)
{
    if (terminal->bar_shown)
        fputs(LINE_ANEW, stderr);
    terminal->bar_shown = false;
}
