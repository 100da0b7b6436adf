/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The survey sheet as it comes out: measured in the PDF, read by pdftotext
 * (poppler-utils). What a sheet has to ask for is from the notes on surveys
 * that stand beside each check: common practice. */
#include "survey-testing.h"

#include <cairo-pdf.h>
#include <math.h>
#include <string.h>

/* What a ruler tells apart. */
#define RULER_MM 0.1

static const char empty_job[] = "{ \"plumbeam\": 1, \"job\": { \"title\": \"\" } }";
/* Two walls do not make a room. */
static const char two_walls[] = "{ \"plumbeam\": 1, \"spaces\": [ { \"id\": \"r\" } ], \"walls\": ["
                                "{ \"id\": \"a\", \"space\": \"r\", \"x_m\": 0, \"y_m\": 0 },"
                                "{ \"id\": \"b\", \"space\": \"r\", \"x_m\": 6, \"y_m\": 0 } ] }";
static const char ell_job[]
    = "{ \"plumbeam\": 1, \"job\": { \"title\": \"Ell\" }, \"spaces\": [ { \"id\": \"r\" } ], "
      "\"walls\": [ "
      "{ \"id\": \"south\", \"space\": \"r\", \"x_m\": 0, \"y_m\": 0 }, "
      "{ \"id\": \"east\", \"space\": \"r\", \"x_m\": 6, \"y_m\": 0 }, "
      "{ \"id\": \"step\", \"space\": \"r\", \"x_m\": 6, \"y_m\": 3 }, "
      "{ \"id\": \"inner\", \"space\": \"r\", \"x_m\": 3.2, \"y_m\": 3 }, "
      "{ \"id\": \"north\", \"space\": \"r\", \"x_m\": 3.2, \"y_m\": 5.5 }, "
      "{ \"id\": \"west\", \"space\": \"r\", \"x_m\": 0, \"y_m\": 5.5 } ], "
      "\"ceilings\": [ { \"id\": \"top\", \"space\": \"r\", \"height_m\": 2.7 } ] }";

/* ---- blanks ---------------------------------------------------------------------------------- */

typedef struct {
  double x_mm, y_mm; /* left end, from the page's upper left corner */
} Rule;

/* The page as a PDF of its own, its operators unpacked. */
static char *
page_operators (const PlumbSurvey *survey, unsigned page)
{
  double width, height;
  g_autofree char *path = test_path ("page.pdf");
  char *bytes;
  gsize size;
  plumb_survey_page_size (survey, &width, &height);
  cairo_surface_t *surface = cairo_pdf_surface_create (path, width * PLUMB_PT_PER_MM, height * PLUMB_PT_PER_MM);
  cairo_t *cr = cairo_create (surface);
  plumb_survey_draw_page (cr, survey, page, page + 1, plumb_survey_n_pages (survey));
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (surface);
  g_assert_true (g_file_get_contents (path, &bytes, &size, NULL));
  g_autoptr (GByteArray) pdf = g_byte_array_new_take ((guint8 *) bytes, size);
  return test_page_operators (pdf);
}

/* Level strokes 26 mm long, 0.18 mm wide: the blanks. A stroke of one edge is
 * x y m x y l S in the page's operators, its width was set before by w. */
static GArray *
rules_on (const PlumbSurvey *survey, unsigned page)
{
  g_autofree char *operators = page_operators (survey, page);
  GArray *rules = g_array_new (FALSE, FALSE, sizeof (Rule));
  g_auto (GStrv) tokens = g_strsplit_set (operators, " \n", -1);
  double number[2] = { 0.0, 0.0 }, from[2] = { 0.0, 0.0 }, to[2] = { 0.0, 0.0 }, wide = 0.0;
  int edges = 0;
  for (char **token = tokens; *token != NULL; token++)
    {
      if (g_ascii_isdigit ((*token)[0]) || (*token)[0] == '-')
        {
          number[0] = number[1];
          number[1] = g_ascii_strtod (*token, NULL);
        }
      else if (strcmp (*token, "w") == 0)
        wide = number[1] / PLUMB_PT_PER_MM;
      else if (strcmp (*token, "m") == 0)
        {
          memcpy (from, number, sizeof from);
          edges = 0;
        }
      else if (strcmp (*token, "l") == 0)
        {
          memcpy (to, number, sizeof to);
          edges++;
        }
      else if (strcmp (*token, "S") == 0 && edges == 1 && fabs (to[1] - from[1]) < 0.01 && fabs (wide - 0.18) < 0.01
               && fabs ((to[0] - from[0]) / PLUMB_PT_PER_MM - 26.0) < RULER_MM)
        {
          Rule rule = { from[0] / PLUMB_PT_PER_MM, from[1] / PLUMB_PT_PER_MM };
          g_array_append_val (rules, rule);
        }
    }
  return rules;
}

