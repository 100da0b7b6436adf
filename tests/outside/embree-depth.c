/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rendered distances against Embree 3: the same triangles, every pixel of
 * every camera of both demo jobs. Both compute in single precision and differ
 * on outlines, where a ray through the pixel's middle passes one side or the
 * other: there a ray close beside the middle has to agree.
 */
#include <embree3/rtcore.h>
#include <math.h>

#include "../view3d/render-testing.h"

#define WIDTH_PX 240
#define HEIGHT_PX 160
#define SAME_DEPTH 1e-3
#define BESIDE_PX 0.02

static RTCScene
tracer_new (RTCDevice device, const PlumbMesh *mesh, PlumbVec3 eye)
{
  RTCScene tracer = rtcNewScene (device);
  RTCGeometry geometry = rtcNewGeometry (device, RTC_GEOMETRY_TYPE_TRIANGLE);
  size_t n = 0;
  float *v = rtcSetNewGeometryBuffer (geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof (float),
                                      mesh->n_vertices);
  unsigned *index = rtcSetNewGeometryBuffer (geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                             3 * sizeof (unsigned), mesh->n_indices / 3);

  for (uint32_t i = 0; i < mesh->n_vertices; i++) /* the eye at the origin saves digits */
    {
      v[3 * i] = (float) ((double) mesh->vertices[i].position_m[0] - eye.x);
      v[3 * i + 1] = (float) ((double) mesh->vertices[i].position_m[1] - eye.y);
      v[3 * i + 2] = (float) ((double) mesh->vertices[i].position_m[2] - eye.z);
    }
  memset (index, 0, mesh->n_indices * sizeof *index); /* a hidden part's triangles have no area */
  for (uint32_t p = 0; p < mesh->n_parts; p++)
    for (uint32_t i = 0; i < mesh->parts[p].n; i++)
      index[n++] = mesh->indices[mesh->parts[p].first + i];
  rtcCommitGeometry (geometry);
  rtcAttachGeometry (tracer, geometry);
  rtcReleaseGeometry (geometry);
  rtcSetSceneFlags (tracer, RTC_SCENE_FLAG_ROBUST);
  rtcSetSceneBuildQuality (tracer, RTC_BUILD_QUALITY_HIGH);
  rtcCommitScene (tracer);
  return tracer;
}

/* A camera's ray goes one metre forward for each of its lengths. */
static double
trace (RTCScene tracer, const PlumbCamera *camera, double x, double y)
{
  PlumbVec3 ray = plumb_camera_ray (camera, (double) WIDTH_PX / HEIGHT_PX, x / WIDTH_PX, y / HEIGHT_PX);
  struct RTCIntersectContext context;
  struct RTCRayHit hit = { .ray = { .dir_x = (float) ray.x,
                                    .dir_y = (float) ray.y,
                                    .dir_z = (float) ray.z,
                                    .tfar = INFINITY,
                                    .mask = (unsigned) -1 },
                           .hit = { .geomID = RTC_INVALID_GEOMETRY_ID } };

  rtcInitIntersectContext (&context);
  rtcIntersect1 (tracer, &context, &hit);
  return hit.hit.geomID == RTC_INVALID_GEOMETRY_ID ? 0.0 : (double) hit.ray.tfar;
}

static double
difference (double drawn, double traced)
{
  return fabs (drawn - traced) / fmax (traced, 1e-3);
}

static double
least_beside (RTCScene tracer, const PlumbCamera *camera, double x, double y, double drawn)
{
  double least = INFINITY;

  for (int i = 0; i < 9; i++)
    least = fmin (
        least, difference (drawn, trace (tracer, camera, x + BESIDE_PX * (i % 3 - 1), y + BESIDE_PX * (i / 3 - 1))));
  return least;
}

static void
compare_camera (RTCDevice device, const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation,
                PlumbCameraKind kind)
{
  g_autoptr (GError) error = NULL;
  PlumbOffscreen *offscreen = render_offscreen (false);
  PlumbView3d *view = render_view_new (1.0);
  uint32_t seat = plumb_scene_resolved (scene)->n_seats / 2;
  PlumbCamera camera;
  guint beside = 0, met = 0;
  double worst = 0.0;

  g_assert_true (plumb_camera_home (scene, evaluation, kind, seat, (double) WIDTH_PX / HEIGHT_PX, &camera));
  PlumbMesh mesh = render_mesh (scene, evaluation, &camera);
  RTCScene tracer = tracer_new (device, &mesh, plumb_camera_eye (&camera));
  plumb_view3d_set_scene (view, scene, evaluation);
  plumb_view3d_set_camera (view, &camera);
  g_autofree float *depth = plumb_offscreen_depth (offscreen, view, WIDTH_PX, HEIGHT_PX, &error);
  g_assert_no_error (error);
  for (int i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    {
      double x = i % WIDTH_PX + 0.5, y = i / WIDTH_PX + 0.5, drawn = (double) depth[i];
      double off = difference (drawn, trace (tracer, &camera, x, y));
      if (off > SAME_DEPTH)
        {
          beside++;
          off = least_beside (tracer, &camera, x, y, drawn);
        }
      g_assert_cmpfloat (off, <=, SAME_DEPTH);
      worst = fmax (worst, off);
      met += drawn > 0.0;
    }
  g_test_message ("%s, camera %d: %u of %d pixels show something, %u on an outline, worst %.2g", name, (int) kind,
                  met, WIDTH_PX * HEIGHT_PX, beside, worst);
  g_assert_cmpuint (met, >, WIDTH_PX * HEIGHT_PX / 10);
  g_assert_cmpuint (beside, <, WIDTH_PX * HEIGHT_PX / 100);
  rtcReleaseScene (tracer);
  plumb_mesh_clear (&mesh);
  plumb_view3d_free (view);
  plumb_offscreen_free (offscreen);
}

static void
compare_demo (const char *name, PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  static const PlumbCameraKind kinds[]
      = { PLUMB_CAMERA_ROOM, PLUMB_CAMERA_FRONT, PLUMB_CAMERA_LENS, PLUMB_CAMERA_SEAT };
  RTCDevice device = rtcNewDevice ("threads=1");

  g_assert_nonnull (device);
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    compare_camera (device, name, scene, evaluation, kinds[i]);
  rtcReleaseDevice (device);
}

static void
test_depth (void)
{
  each_demo (compare_demo);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/embree-depth/every-pixel", test_depth);
  return g_test_run ();
}
