/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The beam cut against rays that are traced through the records themselves
 * (not through the building's faces), and against hand-made cases.
 */
#include "house.h"

#define DEG (PLUMB_PI / 180.0)

static const PlumbVec2 plain[] = { { 0, 0 }, { 6, 0 }, { 6, 4 }, { 0, 4 } };

static const PlumbBuilding *
building_of (const PlumbScene *scene)
{
  return plumb_scene_resolved (scene)->building;
}

static double
sum_of (const PlumbBeamCut *cut)
{
  double sum = 0.0;

  for (uint32_t i = 0; i < cut->n_pieces; i++)
    {
      g_assert_cmpfloat (cut->pieces[i].panel_share, >, 0.0);
      g_assert_cmpfloat_with_epsilon (plumb_polygon_area (cut->pieces[i].panel, cut->pieces[i].n_points),
                                      cut->pieces[i].panel_share, 1e-15);
      sum += cut->pieces[i].panel_share;
      for (int k = 0; k < cut->pieces[i].n_points; k++)
        g_assert_true (plumb_vec3_is_finite (cut->pieces[i].point[k]));
    }
  return sum;
}

static House *
plain_house (void)
{
  House *house = house_new ();

  house_space (house, 0.0);
  house_outline (house, plain, 4, 0.1);
  house_ceiling (house, plumb_vec2 (0, 0), 2.5, 0, 0);
  return house;
}

/* From (1, 2, 1.25) straight at the wall x = 6, 5 m away. */
static PlumbBeam
plain_beam (double throw_ratio)
{
  return (PlumbBeam){ .lens_m = { 1, 2, 1.25 },
                      .axes = { { 1, 0, 0 }, { 0, -1, 0 }, { 0, 0, 1 } },
                      .throw_ratio = throw_ratio,
                      .panel_aspect = 1.6 };
}

/* Throw ratio 2.5: 2 × 1.25 m, all on the wall. Throw ratio 1: 5 × 3.125 m;
 * floor and ceiling take what is over 2.5 m, the side walls what is over 4 m:
 * the wall has 4 · 2.5 / (5 · 3.125) = 0.64. The corner between ceiling and
 * side wall lies on the panel's rays that are steeper than the room's section
 * 4 : 2.5, which is the panel's own 1.6, so both get half the frame each way. */
static void
test_plain (void)
{
  g_autoptr (House) house = plain_house ();
  PlumbScene *scene = house_scene (house);
  PlumbBeam narrow = plain_beam (2.5), wide = plain_beam (1.0);
  PlumbBeamCut cut = { 0 };

  g_assert_true (plumb_beam_cut (&narrow, building_of (scene), NULL, NULL, 0, &cut));
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_WALL, 1), 1.0, 1e-12);
  g_assert_cmpuint (cut.n_pieces, ==, 1);
  g_assert_cmpfloat_with_epsilon (cut.pieces[0].point[0].x, 6.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (cut.pieces[0].point[0].y, 3.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (cut.pieces[0].point[0].z, 0.625, 1e-12);
  g_assert_true (plumb_beam_cut (&wide, building_of (scene), NULL, NULL, 0, &cut));
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_WALL, 1), 0.64, 1e-12);
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_FLOOR, 0), 0.09, 1e-12);
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_CEILING, 0), 0.09, 1e-12);
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_WALL, 0), 0.09, 1e-12);
  g_assert_cmpfloat (cut.leaves_building_share, ==, 0.0);
  g_assert_cmpfloat_with_epsilon (sum_of (&cut), 1.0, 1e-12);
  plumb_beam_cut_clear (&cut);
  g_assert_null (cut.pieces);
  plumb_scene_unref (scene);
}

/* A screen of 1 × 1 m flat on the wall: of the 2 × 1.25 m it takes 0.4 and
 * wins over the wall in the same plane. Stood off, it takes more: at 4 m the
 * beam is 1.6 × 1 m, so 1 / 1.6. */