/* Every blank has a letter at its left, at the same height, and blanks that
 * follow each other under one heading are 9 mm apart. */
static unsigned
check_blanks (const Printed *printed, PlumbPaper paper)
{
  g_autoptr (GArray) lines = lines_of (printed, paper);
  PlumbSurvey *survey = plumb_survey_new (printed->demo.scene, printed->demo.evaluation, paper);
  unsigned n = 0;
  for (unsigned page = 0; page < plumb_survey_n_pages (survey); page++)
    {
      g_autoptr (GArray) rules = rules_on (survey, page);
      const Line *before = NULL;
      double before_y = 0.0;
      for (guint i = 0; i < rules->len; i++)
        {
          const Rule *rule = &g_array_index (rules, Rule, i);
          const Line *found = NULL;
          for (guint k = 0; k < lines->len; k++)
            {
              const Line *line = &g_array_index (lines, Line, k);
              if (line->page == page && line->number > 0 && rule->x_mm - line->x_mm > 30.0
                  && rule->x_mm - line->x_mm < 45.0 && fabs (line->y_mm - rule->y_mm) < 2.0)
                found = line;
            }
          g_assert_nonnull (found);
          if (before != NULL && strcmp (before->letter, found->letter) == 0 && found->number == before->number + 1
              && fabs (before->x_mm - found->x_mm) < 1.0)
            g_assert_cmpfloat_with_epsilon (fabs (rule->y_mm - before_y), 9.0, RULER_MM);
          before = found;
          before_y = rule->y_mm;
          n++;
        }
    }
  plumb_survey_free (survey);
  return n;
}

/* ---- tests --------------------------------------------------------------------------------------- */

static void
test_order_and_blanks (void)
{
  static const struct {
    const char *demo, *text;
    PlumbPaper paper;
  } jobs[] = { { "net-loft", NULL, PLUMB_PAPER_A4 },  { "music-room", NULL, PLUMB_PAPER_LETTER },
               { "net-loft", NULL, PLUMB_PAPER_A3 },  { NULL, empty_job, PLUMB_PAPER_A4 },
               { NULL, ell_job, PLUMB_PAPER_LETTER }, { NULL, two_walls, PLUMB_PAPER_A4 } };
  for (gsize i = 0; i < G_N_ELEMENTS (jobs); i++)
    {
      Printed printed;
      if (jobs[i].demo != NULL)
        print_demo (&printed, jobs[i].demo, jobs[i].paper);
      else
        print_text (&printed, jobs[i].text, jobs[i].paper);
      g_autoptr (GArray) lines = lines_of (&printed, jobs[i].paper);
      check_order (lines);
      unsigned blanks = check_blanks (&printed, jobs[i].paper);
      g_test_message ("%s on %s: %u lines, %u blanks of 26 mm", jobs[i].demo != NULL ? jobs[i].demo : "typed job",
                      plumb_paper_name (jobs[i].paper), lines->len, blanks);
      /* A line has either a blank, or words to circle or to write. */
      unsigned numbered = 0;
      for (guint k = 0; k < lines->len; k++)
        numbered += g_array_index (lines, Line, k).number > 0;
      unsigned words = 0;
      static const char *const others[] = { "circle one", "behind it", "on wall", "in wall", "they run towards" };
      for (gsize k = 0; k < G_N_ELEMENTS (others); k++)
        words += (unsigned) times (&printed, others[k]);
      g_assert_cmpuint (blanks + words, ==, numbered);
      /* Four walls at least, seven figures each. */
      g_assert_cmpuint (blanks, >=, 28);
      printed_clear (&printed);
    }
}

/* Clockwise from the picture's wall: the outline above is written down the
 * other way round, and without a screen the picture is at the north. */
