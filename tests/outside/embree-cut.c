/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The beam cut against Embree 3: the same faces, 60 random buildings, 20,000
 * rays each. Embree computes in single precision, so a ray that meets another
 * surface must pass within EDGE_PANEL of an edge of its piece, or both
 * surfaces must be equally far (two faces in one plane).
 */
#include <embree3/rtcore.h>

#include "../engine/house.h"

#define N_BUILDINGS 60
#define N_RAYS 20000
/* A part in 10^7 of 15 m, seen from a third of a metre at throw ratio 2.5. */
#define EDGE_PANEL 2e-5
#define SAME_DEPTH_SHARE 1e-5

typedef struct {
  RTCScene scene;
  GArray *face_of_triangle;
} Tracer;

static void
add_triangles (const PlumbVec3 *p, uint32_t n, PlumbVec3 lens, uint32_t face, GArray *vertices, GArray *faces)
{
  for (uint32_t k = 1; k + 1 < n; k++)
    {
      const PlumbVec3 corner[3] = { p[0], p[k], p[k + 1] };
      for (int c = 0; c < 3; c++)
        {
          PlumbVec3 q = plumb_vec3_sub (corner[c], lens); /* the lens at the origin saves digits */
          float xyz[3] = { (float) q.x, (float) q.y, (float) q.z };
          g_array_append_vals (vertices, xyz, 3);
        }
      g_array_append_val (faces, face);
    }
}

static Tracer
tracer_new (RTCDevice device, const PlumbBuilding *building, const PlumbVec3 screen[4], PlumbVec3 lens)
{
  Tracer tracer = { rtcNewScene (device), g_array_new (FALSE, FALSE, sizeof (uint32_t)) };
  g_autoptr (GArray) vertices = g_array_new (FALSE, FALSE, sizeof (float));

  for (uint32_t f = 0; f < building->n_faces; f++)
    add_triangles (building->faces[f].point, building->faces[f].n_points, lens, f, vertices, tracer.face_of_triangle);
  add_triangles (screen, 4, lens, PLUMB_NO_INDEX, vertices, tracer.face_of_triangle);
  RTCGeometry geometry = rtcNewGeometry (device, RTC_GEOMETRY_TYPE_TRIANGLE);
  guint n_triangles = tracer.face_of_triangle->len;
  float *v = rtcSetNewGeometryBuffer (geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof (float),
                                      3 * n_triangles);
  unsigned *index = rtcSetNewGeometryBuffer (geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                             3 * sizeof (unsigned), n_triangles);
  memcpy (v, vertices->data, vertices->len * sizeof (float));
  for (unsigned i = 0; i < 3 * n_triangles; i++)
    index[i] = i;
  rtcCommitGeometry (geometry);
  rtcAttachGeometry (tracer.scene, geometry);
  rtcReleaseGeometry (geometry);
  rtcSetSceneFlags (tracer.scene, RTC_SCENE_FLAG_ROBUST);
  rtcSetSceneBuildQuality (tracer.scene, RTC_BUILD_QUALITY_HIGH);
  rtcCommitScene (tracer.scene);
  return tracer;
}

static void
tracer_clear (Tracer *tracer)
{
  rtcReleaseScene (tracer->scene);
  g_array_unref (tracer->face_of_triangle);
}

/* The surface that Embree meets first, and how far along the ray. */
static PlumbSurfaceId
trace (const Tracer *tracer, const PlumbBuilding *building, PlumbVec3 ray, double *depth)
{
  struct RTCIntersectContext context;
  struct RTCRayHit hit = { .ray = { .dir_x = (float) ray.x,
                                    .dir_y = (float) ray.y,
                                    .dir_z = (float) ray.z,
                                    .tfar = INFINITY,
                                    .mask = (unsigned) -1 },
                           .hit = { .geomID = RTC_INVALID_GEOMETRY_ID } };

  rtcInitIntersectContext (&context);
  rtcIntersect1 (tracer->scene, &context, &hit);
  *depth = (double) hit.ray.tfar;
  if (hit.hit.geomID == RTC_INVALID_GEOMETRY_ID)
    return (PlumbSurfaceId){ PLUMB_SURFACE_OF_NOTHING, PLUMB_NO_INDEX };
  uint32_t face = g_array_index (tracer->face_of_triangle, uint32_t, hit.hit.primID);
  if (face == PLUMB_NO_INDEX)
    return (PlumbSurfaceId){ PLUMB_SURFACE_OF_SCREEN, 0 };
  return building->faces[face].surface;
}

