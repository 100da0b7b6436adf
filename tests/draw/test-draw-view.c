/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Planes, mapping, scales: which way everything lies. */
#include "draw-testing.h"

#include <math.h>
#include <string.h>

#include "../engine/sample-job.h"

static Sample sample;

/* ---- mapping ------------------------------------------------------------------- */

static void
test_there_and_back (void)
{
  /* A mapping and its inverse: equal up to rounding of some hundred metres. */
  g_autoptr (GRand) random = g_rand_new_with_seed (7);
  for (int i = 0; i < 1000; i++)
    {
      PlumbDrawView view = plumb_draw_view_default ((PlumbDrawKind) (i % PLUMB_N_DRAW_KINDS));
      view.scale_per_m = g_rand_double_range (random, 1.0, 3000.0);
      view.centre_m = plumb_vec2 (g_rand_double_range (random, -500, 500), g_rand_double_range (random, -500, 500));
      PlumbVec2 p = { g_rand_double_range (random, -500, 500), g_rand_double_range (random, -500, 500) };
      PlumbVec2 q = plumb_draw_view_from_device (&view, plumb_draw_view_to_device (&view, p));
      g_assert_cmpfloat (plumb_vec2_length (plumb_vec2_sub (p, q)), <, 1e-9);
    }
}

