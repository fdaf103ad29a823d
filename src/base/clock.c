#include "base/clock.h"

struct timespec clock_start(void)
{
    struct timespec now = {0, 0};
    clock_gettime(CLOCK_MONOTONIC, &now);
    return now;
}

double clock_seconds(const struct timespec *start)
{
    struct timespec now = clock_start();
    return (double)(now.tv_sec - start->tv_sec) +
           1e-9 * (double)(now.tv_nsec - start->tv_nsec);
}
