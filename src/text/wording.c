/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The statement of every check and variant, by verdict. What is to spare, the
 * cure and what is missing are put round it (findings.c). Variants and their
 * numbers are documented in plumbeam/variants.h.
 */
#include "wording-private.h"

#include "plumbeam/variants.h"

/* W (check, variant, holds and tight, fails, unknown or without a figure) */
#define W(check, variant, holds, fails, bare)                                                                        \
  {                                                                                                                  \
    PLUMB_CHECK_##check, variant, holds, fails, bare                                                                 \
  }
/* A variant that comes with one kind of verdict only. */
#define ONE(check, variant, all) W (check, variant, all, all, all)

#define NO_BEAM "there is no beam to try this with"

#define COVERS(check, edge)                                                                                          \
  W (check, 0, "the beam covers the " edge " edge of the wanted picture",                                            \
     "the beam ends {beyond} short of the " edge " edge of the wanted picture[n0?, and short of the opposite one]",  \
     NO_BEAM)
#define LOSSES                                                                                                       \
  "[n1? {n1:share} to ceilings,][n2? {n2:share} to floors,][n3? {n3:share} to the edges of holes,]"                  \
  "[n4? {n4:share} out of the building,] before it reaches the screen"
#define AIR(check, side)                                                                                             \
  W (check, PLUMB_V_FREE_WAY, "the " side " of the body has {figure} of free air, and the machine asks for {least}", \
     "the " side " of the body has {figure} of free air, and the machine asks for {least}",                          \
     "how much air the " side " of the body has cannot be told"),                                                    \
      ONE (check, PLUMB_V_NOTHING_THERE, "nothing stands before the " side " of the body")
#define MOUNT(variant, what)                                                                                         \
  W (BODY_MOUNT, variant, what " is {figure}, inside the mount's range",                                             \
     what " is {figure}, and the mount allows {limit}", what " cannot be told")
#define TILT(variant, what)                                                                                          \
  W (BODY_TILT, variant, "the body " what " {figure} against level, of {most} that the maker allows",                \
     "the body " what " {figure} against level, and the maker allows {most}",                                        \
     "how the body stands against level cannot be told")

/* How many are as badly off. */
#define OF_SEATS "[n4? ({n4:count} of {n5:count} seats)]"

