/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Small drawings of what to measure, beside the groups of fields that need
 * one. The measure whose field has the keyboard is drawn in the accent.
 */
#pragma once

#include <gtk/gtk.h>

#include "plumbeam/records.h"

#define PLUMB_TYPE_FORM_PICTURE (plumb_form_picture_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFormPicture, plumb_form_picture, PLUMB, FORM_PICTURE, GtkWidget)

/* NULL: records of this kind need none. */
GtkWidget *plumb_form_picture_new (PlumbRecordKind kind);
/* The field that is being typed, -1 for none. */
void plumb_form_picture_mark (PlumbFormPicture *self, int field);
