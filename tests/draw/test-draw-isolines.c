/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Isolines: of plain formulas, and of the machine's light against that of a
 * small piece of the panel, traced by hand. */
#include <math.h>

#include "draw-testing.h"
#include "draw/isolines.h"
#include "plumbeam/light-map.h"

#define DEG (PLUMB_PI / 180.0)

static PlumbIsoline
line_at (const PlumbIsolines *isolines, guint i)
{
  return g_array_index (isolines->lines, PlumbIsoline, i);
}

static PlumbVec2
point_at (const PlumbIsolines *isolines, guint i)
{
  return g_array_index (isolines->points, PlumbVec2, i);
}

/* ---- tracing ---------------------------------------------------------------------- */

static bool
cone_cb (const void *data, PlumbVec2 p, double *value)
{
  (void) data;
  *value = 10.0 - hypot (p.x, p.y);
  return true;
}

static bool
saddle_cb (const void *data, PlumbVec2 p, double *value)
{
  (void) data;
  *value = 100.0 * p.x * p.y;
  return true;
}

static bool
hole_cb (const void *data, PlumbVec2 p, double *value)
{
  (void) data;
  *value = 1.0 / p.x;
  return p.x > 0.0;
}

/* A cone's lines are circles, by the formula; its tip is found. */
static void
test_cone (void)
{
  PlumbRect area = { { 0.2, -0.1 }, 4.0, 3.0 };
  PlumbIsolines lines = plumb_isolines_make (cone_cb, NULL, &area, 7, 0.01);
  g_assert_true (lines.known);
  g_assert_cmpfloat_with_epsilon (lines.greatest, 10.0, 1e-6);
  g_assert_cmpfloat (plumb_vec2_length (lines.greatest_at), <, 1e-6);
  /* To the farthest corner (2.2, -1.6) it falls by 2.72: steps of 0.5 are 5 of 7. */
  g_assert_cmpfloat_with_epsilon (lines.step, 0.5, 1e-12);
  gboolean closed = FALSE;
  for (guint i = 0; i < lines.lines->len; i++)
    {
      PlumbIsoline line = line_at (&lines, i);
      closed |= line.closed;
      /* Radii under 1.4 do not reach the edges. */
      g_assert_cmpint (line.closed, ==, 10.0 - line.value < 1.39);
      for (guint k = 0; k < line.n; k++)
        g_assert_cmpfloat_with_epsilon (plumb_vec2_length (point_at (&lines, line.first + k)), 10.0 - line.value,
                                        1e-9);
    }
  g_assert_true (closed);
  plumb_isolines_clear (&lines);
}

/* x y = c: two branches for every value but 0, none of which crosses an axis. */
static void
test_saddle (void)
{
  PlumbRect area = { { 0.0, 0.0 }, 2.0, 2.0 };
  PlumbIsolines lines = plumb_isolines_make (saddle_cb, NULL, &area, 9, 0.01);
  guint branches = 0;
  for (guint i = 0; i < lines.lines->len; i++)
    {
      PlumbIsoline line = line_at (&lines, i);
      if (fabs (line.value) < 1e-9)
        continue;
      branches++;
      g_assert_false (line.closed);
      PlumbVec2 first = point_at (&lines, line.first);
      for (guint k = 0; k < line.n; k++)
        {
          PlumbVec2 p = point_at (&lines, line.first + k);
          g_assert_cmpfloat_with_epsilon (100.0 * p.x * p.y, line.value, 1e-7);
          g_assert_cmpfloat (p.x * first.x, >, 0.0);
        }
    }
  /* -100 … 100 by 50: -50 and 50 (100 is a corner alone). */
  g_assert_cmpfloat (lines.step, ==, 50.0);
  g_assert_cmpuint (branches, ==, 4);
  plumb_isolines_clear (&lines);
}

static void
test_nothing_there (void)
{
  PlumbRect area = { { 0.0, 0.0 }, 2.0, 2.0 }, none = { { 0.0, 0.0 }, 0.0, 2.0 };
  PlumbIsolines lines = plumb_isolines_make (hole_cb, NULL, &area, 7, 0.01);
  g_assert_false (lines.known);
  g_assert_cmpuint (lines.lines->len, ==, 0);
  plumb_isolines_clear (&lines);
  lines = plumb_isolines_make (cone_cb, NULL, &none, 7, 0.01);
  g_assert_false (lines.known);
  plumb_isolines_clear (&lines);
}

/* ---- light ---------------------------------------------------------------------------- */

/* Where a panel point's ray meets the target's plane, by the map of the
 * design, in plain vectors. */
