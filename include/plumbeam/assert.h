/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Broken invariants stop the program, in release builds too: a wrong drawing
 * that somebody drills by is worse than no drawing.
 */
#pragma once

#include <stdio.h>
#include <stdlib.h>

#define PLUMB_ASSERT(condition)                                                                                   \
  do {                                                                                                            \
    if (!(condition)) {                                                                                           \
      fprintf (stderr, "%s:%d: %s: broken invariant: %s\n", __FILE__, __LINE__, __func__, #condition);           \
      abort ();                                                                                                   \
    }                                                                                                             \
  } while (0)
