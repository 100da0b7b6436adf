/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a 3D view shows of the open job: the current arrangement, another one,
 * or the current one without its keystone correction. It follows the document.
 *
 * Signals: `changed`: another scene or evaluation, for whatever reason;
 * `chosen`: somebody chose another half.
 */
#pragma once

#include "app/document.h"

#define PLUMB_TYPE_VIEW3D_HALF (plumb_view3d_half_get_type ())
G_DECLARE_FINAL_TYPE (PlumbView3dHalf, plumb_view3d_half, PLUMB, VIEW3D_HALF, GObject)

typedef enum { PLUMB_HALF_CURRENT, PLUMB_HALF_UNCORRECTED, PLUMB_HALF_ARRANGEMENT } PlumbHalfKind;

PlumbView3dHalf *plumb_view3d_half_new (PlumbDocument *document);
/* arrangement: for PLUMB_HALF_ARRANGEMENT; when it goes, the current one is shown. */
void plumb_view3d_half_choose (PlumbView3dHalf *self, PlumbHalfKind kind, guint arrangement);
PlumbHalfKind plumb_view3d_half_kind (PlumbView3dHalf *self);
guint plumb_view3d_half_arrangement (PlumbView3dHalf *self);
PlumbDocument *plumb_view3d_half_document (PlumbView3dHalf *self);
/* Valid until the next `changed`; never NULL. */
const PlumbScene *plumb_view3d_half_scene (PlumbView3dHalf *self);
const PlumbEvaluation *plumb_view3d_half_evaluation (PlumbView3dHalf *self);