static void
test_walls_clockwise (void)
{
  static const char *const clockwise[] = { "A north", "B inner", "C step", "D east", "E south", "F west" };
  Printed printed;
  print_text (&printed, ell_job, PLUMB_PAPER_A4);
  g_autoptr (GArray) lines = lines_of (&printed, PLUMB_PAPER_A4);
  for (gsize i = 0; i < G_N_ELEMENTS (clockwise); i++)
    {
      const char letter[] = { clockwise[i][0], '\0' };
      g_assert_cmpint (times (&printed, clockwise[i]), ==, 1);
      /* Along it twice, both heights, thickness, construction, bump, plumb,
       * what lies behind. */
      g_assert_cmpuint (lines_under (lines, letter), ==, 9);
    }
  /* Lengths as the corners say: 6.0, 3.0, 2.8, 2.5, 3.2, 5.5 m. */
  static const char *const known[] = { "6.000", "3.000", "2.800", "2.500", "3.200", "5.500" };
  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    g_assert_cmpint (times (&printed, known[i]), ==, 1);
  /* The ceiling's height at both ends of six walls and at three points. */
  g_assert_cmpint (times (&printed, "2.700"), ==, 15);
  /* Six corners: four diagonals that stay inside, the longest first. By hand:
   * from 6,0 to 0,5.5 is √66.25 and passes below the inner corner 3.2,3; from
   * 0,0 to 6,3 is √45, to 3.2,5.5 √40.49. From 6,3 to 0,5.5 is 6.5 and leaves
   * the room. */
  g_assert_cmpint (times (&printed, "8.139"), ==, 1);
  g_assert_cmpint (times (&printed, "6.500"), ==, 0);
  g_assert_cmpint (times (&printed, "6.708"), ==, 1);
  g_assert_cmpint (times (&printed, "6.363"), ==, 1);
  printed_clear (&printed);
}

/* Rooms are rarely square: both ends of each wall, both diagonals; common
 * practice. Everything that a later step asks for is asked. */
static void
test_all_is_asked (void)
{
  static const struct {
    const char *words;
    int least;
  } asked[] = { { "height at its left end", 8 },
                { "height at its right end", 8 },
                { "along it at the floor,", 8 },
                { "along it at the top,", 8 },
                { "greatest bump under a", 7 },
                { "out of plumb, floor to", 7 },
                { "behind it", 7 },
                { "board lining", 7 },
                { "lamps on,", 1 },
                { "lamps off,", 1 },
                { "Power outlet", 1 },
                { "Signal or network outlet", 1 },
                { "Sketch", 1 },
                { "Remarks", 1 },
                { "measured with", 1 },
                { "date", 1 },
                { "name", 1 },
                { "asbestos: do not scrape,", 2 },
                { "Ladder: level ground,", 2 },
                { "Mains: open nothing.", 1 },
                { "no drilling to search.", 2 } };
  Printed printed;
  print_demo (&printed, "net-loft", PLUMB_PAPER_A4);
  for (gsize i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      int n = times (&printed, asked[i].words);
      if (n < asked[i].least)
        g_error ("“%s” stands there %d times, not %d", asked[i].words, n, asked[i].least);
    }
  /* Every wall, ceiling plane and structure by its name. */
  uint32_t n;
  const PlumbWall *walls = plumb_scene_wall_records (printed.demo.scene, &n);
  for (uint32_t i = 0; i < n; i++)
    g_assert_cmpint (times (&printed, walls[i].label), >=, 1);
  const PlumbStructure *members = plumb_scene_structure_records (printed.demo.scene, &n);
  for (uint32_t i = 0; i < n; i++)
    g_assert_cmpint (times (&printed, members[i].label), >=, 1);
  /* Tie beam T1 lies 7.05 m from the rear wall of a room 9.4 m long and is
   * 0.14 m wide: from the picture's wall its edges are at 2.28 and 2.42 m. */
  g_assert_cmpint (times (&printed, "2.280"), >=, 1);
  g_assert_cmpint (times (&printed, "2.420"), >=, 1);
  printed_clear (&printed);
}

static void
test_feet (void)
{
  Printed printed;
  print_demo (&printed, "music-room", PLUMB_PAPER_LETTER);
  g_assert_cmpint (times (&printed, "ft in"), >, 40);
  /* 7.112 m is 23 ft 4 in. */
  g_assert_cmpint (times (&printed, "23′ 4″"), >=, 2);
  for (guint i = 0; i < printed.words->len; i++)
    {
      g_assert_cmpstr (word_at (&printed, i)->text, !=, "m");
      g_assert_cmpstr (word_at (&printed, i)->text, !=, "mm");
    }
  printed_clear (&printed);
}

/* A job without a room: four walls to fill in, and no figure that nobody
 * measured. */
static void
test_blank_room (void)
{
  static const char *const texts[] = { empty_job, two_walls };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      Printed printed;
      print_text (&printed, texts[i], PLUMB_PAPER_A4);
      g_assert_cmpint (times (&printed, "Nothing is known yet:"), >=, 1);
      g_assert_cmpint (times (&printed, "A Picture wall"), ==, 1);
      g_assert_cmpint (times (&printed, "B Right wall"), ==, 1);
      g_assert_cmpint (times (&printed, "C Wall opposite the picture"), ==, 1);
      g_assert_cmpint (times (&printed, "D Left wall"), ==, 1);
      g_assert_cmpint (times (&printed, "E Diagonals"), ==, 1);
      for (guint k = 0; k < printed.words->len; k++)
        g_assert_null (strchr (word_at (&printed, k)->text, '.') != NULL
                               && g_ascii_isdigit (word_at (&printed, k)->text[0])
                           ? word_at (&printed, k)->text
                           : NULL);
      printed_clear (&printed);
    }
}

