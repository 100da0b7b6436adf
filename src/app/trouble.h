/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The strip under the header that says what went wrong: what happened, where,
 * what was kept, and one button. It never asks for an answer: it can be left
 * standing or closed.
 */
#pragma once

#include <gtk/gtk.h>

#define PLUMB_TYPE_TROUBLE (plumb_trouble_get_type ())
G_DECLARE_FINAL_TYPE (PlumbTrouble, plumb_trouble, PLUMB, TROUBLE, GtkWidget)

typedef void (*PlumbTroubleFunc) (gpointer data);

typedef struct {
  const char *what;   /* "The file could not be read." */
  const char *where;  /* may be NULL */
  const char *kept;   /* may be NULL */
  const char *button; /* may be NULL: then func is not used */
  PlumbTroubleFunc func;
  gpointer data;
  GDestroyNotify destroy; /* of data */
} PlumbTroubleWords;

GtkWidget *plumb_trouble_new (void);
/* Takes the place of what it said before. */
void plumb_trouble_say (PlumbTrouble *self, const PlumbTroubleWords *words);
void plumb_trouble_hush (PlumbTrouble *self);
