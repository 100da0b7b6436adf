/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints docs/figures.md from the lists of figures, checks and limits. */
#include <stdio.h>

#include "number-private.h"
#include "plumbeam/evaluate.h"
#include "text/seat-table.h"

static const char introduction[]
    = "# Figures, checks, limits\n"
      "\n"
      "<!-- Printed by src/job/write-figures-page.c from include/plumbeam/evaluate.h and src/engine/evaluate/. "
      "Change it "
      "there. -->\n"
      "\n"
      "What `plumbeam check --json` prints. Names and ids are never given another meaning; they are only retired.\n"
      "\n"
      "Units: `m` metres, `rad` radians, `share` of 1, `ratio` a plain number, `px_per_mm` pixels per millimetre, "
      "`px_per_deg` pixels per degree at the eye, "
      "`count` a whole number. Points are x, y, z in the room's frame. Points on a screen are u to the right for the "
      "viewer and v up, from the middle of its face. Corners run bottom left, bottom right, top right, top left, u "
      "before v. A spread is the expanded uncertainty, k = 2.\n";

static void
print_figures (void)
{
  fputs ("\n## Figures\n\n| name | values | unit | meaning |\n| --- | --- | --- | --- |\n", stdout);
  for (int i = 0; i < PLUMB_N_FIGURES; i++)
    {
      const PlumbFigureInfo *info = plumb_figure_info ((PlumbFigure) i);
      printf ("| `%s` | %d | %s | %s |\n", info->name, info->count, info->unit, info->meaning);
    }
}

static void
print_seats (void)
{
  fputs ("\n## Seats\n\n"
         "Columns of `plumbeam export --table seats`, worst seat first. Those that end in a unit are figures of the same "
         "name in the seats of `check --json`, but for the luminance, there a list of which this is the first, and the "
         "contrast. A figure that is not there is an empty cell.\n"
         "\n| name | meaning |\n| --- | --- |\n",
         stdout);
  for (int i = 0; i < PLUMB_N_SEAT_COLUMNS; i++)
    {
      const PlumbSeatColumnInfo *info = plumb_seat_column_info ((PlumbSeatColumn) i);
      printf ("| `%s` | %s |\n", info->id, info->meaning);
    }
}

/* As check --json writes them, for each light state. */
static void
print_light_states (void)
{
  static const char *const rows[][2] = {
    { "light_state", "the light state" },
    { "mode_share",
      "light mode of the machine in it, of the mode in which its figure was measured; the machine's own where the state "
      "has none" },
    { "luminance_cd_m2", "white in the dark in that mode, at the picture's centre towards the worst seat" },
    { "known", "whether the room light on the screen is known; if not, what follows is left out" },
    { "ambient_lx", "room light on the screen" },
    { "own_bounce_lx", "what the room throws back of the picture's own light, half of it white" },
    { "contrast_ratio", "white over black towards the worst seat" },
    { "contrast_spread", "its spread" },
    { "white_share", "luminance of white, over that of white in the dark in the machine's own mode" },
    { "black_share", "luminance of black, over the same" },
    { "flux_needed_lm", "printed flux that reaches the wanted contrast in that mode; 0: none does or none is wanted" },
    { "ambient_allowed_lx", "room light that the wanted contrast bears" },
    { "picture_width_needed_m", "width of the picture that reaches the wanted contrast; 0 likewise" },
  };

  fputs ("\n## Light states\n\n"
         "`light_states` of `check --json`. Figures of the picture and of its seats are those of the machine's own light "
         "mode; only these, and contrast, go by the state's. Fan noise stays the machine's printed one in every mode.\n"
         "\n| name | meaning |\n| --- | --- |\n",
         stdout);
  for (size_t i = 0; i < G_N_ELEMENTS (rows); i++)
    printf ("| `%s` | %s |\n", rows[i][0], rows[i][1]);
}

static void
print_checks (void)
{
  fputs ("\n## Checks\n\n"
         "Each finding has a figure, a spread, a limit and a verdict: `holds`; `tight`, the limit lies inside the "
         "spread; `fails`; `unknown`, with what is missing.\n"
         "\n| id | family | check |\n| --- | --- | --- |\n",
         stdout);
  for (int i = 0; i < PLUMB_N_CHECKS; i++)
    {
      const PlumbCheckInfo *info = plumb_check_info ((PlumbCheck) i);
      printf ("| `%s` | %s | %s |\n", info->id, plumb_family_word (info->family), info->label);
    }
}

static const char *
basis_name (PlumbBasis basis)
{
  static const char *const names[] = { "standard", "common practice", "data sheet", "geometry", "the job" };
  return names[basis];
}

static void
print_limits (void)
{
  fputs ("\n## Limits\n\nA job overrides one by its id in `limits`, with a reason.\n"
         "\n| id | value | unit | basis | source |\n| --- | --- | --- | --- | --- |\n",
         stdout);
  for (uint32_t i = 0; i < plumb_limit_count (); i++)
    {
      char value[G_ASCII_DTOSTR_BUF_SIZE];
      const PlumbLimit *limit = plumb_limit_at (i);
      plumb_decimal_shortest (limit->value, 1.0, value);
      printf ("| `%s` | %s | %s | %s | %s |\n", limit->id, value, limit->unit, basis_name (limit->basis),
              limit->source);
    }
}

int
main (void)
{
  fputs (introduction, stdout);
  print_figures ();
  print_seats ();
  print_light_states ();
  print_checks ();
  print_limits ();
  return fflush (stdout) == 0 && !ferror (stdout) ? 0 : 3;
}
