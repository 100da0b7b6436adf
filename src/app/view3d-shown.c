/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is shown in a 3D area and what is thrown in it. */
#include "app/view3d-area-private.h"

void
plumb_view3d_area_show (PlumbView3dArea *self, const PlumbView3dShown *shown)
{
  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self));
  self->shown = *shown;
  self->options.beam = shown->beam;
  self->options.frustum = shown->frustum;
  self->options.axis = shown->axis;
  self->options.sightlines = shown->sightlines != PLUMB_SIGHTLINES_NONE;
  self->options.all_seats = shown->sightlines == PLUMB_SIGHTLINES_ALL;
  self->options.seat = plumb_view3d_area_get_seat (self);
  if (self->content.rgba == NULL)
    plumb_view3d_set_pattern (self->view, shown->pattern);
  plumb_view3d_area_redraw (self);
}

void
plumb_view3d_area_set_light (PlumbView3dArea *self, double white_share, double black_share)
{
  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self));
  if (self->options.white_share == white_share && self->options.black_share == black_share)
    return;
  self->options.white_share = white_share;
  self->options.black_share = black_share;
  plumb_view3d_area_redraw (self);
}

void
plumb_view3d_area_set_content (PlumbView3dArea *self, PlumbContent *content)
{
  g_return_if_fail (PLUMB_IS_VIEW3D_AREA (self));
  plumb_content_clear (&self->content);
  if (content != NULL)
    {
      self->content = *content;
      *content = (PlumbContent){ 0 };
      plumb_view3d_set_content (self->view, self->content.rgba, self->content.width_px, self->content.height_px);
    }
  else
    {
      plumb_view3d_set_content (self->view, NULL, 0, 0);
      plumb_view3d_set_pattern (self->view, self->shown.pattern);
    }
  plumb_view3d_area_redraw (self);
}
