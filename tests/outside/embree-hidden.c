/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Hidden and shadowed shares of whole evaluations against Embree 3: 200 random
 * rooms with rows, people and solids, 10⁶ rays to the picture from one seat and
 * 10⁶ from the lens; with --all-seats from every seat. Two rays in each of
 * 707 × 707 cells: how often they differ gives the sampling's own sigma.
 * Heads are Embree's spheres stretched by an instance's transform, plane-faced
 * bodies all triangles between their corners, which cover no more than the
 * hull; cylinders have 512 sides. Embree computes in single precision.
 */
#include <embree3/rtcore.h>
#include <string.h>

#include "../engine/sample-job.h"
#include "plumbeam/sight.h"
#include "plumbeam/variants.h"

#define N_SCENES 200
#define CELLS 707
#define SIGMAS 5.0
/* Rounding in single precision along some ten metres of outline. */
#define ROUNDING_SHARE 5e-6
#define SIDES 512
#define PACKET 16
#define N_THREADS 2
#define CENTRE_X 3.1
#define WALL_Y 9.4

/* ---- a room as Embree has it --------------------------------------------------------- */

typedef struct {
  RTCDevice device;
  RTCScene scene;
  PlumbVec3 eye; /* at the origin, which saves digits */
} Tracer;

static void
add_triangles (Tracer *t, const float *points, guint n_points, const guint *index, guint n_triangles)
{
  RTCGeometry g = rtcNewGeometry (t->device, RTC_GEOMETRY_TYPE_TRIANGLE);
  float *v = rtcSetNewGeometryBuffer (g, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof (float), n_points);
  guint *i = rtcSetNewGeometryBuffer (g, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 3 * sizeof (guint), n_triangles);

  memcpy (v, points, 3 * n_points * sizeof (float));
  memcpy (i, index, 3 * n_triangles * sizeof (guint));
  rtcCommitGeometry (g);
  rtcAttachGeometry (t->scene, g);
  rtcReleaseGeometry (g);
}

static void
put_point (const Tracer *t, PlumbVec3 p, float *out)
{
  PlumbVec3 rel = plumb_vec3_sub (p, t->eye);

  out[0] = (float) rel.x;
  out[1] = (float) rel.y;
  out[2] = (float) rel.z;
}

/* All triangles between the corners lie in the hull, and its faces are among them. */
static void
add_hull (Tracer *t, const PlumbVec3 *corner, guint n)
{
  g_autofree float *points = g_new (float, 3 * n);
  g_autoptr (GArray) index = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint k = 0; k < n; k++)
    put_point (t, corner[k], points + 3 * k);
  for (guint i = 0; i < n; i++)
    for (guint j = i + 1; j < n; j++)
      for (guint k = j + 1; k < n; k++)
        {
          const guint triangle[3] = { i, j, k };
          g_array_append_vals (index, triangle, 3);
        }
  add_triangles (t, points, n, (const guint *) (gpointer) index->data, index->len / 3);
}

static void
add_ellipsoid (Tracer *t, PlumbVec3 centre, const PlumbVec3 axis[3], PlumbVec3 half)
{
  RTCScene one = rtcNewScene (t->device);
  RTCGeometry ball = rtcNewGeometry (t->device, RTC_GEOMETRY_TYPE_SPHERE_POINT);
  float *v = rtcSetNewGeometryBuffer (ball, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT4, 4 * sizeof (float), 1);
  const double size[3] = { half.x, half.y, half.z };
  float transform[12];

  v[0] = v[1] = v[2] = 0.0f;
  v[3] = 1.0f;
  rtcCommitGeometry (ball);
  rtcAttachGeometry (one, ball);
  rtcReleaseGeometry (ball);
  rtcCommitScene (one);
  for (int k = 0; k < 3; k++)
    {
      PlumbVec3 column = plumb_vec3_scale (axis[k], size[k]);
      transform[3 * k] = (float) column.x;
      transform[3 * k + 1] = (float) column.y;
      transform[3 * k + 2] = (float) column.z;
    }
  put_point (t, centre, transform + 9);
  RTCGeometry instance = rtcNewGeometry (t->device, RTC_GEOMETRY_TYPE_INSTANCE);
  rtcSetGeometryInstancedScene (instance, one);
  rtcSetGeometryTransform (instance, 0, RTC_FORMAT_FLOAT3X4_COLUMN_MAJOR, transform);
  rtcCommitGeometry (instance);
  rtcAttachGeometry (t->scene, instance);
  rtcReleaseGeometry (instance);
  rtcReleaseScene (one);
}