/* How far a panel point lies inside a convex piece; negative outside. */
static double
depth_inside (const PlumbBeamPiece *piece, PlumbVec2 p)
{
  double least = INFINITY;

  for (int k = 0; k < piece->n_points; k++)
    {
      PlumbVec2 a = piece->panel[k], run = plumb_vec2_sub (piece->panel[(k + 1) % piece->n_points], a);
      double length = plumb_vec2_length (run);
      if (length > 1e-12)
        least = fmin (least, plumb_vec2_cross (run, plumb_vec2_sub (p, a)) / length);
    }
  return least;
}

static const PlumbBeamPiece *
piece_at (const PlumbBeamCut *cut, PlumbVec2 p)
{
  const PlumbBeamPiece *best = NULL;
  double most = -1e-9;

  for (uint32_t i = 0; i < cut->n_pieces; i++)
    {
      double inside = depth_inside (&cut->pieces[i], p);
      if (inside > most)
        {
          most = inside;
          best = &cut->pieces[i];
        }
    }
  return best;
}

/* Depth of the piece's plane along the ray, from three of its landing points
 * that span it best. */
static double
piece_depth (const PlumbBeamPiece *piece, PlumbVec3 lens, PlumbVec3 ray)
{
  PlumbVec3 normal = { 0, 0, 0 };

  for (int k = 1; k + 1 < piece->n_points; k++)
    normal = plumb_vec3_add (normal, plumb_vec3_cross (plumb_vec3_sub (piece->point[k], piece->point[0]),
                                                       plumb_vec3_sub (piece->point[k + 1], piece->point[0])));
  return plumb_vec3_dot (normal, plumb_vec3_sub (piece->point[0], lens)) / plumb_vec3_dot (normal, ray);
}

typedef struct {
  guint kind[PLUMB_N_SURFACES];
  guint rays, at_edge, in_one_plane;
  double farthest_edge;
} Tally;

static void
compare_ray (const Tracer *tracer, const PlumbBuilding *building, const PlumbBeam *beam, const PlumbBeamCut *cut,
             PlumbVec2 panel, Tally *tally)
{
  PlumbVec3 ray = plumb_beam_ray (beam, panel);
  double depth;
  PlumbSurfaceId met = trace (tracer, building, ray, &depth);
  const PlumbBeamPiece *piece = piece_at (cut, panel);

  g_assert_nonnull (piece);
  tally->rays++;
  tally->kind[met.kind]++;
  if (met.kind == piece->surface.kind
      && (met.kind == PLUMB_SURFACE_OF_NOTHING || met.record == piece->surface.record))
    return;
  double to_edge = depth_inside (piece, panel);
  if (to_edge <= EDGE_PANEL)
    {
      tally->at_edge++;
      tally->farthest_edge = fmax (tally->farthest_edge, to_edge);
      return;
    }
  double ours = piece_depth (piece, beam->lens_m, ray);
  g_assert_cmpfloat (fabs (ours - depth), <, SAME_DEPTH_SHARE * depth);
  tally->in_one_plane++;
}

/* A wide beam at the port or at the middle of the solids, so that they are
 * seen. */
