/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Faces, solids and faults of buildings; every expected number is worked out
 * by hand in the comment beside it. */
#include "house.h"

#define DEG (PLUMB_PI / 180.0)

static const PlumbVec2 plain[] = { { 0, 0 }, { 6, 0 }, { 6, 4 }, { 0, 4 } };
static const PlumbVec2 ell[] = { { 0, 0 }, { 6, 0 }, { 6, 2 }, { 3, 2 }, { 3, 4 }, { 0, 4 } };

static House *
plain_house (void)
{
  House *house = house_new ();

  house_space (house, 0.5);
  house_outline (house, plain, 4, 0.1);
  house_ceiling (house, plumb_vec2 (0, 0), 2.5, 0, 0);
  return house;
}

static double
face_area (const PlumbFace *face)
{
  PlumbVec3 sum = { 0, 0, 0 };

  for (int i = 1; i + 1 < face->n_points; i++)
    sum = plumb_vec3_add (sum, plumb_vec3_cross (plumb_vec3_sub (face->point[i], face->point[0]),
                                                 plumb_vec3_sub (face->point[i + 1], face->point[0])));
  return plumb_vec3_length (sum) / 2.0;
}

static double
area_of (const PlumbBuilding *building, PlumbSurfaceKind kind, uint32_t record, bool outer)
{
  double area = 0.0;

  for (uint32_t f = 0; f < building->n_faces; f++)
    if (building->faces[f].surface.kind == kind && building->faces[f].outer == outer
        && (record == PLUMB_NO_INDEX || building->faces[f].surface.record == record))
      area += face_area (&building->faces[f]);
  return area;
}

/* Flat, convex, unit normal, square to every edge. */
static void
assert_sound (const PlumbBuilding *building)
{
  for (uint32_t f = 0; f < building->n_faces; f++)
    {
      const PlumbFace *face = &building->faces[f];
      PlumbVec3 turn = { 0, 0, 0 };
      g_assert_cmpuint (face->n_points, >=, 3);
      g_assert_cmpuint (face->n_points, <=, PLUMB_FACE_MAX_POINTS);
      g_assert_cmpfloat_with_epsilon (plumb_vec3_length (face->normal), 1.0, 1e-12);
      for (int i = 0; i < face->n_points; i++)
        {
          PlumbVec3 a = face->point[i], b = face->point[(i + 1) % face->n_points];
          PlumbVec3 c = face->point[(i + 2) % face->n_points];
          PlumbVec3 here = plumb_vec3_cross (plumb_vec3_sub (b, a), plumb_vec3_sub (c, b));
          g_assert_cmpfloat (fabs (plumb_vec3_dot (face->normal, plumb_vec3_sub (b, a))), <, 1e-8);
          g_assert_cmpfloat (plumb_vec3_dot (here, turn), >=, -1e-12);
          turn = plumb_vec3_add (turn, here);
        }
    }
  for (uint32_t s = 0; s < building->n_solids; s++)
    {
      const PlumbSolid *solid = &building->solids[s];
      PlumbVec3 inside = solid->n_corners > 0 ? plumb_vec3 (0, 0, 0) : solid->centre_m;
      for (uint32_t c = 0; c < solid->n_corners; c++)
        inside = plumb_vec3_along (inside, building->corners[solid->first_corner + c], 1.0 / solid->n_corners);
      for (uint32_t f = solid->first_face; f < solid->first_face + solid->n_faces; f++)
        {
          g_assert_cmpuint (f, >=, building->room_faces);
          PlumbVec3 out = plumb_vec3_sub (building->faces[f].point[0], inside);
          g_assert_cmpfloat (plumb_vec3_dot (out, building->faces[f].normal), >, 0.0);
          for (int i = 0; i < building->faces[f].n_points; i++)
            g_assert_cmpfloat (plumb_vec3_length (plumb_vec3_sub (building->faces[f].point[i], solid->centre_m)), <=,
                               solid->bound_radius_m * (1.0 + 1e-12));
        }
    }
}