static PlumbVec2
cast (const PlumbEvaluation *e, double a, double b)
{
  const PlumbBeam *beam = &e->beam;
  const PlumbPlaneFrame *frame = &e->target.frame;
  PlumbVec3 ray = beam->axes.f;
  ray = plumb_vec3_along (ray, beam->axes.r, (a + beam->shift_h_share) / beam->throw_ratio);
  ray = plumb_vec3_along (ray, beam->axes.w, (b + beam->shift_v_share) / (beam->panel_aspect * beam->throw_ratio));
  PlumbVec3 to = plumb_vec3_sub (frame->origin_m, beam->lens_m);
  double far = plumb_vec3_dot (frame->n, to) / plumb_vec3_dot (frame->n, ray);
  PlumbVec3 p = plumb_vec3_sub (plumb_vec3_along (beam->lens_m, ray, far), frame->origin_m);
  return plumb_vec2 (plumb_vec3_dot (frame->u, p), plumb_vec3_dot (frame->v, p));
}

/* Lux at a point of the picture frame: the flux of a square 1/10 000 of the
 * panel wide over the area that its four corner rays enclose. */
static double
lux_by_hand (const PlumbEvaluation *e, double flux_lm, PlumbVec2 point)
{
  const double h = 5e-5;
  const PlumbBeam *beam = &e->beam;
  const PlumbPlaneFrame *frame = &e->target.frame;
  PlumbVec3 at = plumb_vec3_along (plumb_vec3_along (frame->origin_m, frame->u, point.x), frame->v, point.y);
  PlumbVec3 way = plumb_vec3_sub (at, beam->lens_m);
  double ahead = plumb_vec3_dot (way, beam->axes.f);
  double a = plumb_vec3_dot (way, beam->axes.r) / ahead * beam->throw_ratio - beam->shift_h_share;
  double b
      = plumb_vec3_dot (way, beam->axes.w) / ahead * beam->throw_ratio * beam->panel_aspect - beam->shift_v_share;
  const PlumbVec2 q[4]
      = { cast (e, a - h, b - h), cast (e, a + h, b - h), cast (e, a + h, b + h), cast (e, a - h, b + h) };
  double area = 0.0;
  for (int i = 0; i < 4; i++)
    area += plumb_vec2_cross (plumb_vec2_sub (q[i], q[0]), plumb_vec2_sub (q[(i + 1) % 4], q[0])) / 2.0;
  return flux_lm * 4.0 * h * h / fabs (area);
}

/* The loft's hall machine, 6200 lm printed: what its record leaves of them,
 * multiplied here anew. */
static double
flux_by_hand (const Demo *demo)
{
  const PlumbMachine *m = plumb_scene_machine (demo->scene, demo->evaluation->machine);
  const PlumbLens *lens = plumb_scene_lens (demo->scene, demo->evaluation->lens);
  /* No zoom loss and no glass in its way. */
  g_assert_cmpfloat (lens->light_tele_share, ==, 1.0);
  return m->flux_lm * m->rated_share * m->mode_share * m->age_share * m->dirt_share;
}

static bool
lux_cb (const void *data, PlumbVec2 point, double *value)
{
  return plumb_picture_illuminance_lx (data, point, value);
}

