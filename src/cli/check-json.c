/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `check --json`: the stable document, all in SI. Keys are never renamed. */
#include <string.h>

#include "cli-private.h"
#include "json-out-private.h"
#include "plumbeam/light.h"

typedef struct {
  PlumbJsonOut out;
  const PlumbScene *scene;
  PlumbWords words;
} Writer;

/* Absent where there is no such record. */
static void
put_id (Writer *w, const char *key, PlumbRecordKind kind, uint32_t index)
{
  plumb_json_out_text (&w->out, key, plumb_cli_id (w->scene, kind, index));
}

static void
put_counts (Writer *w, const PlumbEvaluation *e)
{
  static const PlumbVerdict order[] = { PLUMB_FAILS, PLUMB_UNKNOWN, PLUMB_TIGHT, PLUMB_HOLDS };
  plumb_json_out_open (&w->out, "counts", '{');
  for (gsize v = 0; v < G_N_ELEMENTS (order); v++)
    {
      unsigned count = 0;
      for (uint32_t i = 0; i < e->n_findings; i++)
        count += e->findings[i].verdict == order[v];
      plumb_json_out_number (&w->out, plumb_verdict_word (order[v]), count);
    }
  plumb_json_out_close (&w->out, '}');
}

static void
put_limit (Writer *w, const PlumbFinding *f)
{
  bool least = f->sense == PLUMB_LIMIT_AT_LEAST || f->sense == PLUMB_LIMIT_BETWEEN;
  bool most = f->sense == PLUMB_LIMIT_AT_MOST || f->sense == PLUMB_LIMIT_BETWEEN;
  double spare;
  if (least)
    plumb_json_out_number (&w->out, "limit_least", f->limit_least);
  if (most)
    plumb_json_out_number (&w->out, "limit_most", f->limit_most);
  if (plumb_finding_spare (f, &spare))
    plumb_json_out_number (&w->out, "to_spare", spare);
}

static void
put_finding (Writer *w, const PlumbFinding *f)
{
  const PlumbCheckInfo *info = plumb_check_info (f->check);
  g_autofree char *subject = plumb_finding_subject_key (w->scene, f), *source = plumb_finding_basis (w->scene, f);
  g_autofree char *message = plumb_finding_sentence (w->scene, f, w->words);
  g_autofree char *missing = plumb_finding_missing_key (w->scene, f);
  plumb_json_out_open (&w->out, NULL, '{');
  plumb_json_out_text (&w->out, "check", info->id);
  plumb_json_out_text (&w->out, "family", plumb_family_word (info->family));
  plumb_json_out_text (&w->out, "subject", subject);
  plumb_json_out_text (&w->out, "verdict", plumb_verdict_word (f->verdict));
  if (f->has_figure)
    {
      plumb_json_out_number (&w->out, "figure", f->figure);
      plumb_json_out_number (&w->out, "spread", f->spread);
    }
  put_limit (w, f);
  if (f->unit[0] != '\0')
    plumb_json_out_text (&w->out, "unit", f->unit);
  plumb_json_out_text (&w->out, "basis", plumb_basis_word (f->basis));
  plumb_json_out_text (&w->out, "source", source);
  if (f->limit < plumb_limit_count ())
    plumb_json_out_text (&w->out, "limit", plumb_limit_at (f->limit)->id);
  plumb_json_out_text (&w->out, "step", plumb_step_word (info->step));
  plumb_json_out_text (&w->out, "message", message);
  if (f->cure != PLUMB_CURE_NONE)
    {
      plumb_json_out_text (&w->out, "cure", plumb_cure_word (f->cure));
      if (f->cure_amount > 0.0)
        plumb_json_out_number (&w->out, "cure_amount", f->cure_amount);
    }
  plumb_json_out_flag (&w->out, "assumed", f->assumed);
  if (f->verdict == PLUMB_FAILS)
    plumb_json_out_flag (&w->out, "within_what_was_measured", f->spread_reaches_back);
  plumb_json_out_text (&w->out, "missing", missing);
  plumb_json_out_close (&w->out, '}');
}

static void
put_findings (Writer *w, const PlumbEvaluation *e)
{
  plumb_json_out_open (&w->out, "findings", '[');
  for (uint32_t i = 0; i < e->n_findings; i++)
    put_finding (w, &e->findings[i]);
  plumb_json_out_close (&w->out, ']');
}

