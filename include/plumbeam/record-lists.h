/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The record lists: every parameter of a job, described once.
 *
 * One list per record. plumbeam/records.h expands each into the C struct, its
 * field table and its defaults; the file, its validation, the form, undo
 * names, --set and docs/file-format.md all come from the same lines. A new
 * parameter is one line here.
 *
 * F (TYPE, member, key, argument, least, greatest, default, when, label, help, since)
 *
 *   TYPE      NUM     double; argument = quantity; limits and default in the
 *                     unit of the *key*, the member in SI (see records.h)
 *             COUNT   int32_t
 *             FLAG    bool
 *             CHOICE  int32_t, one of the named choice list (argument)
 *             TEXT    UTF-8, argument = bytes with the closing 0
 *             REF     id of another record, argument = mask of record kinds
 *   when      ALWAYS or WHEN (record, member, choices...): the field applies
 *             only while that other field has one of these values
 *   since     format version that brought the field
 *
 * A field named id comes first in records that can be referred to.
 */
#pragma once

/* ---- choice lists: C (SUFFIX, "word in the file", label) ---------------- */

#define PLUMB_CHOICES_UNITS(C) \
  C (METRIC, "metric", N_ ("metres")) \
  C (IMPERIAL, "imperial", N_ ("feet and inches"))

#define PLUMB_CHOICES_PURPOSE(C) \
  C (HOME, "home", N_ ("home")) \
  C (CINEMA, "cinema", N_ ("cinema")) \
  C (READING, "reading", N_ ("reading: basic decision making")) \
  C (DETAIL, "detail", N_ ("fine detail: analytical decision making"))

#define PLUMB_CHOICES_BOUND(C) \
  C (RECTANGULAR, "limit", N_ ("never further off than this")) \
  C (TWO_SIGMA, "two_sigma", N_ ("two standard deviations"))

#define PLUMB_CHOICES_CONSTRUCTION(C) \
  C (UNKNOWN, "unknown", N_ ("not known")) \
  C (STUD, "stud", N_ ("stud wall")) \
  C (BRICK, "brick", N_ ("brick")) \
  C (BLOCK, "block", N_ ("block")) \
  C (STONE, "stone", N_ ("stone")) \
  C (CONCRETE, "concrete", N_ ("concrete")) \
  C (LINING, "lining", N_ ("board lining")) \
  C (NONE, "none", N_ ("no wall, open side"))

#define PLUMB_CHOICES_MEMBER(C) \
  C (JOIST, "joist", N_ ("joist")) \
  C (RAFTER, "rafter", N_ ("rafter")) \
  C (STUD, "stud", N_ ("stud")) \
  C (TIE_BEAM, "tie_beam", N_ ("tie beam")) \
  C (STEEL, "steel", N_ ("steel beam")) \
  C (SLAB, "slab", N_ ("slab or masonry"))

#define PLUMB_CHOICES_SUPPORT(C) \
  C (WALL, "wall", N_ ("on a wall")) \
  C (DROP, "drop", N_ ("hung from the ceiling")) \
  C (FREE, "free", N_ ("standing free"))

#define PLUMB_CHOICES_LIT(C) \
  C (FRONT, "front", N_ ("from the front")) \
  C (REAR, "rear", N_ ("from behind"))

#define PLUMB_CHOICES_END(C) \
  C (START, "start", N_ ("start of the wall")) \
  C (END, "end", N_ ("end of the wall"))

#define PLUMB_CHOICES_ACROSS(C) \
  C (CENTRE, "centre", N_ ("its centre")) \
  C (NEAR_EDGE, "near_edge", N_ ("its nearer edge"))

#define PLUMB_CHOICES_SURFACE(C) \
  C (MATT, "matt", N_ ("matt")) \
  C (ANGULAR, "angular", N_ ("angular-reflective")) \
  C (RETRO, "retro", N_ ("retro-reflective"))

#define PLUMB_CHOICES_LENS_DATA(C) \
  C (RANGE, "range", N_ ("throw range")) \
  C (PAIRS, "pairs", N_ ("distances and widths"))

#define PLUMB_CHOICES_DATUM(C) \
  C (FRONT, "lens_front", N_ ("front of the lens")) \
  C (PUPIL, "exit_pupil", N_ ("exit pupil")) \
  C (FEET, "front_feet", N_ ("front feet of the body"))

#define PLUMB_CHOICES_OFFSET_FORM(C) \
  C (FAR_EDGE, "far_edge", N_ ("axis to far edge, 50 % is centred")) \
  C (HALF_HEIGHT, "half_height", N_ ("in half heights, 100 % is edge on axis")) \
  C (FULL_HEIGHT, "full_height", N_ ("in full heights, 50 % is edge on axis")) \
  C (GAP, "gap", N_ ("gap from axis to near edge")) \
  C (RATIO, "ratio", N_ ("parts above : below the axis"))

#define PLUMB_CHOICES_SHIFT_SHAPE(C) \
  C (NONE, "none", N_ ("no shift")) \
  C (RECTANGLE, "rectangle", N_ ("both axes freely")) \
  C (DIAMOND, "diamond", N_ ("diamond")) \
  C (CORNER_CUT, "corner_cut", N_ ("corners cut")) \
  C (ELLIPSE, "ellipse", N_ ("ellipse")) \
  C (CIRCLE, "image_circle", N_ ("image circle")) \
  C (POLYGON, "polygon", N_ ("polygon"))

#define PLUMB_CHOICES_SHIFT_UNIT(C) \
  C (FULL, "full", N_ ("share of full width and height")) \
  C (HALF, "half", N_ ("share of half width and height"))

#define PLUMB_CHOICES_PAIR_END(C) \
  C (WIDE, "wide", N_ ("wide end")) \
  C (TELE, "tele", N_ ("tele end"))

#define PLUMB_CHOICES_MOUNT_KIND(C) \
  C (PLATE, "plate", N_ ("close plate")) \
  C (TUBE, "tube", N_ ("drop tube")) \
  C (ARM, "arm", N_ ("wall arm")) \
  C (CRADLE, "cradle", N_ ("cradle")) \
  C (SHELF, "shelf", N_ ("shelf or table"))

#define PLUMB_CHOICES_TUBE(C) \
  C (VERTICAL, "vertical", N_ ("hangs plumb")) \
  C (NORMAL, "normal", N_ ("square to the slope"))

#define PLUMB_CHOICES_CARRIED(C) \
  C (HUNG, "hung", N_ ("hung")) \
  C (STANDING, "standing", N_ ("standing")) \
  C (WALL_ARM, "wall_arm", N_ ("on a wall arm"))

#define PLUMB_CHOICES_HEIGHT_FROM(C) \
  C (FLOOR, "floor", N_ ("up from the floor")) \
  C (CEILING, "ceiling", N_ ("down from the ceiling")) \
  C (STRUCTURE, "structure", N_ ("down from a structure"))

#define PLUMB_CHOICES_SOLVE(C) \
  C (SOLVED, "solved", N_ ("solved for the screen")) \
  C (TYPED, "typed", N_ ("as typed"))

#define PLUMB_CHOICES_POSTURE(C) \
  C (SITTING, "sitting", N_ ("sitting")) \
  C (STANDING, "standing", N_ ("standing")) \
  C (WALKING, "walking", N_ ("walking a path"))

/* What somebody sits on decides how the eye comes to stand over the seat. */
#define PLUMB_CHOICES_SEAT_KIND(C) \
  C (CHAIR, "chair", N_ ("chair, sitting upright")) \
  C (SOFA, "sofa", N_ ("sofa, sitting slumped")) \
  C (LOUNGER, "lounger", N_ ("lounger, leaning back"))

/* The survey's percentiles: women, men, and half of each. */
#define PLUMB_CHOICES_EYE_FROM(C) \
  C (TYPED, "typed", N_ ("typed")) \
  C (WOMEN_5, "women_5", N_ ("women, 5th percentile")) \
  C (WOMEN_50, "women_50", N_ ("women, median")) \
  C (WOMEN_95, "women_95", N_ ("women, 95th percentile")) \
  C (MIXED_5, "mixed_5", N_ ("adults, 5th percentile")) \
  C (MIXED_50, "mixed_50", N_ ("adults, median")) \
  C (MIXED_95, "mixed_95", N_ ("adults, 95th percentile")) \
  C (MEN_5, "men_5", N_ ("men, 5th percentile")) \
  C (MEN_50, "men_50", N_ ("men, median")) \
  C (MEN_95, "men_95", N_ ("men, 95th percentile"))

#define PLUMB_CHOICES_SHAPE(C) \
  C (BOX, "box", N_ ("box")) \
  C (PRISM, "prism", N_ ("extruded outline")) \
  C (CYLINDER, "cylinder", N_ ("cylinder")) \
  C (ELLIPSOID, "ellipsoid", N_ ("ellipsoid"))

#define PLUMB_CHOICES_ROLE(C) \
  C (BEAM, "beam", N_ ("beam or soffit")) \
  C (DUCT, "duct", N_ ("duct or pipe")) \
  C (COLUMN, "column", N_ ("column")) \
  C (FURNITURE, "furniture", N_ ("furniture")) \
  C (LAMP, "lamp", N_ ("lamp")) \
  C (SPEAKER, "speaker", N_ ("loudspeaker")) \
  C (PLATFORM, "platform", N_ ("platform or riser")) \
  C (STOVE, "stove", N_ ("stove or radiator")) \
  C (FAN, "fan", N_ ("ceiling fan")) \
  C (DOOR, "door", N_ ("door leaf")) \
  C (CURTAIN, "curtain", N_ ("curtain")) \
  C (VENT, "vent", N_ ("air outlet")) \
  C (OTHER, "other", N_ ("other"))

