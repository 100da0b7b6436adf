/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of job files share. */
#pragma once

#include "job/job.h"

/* Sets a field of a record and marks it as typed. */
#define TYPE_IN(record_name, pointer, member, value)                                                                 \
  do                                                                                                                 \
    {                                                                                                                \
      (pointer)->member = (value);                                                                                   \
      (pointer)->head.typed |= UINT64_C (1) << PLUMB_FIELD_##record_name##_##member;                                 \
    }                                                                                                                \
  while (0)

/* A path below the project's folder. */
char *test_path (const char *first, ...) G_GNUC_NULL_TERMINATED;
/* The names in a folder that have this ending, sorted; fails if there are none. */
GPtrArray *test_names (const char *folder, const char *ending);
/* JSON with ' for ". */
char *test_quotes (const char *text);
/* Must load; ' stands for ". */
PlumbJobFile *test_load (const char *text);
/* Must not load; the message. */
char *test_refusal (const void *bytes, gsize size);
/* Must be written. */
char *test_text (const PlumbJobFile *file);
char *test_contents (const char *path);
/* The same file with other records of one kind. */
PlumbJobFile *test_with (const PlumbJobFile *file, PlumbRecordKind kind, const void *records, uint32_t count);
/* Lines of `a` that are gone in `b` and lines that are new, between the first
 * and the last difference. */
void test_line_changes (const char *a, const char *b, unsigned *gone, unsigned *new);