static void
test_device_directions (void)
{
  PlumbDrawView view = plumb_draw_view_default (PLUMB_DRAW_PLAN);
  PlumbVec2 middle = plumb_draw_view_to_device (&view, view.centre_m);
  /* By hand: the centre lies in the middle; a metre is 50 px; up is less y. */
  g_assert_cmpfloat (middle.x, ==, 320.0);
  g_assert_cmpfloat (middle.y, ==, 240.0);
  PlumbVec2 p = plumb_draw_view_to_device (&view, plumb_vec2 (1.0, 2.0));
  g_assert_cmpfloat_with_epsilon (p.x, 370.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (p.y, 140.0, 1e-9);
}

static void
test_zoom_holds_point (void)
{
  PlumbDrawView view = plumb_draw_view_default (PLUMB_DRAW_SIDE);
  PlumbVec2 device = { 100.0, 400.0 };
  PlumbVec2 before = plumb_draw_view_from_device (&view, device);
  plumb_draw_view_zoom (&view, device, 1.7);
  g_assert_cmpfloat_with_epsilon (view.scale_per_m, 85.0, 1e-9);
  PlumbVec2 after = plumb_draw_view_from_device (&view, device);
  g_assert_cmpfloat (plumb_vec2_length (plumb_vec2_sub (before, after)), <, 1e-12);
  plumb_draw_view_zoom (&view, device, 1e12);
  g_assert_cmpfloat_with_epsilon (plumb_draw_view_ratio (&view), 1.0, 1e-9);
  plumb_draw_view_zoom (&view, device, 1e-12);
  g_assert_cmpfloat_with_epsilon (plumb_draw_view_ratio (&view), 20000.0, 1e-6);
}

/* ---- which way the viewer looks --------------------------------------------------- */

/* Level directions of a viewer who looks along `ahead`: from first principles,
 * a quarter turn clockwise seen from above is to the right. */
static void
check_planes (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbVec2 ahead)
{
  PlumbVec3 right = { ahead.y, -ahead.x, 0.0 }, forward = { ahead.x, ahead.y, 0.0 }, up = { 0.0, 0.0, 1.0 };
  for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
    {
      PlumbDrawPlane plane = plumb_draw_plane (scene, evaluation, (PlumbDrawKind) kind);
      PlumbVec2 r = plumb_draw_plane_from_room (&plane, right);
      PlumbVec2 f = plumb_draw_plane_from_room (&plane, forward);
      PlumbVec2 z = plumb_draw_plane_from_room (&plane, up);
      const double tolerance = 1e-9; /* unit vectors, rounding only */
      /* Expected page directions of (viewer's right, ahead, up). */
      static const PlumbVec2 expected[PLUMB_N_DRAW_KINDS][3] = {
        [PLUMB_DRAW_PLAN] = { { 1, 0 }, { 0, 1 }, { 0, 0 } },     /* picture at the top, right is right */
        [PLUMB_DRAW_CEILING] = { { -1, 0 }, { 0, 1 }, { 0, 0 } }, /* mirrored */
        [PLUMB_DRAW_SIDE] = { { 0, 0 }, { -1, 0 }, { 0, 1 } },    /* picture wall at the left */
        [PLUMB_DRAW_PICTURE] = { { 1, 0 }, { 0, 0 }, { 0, 1 } },  /* as the viewer sees it */
      };
      const PlumbVec2 got[3] = { r, f, z };
      for (int i = 0; i < 3; i++)
        g_assert_cmpfloat (plumb_vec2_length (plumb_vec2_sub (got[i], expected[kind][i])), <, tolerance);
      PlumbVec3 p = { 1.25, -3.5, 2.75 };
      PlumbVec3 back = plumb_draw_plane_to_room (&plane, plumb_draw_plane_from_room (&plane, p),
                                                 plumb_draw_plane_depth_m (&plane, p));
      g_assert_cmpfloat (plumb_vec3_length (plumb_vec3_sub (back, p)), <, 1e-12);
    }
}

static void
test_every_wall (void)
{
  /* The sample's walls run counter-clockwise from y = 0: a viewer who faces
   * `back` looks along −y, `right` +x, `front` +y, `left` −x. */
  static const struct {
    const char *wall;
    PlumbVec2 ahead;
  } walls[] = { { "back", { 0, -1 } }, { "right", { 1, 0 } }, { "front", { 0, 1 } }, { "left", { -1, 0 } } };
  for (size_t i = 0; i < G_N_ELEMENTS (walls); i++)
    {
      sample_init (&sample);
      SET_ID (sample.screen[0].wall, walls[i].wall);
      PlumbScene *scene = sample_scene (&sample);
      PlumbEvaluation *evaluation = sample_evaluate (&sample);
      check_planes (scene, evaluation, walls[i].ahead);
      plumb_evaluation_free (evaluation);
      plumb_scene_unref (scene);
    }
}

static void
test_slanted_screen (void)
{
  /* A free screen that faces 30° from x, leaning: the viewer looks back along
   * that direction. */
  sample_init (&sample);
  sample.screen[0].support = PLUMB_SUPPORT_FREE;
  sample.screen[0].x_m = 3.0;
  sample.screen[0].y_m = 4.0;
  sample.screen[0].facing_rad = PLUMB_PI / 6.0;
  sample.screen[0].lean_rad = 0.2;
  PlumbScene *scene = sample_scene (&sample);
  PlumbEvaluation *evaluation = sample_evaluate (&sample);
  g_assert_true (evaluation->target.valid);
  check_planes (scene, evaluation, plumb_vec2 (-cos (PLUMB_PI / 6.0), -0.5));
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
}

/* ---- the same in ink ------------------------------------------------------------------ */

/* Mean place of the lit bar's colour on the page, in shares of the page. */
static PlumbVec2
lamp_place (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind)
{
  PlumbDrawView view = plumb_draw_view_default (kind);
  view.theme = plumb_draw_theme (PLUMB_THEME_PRINT);
  view.text = false;
  view.width = view.height = 500.0;
  plumb_draw_view_fit (&view, scene, evaluation);
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 500, 500);
  cairo_t *cr = cairo_create (image);
  plumb_draw_view (cr, scene, evaluation, &view);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  const unsigned char *data = cairo_image_surface_get_data (image);
  int stride = cairo_image_surface_get_stride (image);
  PlumbVec2 sum = { 0 };
  double n = 0.0;
  for (int y = 0; y < 500; y++)
    for (int x = 0; x < 500; x++)
      {
        uint32_t pixel;
        memcpy (&pixel, data + (ptrdiff_t) y * stride + 4 * x, 4);
        if ((pixel & 0xffffff) != 0xE3A93A)
          continue;
        sum = plumb_vec2_add (sum, plumb_vec2 (x, y));
        n++;
      }
  cairo_surface_destroy (image);
  g_assert_cmpfloat (n, >, 10.0); /* blended edge pixels do not count */
  return plumb_vec2_scale (sum, 1.0 / (500.0 * n));
}

