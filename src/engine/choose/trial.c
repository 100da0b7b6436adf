/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The lens trial: every machine with every lens at every place, each solved
 * for the arrangement's screen with the attitude free, so that a tilt is only
 * used where zoom and shift fall short.
 */
#include <stdlib.h>
#include <string.h>

#include "plumbeam/evaluate.h"

#include "../evaluate/work-private.h"

uint32_t
plumb_lens_trial_count (const PlumbScene *scene)
{
  uint32_t machines, lenses, places;

  plumb_scene_machine_records (scene, &machines);
  plumb_scene_lens_records (scene, &lenses);
  plumb_scene_place_records (scene, &places);
  uint64_t all = (uint64_t) machines * lenses * places;
  return all < UINT32_MAX ? (uint32_t) all : UINT32_MAX;
}

static void
copy_id (char to[PLUMB_ID_SIZE], const char *from)
{
  memset (to, 0, PLUMB_ID_SIZE);
  memcpy (to, from, strlen (from));
}

/* The arrangement tried: the given one with the three exchanged. */
static PlumbArrangement
tried (const PlumbScene *scene, const PlumbArrangement *base, const PlumbTrialLine *line)
{
  PlumbArrangement out = *base;
  const PlumbPlace *place = plumb_scene_place (scene, line->place);

  copy_id (out.machine, plumb_scene_machine (scene, line->machine)->id);
  copy_id (out.lens, plumb_scene_lens (scene, line->lens)->id);
  copy_id (out.place, place->id);
  /* What stands on its feet needs no mount, what hangs needs the one it has. */
  if (place->carried == PLUMB_CARRIED_STANDING && strcmp (base->place, place->id) != 0)
    copy_id (out.mount, "");
  out.zoom = out.shift = out.attitude = out.correction = PLUMB_SOLVE_SOLVED;
  out.roll_rad = 0.0;
  return out;
}

/* Findings about the building as a whole say nothing about this line. */
static bool
is_about_line (const PlumbFinding *finding)
{
  PlumbFamily family = plumb_check_info (finding->check)->family;

  return family != PLUMB_FAMILY_PEOPLE && finding->check != PLUMB_CHECK_JOB_FAULT
         && finding->check != PLUMB_CHECK_JOB_LIMIT && finding->check != PLUMB_CHECK_BEAM_SCREEN_FITS;
}

static double
to_spare_m (const PlumbEvaluation *e, PlumbCheck first, PlumbCheck last)
{
  double least = HUGE_VAL;

  for (uint32_t i = 0; i < e->n_findings; i++)
    if (e->findings[i].check >= first && e->findings[i].check <= last && e->findings[i].has_figure)
      least = fmin (least, e->findings[i].figure - e->findings[i].limit_least);
  /* Nothing stands there: as much as the data sheet could ever ask. */
  return isfinite (least) ? least : 10.0;
}