static void
test_screen (void)
{
  g_autoptr (House) house = plain_house ();
  PlumbScene *scene = house_scene (house);
  PlumbBeam beam = plain_beam (2.5);
  PlumbScreenFace screen = { { { 6, 2, 1.25 }, { 0, -1, 0 }, { 0, 0, 1 }, { -1, 0, 0 } }, 1.0, 1.0, 7 };
  PlumbBeamCut cut = { 0 };

  g_assert_true (plumb_beam_cut (&beam, building_of (scene), &screen, NULL, 0, &cut));
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_SCREEN, 7), 0.4, 1e-12);
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_WALL, 1), 0.6, 1e-12);
  screen.frame.origin_m.x = 5.0;
  g_assert_true (plumb_beam_cut (&beam, building_of (scene), &screen, NULL, 0, &cut));
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_SCREEN, PLUMB_NO_INDEX), 0.625, 1e-12);
  /* Behind the wall it gets nothing. */
  screen.frame.origin_m.x = 6.01;
  g_assert_true (plumb_beam_cut (&beam, building_of (scene), &screen, NULL, 0, &cut));
  g_assert_cmpfloat (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_SCREEN, PLUMB_NO_INDEX), ==, 0.0);
  plumb_beam_cut_clear (&cut);
  plumb_scene_unref (scene);
}

/* A thin board 0.2 m high across the whole beam at 2.5 m, where the beam is
 * 0.625 m high: 0.32. A region takes only its part. */
static void
test_board_and_region (void)
{
  static const PlumbVec2 left[] = { { -0.5, -0.5 }, { 0.25, -0.5 }, { 0.25, 0.5 }, { -0.5, 0.5 } };
  g_autoptr (House) house = plain_house ();
  house_box (house, plumb_vec3 (3.505, 2, 1.15), plumb_vec3 (0.01, 2, 0.2), 0, 0);
  PlumbScene *scene = house_scene (house);
  PlumbBeam beam = plain_beam (2.5);
  PlumbBeamCut cut = { 0 };

  g_assert_true (plumb_beam_cut (&beam, building_of (scene), NULL, NULL, 0, &cut));
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_BLOCKER, 0), 0.32, 1e-12);
  g_assert_true (plumb_beam_cut (&beam, building_of (scene), NULL, left, 4, &cut));
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_BLOCKER, 0), 0.24, 1e-12);
  g_assert_cmpfloat_with_epsilon (sum_of (&cut), 0.75, 1e-12);
  g_assert_true (plumb_beam_cut (&beam, building_of (scene), NULL, left, 2, &cut));
  g_assert_cmpuint (cut.n_pieces, ==, 0);
  plumb_beam_cut_clear (&cut);
  plumb_scene_unref (scene);
}

static void
test_lens_inside_box (void)
{
  g_autoptr (House) house = plain_house ();
  house_box (house, plumb_vec3 (1, 2, 1), plumb_vec3 (0.4, 0.4, 0.5), 30, 0);
  PlumbScene *scene = house_scene (house);
  PlumbBeam beam = plain_beam (0.5);
  PlumbBeamCut cut = { 0 };

  g_assert_true (plumb_beam_cut (&beam, building_of (scene), NULL, NULL, 0, &cut));
  g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_BLOCKER, 0), 1.0, 1e-12);
  plumb_beam_cut_clear (&cut);
  plumb_scene_unref (scene);
}

/* Without a ceiling, a beam straight up leaves the building, all of it; its
 * corners give the rays. With one wall left open (x = 6), so does the beam
 * towards it. */
