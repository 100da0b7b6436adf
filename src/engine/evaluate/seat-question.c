/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plumbeam/seat-question.h"

#include <string.h>

#include "people-private.h"
#include "plumbeam/light.h"
#include "plumbeam/variants.h"

/* ---- questions ------------------------------------------------------------------ */

const PlumbQuestionInfo *
plumb_question_info (PlumbQuestion question)
{
  static const PlumbQuestionInfo infos[PLUMB_N_QUESTIONS] = {
#define INFO(name, word, unit, label, meaning) { word, unit, label, meaning },
    PLUMB_QUESTIONS (INFO)
  };

  return &infos[question];
}

bool
plumb_question_from_word (const char *word, PlumbQuestion *question)
{
  for (int i = 0; i < PLUMB_N_QUESTIONS; i++)
    if (strcmp (plumb_question_info ((PlumbQuestion) i)->word, word) == 0)
      {
        *question = (PlumbQuestion) i;
        return true;
      }
  return false;
}

static bool
asks (PlumbQuestion question, PlumbCheck check)
{
  switch (question)
    {
    case PLUMB_QUESTION_HIDDEN:
      return check == PLUMB_CHECK_PEOPLE_HIDDEN;
    case PLUMB_QUESTION_ANGLE:
      return check == PLUMB_CHECK_PEOPLE_ANGLE_LEAST || check == PLUMB_CHECK_PEOPLE_ANGLE_MOST;
    case PLUMB_QUESTION_HEIGHTS:
      return check == PLUMB_CHECK_PEOPLE_HEIGHTS;
    case PLUMB_QUESTION_LOOK_UP:
      return check == PLUMB_CHECK_PEOPLE_LOOK_UP;
    case PLUMB_QUESTION_OFF_AXIS:
      return check == PLUMB_CHECK_PEOPLE_OFF_AXIS;
    case PLUMB_QUESTION_C_VALUE:
      return check == PLUMB_CHECK_PEOPLE_C_VALUE;
    case PLUMB_QUESTION_TEXT:
      return check == PLUMB_CHECK_PEOPLE_TEXT;
    case PLUMB_QUESTION_PIXELS:
      return check == PLUMB_CHECK_PEOPLE_PIXELS;
    case PLUMB_QUESTION_LUMINANCE:
      return check == PLUMB_CHECK_LIGHT_LUMINANCE;
    case PLUMB_QUESTION_CONTRAST:
      return check == PLUMB_CHECK_LIGHT_CONTRAST;
    case PLUMB_QUESTION_NOISE:
      return check == PLUMB_CHECK_LIGHT_NOISE;
    case PLUMB_QUESTION_ALL:
    case PLUMB_N_QUESTIONS:
      break;
    }
  return false;
}

/* Of several wanted contrasts the one that is missed most; without one, the
 * state with least. */
static void
find_state (const PlumbEvaluation *e, PlumbAsked *asked)
{
  if (asked->n_findings > 0)
    {
      asked->n_findings = 1;
      asked->state = e->findings[asked->finding[0]].subject.index;
      return;
    }
  for (uint32_t i = 0; i < e->n_states; i++)
    if (e->states[i].known
        && (asked->state == PLUMB_NO_INDEX || e->states[i].contrast_ratio < e->states[asked->state].contrast_ratio))
      asked->state = i;
}

PlumbAsked
plumb_asked (const PlumbScene *scene, const PlumbEvaluation *e, PlumbQuestion question)
{
  PlumbAsked asked = { .question = question, .state = PLUMB_NO_INDEX };

  (void) scene;
  for (uint32_t i = 0; i < e->n_findings && asked.n_findings < PLUMB_ASKED_MAX_FINDINGS; i++)
    if (asks (question, e->findings[i].check) && e->findings[i].has_figure)
      asked.finding[asked.n_findings++] = i;
  if (question == PLUMB_QUESTION_CONTRAST)
    find_state (e, &asked);
  return asked;
}

/* ---- figures --------------------------------------------------------------------- */

