/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which seat has which figures, and their order. */
#include "seat-table-private.h"

#include <math.h>
#include <string.h>

#include "plumbeam/light.h"

static const PlumbSeatColumnInfo columns[] = {
#define PLUMB_C(name, id, kind, heading, meaning) { id, PLUMB_SEAT_KIND_##kind, heading, meaning },
  PLUMB_SEAT_COLUMNS (PLUMB_C)
#undef PLUMB_C
};

const PlumbSeatColumnInfo *
plumb_seat_column_info (PlumbSeatColumn column)
{
  g_return_val_if_fail ((unsigned) column < PLUMB_N_SEAT_COLUMNS, &columns[0]);
  return &columns[column];
}

/* ---- verdicts ------------------------------------------------------------------- */

static void
take_verdict (PlumbSeatTable *table, uint32_t seat, PlumbVerdict verdict, uint64_t checks)
{
  if (verdict > table->verdicts[seat])
    {
      table->verdicts[seat] = verdict;
      table->worst[seat] = 0;
    }
  if (verdict == table->verdicts[seat] && verdict != PLUMB_HOLDS)
    table->worst[seat] |= checks;
}

static void
fill_verdicts (PlumbSeatTable *table, const PlumbEvaluation *e)
{
  for (uint32_t i = table->n_known; i < table->n; i++)
    table->verdicts[i] = PLUMB_UNKNOWN;
  for (uint32_t i = 0; i < e->n_findings; i++)
    {
      const PlumbFinding *f = &e->findings[i];
      if ((f->subject.kind == PLUMB_RECORD_SEAT || f->subject.kind == PLUMB_RECORD_ROW) && f->subject.sub < table->n)
        take_verdict (table, f->subject.sub, f->verdict, UINT64_C (1) << f->check);
    }
  for (uint32_t i = 0; i < table->n_known; i++)
    if (table->figures[i].fails)
      take_verdict (table, i, PLUMB_FAILS, table->figures[i].failing);
}

/* ---- order ----------------------------------------------------------------------- */

static int
compare_counts (uint32_t a, uint32_t b)
{
  return (a > b) - (a < b);
}

static uint32_t
count_bits (uint64_t bits)
{
  uint32_t count = 0;

  for (; bits != 0; bits &= bits - 1)
    count++;
  return count;
}

/* The worst verdict, then the most checks that have it, then as in the job. */
static int
compare_worst (gconstpointer a, gconstpointer b, gpointer data)
{
  const PlumbSeatTable *table = data;
  const uint32_t s = *(const uint32_t *) a, t = *(const uint32_t *) b;
  int by = compare_counts (table->verdicts[t], table->verdicts[s]);

  if (by == 0)
    by = compare_counts (count_bits (table->worst[t]), count_bits (table->worst[s]));
  return by != 0 ? by : compare_counts (s, t);
}

typedef struct {
  const PlumbSeatTable *table;
  const double *numbers; /* by seat, NaN: empty; NULL: words */
  char **words;          /* by seat, as g_utf8_collate_key makes them; "" is empty */
  bool descending;
} Order;

static int
compare_cells (gconstpointer a, gconstpointer b, gpointer data)
{
  const Order *order = data;
  const uint32_t s = *(const uint32_t *) a, t = *(const uint32_t *) b;
  bool has_s = order->numbers != NULL ? !isnan (order->numbers[s]) : order->words[s][0] != '\0';
  bool has_t = order->numbers != NULL ? !isnan (order->numbers[t]) : order->words[t][0] != '\0';
  int by = 0;

  if (has_s != has_t)
    return has_s ? -1 : 1;
  if (has_s && order->numbers != NULL)
    by = (order->numbers[s] > order->numbers[t]) - (order->numbers[s] < order->numbers[t]);
  else if (has_s)
    by = strcmp (order->words[s], order->words[t]);
  if (by != 0)
    return order->descending ? -by : by;
  return compare_counts (order->table->rank[s], order->table->rank[t]);
}

static void
sort_rows (PlumbSeatTable *table, GCompareDataFunc compare, gpointer data)
{
  for (uint32_t i = 0; i < table->n; i++)
    table->seat_at[i] = i;
  g_qsort_with_data (table->seat_at, (int) table->n, sizeof *table->seat_at, compare, data);
  for (uint32_t i = 0; i < table->n; i++)
    table->row_of[table->seat_at[i]] = i;
}

