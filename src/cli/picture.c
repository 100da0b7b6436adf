/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli-private.h"

#include <string.h>

#include "app/view3d-colours.h"
#include "draw/halves.h"
#include "job/content.h"
#include "text/half.h"
#include "view3d/view3d.h"

#define USUAL_SIZE "1600x1000"

/* What the arguments ask for, before the job is known. */
typedef struct {
  int width_px, height_px;
  PlumbCameraKind from;
  const char *seat; /* its id; NULL: not from a seat */
  PlumbPattern pattern;
  PlumbContent content; /* rgba NULL: the pattern */
  const PlumbDrawTheme *theme;
} Wish;

/* Of what a picture is taken. */
typedef struct {
  PlumbHalf half;
  uint32_t arrangement, light; /* PLUMB_NO_INDEX: the dark room */
  bool corrected;
} Sight;

static bool
find_output (const char *output)
{
  if (output == NULL)
    plumb_cli_complain ("picture: -o OUT is missing; see: plumbeam picture --help");
  else if (!g_str_has_suffix (output, ".png"))
    plumb_cli_complain ("picture: OUT must end in .png");
  else
    return true;
  return false;
}

static bool
find_size (Wish *wish, const char *text)
{
  g_autoptr (GError) error = NULL;
  if (plumb_picture_size_from_text (text != NULL ? text : USUAL_SIZE, &wish->width_px, &wish->height_px, &error))
    return true;
  plumb_cli_complain ("--size %s", error->message);
  return false;
}

static bool
find_from (Wish *wish, const char *word)
{
  static const struct {
    const char *word;
    PlumbCameraKind kind;
  } words[] = { { "room", PLUMB_CAMERA_ROOM }, { "front", PLUMB_CAMERA_FRONT }, { "lens", PLUMB_CAMERA_LENS } };

  wish->from = PLUMB_CAMERA_ROOM;
  if (word == NULL)
    return true;
  if (g_str_has_prefix (word, "seat:"))
    {
      wish->from = PLUMB_CAMERA_SEAT;
      wish->seat = word + strlen ("seat:");
      return true;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (strcmp (word, words[i].word) == 0)
      {
        wish->from = words[i].kind;
        return true;
      }
  plumb_cli_complain ("--from %s: there are room, front, lens and seat:ID", word);
  return false;
}

/* A word is a pattern of our own, anything else a file. */
static bool
find_content (Wish *wish, const char *content)
{
  static const char *const words[PLUMB_N_PATTERNS] = {
    [PLUMB_PATTERN_GRID] = "grid",   [PLUMB_PATTERN_LANDSCAPE] = "landscape", [PLUMB_PATTERN_TEXT] = "text",
    [PLUMB_PATTERN_WHITE] = "white", [PLUMB_PATTERN_BLACK] = "black",
  };
  g_autoptr (GError) error = NULL;

  wish->pattern = PLUMB_PATTERN_LANDSCAPE;
  if (content == NULL)
    return true;
  for (int i = 0; i < PLUMB_N_PATTERNS; i++)
    if (strcmp (content, words[i]) == 0)
      {
        wish->pattern = (PlumbPattern) i;
        return true;
      }
  if (plumb_content_read (&wish->content, content, &error))
    return true;
  g_autofree char *shown = g_filename_display_name (content);
  plumb_cli_complain ("--content %s: %s", shown, error->message);
  return false;
}

/* A state's id, or `dark`. */
static bool
find_light (const PlumbScene *scene, const char *option, const char *word, uint32_t *light)
{
  uint32_t n;
  const PlumbLightState *all = plumb_scene_light_state_records (scene, &n);
  GString *ids = g_string_new (NULL);

  *light = plumb_scene_find (scene, PLUMB_RECORD_LIGHT_STATE, word);
  for (uint32_t i = 0; i < n; i++)
    g_string_append_printf (ids, ", %s", all[i].id);
  g_autofree char *others = g_string_free (ids, FALSE);
  if (*light != PLUMB_NO_INDEX || strcmp (word, "dark") == 0)
    return true;
  plumb_cli_complain ("%s%s: there is no such light state; the job has dark%s", option, word, others);
  return false;
}

static bool
place_camera (const Sight *sight, const Wish *wish, double aspect, PlumbCamera *camera)
{
  static const char *const lacking[] = {
    [PLUMB_CAMERA_ROOM] = "--from room: the job has no walls yet",
    [PLUMB_CAMERA_FRONT] = "--from front: the arrangement has no screen",
    [PLUMB_CAMERA_LENS] = "--from lens: the arrangement has no beam",
    [PLUMB_CAMERA_SEAT] = "--from seat: the arrangement has no screen to look at",
  };
  uint32_t seat = PLUMB_NO_INDEX;

  if (wish->from == PLUMB_CAMERA_SEAT)
    {
      seat = plumb_cli_find_seat (sight->half.scene, "--from seat:", wish->seat);
      if (seat == PLUMB_NO_INDEX)
        return false;
    }
  if (plumb_camera_home (sight->half.scene, sight->half.evaluation, wish->from, seat, aspect, camera))
    return true;
  plumb_cli_complain ("%s", lacking[wish->from]);
  return false;
}

static void
dress (PlumbView3d *view, const Wish *wish, const Sight *sight)
{
  PlumbView3dColours colours = plumb_view3d_colours (wish->theme);
  PlumbView3dOptions options = {
    .beam = true,
    .thrown = true,
    .ghosts = true,
    .seat = PLUMB_NO_INDEX,
    .chosen = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX },
    .hovered = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX },
  };

  /* From the lens the beam's own faces would lie along the line of sight. */
  if (wish->from == PLUMB_CAMERA_LENS)
    options.beam = false;
  plumb_light_shares (sight->half.evaluation, sight->light, &options.white_share, &options.black_share);
  plumb_view3d_set_colours (view, &colours);
  plumb_view3d_set_options (view, &options);
  plumb_view3d_set_pattern (view, wish->pattern);
  if (wish->content.rgba != NULL)
    plumb_view3d_set_content (view, wish->content.rgba, wish->content.width_px, wish->content.height_px);
}

