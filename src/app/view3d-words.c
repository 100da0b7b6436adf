/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a screen reader says of the 3D area. */
#include "app/view3d-area-private.h"

#include "text/findings.h"

static char *
words_of_place (PlumbView3dArea *self)
{
  const PlumbScene *scene = plumb_view3d_half_scene (self->half);
  uint32_t seat = plumb_view3d_area_get_seat (self);

  switch (self->eye.kind)
    {
    case PLUMB_CAMERA_LENS:
      return g_strdup ("from the lens");
    case PLUMB_CAMERA_FRONT:
      return g_strdup ("straight at the screen");
    case PLUMB_CAMERA_SEAT:
      return seat != PLUMB_NO_INDEX ? g_strdup_printf ("from seat %s", plumb_scene_resolved (scene)->seats[seat].id)
                                    : g_strdup ("from a seat");
    case PLUMB_CAMERA_ROOM:
    default:
      return g_strdup ("cut open");
    }
}

void
plumb_view3d_area_tell_reader (PlumbView3dArea *self)
{
  const PlumbScene *scene = plumb_view3d_half_scene (self->half);
  PlumbSubject chosen = plumb_document_selection (self->document);
  g_autofree char *place = words_of_place (self);
  GString *words = g_string_new (NULL);

  g_string_append_printf (words, "3D view of the room, %s.", place);
  if (!self->eye.valid)
    g_string_append (words, " Nothing is measured yet.");
  if (!self->looks_only && chosen.kind != PLUMB_RECORD_NONE)
    {
      g_autofree char *name = plumb_record_name (scene, chosen.kind, chosen.index);
      g_string_append_printf (words, " Chosen: %s.", name);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words->str, -1);
  g_string_free (words, TRUE);
}
