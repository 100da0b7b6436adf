/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The symbols: 16 px, strokes of 1.5 px with round joins, in the colour of
 * the text around them. Larger with larger text.
 */
#pragma once

#include <gtk/gtk.h>

typedef enum {
  PLUMB_SIGN_ADD,
  PLUMB_SIGN_COPY,
  PLUMB_SIGN_UP,
  PLUMB_SIGN_DOWN,
  PLUMB_SIGN_REMOVE,
  PLUMB_SIGN_UNDO,
  PLUMB_SIGN_REDO,
  PLUMB_SIGN_FOLD,   /* chevron down */
  PLUMB_SIGN_UNFOLD, /* chevron up */
  PLUMB_SIGN_MENU,
  PLUMB_SIGN_CLOSE,
  PLUMB_SIGN_FIT,
  PLUMB_N_SIGNS
} PlumbSignKind;

#define PLUMB_TYPE_SIGN (plumb_sign_get_type ())
G_DECLARE_FINAL_TYPE (PlumbSign, plumb_sign, PLUMB, SIGN, GtkWidget)

GtkWidget *plumb_sign_new (PlumbSignKind kind);
void plumb_sign_set_kind (PlumbSign *self, PlumbSignKind kind);
/* A flat button of 28 px with a sign, its accessible name and tooltip. */
GtkWidget *plumb_sign_button_new (PlumbSignKind kind, const char *name);
