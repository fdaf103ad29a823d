#include "survey/rules.h"

struct task_row {
    const char *name;
    char letter;
};

static const struct task_row tasks[SURVEY_TASKS] = {
#define X(code, name, letter) {name, letter},
    SURVEY_TASK_MAP(X)
#undef X
};

const char *survey_task_name(int task)
{
    return task >= 0 && task < SURVEY_TASKS ? tasks[task].name : NULL;
}

char survey_task_letter(enum survey_task task)
{
    return tasks[task].letter;
}
