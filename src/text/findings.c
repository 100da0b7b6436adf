/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text/findings.h"

#include <math.h>
#include <string.h>

#include "wording-private.h"

/* ---- fixed words ------------------------------------------------------------------ */

#define WORD(words, value) ((unsigned) (value) < G_N_ELEMENTS (words) ? (words)[value] : "unknown")

const char *
plumb_verdict_word (PlumbVerdict verdict)
{
  static const char *const words[] = { "holds", "tight", "unknown", "fails" };
  return WORD (words, verdict);
}

const char *
plumb_basis_word (PlumbBasis basis)
{
  static const char *const words[] = { "standard", "common practice", "data sheet", "geometry", "job" };
  return WORD (words, basis);
}

const char *
plumb_family_word (PlumbFamily family)
{
  static const char *const words[] = { "job", "beam", "body", "people", "light", "screen" };
  return WORD (words, family);
}

const char *
plumb_step_word (PlumbStep step)
{
  static const char *const words[] = { "Room", "Screen", "Machine and place", "People", "Light and air", "Hanging",
                                       "Runs", "Choice", "Squaring up",       "Papers" };
  return WORD (words, step);
}

const char *
plumb_caution (void)
{
  return "Advice only: it says what was checked and how it came out, not that the plan is safe; the local code and "
         "licensed trades decide about structure, fixings and electricity.";
}

/* ---- cures -------------------------------------------------------------------------- */

typedef enum { AMOUNT_UP, AMOUNT_RATIO_DOWN, AMOUNT_RATIO_UP } AmountRounding;

/* with: {} is the amount; without: where no amount is known. */
typedef struct {
  const char *word, *with, *without, *unit;
  AmountRounding rounding;
} CureWords;

