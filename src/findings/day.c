#include "findings/day.h"

#include <stdio.h>
#include <string.h>

static int digits(const char *text, int count)
{
    int number = 0;

    for (int i = 0; i < count; i++) {
        if (text[i] < '0' || text[i] > '9')
            return -1;
        number = 10 * number + text[i] - '0';
    }
    return number;
}

static int days_of(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;

    return days[month - 1] + (month == 2 && leap);
}

bool day_parse(const char *text, char out[DAY_LENGTH])
{
    int year, month, day;
    char end;

    if (strlen(text) < 10 || !strchr("-/", text[4]) || text[7] != text[4])
        return false;
    year = digits(text, 4);
    month = digits(text + 5, 2);
    day = digits(text + 8, 2);
    end = text[10];
    if (year < 2000 || year > 2100 || month < 1 || month > 12 || day < 1 ||
        day > days_of(year, month) || (end && end != 'T' && end != ' '))
        return false;
    snprintf(out, DAY_LENGTH, "%04d-%02d-%02d", year, month, day);
    return true;
}