/* 6 × 4 × 2.5 m, walls 0.1 m. Outer faces are 6.2 and 4.2 m long. */
static void
test_plain_room (void)
{
  g_autoptr (House) house = plain_house ();
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;

  g_assert_cmpuint (plumb_scene_resolved (scene)->n_faults, ==, 0);
  assert_sound (b);
  g_assert_cmpuint (b->n_faces, ==, 10);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_FLOOR, 0, false), 24.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_CEILING, 0, false), 24.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, PLUMB_NO_INDEX, false), 50.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, PLUMB_NO_INDEX, true), 52.0, 1e-12);
  g_assert_cmpfloat (b->spaces[0].floor_z_m, ==, 0.5);
  g_assert_cmpfloat (b->spaces[0].greatest_ceiling_z_m, ==, 3.0);
  g_assert_cmpfloat_with_epsilon (b->walls[0].outer_start_m.x, -0.1, 1e-12);
  g_assert_cmpfloat_with_epsilon (b->walls[0].outer_start_m.y, -0.1, 1e-12);
  g_assert_cmpfloat_with_epsilon (b->walls[1].outer_end_m.x, 6.1, 1e-12);
  for (uint32_t f = 0; f < b->n_faces; f++)
    {
      /* Normals point to the air: inwards inside, outwards outside. */
      PlumbVec3 to_middle = plumb_vec3_sub (plumb_vec3 (3, 2, 1.7), b->faces[f].point[0]);
      g_assert_cmpfloat (plumb_vec3_dot (to_middle, b->faces[f].normal) * (b->faces[f].outer ? -1 : 1), >, 0.0);
    }
  plumb_scene_unref (scene);
}

static void
assert_fault (const House *house, PlumbFaultCode code, PlumbRecordKind kind, uint32_t index, uint32_t other)
{
  PlumbScene *scene = house_scene (house);
  const PlumbResolved *resolved = plumb_scene_resolved (scene);
  bool found = false;

  for (uint32_t i = 0; i < resolved->n_faults; i++)
    if (resolved->faults[i].code == code && resolved->faults[i].kind == kind && resolved->faults[i].index == index)
      {
        g_assert_cmpuint (resolved->faults[i].other, ==, other);
        found = true;
      }
  g_assert_true (found);
  assert_sound (resolved->building);
  plumb_scene_unref (scene);
}

static House *
house_with_outline (const PlumbVec2 *corners, size_t n)
{
  House *house = house_new ();

  house_space (house, 0.0);
  house_outline (house, corners, n, 0.1);
  house_ceiling (house, plumb_vec2 (0, 0), 2.5, 0, 0);
  return house;
}

static void
test_bad_outlines (void)
{
  static const PlumbVec2 clockwise[] = { { 0, 0 }, { 0, 4 }, { 6, 4 }, { 6, 0 } };
  static const PlumbVec2 bow[] = { { 0, 0 }, { 6, 4 }, { 6, 0 }, { 0, 4 } };
  static const PlumbVec2 touch[] = { { 0, 0 }, { 6, 0 }, { 6, 4 }, { 3, 0 }, { 0, 4 } };
  static const PlumbVec2 spike[] = { { 0, 0 }, { 6, 0 }, { 3, 0 }, { 3, 4 } };
  static const PlumbVec2 twice[] = { { 0, 0 }, { 6, 0 }, { 6, 0 }, { 3, 4 } };
  static const struct {
    const PlumbVec2 *corners;
    size_t n;
    PlumbFaultCode code;
    PlumbRecordKind kind;
    uint32_t index, other;
  } cases[] = {
    { clockwise, 4, PLUMB_FAULT_OUTLINE_TURNS, PLUMB_RECORD_SPACE, 0, PLUMB_NO_INDEX },
    { bow, 4, PLUMB_FAULT_OUTLINE_CROSSES, PLUMB_RECORD_WALL, 0, 2 },
    { touch, 5, PLUMB_FAULT_OUTLINE_CROSSES, PLUMB_RECORD_WALL, 0, 2 },
    { spike, 4, PLUMB_FAULT_OUTLINE_CROSSES, PLUMB_RECORD_WALL, 0, 1 },
    { twice, 4, PLUMB_FAULT_OUTLINE_CROSSES, PLUMB_RECORD_WALL, 0, 1 },
    { plain, 2, PLUMB_FAULT_OUTLINE_FEW, PLUMB_RECORD_SPACE, 0, PLUMB_NO_INDEX },
    { plain, 1, PLUMB_FAULT_OUTLINE_FEW, PLUMB_RECORD_SPACE, 0, PLUMB_NO_INDEX },
    { plain, 0, PLUMB_FAULT_OUTLINE_FEW, PLUMB_RECORD_SPACE, 0, PLUMB_NO_INDEX },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (House) house = house_with_outline (cases[i].corners, cases[i].n);
      assert_fault (house, cases[i].code, cases[i].kind, cases[i].index, cases[i].other);
      PlumbScene *scene = house_scene (house);
      const PlumbBuilding *b = plumb_scene_resolved (scene)->building;
      g_assert_cmpuint (b->n_faces, ==, 0);
      g_assert_false (b->spaces[0].valid);
      g_assert_cmpuint (b->n_walls, ==, cases[i].n);
      g_assert_false (plumb_building_in_outline (b, 0, plumb_vec2 (3, 2)));
      g_assert_cmpuint (plumb_building_space_at (b, plumb_vec3 (3, 2, 1)), ==, PLUMB_NO_INDEX);
      plumb_scene_unref (scene);
    }
}