static const CureWords cure_words[PLUMB_N_CURES] = {
  [PLUMB_CURE_NONE] = { "none", NULL, NULL, "m", AMOUNT_UP },
  [PLUMB_CURE_NEARER] = { "nearer", "Move the machine {} nearer to the picture",
                          "Move the machine nearer to the picture", "m", AMOUNT_UP },
  [PLUMB_CURE_FARTHER] = { "farther", "Move the machine {} farther from the picture",
                           "Move the machine farther from the picture", "m", AMOUNT_UP },
  [PLUMB_CURE_LEFT]
  = { "left", "Move the machine {} to the viewers' left", "Move the machine to the viewers' left", "m", AMOUNT_UP },
  [PLUMB_CURE_RIGHT] = { "right", "Move the machine {} to the viewers' right",
                         "Move the machine to the viewers' right", "m", AMOUNT_UP },
  [PLUMB_CURE_UP] = { "up", "Move the machine {} up", "Move the machine up", "m", AMOUNT_UP },
  [PLUMB_CURE_DOWN] = { "down", "Move the machine {} down", "Move the machine down", "m", AMOUNT_UP },
  [PLUMB_CURE_TILT_UP] = { "tilt_up", "Tilt the beam {} up", "Tilt the beam up", "rad", AMOUNT_UP },
  [PLUMB_CURE_TILT_DOWN] = { "tilt_down", "Tilt the beam {} down", "Tilt the beam down", "rad", AMOUNT_UP },
  [PLUMB_CURE_LESS_TILT] = { "less_tilt", "Tilt the machine {} less", "Tilt the machine less", "rad", AMOUNT_UP },
  [PLUMB_CURE_SMALLER_PICTURE]
  = { "smaller_picture", "Make the picture {} narrower", "Make the picture smaller", "m", AMOUNT_UP },
  [PLUMB_CURE_LARGER_PICTURE]
  = { "larger_picture", "Make the picture {} wider", "Make the picture larger", "m", AMOUNT_UP },
  [PLUMB_CURE_SHORTER_LENS] = { "shorter_lens", "Take a lens that goes down to a throw ratio of {}",
                                "Take a lens with a smaller throw ratio", "ratio", AMOUNT_RATIO_DOWN },
  [PLUMB_CURE_LONGER_LENS] = { "longer_lens", "Take a lens that goes up to a throw ratio of {}",
                               "Take a lens with a greater throw ratio", "ratio", AMOUNT_RATIO_UP },
  [PLUMB_CURE_SHORTER_DROP] = { "shorter_drop", "Shorten the drop by {}", "Shorten the drop", "m", AMOUNT_UP },
  [PLUMB_CURE_LONGER_DROP] = { "longer_drop", "Lengthen the drop by {}", "Lengthen the drop", "m", AMOUNT_UP },
  [PLUMB_CURE_LARGER_PORT] = { "larger_port", "Make the port {} larger", "Make the port larger", "m", AMOUNT_UP },
  [PLUMB_CURE_MOVE_BLOCKER]
  = { "move_blocker", "Move what is in the way by {}", "Move what is in the way", "m", AMOUNT_UP },
  [PLUMB_CURE_MEASURE] = { "measure", NULL, "Measure again", "m", AMOUNT_UP },
  [PLUMB_CURE_FLATTER] = { "flatter", "Make the face flatter by {}", "Make the face flatter", "m", AMOUNT_UP },
  [PLUMB_CURE_SEAT_NEARER] = { "seat_nearer", "Move the seat {} nearer to the picture",
                               "Move the seat nearer to the picture", "m", AMOUNT_UP },
  [PLUMB_CURE_SEAT_FARTHER] = { "seat_farther", "Move the seat {} farther from the picture",
                                "Move the seat farther from the picture", "m", AMOUNT_UP },
  [PLUMB_CURE_SEAT_HIGHER] = { "seat_higher", "Raise the seat by {}", "Raise the seat", "m", AMOUNT_UP },
  [PLUMB_CURE_RISER] = { "riser", "Raise each row {} more over the one in front", "Raise each row more", "m", AMOUNT_UP },
  [PLUMB_CURE_DARKER_ROOM] = { "darker_room", "Take {} off the room light on the screen",
                               "Take room light off the screen", "lx", AMOUNT_UP },
  [PLUMB_CURE_BRIGHTER] = { "brighter", "Take a machine with {} more", "Take a brighter machine", "lm", AMOUNT_UP },
  [PLUMB_CURE_QUIETER] = { "quieter", "Take a machine that is {} quieter, or one farther away",
                           "Take a quieter machine", "db", AMOUNT_UP },
  [PLUMB_CURE_SCREEN_FORWARD] = { "screen_forward", "Hang the screen {} nearer to the viewers",
                                  "Hang the screen nearer to the viewers", "m", AMOUNT_UP },
  [PLUMB_CURE_SCREEN_BACK] = { "screen_back", "Hang the screen {} nearer to the wall",
                               "Hang the screen nearer to the wall", "m", AMOUNT_UP },
  [PLUMB_CURE_RAISE_SPEAKER]
  = { "raise_speaker", "Raise the loudspeaker by {}", "Raise the loudspeaker", "m", AMOUNT_UP },
  [PLUMB_CURE_MOVE_OFF]
  = { "move_off", "Move what stands there by {}", "Move what stands there", "m", AMOUNT_UP },
};

const char *
plumb_cure_word (PlumbCure cure)
{
  return (unsigned) cure < PLUMB_N_CURES ? cure_words[cure].word : "none";
}

/* Rounded to the side on which the cure still cures. */
static char *
cure_amount (const CureWords *cure, double amount, PlumbWords words)
{
  double ratio_steps = amount * 100.0;
  switch (cure->rounding)
    {
    case AMOUNT_RATIO_DOWN:
      return plumb_number_format (floor (ratio_steps + 1e-6) / 100.0, 2, words.show);
    case AMOUNT_RATIO_UP:
      return plumb_number_format (ceil (ratio_steps - 1e-6) / 100.0, 2, words.show);
    case AMOUNT_UP:
    default:
      return plumb_figure_format_spread (amount, cure->unit, words.units, words.show);
    }
}

char *
plumb_finding_cure (const PlumbFinding *finding, PlumbWords words)
{
  if ((unsigned) finding->cure >= PLUMB_N_CURES || finding->cure == PLUMB_CURE_NONE)
    return NULL;
  const CureWords *cure = &cure_words[finding->cure];
  if (cure->with == NULL || !(isfinite (finding->cure_amount) && finding->cure_amount > 0.0))
    return g_strdup (cure->without);

  const char *gap = strstr (cure->with, "{}");
  g_autofree char *amount = cure_amount (cure, finding->cure_amount, words);
  return g_strdup_printf ("%.*s%s%s", (int) (gap - cure->with), cure->with, amount, gap + 2);
}

