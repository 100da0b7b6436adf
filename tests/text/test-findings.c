/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Findings as sentences. The wanted sentences are written out by hand. */
#include <math.h>
#include <string.h>

#include "plumbeam/variants.h"
#include "text/wording-private.h"

static const PlumbWords metric = { PLUMB_UNITS_METRIC, PLUMB_SHOW_PLAIN };
static const PlumbWords imperial = { PLUMB_UNITS_IMPERIAL, PLUMB_SHOW_PLAIN };

/* ---- a job with something of everything ------------------------------------------ */

static void
fill (PlumbScene *scene, PlumbRecordKind kind, const void *records, uint32_t count)
{
  g_assert_true (plumb_scene_fill (scene, kind, records, count));
}

static void
name (char *id, const char *id_text, char *label, const char *label_text)
{
  g_strlcpy (id, id_text, PLUMB_ID_SIZE);
  g_strlcpy (label, label_text, PLUMB_LABEL_SIZE);
}

static void
fill_people (PlumbScene *scene)
{
  PlumbSeat seat;
  PlumbRow row;
  plumb_record_default (PLUMB_RECORD_SEAT, &seat);
  name (seat.id, "host", seat.label, "Host's chair");
  fill (scene, PLUMB_RECORD_SEAT, &seat, 1);
  plumb_record_default (PLUMB_RECORD_ROW, &row);
  name (row.id, "row2", row.label, "Second row");
  row.count = 4;
  fill (scene, PLUMB_RECORD_ROW, &row, 1);
}

static void
fill_solids (PlumbScene *scene)
{
  PlumbBlocker blockers[2];
  PlumbBlockerState states[2];
  PlumbStructure structure;
  for (int i = 0; i < 2; i++)
    {
      plumb_record_default (PLUMB_RECORD_BLOCKER, &blockers[i]);
      plumb_record_default (PLUMB_RECORD_BLOCKER_STATE, &states[i]);
    }
  name (blockers[0].id, "door", blockers[0].label, "Door");
  blockers[0].movable = true;
  name (blockers[1].id, "duct", blockers[1].label, "");
  g_strlcpy (states[0].name, "shut", sizeof states[0].name);
  g_strlcpy (states[1].name, "open", sizeof states[1].name);
  fill (scene, PLUMB_RECORD_BLOCKER, blockers, 2);
  fill (scene, PLUMB_RECORD_BLOCKER_STATE, states, 2);
  plumb_record_default (PLUMB_RECORD_STRUCTURE, &structure);
  name (structure.id, "joists", structure.label, "Joists");
  structure.count = 9;
  fill (scene, PLUMB_RECORD_STRUCTURE, &structure, 1);
}

static void
fill_machines (PlumbScene *scene)
{
  PlumbLens lenses[2];
  PlumbLensPairLine pairs[3];
  PlumbPlace place;
  PlumbWall walls[2];
  PlumbLimitOverride limit;
  for (int i = 0; i < 2; i++)
    {
      plumb_record_default (PLUMB_RECORD_LENS, &lenses[i]);
      plumb_record_default (PLUMB_RECORD_WALL, &walls[i]);
    }
  name (lenses[0].id, "a", lenses[0].label, "Lens A");
  name (lenses[1].id, "b", lenses[1].label, "Lens B");
  fill (scene, PLUMB_RECORD_LENS, lenses, 2);
  for (int i = 0; i < 3; i++)
    {
      plumb_record_default (PLUMB_RECORD_LENS_PAIR, &pairs[i]);
      pairs[i].head.owner = i == 0 ? 0 : 1;
    }
  fill (scene, PLUMB_RECORD_LENS_PAIR, pairs, 3);
  plumb_record_default (PLUMB_RECORD_PLACE, &place);
  name (place.id, "t2", place.label, "Tie beam 2");
  fill (scene, PLUMB_RECORD_PLACE, &place, 1);
  name (walls[0].id, "front", walls[0].label, "Front wall");
  name (walls[1].id, "side", walls[1].label, "Side wall");
  fill (scene, PLUMB_RECORD_WALL, walls, 2);
  plumb_record_default (PLUMB_RECORD_LIMIT, &limit);
  g_strlcpy (limit.id, "beam.clearance_least", sizeof limit.id);
  g_strlcpy (limit.reason, "the beam is steadied", sizeof limit.reason);
  fill (scene, PLUMB_RECORD_LIMIT, &limit, 1);
}