static void
add_cylinder (Tracer *t, const PlumbSolid *solid)
{
  g_autofree float *points = g_new (float, 3 * (2 * SIDES + 2));
  g_autofree guint *index = g_new (guint, 3 * 4 * SIDES);
  /* Sides that cut the circle and stand over it by turns: the polygon of the same area. */
  double around = solid->half_m.x * sqrt (2.0 * PLUMB_PI / SIDES / sin (2.0 * PLUMB_PI / SIDES));
  guint n = 0;

  for (guint k = 0; k < 2 * SIDES + 2; k++)
    {
      double a = 2.0 * PLUMB_PI * (k / 2) / SIDES, r = k < 2 * SIDES ? around : 0.0;
      PlumbVec3 p
          = plumb_vec3_along (solid->centre_m, solid->axis[2], k % 2 == 0 ? -solid->half_m.z : solid->half_m.z);
      p = plumb_vec3_along (plumb_vec3_along (p, solid->axis[0], r * cos (a)), solid->axis[1], r * sin (a));
      put_point (t, p, points + 3 * k);
    }
  for (guint k = 0; k < SIDES; k++)
    {
      guint a = 2 * k, b = 2 * ((k + 1) % SIDES), foot = 2 * SIDES;
      const guint four[12] = { a, b, a + 1, a + 1, b, b + 1, a, b, foot, a + 1, b + 1, foot + 1 };
      memcpy (index + n, four, sizeof four);
      n += 12;
    }
  add_triangles (t, points, 2 * SIDES + 2, index, n / 3);
}

static void
add_figure (Tracer *t, const PlumbFigure3d *figure)
{
  add_ellipsoid (t, figure->head_centre_m, figure->head_axis, figure->head_half_m);
  add_hull (t, figure->trunk_m, 8);
}

/* The room from an eye; `own` is the seat that looks, PLUMB_NO_INDEX for the
 * lens, which does not shadow itself with its machine. */
static Tracer
tracer_new (RTCDevice device, const Sample *s, const PlumbResolved *room, const PlumbEvaluation *e, PlumbVec3 eye,
            uint32_t own)
{
  Tracer t = { device, rtcNewScene (device), eye };

  for (uint32_t i = 0; i < room->n_seats; i++)
    if (i != own)
      {
        const PlumbSeatResolved *seat = &room->seats[i];
        PlumbFigure3d figure
            = plumb_figure_sitting (seat->eye_m, seat->facing_rad, seat->head_above_eye_m, seat->floor_z_m);
        add_figure (&t, &figure);
      }
  for (guint i = 0; i < s->n_person; i++)
    {
      const PlumbPerson *p = &s->person[i];
      PlumbFigure3d figure
          = plumb_figure_standing (plumb_vec3 (p->x_m, p->y_m, p->floor_z_m), p->facing_rad, p->stature_m);
      add_figure (&t, &figure);
    }
  for (uint32_t i = 0; i < room->building->n_solids; i++)
    {
      const PlumbSolid *solid = &room->building->solids[i];
      if (!solid->exposed)
        continue;
      if (solid->shape == PLUMB_SOLID_POLYHEDRON)
        add_hull (&t, &room->building->corners[solid->first_corner], solid->n_corners);
      else if (solid->shape == PLUMB_SOLID_CYLINDER)
        add_cylinder (&t, solid);
      else
        add_ellipsoid (&t, solid->centre_m, solid->axis, solid->half_m);
    }
  if (own != PLUMB_NO_INDEX)
    add_hull (&t, e->body_corner_m, 8);
  rtcSetSceneFlags (t.scene, RTC_SCENE_FLAG_ROBUST);
  rtcCommitScene (t.scene);
  return t;
}

/* ---- rays ---------------------------------------------------------------------------- */

typedef struct {
  double share, sigma;
} Sampled;

/* Marsaglia's xorshift, 2003: 0…1. */
static inline float
chance (guint32 *state)
{
  *state ^= *state << 13;
  *state ^= *state >> 17;
  *state ^= *state << 5;
  return (float) (*state >> 8) * 0x1p-24f;
}

