#include "cli/command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/nearest.h"
#include "cli/arguments.h"

const struct command *const command_table[] = {
    &command_run_row,     &command_takeoff_row, &command_survey_row,
    &command_compare_row, &command_rank_row,    &command_budget_row,
    &command_draw_row,    &command_zones_row,   &command_inspect_row,
    &command_explain_row, &command_catalog_row, &command_job_row,
    &command_help_row,    &command_version_row, NULL,
};

const struct command *command_find(const char *name)
{
    for (size_t i = 0; command_table[i]; i++)
        if (strcmp(command_table[i]->name, name) == 0)
            return command_table[i];
    return NULL;
}

enum outlay_status command_unknown(const char *name, struct outlay_error *err)
{
    struct nearest nearest = nearest_start(name);
    for (size_t i = 0; command_table[i]; i++)
        nearest_try(&nearest, command_table[i]->name);
    outlay_fail(err, OUTLAY_E_USAGE, "no command is called \"%.60s\"", name);
    if (nearest.best)
        outlay_fail_todo(err, "did you mean %s?", nearest.best);
    else
        outlay_fail_todo(err, "`outlay help` lists the commands");
    return OUTLAY_E_USAGE;
}

/* As enum exit_status has them. */
static const char exit_help[] =
    "\nExit status\n"
    "  0 done; 1 done, but roofs were left out; 2 bad usage or unreadable input, also\n"
    "  when a stream is cut off; 3 output not written; 4 stopped by --strict or a\n"
    "  limit, or out of memory; 130 interrupted\n";

void commands_help(struct text *out)
{
    text_puts(out,
              "outlay: outlines of low-slope roofs in; wind zones, fastening, takeoff, "
              "cost,\nbudget and plan sheets out\n\n"
              "usage: outlay COMMAND [ARGUMENTS] [OPTIONS]\n\n"
              "Commands\n");
    for (size_t i = 0; command_table[i]; i++)
        text_printf(out, "  %-9s %s\n", command_table[i]->name, command_table[i]->help);
    text_puts(out, exit_help);
}

void command_help(const struct command *command, struct text *out)
{
    text_printf(out, "usage: outlay %s %s\n\n%s\n", command->name, command->arguments,
                command->more);
    if (*command->examples)
        text_printf(out, "\nExamples\n%s", command->examples);
    options_help(command->bit, out);
    if (command->bit)
        text_puts(out, exit_help);
}

static int exit_status_of(enum outlay_status status, const struct outlay_result *result)
{
    switch (status) {
    case OUTLAY_OK:
        return result->left_out ? EXIT_LEFT_OUT : EXIT_DONE;
    case OUTLAY_E_USAGE:
    case OUTLAY_E_INPUT:
        return EXIT_INPUT;
    case OUTLAY_E_OUTPUT:
        return EXIT_OUTPUT;
    case OUTLAY_E_INTERRUPTED:
        return EXIT_INTERRUPTED;
    case OUTLAY_E_MEMORY:
    case OUTLAY_E_ARGUMENT:
    case OUTLAY_E_GEOMETRY:
    case OUTLAY_E_LIMIT:
        break;
    }
    return EXIT_LIMIT;
}

/* Standard output is an output like any other: a full disk or a closed pipe behind it
 * is an error. */
static enum outlay_status put_report(const struct text *report, struct outlay_error *err)
{
    if (report->failed)
        return outlay_fail(err, OUTLAY_E_MEMORY, "out of memory");
    if (report->length && fwrite(report->data, 1, report->length, stdout) != 0 &&
        fflush(stdout) == 0 && !ferror(stdout))
        return OUTLAY_OK;
    if (report->length == 0)
        return OUTLAY_OK;
    outlay_fail(err, OUTLAY_E_OUTPUT, "the result can't be written");
    outlay_fail_where(err, "standard output");
    return OUTLAY_E_OUTPUT;
}

static enum outlay_status run_resolved(const struct command *command,
                                       struct outlay_job *job, struct call *call,
                                       struct terminal *terminal,
                                       struct outlay_error *err)
{
    struct settings settings;
    enum outlay_status status = job_settings(job, &settings, err);
    terminal->quiet = settings.quiet;
    if (status == OUTLAY_OK)
        status = settings_resolve(&settings, err);
    if (status == OUTLAY_OK)
        status =
            command->work(&settings, &job->messages, &call->result, &call->report, err);
    if (command->writes && settings.quiet)
        text_clear(&call->report);
    settings_release(&settings);
    return status;
}

static enum outlay_status run_command(const struct command *command, int argc,
                                      char **argv, struct outlay_job *job,
                                      struct call *call, struct terminal *terminal,
                                      struct outlay_error *err)
{
    struct arguments arguments;
    if (command->bit == 0) {
        call->topic = argc > 0 ? argv[0] : NULL;
        return command->run(call, err);
    }
    enum outlay_status status = arguments_read(command, argc, argv, job, &arguments, err);
    if (status != OUTLAY_OK)
        return status;
    if (arguments.help) {
        command_help(command, &call->report);
        return OUTLAY_OK;
    }
    if (arguments.version)
        return command_version_row.run(call, err);
    return run_resolved(command, job, call, terminal, err);
}

/* The command that the first argument names; --help and --version are commands too. */
static enum outlay_status choose(const char *word, const struct command **out,
                                 struct outlay_error *err)
{
    if (!word || strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0)
        word = "help";
    if (strcmp(word, "--version") == 0)
        word = "version";
    *out = command_find(word);
    return *out ? OUTLAY_OK : command_unknown(word, err);
}

int command_main(int argc, char **argv)
{
    struct terminal terminal;
    struct outlay_error err = {0};
    const struct command *command;
    struct call call = {.report = TEXT_INIT};
    struct interrupt *interrupt = interrupt_start();
    struct outlay_job *job = outlay_job_new();
    terminal_init(&terminal, interrupt);
    enum outlay_status status =
        job ? OUTLAY_OK : outlay_fail(&err, OUTLAY_E_MEMORY, "out of memory");
    if (status == OUTLAY_OK)
        status = choose(argc > 1 ? argv[1] : NULL, &command, &err);
    if (status == OUTLAY_OK) {
        outlay_job_on_message(job, terminal_message, &terminal);
        outlay_job_on_progress(job, terminal_progress, &terminal);
        status = run_command(command, argc > 2 ? argc - 2 : 0, argv + 2, job, &call,
                             &terminal, &err);
    }
    terminal_clear(&terminal);
    if (status == OUTLAY_OK)
        status = put_report(&call.report, &err);
    if (status != OUTLAY_OK)
        terminal_error(&terminal, &err);
    text_release(&call.report);
    outlay_job_free(job);
    interrupt_free(interrupt);
    return exit_status_of(status, &call.result);
}
