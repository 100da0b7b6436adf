/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the drawings show of people: the shadow of a box against its projection
 * from the lens; answers of seats against the findings that they shall agree
 * with; words kept off each other.
 */
#include <math.h>
#include <string.h>

#include "../engine/sample-job.h"
#include "draw-testing.h"
#include "plumbeam/shades.h"
#include "plumbeam/variants.h"
#include "text/questions.h"

/* ---- shadows ------------------------------------------------------------------------------ */

static Sample sample;

static int
compare_points (const void *a, const void *b)
{
  const PlumbVec2 *p = a, *q = b;
  return p->x < q->x ? -1 : p->x > q->x ? 1 : (p->y > q->y) - (p->y < q->y);
}

/* Corners of the convex hull: those points with all others on one side of some
 * line through them to another point. Slow and plain. */
static guint
hull_by_hand (const PlumbVec2 *points, guint n, PlumbVec2 *hull)
{
  guint found = 0;
  for (guint i = 0; i < n; i++)
    {
      bool corner = false;
      for (guint k = 0; k < n && !corner; k++)
        {
          bool all = k != i;
          for (guint m = 0; m < n && all; m++)
            all = m == i || m == k
                  || plumb_vec2_cross (plumb_vec2_sub (points[k], points[i]), plumb_vec2_sub (points[m], points[i]))
                         > 1e-12;
          corner = all;
        }
      if (corner)
        hull[found++] = points[i];
    }
  qsort (hull, found, sizeof *hull, compare_points);
  return found;
}

static const PlumbShade *
shade_of (const PlumbShades *shades, PlumbWhoKind kind, uint32_t index)
{
  for (uint32_t i = 0; i < shades->n_shades; i++)
    if (shades->shades[i].who.kind == kind && shades->shades[i].who.index == index)
      return &shades->shades[i];
  return NULL;
}

/* Room point on the picture's plane y = 9.4 as seen from the lens; there the
 * viewer's right is +x. */
static PlumbVec2
project (const PlumbEvaluation *e, PlumbVec3 p)
{
  PlumbVec3 lens = e->beam.lens_m;
  double t = (9.4 - lens.y) / (p.y - lens.y);
  PlumbVec3 middle = e->target.frame.origin_m;
  return plumb_vec2 (lens.x + t * (p.x - lens.x) - middle.x, lens.z + t * (p.z - lens.z) - middle.z);
}

static void
test_box_shadow (void)
{
  sample_init (&sample);
  PlumbScene *scene = sample_scene (&sample);
  PlumbEvaluation *e = sample_evaluate (&sample);
  PlumbVec3 half_way = plumb_vec3_scale (plumb_vec3_add (e->beam.lens_m, e->target.frame.origin_m), 0.5);
  plumb_evaluation_free (e);
  plumb_scene_unref (scene);
  sample_add_box (&sample, "box", half_way.x + 0.2, half_way.y, half_way.z - 0.1, 0.3, 0.4, 0.15);
  scene = sample_scene (&sample);
  e = sample_evaluate (&sample);

  PlumbVec2 corners[8], hull[8], outline[8];
  for (int i = 0; i < 8; i++)
    corners[i] = project (e, plumb_vec3 (half_way.x + 0.2 + (i & 1 ? 0.15 : -0.15), half_way.y + (i & 2 ? 0.2 : -0.2),
                                         half_way.z - 0.1 + (i & 4 ? 0.15 : 0.0)));
  guint n = hull_by_hand (corners, 8, hull);
  PlumbShades shades;
  g_assert_true (plumb_shades_of_lens (scene, e, &shades));
  const PlumbShade *shade = shade_of (&shades, PLUMB_WHO_BLOCKER, 0);
  g_assert_nonnull (shade);
  g_assert_false (shade->dims);
  g_assert_cmpuint (shade->n, ==, 1);
  const PlumbSilhouette *s = &shades.silhouettes[shade->first];
  g_assert_cmpuint (n, ==, 6);
  g_assert_cmpuint (s->n_pieces, ==, n);
  for (guint i = 0; i < n; i++)
    {
      g_assert_false (s->piece[i].arc);
      outline[i] = s->piece[i].p;
    }
  qsort (outline, n, sizeof *outline, compare_points);
  double worst = 0.0;
  for (guint i = 0; i < n; i++)
    worst = fmax (worst, plumb_vec2_length (plumb_vec2_sub (outline[i], hull[i])));
  g_test_message ("%u corners, worst %.2e m", n, worst);
  g_assert_cmpfloat (worst, <, 1e-12);
  plumb_shades_clear (&shades);
  plumb_evaluation_free (e);
  plumb_scene_unref (scene);
}