/* Numbers in words count by their size: row2:10 stands behind row2:9. */
static void
sort_by_words (PlumbSeatTable *table, PlumbSeatColumn column, bool descending)
{
  g_auto (GStrv) words = g_new0 (char *, table->n + 1);
  Order order = { table, NULL, words, descending };

  for (uint32_t i = 0; i < table->n; i++)
    {
      g_autofree char *text = plumb_seat_text (table, i, column, (PlumbWords){ 0 });
      words[i] = text[0] == '\0' ? g_strdup ("") : g_utf8_collate_key_for_filename (text, -1);
    }
  sort_rows (table, compare_cells, &order);
}

static double
key_of (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column)
{
  double value;

  if (column == PLUMB_SEAT_SEAT)
    return seat;
  if (column == PLUMB_SEAT_VERDICT)
    return -(double) table->verdicts[seat];
  return plumb_seat_number (table, seat, column, &value) ? value : (double) NAN;
}

void
plumb_seat_table_sort (PlumbSeatTable *table, PlumbSeatColumn column, bool descending)
{
  if ((unsigned) column >= PLUMB_N_SEAT_COLUMNS)
    {
      sort_rows (table, compare_worst, table);
      return;
    }
  if (columns[column].kind == PLUMB_SEAT_KIND_WORD && column != PLUMB_SEAT_SEAT && column != PLUMB_SEAT_VERDICT)
    {
      sort_by_words (table, column, descending);
      return;
    }
  g_autofree double *numbers = g_new (double, table->n + 1);
  for (uint32_t i = 0; i < table->n; i++)
    numbers[i] = key_of (table, i, column);
  Order order = { table, numbers, NULL, descending };
  sort_rows (table, compare_cells, &order);
}

/* ---- figures -------------------------------------------------------------------- */

static bool
is_sight (PlumbSeatColumn column)
{
  return (column >= PLUMB_SEAT_LOOK_UP_CENTRE && column <= PLUMB_SEAT_C_VALUE)
         || (column >= PLUMB_SEAT_LUMINANCE && column <= PLUMB_SEAT_CONTRAST);
}

static bool
has_no_room (const PlumbSeatFigures *seat)
{
  return (seat->failing >> PLUMB_CHECK_PEOPLE_SEAT & 1u) != 0;
}

static const char *
reason_of_light (const PlumbSeatTable *table, PlumbSeatColumn column)
{
  if (!table->lit)
    return N_ ("Nothing is thrown yet.");
  if (column != PLUMB_SEAT_CONTRAST)
    return NULL;
  if (table->state == PLUMB_NO_INDEX)
    return N_ ("The job has no light state.");
  return table->ambient_known ? NULL : N_ ("How much light falls on the screen in this light state is not known.");
}

const char *
plumb_seat_reason (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column)
{
  const PlumbSeatFigures *figures = &table->figures[seat];

  if (column <= PLUMB_SEAT_CHECKS || column == PLUMB_SEAT_LIGHT_STATE || column == PLUMB_SEAT_NOTE)
    return NULL;
  if (seat >= table->n_known)
    return N_ ("There is no picture to look at yet.");
  if (is_sight (column) && !figures->before_picture)
    return N_ ("The seat is not before the picture.");
  if (column >= PLUMB_SEAT_HIDDEN && column <= PLUMB_SEAT_C_VALUE && has_no_room (figures))
    return N_ ("Nobody can sit here.");
  if (column == PLUMB_SEAT_C_VALUE && figures->c_over == PLUMB_NO_INDEX)
    return N_ ("No head stands in the line of sight.");
  if (column == PLUMB_SEAT_PIXELS && !(figures->pixels_per_degree > 0.0))
    return N_ ("Nothing is thrown yet.");
  return column >= PLUMB_SEAT_LUMINANCE ? reason_of_light (table, column) : NULL;
}

static double
figure_of (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column)
{
  const PlumbSeatFigures *figures = &table->figures[seat];

  switch (column)
    {
    case PLUMB_SEAT_ANGLE:
      return figures->horizontal_angle_rad;
    case PLUMB_SEAT_HEIGHTS:
      return figures->distance_heights_ratio;
    case PLUMB_SEAT_LOOK_UP_CENTRE:
      return figures->look_up_centre_rad;
    case PLUMB_SEAT_LOOK_UP_TOP:
      return figures->look_up_top_rad;
    case PLUMB_SEAT_OFF_AXIS:
      return figures->off_axis_rad;
    case PLUMB_SEAT_PIXELS:
      return figures->pixels_per_degree;
    case PLUMB_SEAT_TEXT:
      return figures->text_height_m;
    case PLUMB_SEAT_HIDDEN:
      return figures->hidden_share;
    case PLUMB_SEAT_C_VALUE:
      return figures->c_value_m;
    case PLUMB_SEAT_LUMINANCE:
      return figures->luminance_cd_m2[0];
    case PLUMB_SEAT_FOOT_LAMBERTS:
      return plumb_foot_lamberts (figures->luminance_cd_m2[0]);
    case PLUMB_SEAT_CONTRAST:
      return table->contrast[seat];
    case PLUMB_SEAT_NOISE:
      return figures->noise_db;
    default:
      return (double) NAN;
    }
}

