/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every drawing of every job, however faulty: no crash, no NaN in a path. */
#include "draw-testing.h"

#include <cairo-svg.h>
#include <string.h>

#include "draw/survey.h"

#include "../engine/sample-job.h"

static Sample sample;

static void
draw_screen (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind, PlumbDrawThemeId theme)
{
  static unsigned asked = 0;
  PlumbDrawView view = plumb_draw_view_default (kind);
  view.theme = plumb_draw_theme (theme);
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 640, 480);
  cairo_t *cr = cairo_create (image);
  for (int zoom = 0; zoom < 2; zoom++)
    {
      view.text = zoom == 0;
      /* In turn over the calls: every question meets every kind of trouble. */
      view.shown.question = (PlumbQuestion) (asked++ % PLUMB_N_QUESTIONS);
      view.shown.layers |= PLUMB_LAYER_OFF_AXIS;
      plumb_draw_view_fit (&view, scene, evaluation);
      if (zoom == 1)
        plumb_draw_view_zoom (&view, plumb_vec2 (200.0, 200.0), 25.0);
      g_assert_true (isfinite (view.scale_per_m) && isfinite (view.centre_m.x) && isfinite (view.centre_m.y));
      plumb_draw_view (cr, scene, evaluation, &view);
      g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (image);
}

/* Path data of an SVG: cairo writes what is not a number as nan or inf. */
static void
check_paths (const GByteArray *svg)
{
  g_autofree char *text = g_strndup ((const char *) svg->data, svg->len);
  for (const char *at = text; (at = strstr (at, " d=\"")) != NULL;)
    {
      at += strlen (" d=\"");
      const char *end = strchr (at, '"');
      g_assert_nonnull (end);
      g_assert_null (g_strstr_len (at, end - at, "nan"));
      g_assert_null (g_strstr_len (at, end - at, "inf"));
      at = end;
    }
}

static void
draw_screens (const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
    draw_screen (scene, evaluation, (PlumbDrawKind) kind, (PlumbDrawThemeId) (kind % PLUMB_N_THEMES));
}