/* Eight cells of a row, two rays in each. */
static void
trace_packet (const Tracer *t, const PlumbEvaluation *e, int row, int column, guint32 *state, guint *hits,
              guint *unlike)
{
  const PlumbPlaneFrame *f = &e->target.frame;
  PlumbVec3 origin = plumb_vec3_sub (f->origin_m, t->eye);
  struct RTCRay16 ray;
  struct RTCIntersectContext context;
  int valid[PACKET];

  memset (&ray, 0, sizeof ray);
  for (int k = 0; k < PACKET; k++)
    {
      int at = column + k / 2;
      double x = ((double) at + (double) chance (state)) / CELLS - 0.5,
             y = ((double) row + (double) chance (state)) / CELLS - 0.5;
      PlumbVec3 way = plumb_vec3_along (origin, f->u, e->picture.centre_m.x + x * e->picture.width_m);
      way = plumb_vec3_along (way, f->v, e->picture.centre_m.y + y * e->picture.height_m);
      ray.dir_x[k] = (float) way.x;
      ray.dir_y[k] = (float) way.y;
      ray.dir_z[k] = (float) way.z;
      ray.tfar[k] = 1.0f;
      ray.mask[k] = (unsigned) -1;
      valid[k] = at < CELLS ? -1 : 0;
    }
  rtcInitIntersectContext (&context);
  context.flags = RTC_INTERSECT_CONTEXT_FLAG_COHERENT;
  rtcOccluded16 (valid, t->scene, &context, &ray);
  for (int k = 0; k < PACKET; k += 2)
    if (valid[k] != 0)
      {
        /* Embree says so with a far end of −∞. */
        bool one = ray.tfar[k] < 0.0f, other = ray.tfar[k + 1] < 0.0f;
        *hits += (guint) one + (guint) other;
        *unlike += one != other;
      }
}

static Sampled
sample_share (const Tracer *t, const PlumbEvaluation *e, guint32 seed)
{
  guint hits = 0, unlike = 0;
  guint32 state = seed * 2654435761u + 1;

  for (int row = 0; row < CELLS; row++)
    for (int column = 0; column < CELLS; column += PACKET / 2)
      trace_packet (t, e, row, column, &state, &hits, &unlike);
  /* Of two rays a cell: the mean's variance is a quarter of the square difference, summed. */
  return (Sampled){ hits / (2.0 * CELLS * CELLS), sqrt (fmax (unlike, 4) / 4.0) / ((double) CELLS * CELLS) };
}

/* ---- scenes --------------------------------------------------------------------------- */

static PlumbBlocker *
add_solid (Sample *s, GRand *rand, double x, double y, double z, double size)
{
  static const int shapes[] = { PLUMB_SHAPE_BOX, PLUMB_SHAPE_BOX, PLUMB_SHAPE_CYLINDER, PLUMB_SHAPE_ELLIPSOID };
  double length = size * g_rand_double_range (rand, 0.3, 1.0), width = size * g_rand_double_range (rand, 0.3, 1.0);
  PlumbBlocker *b = sample_add_box (s, "b", x, y, z, length, width, size * g_rand_double_range (rand, 0.3, 1.0));

  g_snprintf (b->id, sizeof b->id, "b%u", s->n_blocker);
  b->shape = shapes[g_rand_int_range (rand, 0, G_N_ELEMENTS (shapes))];
  b->yaw_rad = g_rand_double_range (rand, -PLUMB_PI, PLUMB_PI);
  b->diameter_m = length;
  return b;
}

static void
add_rows (Sample *s, GRand *rand)
{
  PlumbRow *row = &s->row[0];

  plumb_record_default (PLUMB_RECORD_ROW, row);
  SET_ID (row->id, "r");
  row->count = g_rand_int_range (rand, 2, 7);
  row->rows = g_rand_int_range (rand, 1, 5);
  row->x_m = CENTRE_X - row->pitch_m * (row->count - 1) / 2.0;
  row->y_m = WALL_Y - g_rand_double_range (rand, 2.0, 3.5);
  row->facing_rad = PLUMB_PI / 2.0;
  row->row_spacing_m = g_rand_double_range (rand, 0.8, 1.2);
  row->riser_m = g_rand_double_range (rand, 0.0, 0.2);
  s->n_row = 1;
}

