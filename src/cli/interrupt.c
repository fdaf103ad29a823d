#include "cli/interrupt.h"

#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <time.h>

/* The waiting thread's own signals: WAKE pulls the reading thread out of a read, QUIT
 * ends the waiting. */
#define WAKE SIGUSR1
#define QUIT SIGUSR2

struct interrupt {
    pthread_t waiting;
    pthread_t reading;
    sigset_t signals; /* SIGINT, SIGTERM, QUIT: blocked everywhere but in sigwait */
    atomic_bool asked;
};

static void wake(int signal)
{
    (void)signal;
}

/* A read may begin just after it was to be woken: repeat that until the end. */
static void nudge_until_quit(struct interrupt *interrupt)
{
    const struct timespec pause = {0, 100 * 1000 * 1000};
    int signal;
    do {
        pthread_kill(interrupt->reading, WAKE);
        signal = sigtimedwait(&interrupt->signals, NULL, &pause);
    } while (signal < 0);
    if (signal == QUIT)
        return;
    struct sigaction action = {.sa_handler = SIG_DFL};
    sigset_t both;
    sigaction(signal, &action, NULL);
    sigemptyset(&both);
    sigaddset(&both, signal);
    raise(signal);
    pthread_sigmask(SIG_UNBLOCK, &both, NULL);
}

static void *wait_for_signal(void *argument)
{
    struct interrupt *interrupt = argument;
    int signal;
    if (sigwait(&interrupt->signals, &signal) != 0 || signal == QUIT)
        return NULL;
    atomic_store(&interrupt->asked, true);
    nudge_until_quit(interrupt);
    return NULL;
}

struct interrupt *interrupt_start(void)
{
    struct interrupt *interrupt = calloc(1, sizeof *interrupt);
    if (!interrupt)
        return NULL;
    struct sigaction action = {.sa_handler = wake}; /* no SA_RESTART: reads return */
    sigset_t before;
    sigaction(WAKE, &action, NULL);
    sigemptyset(&interrupt->signals);
    sigaddset(&interrupt->signals, SIGINT);
    sigaddset(&interrupt->signals, SIGTERM);
    sigaddset(&interrupt->signals, QUIT);
    pthread_sigmask(SIG_BLOCK, &interrupt->signals, &before);
    interrupt->reading = pthread_self();
    atomic_init(&interrupt->asked, false);
    if (pthread_create(&interrupt->waiting, NULL, wait_for_signal, interrupt) != 0) {
        pthread_sigmask(SIG_SETMASK, &before, NULL);
        free(interrupt);
        return NULL;
    }
    return interrupt;
}

bool interrupt_asked(struct interrupt *interrupt)
{
    return interrupt && atomic_load(&interrupt->asked);
}

void interrupt_free(struct interrupt *interrupt)
{
    if (!interrupt)
        return;
    pthread_kill(interrupt->waiting, QUIT);
    pthread_join(interrupt->waiting, NULL);
    free(interrupt);
}
