/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Blockers and structure.
 */
#include "view3d/mesh-private.h"

/* Corners of a turn: a chord leaves its arc by less than 0.5 % of the radius. */
#define TURN 32

static PlumbMaterial
blocker_material (int role)
{
  switch (role)
    {
    case PLUMB_ROLE_BEAM:
    case PLUMB_ROLE_FURNITURE:
    case PLUMB_ROLE_DOOR:
      return PLUMB_MATERIAL_TIMBER;
    case PLUMB_ROLE_DUCT:
    case PLUMB_ROLE_FAN:
    case PLUMB_ROLE_VENT:
      return PLUMB_MATERIAL_SHEET_METAL;
    case PLUMB_ROLE_STOVE:
    case PLUMB_ROLE_SPEAKER:
      return PLUMB_MATERIAL_IRON;
    case PLUMB_ROLE_COLUMN:
      return PLUMB_MATERIAL_WALL;
    case PLUMB_ROLE_PLATFORM:
      return PLUMB_MATERIAL_RISER;
    default:
      return PLUMB_MATERIAL_OTHER;
    }
}

static PlumbMaterial
structure_material (int member)
{
  return member == PLUMB_MEMBER_STEEL ? PLUMB_MATERIAL_IRON
         : member == PLUMB_MEMBER_SLAB ? PLUMB_MATERIAL_WALL
                                       : PLUMB_MATERIAL_TIMBER;
}

static void
polyhedron (PlumbMaker *maker, const PlumbSolid *solid, PlumbMaterial material, bool cut)
{
  PlumbBody body = { .grain = solid->half_m.y > solid->half_m.x ? solid->axis[1] : solid->axis[0] };

  for (uint32_t f = 0; f < solid->n_faces; f++)
    {
      const PlumbFace *face = &maker->building->faces[solid->first_face + f];
      plumb_body_add (&body, face->point, face->n_points, material);
    }
  if (cut && maker->has_back)
    plumb_body_cut (&body, &maker->back);
  if (cut && maker->has_roof)
    plumb_body_cut (&body, &maker->beams);
  plumb_maker_body (maker, &body, PLUMB_DIVIDE_ALL, body.grain);
}

static void
solid_of (PlumbMaker *maker, const PlumbSolid *solid)
{
  bool structure = solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE;
  PlumbMaterial material
      = structure ? structure_material (plumb_scene_structure (maker->scene, solid->surface.record)->member)
                  : blocker_material (plumb_scene_blocker (maker->scene, solid->surface.record)->role);

  if (solid->shape == PLUMB_SOLID_CYLINDER)
    plumb_maker_cylinder (maker, solid->centre_m, solid->axis, solid->half_m, material, TURN);
  else if (solid->shape == PLUMB_SOLID_ELLIPSOID)
    plumb_maker_ellipsoid (maker, solid->centre_m, solid->axis, solid->half_m, material, TURN);
  else
    polyhedron (maker, solid, material, structure);
}

void
plumb_maker_solids (PlumbMaker *maker)
{
  const PlumbBuilding *b = maker->building;

  for (uint32_t i = 0; i < b->n_solids; i++)
    {
      const PlumbSolid *solid = &b->solids[i];
      bool structure = solid->surface.kind == PLUMB_SURFACE_OF_STRUCTURE;
      /* Hidden members lie inside the building's matter. */
      if (!plumb_vec3_is_finite (solid->centre_m) || (structure && !solid->exposed)
          || (!structure && plumb_maker_is_cut_away (maker, solid->centre_m)))
        continue;
      PlumbSubject subject = { structure ? PLUMB_RECORD_STRUCTURE : PLUMB_RECORD_BLOCKER, solid->surface.record,
                               structure ? solid->member : PLUMB_NO_INDEX };
      plumb_maker_part (maker, subject, true, true);
      solid_of (maker, solid);
      plumb_maker_end_part (maker);
    }
}
