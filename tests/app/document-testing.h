/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the document share. */
#pragma once

#include "app/document-private.h"

typedef struct {
  guint changed, selected, filed;
} TestSignals;

/* Counts what the document says from now on. */
void test_listen (PlumbDocument *document, TestSignals *signals);
/* A path below the project's folder; the caller's. */
char *test_source_path (const char *inner);
/* A demo, opened. */
PlumbDocument *test_demo (const char *name);
/* A demo to which records were added until each kind has three at least, the
 * nested ones under two owners; saved nowhere. */
PlumbDocument *test_crowd (void);
guint test_count (PlumbDocument *document, PlumbRecordKind kind);
const void *test_record (PlumbDocument *document, PlumbRecordKind kind, guint index);
guint test_find (PlumbDocument *document, PlumbRecordKind kind, const char *id);
/* The file as it would be written, which was read back; the caller's. */
char *test_text (PlumbDocument *document);
/* The file's number of a field: fifteen digits, as somebody would type it. */
double test_typed_number (const PlumbField *field, const void *record);
/* Types one field of one record after another record. */
void test_type_like (PlumbDocument *document, PlumbRecordKind kind, guint index, int field, const void *like);
/* What every scene must be: ids that differ, nested records sorted by owners
 * that there are. */
void test_assert_sound (PlumbDocument *document);
void test_assert_shares_all (const PlumbScene *a, const PlumbScene *b);
void test_assert_bytes (const void *a, const void *b, gsize size);
