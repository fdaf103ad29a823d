#include "cli/arguments.h"

#include <stdio.h>
#include <string.h>

struct cursor {
    const struct command *command;
    int argc;
    char **argv;
    int at;           /* the next argument */
    size_t positions; /* plain arguments read */
    struct outlay_job *job;
    struct arguments *out;
    struct outlay_error *err;
};

static enum outlay_status unknown(struct cursor *cursor, const char *name, size_t length)
{
    char word[61];
    snprintf(word, sizeof word, "%.*s", (int)(length < 60 ? length : 60), name);
    outlay_fail(cursor->err, OUTLAY_E_USAGE, "no option is called %s", word);
    outlay_fail_where(cursor->err, "outlay %s", cursor->command->name);
    const char *bare = word + strspn(word, "-");
    const char *nearest = option_nearest(bare, cursor->command->bit);
    if (nearest)
        outlay_fail_todo(cursor->err, "did you mean --%s?", nearest);
    else
        outlay_fail_todo(cursor->err, "`outlay %s --help` lists them",
                         cursor->command->name);
    return OUTLAY_E_USAGE;
}

static enum outlay_status not_for_command(struct cursor *cursor,
                                          const struct option *option)
{
    struct text commands = TEXT_INIT;
    for (size_t i = 0; command_table[i]; i++)
        if (command_table[i]->bit & option->commands)
            text_printf(&commands, "%s%s", commands.length ? ", " : "",
                        command_table[i]->name);
    outlay_fail(cursor->err, OUTLAY_E_USAGE, "`outlay %s` has no option --%s",
                cursor->command->name, option->name);
    outlay_fail_todo(cursor->err, "it belongs to: %s",
                     commands.data ? commands.data : "");
    text_release(&commands);
    return OUTLAY_E_USAGE;
}

static enum outlay_status assign(struct cursor *cursor, const struct option *option,
                                 const char *value)
{
    char where[80];
    if (!(option->commands & cursor->command->bit))
        return not_for_command(cursor, option);
    if (strcmp(option->name, "job") == 0)
        return outlay_job_read_file(cursor->job, value, cursor->err);
    snprintf(where, sizeof where, "--%s", option->name);
    return job_assign(cursor->job, option, value, where, false, cursor->err);
}

static enum outlay_status assign_flag(struct cursor *cursor, const struct option *option,
                                      const char *value)
{
    if (strcmp(option->name, "help") == 0)
        cursor->out->help = true;
    else if (strcmp(option->name, "version") == 0)
        cursor->out->version = true;
    else
        return assign(cursor, option, value);
    return OUTLAY_OK;
}

/* The value behind an option, in the same argument or the next. */
static enum outlay_status assign_next(struct cursor *cursor, const struct option *option,
                                      const char *attached)
{
    if (attached)
        return option->kind == OPTION_FLAG ? assign_flag(cursor, option, attached)
                                           : assign(cursor, option, attached);
    if (option->kind == OPTION_FLAG)
        return assign_flag(cursor, option, "yes");
    if (cursor->at < cursor->argc && strncmp(cursor->argv[cursor->at], "--", 2) != 0)
        return assign(cursor, option, cursor->argv[cursor->at++]);
    outlay_fail(cursor->err, OUTLAY_E_USAGE, "--%s has no value", option->name);
    outlay_fail_where(cursor->err, "outlay %s", cursor->command->name);
    outlay_fail_todo(cursor->err, "write --%s %s", option->name, option->value);
    return OUTLAY_E_USAGE;
}

static enum outlay_status read_long(struct cursor *cursor, const char *argument)
{
    const char *name = argument + 2;
    size_t length = strcspn(name, "=");
    const char *attached = name[length] == '=' ? name + length + 1 : NULL;
    const struct option *option = option_find(name, length);
    if (option)
        return assign_next(cursor, option, attached);
    if (length > 3 && strncmp(name, "no-", 3) == 0 && !attached) {
        option = option_find(name + 3, length - 3);
        if (option && option->kind == OPTION_FLAG && option->in_job)
            return assign(cursor, option, "no");
    }
    return unknown(cursor, argument, length + 2);
}

static enum outlay_status read_short(struct cursor *cursor, const char *argument)
{
    const struct option *option = option_by_letter(argument[1]);
    if (!option)
        return unknown(cursor, argument, strlen(argument));
    const char *attached = argument[2] ? argument + 2 : NULL;
    if (attached && option->kind == OPTION_FLAG)
        return unknown(cursor, argument, strlen(argument));
    return assign_next(cursor, option, attached);
}

static enum outlay_status read_plain(struct cursor *cursor, const char *argument)
{
    const char *name = cursor->command->positions[cursor->positions];
    if (!name) {
        outlay_fail(cursor->err, OUTLAY_E_USAGE, "one argument too many: \"%.80s\"",
                    argument);
        outlay_fail_where(cursor->err, "outlay %s", cursor->command->name);
        outlay_fail_todo(cursor->err, "the form is: outlay %s %s", cursor->command->name,
                         cursor->command->arguments);
        return OUTLAY_E_USAGE;
    }
    cursor->positions++;
    return assign(cursor, option_find(name, strlen(name)), argument);
}

enum outlay_status arguments_read(const struct command *command, int argc, char **argv,
                                  struct outlay_job *job, struct arguments *out,
                                  struct outlay_error *err)
{
    struct cursor cursor = {.command = command,
                            .argc = argc,
                            .argv = argv,
                            .job = job,
                            .out = out,
                            .err = err};
    enum outlay_status status = OUTLAY_OK;
    bool plain_only = false;
    *out = (struct arguments){false, false};
    while (status == OUTLAY_OK && cursor.at < argc && !out->help && !out->version) {
        const char *argument = argv[cursor.at++];
        if (plain_only || argument[0] != '-' || argument[1] == '\0')
            status = read_plain(&cursor, argument);
        else if (strcmp(argument, "--") == 0)
            plain_only = true;
        else if (argument[1] == '-')
            status = read_long(&cursor, argument);
        else
            status = read_short(&cursor, argument);
    }
    return status;
}