/* A rod 4 mm thick near a lens 100 mm wide only dims: the half-shadow is the
 * lens seen through a point of the rod, as far behind it as before. */
static void
test_rod_dims (void)
{
  for (int wide = 0; wide < 2; wide++)
    {
      sample_init (&sample);
      PlumbScene *scene = sample_scene (&sample);
      PlumbEvaluation *e = sample_evaluate (&sample);
      PlumbVec3 half_way = plumb_vec3_scale (plumb_vec3_add (e->beam.lens_m, e->target.frame.origin_m), 0.5);
      plumb_evaluation_free (e);
      plumb_scene_unref (scene);
      sample.machine[0].lens_diameter_m = wide ? 0.1 : 0.001;
      sample_add_box (&sample, "rod", half_way.x, half_way.y, half_way.z - 0.1, 0.004, 0.004, 0.2);
      scene = sample_scene (&sample);
      e = sample_evaluate (&sample);
      PlumbShades shades;
      g_assert_true (plumb_shades_of_lens (scene, e, &shades));
      const PlumbShade *shade = shade_of (&shades, PLUMB_WHO_BLOCKER, 0);
      g_assert_nonnull (shade);
      g_assert_cmpint (shade->dims, ==, wide);
      plumb_shades_clear (&shades);
      plumb_evaluation_free (e);
      plumb_scene_unref (scene);
    }
}

static double
union_share (const PlumbShades *shades)
{
  return plumb_silhouettes_area_m2 (shades->silhouettes, shades->n_silhouettes)
         / (shades->picture.width_m * shades->picture.height_m);
}

/* The outlines are those of the checks: together they hide from every seat
 * what its figure says, with movers in their states too. */
static void
test_outlines_are_the_checks (void)
{
  for (int d = 0; d < N_DEMOS; d++)
    {
      Demo demo;
      uint32_t in_state = 0;
      demo_open (&demo, demo_names[d]);
      for (uint32_t i = 0; i < demo.evaluation->n_seats; i++)
        {
          PlumbShades shades;
          g_assert_true (plumb_shades_of_seat (demo.scene, demo.evaluation, i, &shades));
          g_assert_cmpfloat_with_epsilon (union_share (&shades), demo.evaluation->seats[i].hidden_share, 1e-9);
          in_state += demo.evaluation->seats[i].hidden_state != PLUMB_NO_INDEX;
          const PlumbShade *most = NULL;
          for (uint32_t k = 0; k < shades.n_shades; k++)
            if (most == NULL || shades.shades[k].share > most->share)
              most = &shades.shades[k];
          if (most != NULL)
            g_assert_cmpfloat_with_epsilon (most->share, demo.evaluation->seats[i].hidden_by_share, 1e-9);
          plumb_shades_clear (&shades);
        }
      if (d == 1)
        g_assert_cmpuint (in_state, >, 0);
      demo_close (&demo);
    }
}

/* Findings name shares of the picture's shadows: the outlines' are the same. */
static void
test_shadows_are_the_findings (void)
{
  guint told = 0;
  for (int d = 0; d < N_DEMOS; d++)
    {
      Demo demo;
      demo_open (&demo, demo_names[d]);
      PlumbShades shades;
      g_assert_true (plumb_shades_of_lens (demo.scene, demo.evaluation, &shades));
      for (uint32_t i = 0; i < demo.evaluation->n_findings; i++)
        {
          const PlumbFinding *f = &demo.evaluation->findings[i];
          if (f->check != PLUMB_CHECK_PEOPLE_SHADOW || !f->has_figure || f->figure <= 1e-9
              || f->variant == PLUMB_V_SHADOW_SEATS)
            continue;
          PlumbWhoKind kind = f->subject.kind == PLUMB_RECORD_PERSON ? PLUMB_WHO_PERSON : PLUMB_WHO_BLOCKER;
          const PlumbShade *shade = shade_of (&shades, kind, f->subject.index);
          g_assert_nonnull (shade);
          g_assert_cmpfloat_with_epsilon (shade->share, f->figure, 1e-9);
          g_assert_cmpint (shade->walking, ==, f->variant == PLUMB_V_SHADOW_WALKING);
          told++;
        }
      plumb_shades_clear (&shades);
      demo_close (&demo);
    }
  g_assert_cmpuint (told, >=, 2);
}

/* ---- answers --------------------------------------------------------------------------------- */