static uint8_t *
render (const Sight *sight, const Wish *wish, const PlumbCamera *camera, int width_px, int height_px, GError **error)
{
  PlumbOffscreen *offscreen = plumb_offscreen_new (false, NULL);

  if (offscreen == NULL)
    offscreen = plumb_offscreen_new (true, error);
  if (offscreen == NULL)
    return NULL;
  PlumbView3d *view = plumb_view3d_new ();
  plumb_view3d_set_scene (view, sight->half.scene, sight->half.evaluation);
  plumb_view3d_set_camera (view, camera);
  dress (view, wish, sight);
  uint8_t *rgba = plumb_offscreen_picture (offscreen, view, width_px, height_px, error);
  plumb_view3d_free (view);
  plumb_offscreen_free (offscreen);
  return rgba;
}

static PlumbExit
write_picture (const Wish *wish, uint8_t *rgba, const char *output, GError *error)
{
  g_autoptr (GError) first = error;

  bool done = rgba != NULL && plumb_picture_write (output, rgba, wish->width_px, wish->height_px, &first);
  if (!done)
    plumb_cli_complain ("picture: %s", first->message);
  return done ? PLUMB_EXIT_DONE : PLUMB_EXIT_TROUBLE;
}

static PlumbExit
make_one (const Sight *sight, const Wish *wish, const char *output)
{
  GError *error = NULL;
  PlumbCamera camera;

  if (!place_camera (sight, wish, (double) wish->width_px / wish->height_px, &camera))
    return PLUMB_EXIT_USAGE;
  g_autofree uint8_t *rgba = render (sight, wish, &camera, wish->width_px, wish->height_px, &error);
  return write_picture (wish, rgba, output, error);
}

/* ---- before and after --------------------------------------------------------------- */

/* LIGHT, ARRANGEMENT or `uncorrected`; what it does not say is as after. */
static bool
find_before (const PlumbScene *scene, const char *word, const Sight *after, Sight *before)
{
  uint32_t n;
  const PlumbArrangement *all = plumb_scene_arrangement_records (scene, &n);

  *before = (Sight){ .arrangement = after->arrangement, .light = after->light, .corrected = true };
  if (g_str_has_prefix (word, "light:"))
    return find_light (scene, "--before light:", word + strlen ("light:"), &before->light);
  uint32_t found = plumb_scene_find (scene, PLUMB_RECORD_ARRANGEMENT, word);
  if (found != PLUMB_NO_INDEX)
    before->arrangement = found;
  else if (strcmp (word, "uncorrected") == 0)
    before->corrected = false;
  else
    {
      GString *ids = g_string_new (NULL);
      for (uint32_t i = 0; i < n; i++)
        g_string_append_printf (ids, "%s, ", all[i].id);
      g_autofree char *shown = g_string_free (ids, FALSE);
      plumb_cli_complain ("--before %s: there is no such arrangement; there are %suncorrected and light:STATE", word,
                          shown);
      return false;
    }
  return true;
}

/* What its foot says; the strings are the caller's. */
typedef struct {
  char *name, *light, *figures;
} Caption;

static Caption
caption_of (const Sight *sight, PlumbWords words)
{
  g_autofree char *what = plumb_half_name (sight->half.scene, sight->arrangement, sight->corrected);
  g_autofree char *light = plumb_light_name (sight->half.scene, sight->light);

  words.show = PLUMB_SHOW_TYPOGRAPHIC;
  return (Caption){ g_strdup_printf ("%s; %s", what, light),
                    plumb_light_words (sight->half.scene, sight->half.evaluation, sight->light, words),
                    plumb_half_figures (sight->half.scene, sight->half.evaluation, words) };
}