static void
test_lux_lines (void)
{
  static const char *const tilted[]
      = { "arrangements.a-b.pitch_deg=8", "arrangements.a-b.yaw_deg=5", "lenses.b.light_tele_pct=100", NULL };
  Demo demo;
  demo_open (&demo, "net-loft");
  demo_set (&demo, tilted);
  const PlumbEvaluation *e = demo.evaluation;
  g_assert_true (e->has_picture);
  PlumbIsolines lines = plumb_isolines_make (lux_cb, e, &e->picture, 7, 0.01);
  g_assert_cmpuint (lines.lines->len, >=, 3);
  double flux = flux_by_hand (&demo), worst = 0.0;
  for (guint i = 0; i < lines.lines->len; i++)
    {
      PlumbIsoline line = line_at (&lines, i);
      for (guint k = 0; k < line.n; k++)
        worst = fmax (worst, fabs (lux_by_hand (e, flux, point_at (&lines, line.first + k)) / line.value - 1.0));
    }
  g_test_message ("%u lines, worst relative difference %.2e", lines.lines->len, worst);
  g_assert_cmpfloat (worst, <, 1e-6);
  /* Brightest where the beam is shortest: the corner that is left of a beam
   * turned right, and below one that is tilted up. */
  g_assert_cmpfloat_with_epsilon (lines.greatest_at.x, e->picture.centre_m.x - e->picture.width_m / 2.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (lines.greatest_at.y, e->picture.centre_m.y - e->picture.height_m / 2.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (lines.greatest, lux_by_hand (e, flux, lines.greatest_at), 1e-4);
  plumb_isolines_clear (&lines);
  demo_close (&demo);
}

/* Square-on the light is even whatever the shift: no lines, and the flux over
 * the raw picture's area everywhere. */
static void
test_square_on_is_even (void)
{
  static const char *const plain[] = { "lenses.b.light_tele_pct=100", NULL };
  Demo demo;
  demo_open (&demo, "net-loft");
  demo_set (&demo, plain);
  const PlumbEvaluation *e = demo.evaluation;
  PlumbIsolines lines = plumb_isolines_make (lux_cb, e, &e->picture, 7, 0.01);
  double raw_m2 = fabs (plumb_polygon_area (e->raw.corner, 4));
  g_assert_true (lines.known);
  g_assert_cmpfloat (lines.step, ==, 0.0);
  g_assert_cmpuint (lines.lines->len, ==, 0);
  g_assert_cmpfloat_with_epsilon (lines.greatest, flux_by_hand (&demo) / raw_m2, 1e-6);
  plumb_isolines_clear (&lines);
  demo_close (&demo);
}

typedef struct {
  const Demo *demo;
  PlumbVec3 eye;
} Towards;

static bool
luminance_cb (const void *data, PlumbVec2 point, double *value)
{
  const Towards *towards = data;
  return plumb_picture_luminance_cd_m2 (towards->demo->scene, towards->demo->evaluation, point, towards->eye, value);
}

/* Gain 2.2 with half of it 30° from the mirror direction: E g 2^(-(angle/30°)²) / π,
 * the Gaussian that falls to half there. */
static void
test_luminance_lines (void)
{
  static const char *const shiny[] = { "screens.board.surface=angular", "screens.board.gain=2.2",
                                       "screens.board.half_gain_deg=30", "lenses.b.light_tele_pct=100", NULL };
  Demo demo;
  demo_open (&demo, "net-loft");
  demo_set (&demo, shiny);
  const PlumbEvaluation *e = demo.evaluation;
  const PlumbPlaneFrame *frame = &e->target.frame;
  double flux = flux_by_hand (&demo), worst = 0.0;
  for (uint32_t seat = 0; seat < 3; seat++)
    {
      Towards towards = { &demo, plumb_scene_resolved (demo.scene)->seats[seat].eye_m };
      PlumbIsolines lines = plumb_isolines_make (luminance_cb, &towards, &e->picture, 7, 0.01);
      g_assert_cmpuint (lines.lines->len, >=, 3);
      for (guint i = 0; i < lines.points->len; i++)
        {
          PlumbVec2 p = point_at (&lines, i);
          PlumbVec3 at = plumb_vec3_along (plumb_vec3_along (frame->origin_m, frame->u, p.x), frame->v, p.y);
          PlumbVec3 in = plumb_vec3_unit (plumb_vec3_sub (at, e->beam.lens_m));
          PlumbVec3 mirror = plumb_vec3_along (in, frame->n, -2.0 * plumb_vec3_dot (in, frame->n));
          PlumbVec3 out = plumb_vec3_unit (plumb_vec3_sub (towards.eye, at));
          double angle = acos (plumb_clamp (plumb_vec3_dot (mirror, out), -1.0, 1.0)), value, by_hand;
          by_hand = lux_by_hand (e, flux, p) * 2.2 * pow (2.0, -angle * angle / (30.0 * DEG * 30.0 * DEG)) / PLUMB_PI;
          g_assert_true (luminance_cb (&towards, p, &value));
          worst = fmax (worst, fabs (value / by_hand - 1.0));
          /* On a line of the step's multiples. */
          g_assert_cmpfloat_with_epsilon (by_hand / lines.step, round (by_hand / lines.step), 1e-4);
        }
      plumb_isolines_clear (&lines);
    }
  g_test_message ("worst relative difference %.2e", worst);
  g_assert_cmpfloat (worst, <, 1e-6);
  demo_close (&demo);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/isolines/cone", test_cone);
  g_test_add_func ("/isolines/saddle", test_saddle);
  g_test_add_func ("/isolines/nothing-there", test_nothing_there);
  g_test_add_func ("/isolines/lux-lines", test_lux_lines);
  g_test_add_func ("/isolines/square-on-is-even", test_square_on_is_even);
  g_test_add_func ("/isolines/luminance-lines", test_luminance_lines);
  return g_test_run ();
}
