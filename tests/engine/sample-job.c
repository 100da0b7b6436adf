/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sample-job.h"

#include <math.h>

static void
add_wall (Sample *s, const char *id, double x, double y)
{
  PlumbWall *wall = &s->wall[s->n_wall++];

  plumb_record_default (PLUMB_RECORD_WALL, wall);
  SET_ID (wall->id, id);
  SET_ID (wall->space, "room");
  wall->x_m = x;
  wall->y_m = y;
}

static void
init_building (Sample *s)
{
  plumb_record_default (PLUMB_RECORD_JOB, &s->job);
  plumb_record_default (PLUMB_RECORD_SPACE, &s->space[0]);
  SET_ID (s->space[0].id, "room");
  s->n_space = 1;
  add_wall (s, "back", 0.0, 0.0);
  add_wall (s, "right", 6.2, 0.0);
  add_wall (s, "front", 6.2, 9.4);
  add_wall (s, "left", 0.0, 9.4);
  plumb_record_default (PLUMB_RECORD_CEILING, &s->ceiling[0]);
  SET_ID (s->ceiling[0].id, "flat");
  SET_ID (s->ceiling[0].space, "room");
  s->ceiling[0].height_m = 3.0;
  s->n_ceiling = 1;
}

static void
init_machine (Sample *s)
{
  plumb_record_default (PLUMB_RECORD_MACHINE, &s->machine[0]);
  SET_ID (s->machine[0].id, "hall");
  SET_ID (s->machine[0].lens_fitting, "b");
  plumb_record_default (PLUMB_RECORD_LENS, &s->lens[0]);
  SET_ID (s->lens[0].id, "zoom");
  SET_ID (s->lens[0].lens_fitting, "b");
  s->lens[0].throw_wide_ratio = 1.2;
  s->lens[0].throw_tele_ratio = 1.8;
  TYPE (lens, &s->lens[0], throw_wide_ratio);
  TYPE (lens, &s->lens[0], throw_tele_ratio);
  s->lens[0].shift_set = PLUMB_SHIFT_SHAPE_RECTANGLE;
  s->lens[0].shift_up_share = 0.6;
  s->lens[0].shift_right_share = 0.25;
  s->lens[0].focus_near_m = 1.0;
  s->lens[0].focus_far_m = 20.0;
  TYPE (lens, &s->lens[0], focus_near_m);
  TYPE (lens, &s->lens[0], focus_far_m);
  plumb_record_default (PLUMB_RECORD_MOUNT, &s->mount[0]);
  SET_ID (s->mount[0].id, "tube");
  s->n_machine = s->n_lens = s->n_mount = 1;
}

static void
init_places (Sample *s)
{
  plumb_record_default (PLUMB_RECORD_PLACE, &s->place[0]);
  SET_ID (s->place[0].id, "hung");
  SET_ID (s->place[0].along_wall, "front");
  s->place[0].along_end = PLUMB_END_END;
  s->place[0].along_m = 3.1;
  s->place[0].off_m = 4.8;
  s->place[0].inverted = true;
  s->place[0].drop_m = 0.3;
  plumb_record_default (PLUMB_RECORD_PLACE, &s->place[1]);
  SET_ID (s->place[1].id, "stand");
  SET_ID (s->place[1].along_wall, "front");
  s->place[1].along_end = PLUMB_END_END;
  s->place[1].along_m = 3.1;
  s->place[1].off_m = 5.0;
  s->place[1].carried = PLUMB_CARRIED_STANDING;
  s->place[1].height_from = PLUMB_HEIGHT_FROM_FLOOR;
  s->place[1].height_m = 1.0;
  s->n_place = 2;
}

void
sample_init (Sample *s)
{
  *s = (Sample){ 0 };
  init_building (s);
  init_machine (s);
  init_places (s);
  plumb_record_default (PLUMB_RECORD_SCREEN, &s->screen[0]);
  SET_ID (s->screen[0].id, "big");
  SET_ID (s->screen[0].wall, "front");
  s->screen[0].across_m = 3.1;
  s->screen[0].width_m = 3.2;
  s->screen[0].height_m = 1.8;
  s->n_screen = 1;
  plumb_record_default (PLUMB_RECORD_ARRANGEMENT, &s->arrangement[0]);
  SET_ID (s->arrangement[0].id, "first");
  SET_ID (s->arrangement[0].screen, "big");
  SET_ID (s->arrangement[0].machine, "hall");
  SET_ID (s->arrangement[0].lens, "zoom");
  SET_ID (s->arrangement[0].place, "hung");
  SET_ID (s->arrangement[0].mount, "tube");
  s->n_arrangement = 1;
}

PlumbBlocker *
sample_add_box (Sample *s, const char *id, double x, double y, double z, double length, double width, double height)
{
  PlumbBlocker *box = &s->blocker[s->n_blocker++];

  plumb_record_default (PLUMB_RECORD_BLOCKER, box);
  SET_ID (box->id, id);
  box->x_m = x;
  box->y_m = y;
  box->z_m = z;
  box->length_m = length;
  box->width_m = width;
  box->height_m = height;
  return box;
}

PlumbScene *
sample_scene (const Sample *s)
{
  PlumbScene *scene = plumb_scene_new ();

  g_assert_nonnull (scene);
#define FILL(KIND, member) g_assert_true (plumb_scene_fill (scene, PLUMB_RECORD_##KIND, s->member, s->n_##member))
  g_assert_true (plumb_scene_fill (scene, PLUMB_RECORD_JOB, &s->job, 1));
  FILL (TAPE, tape);
  FILL (SPACE, space);
  FILL (WALL, wall);
  FILL (CEILING, ceiling);
  FILL (STRUCTURE, structure);
  FILL (SCREEN, screen);
  FILL (MACHINE, machine);
  FILL (LENS, lens);
  FILL (LENS_PAIR, pair);
  FILL (LENS_SHIFT_POINT, shift_point);
  FILL (MOUNT, mount);
  FILL (PLACE, place);
  FILL (ARRANGEMENT, arrangement);
  FILL (SEAT, seat);
  FILL (ROW, row);
  FILL (PERSON, person);
  FILL (BLOCKER, blocker);
  FILL (BLOCKER_POINT, blocker_point);
  FILL (BLOCKER_STATE, blocker_state);
  FILL (PORT, port);
  FILL (LAMP, lamp);
  FILL (LAMP_HOUR, lamp_hour);
  FILL (LIGHT_STATE, light_state);
  FILL (LIGHT_LEVEL, light_level);
  FILL (LIMIT, limit);
#undef FILL
  g_assert_true (plumb_scene_commit (scene));
  return scene;
}

PlumbEvaluation *
sample_evaluate (const Sample *s)
{
  PlumbScene *scene = sample_scene (s);
  PlumbEvaluation *evaluation = NULL;

  g_assert_true (plumb_evaluate (scene, 0, &evaluation));
  plumb_scene_unref (scene);
  return evaluation;
}

const PlumbFinding *
sample_finding (const PlumbEvaluation *evaluation, PlumbCheck check)
{
  for (guint i = 0; i < evaluation->n_findings; i++)
    if (evaluation->findings[i].check == check)
      return &evaluation->findings[i];
  return NULL;
}

double
sample_figure (const PlumbEvaluation *evaluation, PlumbFigure figure)
{
  g_assert_true (evaluation->figures[figure].valid);
  return evaluation->figures[figure].value[0];
}