static void
put_values (Writer *w, const PlumbFigureInfo *info, const double *values)
{
  if (info->count == 1)
    plumb_json_out_number (&w->out, info->name, values[0]);
  else
    plumb_json_out_numbers (&w->out, info->name, values, info->count);
}

static bool
has_spread (const PlumbFigureValue *value, int count)
{
  for (int i = 0; i < count; i++)
    if (value->spread[i] > 0.0)
      return true;
  return false;
}

static void
put_figures (Writer *w, const PlumbEvaluation *e)
{
  plumb_json_out_open (&w->out, "figures", '{');
  for (int i = 0; i < PLUMB_N_FIGURES; i++)
    if (e->figures[i].valid)
      put_values (w, plumb_figure_info ((PlumbFigure) i), e->figures[i].value);
  plumb_json_out_close (&w->out, '}');
  plumb_json_out_open (&w->out, "spreads", '{');
  for (int i = 0; i < PLUMB_N_FIGURES; i++)
    {
      const PlumbFigureInfo *info = plumb_figure_info ((PlumbFigure) i);
      if (e->figures[i].valid && has_spread (&e->figures[i], info->count))
        put_values (w, info, e->figures[i].spread);
    }
  plumb_json_out_close (&w->out, '}');
}

static void
put_who (Writer *w, const char *name, PlumbWho who)
{
  g_autofree char *key = plumb_who_key (w->scene, who);
  if (key != NULL)
    plumb_json_out_text (&w->out, name, key);
}

/* What an eye on the viewers' side sees. */
static void
put_sight (Writer *w, const PlumbSeatFigures *seat)
{
  plumb_json_out_number (&w->out, "look_up_centre_rad", seat->look_up_centre_rad);
  plumb_json_out_number (&w->out, "look_up_top_rad", seat->look_up_top_rad);
  plumb_json_out_number (&w->out, "off_axis_rad", seat->off_axis_rad);
  plumb_json_out_number (&w->out, "far_edge_angle_rad", seat->far_edge_angle_rad);
  plumb_json_out_number (&w->out, "pixels_per_degree", seat->pixels_per_degree);
  plumb_json_out_number (&w->out, "text_height_m", seat->text_height_m);
  plumb_json_out_number (&w->out, "hidden_share", seat->hidden_share);
  put_who (w, "hidden_most_by", seat->hidden_by);
  if (seat->hidden_by.kind != PLUMB_WHO_NOBODY)
    plumb_json_out_number (&w->out, "hidden_by_that_one_share", seat->hidden_by_share);
  if (seat->hidden_state != PLUMB_NO_INDEX)
    plumb_json_out_number (&w->out, "hidden_in_state", seat->hidden_state + 1.0);
  if (seat->c_over != PLUMB_NO_INDEX)
    {
      plumb_json_out_number (&w->out, "c_value_m", seat->c_value_m);
      put_who (w, "c_value_over", (PlumbWho){ PLUMB_WHO_SEAT, seat->c_over });
    }
}

static void
put_seats (Writer *w, const PlumbEvaluation *e)
{
  const PlumbResolved *resolved = plumb_scene_resolved (w->scene);
  plumb_json_out_open (&w->out, "seats", '[');
  for (uint32_t i = 0; i < e->n_seats; i++)
    {
      const PlumbSeatFigures *seat = &e->seats[i];
      plumb_json_out_open (&w->out, NULL, '{');
      plumb_json_out_text (&w->out, "seat", resolved->seats[seat->seat].id);
      plumb_json_out_number (&w->out, "horizontal_angle_rad", seat->horizontal_angle_rad);
      plumb_json_out_number (&w->out, "distance_m", seat->distance_m);
      plumb_json_out_number (&w->out, "distance_heights_ratio", seat->distance_heights_ratio);
      plumb_json_out_flag (&w->out, "fails", seat->fails);
      plumb_json_out_flag (&w->out, "before_picture", seat->before_picture);
      if (seat->before_picture)
        put_sight (w, seat);
      plumb_json_out_numbers (&w->out, "luminance_cd_m2", seat->luminance_cd_m2, 5);
      plumb_json_out_number (&w->out, "luminance_centre_fl", plumb_foot_lamberts (seat->luminance_cd_m2[0]));
      plumb_json_out_number (&w->out, "gain_ratio", seat->gain_ratio);
      plumb_json_out_number (&w->out, "noise_db", seat->noise_db);
      plumb_json_out_close (&w->out, '}');
    }
  plumb_json_out_close (&w->out, ']');
}

