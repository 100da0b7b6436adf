/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "seat-model.h"

struct _PlumbSeatItem {
  GObject parent_instance;
  guint row;
};

G_DEFINE_FINAL_TYPE (PlumbSeatItem, plumb_seat_item, G_TYPE_OBJECT)

struct _PlumbSeatModel {
  GObject parent_instance;
  PlumbSeatTable *table;
  PlumbSeatColumn column; /* PLUMB_N_SEAT_COLUMNS: worst first */
  gboolean descending;
};

static void plumb_seat_model_list (GListModelInterface *list);
G_DEFINE_FINAL_TYPE_WITH_CODE (PlumbSeatModel, plumb_seat_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, plumb_seat_model_list))

/* ---- an item ------------------------------------------------------------------- */

static void
plumb_seat_item_class_init (PlumbSeatItemClass *klass)
{
  (void) klass;
}

static void
plumb_seat_item_init (PlumbSeatItem *self)
{
  (void) self;
}

guint
plumb_seat_item_row (PlumbSeatItem *self)
{
  return self->row;
}

/* ---- the list --------------------------------------------------------------------- */

static guint
n_rows (PlumbSeatModel *self)
{
  return self->table != NULL ? plumb_seat_table_n_rows (self->table) : 0;
}

static GType
plumb_seat_model_get_item_type (GListModel *list)
{
  (void) list;
  return PLUMB_TYPE_SEAT_ITEM;
}

static guint
plumb_seat_model_get_n_items (GListModel *list)
{
  return n_rows (PLUMB_SEAT_MODEL (list));
}

static gpointer
plumb_seat_model_get_item (GListModel *list, guint position)
{
  PlumbSeatModel *self = PLUMB_SEAT_MODEL (list);

  if (position >= n_rows (self))
    return NULL;
  PlumbSeatItem *item = g_object_new (PLUMB_TYPE_SEAT_ITEM, NULL);
  item->row = position;
  return item;
}

static void
plumb_seat_model_list (GListModelInterface *list)
{
  list->get_item_type = plumb_seat_model_get_item_type;
  list->get_n_items = plumb_seat_model_get_n_items;
  list->get_item = plumb_seat_model_get_item;
}

/* ---- the object ---------------------------------------------------------------------- */

static void
plumb_seat_model_finalize (GObject *object)
{
  plumb_seat_table_free (PLUMB_SEAT_MODEL (object)->table);
  G_OBJECT_CLASS (plumb_seat_model_parent_class)->finalize (object);
}

static void
plumb_seat_model_class_init (PlumbSeatModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = plumb_seat_model_finalize;
}

static void
plumb_seat_model_init (PlumbSeatModel *self)
{
  self->column = PLUMB_N_SEAT_COLUMNS;
}

PlumbSeatModel *
plumb_seat_model_new (void)
{
  return g_object_new (PLUMB_TYPE_SEAT_MODEL, NULL);
}

const PlumbSeatTable *
plumb_seat_model_table (PlumbSeatModel *self)
{
  return self->table;
}

void
plumb_seat_model_take (PlumbSeatModel *self, PlumbSeatTable *table)
{
  const guint had = n_rows (self);

  if (self->column != PLUMB_N_SEAT_COLUMNS)
    plumb_seat_table_sort (table, self->column, self->descending);
  plumb_seat_table_free (self->table);
  self->table = table;
  const guint n = n_rows (self);
  if (n != had)
    g_list_model_items_changed (G_LIST_MODEL (self), MIN (n, had), had > n ? had - n : 0, n > had ? n - had : 0);
}

void
plumb_seat_model_sort (PlumbSeatModel *self, PlumbSeatColumn column, gboolean descending)
{
  self->column = column;
  self->descending = descending;
  if (self->table != NULL)
    plumb_seat_table_sort (self->table, column, descending);
}
