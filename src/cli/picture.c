/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli-private.h"

#include <string.h>

#include "app/view3d-colours.h"
#include "job/content.h"
#include "view3d/view3d.h"

#define USUAL_SIZE "1600x1000"

/* What the arguments ask for, before the job is known. */
typedef struct {
  int width_px, height_px;
  PlumbCameraKind from;
  const char *seat; /* its id; NULL: not from a seat */
  PlumbPattern pattern;
  PlumbContent content; /* rgba NULL: the pattern */
} Wish;

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

static bool
place_camera (const PlumbCliJob *job, const Wish *wish, const PlumbEvaluation *evaluation, PlumbView3d *view)
{
  static const char *const lacking[] = {
    [PLUMB_CAMERA_ROOM] = "--from room: the job has no walls yet",
    [PLUMB_CAMERA_FRONT] = "--from front: the arrangement has no screen",
    [PLUMB_CAMERA_LENS] = "--from lens: the arrangement has no beam",
    [PLUMB_CAMERA_SEAT] = "--from seat: the arrangement has no screen to look at",
  };
  PlumbCamera camera;
  uint32_t seat = PLUMB_NO_INDEX;

  if (wish->from == PLUMB_CAMERA_SEAT)
    {
      seat = plumb_cli_find_seat (job->scene, "--from seat:", wish->seat);
      if (seat == PLUMB_NO_INDEX)
        return false;
    }
  if (!plumb_camera_home (job->scene, evaluation, wish->from, seat, (double) wish->width_px / wish->height_px,
                          &camera))
    {
      plumb_cli_complain ("%s", lacking[wish->from]);
      return false;
    }
  plumb_view3d_set_camera (view, &camera);
  return true;
}

static void
dress (PlumbView3d *view, const Wish *wish, bool dark)
{
  PlumbView3dColours colours = plumb_view3d_colours (plumb_draw_theme (dark ? PLUMB_THEME_DARK : PLUMB_THEME_LIGHT));
  PlumbView3dOptions options = {
    .beam = true,
    .thrown = true,
    .seat = PLUMB_NO_INDEX,
    .chosen = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX },
    .hovered = { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX },
    .white_share = 1.0,
  };

  /* From the lens the beam's own faces would lie along the line of sight. */
  if (wish->from == PLUMB_CAMERA_LENS)
    options.beam = false;
  plumb_view3d_set_colours (view, &colours);
  plumb_view3d_set_options (view, &options);
  plumb_view3d_set_pattern (view, wish->pattern);
  if (wish->content.rgba != NULL)
    plumb_view3d_set_content (view, wish->content.rgba, wish->content.width_px, wish->content.height_px);
}

static PlumbExit
render (PlumbView3d *view, const Wish *wish, const char *output)
{
  g_autoptr (GError) error = NULL;
  PlumbOffscreen *offscreen = plumb_offscreen_new (false, NULL);
  uint8_t *rgba = NULL;

  if (offscreen == NULL)
    offscreen = plumb_offscreen_new (true, &error);
  if (offscreen != NULL)
    rgba = plumb_offscreen_picture (offscreen, view, wish->width_px, wish->height_px, &error);
  bool done = rgba != NULL && plumb_picture_write (output, rgba, wish->width_px, wish->height_px, &error);
  if (!done)
    plumb_cli_complain ("picture: %s", error->message);
  g_free (rgba);
  if (offscreen != NULL)
    plumb_offscreen_free (offscreen);
  return done ? PLUMB_EXIT_DONE : PLUMB_EXIT_TROUBLE;
}

static PlumbExit
make (const PlumbCliJob *job, const Wish *wish, const PlumbCliOptions *options)
{
  PlumbEvaluation *evaluation;
  PlumbExit code = PLUMB_EXIT_USAGE;

  if (!plumb_evaluate (job->scene, job->first, &evaluation))
    {
      plumb_cli_complain ("there is not enough memory");
      return PLUMB_EXIT_TROUBLE;
    }
  PlumbView3d *view = plumb_view3d_new ();
  PlumbScene *scene = plumb_scene_ref (job->scene);
  plumb_view3d_set_scene (view, scene, evaluation);
  if (place_camera (job, wish, evaluation, view))
    {
      dress (view, wish, options->dark);
      code = render (view, wish, options->output);
    }
  plumb_view3d_free (view);
  plumb_scene_unref (scene);
  plumb_evaluation_free (evaluation);
  return code;
}

PlumbExit
plumb_cli_picture (char **arguments)
{
  g_auto (PlumbCliOptions) options = { 0 };
  g_auto (PlumbCliJob) job = { 0 };
  Wish wish = { 0 };

  if (!plumb_cli_options_read (&options, arguments, PLUMB_OPTION_PICTURE,
                               "Pictures the room with the picture thrown in it.")
      || !find_output (options.output) || !find_size (&wish, options.size) || !find_from (&wish, options.from)
      || !find_content (&wish, options.content))
    return PLUMB_EXIT_USAGE;
  PlumbExit code = plumb_cli_job_open (&job, &options, false);
  if (code == PLUMB_EXIT_DONE)
    code = make (&job, &wish, &options);
  plumb_content_clear (&wish.content);
  return code;
}