/* The letters in rings: every ring's is a line's, on the same page or later. */
static void
test_rings (void)
{
  Printed printed;
  print_text (&printed, ell_job, PLUMB_PAPER_A4);
  g_autoptr (GArray) lines = lines_of (&printed, PLUMB_PAPER_A4);
  /* Three for each of six walls, four diagonals, three ceiling points. */
  int rings = 0;
  for (guint i = 0; i < printed.words->len; i++)
    {
      Line ring;
      double x_mm = word_at (&printed, i)->x0 / PLUMB_PT_PER_MM;
      /* The paper's name in the title block, 21 mm high above 10 mm of edge, is no letter. */
      if (!read_letter (word_at (&printed, i)->text, &ring) || ring.number == 0
          || word_at (&printed, i)->y0 > (297.0 - 10.0 - 21.0) * PLUMB_PT_PER_MM)
        continue;
      gboolean is_line = FALSE, has_line = FALSE;
      for (guint k = 0; k < lines->len; k++)
        {
          const Line *line = &g_array_index (lines, Line, k);
          gboolean same = strcmp (line->letter, ring.letter) == 0 && line->number == ring.number;
          has_line |= same;
          is_line |= same && line->page == word_at (&printed, i)->page && fabs (line->x_mm - x_mm) < 0.01
                     && fabs (line->y_mm - word_at (&printed, i)->y1 / PLUMB_PT_PER_MM) < 0.01;
        }
      g_assert_true (has_line);
      rings += !is_line;
    }
  g_assert_cmpint (rings, ==, 6 * 3 + 4 + 3);
  printed_clear (&printed);
}

static void
test_words_apart_and_inside (void)
{
  for (int d = 0; d < N_DEMOS; d++)
    for (int paper = 0; paper < PLUMB_N_PAPERS; paper++)
      {
        Printed printed;
        double width, height;
        print_demo (&printed, demo_names[d], (PlumbPaper) paper);
        PlumbSurvey *survey = plumb_survey_new (printed.demo.scene, printed.demo.evaluation, (PlumbPaper) paper);
        plumb_survey_page_size (survey, &width, &height);
        test_words_apart (printed.words, 20.0, 10.0, width - 30.0, height - 20.0);
        g_assert_cmpuint (word_at (&printed, printed.words->len - 1)->page + 1, ==, plumb_survey_n_pages (survey));
        plumb_survey_free (survey);
        printed_clear (&printed);
      }
}

static void
test_papers_from_words (void)
{
  unsigned papers = 0;
  g_autofree char *none = NULL;
  g_assert_true (plumb_papers_from_words ("survey", &papers, &none));
  g_assert_cmpuint (papers, ==, PLUMB_PAPERS_SURVEY);
  g_assert_true (plumb_papers_from_words ("ceiling, plan", &papers, &none));
  g_assert_cmpuint (papers, ==, PLUMB_PAPERS_CEILING | PLUMB_PAPERS_PLAN);
  g_assert_true (plumb_papers_from_words ("survey,plan,side,picture,ceiling", &papers, &none));
  g_assert_cmpuint (papers, ==, PLUMB_PAPERS_ALL);
  static const char *const bad[] = { "", "plan,", "plan,map", "Plan" };
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autofree char *wrong = NULL;
      g_assert_false (plumb_papers_from_words (bad[i], &papers, &wrong));
      g_assert_nonnull (wrong);
    }
  g_assert_cmpuint (papers, ==, PLUMB_PAPERS_ALL);
}

int
main (int argc, char **argv)
{
  /* Before any thread of the font library begins. */
  g_setenv ("SOURCE_DATE_EPOCH", "1700000000", TRUE);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/survey/order-and-blanks", test_order_and_blanks);
  g_test_add_func ("/survey/walls-clockwise", test_walls_clockwise);
  g_test_add_func ("/survey/all-is-asked", test_all_is_asked);
  g_test_add_func ("/survey/feet", test_feet);
  g_test_add_func ("/survey/blank-room", test_blank_room);
  g_test_add_func ("/survey/rings", test_rings);
  g_test_add_func ("/survey/words", test_words_apart_and_inside);
  g_test_add_func ("/survey/names", test_papers_from_words);
  return g_test_run ();
}