/* ---- figure, limit, basis -------------------------------------------------------------- */

char *
plumb_finding_figure (const PlumbFinding *finding, PlumbWords words)
{
  if (!finding->has_figure)
    return NULL;
  g_autofree char *figure = plumb_figure_format (finding->figure, finding->unit, words.units, words.show);
  if (!(finding->spread > 0.0))
    return g_steal_pointer (&figure);
  g_autofree char *spread = plumb_figure_format_spread (finding->spread, finding->unit, words.units, words.show);
  return g_strdup_printf ("%s %s %s", figure, (words.show & PLUMB_SHOW_PLAIN) != 0 ? "+/-" : "±", spread);
}

char *
plumb_finding_limit (const PlumbFinding *finding, PlumbWords words)
{
  g_autofree char *least = plumb_figure_format (finding->limit_least, finding->unit, words.units, words.show);
  g_autofree char *most = plumb_figure_format (finding->limit_most, finding->unit, words.units, words.show);
  switch (finding->sense)
    {
    case PLUMB_LIMIT_AT_MOST:
      return g_strdup_printf ("at most %s", most);
    case PLUMB_LIMIT_AT_LEAST:
      return g_strdup_printf ("at least %s", least);
    case PLUMB_LIMIT_BETWEEN:
      return strcmp (least, most) == 0 ? g_strdup (least) : g_strdup_printf ("%s to %s", least, most);
    case PLUMB_LIMIT_NONE:
    default:
      return NULL;
    }
}

bool
plumb_finding_spare (const PlumbFinding *finding, double *spare)
{
  double over = finding->figure - finding->limit_least, under = finding->limit_most - finding->figure;
  switch (finding->sense)
    {
    case PLUMB_LIMIT_AT_MOST:
      *spare = under;
      break;
    case PLUMB_LIMIT_AT_LEAST:
      *spare = over;
      break;
    case PLUMB_LIMIT_BETWEEN:
      *spare = MIN (over, under);
      break;
    case PLUMB_LIMIT_NONE:
    default:
      return false;
    }
  return finding->has_figure && isfinite (*spare);
}

/* The reason that the job gives for its own value of a limit. */
static const char *
job_reason (const PlumbScene *scene, const char *limit_id)
{
  uint32_t i = plumb_scene_find (scene, PLUMB_RECORD_LIMIT, limit_id);
  return i != PLUMB_NO_INDEX ? plumb_scene_limit (scene, i)->reason : "";
}

char *
plumb_finding_basis (const PlumbScene *scene, const PlumbFinding *finding)
{
  const PlumbLimit *limit = finding->limit < plumb_limit_count () ? plumb_limit_at (finding->limit) : NULL;
  const char *source = limit != NULL && limit->source != NULL ? limit->source : "";
  switch (finding->basis)
    {
    case PLUMB_BASIS_STANDARD:
      return g_strdup (source[0] != '\0' ? source : "a published standard");
    case PLUMB_BASIS_PRACTICE:
      return g_strdup (source[0] != '\0' ? source : "common practice, no source");
      case PLUMB_BASIS_DATA_SHEET: {
        g_autofree char *of = plumb_finding_subject_name (scene, finding);
        return g_strdup_printf ("data sheet (%s)", of);
      }
      case PLUMB_BASIS_JOB: {
        const char *reason = limit != NULL ? job_reason (scene, limit->id) : "";
        return reason[0] != '\0' ? g_strdup_printf ("set by the job: %s", reason) : g_strdup ("set by the job");
      }
    case PLUMB_BASIS_GEOMETRY:
    default:
      return g_strdup ("geometry");
    }
}

char *
plumb_finding_missing_key (const PlumbScene *scene, const PlumbFinding *finding)
{
  PlumbRecordKind kind = finding->missing_kind;
  if (finding->verdict != PLUMB_UNKNOWN || (int) kind < 0 || kind >= PLUMB_N_RECORDS)
    return NULL;
  const PlumbRecordInfo *info = plumb_record_info (kind);
  if (finding->missing_field < 0 || finding->missing_field >= info->n_fields)
    return NULL;
  g_autofree char *record = plumb_record_key (scene, kind, finding->missing_index);
  return g_strdup_printf ("%s.%s", record, info->fields[finding->missing_field].key);
}