static void
test_other_faults (void)
{
  static const PlumbVec2 bow[] = { { 0, 0 }, { 1, 1 }, { 1, 0 }, { 0, 1 } };
  g_autoptr (House) bare = house_new ();
  g_autoptr (House) limited = plain_house ();
  g_autoptr (House) prism = plain_house ();
  g_autoptr (House) port = plain_house ();

  house_space (bare, 0);
  house_outline (bare, plain, 4, 0.1);
  assert_fault (bare, PLUMB_FAULT_NO_CEILING, PLUMB_RECORD_SPACE, 0, PLUMB_NO_INDEX);
  house_ceiling (limited, plumb_vec2 (0, 0), 2.0, 0, 0);
  house_limit (limited, bow, 4);
  assert_fault (limited, PLUMB_FAULT_LIMIT, PLUMB_RECORD_CEILING, 1, PLUMB_NO_INDEX);
  house_ceiling (limited, plumb_vec2 (0, 0), 2.0, 0, 0);
  house_limit (limited, bow, 2);
  assert_fault (limited, PLUMB_FAULT_LIMIT, PLUMB_RECORD_CEILING, 2, PLUMB_NO_INDEX);
  house_box (prism, plumb_vec3 (0, 0, 0), plumb_vec3 (1, 1, 1), 0, 0)->shape = PLUMB_SHAPE_PRISM;
  assert_fault (prism, PLUMB_FAULT_BLOCKER_OUTLINE, PLUMB_RECORD_BLOCKER, 0, PLUMB_NO_INDEX);
  house_port (port, 1, 1, 2.3, 0.3, 0.3);
  assert_fault (port, PLUMB_FAULT_HOLE_OUTSIDE, PLUMB_RECORD_PORT, 0, PLUMB_NO_INDEX);
  house_port (port, 1, 0.1, 1, 0.3, 0.3);
  assert_fault (port, PLUMB_FAULT_HOLE_OUTSIDE, PLUMB_RECORD_PORT, 1, PLUMB_NO_INDEX);
}

/* Records that name nothing are left out without a crash. */
static void
test_missing_references (void)
{
  g_autoptr (House) house = plain_house ();

  g_strlcpy (house_ceiling (house, plumb_vec2 (0, 0), 1, 0, 0)->space, "nowhere", PLUMB_ID_SIZE);
  g_strlcpy (house_port (house, 0, 1, 1, 0.3, 0.3)->wall, "nowhere", PLUMB_ID_SIZE);
  PlumbWall *wall = house_outline (house, plain, 1, 0.1);
  g_strlcpy (wall->space, "nowhere", PLUMB_ID_SIZE);
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;
  g_assert_cmpuint (b->n_faces, ==, 10);
  g_assert_cmpuint (b->n_holes, ==, 0);
  plumb_scene_unref (scene);
}

static uint32_t
ceiling_at (const PlumbBuilding *b, double x, double y, double *z)
{
  return plumb_building_ceiling_at (b, 0, plumb_vec2 (x, y), z);
}

/* Two unlimited planes that rise from the long walls meet as a ridge, since
 * the lesser counts; an L-shaped limit at 2.2 m, and a later one at 2.6 m over
 * part of it wins there, though it is higher. */
