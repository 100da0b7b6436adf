/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "finding-item.h"

#include <string.h>

struct _PlumbFindingItem {
  GObject parent_instance;
  PlumbScene *scene;
  PlumbFinding finding;
  guint count;
  char *others;
  gboolean curable;
  PlumbWords words;
};

G_DEFINE_FINAL_TYPE (PlumbFindingItem, plumb_finding_item, G_TYPE_OBJECT)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
plumb_finding_item_finalize (GObject *object)
{
  PlumbFindingItem *self = PLUMB_FINDING_ITEM (object);

  plumb_scene_unref (self->scene);
  g_free (self->others);
  G_OBJECT_CLASS (plumb_finding_item_parent_class)->finalize (object);
}

static void
plumb_finding_item_class_init (PlumbFindingItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = plumb_finding_item_finalize;
  signals[CHANGED]
      = g_signal_new ("changed", PLUMB_TYPE_FINDING_ITEM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
plumb_finding_item_init (PlumbFindingItem *self)
{
  self->finding.missing_field = -1;
}

PlumbFindingItem *
plumb_finding_item_new (void)
{
  return g_object_new (PLUMB_TYPE_FINDING_ITEM, NULL);
}

void
plumb_finding_item_set (PlumbFindingItem *self, const PlumbScene *scene, const PlumbFinding *finding, guint count,
                        PlumbWords words)
{
  /* Another scene may call the same records otherwise. */
  const gboolean same_scene = self->scene == scene;

  if (same_scene && self->count == count && memcmp (&self->finding, finding, sizeof *finding) == 0)
    return;
  if (!same_scene)
    {
      plumb_scene_unref (self->scene);
      self->scene = plumb_scene_ref (scene);
    }
  self->finding = *finding;
  self->count = count;
  g_clear_pointer (&self->others, g_free);
  self->curable = FALSE;
  self->words = words;
  g_signal_emit (self, signals[CHANGED], 0);
}

const PlumbFinding *
plumb_finding_item_finding (PlumbFindingItem *self)
{
  return &self->finding;
}

const PlumbScene *
plumb_finding_item_scene (PlumbFindingItem *self)
{
  return self->scene;
}

guint
plumb_finding_item_count (PlumbFindingItem *self)
{
  return self->count;
}

const char *
plumb_finding_item_others (PlumbFindingItem *self)
{
  return self->others;
}

void
plumb_finding_item_set_others (PlumbFindingItem *self, const char *others)
{
  if (g_strcmp0 (self->others, others) == 0)
    return;
  g_free (self->others);
  self->others = g_strdup (others);
  g_signal_emit (self, signals[CHANGED], 0);
}

gboolean
plumb_finding_item_curable (PlumbFindingItem *self)
{
  return self->curable;
}

void
plumb_finding_item_set_curable (PlumbFindingItem *self, gboolean curable)
{
  if (self->curable == curable)
    return;
  self->curable = curable;
  g_signal_emit (self, signals[CHANGED], 0);
}

PlumbWords
plumb_finding_item_words (PlumbFindingItem *self)
{
  return self->words;
}
