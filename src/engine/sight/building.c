/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * From records to one block of memory that holds the whole building.
 */
#include <stdlib.h>
#include <string.h>

#include "builder-private.h"

void
plumb_builder_fault (PlumbBuilder *builder, PlumbFaultCode code, PlumbRecordKind kind, uint32_t index, uint32_t other)
{
  if (!plumb_fault_sink_add (builder->sink, (PlumbFault){ code, kind, index, -1, other }))
    builder->failed = true;
}

/* Corners that are not the one before again; n at most PLUMB_SPLIT_MAX_POINTS. */
static size_t
distinct (const PlumbVec3 *points, size_t n, PlumbVec3 *out)
{
  size_t kept = 0;

  for (size_t i = 0; i < n; i++)
    {
      PlumbVec3 before = kept > 0 ? out[kept - 1] : points[n - 1];
      if (plumb_vec3_length (plumb_vec3_sub (points[i], before)) > PLUMB_POINT_TOLERANCE_M)
        out[kept++] = points[i];
    }
  return kept;
}

/* Twice the area, along the normal (Newell's sum). */
static PlumbVec3
area_vector (const PlumbVec3 *points, size_t n)
{
  PlumbVec3 sum = { 0.0, 0.0, 0.0 };

  for (size_t i = 1; i + 1 < n; i++)
    sum = plumb_vec3_add (
        sum, plumb_vec3_cross (plumb_vec3_sub (points[i], points[0]), plumb_vec3_sub (points[i + 1], points[0])));
  return sum;
}

void
plumb_builder_face (PlumbBuilder *builder, PlumbSurfaceId surface, bool outer, const PlumbVec3 *points, size_t n,
                    PlumbVec3 towards)
{
  PlumbVec3 p[PLUMB_SPLIT_MAX_POINTS];
  size_t n_kept = distinct (points, n, p);
  PlumbVec3 area = area_vector (p, n_kept);

  if (n_kept < 3 || plumb_vec3_length (area) <= PLUMB_POINT_TOLERANCE_M * PLUMB_POINT_TOLERANCE_M)
    return;
  PlumbVec3 normal = plumb_vec3_unit (area);
  if (plumb_vec3_dot (normal, towards) < 0.0)
    normal = plumb_vec3_scale (normal, -1.0);
  for (size_t first = 1; first + 1 < n_kept; first += PLUMB_FACE_MAX_POINTS - 2)
    {
      PlumbFace *face = plumb_list_add (&builder->faces, 1);
      if (face == NULL)
        return;
      face->surface = surface;
      face->outer = outer;
      face->normal = normal;
      face->point[face->n_points++] = p[0];
      for (size_t i = first; i < n_kept && face->n_points < PLUMB_FACE_MAX_POINTS; i++)
        face->point[face->n_points++] = p[i];
    }
}

static void
init_builder (PlumbBuilder *builder, const PlumbScene *scene, PlumbFaultSink *sink)
{
  *builder = (PlumbBuilder){ .scene = scene, .sink = sink };
  plumb_list_init (&builder->faces, sizeof (PlumbFace));
  plumb_list_init (&builder->solids, sizeof (PlumbSolid));
  plumb_list_init (&builder->corners, sizeof (PlumbVec3));
  plumb_list_init (&builder->cells, sizeof (PlumbCeilingCell));
  plumb_list_init (&builder->spaces, sizeof (PlumbSpaceShape));
  plumb_list_init (&builder->walls, sizeof (PlumbWallShape));
  plumb_list_init (&builder->holes, sizeof (PlumbHole));
  plumb_list_init (&builder->outline_parts, sizeof (PlumbPart));
  plumb_list_init (&builder->covers, sizeof (PlumbRoofPart));
  plumb_list_init (&builder->sheets, sizeof (PlumbSheet));
}

static void
clear_builder (PlumbBuilder *builder)
{
  for (uint32_t s = 0; s < builder->sheets.n; s++)
    plumb_list_clear (&PLUMB_LIST (&builder->sheets, PlumbSheet)[s].parts);
  PlumbList *lists[]
      = { &builder->faces, &builder->solids, &builder->corners,       &builder->cells,  &builder->spaces,
          &builder->walls, &builder->holes,  &builder->outline_parts, &builder->covers, &builder->sheets };
  for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++)
    plumb_list_clear (lists[i]);
  free (builder->space_of_wall);
  free (builder->shape_of_wall);
}

static bool
has_failed (const PlumbBuilder *builder)
{
  return builder->failed || builder->faces.failed || builder->solids.failed || builder->corners.failed
         || builder->cells.failed || builder->spaces.failed || builder->walls.failed || builder->holes.failed
         || builder->outline_parts.failed || builder->covers.failed || builder->sheets.failed;
}

/* Copies a list to the next free byte of the block. */
static const void *
pack (char **at, const PlumbList *list)
{
  size_t size = list->n * list->item_size, aligned = (size + 15) & ~(size_t) 15;
  void *start = *at;

  if (size > 0)
    memcpy (start, list->items, size);
  *at += aligned;
  return start;
}

static PlumbBuilding *
finish (const PlumbBuilder *builder, uint32_t room_faces)
{
  const PlumbList *lists[] = { &builder->faces,  &builder->solids, &builder->corners, &builder->cells,
                               &builder->spaces, &builder->walls,  &builder->holes };
  size_t head = (sizeof (PlumbBuilding) + 15) & ~(size_t) 15, size = head;

  for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++)
    size += (lists[i]->n * lists[i]->item_size + 15) & ~(size_t) 15;
  char *block = malloc (size);
  if (block == NULL)
    return NULL;
  PlumbBuilding *building = (PlumbBuilding *) (void *) block;
  char *at = block + head;
  *building = (PlumbBuilding){ .n_faces = builder->faces.n,
                               .n_solids = builder->solids.n,
                               .n_corners = builder->corners.n,
                               .n_cells = builder->cells.n,
                               .n_spaces = builder->spaces.n,
                               .n_walls = builder->walls.n,
                               .n_holes = builder->holes.n,
                               .room_faces = room_faces };
  building->faces = pack (&at, lists[0]);
  building->solids = pack (&at, lists[1]);
  building->corners = pack (&at, lists[2]);
  building->cells = pack (&at, lists[3]);
  building->spaces = pack (&at, lists[4]);
  building->walls = pack (&at, lists[5]);
  building->holes = pack (&at, lists[6]);
  return building;
}

bool
plumb_building_build (const PlumbScene *scene, PlumbBuilding **out, PlumbFaultSink *sink)
{
  PlumbBuilder builder;
  uint32_t room_faces = 0;

  *out = NULL;
  init_builder (&builder, scene, sink);
  plumb_builder_spaces (&builder);
  if (!has_failed (&builder))
    {
      plumb_builder_covers (&builder);
      plumb_builder_holes (&builder);
      plumb_builder_floors_and_ceilings (&builder);
      plumb_builder_walls (&builder);
      room_faces = builder.faces.n;
      plumb_builder_solids (&builder);
    }
  if (!has_failed (&builder))
    *out = finish (&builder, room_faces);
  clear_builder (&builder);
  return *out != NULL;
}

void
plumb_building_free (PlumbBuilding *building)
{
  free (building);
}