static void
test_ceiling_rules (void)
{
  static const PlumbVec2 limit[] = { { 0, 0 }, { 3, 0 }, { 3, 1 }, { 1, 1 }, { 1, 4 }, { 0, 4 } };
  static const PlumbVec2 later[] = { { 2, 0 }, { 2, 2 }, { 4, 2 }, { 4, 0 } }; /* clockwise is fine */
  g_autoptr (House) house = house_new ();

  house_space (house, 0.0);
  house_outline (house, plain, 4, 0.1);
  house_ceiling (house, plumb_vec2 (0, 0), 2.0, 45, 90);
  house_ceiling (house, plumb_vec2 (0, 4), 2.0, 45, -90);
  house_ceiling (house, plumb_vec2 (0, 0), 2.2, 0, 0);
  house_limit (house, limit, 6);
  house_ceiling (house, plumb_vec2 (0, 0), 2.6, 0, 0);
  house_limit (house, later, 4);
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;
  double z;

  assert_sound (b);
  g_assert_cmpuint (ceiling_at (b, 5, 0.5, &z), ==, 0);
  g_assert_cmpfloat_with_epsilon (z, 2.5, 1e-9);
  g_assert_cmpuint (ceiling_at (b, 5, 3.5, &z), ==, 1);
  g_assert_cmpfloat_with_epsilon (z, 2.5, 1e-9);
  g_assert_cmpuint (ceiling_at (b, 0.5, 3, &z), ==, 2);
  g_assert_cmpfloat_with_epsilon (z, 2.2, 1e-9);
  g_assert_cmpuint (ceiling_at (b, 2.5, 0.5, &z), ==, 3);
  g_assert_cmpfloat_with_epsilon (z, 2.6, 1e-9);
  g_assert_cmpuint (ceiling_at (b, 1, 2, &z), ==, 2); /* an edge belongs to the limit */
  g_assert_cmpuint (ceiling_at (b, 9, 2, &z), ==, PLUMB_NO_INDEX);
  /* L: 3 · 1 + 1 · 3 less 1 · 1 under the later one; the later one 2 · 2. */
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_CEILING, 2, false), 5.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_CEILING, 3, false), 4.0, 1e-9);
  /* The rest of the plan under 45 degrees: (24 - 9) · sqrt 2. */
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_CEILING, 0, false)
                                      + area_of (b, PLUMB_SURFACE_OF_CEILING, 1, false),
                                  15.0 * sqrt (2.0), 1e-9);
  g_assert_cmpfloat_with_epsilon (b->spaces[0].greatest_ceiling_z_m, 4.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (b->spaces[0].least_ceiling_z_m, 2.0, 1e-9);
  /* Wall x = 6 is a gable: 4 · 2 + 4 · 2 / 2. Wall x = 0 lies under the limit: 4 · 2.2. */
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, 1, false), 12.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, 3, false), 8.8, 1e-9);
  plumb_scene_unref (scene);
}

/* A level bay 2 × 2 m at 2.0 m in a room of 3.0 m: two steps of 2 m × 1 m. A
 * sloped one that cuts through the level: triangles both ways. */
static void
test_steps (void)
{
  static const PlumbVec2 bay[] = { { 0, 0 }, { 2, 0 }, { 2, 2 }, { 0, 2 } };
  static const PlumbVec2 strip[] = { { 2, 0 }, { 4, 0 }, { 4, 4 }, { 2, 4 } };
  g_autoptr (House) level = plain_house ();
  g_autoptr (House) sloped = plain_house ();

  house_ceiling (level, plumb_vec2 (0, 0), 1.5, 0, 0);
  house_limit (level, bay, 4);
  PlumbScene *scene = house_scene (level);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_STEP, 0, false), 4.0, 1e-9);
  for (uint32_t f = 0; f < b->n_faces; f++)
    if (b->faces[f].surface.kind == PLUMB_SURFACE_OF_STEP)
      g_assert_cmpfloat (b->faces[f].normal.x + b->faces[f].normal.y, ==, 1.0);
  plumb_scene_unref (scene);

  /* z = 3 at y = 2, slope 1 : 2: at both edges two triangles 2 m long, 1 m high. */
  house_ceiling (sloped, plumb_vec2 (3, 2), 2.5, atan (0.5) / DEG, 90);
  house_limit (sloped, strip, 4);
  scene = house_scene (sloped);
  b = plumb_scene_resolved (scene)->building;
  assert_sound (b);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_STEP, 0, false), 4.0, 1e-9);
  plumb_scene_unref (scene);
}

/* A roof slope that comes down to the floor 1 m inside the far wall, with a
 * dormer: 45 degrees from z = 2.5 at y = 0.5, so z = 0 at y = 3. */
static void
test_slope_to_floor (void)
{
  static const PlumbVec2 dormer[] = { { 2, 0 }, { 3, 0 }, { 3, 4 }, { 2, 4 } };
  g_autoptr (House) house = house_new ();

  house_space (house, 0.0);
  house_outline (house, plain, 4, 0.1);
  house_ceiling (house, plumb_vec2 (0, 0.5), 2.5, 45, -90);
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;
  double z;
  assert_sound (b);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_CEILING, 0, false), 18.0 * sqrt (2.0), 1e-9);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, 1, false), 4.5, 1e-9);
  g_assert_cmpfloat (area_of (b, PLUMB_SURFACE_OF_WALL, 2, false), ==, 0.0);
  g_assert_cmpuint (ceiling_at (b, 3, 3.5, &z), ==, PLUMB_NO_INDEX);
  g_assert_cmpuint (plumb_building_space_at (b, plumb_vec3 (3, 2.5, 0.4)), ==, 0);
  g_assert_cmpuint (plumb_building_space_at (b, plumb_vec3 (3, 2.5, 0.6)), ==, PLUMB_NO_INDEX);
  plumb_scene_unref (scene);

  /* Dormer cheeks at x = 2 and x = 3: over the slope 2 m from y = 1 where it is
   * level with 2.0 m, (0 to 2 m high) · 2 / 2 = 2, then 1 m × 2 m behind the
   * slope's foot; at y < 1 a triangle 1 × 1 / 2 the other way. */
  house_ceiling (house, plumb_vec2 (0, 0), 2.0, 0, 0);
  house_limit (house, dormer, 4);
  scene = house_scene (house);
  b = plumb_scene_resolved (scene)->building;
  assert_sound (b);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_STEP, 0, false), 2.0 * (2.0 + 2.0 + 0.5), 1e-9);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, 2, false), 2.0, 1e-9);
  plumb_scene_unref (scene);
}

