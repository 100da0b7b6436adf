/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Tables of outside figures in tests/data: '#' starts a comment (the source of
 * a block stands there), [block] a block, every other line is a name and up
 * to eight numbers. A table that cannot be read ends the test.
 */
#pragma once

#include <glib.h>

#define REFERENCE_MAX_VALUES 8

typedef struct {
  char *name;
  double value[REFERENCE_MAX_VALUES];
} ReferenceRow;

/* path is relative to tests/data. The rows of the block, at least one, each
 * with exactly n_values numbers. Free with g_array_unref. */
GArray *reference_table_load (const char *path, const char *block, guint n_values);