static PlumbQuestion
question_of (PlumbCheck check)
{
  for (int q = 1; q < PLUMB_N_QUESTIONS; q++)
    {
      static const PlumbCheck checks[PLUMB_N_QUESTIONS] = {
        [PLUMB_QUESTION_HIDDEN] = PLUMB_CHECK_PEOPLE_HIDDEN,
        [PLUMB_QUESTION_ANGLE] = PLUMB_CHECK_PEOPLE_ANGLE_MOST,
        [PLUMB_QUESTION_HEIGHTS] = PLUMB_CHECK_PEOPLE_HEIGHTS,
        [PLUMB_QUESTION_LOOK_UP] = PLUMB_CHECK_PEOPLE_LOOK_UP,
        [PLUMB_QUESTION_OFF_AXIS] = PLUMB_CHECK_PEOPLE_OFF_AXIS,
        [PLUMB_QUESTION_C_VALUE] = PLUMB_CHECK_PEOPLE_C_VALUE,
        [PLUMB_QUESTION_TEXT] = PLUMB_CHECK_PEOPLE_TEXT,
        [PLUMB_QUESTION_PIXELS] = PLUMB_CHECK_PEOPLE_PIXELS,
        [PLUMB_QUESTION_LUMINANCE] = PLUMB_CHECK_LIGHT_LUMINANCE,
        [PLUMB_QUESTION_CONTRAST] = PLUMB_CHECK_LIGHT_CONTRAST,
        [PLUMB_QUESTION_NOISE] = PLUMB_CHECK_LIGHT_NOISE,
      };
      if (checks[q] == check)
        return (PlumbQuestion) q;
    }
  return PLUMB_QUESTION_ALL;
}

/* The seat that a finding names answers with the finding's own figure and
 * verdict, and as many seats fail as the finding counts. */
static void
check_answers (const Demo *demo, const PlumbFinding *f)
{
  PlumbQuestion question = question_of (f->check);
  PlumbAsked asked = plumb_asked (demo->scene, demo->evaluation, question);
  bool first = asked.n_findings > 0 && &demo->evaluation->findings[asked.finding[0]] == f;
  bool contrast = question == PLUMB_QUESTION_CONTRAST;
  uint32_t seat = contrast && first ? demo->evaluation->states[asked.state].seat : f->subject.sub;
  if (question == PLUMB_QUESTION_ALL || !first)
    return;
  PlumbAnswer answer = plumb_answer (demo->scene, demo->evaluation, &asked, seat);
  double height = demo->evaluation->has_picture ? demo->evaluation->picture.height_m : 1.0;
  g_assert_true (answer.has_figure);
  g_assert_cmpfloat_with_epsilon (question == PLUMB_QUESTION_TEXT ? answer.figure / height : answer.figure, f->figure,
                                  1e-9);
  if (asked.n_findings > 1)
    return;
  g_assert_cmpint (answer.verdict, ==, f->verdict);
  g_assert_cmpuint (plumb_asked_worst_seat (demo->scene, demo->evaluation, &asked), <, demo->evaluation->n_seats);
  if (f->check < PLUMB_CHECK_PEOPLE_ANGLE_LEAST || f->check > PLUMB_CHECK_PEOPLE_C_VALUE)
    return;
  uint32_t fails = 0;
  for (uint32_t i = 0; i < demo->evaluation->n_seats; i++)
    fails += plumb_answer (demo->scene, demo->evaluation, &asked, i).verdict == PLUMB_FAILS;
  g_assert_cmpuint (fails, ==, (uint32_t) f->number[4]);
}

static void
test_answers (void)
{
  static const char *const purposes[]
      = { "job.purpose=home", "job.purpose=cinema", "job.purpose=reading", "job.purpose=detail" };
  for (int d = 0; d < N_DEMOS; d++)
    for (gsize p = 0; p < G_N_ELEMENTS (purposes); p++)
      {
        const char *const set[] = { purposes[p], NULL };
        Demo demo;
        demo_open (&demo, demo_names[d]);
        demo_set (&demo, set);
        for (uint32_t i = 0; i < demo.evaluation->n_findings; i++)
          if (demo.evaluation->findings[i].has_figure)
            check_answers (&demo, &demo.evaluation->findings[i]);
        /* Nobody there: unknown, and no figure. */
        PlumbAsked asked = plumb_asked (demo.scene, demo.evaluation, PLUMB_QUESTION_HIDDEN);
        PlumbAnswer nobody = plumb_answer (demo.scene, demo.evaluation, &asked, PLUMB_NO_INDEX);
        g_assert_false (nobody.has_figure);
        g_assert_cmpint (nobody.verdict, ==, PLUMB_UNKNOWN);
        demo_close (&demo);
      }
}