bool
plumb_seat_number (const PlumbSeatTable *table, uint32_t seat, PlumbSeatColumn column, double *value)
{
  if (columns[column].kind == PLUMB_SEAT_KIND_WORD || plumb_seat_reason (table, seat, column) != NULL)
    return false;
  *value = figure_of (table, seat, column);
  return isfinite (*value);
}

/* ---- the table -------------------------------------------------------------------- */

uint32_t
plumb_seat_table_usual_state (const PlumbScene *scene)
{
  uint32_t n;
  const PlumbLightState *states = plumb_scene_light_state_records (scene, &n);

  for (uint32_t i = 0; i < n; i++)
    if (states[i].wanted_contrast_ratio > 1.0)
      return i;
  return n > 0 ? 0 : PLUMB_NO_INDEX;
}

PlumbSeatTable *
plumb_seat_table_new (const PlumbScene *scene, const PlumbEvaluation *e, uint32_t state)
{
  PlumbSeatTable *table = g_new0 (PlumbSeatTable, 1);
  uint32_t n_states;

  plumb_scene_light_state_records (scene, &n_states);
  table->scene = plumb_scene_ref (scene);
  table->n = plumb_scene_resolved (scene)->n_seats;
  table->n_known = MIN (e->n_seats, table->n);
  table->state = state < n_states ? state : PLUMB_NO_INDEX;
  table->lit = e->figures[PLUMB_FIGURE_illuminance_centre_lx].valid;
  table->ambient_known = table->state < e->n_states && e->states[table->state].known;
  table->figures = g_new0 (PlumbSeatFigures, table->n + 1);
  table->verdicts = g_new0 (PlumbVerdict, table->n + 1);
  table->worst = g_new0 (uint64_t, table->n + 1);
  table->contrast = g_new (double, table->n + 1);
  table->rank = g_new (uint32_t, table->n + 1);
  table->seat_at = g_new (uint32_t, table->n + 1);
  table->row_of = g_new (uint32_t, table->n + 1);
  memcpy (table->figures, e->seats, table->n_known * sizeof *table->figures);
  for (uint32_t i = 0; i < table->n; i++)
    if (!plumb_seat_contrast (scene, e, table->state, i, &table->contrast[i]))
      table->contrast[i] = (double) NAN;
  fill_verdicts (table, e);
  sort_rows (table, compare_worst, table);
  memcpy (table->rank, table->row_of, table->n * sizeof *table->rank);
  return table;
}

void
plumb_seat_table_free (PlumbSeatTable *table)
{
  if (table == NULL)
    return;
  plumb_scene_unref (table->scene);
  g_free (table->figures);
  g_free (table->verdicts);
  g_free (table->worst);
  g_free (table->contrast);
  g_free (table->rank);
  g_free (table->seat_at);
  g_free (table->row_of);
  g_free (table);
}

uint32_t
plumb_seat_table_n_rows (const PlumbSeatTable *table)
{
  return table->n;
}

uint32_t
plumb_seat_table_seat (const PlumbSeatTable *table, uint32_t row)
{
  return row < table->n ? table->seat_at[row] : PLUMB_NO_INDEX;
}

uint32_t
plumb_seat_table_row (const PlumbSeatTable *table, uint32_t seat)
{
  return seat < table->n ? table->row_of[seat] : PLUMB_NO_INDEX;
}

PlumbVerdict
plumb_seat_table_verdict (const PlumbSeatTable *table, uint32_t row)
{
  return row < table->n ? table->verdicts[table->seat_at[row]] : PLUMB_UNKNOWN;
}

bool
plumb_seat_table_number (const PlumbSeatTable *table, uint32_t row, PlumbSeatColumn column, double *value)
{
  return row < table->n && (unsigned) column < PLUMB_N_SEAT_COLUMNS
         && plumb_seat_number (table, table->seat_at[row], column, value);
}

const char *
plumb_seat_table_reason (const PlumbSeatTable *table, uint32_t row, PlumbSeatColumn column)
{
  return row < table->n ? plumb_seat_reason (table, table->seat_at[row], column) : NULL;
}

char *
plumb_seat_table_text (const PlumbSeatTable *table, uint32_t row, PlumbSeatColumn column, PlumbWords words)
{
  return row < table->n && (unsigned) column < PLUMB_N_SEAT_COLUMNS
             ? plumb_seat_text (table, table->seat_at[row], column, words)
             : g_strdup ("");
}