static void
test_ell (void)
{
  g_autoptr (House) house = house_with_outline (ell, 6);
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;

  assert_sound (b);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_FLOOR, 0, false), 18.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_CEILING, 0, false), 18.0, 1e-9);
  /* Girth 20 m; outside 8 · 0.1 m more in all (five corners out, one in). */
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, PLUMB_NO_INDEX, false), 50.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, PLUMB_NO_INDEX, true), 52.0, 1e-9);
  g_assert_true (plumb_building_in_outline (b, 0, plumb_vec2 (3, 2)));
  g_assert_true (plumb_building_in_outline (b, 0, plumb_vec2 (2, 3)));
  g_assert_false (plumb_building_in_outline (b, 0, plumb_vec2 (4, 3)));
  g_assert_cmpuint (plumb_building_space_at (b, plumb_vec3 (4, 3, 1)), ==, PLUMB_NO_INDEX);
  plumb_scene_unref (scene);
}

/* Two rooms with 0.12 m between them, the wall measured from both sides but
 * with different thicknesses: 0.12 m and 0.2 m. */
static House *
two_rooms (void)
{
  static const PlumbVec2 behind[] = { { 1, -3 }, { 5, -3 }, { 5, -0.12 }, { 1, -0.12 } };
  House *house = plain_house ();

  for (int i = 0; i < 4; i++)
    g_array_index (house->records[PLUMB_RECORD_WALL], PlumbWall, i).thickness_m = 0.12;
  house_space (house, 0.5);
  house_outline (house, behind, 4, 0.2);
  house_ceiling (house, plumb_vec2 (0, 0), 2.5, 0, 0);
  return house;
}

