/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text/half.h"

bool
plumb_half_make (PlumbHalf *half, const PlumbScene *scene, uint32_t arrangement, bool corrected)
{
  *half = (PlumbHalf){ 0 };
  if (!plumb_evaluate (scene, arrangement, &half->evaluation))
    return false;
  half->scene = plumb_scene_ref (scene);
  /* Nothing is fitted into the raw picture: content fills the panel. */
  if (!corrected)
    half->evaluation->has_picture = false;
  return true;
}

void
plumb_half_clear (PlumbHalf *half)
{
  plumb_scene_unref (half->scene);
  if (half->evaluation != NULL)
    plumb_evaluation_free (half->evaluation);
  *half = (PlumbHalf){ 0 };
}

/* ---- words ----------------------------------------------------------------------- */

char *
plumb_half_name (const PlumbScene *scene, uint32_t arrangement, bool corrected)
{
  uint32_t n;

  plumb_scene_arrangement_records (scene, &n);
  if (arrangement >= n)
    return g_strdup ("no arrangement");
  g_autofree char *name = plumb_record_name (scene, PLUMB_RECORD_ARRANGEMENT, arrangement);
  return corrected ? g_steal_pointer (&name) : g_strdup_printf ("%s, uncorrected", name);
}

static const PlumbSeatFigures *
seat_that_sees_least (const PlumbEvaluation *e)
{
  const PlumbSeatFigures *worst = NULL;

  for (uint32_t i = 0; i < e->n_seats; i++)
    if (e->seats[i].before_picture && (worst == NULL || e->seats[i].hidden_share > worst->hidden_share))
      worst = &e->seats[i];
  return worst;
}

char *
plumb_half_figures (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbWords words)
{
  bool corrected = evaluation->has_picture;
  const PlumbFigureValue *width
      = &evaluation->figures[corrected ? PLUMB_FIGURE_picture_width_m : PLUMB_FIGURE_raw_width_m];
  const PlumbFigureValue *keystone = &evaluation->figures[PLUMB_FIGURE_keystone_width_ratio];
  const PlumbSeatFigures *worst = seat_that_sees_least (evaluation);
  GString *out = g_string_new (NULL);

  if (!width->valid)
    return g_string_free (g_string_append (out, "no picture on the screen"), FALSE);
  g_autofree char *wide = plumb_length_format (width->value[0], words.units, words.show);
  g_string_append_printf (out, "%s %s wide", corrected ? "picture" : "raw picture", wide);
  if (!corrected && keystone->valid)
    {
      g_autofree char *ratio = plumb_number_format (keystone->value[0], 2, words.show);
      g_string_append_printf (out, "; its upper edge %s of the lower", ratio);
    }
  else if (worst != NULL && worst->hidden_share >= 0.0005)
    {
      g_autofree char *hidden = plumb_share_format (worst->hidden_share, 1, words.show);
      g_string_append_printf (out, "; seat %s sees least, %s hidden",
                              plumb_scene_resolved (scene)->seats[worst->seat].id, hidden);
    }
  else if (worst != NULL)
    g_string_append (out, "; nothing hidden from any seat");
  return g_string_free (out, FALSE);
}

/* Black over white in a room with no light but the picture's own, from memory:
 * what is left of a machine's contrast when half the picture is white. */
#define DARK_BLACK_SHARE 0.004

/* ---- light ------------------------------------------------------------------------- */

static const PlumbStateFigures *
state_of (const PlumbEvaluation *evaluation, uint32_t light)
{
  return light < evaluation->n_states ? &evaluation->states[light] : NULL;
}

char *
plumb_light_name (const PlumbScene *scene, uint32_t light)
{
  uint32_t n;

  plumb_scene_light_state_records (scene, &n);
  return light < n ? plumb_record_name (scene, PLUMB_RECORD_LIGHT_STATE, light) : g_strdup ("dark room");
}

char *
plumb_light_words (const PlumbScene *scene, const PlumbEvaluation *evaluation, uint32_t light, PlumbWords words)
{
  const PlumbStateFigures *state = state_of (evaluation, light);

  if (light == PLUMB_NO_INDEX)
    return g_strdup ("The beam alone: no lamp or window is counted.");
  if (state == NULL || !state->known)
    return g_strdup ("How much light falls on the screen is not known.");
  double wanted = plumb_scene_light_state (scene, light)->wanted_contrast_ratio;
  g_autofree char *lux = plumb_number_format (state->ambient_lx, 0, words.show);
  g_autofree char *contrast = plumb_number_format (state->contrast_ratio, 0, words.show);
  g_autofree char *wish = plumb_number_format (wanted, 0, words.show);
  if (!(wanted > 1.0))
    return g_strdup_printf ("%s lx on the screen, contrast %s : 1", lux, contrast);
  return g_strdup_printf ("%s lx on the screen, contrast %s : 1, %s : 1 wanted", lux, contrast, wish);
}

const PlumbFinding *
plumb_light_finding (const PlumbEvaluation *evaluation, uint32_t light)
{
  for (uint32_t i = 0; i < evaluation->n_findings && light != PLUMB_NO_INDEX; i++)
    if (evaluation->findings[i].check == PLUMB_CHECK_LIGHT_CONTRAST && evaluation->findings[i].subject.index == light)
      return &evaluation->findings[i];
  return NULL;
}

void
plumb_light_shares (const PlumbEvaluation *evaluation, uint32_t light, double *white_share, double *black_share)
{
  const PlumbStateFigures *state = state_of (evaluation, light);
  bool lit = state != NULL && state->known;

  *white_share = lit ? state->white_share : 1.0;
  *black_share = lit ? state->black_share : light == PLUMB_NO_INDEX ? DARK_BLACK_SHARE : 0.0;
}