#define PLUMB_CHOICES_OPENING(C) \
  C (DOOR, "door", N_ ("door")) \
  C (WINDOW, "window", N_ ("window")) \
  C (HATCH, "hatch", N_ ("hatch")) \
  C (PASSAGE, "passage", N_ ("passage"))

#define PLUMB_CHOICES_LAMP_KIND(C) \
  C (POINT, "point", N_ ("lamp, all round")) \
  C (DOWN, "down", N_ ("downlight")) \
  C (WINDOW, "window", N_ ("window"))

/* ---- the job -------------------------------------------------------------- */

#define PLUMB_FIELDS_job(F) \
  F (TEXT, title, "title", 96, 0, 0, "", ALWAYS, N_ ("Title"), N_ ("What the job is called on every sheet."), 1) \
  F (TEXT, client, "client", 96, 0, 0, "", ALWAYS, N_ ("Client"), N_ ("For whom the work is done."), 1) \
  F (TEXT, address, "address", 160, 0, 0, "", ALWAYS, N_ ("Address"), N_ ("Where the room is."), 1) \
  F (TEXT, installer, "installer", 96, 0, 0, "", ALWAYS, N_ ("Installer"), N_ ("Who plans and carries out the work."), 1) \
  F (TEXT, revision, "revision", 24, 0, 0, "1", ALWAYS, N_ ("Revision"), N_ ("Printed in the title block."), 1) \
  F (TEXT, dated, "dated", 32, 0, 0, "", ALWAYS, N_ ("Date"), N_ ("Printed in the title block, as typed."), 1) \
  F (CHOICE, units, "units", UNITS, 0, 0, PLUMB_UNITS_METRIC, ALWAYS, N_ ("Units"), N_ ("How lengths are shown; the file is always metric."), 1) \
  F (CHOICE, purpose, "purpose", PURPOSE, 0, 0, PLUMB_PURPOSE_HOME, ALWAYS, N_ ("Purpose"), N_ ("What the picture is for; chooses the viewing limits."), 1) \
  F (REF, arrangement, "arrangement", PLUMB_REF (arrangement), 0, 0, "", ALWAYS, N_ ("Current arrangement"), N_ ("The arrangement that is shown."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Usual tape"), N_ ("What everything was measured with unless a record says otherwise."), 1) \
  F (TEXT, notes, "notes", 2048, 0, 0, "", ALWAYS, N_ ("Notes"), N_ ("Anything else."), 1)

#define PLUMB_FIELDS_tape(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is."), 1) \
  F (NUM, error_m, "error_mm", MM, 0, 1000, 3, ALWAYS, N_ ("Error"), N_ ("How far a length measured with it may be off."), 1) \
  F (NUM, error_per_m_share, "error_per_m_pct", PCT, 0, 10, 0, ALWAYS, N_ ("Error per metre"), N_ ("Further error that grows with the length."), 1) \
  F (CHOICE, bound, "bound", BOUND, 0, 0, PLUMB_BOUND_RECTANGULAR, ALWAYS, N_ ("Means"), N_ ("Whether the error is a limit or two standard deviations."), 1)

/* ---- the building --------------------------------------------------------- */

#define PLUMB_FIELDS_space(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("Room, void above a ceiling, room behind a wall."), 1) \
  F (NUM, floor_z_m, "floor_z_m", M, -50, 200, 0, ALWAYS, N_ ("Floor level"), N_ ("Level of the floor; the first space's lowest floor is 0."), 1) \
  F (NUM, reflectance_share, "reflectance_pct", PCT, 0, 95, 50, ALWAYS, N_ ("Walls give back"), N_ ("Share of light that walls and ceiling throw back; 50 is a light room, 10 a dark one."), 1) \
  F (NUM, floor_reflectance_share, "floor_reflectance_pct", PCT, 0, 95, 20, ALWAYS, N_ ("Floor gives back"), N_ ("Share of light that the floor and what stands on it throw back."), 1) \
  F (NUM, reverberation_s, "reverberation_s", S, 0, 20, 0, ALWAYS, N_ ("Reverberation"), N_ ("Reverberation time; 0 when not known: noise then falls with distance alone."), 1)

/* A wall holds its start corner; the next wall of the space holds its end. */
#define PLUMB_FIELDS_wall(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (REF, space, "space", PLUMB_REF (space), 0, 0, "", ALWAYS, N_ ("Space"), N_ ("The space that it bounds."), 1) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, ALWAYS, N_ ("Start corner x"), N_ ("Corner where the wall begins; corners run counter-clockwise seen from above."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, ALWAYS, N_ ("Start corner y"), N_ ("Corner where the wall begins."), 1) \
  F (NUM, thickness_m, "thickness_mm", MM, 1, 5000, 120, ALWAYS, N_ ("Thickness"), N_ ("From the inner to the outer face."), 1) \
  F (CHOICE, construction, "construction", CONSTRUCTION, 0, 0, PLUMB_CONSTRUCTION_UNKNOWN, ALWAYS, N_ ("Construction"), N_ ("What the wall is made of."), 1) \
  F (NUM, flatness_m, "flatness_mm", MM, 0, 500, 5, ALWAYS, N_ ("Bump"), N_ ("Greatest bump or hollow under a straight edge."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Tape"), N_ ("Measured with; the job's usual tape if empty."), 1)

/* A finished ceiling plane through three heights: z = z0 + slope in a
 * direction; with a limit polygon it covers only that part. */
#define PLUMB_FIELDS_ceiling(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (REF, space, "space", PLUMB_REF (space), 0, 0, "", ALWAYS, N_ ("Space"), N_ ("The space that it covers."), 1) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, ALWAYS, N_ ("Measured at x"), N_ ("Point at which the height was measured."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, ALWAYS, N_ ("Measured at y"), N_ ("Point at which the height was measured."), 1) \
  F (NUM, height_m, "height_m", M, 0.1, 200, 2.4, ALWAYS, N_ ("Height"), N_ ("Height above the space's floor at that point."), 1) \
  F (NUM, slope_rad, "slope_deg", DEG, 0, 89, 0, ALWAYS, N_ ("Slope"), N_ ("How steeply the ceiling rises; 0 is level."), 1) \
  F (NUM, rise_direction_rad, "rise_direction_deg", DEG, -360, 360, 0, ALWAYS, N_ ("Rises towards"), N_ ("Direction in plan in which it rises, counter-clockwise from x."), 1) \
  F (NUM, thickness_m, "thickness_mm", MM, 1, 5000, 100, ALWAYS, N_ ("Thickness"), N_ ("Of the ceiling's build-up."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Tape"), N_ ("Measured with; the job's usual tape if empty."), 1)

#define PLUMB_FIELDS_ceiling_point(F) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, ALWAYS, N_ ("x"), N_ ("Corner of the part that the plane covers."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, ALWAYS, N_ ("y"), N_ ("Corner of the part that the plane covers."), 1)

/* A straight member from start to end, the axis of its underside; repeated
 * sideways. Exposed members can cut the beam. */
#define PLUMB_FIELDS_structure(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (CHOICE, member, "member", MEMBER, 0, 0, PLUMB_MEMBER_JOIST, ALWAYS, N_ ("Kind"), N_ ("Joist, rafter, stud, tie beam, steel, slab."), 1) \
  F (NUM, start_x_m, "start_x_m", M, -1000, 1000, 0, ALWAYS, N_ ("From x"), N_ ("Start of the underside's centre line."), 1) \
  F (NUM, start_y_m, "start_y_m", M, -1000, 1000, 0, ALWAYS, N_ ("From y"), N_ ("Start of the underside's centre line."), 1) \
  F (NUM, start_z_m, "start_z_m", M, -50, 200, 2.4, ALWAYS, N_ ("From level"), N_ ("Level of the underside at the start."), 1) \
  F (NUM, end_x_m, "end_x_m", M, -1000, 1000, 1, ALWAYS, N_ ("To x"), N_ ("End of the underside's centre line."), 1) \
  F (NUM, end_y_m, "end_y_m", M, -1000, 1000, 0, ALWAYS, N_ ("To y"), N_ ("End of the underside's centre line."), 1) \
  F (NUM, end_z_m, "end_z_m", M, -50, 200, 2.4, ALWAYS, N_ ("To level"), N_ ("Level of the underside at the end."), 1) \
  F (NUM, width_m, "width_mm", MM, 1, 100000, 60, ALWAYS, N_ ("Width"), N_ ("Across the member."), 1) \
  F (NUM, depth_m, "depth_mm", MM, 1, 5000, 180, ALWAYS, N_ ("Depth"), N_ ("From the underside up; for a stud, through the wall."), 1) \
  F (COUNT, count, "count", NONE, 1, 500, 1, ALWAYS, N_ ("Count"), N_ ("How many there are, side by side."), 1) \
  F (NUM, spacing_m, "spacing_m", M, 0.01, 100, 0.6, ALWAYS, N_ ("Spacing"), N_ ("Centre to centre."), 1) \
  F (NUM, spacing_direction_rad, "spacing_direction_deg", DEG, -360, 360, 0, ALWAYS, N_ ("Repeats towards"), N_ ("Direction in plan of the repeat, counter-clockwise from x."), 1) \
  F (FLAG, exposed, "exposed", 0, 0, 1, 0, ALWAYS, N_ ("Stands in the room"), N_ ("Not hidden behind a ceiling or wall face: it can cut the beam."), 1) \
  F (FLAG, found, "found", 0, 0, 1, 0, ALWAYS, N_ ("Found"), N_ ("Both edges were felt or seen, not taken from the spacing."), 1) \
  F (TEXT, material, "material", 64, 0, 0, "", ALWAYS, N_ ("Material"), N_ ("Timber, steel or masonry and its class, as far as known."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Tape"), N_ ("Measured with; the job's usual tape if empty."), 1)

/* ---- screen, machine, lens, mount ------------------------------------------ */

#define PLUMB_FIELDS_screen(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (CHOICE, support, "support", SUPPORT, 0, 0, PLUMB_SUPPORT_WALL, ALWAYS, N_ ("Carried"), N_ ("On a wall, hung from the ceiling before a wall, or free."), 1) \
  F (CHOICE, lit, "lit", LIT, 0, 0, PLUMB_LIT_FRONT, ALWAYS, N_ ("Lit"), N_ ("From the viewers' side or from behind."), 1) \
  F (REF, wall, "wall", PLUMB_REF (wall), 0, 0, "", WHEN (screen, support, PLUMB_SUPPORT_WALL, PLUMB_SUPPORT_DROP), N_ ("Wall"), N_ ("The wall that it is on or hangs before."), 1) \
  F (CHOICE, across_end, "across_from", END, 0, 0, PLUMB_END_END, WHEN (screen, support, PLUMB_SUPPORT_WALL, PLUMB_SUPPORT_DROP), N_ ("Across, from"), N_ ("End of the wall from which the place across was measured; the viewer's left end is the wall's end."), 1) \
  F (CHOICE, across_to, "across_to", ACROSS, 0, 0, PLUMB_ACROSS_CENTRE, WHEN (screen, support, PLUMB_SUPPORT_WALL, PLUMB_SUPPORT_DROP), N_ ("Across, to"), N_ ("Whether the measure goes to the centre or the nearer edge."), 1) \
  F (NUM, across_m, "across_m", M, -1000, 1000, 1, WHEN (screen, support, PLUMB_SUPPORT_WALL, PLUMB_SUPPORT_DROP), N_ ("Across"), N_ ("From that end of the wall along it."), 1) \
  F (NUM, stand_off_m, "stand_off_mm", MM, -5000, 100000, 0, WHEN (screen, support, PLUMB_SUPPORT_WALL, PLUMB_SUPPORT_DROP), N_ ("Stand-off"), N_ ("From the wall's face to the picture's plane, at the lower edge."), 1) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, WHEN (screen, support, PLUMB_SUPPORT_FREE), N_ ("Centre x"), N_ ("Middle of the lower edge."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, WHEN (screen, support, PLUMB_SUPPORT_FREE), N_ ("Centre y"), N_ ("Middle of the lower edge."), 1) \
  F (NUM, facing_rad, "facing_deg", DEG, -360, 360, 0, WHEN (screen, support, PLUMB_SUPPORT_FREE), N_ ("Faces"), N_ ("Direction in plan towards the viewers, counter-clockwise from x."), 1) \
  F (NUM, bottom_m, "bottom_m", M, -10, 100, 0.9, ALWAYS, N_ ("Lower edge"), N_ ("Above the floor of the first space."), 1) \
  F (NUM, width_m, "width_m", M, 0.05, 200, 2, ALWAYS, N_ ("Width"), N_ ("Of the face that the picture may fill."), 1) \
  F (NUM, height_m, "height_m", M, 0.05, 200, 1.125, ALWAYS, N_ ("Height"), N_ ("Of the face that the picture may fill."), 1) \
  F (NUM, lean_rad, "lean_deg", DEG, -80, 80, 0, ALWAYS, N_ ("Lean"), N_ ("Positive when the upper edge leans towards the viewers."), 1) \
  F (NUM, border_m, "border_mm", MM, 0, 1000, 0, ALWAYS, N_ ("Dark border"), N_ ("Takes up light that spills over the edge."), 1) \
  F (NUM, gain_ratio, "gain", RATIO, 0.05, 20, 1, ALWAYS, N_ ("Gain"), N_ ("Peak gain from the data sheet."), 1) \
  F (NUM, half_gain_rad, "half_gain_deg", DEG, 1, 90, 80, ALWAYS, N_ ("Half-gain angle"), N_ ("Angle at which the gain has fallen to half."), 1) \
  F (CHOICE, surface, "surface", SURFACE, 0, 0, PLUMB_SURFACE_MATT, ALWAYS, N_ ("Surface"), N_ ("How it sends the light back."), 1) \
  F (NUM, flatness_m, "flatness_mm", MM, 0, 500, 0, ALWAYS, N_ ("Bump"), N_ ("Greatest bump of the face itself; a painted wall takes the wall's."), 1) \
  F (FLAG, passes_sound, "passes_sound", 0, 0, 1, 0, ALWAYS, N_ ("Passes sound"), N_ ("Perforated or woven, so that loudspeakers may stand behind it."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Tape"), N_ ("Measured with; the job's usual tape if empty."), 1)

/* Body axes: right, up, forward of the machine standing upright, origin at
 * the centre of the hole pattern. */
#define PLUMB_FIELDS_machine(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (TEXT, lens_fitting, "lens_fitting", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Lens fitting"), N_ ("Only lenses with the same word fit."), 1) \
  F (COUNT, panel_w_px, "panel_w_px", PX, 16, 65536, 1920, ALWAYS, N_ ("Panel, across"), N_ ("Pixels across."), 1) \
  F (COUNT, panel_h_px, "panel_h_px", PX, 16, 65536, 1080, ALWAYS, N_ ("Panel, down"), N_ ("Pixels down."), 1) \
  F (NUM, flux_lm, "flux_lm", LM, 1, 1000000, 3000, ALWAYS, N_ ("Light output"), N_ ("As rated."), 1) \
  F (NUM, rated_share, "rated_pct", PCT, 1, 120, 80, ALWAYS, N_ ("Of the printed light"), N_ ("What a shipped machine gives of the printed figure; the rating standard lets it fall to 80 %."), 1) \
  F (NUM, mode_share, "mode_pct", PCT, 1, 100, 100, ALWAYS, N_ ("Light mode"), N_ ("Light in the mode in use, of the mode in which the figure was measured."), 1) \
  F (NUM, age_share, "age_pct", PCT, 1, 100, 75, ALWAYS, N_ ("Age"), N_ ("Light left after ageing; 75 is midway between new and worn to half."), 1) \
  F (NUM, dirt_share, "dirt_pct", PCT, 1, 100, 95, ALWAYS, N_ ("Dirt"), N_ ("Light left behind dust on filter and lens."), 1) \
  F (NUM, contrast_ratio, "contrast", RATIO, 1, 10000000, 400, ALWAYS, N_ ("Contrast"), N_ ("Checkerboard contrast of the machine itself."), 1) \
  F (NUM, width_m, "width_mm", MM, 10, 10000, 330, ALWAYS, N_ ("Body width"), N_ ("Across."), 1) \
  F (NUM, height_m, "height_mm", MM, 10, 10000, 110, ALWAYS, N_ ("Body height"), N_ ("Without feet."), 1) \
  F (NUM, depth_m, "depth_mm", MM, 10, 10000, 260, ALWAYS, N_ ("Body depth"), N_ ("Back to front without the lens."), 1) \
  F (NUM, body_right_m, "body_right_mm", MM, -5000, 5000, 0, ALWAYS, N_ ("Body centre, right"), N_ ("From the hole pattern to the middle of the body, to the body's right."), 1) \
  F (NUM, body_forward_m, "body_forward_mm", MM, -5000, 5000, 0, ALWAYS, N_ ("Body centre, forward"), N_ ("From the hole pattern to the middle of the body, forward."), 1) \
  F (NUM, lens_right_m, "lens_right_mm", MM, -5000, 5000, 0, ALWAYS, N_ ("Lens, right"), N_ ("From the hole pattern to the lens axis, to the body's right."), 1) \
  F (NUM, lens_up_m, "lens_up_mm", MM, -5000, 5000, 55, ALWAYS, N_ ("Lens, up"), N_ ("From the hole pattern's face to the lens axis."), 1) \
  F (NUM, lens_forward_m, "lens_forward_mm", MM, -5000, 5000, 130, ALWAYS, N_ ("Lens, forward"), N_ ("From the hole pattern to the front of the lens."), 1) \
  F (NUM, lens_diameter_m, "lens_diameter_mm", MM, 1, 500, 40, ALWAYS, N_ ("Lens opening"), N_ ("Diameter of the bundle of light in the lens; makes the soft edge of shadows."), 1) \
  F (NUM, feet_forward_m, "feet_forward_mm", MM, -5000, 5000, 100, ALWAYS, N_ ("Front feet, forward"), N_ ("From the hole pattern to the front feet."), 1) \
  F (NUM, feet_height_m, "feet_height_mm", MM, 0, 2000, 10, ALWAYS, N_ ("Feet"), N_ ("Height of the feet below the hole pattern's face."), 1) \
  F (NUM, mass_kg, "mass_kg", KG, 0.01, 5000, 4, ALWAYS, N_ ("Mass"), N_ ("With lens."), 1) \
  F (NUM, power_w, "power_w", W, 0, 100000, 300, ALWAYS, N_ ("Power"), N_ ("Greatest electrical power."), 1) \
  F (NUM, noise_db, "noise_db", DB, 0, 120, 30, ALWAYS, N_ ("Noise"), N_ ("A-weighted level at 1 m."), 1) \
  F (NUM, air_left_m, "air_left_mm", MM, 0, 10000, 300, ALWAYS, N_ ("Air, left"), N_ ("Free room that the left side needs."), 1) \
  F (NUM, air_right_m, "air_right_mm", MM, 0, 10000, 300, ALWAYS, N_ ("Air, right"), N_ ("Free room that the right side needs."), 1) \
  F (NUM, air_top_m, "air_top_mm", MM, 0, 10000, 50, ALWAYS, N_ ("Air, top"), N_ ("Free room that the top of the upright body needs."), 1) \
  F (NUM, air_bottom_m, "air_bottom_mm", MM, 0, 10000, 10, ALWAYS, N_ ("Air, bottom"), N_ ("Free room that the underside needs, mount apart."), 1) \
  F (NUM, air_rear_m, "air_rear_mm", MM, 0, 10000, 100, ALWAYS, N_ ("Air, rear"), N_ ("Free room that the rear needs for air."), 1) \
  F (NUM, air_front_m, "air_front_mm", MM, 0, 10000, 100, ALWAYS, N_ ("Air, front"), N_ ("Free room that the front grille needs."), 1) \
  F (NUM, plug_m, "plug_mm", MM, 0, 1000, 45, ALWAYS, N_ ("Plug"), N_ ("Length of the longest plug behind the body."), 1) \
  F (NUM, bend_radius_m, "bend_radius_mm", MM, 0, 1000, 40, ALWAYS, N_ ("Bend radius"), N_ ("Least bend radius of the stiffest cable behind the body."), 1) \
  F (NUM, pitch_limit_rad, "pitch_limit_deg", DEG, 0, 90, 15, ALWAYS, N_ ("Tilt limit"), N_ ("Greatest tilt against level that the maker allows."), 1) \
  F (NUM, roll_limit_rad, "roll_limit_deg", DEG, 0, 180, 5, ALWAYS, N_ ("Roll limit"), N_ ("Greatest roll against level that the maker allows."), 1) \
  F (NUM, keystone_limit_rad, "keystone_limit_deg", DEG, 0, 80, 30, ALWAYS, N_ ("Keystone limit"), N_ ("Greatest angle that the digital correction takes."), 1) \
  F (NUM, hazard_distance_m, "hazard_distance_m", M, 0, 100, 0, ALWAYS, N_ ("Hazard distance"), N_ ("From the data sheet; 0 means none was given."), 1)

#define PLUMB_FIELDS_lens(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (TEXT, lens_fitting, "lens_fitting", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Lens fitting"), N_ ("Fits machines with the same word."), 1) \
  F (CHOICE, data, "data", LENS_DATA, 0, 0, PLUMB_LENS_DATA_RANGE, ALWAYS, N_ ("Data sheet gives"), N_ ("A throw range, or lines of distance, width and gap."), 1) \
  F (NUM, throw_wide_ratio, "throw_ratio_wide", RATIO, 0.01, 50, 1.5, WHEN (lens, data, PLUMB_LENS_DATA_RANGE), N_ ("Throw ratio, wide"), N_ ("Distance over picture width at the wide end."), 1) \
  F (NUM, throw_tele_ratio, "throw_ratio_tele", RATIO, 0.01, 50, 1.5, WHEN (lens, data, PLUMB_LENS_DATA_RANGE), N_ ("Throw ratio, tele"), N_ ("Distance over picture width at the tele end; the same for a fixed lens."), 1) \
  F (CHOICE, datum, "throw_from", DATUM, 0, 0, PLUMB_DATUM_FRONT, ALWAYS, N_ ("Throw from"), N_ ("Where the data sheet's distance begins."), 1) \
  F (NUM, pupil_behind_m, "pupil_behind_mm", MM, -1000, 2000, 0, WHEN (lens, data, PLUMB_LENS_DATA_RANGE), N_ ("Pupil behind"), N_ ("How far the exit pupil lies behind that datum."), 1) \
  F (NUM, throw_error_share, "throw_error_pct", PCT, 0, 20, 5, ALWAYS, N_ ("Throw error"), N_ ("How far printed throw data may be off."), 1) \
  F (CHOICE, offset_form, "offset_form", OFFSET_FORM, 0, 0, PLUMB_OFFSET_FORM_FULL_HEIGHT, ALWAYS, N_ ("Offset is printed as"), N_ ("What the data sheet's per cent means."), 1) \
  F (NUM, offset_share, "offset_pct", PCT, -500, 500, 0, WHEN (lens, offset_form, PLUMB_OFFSET_FORM_FAR_EDGE, PLUMB_OFFSET_FORM_HALF_HEIGHT, PLUMB_OFFSET_FORM_FULL_HEIGHT, PLUMB_OFFSET_FORM_GAP), N_ ("Built-in offset"), N_ ("As printed, body upright, upwards positive."), 1) \
  F (NUM, offset_above_ratio, "offset_above", RATIO, -100, 100, 5, WHEN (lens, offset_form, PLUMB_OFFSET_FORM_RATIO), N_ ("Parts above"), N_ ("Parts of the height above the axis."), 1) \
  F (NUM, offset_below_ratio, "offset_below", RATIO, -100, 100, 5, WHEN (lens, offset_form, PLUMB_OFFSET_FORM_RATIO), N_ ("Parts below"), N_ ("Parts of the height below the axis."), 1) \
  F (CHOICE, shift_set, "shift_set", SHIFT_SHAPE, 0, 0, PLUMB_SHIFT_SHAPE_NONE, ALWAYS, N_ ("Lens shift"), N_ ("Shape of the allowed set."), 1) \
  F (CHOICE, shift_unit, "shift_unit", SHIFT_UNIT, 0, 0, PLUMB_SHIFT_UNIT_FULL, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_RECTANGLE, PLUMB_SHIFT_SHAPE_DIAMOND, PLUMB_SHIFT_SHAPE_CORNER_CUT, PLUMB_SHIFT_SHAPE_ELLIPSE, PLUMB_SHIFT_SHAPE_CIRCLE, PLUMB_SHIFT_SHAPE_POLYGON), N_ ("Shift is printed in"), N_ ("Full or half picture sizes."), 1) \
  F (NUM, shift_up_share, "shift_up_pct", PCT, -300, 300, 0, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_RECTANGLE, PLUMB_SHIFT_SHAPE_DIAMOND, PLUMB_SHIFT_SHAPE_CORNER_CUT, PLUMB_SHIFT_SHAPE_ELLIPSE, PLUMB_SHIFT_SHAPE_CIRCLE), N_ ("Shift up"), N_ ("Alone, body upright."), 1) \
  F (NUM, shift_down_share, "shift_down_pct", PCT, -300, 300, 0, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_RECTANGLE, PLUMB_SHIFT_SHAPE_DIAMOND), N_ ("Shift down"), N_ ("Alone; the other shapes are symmetric."), 1) \
  F (NUM, shift_left_share, "shift_left_pct", PCT, -300, 300, 0, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_RECTANGLE, PLUMB_SHIFT_SHAPE_DIAMOND), N_ ("Shift left"), N_ ("Alone, as the viewer sees it."), 1) \
  F (NUM, shift_right_share, "shift_right_pct", PCT, -300, 300, 0, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_RECTANGLE, PLUMB_SHIFT_SHAPE_DIAMOND, PLUMB_SHIFT_SHAPE_CORNER_CUT, PLUMB_SHIFT_SHAPE_ELLIPSE), N_ ("Shift right"), N_ ("Alone."), 1) \
  F (NUM, shift_h_at_v_max_share, "shift_h_at_v_max_pct", PCT, 0, 300, 0, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_CORNER_CUT), N_ ("Sideways at full height"), N_ ("Sideways shift left at full vertical shift."), 1) \
  F (NUM, shift_v_at_h_max_share, "shift_v_at_h_max_pct", PCT, 0, 300, 0, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_CORNER_CUT), N_ ("Vertical at full side"), N_ ("Vertical shift left at full sideways shift."), 1) \
  F (NUM, shift_diagonal_h_share, "shift_diagonal_h_pct", PCT, 0, 300, 0, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_CORNER_CUT), N_ ("Diagonal, sideways"), N_ ("A printed point between; 0 if there is none."), 1) \
  F (NUM, shift_diagonal_v_share, "shift_diagonal_v_pct", PCT, 0, 300, 0, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_CORNER_CUT), N_ ("Diagonal, vertical"), N_ ("A printed point between; 0 if there is none."), 1) \
  F (NUM, shift_tele_ratio, "shift_tele_scale", RATIO, 0, 5, 1, WHEN (lens, shift_set, PLUMB_SHIFT_SHAPE_RECTANGLE, PLUMB_SHIFT_SHAPE_DIAMOND, PLUMB_SHIFT_SHAPE_CORNER_CUT, PLUMB_SHIFT_SHAPE_ELLIPSE, PLUMB_SHIFT_SHAPE_CIRCLE, PLUMB_SHIFT_SHAPE_POLYGON), N_ ("Shift at the tele end"), N_ ("As a multiple of the set at the wide end."), 1) \
  F (NUM, focus_near_m, "focus_near_m", M, 0, 1000, 0, ALWAYS, N_ ("Focus, near"), N_ ("Shortest distance that it focuses at."), 1) \
  F (NUM, focus_far_m, "focus_far_m", M, 0, 10000, 0, ALWAYS, N_ ("Focus, far"), N_ ("Longest distance that it focuses at."), 1) \
  F (NUM, light_tele_share, "light_tele_pct", PCT, 1, 100, 100, ALWAYS, N_ ("Light at the tele end"), N_ ("Share of the wide end's light."), 1)

#define PLUMB_FIELDS_lens_pair(F) \
  F (CHOICE, end, "end", PAIR_END, 0, 0, PLUMB_PAIR_END_WIDE, ALWAYS, N_ ("Zoom end"), N_ ("Which end of the zoom the line belongs to."), 1) \
  F (NUM, distance_m, "distance_m", M, 0.001, 1000, 1, ALWAYS, N_ ("Distance"), N_ ("From the data sheet's datum to the picture."), 1) \
  F (NUM, width_m, "width_m", M, 0.01, 200, 1, ALWAYS, N_ ("Width"), N_ ("Picture width at that distance."), 1) \
  F (NUM, gap_m, "gap_m", M, -100, 100, 0, ALWAYS, N_ ("Gap"), N_ ("From the lens axis to the picture's near edge, positive when the axis is clear of it."), 1)

#define PLUMB_FIELDS_lens_shift_point(F) \
  F (NUM, h_share, "h_pct", PCT, -300, 300, 0, ALWAYS, N_ ("Sideways"), N_ ("Corner of the allowed set, right positive."), 1) \
  F (NUM, v_share, "v_pct", PCT, -300, 300, 0, ALWAYS, N_ ("Vertical"), N_ ("Corner of the allowed set, up positive, body upright."), 1)

#define PLUMB_FIELDS_mount(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (CHOICE, kind, "kind", MOUNT_KIND, 0, 0, PLUMB_MOUNT_KIND_PLATE, ALWAYS, N_ ("Kind"), N_ ("Close plate, tube, arm, cradle or shelf."), 1) \
  F (CHOICE, tube, "tube", TUBE, 0, 0, PLUMB_TUBE_VERTICAL, ALWAYS, N_ ("On a slope"), N_ ("Whether the tube hangs plumb or stands square to the slope."), 1) \
  F (NUM, drop_least_m, "drop_least_mm", MM, 0, 20000, 0, ALWAYS, N_ ("Least drop"), N_ ("Shortest drop from the plate to the pivot."), 1) \
  F (NUM, drop_most_m, "drop_most_mm", MM, 0, 20000, 20000, ALWAYS, N_ ("Greatest drop"), N_ ("Longest drop from the plate to the pivot."), 1) \
  F (NUM, head_to_holes_m, "head_to_holes_mm", MM, 0, 2000, 30, ALWAYS, N_ ("Pivot to holes"), N_ ("From the pivot to the face that the machine's holes meet."), 1) \
  F (NUM, head_right_m, "head_right_mm", MM, -1000, 1000, 0, ALWAYS, N_ ("Holes, right"), N_ ("From the pivot to the hole pattern, to the body's right."), 1) \
  F (NUM, head_forward_m, "head_forward_mm", MM, -1000, 1000, 0, ALWAYS, N_ ("Holes, forward"), N_ ("From the pivot to the hole pattern, forward."), 1) \
  F (NUM, yaw_limit_rad, "yaw_limit_deg", DEG, 0, 180, 180, ALWAYS, N_ ("Turn limit"), N_ ("Greatest turn of the head either way."), 1) \
  F (NUM, pitch_limit_rad, "pitch_limit_deg", DEG, 0, 90, 20, ALWAYS, N_ ("Tilt limit"), N_ ("Greatest tilt of the head either way."), 1) \
  F (NUM, roll_limit_rad, "roll_limit_deg", DEG, 0, 90, 10, ALWAYS, N_ ("Roll limit"), N_ ("Greatest roll of the head either way."), 1) \
  F (NUM, mass_kg, "mass_kg", KG, 0, 1000, 2, ALWAYS, N_ ("Mass"), N_ ("Of the mount itself."), 1) \
  F (NUM, load_kg, "load_kg", KG, 0, 5000, 15, ALWAYS, N_ ("Rated load"), N_ ("From the data sheet."), 1) \
  F (NUM, plate_w_m, "plate_w_mm", MM, 0, 5000, 120, ALWAYS, N_ ("Plate width"), N_ ("Across the machine."), 1) \
  F (NUM, plate_d_m, "plate_d_mm", MM, 0, 5000, 120, ALWAYS, N_ ("Plate depth"), N_ ("Along the machine."), 1)

/* ---- places and arrangements ------------------------------------------------ */

#define PLUMB_FIELDS_place(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (REF, space, "space", PLUMB_REF (space), 0, 0, "", ALWAYS, N_ ("Space"), N_ ("The space that the machine is in; the first if empty."), 1) \
  F (CHOICE, carried, "carried", CARRIED, 0, 0, PLUMB_CARRIED_HUNG, ALWAYS, N_ ("Carried"), N_ ("Hung, standing, or on a wall arm."), 1) \
  F (FLAG, inverted, "inverted", 0, 0, 1, 0, ALWAYS, N_ ("Body upside down"), N_ ("The body is turned over about its axis, the picture flipped back."), 1) \
  F (REF, along_wall, "along_wall", PLUMB_REF (wall), 0, 0, "", ALWAYS, N_ ("Along which wall"), N_ ("The wall along which the first measure runs."), 1) \
  F (CHOICE, along_end, "along_from", END, 0, 0, PLUMB_END_START, ALWAYS, N_ ("Along, from"), N_ ("Corner at which that measure begins."), 1) \
  F (NUM, along_m, "along_m", M, -1000, 1000, 1, ALWAYS, N_ ("Along"), N_ ("From that corner along the wall to the plate's centre."), 1) \
  F (REF, off_wall, "off_wall", PLUMB_REF (wall), 0, 0, "", ALWAYS, N_ ("Off which wall"), N_ ("The wall from which the second measure runs; the same wall if empty."), 1) \
  F (NUM, off_m, "off_m", M, -1000, 1000, 1, ALWAYS, N_ ("Off"), N_ ("Square off that wall's face to the plate's centre."), 1) \
  F (CHOICE, height_from, "height_from", HEIGHT_FROM, 0, 0, PLUMB_HEIGHT_FROM_CEILING, ALWAYS, N_ ("Height, from"), N_ ("What the height was measured from."), 1) \
  F (REF, height_of, "height_of", PLUMB_REF (ceiling) | PLUMB_REF (structure), 0, 0, "", WHEN (place, height_from, PLUMB_HEIGHT_FROM_CEILING, PLUMB_HEIGHT_FROM_STRUCTURE), N_ ("Which"), N_ ("Ceiling plane or structure; the ceiling above the point if empty."), 1) \
  F (NUM, height_m, "height_m", M, -200, 200, 0, ALWAYS, N_ ("Height"), N_ ("Up from the floor, or down from ceiling or structure, to the plate."), 1) \
  F (NUM, drop_m, "drop_m", M, 0, 20, 0, ALWAYS, N_ ("Drop"), N_ ("From the plate to the mount's pivot; for an arm, its reach out from the wall."), 1) \
  F (NUM, out_of_level_rad, "out_of_level_deg", DEG, 0, 20, 0.5, ALWAYS, N_ ("Out of level"), N_ ("How far the plate may be out of level when set."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Tape"), N_ ("Measured with; the job's usual tape if empty."), 1)

#define PLUMB_FIELDS_arrangement(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (REF, screen, "screen", PLUMB_REF (screen), 0, 0, "", ALWAYS, N_ ("Screen"), N_ ("The screen that is wanted filled."), 1) \
  F (REF, machine, "machine", PLUMB_REF (machine), 0, 0, "", ALWAYS, N_ ("Machine"), N_ ("The projector."), 1) \
  F (REF, lens, "lens", PLUMB_REF (lens), 0, 0, "", ALWAYS, N_ ("Lens"), N_ ("The lens in it."), 1) \
  F (REF, place, "place", PLUMB_REF (place), 0, 0, "", ALWAYS, N_ ("Place"), N_ ("Where it hangs or stands."), 1) \
  F (REF, mount, "mount", PLUMB_REF (mount), 0, 0, "", ALWAYS, N_ ("Mount"), N_ ("What holds it; without one the machine stands on its feet or its holes meet the plate."), 1) \
  F (NUM, picture_aspect_ratio, "picture_aspect", RATIO, 0, 10, 0, ALWAYS, N_ ("Picture aspect"), N_ ("Width over height of the wanted picture; 0 takes the panel's."), 1) \
  F (CHOICE, zoom, "zoom", SOLVE, 0, 0, PLUMB_SOLVE_SOLVED, ALWAYS, N_ ("Zoom"), N_ ("Solved for the screen or as typed."), 1) \
  F (NUM, throw_ratio, "throw_ratio", RATIO, 0.01, 50, 1.5, WHEN (arrangement, zoom, PLUMB_SOLVE_TYPED), N_ ("Throw ratio"), N_ ("Zoom position as typed."), 1) \
  F (CHOICE, shift, "shift", SOLVE, 0, 0, PLUMB_SOLVE_SOLVED, ALWAYS, N_ ("Shift"), N_ ("Solved for the screen or as typed."), 1) \
  F (NUM, shift_h_share, "shift_h_pct", PCT, -300, 300, 0, WHEN (arrangement, shift, PLUMB_SOLVE_TYPED), N_ ("Shift, right"), N_ ("Of the picture, as the viewer sees it, in full widths."), 1) \
  F (NUM, shift_v_share, "shift_v_pct", PCT, -300, 300, 0, WHEN (arrangement, shift, PLUMB_SOLVE_TYPED), N_ ("Shift, up"), N_ ("Of the picture, as the viewer sees it, in full heights, built-in offset included."), 1) \
  F (CHOICE, attitude, "attitude", SOLVE, 0, 0, PLUMB_SOLVE_TYPED, ALWAYS, N_ ("Turn and tilt"), N_ ("As typed, or the least that brings the picture to the screen."), 1) \
  F (NUM, yaw_rad, "yaw_deg", DEG, -89, 89, 0, WHEN (arrangement, attitude, PLUMB_SOLVE_TYPED), N_ ("Turn"), N_ ("Against square-on, positive to the viewer's right."), 1) \
  F (NUM, pitch_rad, "pitch_deg", DEG, -89, 89, 0, WHEN (arrangement, attitude, PLUMB_SOLVE_TYPED), N_ ("Tilt"), N_ ("Against square-on, positive up."), 1) \
  F (NUM, roll_rad, "roll_deg", DEG, -180, 180, 0, ALWAYS, N_ ("Roll"), N_ ("Against square-on, positive clockwise for the viewer."), 1) \
  F (CHOICE, correction, "correction", SOLVE, 0, 0, PLUMB_SOLVE_SOLVED, ALWAYS, N_ ("Keystone correction"), N_ ("Solved for an upright picture, or corners as typed."), 1) \
  F (NUM, corner_bl_h_share, "corner_bl_h_pct", PCT, 0, 50, 0, WHEN (arrangement, correction, PLUMB_SOLVE_TYPED), N_ ("Bottom left, in"), N_ ("How far the corner is moved in, of the panel's width."), 1) \
  F (NUM, corner_bl_v_share, "corner_bl_v_pct", PCT, 0, 50, 0, WHEN (arrangement, correction, PLUMB_SOLVE_TYPED), N_ ("Bottom left, up"), N_ ("How far the corner is moved in, of the panel's height."), 1) \
  F (NUM, corner_br_h_share, "corner_br_h_pct", PCT, 0, 50, 0, WHEN (arrangement, correction, PLUMB_SOLVE_TYPED), N_ ("Bottom right, in"), N_ ("How far the corner is moved in, of the panel's width."), 1) \
  F (NUM, corner_br_v_share, "corner_br_v_pct", PCT, 0, 50, 0, WHEN (arrangement, correction, PLUMB_SOLVE_TYPED), N_ ("Bottom right, up"), N_ ("How far the corner is moved in, of the panel's height."), 1) \
  F (NUM, corner_tr_h_share, "corner_tr_h_pct", PCT, 0, 50, 0, WHEN (arrangement, correction, PLUMB_SOLVE_TYPED), N_ ("Top right, in"), N_ ("How far the corner is moved in, of the panel's width."), 1) \
  F (NUM, corner_tr_v_share, "corner_tr_v_pct", PCT, 0, 50, 0, WHEN (arrangement, correction, PLUMB_SOLVE_TYPED), N_ ("Top right, down"), N_ ("How far the corner is moved in, of the panel's height."), 1) \
  F (NUM, corner_tl_h_share, "corner_tl_h_pct", PCT, 0, 50, 0, WHEN (arrangement, correction, PLUMB_SOLVE_TYPED), N_ ("Top left, in"), N_ ("How far the corner is moved in, of the panel's width."), 1) \
  F (NUM, corner_tl_v_share, "corner_tl_v_pct", PCT, 0, 50, 0, WHEN (arrangement, correction, PLUMB_SOLVE_TYPED), N_ ("Top left, down"), N_ ("How far the corner is moved in, of the panel's height."), 1)

/* ---- people ------------------------------------------------------------------ */

#define PLUMB_FIELDS_seat(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, ALWAYS, N_ ("x"), N_ ("Of the eye."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, ALWAYS, N_ ("y"), N_ ("Of the eye."), 1) \
  F (NUM, facing_rad, "facing_deg", DEG, -360, 360, 0, ALWAYS, N_ ("Faces"), N_ ("Direction in plan, counter-clockwise from x."), 1) \
  F (NUM, floor_z_m, "floor_z_m", M, -50, 200, 0, ALWAYS, N_ ("Floor under it"), N_ ("Level of the floor or riser under the seat."), 1) \
  F (CHOICE, kind, "kind", SEAT_KIND, 0, 0, PLUMB_SEAT_KIND_CHAIR, ALWAYS, N_ ("Kind of seat"), N_ ("Chair, sofa or lounger."), 1) \
  F (NUM, recline_rad, "recline_deg", DEG, 0, 80, 30, WHEN (seat, kind, PLUMB_SEAT_KIND_LOUNGER), N_ ("Leans back"), N_ ("Back against upright."), 1) \
  F (CHOICE, eye_from, "eye_from", EYE_FROM, 0, 0, PLUMB_EYE_FROM_TYPED, ALWAYS, N_ ("Eye height from"), N_ ("Typed, or a percentile of the body survey ANSUR II (2012)."), 1) \
  F (NUM, seat_height_m, "seat_height_m", M, 0, 1.5, 0, WHEN (seat, eye_from, PLUMB_EYE_FROM_WOMEN_5, PLUMB_EYE_FROM_WOMEN_50, PLUMB_EYE_FROM_WOMEN_95, PLUMB_EYE_FROM_MIXED_5, PLUMB_EYE_FROM_MIXED_50, PLUMB_EYE_FROM_MIXED_95, PLUMB_EYE_FROM_MEN_5, PLUMB_EYE_FROM_MEN_50, PLUMB_EYE_FROM_MEN_95), N_ ("Seat height"), N_ ("Of the loaded seat over its floor; 0 takes 0.45 m for a chair, 0.40 m for sofa and lounger."), 1) \
  F (NUM, eye_height_m, "eye_height_m", M, 0.3, 2.2, 1.2, WHEN (seat, eye_from, PLUMB_EYE_FROM_TYPED), N_ ("Eye height"), N_ ("Above the floor under the seat."), 1) \
  F (NUM, head_above_eye_m, "head_above_eye_mm", MM, 0, 500, 120, WHEN (seat, eye_from, PLUMB_EYE_FROM_TYPED), N_ ("Head above the eye"), N_ ("From the eye to the crown."), 1)

#define PLUMB_FIELDS_row(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name; its seats are row:1, row:2 and so on."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, ALWAYS, N_ ("First eye x"), N_ ("Eye in the first seat of the first row."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, ALWAYS, N_ ("First eye y"), N_ ("Eye in the first seat of the first row."), 1) \
  F (NUM, facing_rad, "facing_deg", DEG, -360, 360, 0, ALWAYS, N_ ("Faces"), N_ ("Direction in plan, counter-clockwise from x; seats run to the sitters' right."), 1) \
  F (COUNT, count, "count", NONE, 1, 10000, 4, ALWAYS, N_ ("Seats"), N_ ("How many in a row."), 1) \
  F (NUM, pitch_m, "pitch_m", M, 0.2, 10, 0.55, ALWAYS, N_ ("Seat pitch"), N_ ("Eye to eye along the row."), 1) \
  F (COUNT, rows, "rows", NONE, 1, 1000, 1, ALWAYS, N_ ("Rows"), N_ ("How many rows, one behind the other."), 1) \
  F (NUM, row_spacing_m, "row_spacing_m", M, 0.3, 20, 0.9, ALWAYS, N_ ("Row spacing"), N_ ("Eye to eye from row to row."), 1) \
  F (NUM, riser_m, "riser_m", M, -2, 5, 0, ALWAYS, N_ ("Rise per row"), N_ ("How much each row stands above the one in front."), 1) \
  F (NUM, stagger_m, "stagger_m", M, -5, 5, 0, ALWAYS, N_ ("Stagger"), N_ ("Sideways step of every other row."), 1) \
  F (NUM, curve_radius_m, "curve_radius_m", M, 0, 1000, 0, ALWAYS, N_ ("Curve radius"), N_ ("Of the first row about a point in front; 0 is straight."), 1) \
  F (COUNT, aisle_after, "aisle_after", NONE, 0, 10000, 0, ALWAYS, N_ ("Aisle after"), N_ ("Seat number after which there is an aisle; 0 is none."), 1) \
  F (NUM, aisle_m, "aisle_m", M, 0, 20, 1.2, ALWAYS, N_ ("Aisle"), N_ ("Extra width at each aisle."), 1) \
  F (COUNT, aisle_2_after, "aisle_2_after", NONE, 0, 10000, 0, ALWAYS, N_ ("Second aisle after"), N_ ("Seat number after which there is another aisle; 0 is none."), 1) \
  F (NUM, floor_z_m, "floor_z_m", M, -50, 200, 0, ALWAYS, N_ ("Floor under it"), N_ ("Level under the first row."), 1) \
  F (CHOICE, kind, "kind", SEAT_KIND, 0, 0, PLUMB_SEAT_KIND_CHAIR, ALWAYS, N_ ("Kind of seat"), N_ ("Chair, sofa or lounger."), 1) \
  F (NUM, recline_rad, "recline_deg", DEG, 0, 80, 30, WHEN (row, kind, PLUMB_SEAT_KIND_LOUNGER), N_ ("Leans back"), N_ ("Back against upright."), 1) \
  F (CHOICE, eye_from, "eye_from", EYE_FROM, 0, 0, PLUMB_EYE_FROM_TYPED, ALWAYS, N_ ("Eye height from"), N_ ("Typed, or a percentile of the body survey ANSUR II (2012)."), 1) \
  F (NUM, seat_height_m, "seat_height_m", M, 0, 1.5, 0, WHEN (row, eye_from, PLUMB_EYE_FROM_WOMEN_5, PLUMB_EYE_FROM_WOMEN_50, PLUMB_EYE_FROM_WOMEN_95, PLUMB_EYE_FROM_MIXED_5, PLUMB_EYE_FROM_MIXED_50, PLUMB_EYE_FROM_MIXED_95, PLUMB_EYE_FROM_MEN_5, PLUMB_EYE_FROM_MEN_50, PLUMB_EYE_FROM_MEN_95), N_ ("Seat height"), N_ ("Of the loaded seat over its floor; 0 takes 0.45 m for a chair, 0.40 m for sofa and lounger."), 1) \
  F (NUM, eye_height_m, "eye_height_m", M, 0.3, 2.2, 1.2, WHEN (row, eye_from, PLUMB_EYE_FROM_TYPED), N_ ("Eye height"), N_ ("Above the floor under the seat."), 1) \
  F (NUM, head_above_eye_m, "head_above_eye_mm", MM, 0, 500, 120, WHEN (row, eye_from, PLUMB_EYE_FROM_TYPED), N_ ("Head above the eye"), N_ ("From the eye to the crown."), 1)

#define PLUMB_FIELDS_person(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (CHOICE, posture, "posture", POSTURE, 0, 0, PLUMB_POSTURE_STANDING, ALWAYS, N_ ("Posture"), N_ ("Sitting, standing, or walking a path."), 1) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, ALWAYS, N_ ("x"), N_ ("Where the person is, or the path begins."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, ALWAYS, N_ ("y"), N_ ("Where the person is, or the path begins."), 1) \
  F (NUM, facing_rad, "facing_deg", DEG, -360, 360, 0, WHEN (person, posture, PLUMB_POSTURE_SITTING, PLUMB_POSTURE_STANDING), N_ ("Faces"), N_ ("Direction in plan, counter-clockwise from x."), 1) \
  F (NUM, end_x_m, "end_x_m", M, -1000, 1000, 0, WHEN (person, posture, PLUMB_POSTURE_WALKING), N_ ("Path to x"), N_ ("Where the path ends."), 1) \
  F (NUM, end_y_m, "end_y_m", M, -1000, 1000, 0, WHEN (person, posture, PLUMB_POSTURE_WALKING), N_ ("Path to y"), N_ ("Where the path ends."), 1) \
  F (NUM, floor_z_m, "floor_z_m", M, -50, 200, 0, ALWAYS, N_ ("Floor"), N_ ("Level under the feet."), 1) \
  F (NUM, stature_m, "stature_m", M, 0.5, 2.5, 1.75, ALWAYS, N_ ("Height"), N_ ("Of the person, shoes included."), 1)

/* ---- blockers, holes, light --------------------------------------------------- */

/* x, y, z: middle of the underside (box, cylinder), middle (ellipsoid); for a
 * prism z is its underside and the outline is in room coordinates. */
#define PLUMB_FIELDS_blocker(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (CHOICE, shape, "shape", SHAPE, 0, 0, PLUMB_SHAPE_BOX, ALWAYS, N_ ("Shape"), N_ ("Box, extruded outline, cylinder or ellipsoid."), 1) \
  F (CHOICE, role, "role", ROLE, 0, 0, PLUMB_ROLE_OTHER, ALWAYS, N_ ("What it is"), N_ ("Decides how it is drawn and which checks speak of it."), 1) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, WHEN (blocker, shape, PLUMB_SHAPE_BOX, PLUMB_SHAPE_CYLINDER, PLUMB_SHAPE_ELLIPSOID), N_ ("Centre x"), N_ ("Middle of its underside; of an ellipsoid, its middle."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, WHEN (blocker, shape, PLUMB_SHAPE_BOX, PLUMB_SHAPE_CYLINDER, PLUMB_SHAPE_ELLIPSOID), N_ ("Centre y"), N_ ("Middle of its underside; of an ellipsoid, its middle."), 1) \
  F (NUM, z_m, "z_m", M, -50, 200, 0, ALWAYS, N_ ("Level"), N_ ("Of its underside; of an ellipsoid, of its middle."), 1) \
  F (NUM, length_m, "length_m", M, 0.001, 1000, 0.5, WHEN (blocker, shape, PLUMB_SHAPE_BOX, PLUMB_SHAPE_ELLIPSOID), N_ ("Length"), N_ ("Along its own x axis."), 1) \
  F (NUM, width_m, "width_m", M, 0.001, 1000, 0.5, WHEN (blocker, shape, PLUMB_SHAPE_BOX, PLUMB_SHAPE_ELLIPSOID), N_ ("Width"), N_ ("Along its own y axis."), 1) \
  F (NUM, diameter_m, "diameter_m", M, 0.001, 100, 0.2, WHEN (blocker, shape, PLUMB_SHAPE_CYLINDER), N_ ("Diameter"), N_ ("Of the cylinder."), 1) \
  F (NUM, height_m, "height_m", M, 0.001, 1000, 0.5, ALWAYS, N_ ("Height"), N_ ("Along its own z axis."), 1) \
  F (NUM, yaw_rad, "yaw_deg", DEG, -360, 360, 0, WHEN (blocker, shape, PLUMB_SHAPE_BOX, PLUMB_SHAPE_CYLINDER, PLUMB_SHAPE_ELLIPSOID), N_ ("Turned"), N_ ("Its x axis in plan, counter-clockwise from x."), 1) \
  F (NUM, pitch_rad, "pitch_deg", DEG, -180, 180, 0, WHEN (blocker, shape, PLUMB_SHAPE_BOX, PLUMB_SHAPE_CYLINDER, PLUMB_SHAPE_ELLIPSOID), N_ ("Pitched"), N_ ("Its x axis tips up about its middle; 90 lays a cylinder along x."), 1) \
  F (FLAG, movable, "moves", 0, 0, 1, 0, ALWAYS, N_ ("Moves"), N_ ("It has states, such as a door open and shut."), 1) \
  F (FLAG, stands_under, "stands_under", 0, 0, 1, 0, ALWAYS, N_ ("People stand under it"), N_ ("Counts for headroom."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Tape"), N_ ("Measured with; the job's usual tape if empty."), 1)

#define PLUMB_FIELDS_blocker_point(F) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, ALWAYS, N_ ("x"), N_ ("Corner of the outline."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, ALWAYS, N_ ("y"), N_ ("Corner of the outline."), 1)

/* A state moves the body at rest: turned about an upright hinge, then moved. */
#define PLUMB_FIELDS_blocker_state(F) \
  F (TEXT, name, "name", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("State"), N_ ("What the state is called, such as open."), 1) \
  F (NUM, hinge_x_m, "hinge_x_m", M, -1000, 1000, 0, ALWAYS, N_ ("Hinge x"), N_ ("Upright line that it turns about."), 1) \
  F (NUM, hinge_y_m, "hinge_y_m", M, -1000, 1000, 0, ALWAYS, N_ ("Hinge y"), N_ ("Upright line that it turns about."), 1) \
  F (NUM, turn_rad, "turn_deg", DEG, -360, 360, 0, ALWAYS, N_ ("Turned by"), N_ ("Counter-clockwise seen from above."), 1) \
  F (NUM, move_x_m, "move_x_m", M, -1000, 1000, 0, ALWAYS, N_ ("Moved x"), N_ ("Then moved by this."), 1) \
  F (NUM, move_y_m, "move_y_m", M, -1000, 1000, 0, ALWAYS, N_ ("Moved y"), N_ ("Then moved by this."), 1) \
  F (NUM, move_z_m, "move_z_m", M, -200, 200, 0, ALWAYS, N_ ("Moved up"), N_ ("Then moved by this."), 1)

#define PLUMB_FIELDS_port(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (REF, wall, "wall", PLUMB_REF (wall), 0, 0, "", ALWAYS, N_ ("Wall"), N_ ("The wall that it goes through."), 1) \
  F (CHOICE, along_end, "along_from", END, 0, 0, PLUMB_END_START, ALWAYS, N_ ("Along, from"), N_ ("End of the wall at which the measure begins."), 1) \
  F (NUM, along_m, "along_m", M, -1000, 1000, 1, ALWAYS, N_ ("Along"), N_ ("From that end to the port's centre."), 1) \
  F (NUM, sill_m, "sill_m", M, -50, 200, 1.5, ALWAYS, N_ ("Sill"), N_ ("Lower edge above the floor of the wall's space."), 1) \
  F (NUM, width_m, "width_m", M, 0.005, 100, 0.3, ALWAYS, N_ ("Width"), N_ ("Clear width."), 1) \
  F (NUM, height_m, "height_m", M, 0.005, 100, 0.3, ALWAYS, N_ ("Height"), N_ ("Clear height."), 1) \
  F (NUM, glass_share, "glass_pct", PCT, 1, 100, 100, ALWAYS, N_ ("Glass passes"), N_ ("Share of light that a pane passes; 100 without glass."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Tape"), N_ ("Measured with; the job's usual tape if empty."), 1)

#define PLUMB_FIELDS_opening(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (REF, wall, "wall", PLUMB_REF (wall), 0, 0, "", ALWAYS, N_ ("Wall"), N_ ("The wall that it is in."), 1) \
  F (CHOICE, kind, "kind", OPENING, 0, 0, PLUMB_OPENING_DOOR, ALWAYS, N_ ("Kind"), N_ ("Door, window, hatch or passage."), 1) \
  F (CHOICE, along_end, "along_from", END, 0, 0, PLUMB_END_START, ALWAYS, N_ ("Along, from"), N_ ("End of the wall at which the measure begins."), 1) \
  F (NUM, along_m, "along_m", M, -1000, 1000, 1, ALWAYS, N_ ("Along"), N_ ("From that end to the opening's centre."), 1) \
  F (NUM, sill_m, "sill_m", M, -50, 200, 0, ALWAYS, N_ ("Sill"), N_ ("Lower edge above the floor of the wall's space."), 1) \
  F (NUM, width_m, "width_m", M, 0.005, 100, 0.8, ALWAYS, N_ ("Width"), N_ ("Clear width."), 1) \
  F (NUM, height_m, "height_m", M, 0.005, 100, 2, ALWAYS, N_ ("Height"), N_ ("Clear height."), 1) \
  F (FLAG, closed, "closed", 0, 0, 1, 1, ALWAYS, N_ ("Closed"), N_ ("Shut or glazed: stops the beam like the wall does."), 1) \
  F (REF, tape, "tape", PLUMB_REF (tape), 0, 0, "", ALWAYS, N_ ("Tape"), N_ ("Measured with; the job's usual tape if empty."), 1)

#define PLUMB_FIELDS_lamp(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("What it is called on drawings."), 1) \
  F (CHOICE, kind, "kind", LAMP_KIND, 0, 0, PLUMB_LAMP_KIND_POINT, ALWAYS, N_ ("Kind"), N_ ("Lamp, downlight or window."), 1) \
  F (NUM, x_m, "x_m", M, -1000, 1000, 0, ALWAYS, N_ ("x"), N_ ("Of the lamp, or the window's middle."), 1) \
  F (NUM, y_m, "y_m", M, -1000, 1000, 0, ALWAYS, N_ ("y"), N_ ("Of the lamp, or the window's middle."), 1) \
  F (NUM, z_m, "z_m", M, -50, 200, 2.2, ALWAYS, N_ ("Level"), N_ ("Of the lamp, or the window's middle."), 1) \
  F (NUM, flux_lm, "flux_lm", LM, 0, 1000000, 800, WHEN (lamp, kind, PLUMB_LAMP_KIND_POINT, PLUMB_LAMP_KIND_DOWN), N_ ("Light output"), N_ ("At full level."), 1) \
  F (NUM, screen_lx, "screen_lx", LX, 0, 100000, 0, ALWAYS, N_ ("Light on the screen"), N_ ("Measured at the screen with this one alone; 0 if not measured."), 1)

#define PLUMB_FIELDS_lamp_hour(F) \
  F (NUM, time_h, "time_h", HOUR, 0, 24, 12, ALWAYS, N_ ("Hour"), N_ ("Of the day, 14.5 is half past two."), 1) \
  F (NUM, screen_lx, "screen_lx", LX, 0, 100000, 0, ALWAYS, N_ ("Light on the screen"), N_ ("Measured at that hour with this one alone."), 1)

#define PLUMB_FIELDS_light_state(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Id"), N_ ("Short name that other records use."), 1) \
  F (TEXT, label, "label", PLUMB_LABEL_SIZE, 0, 0, "", ALWAYS, N_ ("Name"), N_ ("Such as film, lesson, cleaning."), 1) \
  F (NUM, screen_lx, "screen_lx", LX, 0, 100000, 0, ALWAYS, N_ ("Light on the screen"), N_ ("Measured with the projector off; 0 takes the sum of the lamps."), 1) \
  F (NUM, wanted_contrast_ratio, "wanted_contrast", RATIO, 0, 10000, 0, ALWAYS, N_ ("Wanted contrast"), N_ ("0 if nothing is shown in this state."), 1) \
  F (NUM, time_h, "time_h", HOUR, -1, 24, -1, ALWAYS, N_ ("Hour"), N_ ("For windows measured by the hour; -1 takes their brightest."), 1) \
  F (NUM, mode_share, "mode_pct", PCT, 0, 100, 0, ALWAYS, N_ ("Light mode"), N_ ("Light of the machine in this state, of the mode in which its figure was measured; 0 takes the machine's own light mode."), 1)

#define PLUMB_FIELDS_light_level(F) \
  F (REF, lamp, "lamp", PLUMB_REF (lamp), 0, 0, "", ALWAYS, N_ ("Lamp"), N_ ("Which lamp or window."), 1) \
  F (NUM, level_share, "level_pct", PCT, 0, 100, 100, ALWAYS, N_ ("Level"), N_ ("Dimmer or curtain position."), 1)

#define PLUMB_FIELDS_limit(F) \
  F (TEXT, id, "id", PLUMB_ID_SIZE, 0, 0, "", ALWAYS, N_ ("Limit"), N_ ("Id of the limit from the limits table."), 1) \
  F (NUM, value, "value", RATIO, -1000000, 1000000, 0, ALWAYS, N_ ("Value"), N_ ("In the limit's own unit."), 1) \
  F (TEXT, reason, "reason", 160, 0, 0, "", ALWAYS, N_ ("Reason"), N_ ("Why the usual limit does not hold here; must be given."), 1)

/* ---- all records: R (name, NAME, "key in the file", parent or none) -----------
 * In the order of the file. A record with a parent is nested in it. */
#define PLUMB_RECORDS(R) \
  R (job, JOB, "job", NONE, N_ ("Job")) \
  R (tape, TAPE, "tapes", NONE, N_ ("Tape or meter")) \
  R (space, SPACE, "spaces", NONE, N_ ("Space")) \
  R (wall, WALL, "walls", NONE, N_ ("Wall")) \
  R (ceiling, CEILING, "ceilings", NONE, N_ ("Ceiling plane")) \
  R (ceiling_point, CEILING_POINT, "limit", CEILING, N_ ("Corner of a ceiling plane")) \
  R (structure, STRUCTURE, "structure", NONE, N_ ("Structure")) \
  R (screen, SCREEN, "screens", NONE, N_ ("Screen")) \
  R (machine, MACHINE, "machines", NONE, N_ ("Machine")) \
  R (lens, LENS, "lenses", NONE, N_ ("Lens")) \
  R (lens_pair, LENS_PAIR, "pairs", LENS, N_ ("Line of lens data")) \
  R (lens_shift_point, LENS_SHIFT_POINT, "shift_points", LENS, N_ ("Corner of a shift set")) \
  R (mount, MOUNT, "mounts", NONE, N_ ("Mount")) \
  R (place, PLACE, "places", NONE, N_ ("Place")) \
  R (arrangement, ARRANGEMENT, "arrangements", NONE, N_ ("Arrangement")) \
  R (seat, SEAT, "seats", NONE, N_ ("Seat")) \
  R (row, ROW, "rows", NONE, N_ ("Row of seats")) \
  R (person, PERSON, "people", NONE, N_ ("Person")) \
  R (blocker, BLOCKER, "blockers", NONE, N_ ("Blocker")) \
  R (blocker_point, BLOCKER_POINT, "outline", BLOCKER, N_ ("Corner of a blocker")) \
  R (blocker_state, BLOCKER_STATE, "states", BLOCKER, N_ ("State of a blocker")) \
  R (port, PORT, "ports", NONE, N_ ("Beam port")) \
  R (opening, OPENING, "openings", NONE, N_ ("Opening")) \
  R (lamp, LAMP, "lamps", NONE, N_ ("Lamp")) \
  R (lamp_hour, LAMP_HOUR, "hours", LAMP, N_ ("Light at an hour")) \
  R (light_state, LIGHT_STATE, "light_states", NONE, N_ ("Light state")) \
  R (light_level, LIGHT_LEVEL, "levels", LIGHT_STATE, N_ ("Lamp level")) \
  R (limit, LIMIT, "limits", NONE, N_ ("Limit set by the job"))