/* The first page, which has the drawing, as paths; the others as pixels. */
static void
draw_survey (const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  PlumbSurvey *survey = plumb_survey_new (scene, evaluation, PLUMB_PAPER_A4);
  unsigned n = plumb_survey_n_pages (survey);
  g_assert_cmpuint (n, >, 0);
  g_autofree char *path = test_path ("survey.svg");
  for (unsigned page = 0; page < n; page++)
    {
      cairo_surface_t *surface = page == 0 ? cairo_svg_surface_create (path, 595.0, 842.0)
                                           : cairo_image_surface_create (CAIRO_FORMAT_RGB24, 595, 842);
      cairo_t *cr = cairo_create (surface);
      plumb_survey_draw_page (cr, survey, page, page + 1, n);
      g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  char *text;
  gsize size;
  g_assert_true (g_file_get_contents (path, &text, &size, NULL));
  g_autoptr (GByteArray) svg = g_byte_array_new_take ((guint8 *) text, size);
  check_paths (svg);
  plumb_survey_free (survey);
}

static void
draw_all (const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  draw_screens (scene, evaluation);
  draw_survey (scene, evaluation);
  for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
    {
      g_autoptr (GByteArray) svg
          = test_sheet (scene, evaluation, (PlumbDrawKind) kind, PLUMB_SHEET_SVG, PLUMB_PAPER_A4);
      check_paths (svg);
    }
}

/* PDFs embed fonts, which is slow: for the demos only. */
static void
write_pdfs (const PlumbScene *scene, const PlumbEvaluation *evaluation)
{
  for (int kind = 0; kind < PLUMB_N_DRAW_KINDS; kind++)
    {
      g_autoptr (GByteArray) pdf
          = test_sheet (scene, evaluation, (PlumbDrawKind) kind, PLUMB_SHEET_PDF, PLUMB_PAPER_LETTER);
      g_assert_cmpuint (pdf->len, >, 1000);
      g_autofree char *operators = test_page_operators (pdf);
      g_assert_null (strstr (operators, "nan"));
    }
}

static void
draw_scene (PlumbScene *scene)
{
  uint32_t n;
  plumb_scene_arrangement_records (scene, &n);
  draw_screens (scene, NULL);
  draw_survey (scene, NULL);
  for (uint32_t i = 0; i <= n; i++)
    {
      PlumbEvaluation *evaluation;
      g_assert_true (plumb_evaluate (scene, i < n ? i : PLUMB_NO_INDEX, &evaluation));
      if (i < n)
        draw_all (scene, evaluation);
      else
        draw_screens (scene, evaluation);
      plumb_evaluation_free (evaluation);
    }
}

static void
draw_sample (void)
{
  PlumbScene *scene = sample_scene (&sample);
  draw_scene (scene);
  plumb_scene_unref (scene);
}

/* ---- jobs --------------------------------------------------------------------------- */

static void
test_demos (void)
{
  for (int d = 0; d < N_DEMOS; d++)
    {
      Demo demo;
      demo_open (&demo, demo_names[d]);
      uint32_t n;
      plumb_scene_arrangement_records (demo.scene, &n);
      g_assert_cmpuint (n, >, 0);
      for (uint32_t i = 0; i < n; i++)
        {
          PlumbEvaluation *evaluation;
          g_assert_true (plumb_evaluate (demo.scene, i, &evaluation));
          draw_all (demo.scene, evaluation);
          write_pdfs (demo.scene, evaluation);
          plumb_evaluation_free (evaluation);
        }
      demo_close (&demo);
    }
}

static void
test_empty (void)
{
  PlumbScene *scene = plumb_scene_new ();
  /* Not committed: nothing is resolved. */
  draw_all (scene, NULL);
  g_assert_true (plumb_scene_commit (scene));
  draw_scene (scene);
  plumb_scene_unref (scene);
}

static void
test_outlines (void)
{
  sample_init (&sample);
  sample.n_wall = 2;
  draw_sample ();
  sample_init (&sample);
  sample.wall[1].x_m = 0.0;
  sample.wall[1].y_m = 9.4;
  sample.wall[3].x_m = 6.2;
  sample.wall[3].y_m = 0.0;
  draw_sample (); /* clockwise or crossing */
  sample_init (&sample);
  sample.wall[2].x_m = 3.0;
  sample.wall[2].y_m = -4.0;
  draw_sample ();
  sample_init (&sample);
  for (int i = 0; i < 4; i++)
    sample.wall[i].x_m = sample.wall[i].y_m = 1.0;
  draw_sample (); /* no area at all */
  sample_init (&sample);
  sample.n_ceiling = 0;
  draw_sample ();
}

static void
test_missing_parts (void)
{
  sample_init (&sample);
  sample.n_screen = 0;
  draw_sample ();
  sample_init (&sample);
  SET_ID (sample.screen[0].wall, "nowhere");
  draw_sample ();
  sample_init (&sample);
  sample.n_machine = sample.n_lens = sample.n_mount = 0;
  draw_sample ();
  sample_init (&sample);
  SET_ID (sample.place[0].off_wall, "front");
  SET_ID (sample.place[0].along_wall, "nowhere");
  draw_sample ();
}

static void
test_beams_astray (void)
{
  /* Behind the wall, turned away, far too near, a screen lying flat. */
  sample_init (&sample);
  sample.place[0].off_m = -2.0;
  draw_sample ();
  sample_init (&sample);
  sample.arrangement[0].yaw_rad = 1.5;
  draw_sample ();
  sample_init (&sample);
  sample.place[0].off_m = 0.05;
  draw_sample ();
  sample_init (&sample);
  sample.screen[0].lean_rad = 80.0 * PLUMB_PI / 180.0;
  draw_sample ();
  sample_init (&sample);
  sample.screen[0].width_m = 200.0;
  sample.screen[0].height_m = 200.0;
  draw_sample ();
}

static void
test_extremes (void)
{
  sample_init (&sample);
  sample.place[0].off_m = 1000.0;
  sample.screen[0].across_m = 1000.0;
  draw_sample ();
  sample_init (&sample);
  for (int i = 0; i < 4; i++)
    {
      sample.wall[i].thickness_m = 5.0;
      sample.wall[i].construction = PLUMB_CONSTRUCTION_STUD + i;
      sample.wall[i].x_m *= 160.0;
      sample.wall[i].y_m *= 100.0;
    }
  draw_sample ();
  sample_init (&sample);
  PlumbRow *row = &sample.row[sample.n_row++];
  plumb_record_default (PLUMB_RECORD_ROW, row);
  row->count = 100;
  row->rows = 20;
  draw_sample ();
}

static void
test_solids (void)
{
  static const int shapes[] = { PLUMB_SHAPE_BOX, PLUMB_SHAPE_CYLINDER, PLUMB_SHAPE_ELLIPSOID, PLUMB_SHAPE_PRISM };
  for (int role = 0; role < PLUMB_N_ROLE; role++)
    {
      sample_init (&sample);
      for (size_t i = 0; i < G_N_ELEMENTS (shapes); i++)
        {
          /* In the beam, through the plan's cut, on the floor, by the ceiling. */
          PlumbBlocker *solid = sample_add_box (&sample, "solid", 3.1, 7.0, 0.7 * (double) i, 0.5, 0.5, 1.0);
          solid->shape = shapes[i];
          solid->role = role;
          solid->pitch_rad = 0.3;
        }
      PlumbScene *scene = sample_scene (&sample);
      PlumbEvaluation *evaluation = sample_evaluate (&sample);
      draw_all (scene, evaluation);
      plumb_evaluation_free (evaluation);
      plumb_scene_unref (scene);
    }
}

static void
test_not_a_number (void)
{
  /* The engine promises numbers; the page does not rely on it. */
  sample_init (&sample);
  PlumbScene *scene = sample_scene (&sample);
  for (int i = 0; i < 4; i++)
    {
      PlumbEvaluation *evaluation = sample_evaluate (&sample);
      if (i == 0)
        evaluation->body_corner_m[3].x = evaluation->plate_m.y = NAN;
      if (i == 1)
        evaluation->picture.width_m = evaluation->raw.corner[0].x = NAN;
      if (i == 2)
        evaluation->pivot_m = evaluation->plate_m = plumb_vec3 (NAN, INFINITY, -INFINITY);
      if (i == 3)
        evaluation->beam.lens_m.z = INFINITY;
      draw_all (scene, evaluation);
      plumb_evaluation_free (evaluation);
    }
  plumb_scene_unref (scene);
}

/* ---- selection ------------------------------------------------------------------------- */

static unsigned
checksum_with (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbSubject selected)
{
  PlumbDrawView view = plumb_draw_view_default (PLUMB_DRAW_PLAN);
  view.selected = selected;
  plumb_draw_view_fit (&view, scene, evaluation);
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 640, 480);
  cairo_t *cr = cairo_create (image);
  plumb_draw_view (cr, scene, evaluation, &view);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  GBytes *bytes
      = g_bytes_new (cairo_image_surface_get_data (image), (gsize) cairo_image_surface_get_stride (image) * 480);
  unsigned sum = g_bytes_hash (bytes);
  g_bytes_unref (bytes);
  cairo_surface_destroy (image);
  return sum;
}