/* The record that a surface belongs to, as "walls.north". */
static char *
surface_key (const Writer *w, const PlumbSurfaceId *surface)
{
  static const PlumbRecordKind kinds[PLUMB_N_SURFACES] = {
    [PLUMB_SURFACE_OF_NOTHING] = PLUMB_RECORD_NONE,    [PLUMB_SURFACE_OF_SCREEN] = PLUMB_RECORD_SCREEN,
    [PLUMB_SURFACE_OF_WALL] = PLUMB_RECORD_WALL,       [PLUMB_SURFACE_OF_FLOOR] = PLUMB_RECORD_SPACE,
    [PLUMB_SURFACE_OF_CEILING] = PLUMB_RECORD_CEILING, [PLUMB_SURFACE_OF_STEP] = PLUMB_RECORD_SPACE,
    [PLUMB_SURFACE_OF_BLOCKER] = PLUMB_RECORD_BLOCKER, [PLUMB_SURFACE_OF_STRUCTURE] = PLUMB_RECORD_STRUCTURE,
    [PLUMB_SURFACE_OF_PORT] = PLUMB_RECORD_PORT,       [PLUMB_SURFACE_OF_OPENING] = PLUMB_RECORD_OPENING,
  };
  if ((unsigned) surface->kind >= PLUMB_N_SURFACES || kinds[surface->kind] == PLUMB_RECORD_NONE)
    return NULL;
  return plumb_record_key (w->scene, kinds[surface->kind], surface->record);
}

static void
put_clearances (Writer *w, const PlumbEvaluation *e)
{
  const PlumbBuilding *building = plumb_scene_resolved (w->scene)->building;
  plumb_json_out_open (&w->out, "clearances", '[');
  for (uint32_t i = 0; i < e->n_clearances; i++)
    {
      const PlumbClearance *c = &e->clearances[i];
      const PlumbSolid *solid = &building->solids[c->solid];
      const double on_beam[3] = { c->on_beam_m.x, c->on_beam_m.y, c->on_beam_m.z };
      const double on_solid[3] = { c->on_solid_m.x, c->on_solid_m.y, c->on_solid_m.z };
      g_autofree char *key = surface_key (w, &solid->surface);
      plumb_json_out_open (&w->out, NULL, '{');
      plumb_json_out_text (&w->out, "record", key);
      plumb_json_out_number (&w->out, "member", solid->member);
      plumb_json_out_number (&w->out, "clearance_m", c->clearance_m);
      plumb_json_out_number (&w->out, "spread_m", c->spread_m);
      plumb_json_out_number (&w->out, "panel_share", c->panel_share);
      plumb_json_out_numbers (&w->out, "on_beam_m", on_beam, 3);
      plumb_json_out_numbers (&w->out, "on_solid_m", on_solid, 3);
      plumb_json_out_close (&w->out, '}');
    }
  plumb_json_out_close (&w->out, ']');
}

static bool
same_surface (const PlumbSurfaceId *a, const PlumbSurfaceId *b)
{
  return a->kind == b->kind && a->record == b->record;
}

static bool
surface_before (const PlumbBeamCut *cut, uint32_t i)
{
  for (uint32_t k = 0; k < i; k++)
    if (same_surface (&cut->pieces[k].surface, &cut->pieces[i].surface))
      return true;
  return false;
}

/* What each surface gets of the panel; the shares of all sum to 1. */
static void
put_surfaces (Writer *w, const PlumbEvaluation *e)
{
  plumb_json_out_open (&w->out, "surfaces", '[');
  for (uint32_t i = 0; i < e->cut.n_pieces; i++)
    {
      const PlumbSurfaceId *surface = &e->cut.pieces[i].surface;
      unsigned pieces = 0;
      double share = 0.0;
      if (surface_before (&e->cut, i))
        continue;
      for (uint32_t k = i; k < e->cut.n_pieces; k++)
        if (same_surface (surface, &e->cut.pieces[k].surface))
          {
            pieces++;
            share += e->cut.pieces[k].panel_share;
          }
      g_autofree char *key = surface_key (w, surface);
      plumb_json_out_open (&w->out, NULL, '{');
      plumb_json_out_text (&w->out, "surface", plumb_surface_word (surface->kind));
      plumb_json_out_text (&w->out, "record", key);
      plumb_json_out_number (&w->out, "pieces", pieces);
      plumb_json_out_number (&w->out, "panel_share", share);
      plumb_json_out_close (&w->out, '}');
    }
  plumb_json_out_close (&w->out, ']');
}

