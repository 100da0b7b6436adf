/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-half.h"

#include "text/half.h"

struct _PlumbView3dHalf {
  GObject parent_instance;

  PlumbDocument *document;
  PlumbHalfKind kind;
  guint arrangement;
  PlumbHalf uncorrected; /* worked out when first asked for */
};

G_DEFINE_FINAL_TYPE (PlumbView3dHalf, plumb_view3d_half, G_TYPE_OBJECT)

static guint changed_signal, chosen_signal;

static void
changed_cb (PlumbView3dHalf *self)
{
  plumb_half_clear (&self->uncorrected);
  if (self->kind == PLUMB_HALF_ARRANGEMENT
      && plumb_document_evaluation_of (self->document, self->arrangement) == NULL)
    self->kind = PLUMB_HALF_CURRENT;
  g_signal_emit (self, changed_signal, 0);
}

void
plumb_view3d_half_choose (PlumbView3dHalf *self, PlumbHalfKind kind, guint arrangement)
{
  g_return_if_fail (PLUMB_IS_VIEW3D_HALF (self));
  if (self->kind == kind && self->arrangement == arrangement)
    return;
  self->kind = kind;
  self->arrangement = arrangement;
  changed_cb (self);
  g_signal_emit (self, chosen_signal, 0);
}

PlumbHalfKind
plumb_view3d_half_kind (PlumbView3dHalf *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_HALF (self), PLUMB_HALF_CURRENT);
  return self->kind;
}

guint
plumb_view3d_half_arrangement (PlumbView3dHalf *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_HALF (self), PLUMB_NO_INDEX);
  return self->kind == PLUMB_HALF_ARRANGEMENT ? self->arrangement : plumb_document_arrangement (self->document);
}

PlumbDocument *
plumb_view3d_half_document (PlumbView3dHalf *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_HALF (self), NULL);
  return self->document;
}

/* ---- what is shown --------------------------------------------------------------- */

static const PlumbHalf *
uncorrected (PlumbView3dHalf *self)
{
  if (self->uncorrected.scene == NULL
      && !plumb_half_make (&self->uncorrected, plumb_document_scene (self->document),
                           plumb_document_arrangement (self->document), false))
    g_error ("there is not enough memory");
  return &self->uncorrected;
}

const PlumbScene *
plumb_view3d_half_scene (PlumbView3dHalf *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_HALF (self), NULL);
  return self->kind == PLUMB_HALF_UNCORRECTED ? uncorrected (self)->scene : plumb_document_scene (self->document);
}

const PlumbEvaluation *
plumb_view3d_half_evaluation (PlumbView3dHalf *self)
{
  g_return_val_if_fail (PLUMB_IS_VIEW3D_HALF (self), NULL);
  if (self->kind == PLUMB_HALF_UNCORRECTED)
    return uncorrected (self)->evaluation;
  const PlumbEvaluation *other = self->kind == PLUMB_HALF_ARRANGEMENT
                                     ? plumb_document_evaluation_of (self->document, self->arrangement)
                                     : NULL;
  return other != NULL ? other : plumb_document_evaluation (self->document);
}

/* ---- the object ------------------------------------------------------------------- */

static void
plumb_view3d_half_finalize (GObject *object)
{
  PlumbView3dHalf *self = PLUMB_VIEW3D_HALF (object);

  plumb_half_clear (&self->uncorrected);
  g_clear_object (&self->document);
  G_OBJECT_CLASS (plumb_view3d_half_parent_class)->finalize (object);
}

static void
plumb_view3d_half_class_init (PlumbView3dHalfClass *klass)
{
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = plumb_view3d_half_finalize;
  changed_signal = g_signal_new ("changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  chosen_signal = g_signal_new ("chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
plumb_view3d_half_init (G_GNUC_UNUSED PlumbView3dHalf *self)
{
}

PlumbView3dHalf *
plumb_view3d_half_new (PlumbDocument *document)
{
  PlumbView3dHalf *self = g_object_new (PLUMB_TYPE_VIEW3D_HALF, NULL);

  self->document = g_object_ref (document);
  g_signal_connect_object (document, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  return self;
}