static void
test_port_through_two_walls (void)
{
  g_autoptr (House) house = two_rooms ();
  PlumbScene *before = house_scene (house);
  const PlumbBuilding *b0 = plumb_scene_resolved (before)->building;
  house_port (house, 0, 2.0, 1.0, 0.6, 0.4)->along_end = PLUMB_END_END;
  PlumbScene *after = house_scene (house);
  const PlumbBuilding *b1 = plumb_scene_resolved (after)->building;

  g_assert_cmpuint (plumb_scene_resolved (after)->n_faults, ==, 0);
  assert_sound (b1);
  /* 0.24 m² out of wall 0 (both faces) and of wall 6, which bounds the room behind. */
  const struct {
    uint32_t wall;
    bool outer;
  } cut[] = { { 0, false }, { 0, true }, { 6, false } };
  for (gsize i = 0; i < G_N_ELEMENTS (cut); i++)
    g_assert_cmpfloat_with_epsilon (area_of (b0, PLUMB_SURFACE_OF_WALL, cut[i].wall, cut[i].outer)
                                        - area_of (b1, PLUMB_SURFACE_OF_WALL, cut[i].wall, cut[i].outer),
                                    0.24, 1e-9);
  for (uint32_t w = 1; w < 8; w++)
    if (w != 6)
      g_assert_cmpfloat (area_of (b0, PLUMB_SURFACE_OF_WALL, w, false), ==,
                         area_of (b1, PLUMB_SURFACE_OF_WALL, w, false));
  /* Edges: 2 · (0.6 + 0.4) · 0.12. */
  g_assert_cmpfloat_with_epsilon (area_of (b1, PLUMB_SURFACE_OF_PORT, 0, false), 0.24, 1e-9);
  g_assert_cmpuint (b1->n_holes, ==, 1);
  /* Centre at x = 4, seen from inside the wall's end (x = 6) is on the left. */
  g_assert_cmpfloat_with_epsilon (b1->holes[0].inner_m[0].x, 4.3, 1e-9);
  g_assert_cmpfloat_with_epsilon (b1->holes[0].inner_m[1].x, 3.7, 1e-9);
  g_assert_cmpfloat_with_epsilon (b1->holes[0].inner_m[0].z, 1.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (b1->holes[0].inner_m[2].z, 1.9, 1e-9);
  g_assert_cmpfloat_with_epsilon (b1->holes[0].outer_m[3].y, -0.12, 1e-9);
  g_assert_true (b1->holes[0].passes);
  plumb_scene_unref (before);
  plumb_scene_unref (after);
}

/* The outer face of the room behind would stand 0.08 m inside the first room:
 * it is left away there, so that nothing floats before the wall. */
static void
test_no_face_in_the_air (void)
{
  g_autoptr (House) house = two_rooms ();
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;

  g_assert_cmpfloat (area_of (b, PLUMB_SURFACE_OF_WALL, 6, true), ==, 0.0);
  plumb_scene_unref (scene);
}

static void
test_openings (void)
{
  g_autoptr (House) house = plain_house ();
  PlumbOpening *door = house_add (house, PLUMB_RECORD_OPENING);
  g_strlcpy (door->wall, "w1", PLUMB_ID_SIZE);
  door->along_m = 2.0;
  house_port (house, 1, 2.0, 1.0, 0.2, 0.2); /* a port in the closed door */
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;

  /* Door 0.8 × 2.0 m with a hole of 0.2 × 0.2 m, both faces; wall 4 × 2.5 m. */
  g_assert_cmpuint (plumb_scene_resolved (scene)->n_faults, ==, 0);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_OPENING, 0, false), 1.56, 1e-9);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_OPENING, 0, true), 1.56, 1e-9);
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_WALL, 1, false), 8.4, 1e-9);
  plumb_scene_unref (scene);

  door = &g_array_index (house->records[PLUMB_RECORD_OPENING], PlumbOpening, 0);
  door->closed = false;
  scene = house_scene (house);
  b = plumb_scene_resolved (scene)->building;
  /* Now only the edges: 2 · (0.8 + 2.0) · 0.1. */
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_OPENING, 0, false), 0.56, 1e-9);
  plumb_scene_unref (scene);

  g_array_index (house->records[PLUMB_RECORD_WALL], PlumbWall, 1).construction = PLUMB_CONSTRUCTION_NONE;
  scene = house_scene (house);
  b = plumb_scene_resolved (scene)->building;
  g_assert_cmpfloat (area_of (b, PLUMB_SURFACE_OF_WALL, 1, false), ==, 0.0);
  g_assert_cmpfloat (area_of (b, PLUMB_SURFACE_OF_OPENING, 0, false), ==, 0.0);
  plumb_scene_unref (scene);
}

/* ---- solids ------------------------------------------------------------------------ */

static void
assert_near (PlumbVec3 got, double x, double y, double z)
{
  g_assert_cmpfloat (plumb_vec3_length (plumb_vec3_sub (got, plumb_vec3 (x, y, z))), <, 1e-9);
}

/* A box turned by 90 degrees and pitched by 90: its length stands up. */
static void
test_box (void)
{
  g_autoptr (House) house = plain_house ();
  house_box (house, plumb_vec3 (1, 2, 3), plumb_vec3 (0.8, 0.4, 0.2), 90, 0);
  house_box (house, plumb_vec3 (1, 2, 3), plumb_vec3 (0.8, 0.4, 0.2), 90, 90);
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;

  assert_sound (b);
  g_assert_cmpuint (b->n_solids, ==, 2);
  assert_near (b->solids[0].centre_m, 1, 2, 3.1);
  assert_near (b->solids[0].axis[0], 0, 1, 0);
  assert_near (b->corners[b->solids[0].first_corner], 1.2, 1.6, 3.0);
  g_assert_cmpfloat_with_epsilon (b->solids[0].bound_radius_m, sqrt (0.16 + 0.04 + 0.01), 1e-12);
  assert_near (b->solids[1].centre_m, 1, 2, 3.1);
  assert_near (b->solids[1].axis[0], 0, 0, 1);
  assert_near (b->solids[1].axis[2], 0, -1, 0);
  g_assert_cmpuint (b->solids[1].n_faces, ==, 6);
  /* Surface of the two: 2 · (0.32 + 0.16 + 0.08) each. */
  g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_BLOCKER, 1, false), 1.12, 1e-9);
  plumb_scene_unref (scene);
}

/* Facets hold the round solid: no facet plane comes nearer to the centre than
 * the solid's own support in that direction, and no corner stands out further
 * than facet_error_m. */