static void
test_screen_off_centre (void)
{
  /* A screen one metre from the wall's end, which is the viewer's left. */
  sample_init (&sample);
  sample.screen[0].width_m = 1.6;
  sample.screen[0].height_m = 0.9;
  sample.screen[0].across_end = PLUMB_END_END;
  sample.screen[0].across_m = 1.0;
  sample.place[0].along_m = 1.0;
  sample.place[0].off_m = 3.0;
  PlumbScene *scene = sample_scene (&sample);
  PlumbEvaluation *evaluation = sample_evaluate (&sample);
  g_assert_true (evaluation->has_picture);
  PlumbVec2 plan = lamp_place (scene, evaluation, PLUMB_DRAW_PLAN);
  PlumbVec2 ceiling = lamp_place (scene, evaluation, PLUMB_DRAW_CEILING);
  PlumbVec2 side = lamp_place (scene, evaluation, PLUMB_DRAW_SIDE);
  g_assert_cmpfloat (plan.x, <, 0.45);
  g_assert_cmpfloat (plan.y, <, 0.35);
  g_assert_cmpfloat (ceiling.x, >, 0.55);
  g_assert_cmpfloat (ceiling.y, <, 0.35);
  g_assert_cmpfloat (side.x, <, 0.35);
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
}

static void
test_fit_holds_bounds (void)
{
  for (int d = 0; d < N_DEMOS; d++)
    for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
      {
        Demo demo;
        demo_open (&demo, demo_names[d]);
        PlumbDrawView view = plumb_draw_view_default ((PlumbDrawKind) kind);
        plumb_draw_view_fit (&view, demo.scene, demo.evaluation);
        PlumbDrawBounds bounds = plumb_draw_bounds (demo.scene, demo.evaluation, view.kind);
        PlumbDrawMargins margins = plumb_draw_margins (demo.scene, &view);
        PlumbVec2 low = plumb_draw_view_to_device (&view, bounds.least_m);
        PlumbVec2 high = plumb_draw_view_to_device (&view, bounds.greatest_m);
        g_assert_cmpfloat (low.x, >=, margins.left - 1e-6);
        g_assert_cmpfloat (low.y, <=, view.height - margins.bottom + 1e-6);
        g_assert_cmpfloat (high.x, <=, view.width - margins.right + 1e-6);
        g_assert_cmpfloat (high.y, >=, margins.top - 1e-6);
        demo_close (&demo);
      }
}

/* ---- scales and theme ------------------------------------------------------------------- */

static void
check_scale (double ratio, int units, double expected, const char *words)
{
  double found = plumb_draw_scale_at_least (ratio, units);
  g_autofree char *text = plumb_draw_scale_words (found, units);
  g_assert_cmpfloat (found, ==, expected);
  g_assert_cmpstr (text, ==, words);
}

