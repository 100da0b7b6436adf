/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The linear programme with rows that are made on demand, so that callers
 * need no memory for them. */
#pragma once

#include "plumbeam/optics.h"

/* Writes row i: a0 a1 a2 b with (a0, a1, a2) of length one, or all of it zero
 * for a row that says nothing. */
typedef void (*PlumbRowFunc) (const void *data, size_t i, double row[4]);

bool plumb_linear_programme_3_rows (PlumbRowFunc row_func, const void *data, size_t n_rows, const double cost[3],
                                    double bound, double solution[3]);
