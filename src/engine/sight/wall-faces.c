/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "builder-private.h"

static void
add_sheet_faces (PlumbBuilder *builder, const PlumbSheet *sheet)
{
  const PlumbWallShape *wall = &PLUMB_LIST (&builder->walls, PlumbWallShape)[sheet->wall];
  bool is_open_side = plumb_scene_wall (builder->scene, wall->wall)->construction == PLUMB_CONSTRUCTION_NONE;
  double side = sheet->outer ? -1.0 : 1.0;

  for (uint32_t i = 0; i < sheet->parts.n; i++)
    {
      const PlumbPart *part = &PLUMB_LIST (&sheet->parts, PlumbPart)[i];
      PlumbSurfaceId surface = { PLUMB_SURFACE_OF_WALL, wall->wall };
      PlumbVec3 points[PLUMB_FACE_MAX_POINTS];
      /* A closed leaf stands even in a side without a wall. */
      if (part->tag != PLUMB_NO_INDEX)
        surface = PLUMB_LIST (&builder->holes, PlumbHole)[part->tag].surface;
      else if (is_open_side)
        continue;
      for (uint32_t k = 0; k < part->n; k++)
        points[k] = plumb_wall_point (wall, part->p[k].x, sheet->off_m, part->p[k].y);
      plumb_builder_face (builder, surface, sheet->outer, points, part->n,
                          plumb_vec3 (side * wall->inward.x, side * wall->inward.y, 0.0));
    }
}

/* Inner faces come before outer ones: where both lie in one plane, the beam
 * then meets the face of the room that it is in. */
void
plumb_builder_walls (PlumbBuilder *builder)
{
  plumb_builder_sheets (builder);
  plumb_builder_cut_holes (builder);
  for (uint32_t s = 0; s < builder->sheets.n; s++)
    add_sheet_faces (builder, &PLUMB_LIST (&builder->sheets, PlumbSheet)[s]);
}
