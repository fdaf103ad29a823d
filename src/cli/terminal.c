#include "cli/terminal.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "base/clock.h"

#define BAR_WIDTH 40
#define FIRST_BAR 0.5 /* s; shorter runs show none */
#define BAR_EVERY 0.1

void terminal_init(struct terminal *terminal, struct interrupt *interrupt)
{
    *terminal = (struct terminal){.watched = isatty(STDERR_FILENO) == 1,
                                  .start = clock_start(),
                                  .next_bar = FIRST_BAR,
                                  .interrupt = interrupt};
}

/* Texts may come from the data: what would move the cursor or end the line is shown as
 * a question mark. */
static void put_plain(const char *text)
{
    for (; *text; text++)
        fputc((unsigned char)*text < 0x20 || *text == 0x7F ? '?' : *text, stderr);
}

static void put_line(struct terminal *terminal, const char *kind, const char *what,
                     const char *where, const char *todo)
{
    const char *const parts[] = {what, where, todo};
    terminal_clear(terminal);
    fprintf(stderr, "outlay: %s", kind);
    for (size_t i = 0; i < 3; i++)
        if (*parts[i]) {
            fputs(": ", stderr);
            put_plain(parts[i]);
        }
    fputc('\n', stderr);
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

static void draw_bar(double share, size_t roofs)
{
    int filled = (int)(share * BAR_WIDTH + 0.5);
    if (share < 0) {
        fprintf(stderr, "\r%zu roofs", roofs);
        return;
    }
    fputs("\r[", stderr);
    for (int i = 0; i < BAR_WIDTH; i++)
        fputc(i < filled ? '#' : ' ', stderr);
    fprintf(stderr, "] %3d %%, %zu roofs", (int)(share * 100), roofs);
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
        draw_bar(share, roofs);
        terminal->bar_shown = true;
        fflush(stderr);
    }
    return 0;
}

void terminal_clear(struct terminal *terminal)
{
    if (terminal->bar_shown)
        fprintf(stderr, "\r%*s\r", BAR_WIDTH + 40, "");
    terminal->bar_shown = false;
}