static void
caption_clear (Caption *caption)
{
  g_free (caption->name);
  g_free (caption->light);
  g_free (caption->figures);
}

static PlumbExit
make_two (const Sight sights[2], const Wish *wish, PlumbWords words, const char *output)
{
  static const char *const titles[] = { "before", "after" };
  PlumbHalvesLayout layout = plumb_draw_halves_layout (wish->width_px, wish->height_px);
  PlumbDrawHalf halves[2] = { { 0 } };
  uint8_t *pictures[2] = { NULL, NULL }, *rgba = NULL;
  Caption captions[2];
  PlumbCamera camera;
  GError *error = NULL;

  /* One camera, that of after: what moves in the picture has moved. */
  if (!place_camera (&sights[1], wish, (double) layout.half_width_px / layout.half_height_px, &camera))
    return PLUMB_EXIT_USAGE;
  for (int i = 0; i < 2; i++)
    {
      if (i == 0 || pictures[0] != NULL)
        pictures[i] = render (&sights[i], wish, &camera, layout.half_width_px, layout.half_height_px, &error);
      captions[i] = caption_of (&sights[i], words);
      halves[i] = (PlumbDrawHalf){ titles[i],
                                   captions[i].name,
                                   captions[i].light,
                                   captions[i].figures,
                                   plumb_light_finding (sights[i].half.evaluation, sights[i].light),
                                   pictures[i] };
    }
  if (pictures[0] != NULL && pictures[1] != NULL)
    {
      rgba = plumb_draw_halves (&layout, halves, wish->theme);
      if (rgba == NULL)
        g_set_error_literal (&error, G_FILE_ERROR, G_FILE_ERROR_NOMEM, "there is not enough memory");
    }
  PlumbExit code = write_picture (wish, rgba, output, error);
  for (int i = 0; i < 2; i++)
    {
      g_free (pictures[i]);
      caption_clear (&captions[i]);
    }
  g_free (rgba);
  return code;
}

/* ---- the command ---------------------------------------------------------------------- */

static bool
work_out (const PlumbCliJob *job, Sight *sight)
{
  if (plumb_half_make (&sight->half, job->scene, sight->arrangement, sight->corrected))
    return true;
  plumb_cli_complain ("there is not enough memory");
  return false;
}

static PlumbExit
make (const PlumbCliJob *job, const Wish *wish, const PlumbCliOptions *options)
{
  /* Before, after. */
  Sight sights[2] = { { { 0 } }, { .arrangement = job->first, .light = PLUMB_NO_INDEX, .corrected = true } };
  PlumbExit code = PLUMB_EXIT_TROUBLE;

  if ((options->light != NULL && !find_light (job->scene, "--light ", options->light, &sights[1].light))
      || (options->before != NULL && !find_before (job->scene, options->before, &sights[1], &sights[0])))
    return PLUMB_EXIT_USAGE;
  if (work_out (job, &sights[1]) && (options->before == NULL || work_out (job, &sights[0])))
    code = options->before != NULL ? make_two (sights, wish, job->words, options->output)
                                   : make_one (&sights[1], wish, options->output);
  plumb_half_clear (&sights[0].half);
  plumb_half_clear (&sights[1].half);
  return code;
}

static bool
has_room (const Wish *wish, const PlumbCliOptions *options)
{
  if (options->before == NULL || MIN (wish->width_px, wish->height_px) >= PLUMB_HALVES_LEAST_PX)
    return true;
  plumb_cli_complain ("--before: a picture of both takes %d pixels each way at least", PLUMB_HALVES_LEAST_PX);
  return false;
}

PlumbExit
plumb_cli_picture (char **arguments)
{
  g_auto (PlumbCliOptions) options = { 0 };
  g_auto (PlumbCliJob) job = { 0 };
  Wish wish = { 0 };

  if (!plumb_cli_options_read (&options, arguments, PLUMB_OPTION_PICTURE,
                               "Pictures the room with the picture thrown in it.")
      || !find_output (options.output) || !find_size (&wish, options.size) || !has_room (&wish, &options)
      || !find_from (&wish, options.from) || !find_content (&wish, options.content))
    return PLUMB_EXIT_USAGE;
  wish.theme = plumb_draw_theme (options.dark ? PLUMB_THEME_DARK : PLUMB_THEME_LIGHT);
  PlumbExit code = plumb_cli_job_open (&job, &options, false);
  if (code == PLUMB_EXIT_DONE)
    code = make (&job, &wish, &options);
  plumb_content_clear (&wish.content);
  return code;
}
