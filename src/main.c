#include "cli/command.h"

/* The locale is never set, so numbers have a decimal point everywhere. */
int main(int argc, char **argv)
{
    return command_main(argc, argv);
}