/* Solids before the picture, by the first row's eyes and by the lens (half
 * behind them), in the picture's plane; in every twentieth room one before all of it. */
static void
random_sample (GRand *rand, guint number, Sample *s)
{
  sample_init (s);
  s->lens[0].shift_up_share = 1.2;
  s->screen[0].bottom_m = g_rand_double_range (rand, 0.6, 1.1);
  add_rows (s, rand);
  for (int k = g_rand_int_range (rand, 0, 3); k > 0; k--)
    {
      PlumbPerson *p = &s->person[s->n_person];
      plumb_record_default (PLUMB_RECORD_PERSON, p);
      g_snprintf (p->id, sizeof p->id, "p%u", ++s->n_person);
      p->posture = PLUMB_POSTURE_STANDING;
      p->x_m = g_rand_double_range (rand, 0.6, 5.6);
      p->y_m = WALL_Y - g_rand_double_range (rand, 0.6, 1.6);
      p->facing_rad = g_rand_double_range (rand, -PLUMB_PI, PLUMB_PI);
    }
  for (int k = g_rand_int_range (rand, 2, 9); k > 0; k--)
    add_solid (s, rand, g_rand_double_range (rand, 0.8, 5.4), WALL_Y - g_rand_double_range (rand, 0.2, 6.0),
               g_rand_double_range (rand, 0.0, 2.4), 0.7);
  for (int k = g_rand_int_range (rand, 1, 4); k > 0; k--)
    add_solid (s, rand, s->row[0].x_m + s->row[0].pitch_m * (k - 0.5),
               s->row[0].y_m + g_rand_double_range (rand, -0.05, 0.2), g_rand_double_range (rand, 0.7, 1.3), 0.5);
  add_solid (s, rand, CENTRE_X + g_rand_double_range (rand, -0.5, 0.5),
             WALL_Y - s->place[0].off_m + g_rand_double_range (rand, -0.1, 0.3), g_rand_double_range (rand, 1.9, 2.4),
             0.6);
  add_solid (s, rand, g_rand_double_range (rand, 1.5, 4.7), WALL_Y - 0.05, g_rand_double_range (rand, 0.6, 2.0), 0.8);
  if (number % 20 == 7)
    {
      PlumbBlocker *b = sample_add_box (s, "curtain", CENTRE_X, WALL_Y, 0.2, 4.5, 0.5, 2.7);
      b->shape = PLUMB_SHAPE_BOX;
    }
}

/* ---- comparing ------------------------------------------------------------------------- */

typedef struct {
  guint n_seats;     /* compared */
  guint partly;      /* shares between nothing and all */
  guint whole;       /* shares of all */
  double worst, sum; /* in sigmas; squares */
  double largest;    /* difference */
  bool valid;
} Outcome;

static void
compare (Outcome *o, double ours, Sampled theirs, guint scene, const char *what)
{
  double gap = fabs (ours - theirs.share), sigmas = fmax (gap - ROUNDING_SHARE, 0.0) / theirs.sigma;

  if (sigmas > SIGMAS)
    g_printerr ("# scene %u, %s: ours %.8f, rays %.8f, sigma %.2g\n", scene, what, ours, theirs.share, theirs.sigma);
  o->worst = fmax (o->worst, sigmas);
  o->largest = fmax (o->largest, gap);
  o->sum += sigmas * sigmas;
  o->partly += theirs.share > 0.0 && theirs.share < 1.0;
  o->whole += theirs.share >= 1.0;
  o->n_seats++;
}

static bool
lens_is_free (const PlumbResolved *room, PlumbVec3 lens)
{
  for (uint32_t i = 0; i < room->building->n_solids; i++)
    {
      const PlumbSolid *solid = &room->building->solids[i];
      PlumbVec3 rel = plumb_vec3_sub (lens, solid->centre_m);
      if (solid->exposed && fabs (plumb_vec3_dot (rel, solid->axis[0])) <= solid->half_m.x + 1e-3
          && fabs (plumb_vec3_dot (rel, solid->axis[1])) <= solid->half_m.y + 1e-3
          && fabs (plumb_vec3_dot (rel, solid->axis[2])) <= solid->half_m.z + 1e-3)
        return false;
    }
  return true;
}

/* False for a room that does not do: a seat without room, no picture, or a lens
 * in something. */
