/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a field takes: the same rules and words for the file and for KEY=VALUE.
 *
 * Each function returns NULL when the value is fine and was put into the
 * record, else the sentence that says why not. It does not mark it as typed.
 * `shown` is how the value was spelled, `n_shown` bytes of it.
 */
#pragma once

#include <glib.h>
#include <stdbool.h>

#include "plumbeam/records.h"

/* In the key's unit; NUM and COUNT. */
char *plumb_value_number (const PlumbField *field, void *record, double value, const char *shown, size_t n_shown);
/* A word of the list, `length` bytes of it. */
char *plumb_value_choice (const PlumbField *field, void *record, const char *word, size_t length, const char *shown,
                          size_t n_shown);
/* TEXT and REF, `length` bytes, valid UTF-8 without a byte 0. */
char *plumb_value_text (const PlumbField *field, void *record, const char *text, size_t length);
/* Whether the kind's records are told apart by an id. */
bool plumb_value_has_id (const PlumbRecordInfo *info);