static void
test_round (void)
{
  g_autoptr (House) house = plain_house ();
  PlumbBlocker *tube = house_box (house, plumb_vec3 (1, 2, 1), plumb_vec3 (9, 9, 0.6), 20, 35);
  tube->shape = PLUMB_SHAPE_CYLINDER;
  tube->diameter_m = 0.4;
  house_box (house, plumb_vec3 (1, 2, 1), plumb_vec3 (1.0, 0.6, 0.4), 20, 35)->shape = PLUMB_SHAPE_ELLIPSOID;
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;

  assert_sound (b);
  assert_near (b->solids[0].centre_m, 1, 2, 1.3);
  assert_near (b->solids[1].centre_m, 1, 2, 1);
  g_assert_cmpfloat (b->solids[0].half_m.x, ==, 0.2);
  for (uint32_t s = 0; s < 2; s++)
    {
      const PlumbSolid *solid = &b->solids[s];
      double least = INFINITY;
      g_assert_cmpfloat (solid->facet_error_m, <, 0.02);
      for (uint32_t f = solid->first_face; f < solid->first_face + solid->n_faces; f++)
        {
          PlumbVec3 n = b->faces[f].normal;
          double plane = plumb_vec3_dot (n, plumb_vec3_sub (b->faces[f].point[0], solid->centre_m));
          double x = plumb_vec3_dot (n, solid->axis[0]) * solid->half_m.x;
          double y = plumb_vec3_dot (n, solid->axis[1]) * solid->half_m.y;
          double z = plumb_vec3_dot (n, solid->axis[2]) * solid->half_m.z;
          double reach = s == 0 ? hypot (x, y) + fabs (z) : sqrt (x * x + y * y + z * z);
          g_assert_cmpfloat (plane - reach, >, -1e-12);
          g_assert_cmpfloat (plane - reach, <, solid->facet_error_m);
          least = fmin (least, plane - reach);
        }
      g_assert_cmpfloat (least, <, 1e-9); /* they touch somewhere */
    }
  plumb_scene_unref (scene);
}

static void
test_prism_and_structure (void)
{
  static const PlumbVec2 outline[] = { { 0, 0 }, { 0, 2 }, { 1, 2 }, { 1, 1 }, { 2, 1 }, { 2, 0 } }; /* clockwise */
  g_autoptr (House) house = plain_house ();
  PlumbBlocker *prism = house_box (house, plumb_vec3 (0, 0, 1), plumb_vec3 (9, 9, 0.5), 0, 0);
  prism->shape = PLUMB_SHAPE_PRISM;
  for (int i = 0; i < 6; i++)
    {
      PlumbBlockerPoint *point = house_add (house, PLUMB_RECORD_BLOCKER_POINT);
      point->x_m = outline[i].x;
      point->y_m = outline[i].y;
    }
  PlumbStructure *joists = house_add (house, PLUMB_RECORD_STRUCTURE);
  joists->end_x_m = 4.0;
  joists->count = 5;
  joists->spacing_m = 0.4;
  joists->spacing_direction_rad = 90 * DEG;
  PlumbStructure *rafter = house_add (house, PLUMB_RECORD_STRUCTURE);
  rafter->end_x_m = 4.0;
  rafter->end_z_m = rafter->start_z_m + 3.0;
  rafter->exposed = true;
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *b = plumb_scene_resolved (scene)->building;

  assert_sound (b);
  g_assert_cmpuint (b->n_solids, ==, 2 + 5 + 1);
  double floor_area = 0.0;
  for (uint32_t f = b->solids[0].first_face; f < b->solids[1].first_face + b->solids[1].n_faces; f++)
    if (b->faces[f].normal.z < -0.5)
      floor_area += face_area (&b->faces[f]);
  g_assert_cmpfloat_with_epsilon (floor_area, 3.0, 1e-9);
  g_assert_cmpuint (b->solids[1].member, ==, 1);
  for (uint32_t k = 0; k < 5; k++)
    {
      /* 60 × 180 mm, underside at 2.4 m, hidden: no faces. */
      g_assert_cmpuint (b->solids[2 + k].member, ==, k);
      g_assert_cmpuint (b->solids[2 + k].n_faces, ==, 0);
      g_assert_false (b->solids[2 + k].exposed);
      assert_near (b->solids[2 + k].centre_m, 2, 0.4 * k, 2.49);
    }
  /* 3 : 4 slope, 5 m long: square up from the underside is (-0.6, 0, 0.8). */
  g_assert_cmpfloat_with_epsilon (b->solids[7].half_m.x, 2.5, 1e-12);
  assert_near (b->solids[7].axis[2], -0.6, 0, 0.8);
  assert_near (b->solids[7].centre_m, 2 - 0.6 * 0.09, 0, 3.9 + 0.8 * 0.09);
  g_assert_cmpuint (b->solids[7].n_faces, ==, 6);
  plumb_scene_unref (scene);
}

/* ---- random ----------------------------------------------------------------------------- */

