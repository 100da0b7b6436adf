/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A row of the findings: vial, verdict, check and subject, one sentence, figure,
 * limit, what is to spare, and where the limit comes from. The chosen row
 * says the rest below: the cure, what it assumes, the full basis, who else.
 * A cure that can be applied is a button there: `cured` when it is pressed.
 * Rows out of sight are not worded: of thousands only a few cost time while
 * something is dragged.
 */
#pragma once

#include <gtk/gtk.h>

#include "finding-item.h"

#define PLUMB_TYPE_FINDING_ROW (plumb_finding_row_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFindingRow, plumb_finding_row, PLUMB, FINDING_ROW, GtkWidget)

GtkWidget *plumb_finding_row_new (void);
/* NULL: none. */
void plumb_finding_row_show (PlumbFindingRow *self, PlumbFindingItem *item);
void plumb_finding_row_set_chosen (PlumbFindingRow *self, gboolean chosen);
/* Narrow: without the basis; tight: also without what is to spare. All rows of
 * a list have the same room, so that their columns stand below each other. */
typedef enum {
  PLUMB_FINDING_TIGHT,
  PLUMB_FINDING_NARROW,
  PLUMB_FINDING_WIDE,
  PLUMB_FINDING_WIDEST
} PlumbFindingRoom;
void plumb_finding_row_set_room (PlumbFindingRow *self, PlumbFindingRoom room);
/* Characters of the basis column, for its head. */
int plumb_finding_basis_chars (PlumbFindingRoom room);