static PlumbScene *
make_scene (void)
{
  PlumbScene *scene = plumb_scene_new ();
  g_assert_nonnull (scene);
  fill_people (scene);
  fill_solids (scene);
  fill_machines (scene);
  g_assert_true (plumb_scene_commit (scene));
  return scene;
}

/* ---- every wording ----------------------------------------------------------------- */

static PlumbFinding
finding_of (PlumbCheck check, PlumbVerdict verdict)
{
  return (PlumbFinding){ .check = check,
                         .verdict = verdict,
                         .subject = { PLUMB_RECORD_LENS, 1, PLUMB_NO_INDEX },
                         .has_figure = true,
                         .figure = 1.62,
                         .spread = 0.04,
                         .sense = PLUMB_LIMIT_BETWEEN,
                         .limit_least = 1.5,
                         .limit_most = 2.2,
                         .unit = "ratio",
                         .basis = PLUMB_BASIS_GEOMETRY,
                         .limit = PLUMB_NO_INDEX,
                         .missing_kind = PLUMB_RECORD_NONE,
                         .missing_index = PLUMB_NO_INDEX,
                         .missing_field = -1 };
}

/* One sentence, nothing left to fill in. Labels here have no full stops. */
static void
assert_sentence (const char *text)
{
  static const char *const leftovers[] = { "{",    "}",      "[",  "]",  "%s", "%d", "%u", "%g",  "%f", "nan",
                                           "inf ", "(null)", "  ", "..", ",,", " ,", ",.", ": .", "?" };
  g_assert_true (g_utf8_validate (text, -1, NULL));
  g_assert_cmpuint (strlen (text), >=, 12);
  for (gsize i = 0; i < G_N_ELEMENTS (leftovers); i++)
    if (strstr (text, leftovers[i]) != NULL)
      g_error ("“%s” is left over in: %s", leftovers[i], text);
  g_assert_false (g_ascii_islower (text[0]));
  g_assert_true (g_str_has_suffix (text, "."));
  g_assert_null (strstr (text, ". "));
}

static void
try_sentence (const PlumbScene *scene, const PlumbFinding *finding, unsigned *count)
{
  const PlumbWords words[] = { metric, imperial, { PLUMB_UNITS_METRIC, PLUMB_SHOW_TYPOGRAPHIC } };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_autofree char *text = plumb_finding_sentence (scene, finding, words[i]);
      assert_sentence (text);
      ++*count;
    }
}

