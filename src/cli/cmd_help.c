#include <string.h>

#include "base/nearest.h"
#include "cli/command.h"
#include "commands/commands.h"
#include "manual/manual.h"
#include "options/roles_text.h"

/* A topic that is made from the tables of the program; the others are the manual's. */
static const char roles_name[] = "roles";

static enum outlay_status help_unknown(const char *name, struct outlay_error *err)
{
    struct nearest nearest = nearest_start(name);

    for (size_t i = 0; command_table[i]; i++)
        nearest_try(&nearest, command_table[i]->name);
    for (const struct manual_topic *topic = manual_topics; topic->name; topic++)
        nearest_try(&nearest, topic->name);
    nearest_try(&nearest, roles_name);
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
    for (const struct manual_topic *topic = manual_topics; topic->name; topic++)
        text_printf(out, "  %-11s %s\n", topic->name, topic->help);
    text_printf(out, "  %-11s what columns may say about a roof: units, names, effects\n",
                roles_name);
    text_puts(out, "\n`outlay COMMAND --help` explains one command, `outlay help TOPIC` "
                   "one topic.\n");
}

static enum outlay_status help_topic(const char *name, struct text *out,
                                     struct outlay_error *err)
{
    const struct manual_topic *topic = manual_topics;

    if (strcmp(name, roles_name) == 0) {
        roles_help(out);
        return OUTLAY_OK;
    }
    while (topic->name && strcmp(topic->name, name) != 0)
        topic++;
    if (!topic->name)
        return help_unknown(name, err);
    text_puts(out, (const char *)topic->text);
    return OUTLAY_OK;
}

static enum outlay_status help(struct call *call, struct outlay_error *err)
{
    const struct command *command = call->topic ? command_find(call->topic) : NULL;

    if (!call->topic) {
        commands_help(&call->report);
        put_topics(&call->report);
    } else if (command) {
        command_help(command, &call->report);
    } else {
        return help_topic(call->topic, &call->report, err);
    }
    return OUTLAY_OK;
}

static enum outlay_status version(struct call *call, struct outlay_error *err)
{
    (void)err;
    command_version(&call->report);
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
    .help = "print the version, its commit and the libraries'",
    .more = "Prints the version, the commit that it was built from, and the versions of "
            "the\nlibraries that it runs with.",
    .examples = "",
    .run = version,
};
