#include "findings/kinds.h"

#include <string.h>

int finding_role(enum finding_kind kind)
{
    for (int role = 0; role < FIELD_ROLES; role++)
        if (strcmp(field_role_name((enum field_role)role),
                   finding_kind_name((int)kind)) == 0)
            return role;
    return -1;
}