/* Contrast towards a seat in the state, as its check has it towards the worst. */
static double
contrast_of (const PlumbScene *scene, const PlumbEvaluation *e, uint32_t state, uint32_t seat)
{
  double ratio;

  return plumb_seat_contrast (scene, e, state, seat, &ratio) ? ratio : 0.0;
}

/* In plan, about the picture's centre. */
static double
off_axis_level (const PlumbScene *scene, const PlumbEvaluation *e, uint32_t seat)
{
  PlumbSeen seen = plumb_seen_of (e);
  PlumbVec3 eye = plumb_scene_resolved (scene)->seats[seat].eye_m;

  return atan2 (fabs (plumb_seen_aside_m (&seen, eye)), plumb_seen_back_m (&seen, eye));
}

static double
off_axis_of (const PlumbScene *scene, const PlumbEvaluation *e, uint8_t variant, uint32_t seat)
{
  return variant == PLUMB_V_OFF_AXIS_FAR_EDGE ? e->seats[seat].far_edge_angle_rad
         : variant == PLUMB_V_OFF_AXIS_CENTRE ? off_axis_level (scene, e, seat)
                                              : e->seats[seat].off_axis_rad;
}

/* variant: of the finding whose limit is meant; some have measures of their
 * own. False where there is no figure. */
static bool
measure (const PlumbScene *scene, const PlumbEvaluation *e, const PlumbAsked *asked, uint8_t variant, uint32_t seat,
         double *figure)
{
  const PlumbSeatFigures *s = &e->seats[seat];
  bool lit = e->figures[PLUMB_FIGURE_flux_lm].valid;

  switch (asked->question)
    {
    case PLUMB_QUESTION_HIDDEN:
      *figure = s->hidden_share;
      return s->before_picture && !s->no_room;
    case PLUMB_QUESTION_ANGLE:
      *figure = s->horizontal_angle_rad;
      return s->before_picture;
    case PLUMB_QUESTION_LOOK_UP:
      *figure = s->look_up_top_rad;
      return s->before_picture;
    case PLUMB_QUESTION_OFF_AXIS:
      *figure = off_axis_of (scene, e, variant, seat);
      return s->before_picture;
    case PLUMB_QUESTION_C_VALUE:
      *figure = s->c_value_m;
      return s->c_over != PLUMB_NO_INDEX;
    case PLUMB_QUESTION_TEXT:
      *figure = s->text_height_m;
      return s->before_picture;
    case PLUMB_QUESTION_PIXELS:
      *figure = s->pixels_per_degree;
      return s->before_picture && s->pixels_per_degree > 0.0;
    case PLUMB_QUESTION_LUMINANCE:
      *figure = s->luminance_cd_m2[0];
      return lit && s->before_picture;
    case PLUMB_QUESTION_CONTRAST:
      *figure = contrast_of (scene, e, asked->state, seat);
      return *figure > 0.0 && s->before_picture;
    case PLUMB_QUESTION_NOISE:
      *figure = s->noise_db;
      return lit;
    case PLUMB_QUESTION_ALL:
    case PLUMB_QUESTION_HEIGHTS:
    case PLUMB_N_QUESTIONS:
      break;
    }
  *figure = s->distance_heights_ratio;
  return s->distance_heights_ratio > 0.0;
}

/* ---- verdicts --------------------------------------------------------------------- */

/* In the order of findings: what is not known is worse than what is tight. */
static int
rank (PlumbVerdict verdict)
{
  return verdict == PLUMB_FAILS ? 3 : verdict == PLUMB_UNKNOWN ? 2 : verdict == PLUMB_TIGHT ? 1 : 0;
}

static PlumbVerdict
worse (PlumbVerdict a, PlumbVerdict b)
{
  return rank (a) > rank (b) ? a : b;
}

static PlumbVerdict
verdict_of_all (const PlumbEvaluation *e, uint32_t seat)
{
  PlumbVerdict worst = e->seats[seat].fails || e->seats[seat].no_room ? PLUMB_FAILS : PLUMB_HOLDS;

  for (uint32_t i = 0; i < e->n_findings; i++)
    {
      const PlumbFinding *f = &e->findings[i];
      if ((f->subject.kind == PLUMB_RECORD_SEAT || f->subject.kind == PLUMB_RECORD_ROW) && f->subject.sub == seat)
        worst = worse (worst, f->verdict);
    }
  return worst;
}