static void
test_leaves (void)
{
  g_autoptr (House) house = house_new ();
  PlumbBeam up = plain_beam (2.5), side = plain_beam (2.5);
  PlumbBeamCut cut = { 0 };

  house_space (house, 0.0);
  house_outline (house, plain, 4, 0.1)[1].construction = PLUMB_CONSTRUCTION_NONE;
  PlumbScene *scene = house_scene (house);
  up.axes = (PlumbBeamAxes){ { 0, 0, 1 }, { 1, 0, 0 }, { 0, 1, 0 } };
  g_assert_true (plumb_beam_cut (&up, building_of (scene), NULL, NULL, 0, &cut));
  g_assert_cmpfloat_with_epsilon (cut.leaves_building_share, 1.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (cut.pieces[0].point[0].x, -0.2, 1e-12);
  g_assert_cmpfloat_with_epsilon (cut.pieces[0].point[0].z, 1.0, 1e-12);
  g_assert_true (plumb_beam_cut (&side, building_of (scene), NULL, NULL, 0, &cut));
  g_assert_cmpfloat_with_epsilon (cut.leaves_building_share, 1.0, 1e-12);
  plumb_beam_cut_clear (&cut);
  plumb_scene_unref (scene);
}

/* A lens exactly on a wall, on the floor, in a corner, on a solid's face, far
 * outside: no crash, and nothing is lost. */
static void
test_degenerate_lens (void)
{
  static const PlumbVec3 lenses[]
      = { { 0, 2, 1 },      { 1, 2, 0 },   { 0, 0, 0 },   { 1, 2, 1 },     { 1, 2, 2.5 },     { -0.1, 2, 1 },
          { 900, 900, 90 }, { 6, 4, 2.5 }, { 1, 2, 0.5 }, { 1.5, 2, 0.7 }, { 1 + 1e-9, 2, 1 } };
  g_autoptr (House) house = plain_house ();
  house_box (house, plumb_vec3 (1, 2, 0.5), plumb_vec3 (1, 1, 0.5), 0, 0);
  house_box (house, plumb_vec3 (1, 2, 0.5), plumb_vec3 (1, 1, 0.5), 0, 0)->shape = PLUMB_SHAPE_ELLIPSOID;
  PlumbScene *scene = house_scene (house);
  GRand *rand = g_rand_new_with_seed (30);
  PlumbBeamCut cut = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (lenses); i++)
    for (int k = 0; k < 50; k++)
      {
        PlumbBeam beam = house_beam (rand, lenses[i]);
        if (k == 0)
          beam.axes = (PlumbBeamAxes){ { 1, 0, 0 }, { 0, -1, 0 }, { 0, 0, 1 } };
        g_assert_true (plumb_beam_cut (&beam, building_of (scene), NULL, NULL, 0, &cut));
        g_assert_cmpfloat_with_epsilon (sum_of (&cut), 1.0, 1e-9);
      }
  plumb_beam_cut_clear (&cut);
  g_rand_free (rand);
  plumb_scene_unref (scene);
}

static void
test_shares_sum (void)
{
  GRand *rand = g_rand_new_with_seed (31);
  PlumbBeamCut cut = { 0 };
  double worst = 0.0;
  uint32_t most = 0;
  guint closed = 0;

  for (int round = 0; round < 1000; round++)
    {
      PlumbVec3 lens;
      g_autoptr (House) house = house_random (rand, 0, &lens);
      PlumbScene *scene = house_scene (house);
      PlumbBeam beam = house_beam (rand, lens);
      g_assert_true (plumb_beam_cut (&beam, building_of (scene), NULL, NULL, 0, &cut));
      worst = fmax (worst, fabs (sum_of (&cut) - 1.0));
      most = MAX (most, cut.n_pieces);
      double by_kind = 0.0;
      for (int kind = 0; kind < PLUMB_N_SURFACES; kind++)
        by_kind += plumb_beam_cut_share (&cut, (PlumbSurfaceKind) kind, PLUMB_NO_INDEX);
      g_assert_cmpfloat_with_epsilon (by_kind, 1.0, 1e-9);
      /* Every room is closed, but a steep ceiling may run below the lens. */
      bool in_room = plumb_building_space_at (building_of (scene), lens) != PLUMB_NO_INDEX;
      if (in_room)
        g_assert_cmpfloat (cut.leaves_building_share, <, 1e-6);
      closed += in_room;
      plumb_scene_unref (scene);
    }
  g_test_message ("worst sum: 1 + %.2g; most pieces: %u", worst, most);
  g_assert_cmpfloat (worst, <, 1e-9);
  g_assert_cmpuint (closed, >, 700);
  plumb_beam_cut_clear (&cut);
  g_rand_free (rand);
}