/* ---- on paper ----------------------------------------------------------------------------------- */

/* For every question the plan's words keep off each other, the worst seat's
 * figure is among them, and the limits are named in the key. */
static void
test_plans (void)
{
  for (int d = 0; d < N_DEMOS; d++)
    for (int q = 0; q < PLUMB_N_QUESTIONS; q++)
      {
        Demo demo;
        demo_open (&demo, demo_names[d]);
        PlumbDrawShown shown = plumb_draw_shown_default ();
        shown.question = (PlumbQuestion) q;
        PlumbSheetLayout layout
            = plumb_draw_sheet_layout (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, PLUMB_PAPER_A3);
        g_autofree char *path = test_path ("plan.pdf");
        g_autoptr (GError) error = NULL;
        g_assert_true (plumb_draw_sheet_export (demo.scene, demo.evaluation, PLUMB_DRAW_PLAN, &shown, path,
                                                PLUMB_SHEET_PDF, PLUMB_PAPER_A3, &error));
        g_autoptr (GArray) words = test_pdf_words (path);
        test_words_apart (words, layout.frame_x_mm, layout.frame_y_mm, layout.frame_w_mm, layout.frame_h_mm);
        gchar *bytes;
        gsize size;
        g_assert_true (g_file_get_contents (path, &bytes, &size, &error));
        g_autoptr (GByteArray) pdf = g_byte_array_new_take ((guint8 *) bytes, size);
        g_autofree char *text = test_page_text (pdf);
        PlumbAsked asked = plumb_asked (demo.scene, demo.evaluation, shown.question);
        PlumbWords style = { plumb_scene_job (demo.scene, 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
        uint32_t worst = plumb_asked_worst_seat (demo.scene, demo.evaluation, &asked);
        PlumbAnswer answer = plumb_answer (demo.scene, demo.evaluation, &asked, worst);
        g_autofree char *figure = plumb_question_figure (shown.question, answer.figure, style);
        g_autofree char *limits = plumb_asked_limits (demo.scene, demo.evaluation, &asked, false, style);
        g_auto (GStrv) parts = g_strsplit_set (figure, "\u202f\u00a0 ", 2);
        if (answer.has_figure && strstr (text, parts[0]) == NULL)
          g_error ("%s, %s: “%s” is not written", demo_names[d], plumb_question_info (shown.question)->word, figure);
        g_assert_nonnull (strstr (text, "shape: "));
        g_assert_true (g_str_has_prefix (limits, "shape: "));
        demo_close (&demo);
      }
}

/* Every layer, question, theme and kind into a small pane and a wide one. */
static void
test_everything_is_drawn (void)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 900, 500);
  cairo_t *cr = cairo_create (image);
  for (int d = 0; d < N_DEMOS; d++)
    {
      Demo demo;
      demo_open (&demo, demo_names[d]);
      for (int i = 0; i < PLUMB_N_QUESTIONS * 2 * PLUMB_N_THEMES; i++)
        {
          PlumbDrawView view = plumb_draw_view_default (i % 2 == 0 ? PLUMB_DRAW_PLAN : PLUMB_DRAW_PICTURE);
          view.theme = plumb_draw_theme ((PlumbDrawThemeId) (i % PLUMB_N_THEMES));
          view.width = i % 3 == 0 ? 120.0 : 900.0;
          view.height = i % 3 == 0 ? 90.0 : 500.0;
          view.shown.question = (PlumbQuestion) (i / 2 % PLUMB_N_QUESTIONS);
          view.shown.layers = PLUMB_LAYER_SHADOWS | PLUMB_LAYER_LIGHT | PLUMB_LAYER_HIDDEN | PLUMB_LAYER_OFF_AXIS;
          view.shown.seat = i % 5 == 0 ? (uint32_t) i : PLUMB_NO_INDEX;
          plumb_draw_view_fit (&view, demo.scene, demo.evaluation);
          plumb_draw_view (cr, demo.scene, demo.evaluation, &view);
          plumb_draw_view (cr, demo.scene, NULL, &view);
          g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
        }
      demo_close (&demo);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (image);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/seen/box-shadow", test_box_shadow);
  g_test_add_func ("/seen/rod-dims", test_rod_dims);
  g_test_add_func ("/seen/outlines-are-the-checks", test_outlines_are_the_checks);
  g_test_add_func ("/seen/shadows-are-the-findings", test_shadows_are_the_findings);
  g_test_add_func ("/seen/answers", test_answers);
  g_test_add_func ("/seen/plans", test_plans);
  g_test_add_func ("/seen/everything-is-drawn", test_everything_is_drawn);
  return g_test_run ();
}