/* Against the limits of a finding about another seat, whose spread is taken
 * in proportion to the figure. */
static PlumbVerdict
judge (const PlumbScene *scene, const PlumbEvaluation *e, const PlumbAsked *asked, const PlumbFinding *finding,
       uint32_t seat)
{
  PlumbFinding own = *finding;
  double figure;

  if (!measure (scene, e, asked, finding->variant, seat, &figure))
    return PLUMB_HOLDS;
  /* Signs are held against the picture's height. */
  if (asked->question == PLUMB_QUESTION_TEXT)
    figure /= plumb_seen_of (e).picture.height_m;
  double share = finding->figure > 0.0 ? figure / finding->figure : 1.0;
  plumb_finding_judge (&own, figure, finding->spread * share, finding->sense, finding->limit_least,
                       finding->limit_most, finding->unit);
  return own.verdict;
}

PlumbAnswer
plumb_answer (const PlumbScene *scene, const PlumbEvaluation *e, const PlumbAsked *asked, uint32_t seat)
{
  PlumbAnswer answer = { .verdict = PLUMB_UNKNOWN };

  if (seat >= e->n_seats)
    return answer;
  uint8_t variant = asked->n_findings > 0 ? e->findings[asked->finding[0]].variant : PLUMB_V_OFF_AXIS_CENTRE;
  answer.has_figure = measure (scene, e, asked, variant, seat, &answer.figure);
  if (!answer.has_figure)
    answer.figure = 0.0;
  if (asked->question == PLUMB_QUESTION_ALL)
    answer.verdict = verdict_of_all (e, seat);
  else if (answer.has_figure || (asked->question == PLUMB_QUESTION_C_VALUE && e->seats[seat].before_picture))
    answer.verdict = PLUMB_HOLDS;
  for (uint32_t k = 0; answer.has_figure && k < asked->n_findings; k++)
    answer.verdict = worse (answer.verdict, judge (scene, e, asked, &e->findings[asked->finding[k]], seat));
  return answer;
}

/* ---- worst first ------------------------------------------------------------------- */

/* +1 where more is worse, −1 where less is. */
static double
bad_way (PlumbQuestion question)
{
  switch (question)
    {
    case PLUMB_QUESTION_ANGLE:
    case PLUMB_QUESTION_C_VALUE:
    case PLUMB_QUESTION_PIXELS:
    case PLUMB_QUESTION_LUMINANCE:
    case PLUMB_QUESTION_CONTRAST:
      return -1.0;
    default:
      return 1.0;
    }
}

double
plumb_answer_badness (const PlumbEvaluation *e, const PlumbAsked *asked, const PlumbAnswer *answer)
{
  double way = bad_way (asked->question);

  if (asked->n_findings > 0 && e->findings[asked->finding[0]].sense != PLUMB_LIMIT_NONE)
    way = e->findings[asked->finding[0]].sense == PLUMB_LIMIT_AT_LEAST ? -1.0 : 1.0;
  /* Between −1 and 1 whatever the unit: verdicts stay apart. */
  double within = answer->has_figure ? way * answer->figure : -INFINITY;
  return 4.0 * rank (answer->verdict) + atan (within) * 2.0 / PLUMB_PI;
}

uint32_t
plumb_asked_worst_seat (const PlumbScene *scene, const PlumbEvaluation *e, const PlumbAsked *asked)
{
  uint32_t worst = PLUMB_NO_INDEX;
  double most = -INFINITY;

  for (uint32_t i = 0; i < e->n_seats; i++)
    {
      PlumbAnswer answer = plumb_answer (scene, e, asked, i);
      double bad = plumb_answer_badness (e, asked, &answer);
      if (bad > most)
        {
          most = bad;
          worst = i;
        }
    }
  return worst;
}
