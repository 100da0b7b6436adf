/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A cure that is pressed does what its words say, as one step. The wanted
 * values are those of the finding's own words, put to the record by hand. */
#include "app/finding-cure.h"

#include "document-testing.h"

#include "text/findings.h"

static void
show (PlumbDocument *document, guint arrangement)
{
  if (plumb_document_arrangement (document) != arrangement)
    plumb_document_show_arrangement (document, arrangement);
}

static double
off_picture_m (PlumbDocument *document)
{
  const PlumbEvaluation *e = plumb_document_evaluation (document);
  const PlumbResolved *resolved = plumb_scene_resolved (plumb_document_scene (document));
  PlumbVec3 way = plumb_vec3_sub (resolved->places[e->place].plate_m, e->target.frame.origin_m);
  return plumb_vec3_dot (way, e->target.frame.n);
}

static void
check_moved (PlumbDocument *document, const PlumbFinding *finding, double before_m)
{
  double moved_m = off_picture_m (document) - before_m;

  if (finding->cure == PLUMB_CURE_FARTHER)
    g_assert_cmpfloat_with_epsilon (moved_m, finding->cure_amount, 0.0011);
  else if (finding->cure == PLUMB_CURE_NEARER)
    g_assert_cmpfloat_with_epsilon (moved_m, -finding->cure_amount, 0.0011);
  else
    g_assert_cmpfloat_with_epsilon (moved_m, 0.0, 1e-6);
}

static guint
check_arrangement (PlumbDocument *document)
{
  const PlumbWords words = { plumb_scene_job (plumb_document_scene (document), 0)->units, PLUMB_SHOW_TYPOGRAPHIC };
  guint applied = 0;

  for (uint32_t i = 0; i < plumb_document_evaluation (document)->n_findings; i++)
    {
      const PlumbFinding finding = plumb_document_evaluation (document)->findings[i];
      g_autoptr (GError) error = NULL;
      if (!plumb_cure_applies (document, &finding))
        continue;
      g_autofree char *cure = plumb_finding_cure (&finding, words);
      g_autofree char *text = test_text (document);
      double before_m = off_picture_m (document);
      g_assert_true (plumb_cure_apply (document, &finding, &error));
      g_assert_no_error (error);
      g_assert_cmpstr (plumb_document_undo_name (document), ==, cure);
      check_moved (document, &finding, before_m);
      g_assert_true (plumb_document_undo (document));
      g_autofree char *again = test_text (document);
      g_assert_cmpstr (again, ==, text);
      applied++;
    }
  return applied;
}

static void
test_demos (void)
{
  static const char *const names[] = { "net-loft", "music-room" };
  guint applied = 0;

  for (gsize k = 0; k < G_N_ELEMENTS (names); k++)
    {
      g_autoptr (PlumbDocument) document = test_demo (names[k]);
      for (guint i = 0; i < test_count (document, PLUMB_RECORD_ARRANGEMENT); i++)
        {
          show (document, i);
          applied += check_arrangement (document);
        }
    }
  g_assert_cmpuint (applied, >, 0);
}

/* Each cure by itself, with an amount of 12.3 mm, said as 13 mm. */
static void
test_each (void)
{
  static const PlumbCure cures[]
      = { PLUMB_CURE_NEARER, PLUMB_CURE_FARTHER, PLUMB_CURE_LONGER_DROP, PLUMB_CURE_SMALLER_PICTURE };
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");
  const PlumbEvaluation *e = plumb_document_evaluation (document);
  const guint place = e->place, screen = e->screen;
  const double drop_m = ((const PlumbPlace *) test_record (document, PLUMB_RECORD_PLACE, place))->drop_m;
  const double width_m = ((const PlumbScreen *) test_record (document, PLUMB_RECORD_SCREEN, screen))->width_m;

  for (gsize i = 0; i < G_N_ELEMENTS (cures); i++)
    {
      const PlumbFinding finding = { .verdict = PLUMB_FAILS, .cure = cures[i], .cure_amount = 0.0123 };
      double before_m = off_picture_m (document);
      g_assert_true (plumb_cure_applies (document, &finding));
      g_assert_true (plumb_cure_apply (document, &finding, NULL));
      check_moved (document, &finding, before_m);
      const PlumbPlace *p = test_record (document, PLUMB_RECORD_PLACE, place);
      const PlumbScreen *s = test_record (document, PLUMB_RECORD_SCREEN, screen);
      g_assert_cmpfloat_with_epsilon (p->drop_m, drop_m + (cures[i] == PLUMB_CURE_LONGER_DROP ? 0.013 : 0.0), 1e-9);
      g_assert_cmpfloat_with_epsilon (s->width_m, width_m - (cures[i] == PLUMB_CURE_SMALLER_PICTURE ? 0.013 : 0.0),
                                      1e-9);
      g_assert_true (plumb_document_undo (document));
    }
}

/* What has to be bought, built or measured, what is too much, what holds. */
static void
test_not_applied (void)
{
  const PlumbFinding none[] = {
    { .verdict = PLUMB_FAILS, .cure = PLUMB_CURE_NONE, .cure_amount = 1.0 },
    { .verdict = PLUMB_FAILS, .cure = PLUMB_CURE_SHORTER_LENS, .cure_amount = 1.0 },
    { .verdict = PLUMB_FAILS, .cure = PLUMB_CURE_MOVE_BLOCKER, .cure_amount = 1.0 },
    { .verdict = PLUMB_UNKNOWN, .cure = PLUMB_CURE_MEASURE },
    { .verdict = PLUMB_HOLDS, .cure = PLUMB_CURE_NEARER, .cure_amount = 0.1 },
    { .verdict = PLUMB_FAILS, .cure = PLUMB_CURE_SHORTER_DROP, .cure_amount = 1000.0 },
    { .verdict = PLUMB_FAILS, .cure = PLUMB_CURE_SMALLER_PICTURE, .cure_amount = 1000.0 },
    { .verdict = PLUMB_FAILS, .cure = PLUMB_CURE_NEARER, .cure_amount = 0.0 },
    { .verdict = PLUMB_FAILS, .cure = PLUMB_CURE_NEARER, .cure_amount = (double) INFINITY },
  };
  g_autoptr (PlumbDocument) document = test_demo ("net-loft");

  for (gsize i = 0; i < G_N_ELEMENTS (none); i++)
    g_assert_false (plumb_cure_applies (document, &none[i]));
  g_autoptr (PlumbDocument) empty = plumb_document_new ();
  const PlumbFinding nearer = { .verdict = PLUMB_FAILS, .cure = PLUMB_CURE_NEARER, .cure_amount = 0.1 };
  g_assert_false (plumb_cure_applies (empty, &nearer));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/finding-cure/demos", test_demos);
  g_test_add_func ("/finding-cure/each", test_each);
  g_test_add_func ("/finding-cure/not-applied", test_not_applied);
  return g_test_run ();
}
