/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Prints our figures for the outside check optics.py: one question a line on
 * standard input, one answer a line. Questions are a word and numbers.
 *
 *   map rear origin u v n lens yaw pitch roll t A sh sv    -> ok f r w m[9]
 *   quads from[8] to[8]                                    -> ok m[9]
 *   rectangle aspect cx cy n points                        -> ok cx cy w h
 *   programme bound c[3] n rows                            -> ok x[3]
 *   fit aspect n (distance width tele)                     -> ok t_wide t_tele e u(e)
 *   margin x0 x1 y0 y1 A t_wide t_tele n points n points   -> margin t h v
 *   room kind a b h v W H                                  -> room nearest h v
 *
 * kind is 1 for an ellipse (h, v), 2 for a circle (v, aspect).
 */
#include "plumbeam/optics.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MAX_NUMBERS 512

/* The numbers of one line, handed out in order. */
typedef struct {
  size_t n_numbers, next;
  double number[MAX_NUMBERS];
} Line;

static double
take (Line *line)
{
  if (line->next == line->n_numbers)
    {
      fputs ("optics-probe: too few numbers\n", stderr);
      exit (2);
    }
  return line->number[line->next++];
}

static PlumbVec2
take_2 (Line *line)
{
  double x = take (line);

  return plumb_vec2 (x, take (line));
}

static PlumbVec3
take_3 (Line *line)
{
  double x = take (line), y = take (line);

  return plumb_vec3 (x, y, take (line));
}

static size_t
take_points (Line *line, PlumbVec2 *points)
{
  size_t n = (size_t) take (line);

  for (size_t i = 0; i < n; i++)
    points[i] = take_2 (line);
  return n;
}

static void
print (const double *numbers, size_t n_numbers)
{
  for (size_t i = 0; i < n_numbers; i++)
    printf (" %.17g", numbers[i]);
}

static void
print_3 (PlumbVec3 a)
{
  print ((double[3]){ a.x, a.y, a.z }, 3);
}

static void
answer_map (Line *line)
{
  bool rear = take (line) != 0.0;
  PlumbPlaneFrame screen = { .origin_m = take_3 (line) };
  PlumbBeam beam;
  PlumbHomography map = { { 0 } };

  screen.u = take_3 (line);
  screen.v = take_3 (line);
  screen.n = take_3 (line);
  beam.lens_m = take_3 (line);
  PlumbVec3 angles = take_3 (line);
  beam.axes = plumb_beam_axes (&screen, rear, angles.x, angles.y, angles.z);
  beam.throw_ratio = take (line);
  beam.panel_aspect = take (line);
  beam.shift_h_share = take (line);
  beam.shift_v_share = take (line);
  printf ("%d", plumb_homography_to_plane (&beam, &screen, rear, &map));
  print_3 (beam.axes.f);
  print_3 (beam.axes.r);
  print_3 (beam.axes.w);
  print (map.m, 9);
}

static void
answer_quads (Line *line)
{
  PlumbQuad quad[2];
  PlumbHomography map = { { 0 } };

  for (int k = 0; k < 8; k++)
    quad[k / 4].corner[k % 4] = take_2 (line);
  printf ("%d", plumb_homography_from_quads (&quad[0], &quad[1], &map));
  print (map.m, 9);
}

static void
answer_rectangle (Line *line)
{
  double aspect = take (line);
  PlumbVec2 centre = take_2 (line), points[MAX_NUMBERS];
  size_t n = take_points (line, points);
  PlumbRect rect = { 0 };

  printf ("%d", plumb_greatest_rectangle (points, n, aspect, centre, &rect));
  print ((double[4]){ rect.centre_m.x, rect.centre_m.y, rect.width_m, rect.height_m }, 4);
}

static void
answer_programme (Line *line)
{
  double bound = take (line), x[3] = { 0 };
  PlumbVec3 c = take_3 (line);
  double cost[3] = { c.x, c.y, c.z };
  size_t n = (size_t) take (line);
  const double *rows = line->number + line->next;

  printf ("%d", plumb_linear_programme_3 (rows, n, cost, bound, x));
  print (x, 3);
}

static void
answer_fit (Line *line)
{
  double aspect = take (line);
  size_t n = (size_t) take (line);
  PlumbLensPair pairs[MAX_NUMBERS] = { 0 };
  PlumbLensFit fit;

  for (size_t i = 0; i < n; i++)
    {
      pairs[i].distance_m = take (line);
      pairs[i].width_m = take (line);
      pairs[i].tele = take (line) != 0.0;
    }
  printf ("%d", plumb_lens_fit (pairs, n, aspect, &fit));
  print ((double[4]){ fit.throw_ratio_wide, fit.throw_ratio_tele, fit.pupil_behind_m, fit.pupil_uncertainty_m }, 4);
}

static void
answer_margin (Line *line)
{
  PlumbCover cover = { 0 };
  PlumbShiftSet set[2];
  PlumbVec2 points[MAX_NUMBERS], shift;
  double t;

  cover.x_min = take (line);
  cover.x_max = take (line);
  cover.y_min = take (line);
  cover.y_max = take (line);
  double aspect = take (line), wide = take (line), tele = take (line);
  for (int k = 0; k < 2; k++)
    {
      size_t n = take_points (line, points);
      if (!plumb_shift_set_polygon (points, n, &set[k]))
        exit (2);
    }
  printf ("%.17g", plumb_cover_margin (&cover, aspect, wide, tele, &set[0], &set[1], &t, &shift));
  print ((double[3]){ t, shift.x, shift.y }, 3);
}

static void
answer_room (Line *line)
{
  int kind = (int) take (line);
  double a = take (line), b = take (line);
  PlumbVec2 shift = take_2 (line), metric = take_2 (line);
  PlumbShiftSet set = kind == 1 ? plumb_shift_set_ellipse (a, b) : plumb_shift_set_circle (a, b);
  PlumbVec2 nearest = plumb_shift_set_nearest (&set, shift, metric.x, metric.y);

  printf ("%.17g", plumb_shift_set_room_m (&set, shift, metric.x, metric.y));
  print ((double[2]){ nearest.x, nearest.y }, 2);
}

static const struct {
  const char *word;
  void (*answer) (Line *line);
} questions[] = {
  { "map", answer_map },
  { "quads", answer_quads },
  { "rectangle", answer_rectangle },
  { "programme", answer_programme },
  { "fit", answer_fit },
  { "margin", answer_margin },
  { "room", answer_room },
};

static void
answer (char *text)
{
  static Line line;
  char *word = strtok (text, " \n");

  line.n_numbers = line.next = 0;
  for (char *number = strtok (NULL, " \n"); number != NULL && line.n_numbers < MAX_NUMBERS;
       number = strtok (NULL, " \n"))
    line.number[line.n_numbers++] = strtod (number, NULL);
  for (size_t i = 0; word != NULL && i < sizeof questions / sizeof questions[0]; i++)
    if (strcmp (word, questions[i].word) == 0)
      {
        questions[i].answer (&line);
        putchar ('\n');
        return;
      }
  fputs ("optics-probe: unknown question\n", stderr);
  exit (2);
}

int
main (void)
{
  static char text[1 << 15];

  while (fgets (text, sizeof text, stdin) != NULL)
    answer (text);
  return 0;
}