static void
put_light_states (Writer *w, const PlumbEvaluation *e)
{
  plumb_json_out_open (&w->out, "light_states", '[');
  for (uint32_t i = 0; i < e->n_states; i++)
    {
      const PlumbStateFigures *state = &e->states[i];
      plumb_json_out_open (&w->out, NULL, '{');
      put_id (w, "light_state", PLUMB_RECORD_LIGHT_STATE, i);
      plumb_json_out_number (&w->out, "mode_share", state->mode_share);
      plumb_json_out_number (&w->out, "luminance_cd_m2", state->luminance_cd_m2);
      plumb_json_out_flag (&w->out, "known", state->known);
      if (state->known)
        {
          plumb_json_out_number (&w->out, "ambient_lx", state->ambient_lx);
          plumb_json_out_number (&w->out, "own_bounce_lx", state->own_lx);
          plumb_json_out_number (&w->out, "contrast_ratio", state->contrast_ratio);
          plumb_json_out_number (&w->out, "contrast_spread", state->contrast_spread);
          plumb_json_out_number (&w->out, "white_share", state->white_share);
          plumb_json_out_number (&w->out, "black_share", state->black_share);
          plumb_json_out_number (&w->out, "flux_needed_lm", state->flux_needed_lm);
          plumb_json_out_number (&w->out, "ambient_allowed_lx", state->ambient_allowed_lx);
          plumb_json_out_number (&w->out, "picture_width_needed_m", state->picture_width_needed_m);
        }
      plumb_json_out_close (&w->out, '}');
    }
  plumb_json_out_close (&w->out, ']');
}

static void
put_evaluation (Writer *w, const PlumbEvaluation *e)
{
  put_id (w, "arrangement", PLUMB_RECORD_ARRANGEMENT, e->arrangement);
  put_id (w, "screen", PLUMB_RECORD_SCREEN, e->screen);
  put_id (w, "machine", PLUMB_RECORD_MACHINE, e->machine);
  put_id (w, "lens", PLUMB_RECORD_LENS, e->lens);
  put_id (w, "place", PLUMB_RECORD_PLACE, e->place);
  put_id (w, "mount", PLUMB_RECORD_MOUNT, e->mount);
  plumb_json_out_flag (&w->out, "solved", e->solved);
  plumb_json_out_text (&w->out, "verdict", plumb_verdict_word (e->worst));
  put_counts (w, e);
  put_findings (w, e);
  put_figures (w, e);
  put_seats (w, e);
  put_light_states (w, e);
  put_clearances (w, e);
  put_surfaces (w, e);
}

static void
put_unknown_keys (Writer *w, const PlumbJobFile *file)
{
  g_auto (GStrv) unknown = plumb_job_unknown_keys (file);
  plumb_json_out_open (&w->out, "unknown_keys", '[');
  for (char **key = unknown; key != NULL && *key != NULL; key++)
    plumb_json_out_text (&w->out, NULL, *key);
  plumb_json_out_close (&w->out, ']');
}

char *
plumb_cli_check_json (const PlumbCliJob *job, PlumbEvaluation *const *evaluations, bool all)
{
  Writer w = { .scene = job->scene, .words = job->words };
  plumb_json_out_init (&w.out);
  plumb_json_out_open (&w.out, NULL, '{');
  plumb_json_out_number (&w.out, "plumbeam_check", 1);
  plumb_json_out_text (&w.out, "job", plumb_scene_job (job->scene, 0)->title);
  put_unknown_keys (&w, job->file);
  if (!all)
    put_evaluation (&w, evaluations[0]);
  else
    {
      plumb_json_out_open (&w.out, "arrangements", '[');
      for (uint32_t i = 0; i < job->n; i++)
        {
          plumb_json_out_open (&w.out, NULL, '{');
          put_evaluation (&w, evaluations[i]);
          plumb_json_out_close (&w.out, '}');
        }
      plumb_json_out_close (&w.out, ']');
    }
  plumb_json_out_text (&w.out, "caution", plumb_caution ());
  plumb_json_out_close (&w.out, '}');
  return plumb_json_out_finish (&w.out);
}
