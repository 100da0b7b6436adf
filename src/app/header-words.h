/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the header says of the open job; all strings are the caller's. */
#pragma once

#include "app/document.h"

/* "The net loft", else the file's name, else "New job". */
char *plumb_header_title (PlumbDocument *document);
/* "village film club, revision 4, saved 14:02" */
char *plumb_header_about (PlumbDocument *document, gboolean demo);
/* "saved 14:02", "saved yesterday", "saved 3 May 2026" of a local time. */
char *plumb_header_saved (GDateTime *saved, GDateTime *now);
/* "Undo: drop of A", or the bare word when there is nothing. */
char *plumb_header_tooltip (const char *word, const char *name);