static PlumbBeam
aimed_beam (GRand *rand, const PlumbBuilding *building, PlumbVec3 lens)
{
  PlumbVec3 sum = { 0, 0, 0 };
  PlumbBeam beam = house_beam (rand, lens);

  for (uint32_t s = 0; s < building->n_solids; s++)
    sum = plumb_vec3_add (sum, plumb_vec3_sub (building->solids[s].centre_m, lens));
  if (building->n_holes > 0)
    sum = plumb_vec3_sub (
        plumb_vec3_scale (plumb_vec3_add (building->holes[0].inner_m[0], building->holes[0].inner_m[2]), 0.5), lens);
  if (building->n_solids == 0 && building->n_holes == 0)
    return beam;
  PlumbPlaneFrame frame = { .n = plumb_vec3_scale (plumb_vec3_unit (sum), -1.0) };
  frame.u = plumb_vec3_unit (plumb_vec3_cross (plumb_vec3 (0, 0, 1), frame.n));
  frame.v = plumb_vec3_cross (frame.n, frame.u);
  beam.axes = plumb_beam_axes (&frame, false, g_rand_double_range (rand, -0.3, 0.3),
                               g_rand_double_range (rand, -0.3, 0.3), g_rand_double_range (rand, -3.0, 3.0));
  beam.throw_ratio = g_rand_double_range (rand, 0.5, 1.5);
  return beam;
}

static void
compare_building (RTCDevice device, GRand *rand, Tally *tally)
{
  PlumbVec3 lens, corner[4];
  g_autoptr (House) house = house_random (rand, 0, &lens);
  PlumbScene *scene = house_scene (house);
  const PlumbBuilding *building = plumb_scene_resolved (scene)->building;
  PlumbBeam beam = aimed_beam (rand, building, lens);
  /* A screen of 0.8 × 0.45 m, two metres before the lens and turned a little. */
  PlumbPlaneFrame frame
      = { plumb_vec3_along (lens, beam.axes.f, 2.0), beam.axes.r, beam.axes.w, plumb_vec3_scale (beam.axes.f, -1.0) };
  frame.n = plumb_vec3_unit (plumb_vec3_along (frame.n, frame.u, 0.3));
  frame.u = plumb_vec3_cross (frame.v, frame.n);
  PlumbScreenFace screen = { frame, 0.8, 0.45, 0 };
  PlumbBeamCut cut = { 0 };

  for (int i = 0; i < 4; i++)
    corner[i] = plumb_vec3_along (plumb_vec3_along (frame.origin_m, frame.u, i == 0 || i == 3 ? -0.4 : 0.4), frame.v,
                                  i < 2 ? -0.225 : 0.225);
  Tracer tracer = tracer_new (device, building, corner, lens);
  g_assert_true (plumb_beam_cut (&beam, building, &screen, NULL, 0, &cut));
  for (int k = 0; k < N_RAYS; k++)
    compare_ray (&tracer, building, &beam, &cut,
                 plumb_vec2 (g_rand_double_range (rand, -0.5, 0.5), g_rand_double_range (rand, -0.5, 0.5)), tally);
  plumb_beam_cut_clear (&cut);
  tracer_clear (&tracer);
  plumb_scene_unref (scene);
}

static void
test_rays (void)
{
  GRand *rand = g_rand_new_with_seed (50);
  RTCDevice device = rtcNewDevice ("threads=1");
  Tally tally = { 0 };

  g_assert_nonnull (device);
  for (int i = 0; i < N_BUILDINGS; i++)
    compare_building (device, rand, &tally);
  rtcReleaseDevice (device);
  g_rand_free (rand);
  g_test_message ("%u rays, %u at an edge (farthest %.2g of the panel), %u in one plane", tally.rays, tally.at_edge,
                  tally.farthest_edge, tally.in_one_plane);
  g_assert_cmpuint (tally.rays, ==, N_BUILDINGS * N_RAYS);
  for (int kind = 0; kind <= PLUMB_SURFACE_OF_PORT; kind++)
    {
      g_test_message ("surface kind %d: %u rays", kind, tally.kind[kind]);
      g_assert_cmpuint (tally.kind[kind], >, 500);
    }
  g_assert_cmpuint (tally.at_edge, <, tally.rays / 1000);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/embree-cut/rays", test_rays);
  return g_test_run ();
}