static PlumbVec3
mirrored (PlumbVec3 v)
{
  return plumb_vec3 (-v.x, v.y, v.z);
}

static void
test_mirror (void)
{
  GRand *rand = g_rand_new_with_seed (32);
  PlumbBeamCut cut = { 0 }, other = { 0 };

  for (int round = 0; round < 200; round++)
    {
      PlumbVec3 lens;
      PlumbVec2 corners[16];
      g_autoptr (House) house = house_random (rand, 0, &lens);
      g_autoptr (House) turned = house_mirrored (house);
      PlumbScene *scene = house_scene (house), *there = house_scene (turned);
      PlumbBeam beam = house_beam (rand, lens), back = beam;
      back.lens_m = mirrored (lens);
      back.axes = (PlumbBeamAxes){ mirrored (beam.axes.f), mirrored (beam.axes.r), mirrored (beam.axes.w) };
      g_assert_true (plumb_beam_cut (&beam, building_of (scene), NULL, NULL, 0, &cut));
      g_assert_true (plumb_beam_cut (&back, building_of (there), NULL, NULL, 0, &other));
      for (int kind = 0; kind < PLUMB_N_SURFACES; kind++)
        g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, (PlumbSurfaceKind) kind, PLUMB_NO_INDEX),
                                        plumb_beam_cut_share (&other, (PlumbSurfaceKind) kind, PLUMB_NO_INDEX), 1e-6);
      uint32_t n = (uint32_t) house_corners (house, 0, corners);
      for (uint32_t w = 0; w < n; w++)
        g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_WALL, w),
                                        plumb_beam_cut_share (&other, PLUMB_SURFACE_OF_WALL, (2 * n - 2 - w) % n),
                                        1e-6);
      for (uint32_t k = 0; k < house_count (house, PLUMB_RECORD_BLOCKER); k++)
        g_assert_cmpfloat_with_epsilon (plumb_beam_cut_share (&cut, PLUMB_SURFACE_OF_BLOCKER, k),
                                        plumb_beam_cut_share (&other, PLUMB_SURFACE_OF_BLOCKER, k), 1e-6);
      plumb_scene_unref (scene);
      plumb_scene_unref (there);
    }
  plumb_beam_cut_clear (&cut);
  plumb_beam_cut_clear (&other);
  g_rand_free (rand);
}

/* ---- rays through the records ----------------------------------------------------------- */

#define RECORDS(house, Type, KIND) ((const Type *) (const void *) (house)->records[PLUMB_RECORD_##KIND]->data)

typedef struct {
  double at; /* along the ray */
  PlumbSurfaceId surface;
} Candidate;

typedef struct {
  const House *house;
  const PlumbScene *scene;
  PlumbVec3 from, ray;
  Candidate candidate[1024];
  size_t n;
} Trace;

/* Where the ray meets normal · p = offset. */
static void
meet (Trace *trace, PlumbVec3 normal, PlumbVec3 on, PlumbSurfaceKind kind, uint32_t record)
{
  double at = plumb_vec3_dot (normal, plumb_vec3_sub (on, trace->from)) / plumb_vec3_dot (normal, trace->ray);

  g_assert_cmpuint (trace->n, <, G_N_ELEMENTS (trace->candidate));
  if (isfinite (at) && at > 0.0)
    trace->candidate[trace->n++] = (Candidate){ at, { kind, record } };
}

static void
meet_upright (Trace *trace, PlumbVec2 a, PlumbVec2 b, PlumbSurfaceKind kind, uint32_t record)
{
  meet (trace, plumb_vec3 (b.y - a.y, a.x - b.x, 0), plumb_vec3 (a.x, a.y, 0), kind, record);
}