static void
test_random_ceilings (void)
{
  GRand *rand = g_rand_new_with_seed (20);

  for (int round = 0; round < 300; round++)
    {
      PlumbVec3 lens;
      g_autoptr (House) house = house_random (rand, HOUSE_ONE_ROOM, &lens);
      PlumbScene *scene = house_scene (house);
      const PlumbBuilding *b = plumb_scene_resolved (scene)->building;
      PlumbVec2 outline[16];
      uint32_t n = house_count (house, PLUMB_RECORD_WALL);
      for (uint32_t i = 0; i < n; i++)
        outline[i] = b->walls[i].start_m;
      assert_sound (b);
      g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_FLOOR, 0, false), plumb_polygon_area (outline, n),
                                      1e-6);
      for (int k = 0; k < 200; k++)
        {
          PlumbVec2 at = { lens.x + g_rand_double_range (rand, -9, 9), lens.y + g_rand_double_range (rand, -9, 9) };
          double wanted_z, z;
          g_assert_true (plumb_building_in_outline (b, 0, at) == house_polygon_holds (outline, n, at));
          if (!plumb_building_in_outline (b, 0, at))
            continue;
          uint32_t wanted = house_rule_ceiling (house, 0, at, &wanted_z);
          if (wanted_z <= 0.0)
            wanted = PLUMB_NO_INDEX;
          g_assert_cmpuint (plumb_building_ceiling_at (b, 0, at, &z), ==, wanted);
          g_assert_cmpfloat_with_epsilon (z, fmax (wanted_z, 0.0), 1e-8);
        }
      plumb_scene_unref (scene);
    }
  g_rand_free (rand);
}

/* Outlines out of nothing: whatever they are, no crash and sound faces. */
static void
test_wild_outlines (void)
{
  GRand *rand = g_rand_new_with_seed (21);
  guint valid = 0;

  for (int round = 0; round < 3000; round++)
    {
      PlumbVec2 corners[10];
      gint32 n = g_rand_int_range (rand, 0, 10);
      for (gint32 i = 0; i < n; i++)
        corners[i] = plumb_vec2 (g_rand_int_range (rand, 0, 5), g_rand_int_range (rand, 0, 5));
      g_autoptr (House) house = house_with_outline (corners, (size_t) n);
      house_ceiling (house, plumb_vec2 (0, 0), 2.0, 30, 45);
      house_limit (house, corners, (size_t) n);
      PlumbBlocker *prism = house_box (house, plumb_vec3 (0, 0, 0), plumb_vec3 (1, 1, 1), 0, 0);
      prism->shape = PLUMB_SHAPE_PRISM;
      for (gint32 i = 0; i < n; i++)
        {
          PlumbBlockerPoint *point = house_add (house, PLUMB_RECORD_BLOCKER_POINT);
          point->x_m = corners[i].x;
          point->y_m = corners[i].y;
        }
      for (uint32_t w = 0; w < (uint32_t) n; w++)
        house_port (house, w, 0.5, 0.5, 0.5, 0.5);
      PlumbScene *scene = house_scene (house);
      const PlumbBuilding *b = plumb_scene_resolved (scene)->building;
      assert_sound (b);
      if (b->spaces[0].valid)
        {
          valid++;
          g_assert_cmpfloat_with_epsilon (area_of (b, PLUMB_SURFACE_OF_FLOOR, 0, false),
                                          plumb_polygon_area (corners, (size_t) n), 1e-6);
        }
      plumb_scene_unref (scene);
    }
  g_assert_cmpuint (valid, >, 100);
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/building/plain-room", test_plain_room);
  g_test_add_func ("/building/bad-outlines", test_bad_outlines);
  g_test_add_func ("/building/other-faults", test_other_faults);
  g_test_add_func ("/building/missing-references", test_missing_references);
  g_test_add_func ("/building/ceiling-rules", test_ceiling_rules);
  g_test_add_func ("/building/steps", test_steps);
  g_test_add_func ("/building/slope-to-floor", test_slope_to_floor);
  g_test_add_func ("/building/ell", test_ell);
  g_test_add_func ("/building/port-through-two-walls", test_port_through_two_walls);
  g_test_add_func ("/building/no-face-in-the-air", test_no_face_in_the_air);
  g_test_add_func ("/building/openings", test_openings);
  g_test_add_func ("/building/box", test_box);
  g_test_add_func ("/building/round", test_round);
  g_test_add_func ("/building/prism-and-structure", test_prism_and_structure);
  g_test_add_func ("/building/random-ceilings", test_random_ceilings);
  g_test_add_func ("/building/wild-outlines", test_wild_outlines);
  return g_test_run ();
}
