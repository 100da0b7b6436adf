/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the measurements share: a monotonic clock and the median. */
#pragma once

#include <glib.h>
#include <stdlib.h>
#include <time.h>

static inline double
now_us (void)
{
  struct timespec t;
  if (clock_gettime (CLOCK_MONOTONIC, &t) != 0)
    g_error ("no monotonic clock");
  return (double) t.tv_sec * 1e6 + (double) t.tv_nsec * 1e-3;
}

/* What this thread alone used: does not count what others do on the machine. */
static inline double
processor_us (void)
{
  struct timespec t;
  if (clock_gettime (CLOCK_THREAD_CPUTIME_ID, &t) != 0)
    g_error ("no clock of the thread");
  return (double) t.tv_sec * 1e6 + (double) t.tv_nsec * 1e-3;
}

static inline int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

/* Sorts them. */
static inline double
median (double *took, size_t n)
{
  qsort (took, n, sizeof *took, compare_doubles);
  return took[n / 2];
}