/* ---- the sentence ------------------------------------------------------------------------ */

static void
capitalise (GString *text)
{
  if (text->len > 0)
    text->str[0] = g_ascii_toupper (text->str[0]);
}

static void
append_spare (GString *text, const PlumbFinding *finding, PlumbWords words)
{
  double spare;
  if (!plumb_finding_spare (finding, &spare))
    return;
  /* On the limit to within rounding. */
  spare = MAX (spare, 0.0);
  g_autofree char *shown = plumb_figure_format (spare, finding->unit, words.units, words.show);
  if (finding->verdict == PLUMB_HOLDS)
    {
      g_string_append_printf (text, ", with %s to spare", shown);
      return;
    }
  g_autofree char *spread = plumb_figure_format_spread (finding->spread, finding->unit, words.units, words.show);
  g_string_append_printf (text, ", but with only %s to spare and a spread of %s", shown, spread);
}

/* "Move the machine 0.140 m nearer to the picture: " or nothing. */
static void
append_advice (GString *text, const PlumbScene *scene, const PlumbFinding *finding, PlumbWords words)
{
  g_autofree char *missing = plumb_finding_missing_key (scene, finding);
  if (missing != NULL)
    {
      g_string_append_printf (text, "Type %s: ", missing);
      return;
    }
  /* To measure again helps only within the spread, and is said there. */
  if (finding->verdict == PLUMB_HOLDS || finding->cure == PLUMB_CURE_MEASURE)
    return;
  g_autofree char *cure = plumb_finding_cure (finding, words);
  if (cure != NULL)
    g_string_append_printf (text, "%s: ", cure);
}

static bool
needs_figure (const char *statement)
{
  return strstr (statement, "{figure}") != NULL || strstr (statement, "{beyond}") != NULL;
}

char *
plumb_finding_sentence (const PlumbScene *scene, const PlumbFinding *finding, PlumbWords words)
{
  const PlumbWording *wording = plumb_wording_find (finding->check, finding->variant);
  const char *statement = finding->verdict == PLUMB_FAILS     ? wording->fails
                          : finding->verdict == PLUMB_UNKNOWN ? wording->bare
                                                              : wording->holds;
  /* Nothing was there to measure: the beam went nowhere, or nothing stands near. */
  if (!finding->has_figure && needs_figure (statement))
    statement = wording->bare;
  GString *text = g_string_new (NULL);
  append_advice (text, scene, finding, words);
  g_autofree char *filled = plumb_wording_fill (statement, scene, finding, words);
  g_string_append (text, filled);
  if (finding->verdict == PLUMB_HOLDS || finding->verdict == PLUMB_TIGHT)
    append_spare (text, finding, words);
  if (finding->verdict == PLUMB_FAILS && finding->spread_reaches_back)
    g_string_append (text, " (within what was measured: measure again)");
  g_string_append_c (text, '.');
  capitalise (text);
  return g_string_free (text, FALSE);
}

/* ---- the count ----------------------------------------------------------------------------- */

char *
plumb_evaluation_summary (const PlumbEvaluation *evaluation)
{
  static const struct {
    PlumbVerdict verdict;
    const char *one, *many;
  } lines[] = {
    { PLUMB_FAILS, "fails", "fail" },
    { PLUMB_UNKNOWN, "is unknown", "are unknown" },
    { PLUMB_TIGHT, "is tight", "are tight" },
    { PLUMB_HOLDS, "holds", "hold" },
  };
  GString *out = g_string_new (NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      unsigned count = 0;
      for (uint32_t k = 0; k < evaluation->n_findings; k++)
        count += evaluation->findings[k].verdict == lines[i].verdict;
      if (count > 0)
        g_string_append_printf (out, "%s%u %s", out->len > 0 ? ", " : "", count,
                                count == 1 ? lines[i].one : lines[i].many);
    }
  if (out->len == 0)
    g_string_append (out, "nothing was checked");
  return g_string_free (out, FALSE);
}
