/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/view3d-label.h"

#include "app/style.h"
#include "text/findings.h"

/* px */
#define LEADER_PX 34.0
#define DOT_PX 2.5
#define PAD_PX 4.0
#define EDGE_PX 6.0

/* ---- where a thing is -------------------------------------------------------------------- */

static gboolean
find_seat (const PlumbResolved *resolved, PlumbSubject chosen, PlumbVec3 *at)
{
  gboolean row = chosen.kind == PLUMB_RECORD_ROW;
  for (uint32_t i = 0; i < resolved->n_seats; i++)
    {
      const PlumbSeatResolved *seat = &resolved->seats[i];
      if (chosen.sub != PLUMB_NO_INDEX ? chosen.sub != i : (row ? seat->row : seat->seat) != chosen.index)
        continue;
      *at = seat->eye_m;
      return TRUE;
    }
  return FALSE;
}

static gboolean
find_solid (const PlumbBuilding *building, PlumbSurfaceKind kind, PlumbSubject chosen, PlumbVec3 *at)
{
  for (uint32_t i = 0; i < building->n_solids; i++)
    if (building->solids[i].surface.kind == kind && building->solids[i].surface.record == chosen.index
        && (chosen.sub == PLUMB_NO_INDEX || chosen.sub == building->solids[i].member))
      {
        *at = building->solids[i].centre_m;
        return TRUE;
      }
  return FALSE;
}

static gboolean
find_place (const PlumbView3dPlace *place, uint32_t index, PlumbVec3 *at)
{
  const PlumbResolved *resolved = plumb_scene_resolved (place->scene);
  const PlumbEvaluation *evaluation = place->evaluation;
  if (index >= resolved->n_places || !resolved->places[index].valid)
    return FALSE;
  *at = resolved->places[index].plate_m;
  if (evaluation->solved && evaluation->place == index)
    {
      *at = plumb_vec3 (0.0, 0.0, 0.0);
      for (int i = 0; i < 8; i++)
        *at = plumb_vec3_along (*at, evaluation->body_corner_m[i], 0.125);
    }
  return TRUE;
}

static gboolean
find_thing (const PlumbView3dPlace *place, PlumbSubject chosen, PlumbVec3 *at)
{
  const PlumbResolved *resolved = plumb_scene_resolved (place->scene);
  switch (chosen.kind)
    {
    case PLUMB_RECORD_PLACE:
      return find_place (place, chosen.index, at);
    case PLUMB_RECORD_SEAT:
    case PLUMB_RECORD_ROW:
      return find_seat (resolved, chosen, at);
    case PLUMB_RECORD_BLOCKER:
      return find_solid (resolved->building, PLUMB_SURFACE_OF_BLOCKER, chosen, at);
    case PLUMB_RECORD_STRUCTURE:
      return find_solid (resolved->building, PLUMB_SURFACE_OF_STRUCTURE, chosen, at);
    default:
      return FALSE;
    }
}

gboolean
plumb_view3d_label_point (const PlumbView3dPlace *place, const PlumbCamera *camera, PlumbVec3 point_m, PlumbVec2 *at)
{
  float view[16], projection[16];
  double eye[4], clip[4];
  const double world[4] = { point_m.x, point_m.y, point_m.z, 1.0 };
  plumb_camera_matrices (camera, plumb_view3d_place_aspect (place), 0.05, 200.0, view, projection);
  for (int row = 0; row < 4; row++)
    {
      eye[row] = 0.0;
      for (int k = 0; k < 4; k++)
        eye[row] += (double) view[k * 4 + row] * world[k];
    }
  for (int row = 0; row < 4; row++)
    {
      clip[row] = 0.0;
      for (int k = 0; k < 4; k++)
        clip[row] += (double) projection[k * 4 + row] * eye[k];
    }
  if (!(clip[3] > 0.0))
    return FALSE;
  *at = plumb_vec2 ((0.5 + 0.5 * clip[0] / clip[3]) * place->width_px,
                    (0.5 - 0.5 * clip[1] / clip[3]) * place->height_px);
  return at->x >= 0.0 && at->y >= 0.0 && at->x <= place->width_px && at->y <= place->height_px;
}

/* ---- drawing ----------------------------------------------------------------------------------- */

/* Above and away from the middle, where the ground is calm; never off the pane. */
static PlumbVec2
corner_for (const PlumbView3dPlace *place, PlumbVec2 at, double width, double height)
{
  gboolean right = at.x > place->width_px / 2.0, above = at.y > LEADER_PX + height + EDGE_PX;
  double x = right ? at.x + LEADER_PX * 0.6 : at.x - LEADER_PX * 0.6 - width;
  double y = above ? at.y - LEADER_PX - height : at.y + LEADER_PX;
  return plumb_vec2 (CLAMP (x, EDGE_PX, MAX (EDGE_PX, place->width_px - width - EDGE_PX)),
                     CLAMP (y, EDGE_PX, MAX (EDGE_PX, place->height_px - height - EDGE_PX)));
}

static void
draw (cairo_t *cr, PangoLayout *layout, const PlumbView3dPlace *place, PlumbVec2 at)
{
  int text_width, text_height;
  pango_layout_get_pixel_size (layout, &text_width, &text_height);
  double width = text_width + 2.0 * PAD_PX, height = text_height + PAD_PX;
  PlumbVec2 corner = corner_for (place, at, width, height);
  gboolean below = corner.y > at.y;
  plumb_style_set_source (cr, PLUMB_COLOUR_ACCENT);
  cairo_set_line_width (cr, 1.0);
  cairo_move_to (cr, at.x, at.y);
  cairo_line_to (cr, CLAMP (at.x, corner.x, corner.x + width), below ? corner.y : corner.y + height);
  cairo_stroke (cr);
  cairo_arc (cr, at.x, at.y, DOT_PX, 0.0, 2.0 * G_PI);
  cairo_fill (cr);
  plumb_style_set_source (cr, PLUMB_COLOUR_PAPER);
  cairo_rectangle (cr, corner.x, corner.y, width, height);
  cairo_fill (cr);
  plumb_style_set_source (cr, PLUMB_COLOUR_ACCENT);
  cairo_rectangle (cr, corner.x, below ? corner.y : corner.y + height - 1.0, width, 1.0);
  cairo_fill (cr);
  cairo_move_to (cr, corner.x + PAD_PX, corner.y + PAD_PX / 2.0);
  pango_cairo_show_layout (cr, layout);
}

void
plumb_view3d_label_snapshot (GtkWidget *widget, GtkSnapshot *snapshot, const PlumbView3dPlace *place,
                             const PlumbCamera *camera, PlumbSubject chosen)
{
  PlumbVec3 thing;
  PlumbVec2 at;
  if (!find_thing (place, chosen, &thing) || !plumb_view3d_label_point (place, camera, thing, &at))
    return;
  g_autofree char *name = plumb_record_name (place->scene, chosen.kind, chosen.index);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, name);
  PangoFontDescription *font
      = pango_font_description_copy (pango_context_get_font_description (gtk_widget_get_pango_context (widget)));
  pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  cairo_t *cr = gtk_snapshot_append_cairo (
      snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) place->width_px, (float) place->height_px));
  draw (cr, layout, place, at);
  cairo_destroy (cr);
}