/* Axes of a turned and pitched box, by turning matrices: Rz (yaw) · Ry (-pitch). */
static PlumbVec3
in_box (const PlumbBlocker *box, PlumbVec3 p)
{
  double x = p.x - box->x_m, y = p.y - box->y_m, z = p.z - box->z_m - box->height_m / 2;
  double x1 = cos (box->yaw_rad) * x + sin (box->yaw_rad) * y, y1 = cos (box->yaw_rad) * y - sin (box->yaw_rad) * x;

  return plumb_vec3 (cos (box->pitch_rad) * x1 + sin (box->pitch_rad) * z, y1,
                     cos (box->pitch_rad) * z - sin (box->pitch_rad) * x1);
}

static void
meet_box (Trace *trace, const PlumbBlocker *box, uint32_t record)
{
  PlumbVec3 from = in_box (box, trace->from);
  PlumbVec3 ray = plumb_vec3_sub (in_box (box, plumb_vec3_add (trace->from, trace->ray)), from);
  Trace local = { .from = from, .ray = ray };

  for (int side = -1; side <= 1; side += 2)
    {
      PlumbVec3 on = plumb_vec3_scale (plumb_vec3 (box->length_m, box->width_m, box->height_m), side / 2.0);
      meet (&local, plumb_vec3 (1, 0, 0), on, PLUMB_SURFACE_OF_BLOCKER, record);
      meet (&local, plumb_vec3 (0, 1, 0), on, PLUMB_SURFACE_OF_BLOCKER, record);
      meet (&local, plumb_vec3 (0, 0, 1), on, PLUMB_SURFACE_OF_BLOCKER, record);
    }
  for (size_t i = 0; i < local.n; i++)
    trace->candidate[trace->n++] = local.candidate[i];
}

static size_t
prism_corners (const House *house, uint32_t record, PlumbVec2 *corners)
{
  size_t n = 0;

  for (uint32_t i = 0; i < house_count (house, PLUMB_RECORD_BLOCKER_POINT); i++)
    if (RECORDS (house, PlumbBlockerPoint, BLOCKER_POINT)[i].head.owner == record)
      corners[n++] = plumb_vec2 (RECORDS (house, PlumbBlockerPoint, BLOCKER_POINT)[i].x_m,
                                 RECORDS (house, PlumbBlockerPoint, BLOCKER_POINT)[i].y_m);
  return n;
}

static void
meet_blocker (Trace *trace, uint32_t record)
{
  const PlumbBlocker *blocker = &RECORDS (trace->house, PlumbBlocker, BLOCKER)[record];
  PlumbVec2 corners[16];
  size_t n = prism_corners (trace->house, record, corners);

  if (blocker->shape == PLUMB_SHAPE_BOX)
    {
      meet_box (trace, blocker, record);
      return;
    }
  for (size_t i = 0; i < n; i++)
    meet_upright (trace, corners[i], corners[(i + 1) % n], PLUMB_SURFACE_OF_BLOCKER, record);
  meet (trace, plumb_vec3 (0, 0, 1), plumb_vec3 (0, 0, blocker->z_m), PLUMB_SURFACE_OF_BLOCKER, record);
  meet (trace, plumb_vec3 (0, 0, 1), plumb_vec3 (0, 0, blocker->z_m + blocker->height_m), PLUMB_SURFACE_OF_BLOCKER,
        record);
}

static bool
blocker_holds (const House *house, uint32_t record, PlumbVec3 p)
{
  const PlumbBlocker *blocker = &RECORDS (house, PlumbBlocker, BLOCKER)[record];
  PlumbVec2 corners[16];
  PlumbVec3 local = in_box (blocker, p);

  if (blocker->shape == PLUMB_SHAPE_BOX)
    return fabs (local.x) < blocker->length_m / 2 && fabs (local.y) < blocker->width_m / 2
           && fabs (local.z) < blocker->height_m / 2;
  return p.z > blocker->z_m && p.z < blocker->z_m + blocker->height_m
         && house_polygon_holds (corners, prism_corners (house, record, corners), plumb_vec2 (p.x, p.y));
}