static const PlumbWording wordings[] = {
  /* ---- job ---------------------------------------------------------------------- */
  ONE (JOB_FAULT, PLUMB_FAULT_REFERENCE, "{subject} names a record that is not there"),
  ONE (JOB_FAULT, PLUMB_FAULT_OUTLINE_FEW, "{subject} has fewer than three walls and so no outline"),
  ONE (JOB_FAULT, PLUMB_FAULT_OUTLINE_CROSSES,
       "{subject} crosses or touches {n0:wall}, so their space has no outline"),
  ONE (JOB_FAULT, PLUMB_FAULT_OUTLINE_TURNS,
       "the corners of {subject} run clockwise; list its walls counter-clockwise as seen from above"),
  ONE (JOB_FAULT, PLUMB_FAULT_NO_CEILING,
       "{subject} has no ceiling plane without limits, so its height is not known"),
  ONE (JOB_FAULT, PLUMB_FAULT_LIMIT, "the limit of {subject} has too few corners, no area, or crosses itself"),
  ONE (JOB_FAULT, PLUMB_FAULT_BLOCKER_OUTLINE,
       "the outline of {subject} has too few corners, no area, or crosses itself"),
  ONE (JOB_FAULT, PLUMB_FAULT_PLACE_PARALLEL,
       "{subject} is measured from two walls that run side by side and fix no point; measure off another wall"),
  ONE (JOB_FAULT, PLUMB_FAULT_PLACE_REFERENCE, "{subject} is measured from something that the job does not have"),
  ONE (JOB_FAULT, PLUMB_FAULT_PLACE_OUTSIDE,
       "{subject} lies outside its space; hold its measures against the outline"),
  ONE (JOB_FAULT, PLUMB_FAULT_HOLE_OUTSIDE, "{subject} reaches over the edge of its wall"),
  ONE (JOB_FAULT, PLUMB_FAULT_SCREEN_WALL, "{subject} has no wall to be measured from"),
  ONE (JOB_FAULT, PLUMB_FAULT_TOO_MANY_SEATS,
       "the rows hold more seats than are looked at; the last ones are left out"),
  ONE (JOB_FAULT, PLUMB_FAULT_TOO_MANY_SOLIDS,
       "{subject} makes more solids than are looked at; it and what follows are left out"),

  W (JOB_ARRANGEMENT, 0, "the arrangement names everything that it needs",
     "the arrangement does not name everything that it needs",
     "without it nothing of this arrangement can be worked out"),

  ONE (JOB_LENS_FITS, PLUMB_V_LENS_FITS, "{subject} has the machine's lens fitting"),
  ONE (JOB_LENS_FITS, PLUMB_V_LENS_FITS_ASSUMED,
       "{subject} is taken to fit, since machine and lens do not both name their lens fitting"),
  ONE (JOB_LENS_FITS, PLUMB_V_LENS_DOES_NOT_FIT, "{subject} has another lens fitting than the machine"),

  ONE (JOB_LENS_DATA, PLUMB_V_LENS_DATA_FINE,
       "the printed data of {subject} make one lens[n0?; the worst printed width is {n0:m} off it]"
       "[n1?; the worst printed gap is {n1:m} off it]"),
  ONE (JOB_LENS_DATA, PLUMB_V_LENS_DATA_BAD_PAIRS,
       "the printed distances and widths of {subject} do not tell its throw ratio; two lines at "
       "different distances would"),
  ONE (JOB_LENS_DATA, PLUMB_V_LENS_DATA_BAD_RANGE,
       "{subject} has a greater throw ratio at its wide end than at its tele end"),
  ONE (JOB_LENS_DATA, PLUMB_V_LENS_DATA_BAD_OFFSET,
       "the parts above and below the axis of {subject} do not add up to a picture height"),
  ONE (JOB_LENS_DATA, PLUMB_V_LENS_DATA_BAD_SHIFT, "the shift limits of {subject} leave no position between them"),

  ONE (JOB_LIMIT, PLUMB_V_LIMIT_UNKNOWN_ID, "there is no limit by the name of {subject}, so nothing was changed"),
  ONE (JOB_LIMIT, PLUMB_V_LIMIT_NO_REASON,
       "the job changes {subject} without giving a reason, so the usual limit stays in force"),
  ONE (JOB_LIMIT, PLUMB_V_LIMIT_IN_USE, "the job sets {subject} itself"),

  /* ---- beam --------------------------------------------------------------------- */
  W (BEAM_REACHES_PLANE, PLUMB_V_REACHES, "the whole beam meets the picture's plane",
     "the beam does not meet the picture's plane", NO_BEAM),
  ONE (BEAM_REACHES_PLANE, PLUMB_V_BEHIND_SCREEN,
       "the lens stands in the picture's plane or on the wrong side of it"),
  ONE (BEAM_REACHES_PLANE, PLUMB_V_CORNER_MISSES, "a corner of the beam never meets the picture's plane"),

  W (BEAM_THROW_RANGE, PLUMB_V_THROW_SOLVED,
     "the wanted picture needs a throw ratio of {figure}, inside the lens's {range}",
     "the wanted picture needs a throw ratio of {figure}, and the lens has {range}",
     "which throw ratio the wanted picture needs cannot be told, since the lens does not see all of it"),
  W (BEAM_THROW_RANGE, PLUMB_V_THROW_TYPED, "the zoom is typed at {figure}, inside the lens's {range}",
     "the zoom is typed at {figure}, and the lens has {range}", NO_BEAM),

  W (BEAM_SHIFT_SET, 0, "the picture wants a shift of {n0:sideways} and {n1:upwards}, inside what the lens allows",
     "the picture wants a shift of {n0:sideways} and {n1:upwards}, and on the screen that is {beyond} outside what "
     "the lens allows",
     "which shift the wanted picture needs cannot be told, since the lens does not see all of it"),

  W (BEAM_KEYSTONE, 0, "the beam stands {figure} off square, inside the {most} that the machine corrects",
     "the beam stands {figure} off square, and the machine corrects {most}"
     "[n4?; the least tilt that brings the picture to the screen is {n3:rad}]",
     NO_BEAM),

  W (BEAM_PIXELS_KEPT, 0, "{figure} of the pixels stay in the picture after correction",
     "only {figure} of the pixels stay in the picture after correction, and {least} are wanted"
     "[n2?; a tilt of {n0:rad} would keep {n1:share}]",
     "there is no picture on the screen whose pixels could be counted"),

  COVERS (BEAM_COVERS_LEFT, "left"),
  COVERS (BEAM_COVERS_RIGHT, "right"),
  COVERS (BEAM_COVERS_BOTTOM, "lower"),
  COVERS (BEAM_COVERS_TOP, "upper"),

  W (BEAM_FOCUS_RANGE, 0, "the throw of {figure} lies in the lens's focus range of {least} to {most}",
     "the throw is {figure}, and the lens focuses from {least} to {most}",
     "without it nobody can say whether the picture comes sharp"),

  W (BEAM_CLEAR_BLOCKER, PLUMB_V_CLEAR, "the beam passes {subject} at {figure}",
     "the beam passes {subject} at only {figure}, and {least} are wanted",
     "how near the beam passes {subject} cannot be told"),
  ONE (BEAM_CLEAR_BLOCKER, PLUMB_V_CUTS_PICTURE,
       "{subject} cuts into the picture {n1:m} from the lens[n0? and takes {n0:share} of the panel's light]"),
  ONE (BEAM_CLEAR_BLOCKER, PLUMB_V_CUTS_DARK_PANEL,
       "{subject} meets only light beside the picture, {n0:share} of the panel"),

  W (BEAM_CLEAR_CEILING, PLUMB_V_ROOM_CLEAR, "the picture's beam stays {figure} from {subject}",
     "the picture's beam passes {subject} at only {figure}, and {least} are wanted",
     "how near the picture's beam comes to the ceiling cannot be told"),
  ONE (BEAM_CLEAR_CEILING, PLUMB_V_ROOM_CUTS, "of the panel's light the picture loses" LOSSES),
  ONE (BEAM_CLEAR_CEILING, PLUMB_V_WALL_BETWEEN,
       "a wall stands in the way: of the panel's light the picture loses {n0:share} to walls," LOSSES),

  W (BEAM_PORT, PLUMB_V_PORT_FITS, "{subject} leaves {figure} round the beam",
     "{subject} leaves {figure} round the beam, and {least} are wanted[n0?; it needs {n0:m} by {n1:m} clear]",
     NO_BEAM),
  ONE (BEAM_PORT, PLUMB_V_PORT_MISSED, "the beam does not go through {subject}"),

  W (BEAM_SPILL, 0, "light falls up to {figure} beside the screen, of {most} at most",
     "light falls up to {figure} beside the screen, and {most} is the most that goes unseen", NO_BEAM),

  W (BEAM_FLATNESS, 0, "a bump of {n0:m} in the face bends the picture by {figure}, of {most} at most",
     "a bump of {n0:m} in the face bends the picture by {figure}, and {most} is the most; it may have {n1:m}",
     NO_BEAM),

  W (BEAM_SCREEN_FITS, 0, "the screen fits between floor, ceiling and the ends of its wall",
     "the screen reaches {beyond} over floor, ceiling or an end of its wall",
     "without it nobody can say whether the screen fits"),

  /* ---- body --------------------------------------------------------------------- */
  W (BODY_INSIDE, 0, "the whole body stands inside a space",
     "{n0:count} of the eight corners of the body stand outside every space; look at the place's measures again",
     "whether the body stands inside a space cannot be told"),
  W (BODY_CLEAR, 0, "the body keeps {figure} from {subject}",
     "the body keeps only {figure} from {subject}, and {least} are wanted",
     "nothing solid stands in the room that the body could touch"),

  AIR (BODY_AIR_LEFT, "left side"),
  AIR (BODY_AIR_RIGHT, "right side"),
  AIR (BODY_AIR_TOP, "top"),
  AIR (BODY_AIR_BOTTOM, "underside"),
  AIR (BODY_AIR_REAR, "rear"),
  AIR (BODY_AIR_FRONT, "front"),

  W (BODY_CABLE_ROOM, PLUMB_V_FREE_WAY, "plug and cable bend need {least} behind the body and have {figure}",
     "plug ({n0:m}) and cable bend ({n1:m}) need {least} behind the body and have only {figure}",
     "how much room the cables have behind the body cannot be told"),
  ONE (BODY_CABLE_ROOM, PLUMB_V_NOTHING_THERE, "nothing stands behind the body, so plug and cable bend have room"),

  W (BODY_HEADROOM, 0, "the lowest part stands {figure} above the floor, where {least} are wanted",
     "the lowest part stands {figure} above the floor, and {least} are wanted where people walk",
     "how high the lowest part stands above the floor cannot be told"),
  W (BODY_REACH, 0, "service reaches {figure} up to the body, of {most} at most",
     "service has to reach {figure} up to the body, and {most} is the most",
     "how high the body stands above the floor cannot be told"),

  MOUNT (PLUMB_V_MOUNT_DROP, "the drop"),
  MOUNT (PLUMB_V_MOUNT_YAW, "the turn of the mount's head"),
  MOUNT (PLUMB_V_MOUNT_PITCH, "the tilt of the mount's head"),
  MOUNT (PLUMB_V_MOUNT_ROLL, "the roll of the mount's head"),
  W (BODY_MOUNT, PLUMB_V_MOUNT_LOAD, "the machine weighs {figure}, and the mount is rated for {most}",
     "take a stronger mount, since the machine weighs {figure} and this one is rated for {most}",
     "the load on the mount is not known"),
  ONE (BODY_MOUNT, PLUMB_V_MOUNT_MISSING,
       "the machine hangs without a mount, so its drop, head and load are not known"),

  TILT (PLUMB_V_TILT_PITCH, "tilts"),
  TILT (PLUMB_V_TILT_ROLL, "rolls"),

  /* ---- people ------------------------------------------------------------------- */
  W (PEOPLE_ANGLE_LEAST, 0, "from {subject} the picture is {figure} wide, and at least {least} are wanted",
     "from {subject}, {n0:m} away, the picture is only {figure} wide, and {least} are wanted" OF_SEATS,
     "how wide the picture is from {subject} cannot be told"),
  W (PEOPLE_ANGLE_MOST, 0, "from {subject} the picture is {figure} wide, and at most {most} are wanted",
     "from {subject}, {n0:m} away, the picture is {figure} wide, and {most} is the most" OF_SEATS,
     "how wide the picture is from {subject} cannot be told"),
  W (PEOPLE_HEIGHTS, 0, "{subject} is {figure} picture heights away, of {most} at most",
     "{subject} is {figure} picture heights away, and {most} is the most for what the picture is for" OF_SEATS,
     "how many picture heights {subject} is away cannot be told"),

  W (PEOPLE_SEAT, PLUMB_V_SEAT_ROOM, "every head of {n5:count} has room", "a head has no room",
     "whether every head has room cannot be told"),
  ONE (PEOPLE_SEAT, PLUMB_V_SEAT_SAME_PLACE, "{subject} and {n0:who} are in one place" OF_SEATS),
  ONE (PEOPLE_SEAT, PLUMB_V_SEAT_BEHIND_SCREEN, "the head of {subject} is in the screen or behind it" OF_SEATS),
  ONE (PEOPLE_SEAT, PLUMB_V_SEAT_BELOW_FLOOR, "the eyes of {subject} are below the floor" OF_SEATS),
  ONE (PEOPLE_SEAT, PLUMB_V_SEAT_IN_WALL,
       "the head of {subject} is in a wall, in the ceiling or outside every space" OF_SEATS),
  ONE (PEOPLE_SEAT, PLUMB_V_SEAT_IN_SOLID, "the head of {subject} is inside {n0:who}" OF_SEATS),

  W (PEOPLE_LOOK_UP, 0,
     "from {subject} the upper edge stands {figure} above the eye line and the middle {n3:rad}, of {most} at most",
     "from {subject} the upper edge stands {figure} above the eye line and the middle {n3:rad}, and {most} is the most "
     "for the edge" OF_SEATS,
     "how far {subject} looks up cannot be told"),
  W (PEOPLE_OFF_AXIS, PLUMB_V_OFF_AXIS_FAR_EDGE,
     "{subject} sees the far edge {figure} off square, of {most} at most",
     "{subject} sees the far edge {figure} off square, and {most} is the most" OF_SEATS,
     "how far beside the picture {subject} is cannot be told"),
  W (PEOPLE_OFF_AXIS, PLUMB_V_OFF_AXIS_CENTRE, "{subject} is {figure} beside the picture's axis, of {most} at most",
     "{subject} is {figure} beside the picture's axis, and {most} is the most" OF_SEATS,
     "how far beside the picture {subject} is cannot be told"),
  W (PEOPLE_OFF_AXIS, PLUMB_V_OFF_AXIS_GAIN,
     "{subject} is {figure} off square, inside the {most} at which the surface gives half its light",
     "{subject} is {figure} off square, and at {most} the surface gives only half its light" OF_SEATS,
     "how far beside the picture {subject} is cannot be told"),
  W (PEOPLE_PIXELS, PLUMB_V_PIXELS_MERGE, "{subject} sees {figure}, where {least} are wanted and from 60 on pixels merge",
     "{subject} sees only {figure}, so single pixels show; {least} are wanted" OF_SEATS,
     "how fine the pixels are for {subject} cannot be told"),
  W (PEOPLE_PIXELS, PLUMB_V_PIXELS_RESOLVED, "{subject} sees {figure}, of {most} at most where single pixels count",
     "{subject} sees {figure}, and a single pixel can be made out up to {most}" OF_SEATS,
     "how fine the pixels are for {subject} cannot be told"),
  W (PEOPLE_TEXT, 0, "{subject} reads signs of {figure} of the picture's height ({n3:m}), of {most} at most",
     "{subject} needs signs of {figure} of the picture's height ({n3:m}), and {most} is the most" OF_SEATS,
     "how small a sign {subject} can read cannot be told"),
  W (PEOPLE_HIDDEN, 0, "from {subject} {figure} of the picture is hidden, of {most} at most",
     "from {subject} {figure} of the picture is hidden, {n0:share} by {n1:who}[n2?, with a mover in its worst state], and {most} is "
     "the most" OF_SEATS,
     "how much of the picture {subject} does not see cannot be told"),
  W (PEOPLE_C_VALUE, PLUMB_V_C_VALUE,
     "the line of sight of {subject} to the lower edge clears the eye of {n1:who} by {figure}, where {least} are wanted",
     "the line of sight of {subject} to the lower edge clears the eye of {n1:who}, {n0:m} in front, by {figure}, and "
     "{least} are wanted[n3?; a stagger of {n3:m} would do as well]" OF_SEATS,
     "how the line of sight of {subject} clears the heads in front cannot be told"),
  ONE (PEOPLE_C_VALUE, PLUMB_V_C_NOBODY_IN_FRONT, "nobody sits in anybody's line of sight to the lower edge"),

#define DIMS "[n0?, but only dims it, since the lens's half-shadow is wider than the shadow]"
  W (PEOPLE_SHADOW, PLUMB_V_SHADOW, "{subject} leaves the picture free",
     "{subject} shadows {figure} of the picture, {n1:m} from the lens" DIMS, "what {subject} shadows cannot be told"),
  W (PEOPLE_SHADOW, PLUMB_V_SHADOW_WALKING, "{subject} leaves the picture free all along the path",
     "{subject} shadows up to {figure} of the picture, most at x {n3:m}, y {n4:m}, and {n2:share} along the path" DIMS,
     "what {subject} shadows cannot be told"),
  W (PEOPLE_SHADOW, PLUMB_V_SHADOW_SEATS, "no head shadows the picture",
     "heads shadow {figure} of the picture, {n2:share} the one in {subject}" DIMS OF_SEATS,
     "what heads shadow cannot be told"),
  W (PEOPLE_SHADOW, PLUMB_V_SHADOW_MOVER, "{subject} leaves the picture free",
     "{subject} shadows {figure} of the picture, {n1:m} from the lens" DIMS, "what {subject} shadows cannot be told"),
  ONE (PEOPLE_SHADOW, PLUMB_V_SHADOW_NOBODY, "nothing stands between lens and picture"),

  /* ---- light -------------------------------------------------------------------- */
  ONE (LIGHT_LUMINANCE, PLUMB_V_LUMINANCE_LOW,
       "white reaches {subject} with {figure} ({n0:fl}), where {least} are wanted in the dark"),
  ONE (LIGHT_LUMINANCE, PLUMB_V_LUMINANCE_HIGH,
       "white reaches {subject} with {figure} ({n0:fl}), more than the {n3:cd_m2} that suit a dark room: a lower light "
       "mode would do"),
  W (LIGHT_UNIFORMITY, 0, "for {subject} the dimmest of nine fields has {figure} of the middle's brightness",
     "for {subject} the dimmest of nine fields has only {figure} of the middle's brightness, and {least} are wanted",
     "how even the picture is cannot be told"),
  W (LIGHT_HOT_SPOT, 0, "for {subject} the surface itself leaves {figure} of its brightest field in the dimmest",
     "for {subject} the surface itself leaves only {figure} of its brightest field in the dimmest, which shows as a "
     "hot spot",
     "whether the surface makes a hot spot cannot be told"),
  W (LIGHT_GAIN, 0, "a gain of {figure} goes with a half-gain angle of {n0:rad}",
     "a gain of {figure} with a half-gain angle of {n0:rad} would give back more light than falls on it; at most "
     "{most} is possible",
     "whether gain and half-gain angle agree cannot be told"),
#define CONTRAST(variant, words)                                                                                     \
  W (LIGHT_CONTRAST, variant, "in {subject} white over black is {figure}, " words,                                   \
     "in {subject} white over black is {figure}, " words ", and {least} are wanted; {n3:lx} of room light may fall on " \
     "the screen[n2?, or the machine needs {n2:lm}][n4?, or the picture may be {n4:m} wide]",                         \
     "how much light falls on the screen in {subject} is not known")
  CONTRAST (PLUMB_V_CONTRAST_BELOW, "below every class of ANSI/AVIXA V201.01"),
  CONTRAST (PLUMB_V_CONTRAST_PASSIVE, "enough for passive viewing"),
  CONTRAST (PLUMB_V_CONTRAST_BASIC, "enough for basic decision making"),
  CONTRAST (PLUMB_V_CONTRAST_ANALYTICAL, "enough for analytical decision making"),
  CONTRAST (PLUMB_V_CONTRAST_MOTION, "enough for full-motion video"),
  W (LIGHT_HAZARD, 0,
     "within the hazard distance of {n0:m} the beam comes down to {figure} above the floor, where {least} are asked "
     "for; the machine's own warnings hold all the same",
     "within the hazard distance of {n0:m} the beam comes down to {figure} above the floor, and {least} are asked for "
     "where the public may stand",
     "how near people may come to this bright a beam is not known"),
  W (LIGHT_NOISE, PLUMB_V_NOISE_FREE,
     "the fan reaches {subject} with {figure} by distance alone; the room may add several decibels",
     "the fan reaches {subject} with {figure} by distance alone, and {most} is the most", "the fan's noise is not known"),
  W (LIGHT_NOISE, PLUMB_V_NOISE_ROOM, "the fan reaches {subject} with {figure} in this room, of {most} at most",
     "the fan reaches {subject} with {figure} in this room, and {most} is the most", "the fan's noise is not known"),

  /* ---- near the picture ------------------------------------------------------------ */
  W (PEOPLE_SPEAKER, 0, "from {subject} {figure} of the front of {n3:who} is hidden, of {most} at most",
     "from {subject} {figure} of the front of {n3:who} is hidden, {n0:share} by {n1:who}, and {most} is the most" OF_SEATS,
     "how much of {n3:who} the seats do not see cannot be told"),
  W (SCREEN_PATH, PLUMB_V_PATH_CLEAR, "the screen comes down {figure} from {subject}, where {least} are wanted",
     "the screen comes down only {figure} from {subject}, and {least} are wanted",
     "how near the screen comes to {subject} cannot be told"),
  ONE (SCREEN_PATH, PLUMB_V_PATH_MET, "the screen meets {subject} on its way down"),
  ONE (SCREEN_PATH, PLUMB_V_PATH_NOTHING, "nothing stands near the screen's way down"),
  W (SCREEN_SOUND, PLUMB_V_SOUND_STOPPED, "the screen's face stands before nothing of {subject}",
     "the screen stands before {figure} of {subject}, {n1:m} in front of it, and passes no sound",
     "whether the screen stands before {subject} cannot be told"),
  ONE (SCREEN_SOUND, PLUMB_V_SOUND_PASSES,
       "{subject} stands {n1:m} behind the screen, which passes sound; how much it takes was not worked out"),
#define HEAT(variant, where)                                                                                         \
  W (SCREEN_HEAT, variant,                                                                                           \
     "{subject} is {figure} from the screen, " where ", where {least} are asked for; what its heat does to the screen " \
     "was not worked out",                                                                                           \
     "{subject} is {figure} from the screen, " where ", and {least} are asked for; ask the screen's maker what heat it " \
     "bears",                                                                                                        \
     "how near {subject} is to the screen cannot be told")
  HEAT (PLUMB_V_HEAT_UNDER, "under it"),
  HEAT (PLUMB_V_HEAT_BEHIND, "behind it"),
};

const PlumbWording *
plumb_wording_find (PlumbCheck check, uint8_t variant)
{
  const PlumbWording *first = NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (wordings); i++)
    {
      if (wordings[i].check != check)
        continue;
      if (wordings[i].variant == variant)
        return &wordings[i];
      if (first == NULL)
        first = &wordings[i];
    }
  if (first == NULL)
    g_error ("check %d has no wording", (int) check);
  return first;
}

const PlumbWording *
plumb_wording_at (gsize i)
{
  return i < G_N_ELEMENTS (wordings) ? &wordings[i] : NULL;
}
