/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One line of the findings, as the list keeps it. A line is changed in place
 * and says `changed`; no words are made here.
 */
#pragma once

#include <gio/gio.h>

#include "plumbeam/evaluate.h"
#include "text/findings.h"

#define PLUMB_TYPE_FINDING_ITEM (plumb_finding_item_get_type ())
G_DECLARE_FINAL_TYPE (PlumbFindingItem, plumb_finding_item, PLUMB, FINDING_ITEM, GObject)

PlumbFindingItem *plumb_finding_item_new (void);
/* count: how many findings the line stands for. Holds on to the scene. */
void plumb_finding_item_set (PlumbFindingItem *self, const PlumbScene *scene, const PlumbFinding *finding,
                             guint count, PlumbWords words);
const PlumbFinding *plumb_finding_item_finding (PlumbFindingItem *self);
const PlumbScene *plumb_finding_item_scene (PlumbFindingItem *self);
guint plumb_finding_item_count (PlumbFindingItem *self);
/* The seats that the line stands for beside its own, in words; NULL: none, or
 * not yet asked for. */
const char *plumb_finding_item_others (PlumbFindingItem *self);
void plumb_finding_item_set_others (PlumbFindingItem *self, const char *others);
/* Whether the cure can be applied as it is said; FALSE until it is set. */
gboolean plumb_finding_item_curable (PlumbFindingItem *self);
void plumb_finding_item_set_curable (PlumbFindingItem *self, gboolean curable);
PlumbWords plumb_finding_item_words (PlumbFindingItem *self);