/* The three exposed members of a random house as boxes of their own. */
static PlumbBlocker
member_box (const PlumbStructure *m, int k)
{
  PlumbBlocker box = { .shape = PLUMB_SHAPE_BOX };
  double dx = m->end_x_m - m->start_x_m, dy = m->end_y_m - m->start_y_m, dz = m->end_z_m - m->start_z_m;
  double pitch = atan2 (dz, hypot (dx, dy));

  box.yaw_rad = atan2 (dy, dx);
  box.pitch_rad = pitch;
  box.length_m = sqrt (dx * dx + dy * dy + dz * dz);
  box.width_m = m->width_m;
  box.height_m = m->depth_m;
  /* Middle: half the depth square up from the middle of the underside. */
  box.x_m = (m->start_x_m + m->end_x_m) / 2 - sin (pitch) * cos (box.yaw_rad) * m->depth_m / 2
            + k * m->spacing_m * cos (m->spacing_direction_rad);
  box.y_m = (m->start_y_m + m->end_y_m) / 2 - sin (pitch) * sin (box.yaw_rad) * m->depth_m / 2
            + k * m->spacing_m * sin (m->spacing_direction_rad);
  box.z_m = (m->start_z_m + m->end_z_m) / 2 + cos (pitch) * m->depth_m / 2 - m->depth_m / 2;
  return box;
}

static void
meet_members (Trace *trace)
{
  for (uint32_t i = 0; i < house_count (trace->house, PLUMB_RECORD_STRUCTURE); i++)
    for (int k = 0; k < 3; k++)
      {
        PlumbBlocker box = member_box (&RECORDS (trace->house, PlumbStructure, STRUCTURE)[i], k);
        size_t first = trace->n;
        meet_box (trace, &box, i);
        for (size_t c = first; c < trace->n; c++)
          trace->candidate[c].surface.kind = PLUMB_SURFACE_OF_STRUCTURE;
      }
}

/* The port's prism: along the first wall, up to the face of the room behind. */
static bool
port_holds (const House *house, const PlumbPort *port, PlumbVec3 p)
{
  PlumbVec2 front[16], behind[16];
  house_corners (house, 0, front);
  house_corners (house, 1, behind);
  PlumbVec2 run = plumb_vec2_sub (front[1], front[0]);
  PlumbVec2 along = plumb_vec2_scale (run, 1.0 / plumb_vec2_length (run));
  double s = plumb_vec2_dot (along, plumb_vec2_sub (plumb_vec2 (p.x, p.y), front[0]));
  double out = -plumb_vec2_cross (along, plumb_vec2_sub (plumb_vec2 (p.x, p.y), front[0]));
  double deep = -plumb_vec2_cross (along, plumb_vec2_sub (behind[2], front[0]));

  return fabs (s - port->along_m) < port->width_m / 2 && out > -1e-9 && out < deep + 1e-9 && p.z > port->sill_m
         && p.z < port->sill_m + port->height_m;
}

static void
meet_port (Trace *trace, const PlumbPort *port, uint32_t record)
{
  PlumbVec2 corners[16];
  house_corners (trace->house, 0, corners);
  PlumbVec2 run = plumb_vec2_sub (corners[1], corners[0]);
  PlumbVec2 along = plumb_vec2_scale (run, 1.0 / plumb_vec2_length (run));

  for (int side = -1; side <= 1; side += 2)
    {
      PlumbVec2 at = plumb_vec2_along (corners[0], along, port->along_m + side * port->width_m / 2);
      meet_upright (trace, at, plumb_vec2 (at.x - along.y, at.y + along.x), PLUMB_SURFACE_OF_PORT, record);
      meet (trace, plumb_vec3 (0, 0, 1), plumb_vec3 (0, 0, port->sill_m + (side > 0 ? port->height_m : 0)),
            PLUMB_SURFACE_OF_PORT, record);
    }
}

