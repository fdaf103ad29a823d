#include "cli/command.h"
#include "commands/commands.h"

static enum outlay_status help(struct call *call, struct outlay_error *err)
{
    const struct command *command = call->topic ? command_find(call->topic) : NULL;
    if (command) {
        command_help(command, &call->report);
        return OUTLAY_OK;
    }
    if (!call->topic) {
        commands_help(&call->report);
        return OUTLAY_OK;
    }
    return command_unknown(call->topic, err);
}

static enum outlay_status version(struct call *call, struct outlay_error *err)
{
    (void)err;
    command_version(&call->report);
    return OUTLAY_OK;
}

const struct command command_help_row = {
    .name = "help",
    .arguments = "[COMMAND]",
    .help = "this list, or the help of one command",
    .more = "Prints the list of commands, or the help of one.",
    .examples = "  outlay help run\n",
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