static void
fill (const PlumbEvaluation *e, PlumbTrialLine *line)
{
  const PlumbFigureValue *g = e->figures;

  line->fits = true;
  for (uint32_t i = 0; i < e->n_findings; i++)
    {
      if (e->findings[i].check == PLUMB_CHECK_JOB_LENS_FITS && e->findings[i].verdict == PLUMB_FAILS)
        line->fits = false;
      if (is_about_line (&e->findings[i]) && line->worst_finding.unit == NULL)
        {
          line->worst_finding = e->findings[i];
          line->worst = e->findings[i].verdict;
        }
    }
  if (!e->solved || !g[PLUMB_FIGURE_throw_ratio_needed].valid)
    return;
  line->reachable = true;
  line->throw_distance_m = g[PLUMB_FIGURE_throw_distance_m].value[0];
  line->picture_least_m = g[PLUMB_FIGURE_picture_least_width_m].value[0];
  line->picture_greatest_m = g[PLUMB_FIGURE_picture_greatest_width_m].value[0];
  line->throw_ratio = e->beam.throw_ratio;
  line->throw_room_wide = g[PLUMB_FIGURE_throw_ratio_needed].value[0] - g[PLUMB_FIGURE_throw_ratio_wide].value[0];
  line->throw_room_tele = g[PLUMB_FIGURE_throw_ratio_tele].value[0] - g[PLUMB_FIGURE_throw_ratio_needed].value[0];
  line->shift_h_share = e->beam.shift_h_share;
  line->shift_v_share = e->beam.shift_v_share;
  line->shift_room_m = g[PLUMB_FIGURE_shift_room_m].value[0];
  double yaw = g[PLUMB_FIGURE_yaw_rad].value[0], pitch = g[PLUMB_FIGURE_pitch_rad].value[0];
  bool covers = true;
  for (uint32_t i = 0; i < e->n_findings; i++)
    if (e->findings[i].check >= PLUMB_CHECK_BEAM_COVERS_LEFT && e->findings[i].check <= PLUMB_CHECK_BEAM_COVERS_TOP)
      covers = covers && (e->findings[i].verdict != PLUMB_FAILS || e->findings[i].figure > -1e-6);
  /* Less than a bracket's residual is no turn. */
  bool turned = fabs (yaw) > 1e-6 || fabs (pitch) > 1e-6;
  line->square_on = covers && !turned && e->has_picture;
  line->tilted = covers && turned && e->has_picture;
  line->tilt_rad = pitch;
  line->keystone_ratio = g[PLUMB_FIGURE_keystone_width_ratio].value[0];
  line->panel_share_used = g[PLUMB_FIGURE_panel_share_used].value[0];
  line->pixels_least_per_mm = g[PLUMB_FIGURE_pixels_least_per_mm].value[0];
  line->air_room_m = to_spare_m (e, PLUMB_CHECK_BODY_AIR_LEFT, PLUMB_CHECK_BODY_AIR_FRONT);
  line->cable_room_m = to_spare_m (e, PLUMB_CHECK_BODY_CABLE_ROOM, PLUMB_CHECK_BODY_CABLE_ROOM);
}

static bool
try_line (const PlumbScene *scene, const PlumbArrangement *base, uint32_t arrangement, uint32_t number,
          PlumbTrialLine *line)
{
  uint32_t lenses, places;
  PlumbEvaluation *e;

  plumb_scene_lens_records (scene, &lenses);
  plumb_scene_place_records (scene, &places);
  *line = (PlumbTrialLine){ .machine = number / (lenses * places),
                            .lens = number / places % lenses,
                            .place = number % places,
                            .worst = PLUMB_UNKNOWN };
  PlumbArrangement with = tried (scene, base, line);
  if (!plumb_evaluate_record (scene, &with, arrangement, false, &e))
    return false;
  line->screen = e->screen;
  line->mount = e->mount;
  fill (e, line);
  plumb_evaluation_free (e);
  return true;
}

bool
plumb_lens_trial (const PlumbScene *scene, uint32_t arrangement, uint32_t first, uint32_t count,
                  PlumbTrialLine **lines, uint32_t *n_lines)
{
  uint32_t all = plumb_lens_trial_count (scene), n_arrangements;
  const PlumbArrangement *records = plumb_scene_arrangement_records (scene, &n_arrangements);
  PlumbArrangement none;

  plumb_record_default (PLUMB_RECORD_ARRANGEMENT, &none);
  if (arrangement >= n_arrangements)
    {
      /* Without an arrangement the first screen and the first mount are tried. */
      uint32_t n;
      const PlumbScreen *screens = plumb_scene_screen_records (scene, &n);
      if (n > 0)
        copy_id (none.screen, screens[0].id);
      const PlumbMount *mounts = plumb_scene_mount_records (scene, &n);
      if (n > 0)
        copy_id (none.mount, mounts[0].id);
    }
  if (first > all)
    first = all;
  if (count == 0 || count > all - first)
    count = all - first;
  *n_lines = 0;
  *lines = calloc ((size_t) count + 1, sizeof **lines);
  if (*lines == NULL)
    return false;
  for (uint32_t i = 0; i < count; i++)
    {
      const PlumbArrangement *base = arrangement < n_arrangements ? &records[arrangement] : &none;
      if (!try_line (scene, base, arrangement < n_arrangements ? arrangement : PLUMB_NO_INDEX, first + i,
                     &(*lines)[i]))
        {
          free (*lines);
          *lines = NULL;
          return false;
        }
      (*n_lines)++;
    }
  return true;
}