static void
meet_rooms (Trace *trace)
{
  const House *house = trace->house;
  uint32_t wall = 0;

  for (uint32_t s = 0; s < house_count (house, PLUMB_RECORD_SPACE); s++)
    {
      PlumbVec2 corners[16];
      size_t n = house_corners (house, s, corners);
      for (size_t i = 0; i < n; i++)
        meet_upright (trace, corners[i], corners[(i + 1) % n], PLUMB_SURFACE_OF_WALL, wall++);
      meet (trace, plumb_vec3 (0, 0, 1), plumb_vec3 (0, 0, RECORDS (house, PlumbSpace, SPACE)[s].floor_z_m),
            PLUMB_SURFACE_OF_FLOOR, s);
    }
  for (uint32_t c = 0; c < house_count (house, PLUMB_RECORD_CEILING); c++)
    {
      double z = house_ceiling_height (house, c, plumb_vec2 (0, 0));
      PlumbVec3 normal = plumb_vec3 (z - house_ceiling_height (house, c, plumb_vec2 (1, 0)),
                                     z - house_ceiling_height (house, c, plumb_vec2 (0, 1)), 1.0);
      meet (trace, normal, plumb_vec3 (0, 0, z), PLUMB_SURFACE_OF_CEILING, c);
    }
  for (uint32_t i = 0; i < house_count (house, PLUMB_RECORD_CEILING_POINT); i++)
    {
      /* Six corners each in a random house; only the first room has limits. */
      const PlumbCeilingPoint *points = RECORDS (house, PlumbCeilingPoint, CEILING_POINT);
      uint32_t next = i % 6 == 5 ? i - 5 : i + 1;
      meet_upright (trace, plumb_vec2 (points[i].x_m, points[i].y_m), plumb_vec2 (points[next].x_m, points[next].y_m),
                    PLUMB_SURFACE_OF_STEP, 0);
    }
}

static bool
is_air (const House *house, PlumbVec3 p)
{
  bool air = false;

  for (uint32_t s = 0; s < house_count (house, PLUMB_RECORD_SPACE) && !air; s++)
    {
      PlumbVec2 corners[16];
      double z;
      size_t n = house_corners (house, s, corners);
      air = p.z > RECORDS (house, PlumbSpace, SPACE)[s].floor_z_m
            && house_polygon_holds (corners, n, plumb_vec2 (p.x, p.y))
            && house_rule_ceiling (house, s, plumb_vec2 (p.x, p.y), &z) != PLUMB_NO_INDEX && p.z < z;
    }
  for (uint32_t i = 0; i < house_count (house, PLUMB_RECORD_PORT) && !air; i++)
    air = port_holds (house, &RECORDS (house, PlumbPort, PORT)[i], p);
  for (uint32_t b = 0; b < house_count (house, PLUMB_RECORD_BLOCKER) && air; b++)
    air = !blocker_holds (house, b, p);
  for (uint32_t i = 0; i < house_count (house, PLUMB_RECORD_STRUCTURE) && air; i++)
    for (int k = 0; k < 3 && air; k++)
      {
        PlumbBlocker box = member_box (&RECORDS (house, PlumbStructure, STRUCTURE)[i], k);
        PlumbVec3 local = in_box (&box, p);
        air = !(fabs (local.x) < box.length_m / 2 && fabs (local.y) < box.width_m / 2
                && fabs (local.z) < box.height_m / 2);
      }
  return air;
}

static int
compare_candidates (const void *a, const void *b)
{
  double x = ((const Candidate *) a)->at, y = ((const Candidate *) b)->at;

  return (x > y) - (x < y);
}

