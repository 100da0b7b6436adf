/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Waiting in tests with windows: the main loop turns meanwhile. */
#pragma once

#include <glib.h>

#define PATIENCE_US (20 * G_USEC_PER_SEC)

/* The loop turns until something is so; fails after twenty seconds. */
#define WAIT(condition)                                                                                              \
  G_STMT_START                                                                                                       \
  {                                                                                                                  \
    gint64 end_us = g_get_monotonic_time () + PATIENCE_US;                                                           \
    while (!(condition) && g_get_monotonic_time () < end_us)                                                         \
      if (!g_main_context_iteration (NULL, FALSE))                                                                   \
        g_usleep (1000);                                                                                             \
    g_assert_true (condition);                                                                                       \
  }                                                                                                                  \
  G_STMT_END

static inline void
turn_loop (guint ms)
{
  gint64 end_us = g_get_monotonic_time () + (gint64) ms * 1000;
  while (g_get_monotonic_time () < end_us)
    if (!g_main_context_iteration (NULL, FALSE))
      g_usleep (1000);
}
