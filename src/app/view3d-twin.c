/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two 3D areas that look through one eye. */
#include "app/view3d-area-private.h"

void
plumb_view3d_area_tell_twin (PlumbView3dArea *self)
{
  PlumbView3dArea *twin = self->twin;

  if (twin == NULL)
    return;
  twin->eye = self->eye;
  /* Only one of them counts the time, of the journey and until all rests. */
  twin->eye.travels = FALSE;
  g_clear_handle_id (&twin->rest, g_source_remove);
  twin->options.light_pass = self->options.light_pass;
  twin->options.seat = self->options.seat;
  plumb_view3d_area_tell_reader (twin);
  plumb_view3d_area_redraw (twin);
}

void
plumb_view3d_area_follow (PlumbView3dArea *self, PlumbView3dArea *leader)
{
  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self) && PLUMB_IS_VIEW3D_AREA (leader) && self != leader);
  g_set_weak_pointer (&self->twin, leader);
  g_set_weak_pointer (&leader->twin, self);
  self->follows = TRUE;
  leader->follows = FALSE;
  plumb_view3d_area_tell_twin (leader);
}

void
plumb_view3d_area_take_after (PlumbView3dArea *self, PlumbView3dArea *other)
{
  PlumbContent content;

  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self) && PLUMB_IS_VIEW3D_AREA (other));
  content = other->content;
  self->eye = other->eye;
  self->eye.travels = FALSE;
  plumb_view3d_area_set_light (self, other->options.white_share, other->options.black_share);
  if (content.rgba != NULL)
    {
      content.rgba = g_memdup2 (content.rgba, (gsize) content.width_px * (gsize) content.height_px * 4);
      plumb_view3d_area_set_content (self, &content);
    }
  plumb_view3d_area_show (self, &other->shown);
  plumb_view3d_area_settle (self);
}