/* Subjects, missing figures and numbers above, at and below 0. */
static void
try_forms (const PlumbScene *scene, PlumbFinding finding, unsigned *count)
{
  const PlumbSubject subjects[] = {
    { PLUMB_RECORD_LENS, 1, PLUMB_NO_INDEX },
    { PLUMB_RECORD_ROW, 0, 3 },
    { PLUMB_RECORD_BLOCKER, 0, 1 },
    { PLUMB_RECORD_STRUCTURE, 0, 4 },
    { PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX },
    { PLUMB_RECORD_LENS, PLUMB_NO_INDEX, 77 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (subjects); i++)
    {
      finding.subject = subjects[i];
      for (int k = 0; k < 6; k++)
        finding.number[k] = i == 1 ? 0.0 : i == 2 ? -0.25 : 0.25;
      finding.has_figure = i != 3;
      finding.spread_reaches_back = i == 1;
      finding.missing_kind = i == 2 ? PLUMB_RECORD_LENS : PLUMB_RECORD_NONE;
      finding.missing_index = 1;
      finding.missing_field = PLUMB_FIELD_lens_focus_near_m;
      finding.sense = (PlumbLimitSense) (i % 4);
      finding.unit = i % 2 == 0 ? "m" : "rad";
      try_sentence (scene, &finding, count);
    }
}

static void
test_every_wording (void)
{
  PlumbScene *scene = make_scene ();
  bool seen[PLUMB_N_CHECKS] = { false };
  unsigned count = 0;
  const PlumbWording *wording;
  for (gsize i = 0; (wording = plumb_wording_at (i)) != NULL; i++)
    {
      seen[wording->check] = true;
      for (int verdict = PLUMB_HOLDS; verdict <= PLUMB_FAILS; verdict++)
        for (int cure = 0; cure < PLUMB_N_CURES; cure++)
          {
            PlumbFinding finding = finding_of (wording->check, (PlumbVerdict) verdict);
            finding.variant = wording->variant;
            finding.cure = (PlumbCure) cure;
            finding.cure_amount = cure % 3 == 0 ? 0.0 : 0.137;
            try_forms (scene, finding, &count);
          }
    }
  for (int check = 0; check < PLUMB_N_CHECKS; check++)
    g_assert_true (seen[check]);
  g_test_message ("%u sentences", count);
  plumb_scene_unref (scene);
}

/* A variant that nobody worded has the check's first wording. */
static void
test_unknown_variant (void)
{
  for (int check = 0; check < PLUMB_N_CHECKS; check++)
    g_assert_true (plumb_wording_find ((PlumbCheck) check, 250)->check == (PlumbCheck) check);
}

/* ---- sentences by hand --------------------------------------------------------------- */

static void
says (const PlumbScene *scene, const PlumbFinding *finding, PlumbWords words, const char *wanted)
{
  g_autofree char *text = plumb_finding_sentence (scene, finding, words);
  g_assert_cmpstr (text, ==, wanted);
}

static void
test_throw (void)
{
  PlumbScene *scene = make_scene ();
  PlumbFinding f = finding_of (PLUMB_CHECK_BEAM_THROW_RANGE, PLUMB_HOLDS);
  says (scene, &f, metric,
        "The wanted picture needs a throw ratio of 1.62, inside the lens's 1.50 to 2.20, with 0.12 to spare.");
  f.verdict = PLUMB_TIGHT;
  f.spread = 0.1301;
  says (scene, &f, metric,
        "The wanted picture needs a throw ratio of 1.62, inside the lens's 1.50 to 2.20, but with only 0.12 to spare "
        "and a "
        "spread of 0.14.");
  f.verdict = PLUMB_FAILS;
  f.figure = 2.27;
  f.cure = PLUMB_CURE_NEARER;
  f.cure_amount = 0.1396;
  says (scene, &f, metric,
        "Move the machine 0.140 m nearer to the picture: the wanted picture needs a throw ratio of 2.27, and the "
        "lens has "
        "1.50 to 2.20.");
  /* 0.1396 m = 5.496 in; upwards to the next sixteenth. */
  says (scene, &f, imperial,
        "Move the machine 5 1/2\" nearer to the picture: the wanted picture needs a throw ratio of 2.27, and the "
        "lens has "
        "1.50 to 2.20.");
  f.spread_reaches_back = true;
  says (scene, &f, metric,
        "Move the machine 0.140 m nearer to the picture: the wanted picture needs a throw ratio of 2.27, and the "
        "lens has "
        "1.50 to 2.20 (within what was measured: measure again).");
  f.limit_least = f.limit_most = 0.35;
  f.spread_reaches_back = false;
  f.cure = PLUMB_CURE_NONE;
  says (scene, &f, metric, "The wanted picture needs a throw ratio of 2.27, and the lens has 0.35.");
  plumb_scene_unref (scene);
}

static void
test_missing (void)
{
  PlumbScene *scene = make_scene ();
  PlumbFinding f = finding_of (PLUMB_CHECK_BEAM_FOCUS_RANGE, PLUMB_UNKNOWN);
  f.has_figure = false;
  f.cure = PLUMB_CURE_MEASURE;
  f.missing_kind = PLUMB_RECORD_LENS;
  f.missing_index = 1;
  f.missing_field = PLUMB_FIELD_lens_focus_near_m;
  says (scene, &f, metric, "Type lenses.b.focus_near_m: without it nobody can say whether the picture comes sharp.");
  g_autofree char *key = plumb_finding_missing_key (scene, &f);
  g_assert_cmpstr (key, ==, "lenses.b.focus_near_m");
  f.verdict = PLUMB_HOLDS;
  g_assert_null (plumb_finding_missing_key (scene, &f));
  plumb_scene_unref (scene);
}

static void
test_others (void)
{
  PlumbScene *scene = make_scene ();
  PlumbFinding f = finding_of (PLUMB_CHECK_BEAM_SHIFT_SET, PLUMB_FAILS);
  f.unit = "m";
  f.figure = -0.034;
  f.limit_least = 0.0;
  f.sense = PLUMB_LIMIT_AT_LEAST;
  f.number[0] = -0.12;
  f.number[1] = 0.551;
  f.cure = PLUMB_CURE_UP;
  f.cure_amount = 0.034;
  says (scene, &f, metric,
        "Move the machine 34 mm up: the picture wants a shift of 12.0 % left and 55.1 % up, and on the screen that "
        "is 34 mm "
        "outside what the lens allows.");

  f = finding_of (PLUMB_CHECK_BEAM_CLEAR_CEILING, PLUMB_FAILS);
  f.variant = PLUMB_V_ROOM_CUTS;
  f.number[1] = 0.032;
  f.number[3] = 0.004;
  says (scene, &f, metric,
        "Of the panel's light the picture loses 3.2 % to ceilings, 0.4 % to the edges of holes, before it reaches "
        "the screen.");

  f = finding_of (PLUMB_CHECK_BODY_CLEAR, PLUMB_HOLDS);
  f.has_figure = false;
  says (scene, &f, metric, "Nothing solid stands in the room that the body could touch.");

  f = finding_of (PLUMB_CHECK_JOB_FAULT, PLUMB_FAILS);
  f.variant = PLUMB_FAULT_OUTLINE_CROSSES;
  f.subject = (PlumbSubject){ PLUMB_RECORD_WALL, 0, PLUMB_NO_INDEX };
  f.number[0] = 1.0;
  f.cure = PLUMB_CURE_MEASURE;
  says (scene, &f, metric, "Front wall crosses or touches Side wall, so their space has no outline.");

  f = finding_of (PLUMB_CHECK_PEOPLE_HEIGHTS, PLUMB_FAILS);
  f.subject = (PlumbSubject){ PLUMB_RECORD_ROW, 0, 3 };
  f.figure = 8.31;
  f.limit_most = 8.0;
  f.sense = PLUMB_LIMIT_AT_MOST;
  f.cure = PLUMB_CURE_SEAT_NEARER;
  f.cure_amount = 0.5;
  says (scene, &f, metric,
        "Move the seat 0.500 m nearer to the picture: row2:3 is 8.31 picture heights away, and 8.00 is the most for "
        "what the "
        "picture is for.");
  f.number[4] = 2.0;
  f.number[5] = 3.0;
  says (scene, &f, metric,
        "Move the seat 0.500 m nearer to the picture: row2:3 is 8.31 picture heights away, and 8.00 is the most for "
        "what the picture is for (2 of 3 seats).");

  f = finding_of (PLUMB_CHECK_PEOPLE_HIDDEN, PLUMB_FAILS);
  f.subject = (PlumbSubject){ PLUMB_RECORD_ROW, 0, 3 };
  f.figure = 0.123;
  f.limit_most = 0.02;
  f.sense = PLUMB_LIMIT_AT_MOST;
  f.unit = "share";
  f.number[0] = 0.1;
  f.number[1] = plumb_who_number ((PlumbWho){ PLUMB_WHO_SEAT, 0 });
  says (scene, &f, metric,
        "From row2:3 12.3 % of the picture is hidden, 10.0 % by Host's chair, and 2.0 % is the most.");
  f.number[1] = plumb_who_number ((PlumbWho){ PLUMB_WHO_BLOCKER, 0 });
  f.number[2] = 2.0;
  says (scene, &f, metric,
        "From row2:3 12.3 % of the picture is hidden, 10.0 % by Door, with a mover in its worst state, and 2.0 % is the most.");

  f = finding_of (PLUMB_CHECK_PEOPLE_C_VALUE, PLUMB_FAILS);
  f.subject = (PlumbSubject){ PLUMB_RECORD_ROW, 0, 3 };
  f.figure = 0.092;
  f.limit_least = 0.12;
  f.sense = PLUMB_LIMIT_AT_LEAST;
  f.unit = "m";
  f.number[0] = 0.9;
  f.number[1] = plumb_who_number ((PlumbWho){ PLUMB_WHO_SEAT, 1 });
  f.number[3] = 0.275;
  f.cure = PLUMB_CURE_RISER;
  f.cure_amount = 0.035;
  says (scene, &f, metric,
        "Raise each row 35 mm more over the one in front: the line of sight of row2:3 to the lower edge clears the eye "
        "of row2:1, 0.900 m in front, by 92 mm, and 0.120 m are wanted; a stagger of 0.275 m would do as well.");

  f = finding_of (PLUMB_CHECK_PEOPLE_SHADOW, PLUMB_FAILS);
  f.variant = PLUMB_V_SHADOW_MOVER;
  f.subject = (PlumbSubject){ PLUMB_RECORD_BLOCKER, 0, 1 };
  f.figure = 0.05;
  f.unit = "share";
  f.number[0] = 1.0;
  f.number[1] = 2.5;
  says (scene, &f, metric,
        "Door (open) shadows 5.0 % of the picture, 2.500 m from the lens, but only dims it, since the lens's "
        "half-shadow is wider than the shadow.");
  plumb_scene_unref (scene);
}

/* ---- names ------------------------------------------------------------------------------ */

static void
called (const PlumbScene *scene, PlumbSubject subject, const char *wanted_name, const char *wanted_key)
{
  g_autofree char *shown = plumb_subject_name (scene, &subject), *key = plumb_subject_key (scene, &subject);
  g_assert_cmpstr (shown, ==, wanted_name);
  g_assert_cmpstr (key, ==, wanted_key);
}

static void
test_names (void)
{
  PlumbScene *scene = make_scene ();
  called (scene, (PlumbSubject){ PLUMB_RECORD_PLACE, 0, PLUMB_NO_INDEX }, "Tie beam 2", "places.t2");
  called (scene, (PlumbSubject){ PLUMB_RECORD_BLOCKER, 1, PLUMB_NO_INDEX }, "duct", "blockers.duct");
  called (scene, (PlumbSubject){ PLUMB_RECORD_SEAT, 0, 0 }, "Host's chair", "seats.host");
  called (scene, (PlumbSubject){ PLUMB_RECORD_ROW, 0, 3 }, "row2:3", "rows.row2:3");
  called (scene, (PlumbSubject){ PLUMB_RECORD_BLOCKER, 0, 1 }, "Door (open)", "blockers.door:open");
  called (scene, (PlumbSubject){ PLUMB_RECORD_STRUCTURE, 0, 4 }, "Joists, member 5", "structure.joists:5");
  called (scene, (PlumbSubject){ PLUMB_RECORD_LENS_PAIR, 2, PLUMB_NO_INDEX }, "Lens B, line of lens data 2",
          "lenses.b.pairs.2");
  called (scene, (PlumbSubject){ PLUMB_RECORD_JOB, 0, PLUMB_NO_INDEX }, "the job", "job");
  called (scene, (PlumbSubject){ PLUMB_RECORD_NONE, PLUMB_NO_INDEX, PLUMB_NO_INDEX }, "the arrangement", "");

  /* A piece of a blocker at rest is no state. */
  PlumbFinding f = finding_of (PLUMB_CHECK_BEAM_CLEAR_BLOCKER, PLUMB_HOLDS);
  f.subject = (PlumbSubject){ PLUMB_RECORD_BLOCKER, 0, 0 };
  f.number[2] = -1.0;
  g_autofree char *at_rest = plumb_finding_subject_name (scene, &f);
  g_assert_cmpstr (at_rest, ==, "Door");
  f.number[2] = 0.0;
  g_autofree char *shut = plumb_finding_subject_name (scene, &f);
  g_assert_cmpstr (shut, ==, "Door (shut)");

  PlumbSurfaceId wall = { PLUMB_SURFACE_OF_WALL, 1 }, nothing = { PLUMB_SURFACE_OF_NOTHING, 0 };
  g_autofree char *wall_name = plumb_surface_name (scene, &wall),
                  *nothing_name = plumb_surface_name (scene, &nothing);
  g_assert_cmpstr (wall_name, ==, "Side wall");
  g_assert_cmpstr (nothing_name, ==, "nothing in the building");
  plumb_scene_unref (scene);
}

/* ---- cures, figures, basis ---------------------------------------------------------------- */

static void
cures (PlumbCure cure, double amount, const char *wanted)
{
  PlumbFinding f = finding_of (PLUMB_CHECK_BEAM_THROW_RANGE, PLUMB_FAILS);
  f.cure = cure;
  f.cure_amount = amount;
  g_autofree char *text = plumb_finding_cure (&f, metric);
  g_assert_cmpstr (text, ==, wanted);
}

/* Rounded so that following the advice is enough. */
static void
test_cures (void)
{
  cures (PLUMB_CURE_NONE, 1.0, NULL);
  cures (PLUMB_CURE_NEARER, 0.1401, "Move the machine 0.141 m nearer to the picture");
  cures (PLUMB_CURE_FARTHER, 0.0, "Move the machine farther from the picture");
  cures (PLUMB_CURE_LEFT, (double) NAN, "Move the machine to the viewers' left");
  cures (PLUMB_CURE_SHORTER_LENS, 1.338, "Take a lens that goes down to a throw ratio of 1.33");
  cures (PLUMB_CURE_LONGER_LENS, 1.332, "Take a lens that goes up to a throw ratio of 1.34");
  cures (PLUMB_CURE_TILT_UP, 2.04 * PLUMB_PI / 180.0, "Tilt the beam 2.1 deg up");
  cures (PLUMB_CURE_MEASURE, 0.0, "Measure again");
  cures (PLUMB_CURE_SCREEN_BACK, 0.02, "Hang the screen 20 mm nearer to the wall");
  cures (PLUMB_CURE_RAISE_SPEAKER, 0.0, "Raise the loudspeaker");
  cures (PLUMB_CURE_MOVE_OFF, 0.1838, "Move what stands there by 0.184 m");
  for (int cure = 0; cure < PLUMB_N_CURES; cure++)
    for (int other = 0; other < cure; other++)
      g_assert_cmpstr (plumb_cure_word ((PlumbCure) cure), !=, plumb_cure_word ((PlumbCure) other));
}

static void
test_figure_and_limit (void)
{
  PlumbFinding f = finding_of (PLUMB_CHECK_BEAM_THROW_RANGE, PLUMB_HOLDS);
  double spare;
  g_autofree char *figure = plumb_finding_figure (&f, metric), *between = plumb_finding_limit (&f, metric);
  g_assert_cmpstr (figure, ==, "1.62 +/- 0.04");
  g_assert_cmpstr (between, ==, "1.50 to 2.20");
  g_assert_true (plumb_finding_spare (&f, &spare));
  g_assert_cmpfloat_with_epsilon (spare, 0.12, 1e-12);
  f.sense = PLUMB_LIMIT_AT_MOST;
  g_autofree char *most = plumb_finding_limit (&f, metric);
  g_assert_cmpstr (most, ==, "at most 2.20");
  g_assert_true (plumb_finding_spare (&f, &spare));
  g_assert_cmpfloat_with_epsilon (spare, 0.58, 1e-12);
  f.sense = PLUMB_LIMIT_AT_LEAST;
  f.figure = 1.4;
  f.spread = 0.0;
  g_autofree char *least = plumb_finding_limit (&f, metric), *alone = plumb_finding_figure (&f, metric);
  g_assert_cmpstr (least, ==, "at least 1.50");
  g_assert_cmpstr (alone, ==, "1.40");
  g_assert_true (plumb_finding_spare (&f, &spare));
  g_assert_cmpfloat_with_epsilon (spare, -0.1, 1e-12);
  f.has_figure = false;
  g_assert_null (plumb_finding_figure (&f, metric));
  g_assert_false (plumb_finding_spare (&f, &spare));
}

static void
based_on (const PlumbScene *scene, PlumbFinding f, PlumbBasis basis, const char *limit_id, const char *wanted)
{
  f.basis = basis;
  f.limit = limit_id != NULL ? plumb_limit_find (limit_id) : PLUMB_NO_INDEX;
  g_autofree char *text = plumb_finding_basis (scene, &f);
  g_assert_cmpstr (text, ==, wanted);
}

static void
test_basis (void)
{
  PlumbScene *scene = make_scene ();
  PlumbFinding f = finding_of (PLUMB_CHECK_BEAM_CLEAR_BLOCKER, PLUMB_HOLDS);
  based_on (scene, f, PLUMB_BASIS_GEOMETRY, NULL, "geometry");
  based_on (scene, f, PLUMB_BASIS_DATA_SHEET, NULL, "data sheet (Lens B)");
  based_on (scene, f, PLUMB_BASIS_JOB, "beam.clearance_least", "set by the job: the beam is steadied");
  based_on (scene, f, PLUMB_BASIS_JOB, NULL, "set by the job");
  /* Every limit says where it comes from, and none is both a standard and
   * common practice. */
  for (uint32_t i = 0; i < plumb_limit_count (); i++)
    {
      const PlumbLimit *limit = plumb_limit_at (i);
      g_assert_cmpuint (strlen (limit->source), >, 5);
      based_on (scene, f, limit->basis, limit->id, limit->source);
    }
  plumb_scene_unref (scene);
}

static void
test_summary (void)
{
  PlumbFinding findings[4] = {
    { .verdict = PLUMB_FAILS }, { .verdict = PLUMB_FAILS }, { .verdict = PLUMB_UNKNOWN }, { .verdict = PLUMB_HOLDS }
  };
  PlumbEvaluation e = { .findings = findings, .n_findings = 4 };
  g_autofree char *some = plumb_evaluation_summary (&e);
  g_assert_cmpstr (some, ==, "2 fail, 1 is unknown, 1 holds");
  e.n_findings = 0;
  g_autofree char *none = plumb_evaluation_summary (&e);
  g_assert_cmpstr (none, ==, "nothing was checked");
  g_assert_cmpstr (plumb_verdict_word (PLUMB_HOLDS), ==, "holds");
  g_assert_cmpstr (plumb_verdict_word (PLUMB_TIGHT), ==, "tight");
  g_assert_cmpstr (plumb_verdict_word (PLUMB_UNKNOWN), ==, "unknown");
  g_assert_cmpstr (plumb_verdict_word (PLUMB_FAILS), ==, "fails");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/findings/every-wording", test_every_wording);
  g_test_add_func ("/findings/unknown-variant", test_unknown_variant);
  g_test_add_func ("/findings/throw", test_throw);
  g_test_add_func ("/findings/missing", test_missing);
  g_test_add_func ("/findings/others", test_others);
  g_test_add_func ("/findings/names", test_names);
  g_test_add_func ("/findings/cures", test_cures);
  g_test_add_func ("/findings/figure-and-limit", test_figure_and_limit);
  g_test_add_func ("/findings/basis", test_basis);
  g_test_add_func ("/findings/summary", test_summary);
  return g_test_run ();
}
