/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a field takes, in sentences for people. */
#include <math.h>
#include <string.h>

#include "document-private.h"
#include "text/length.h"

gboolean
plumb_kind_has_id (PlumbRecordKind kind)
{
  return strcmp (plumb_record_info (kind)->fields[0].key, "id") == 0;
}

static gboolean
refuse (GError **error, char *sentence)
{
  g_set_error_literal (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_SET, sentence);
  g_free (sentence);
  return FALSE;
}

static char *
limit_words (const PlumbField *field, double limit, int units)
{
  const char *unit = plumb_quantity_unit (field->quantity);

  if (field->quantity == PLUMB_QUANTITY_M || field->quantity == PLUMB_QUANTITY_MM)
    return plumb_length_format (limit * plumb_quantity_factor (field->quantity), units, PLUMB_SHOW_TYPOGRAPHIC);
  g_autofree char *number = plumb_number_shortest (limit);
  const gboolean spaced = unit[0] != '\0' && field->quantity != PLUMB_QUANTITY_DEG;
  return g_strconcat (number, spaced ? "\342\200\257" : "", unit, NULL);
}

static gboolean
check_number (const PlumbField *field, double value, int units, GError **error)
{
  if (field->type == PLUMB_TYPE_TEXT || field->type == PLUMB_TYPE_REF)
    return refuse (error, g_strdup_printf ("%s is a text, not a number.", field->label));
  if (!isfinite (value))
    return refuse (error, g_strdup_printf ("%s must be a number.", field->label));
  if (value < field->least || value > field->greatest)
    {
      const gboolean low = value < field->least;
      g_autofree char *limit = limit_words (field, low ? field->least : field->greatest, units);
      return refuse (error, g_strdup_printf ("%s must be at %s %s.", field->label, low ? "least" : "most", limit));
    }
  if (field->type != PLUMB_TYPE_NUM && value != floor (value))
    return refuse (error, g_strdup_printf ("%s must be a whole number.", field->label));
  return TRUE;
}

static void
mark_typed (void *record, int field)
{
  ((PlumbRecordHead *) record)->typed |= UINT64_C (1) << field;
}

gboolean
plumb_field_type_number (const PlumbRecordInfo *info, int field, void *record, double value, int units,
                         GError **error)
{
  if (!check_number (&info->fields[field], value, units, error))
    return FALSE;
  plumb_field_set_number (&info->fields[field], record, value);
  mark_typed (record, field);
  return TRUE;
}

gboolean
plumb_field_type_text (const PlumbRecordInfo *info, int field, void *record, const char *text, GError **error)
{
  const PlumbField *f = &info->fields[field];

  if (f->type != PLUMB_TYPE_TEXT && f->type != PLUMB_TYPE_REF)
    return refuse (error, g_strdup_printf ("%s is a number, not a text.", f->label));
  if (!g_utf8_validate (text, -1, NULL))
    return refuse (error, g_strdup_printf ("%s is not UTF-8.", f->label));
  if (!plumb_field_set_text (f, record, text))
    return refuse (error,
                   g_strdup_printf ("%s has room for %" G_GSIZE_FORMAT " bytes; this text has %" G_GSIZE_FORMAT ".",
                                    f->label, f->size - 1, strlen (text)));
  mark_typed (record, field);
  return TRUE;
}

gboolean
plumb_field_refers_to (const PlumbRecordInfo *info, int field, const void *record, PlumbRecordKind kind)
{
  if ((info->fields[field].ref_kinds >> kind & 1u) == 0)
    return FALSE;
  if (info->kind != PLUMB_RECORD_PLACE || field != PLUMB_FIELD_place_height_of)
    return TRUE;
  const PlumbPlace *place = record;
  return (kind == PLUMB_RECORD_STRUCTURE) == (place->height_from == PLUMB_HEIGHT_FROM_STRUCTURE);
}