/* The end of the ray's first stretch through air. */
static Candidate
first_hit (Trace *trace)
{
  meet_rooms (trace);
  for (uint32_t i = 0; i < house_count (trace->house, PLUMB_RECORD_PORT); i++)
    meet_port (trace, &RECORDS (trace->house, PlumbPort, PORT)[i], i);
  for (uint32_t b = 0; b < house_count (trace->house, PLUMB_RECORD_BLOCKER); b++)
    meet_blocker (trace, b);
  meet_members (trace);
  qsort (trace->candidate, trace->n, sizeof (Candidate), compare_candidates);
  for (size_t i = 0; i + 1 < trace->n; i++)
    {
      double middle = (trace->candidate[i].at + trace->candidate[i + 1].at) / 2.0;
      if (!is_air (trace->house, plumb_vec3_along (trace->from, trace->ray, middle)))
        return trace->candidate[i];
    }
  return trace->candidate[trace->n - 1];
}

static const PlumbBeamPiece *
piece_at (const PlumbBeamCut *cut, PlumbVec2 p)
{
  for (uint32_t i = 0; i < cut->n_pieces; i++)
    {
      const PlumbBeamPiece *piece = &cut->pieces[i];
      bool inside = true;
      for (int k = 0; k < piece->n_points && inside; k++)
        inside = plumb_vec2_cross (plumb_vec2_sub (piece->panel[(k + 1) % piece->n_points], piece->panel[k]),
                                   plumb_vec2_sub (p, piece->panel[k]))
                 >= 0.0;
      if (inside)
        return piece;
    }
  return NULL;
}

static void
test_traced_rays (void)
{
  GRand *rand = g_rand_new_with_seed (33);
  PlumbBeamCut cut = { 0 };
  guint rays = 0, kinds[PLUMB_N_SURFACES] = { 0 };

  for (int round = 0; round < 600; round++)
    {
      PlumbVec3 lens;
      g_autoptr (House) house = house_random (rand, HOUSE_FLAT_SOLIDS, &lens);
      if (!is_air (house, lens))
        continue;
      PlumbScene *scene = house_scene (house);
      const PlumbBuilding *building = building_of (scene);
      PlumbBeam beam = house_beam (rand, lens);
      g_assert_true (plumb_beam_cut (&beam, building, NULL, NULL, 0, &cut));
      for (int k = 0; k < 100; k++)
        {
          PlumbVec2 panel = { g_rand_double_range (rand, -0.5, 0.5), g_rand_double_range (rand, -0.5, 0.5) };
          Trace trace = { .house = house, .from = lens, .ray = plumb_beam_ray (&beam, panel) };
          Candidate hit = first_hit (&trace);
          const PlumbBeamPiece *piece = piece_at (&cut, panel);
          g_assert_nonnull (piece);
          g_assert_cmpint (piece->surface.kind, ==, hit.surface.kind);
          g_assert_cmpuint (piece->surface.record, ==, hit.surface.record);
          const PlumbFace *face = &building->faces[piece->face];
          double depth = plumb_vec3_dot (face->normal, plumb_vec3_sub (face->point[0], lens))
                         / plumb_vec3_dot (face->normal, trace.ray);
          g_assert_cmpfloat_with_epsilon (depth, hit.at, 1e-7 * (1.0 + hit.at));
          kinds[hit.surface.kind]++;
          rays++;
        }
      plumb_scene_unref (scene);
    }
  /* Every kind of surface was met. */
  for (int kind = PLUMB_SURFACE_OF_WALL; kind <= PLUMB_SURFACE_OF_PORT; kind++)
    g_assert_cmpuint (kinds[kind], >, 10);
  g_test_message ("%u rays", rays);
  plumb_beam_cut_clear (&cut);
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/beam-cut/plain", test_plain);
  g_test_add_func ("/beam-cut/screen", test_screen);
  g_test_add_func ("/beam-cut/board-and-region", test_board_and_region);
  g_test_add_func ("/beam-cut/lens-inside-box", test_lens_inside_box);
  g_test_add_func ("/beam-cut/leaves", test_leaves);
  g_test_add_func ("/beam-cut/degenerate-lens", test_degenerate_lens);
  g_test_add_func ("/beam-cut/shares-sum", test_shares_sum);
  g_test_add_func ("/beam-cut/mirror", test_mirror);
  g_test_add_func ("/beam-cut/traced-rays", test_traced_rays);
  return g_test_run ();
}
