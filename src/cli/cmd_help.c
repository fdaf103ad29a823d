#include <string.h>

#include "base/nearest.h"
#include "cli/command.h"
#include "options/roles_text.h"

/* What can be asked about beside the commands. A topic is a row. */
struct topic {
    const char *name;
    const char *help; /* one line */
    void (*print)(struct text *out);
};

static const struct topic topics[] = {
    {"roles", "what columns may say about a roof: units, names, effects", roles_help},
};

enum { TOPICS = sizeof topics / sizeof topics[0] };

static enum outlay_status help_unknown(const char *name, struct outlay_error *err)
{
    struct nearest nearest = nearest_start(name);

    for (size_t i = 0; command_table[i]; i++)
        nearest_try(&nearest, command_table[i]->name);
    for (size_t i = 0; i < TOPICS; i++)
        nearest_try(&nearest, topics[i].name);
    outlay_fail(err, OUTLAY_E_USAGE, "no command or topic is called \"%.60s\"", name);
    if (nearest.best)
        outlay_fail_todo(err, "did you mean %s?", nearest.best);
    else
        outlay_fail_todo(err, "`outlay help` lists both");
    return OUTLAY_E_USAGE;
}

static void put_topics(struct text *out)
{
    text_puts(out, "\nTopics\n");
    for (size_t i = 0; i < TOPICS; i++)
        text_printf(out, "  %-9s %s\n", topics[i].name, topics[i].help);
    text_puts(out, "\n`outlay COMMAND --help` tells about one command, `outlay help "
                   "TOPIC` about a\ntopic.\n");
}

static enum outlay_status help(struct call *call, struct outlay_error *err)
{
    const struct command *command = call->topic ? command_find(call->topic) : NULL;

    if (!call->topic) {
        commands_help(&call->report);
        put_topics(&call->report);
        return OUTLAY_OK;
    }
    if (command) {
        command_help(command, &call->report);
        return OUTLAY_OK;
    }
    for (size_t i = 0; i < TOPICS; i++)
        if (strcmp(topics[i].name, call->topic) == 0) {
            topics[i].print(&call->report);
            return OUTLAY_OK;
        }
    return help_unknown(call->topic, err);
}

static enum outlay_status version(struct call *call, struct outlay_error *err)
{
    (void)err;
    text_printf(&call->report, "outlay %s\n", outlay_version());
    return OUTLAY_OK;
}

const struct command command_help_row = {
    .name = "help",
    .arguments = "[COMMAND|TOPIC]",
    .help = "this list, or the help of one command or topic",
    .more = "Prints the list of commands and topics, or the help of one.",
    .examples = "  outlay help run\n  outlay help roles\n",
    .run = help,
};

const struct command command_version_row = {
    .name = "version",
    .arguments = "",
    .help = "print the version",
    .more = "Prints the version.",
    .examples = "",
    .run = version,
};
