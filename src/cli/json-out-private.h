/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A small JSON writer: indented by two, numbers as the shortest decimal that
 * reads back equal, whatever the locale. A number that is not finite has no
 * JSON form; such a member is left out.
 *
 * key is NULL inside an array and for the outermost value.
 */
#pragma once

#include <glib.h>
#include <stdbool.h>

typedef struct {
  GString *text;
  unsigned depth;
  bool first; /* nothing yet in the open object or array */
} PlumbJsonOut;

void plumb_json_out_init (PlumbJsonOut *out);
/* Closes the text with a line end and gives it to the caller. */
char *plumb_json_out_finish (PlumbJsonOut *out);
void plumb_json_out_open (PlumbJsonOut *out, const char *key, char bracket);
void plumb_json_out_close (PlumbJsonOut *out, char bracket);
/* NULL is left out. */
void plumb_json_out_text (PlumbJsonOut *out, const char *key, const char *value);
void plumb_json_out_number (PlumbJsonOut *out, const char *key, double value);
void plumb_json_out_flag (PlumbJsonOut *out, const char *key, bool value);
/* On one line; left out whole when one of them is not finite. */
void plumb_json_out_numbers (PlumbJsonOut *out, const char *key, const double *values, int count);