static void
test_scales (void)
{
  /* Metric steps of common practice, no source; the imperial ones by sum:
   * 1/4 in to the foot is 12 × 4 = 48. */
  check_scale (43.0, PLUMB_UNITS_METRIC, 50.0, "1 : 50");
  check_scale (50.0, PLUMB_UNITS_METRIC, 50.0, "1 : 50");
  check_scale (50.1, PLUMB_UNITS_METRIC, 75.0, "1 : 75");
  check_scale (130.0, PLUMB_UNITS_METRIC, 150.0, "1 : 150");
  check_scale (1500.0, PLUMB_UNITS_METRIC, 2000.0, "1 : 2000");
  check_scale (33.0, PLUMB_UNITS_IMPERIAL, 48.0, "1/4″ = 1′");
  check_scale (12.0, PLUMB_UNITS_IMPERIAL, 12.0, "1″ = 1′");
  check_scale (90.0, PLUMB_UNITS_IMPERIAL, 96.0, "1/8″ = 1′");
  check_scale (200.0, PLUMB_UNITS_IMPERIAL, 240.0, "1″ = 20′");
  check_scale (1300.0, PLUMB_UNITS_IMPERIAL, 2400.0, "1″ = 200′");
  g_assert_true (isfinite (plumb_draw_scale_at_least (INFINITY, PLUMB_UNITS_METRIC)));
  g_assert_true (isfinite (plumb_draw_scale_at_least (NAN, PLUMB_UNITS_IMPERIAL)));
}

static double
luminance (PlumbRgb c)
{
  const double v[3] = { c.r, c.g, c.b }, weight[3] = { 0.2126, 0.7152, 0.0722 };
  double sum = 0.0;
  for (int i = 0; i < 3; i++)
    sum += weight[i] * (v[i] <= 0.04045 ? v[i] / 12.92 : pow ((v[i] + 0.055) / 1.055, 2.4));
  return sum;
}

static void
test_theme_contrast (void)
{
  /* WCAG 2.1, 1.4.3: text needs 4.5 against its ground. */
  static const PlumbDrawColour words[]
      = { PLUMB_COLOUR_INK,   PLUMB_COLOUR_INK2,  PLUMB_COLOUR_INK3,  PLUMB_COLOUR_ACCENT,
          PLUMB_COLOUR_HOLDS, PLUMB_COLOUR_TIGHT, PLUMB_COLOUR_FAILS, PLUMB_COLOUR_UNKNOWN };
  for (int id = 0; id < PLUMB_N_THEMES; id++)
    for (size_t i = 0; i < G_N_ELEMENTS (words); i++)
      {
        const PlumbDrawTheme *theme = plumb_draw_theme ((PlumbDrawThemeId) id);
        double a = luminance (plumb_draw_theme_colour (theme, words[i]));
        double b = luminance (plumb_draw_theme_colour (theme, PLUMB_COLOUR_PAPER));
        g_assert_cmpfloat ((fmax (a, b) + 0.05) / (fmin (a, b) + 0.05), >=, 4.5);
      }
}

static void
test_words (void)
{
  PlumbDrawKind kind;
  for (int i = 0; i < PLUMB_N_DRAW_KINDS; i++)
    {
      g_assert_true (plumb_draw_kind_from_word (plumb_draw_kind_word ((PlumbDrawKind) i), &kind));
      g_assert_cmpint (kind, ==, i);
    }
  g_assert_false (plumb_draw_kind_from_word ("elevation", &kind));
  PlumbPaper paper;
  g_assert_true (plumb_paper_from_word ("letter", &paper));
  g_assert_cmpint (paper, ==, PLUMB_PAPER_LETTER);
  g_assert_false (plumb_paper_from_word ("a5", &paper));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/view/there-and-back", test_there_and_back);
  g_test_add_func ("/view/device-directions", test_device_directions);
  g_test_add_func ("/view/zoom", test_zoom_holds_point);
  g_test_add_func ("/view/every-wall", test_every_wall);
  g_test_add_func ("/view/slanted-screen", test_slanted_screen);
  g_test_add_func ("/view/screen-off-centre", test_screen_off_centre);
  g_test_add_func ("/view/fit", test_fit_holds_bounds);
  g_test_add_func ("/view/scales", test_scales);
  g_test_add_func ("/view/theme-contrast", test_theme_contrast);
  g_test_add_func ("/view/words", test_words);
  return g_test_run ();
}
