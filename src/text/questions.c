/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text/questions.h"

#include <math.h>
#include <string.h>

char *
plumb_question_figure (PlumbQuestion question, double figure, PlumbWords words)
{
  const char *gap = (words.show & PLUMB_SHOW_PLAIN) != 0 ? " " : "\u202f";
  if (!isfinite (figure))
    return plumb_figure_format (figure, "", words.units, words.show);
  switch (question)
    {
    case PLUMB_QUESTION_ALL:
    case PLUMB_QUESTION_HEIGHTS:
      return plumb_number_format (figure, 1, words.show);
      case PLUMB_QUESTION_CONTRAST: {
        g_autofree char *number = plumb_number_format (figure, figure < 10.0 ? 1 : 0, words.show);
        return g_strconcat (number, gap, ":", gap, "1", NULL);
      }
    case PLUMB_QUESTION_C_VALUE:
      /* Side by side: all in one unit. */
      return plumb_length_format (figure, words.units, words.show | PLUMB_SHOW_METRES);
    default:
      return plumb_figure_format (figure, plumb_question_info (question)->unit, words.units, words.show);
    }
}

char *
plumb_asked_meaning (const PlumbScene *scene, const PlumbAsked *asked)
{
  const char *meaning = plumb_question_info (asked->question)->meaning;
  if (asked->state == PLUMB_NO_INDEX)
    return g_strdup_printf ("figure: %s", meaning);
  g_autofree char *state = plumb_record_name (scene, PLUMB_RECORD_LIGHT_STATE, asked->state);
  return g_strdup_printf ("figure: %s, %s", meaning, state);
}

char *
plumb_finding_basis_short (const PlumbScene *scene, const PlumbFinding *finding)
{
  g_autofree char *basis = plumb_finding_basis (scene, finding);
  const char *colon = strstr (basis, ": ");
  return colon != NULL ? g_strndup (basis, (gsize) (colon - basis)) : g_steal_pointer (&basis);
}

char *
plumb_asked_limits (const PlumbScene *scene, const PlumbEvaluation *evaluation, const PlumbAsked *asked, bool brief,
                    PlumbWords words)
{
  if (asked->question == PLUMB_QUESTION_ALL)
    return g_strdup ("shape: the worst of all checks");
  GString *text = g_string_new (NULL);
  for (uint32_t k = 0; k < asked->n_findings; k++)
    {
      const PlumbFinding *finding = &evaluation->findings[asked->finding[k]];
      g_autofree char *limit = plumb_finding_limit (finding, words);
      g_autofree char *basis = plumb_finding_basis_short (scene, finding);
      if (limit == NULL)
        continue;
      g_string_append (text, text->len == 0 ? "shape: " : "; ");
      g_string_append (text, limit);
      /* Signs are held against the picture's height. */
      if (asked->question == PLUMB_QUESTION_TEXT)
        g_string_append (text, " of the picture’s height");
      if (!brief)
        g_string_append_printf (text, " (%s)", basis);
    }
  if (text->len == 0)
    g_string_append (text, "shape: no limit for the purpose of this job");
  return g_string_free (text, FALSE);
}