static void
test_selection_is_seen (void)
{
  sample_init (&sample);
  sample_add_box (&sample, "box", 1.0, 2.0, 0.0, 0.5, 0.5, 1.0);
  PlumbScene *scene = sample_scene (&sample);
  PlumbEvaluation *evaluation = sample_evaluate (&sample);
  static const PlumbRecordKind kinds[] = { PLUMB_RECORD_WALL, PLUMB_RECORD_SCREEN, PLUMB_RECORD_BLOCKER };
  unsigned plain = checksum_with (scene, evaluation, (PlumbSubject){ PLUMB_RECORD_NONE, 0, PLUMB_NO_INDEX });
  for (size_t i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_assert_cmpuint (checksum_with (scene, evaluation, (PlumbSubject){ kinds[i], 0, PLUMB_NO_INDEX }), !=, plain);
  plumb_evaluation_free (evaluation);
  plumb_scene_unref (scene);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/anything/demos", test_demos);
  g_test_add_func ("/anything/empty", test_empty);
  g_test_add_func ("/anything/outlines", test_outlines);
  g_test_add_func ("/anything/missing-parts", test_missing_parts);
  g_test_add_func ("/anything/beams-astray", test_beams_astray);
  g_test_add_func ("/anything/extremes", test_extremes);
  g_test_add_func ("/anything/solids", test_solids);
  g_test_add_func ("/anything/not-a-number", test_not_a_number);
  g_test_add_func ("/anything/selection", test_selection_is_seen);
  return g_test_run ();
}
