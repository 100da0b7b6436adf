/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a field shows as text and takes as text. No GTK.
 *
 * Numbers are in the key's unit, lengths in the job's units. A bare length is
 * in the key's unit where the job is metric, and in inches where it is not.
 */
#pragma once

#include <glib.h>

#include "plumbeam/records.h"

gboolean plumb_form_is_length (const PlumbField *field);
/* Whether the field is typed as text into an entry that holds a number. */
gboolean plumb_form_is_number (const PlumbField *field);
/* The value without its unit, as the entry shows it; the caller's. */
char *plumb_form_value_text (const PlumbField *field, const void *record, int units);
/* The unit beside the entry; "" where the text brings its own. */
const char *plumb_form_value_unit (const PlumbField *field, int units);
/* NUM and COUNT; FALSE with a sentence. */
gboolean plumb_form_value_parse (const PlumbField *field, int units, const char *text, double *value, GError **error);
/* "0.300 to 2.200 m"; the caller's. */
char *plumb_form_value_range (const PlumbField *field, int units);
/* A figure of the engine without its unit, and the unit for the column beside
 * it; the text is the caller's. */
char *plumb_form_figure_text (double value, const char *unit, int units, const char **shown_unit);