static bool
compare_scene (RTCDevice device, guint number, guint attempt, bool all_seats, Outcome *o)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1000 * number + attempt);
  g_autofree Sample *s = g_new0 (Sample, 1);
  PlumbEvaluation *e = NULL;

  random_sample (rand, number, s);
  PlumbScene *scene = sample_scene (s);
  const PlumbResolved *room = plumb_scene_resolved (scene);
  g_assert_true (plumb_evaluate (scene, 0, &e));
  const PlumbFinding *seats = sample_finding (e, PLUMB_CHECK_PEOPLE_SEAT);
  bool usable
      = e->has_picture && seats != NULL && seats->variant == PLUMB_V_SEAT_ROOM && lens_is_free (room, e->beam.lens_m);
  guint32 one = (guint32) g_rand_int_range (rand, 0, (gint32) room->n_seats);
  for (uint32_t i = 0; usable && i < room->n_seats; i++)
    {
      if ((!all_seats && i != one) || !e->seats[i].before_picture)
        continue;
      Tracer t = tracer_new (device, s, room, e, room->seats[i].eye_m, i);
      compare (o, e->seats[i].hidden_share, sample_share (&t, e, 1000 * number + i), number, "seat");
      rtcReleaseScene (t.scene);
    }
  if (usable)
    {
      Tracer t = tracer_new (device, s, room, e, e->beam.lens_m, PLUMB_NO_INDEX);
      compare (o, sample_figure (e, PLUMB_FIGURE_picture_shadow_share), sample_share (&t, e, 1000 * number + 999),
               number, "lens");
      rtcReleaseScene (t.scene);
    }
  plumb_evaluation_free (e);
  plumb_scene_unref (scene);
  return usable;
}

static bool all_seats;
static Outcome outcomes[N_SCENES];

/* Every N_THREADSth scene. */
static gpointer
work (gpointer first)
{
  RTCDevice device = rtcNewDevice ("threads=1");

  g_assert_nonnull (device);
  for (guint i = GPOINTER_TO_UINT (first); i < N_SCENES; i += N_THREADS)
    for (guint attempt = 0; attempt < 50 && !outcomes[i].valid; attempt++)
      outcomes[i].valid = compare_scene (device, i, attempt, all_seats, &outcomes[i]);
  rtcReleaseDevice (device);
  return NULL;
}

static void
test_shares (void)
{
  Outcome all = { 0 };
  GThread *thread[N_THREADS];

  for (guint k = 0; k < N_THREADS; k++)
    thread[k] = g_thread_new ("rays", work, GUINT_TO_POINTER (k));
  for (guint k = 0; k < N_THREADS; k++)
    g_thread_join (thread[k]);
  for (guint i = 0; i < N_SCENES; i++)
    {
      g_assert_true (outcomes[i].valid);
      all.n_seats += outcomes[i].n_seats;
      all.partly += outcomes[i].partly;
      all.whole += outcomes[i].whole;
      all.sum += outcomes[i].sum;
      all.worst = fmax (all.worst, outcomes[i].worst);
      all.largest = fmax (all.largest, outcomes[i].largest);
    }
  g_test_message ("%d scenes, %u shares of %d rays each, %u partly and %u wholly hidden: worst %.2f sigma, root mean "
                  "square %.2f, largest difference %.2g of the picture",
                  N_SCENES, all.n_seats, 2 * CELLS * CELLS, all.partly, all.whole, all.worst,
                  sqrt (all.sum / all.n_seats), all.largest);
  g_assert_cmpuint (all.n_seats, >=, 2 * N_SCENES - 20);
  g_assert_cmpuint (all.partly, >, N_SCENES);
  g_assert_cmpuint (all.whole, >=, 5);
  g_assert_cmpfloat (all.worst, <, SIGMAS);
  /* Neither a bias nor a sigma too wide to see one. */
  g_assert_cmpfloat (sqrt (all.sum / all.n_seats), >, 0.5);
  g_assert_cmpfloat (sqrt (all.sum / all.n_seats), <, 1.2);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  all_seats = argc > 1 && strcmp (argv[1], "--all-seats") == 0;
  g_test_add_func (all_seats ? "/embree-hidden/all-seats" : "/embree-hidden/one-seat", test_shares);
  return g_test_run ();
}
