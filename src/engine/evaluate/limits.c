/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The limits, one row each with where it comes from. A job overrides a row by
 * its id, with a reason. Values in SI.
 */
#include <string.h>

#include "plumbeam/evaluate.h"

#define DEG (PLUMB_PI / 180.0)

static const PlumbLimit limits[] = {
  { "beam.pixels_kept_least", 0.90, "share", PLUMB_BASIS_PRACTICE,
    "common practice, no source: more than a tenth of the pixels lost to correction is seen" },
  { "beam.clearance_least", 0.025, "m", PLUMB_BASIS_PRACTICE,
    "common practice, no source: 25 mm between beam and solid" },
  { "beam.port_clearance_least", 0.010, "m", PLUMB_BASIS_PRACTICE,
    "common practice, no source: 10 mm round the beam in a port" },
  { "beam.spill_most", 0.050, "m", PLUMB_BASIS_PRACTICE,
    "common practice, no source: 50 mm beside the screen where it has no wider border" },
  { "beam.bend_most", 0.005, "share", PLUMB_BASIS_PRACTICE,
    "common practice, no source: bend of half a per cent of the picture height" },
  { "body.clear_least", 0.005, "m", PLUMB_BASIS_PRACTICE, "common practice, no source: 5 mm so that nothing rubs" },
  { "body.headroom_least", 2.032, "m", PLUMB_BASIS_STANDARD,
    "IBC 1003.3.1: 2032 mm (80 in) under projecting objects; local code decides" },
  { "body.reach_most", 3.5, "m", PLUMB_BASIS_PRACTICE, "common practice, no source: service from a step ladder" },
  { "people.angle_least_home", 30.0 * DEG, "rad", PLUMB_BASIS_STANDARD, "SMPTE EG 18-1994: at least 30 degrees" },
  { "people.angle_least_cinema", 36.0 * DEG, "rad", PLUMB_BASIS_PRACTICE,
    "a cinema certification scheme's figure for the last row, used as common practice" },
  { "people.angle_most", 60.0 * DEG, "rad", PLUMB_BASIS_PRACTICE,
    "common practice, no source: upper end of cinema seats" },
  { "people.heights_most_detail", 4.0, "ratio", PLUMB_BASIS_PRACTICE,
    "4-6-8 rule, common practice: picture height at least a quarter of the distance" },
  { "people.heights_most_reading", 6.0, "ratio", PLUMB_BASIS_PRACTICE,
    "4-6-8 rule, common practice: picture height at least a sixth of the distance" },
  { "people.heights_most_video", 8.0, "ratio", PLUMB_BASIS_PRACTICE,
    "4-6-8 rule, common practice: picture height at least an eighth of the distance" },
  { "people.look_up_most_home", 15.0 * DEG, "rad", PLUMB_BASIS_PRACTICE,
    "common practice after CEB23 as reported: upper edge at most 15 degrees above the eye line" },
  { "people.look_up_most_cinema", 35.0 * DEG, "rad", PLUMB_BASIS_PRACTICE,
    "common practice in cinemas: upper edge at most 35 degrees above the eye line" },
  { "people.look_up_most_presentation", 30.0 * DEG, "rad", PLUMB_BASIS_STANDARD,
    "AVIXA V202.01:2016: upper edge at most 30 degrees above the eye line" },
  { "people.off_axis_most", 45.0 * DEG, "rad", PLUMB_BASIS_PRACTICE,
    "common practice after an old training manual: nobody beyond 45 degrees from the axis" },
  { "people.off_axis_most_presentation", 60.0 * DEG, "rad", PLUMB_BASIS_STANDARD,
    "AVIXA V202.01:2016: at most 60 degrees off the normal at the far upright edge" },
  { "people.pixels_least", 30.0, "px_per_deg", PLUMB_BASIS_PRACTICE,
    "common practice, no source: half of the 60 pixels per degree at which ITU-R BT.500 sets the design distance" },
  { "people.pixels_most_detail", 60.0, "px_per_deg", PLUMB_BASIS_STANDARD,
    "AVIXA V202.01:2016, analytical decision making: a pixel fills at least one minute of arc" },
  { "people.text_most", 0.03, "share", PLUMB_BASIS_PRACTICE,
    "common practice, no source: signs of 3 % of the picture height; the distance for them by AVIXA V202.01:2016, basic "
    "decision making" },
  { "people.hidden_most", 0.02, "share", PLUMB_BASIS_PRACTICE,
    "common practice, no source: a fiftieth of the picture hidden is noticed" },
  { "people.c_value_least", 0.12, "m", PLUMB_BASIS_PRACTICE,
    "common practice: 60 mm looks between heads, 90 mm with the head tilted back, 120 mm over them; no duty, since "
    "the stadium standard leaves such rooms out" },
  { "people.shadow_most", 0.0, "share", PLUMB_BASIS_PRACTICE, "common practice, no source: nothing shadows the picture" },
  { "light.luminance_least_home", 41.1, "cd_m2", PLUMB_BASIS_PRACTICE,
    "common practice, no source: 12 foot-lamberts in a dark home room" },
  { "light.luminance_most", 103.0, "cd_m2", PLUMB_BASIS_PRACTICE,
    "common practice, no source: 30 foot-lamberts, where a dark room's picture begins to tire" },
  { "light.luminance_least_cinema", 37.8, "cd_m2", PLUMB_BASIS_STANDARD,
    "ISO 26431-1: 48 cd/m2 less the 10.2 allowed in theatres" },
  { "light.uniformity_least", 0.75, "share", PLUMB_BASIS_STANDARD,
    "ISO 26431-1: sides at least 75 % of the centre in theatres, taken here for the nine fields" },
  { "light.hot_spot_least", 0.70, "share", PLUMB_BASIS_PRACTICE,
    "common practice: smooth differences up to 30 % go unnoticed" },
  { "light.hazard_height_least", 2.0, "m", PLUMB_BASIS_STANDARD,
    "IEC 62471-5:2015, 6.6.5, as quoted: 2.0 m above where the public may stand; local rules decide" },
  { "light.noise_most_home", 31.4, "db", PLUMB_BASIS_PRACTICE,
    "common practice: NC-20, whose A-weighted sum is 31.4 dB" },
  { "light.noise_most_class", 35.0, "db", PLUMB_BASIS_STANDARD, "ANSI S12.60: 35 dB(A) in classrooms" },
  { "people.speaker_hidden_most", 0.5, "share", PLUMB_BASIS_PRACTICE,
    "common practice, no source: half of a loudspeaker's front in sight of every seat" },
  { "screen.path_clearance_least", 0.05, "m", PLUMB_BASIS_PRACTICE,
    "common practice, no source: 50 mm from the sheet for lower bar, half the case and sway" },
  { "screen.sound_covered_most", 0.0, "share", PLUMB_BASIS_PRACTICE,
    "common practice, no source: nothing of a loudspeaker behind a face that stops sound" },
  { "screen.heat_distance_least", 0.5, "m", PLUMB_BASIS_PRACTICE,
    "common practice, no source: half a metre between a screen and what gives off heat under or behind it" },
};

uint32_t
plumb_limit_count (void)
{
  return sizeof limits / sizeof limits[0];
}

const PlumbLimit *
plumb_limit_at (uint32_t i)
{
  return &limits[i];
}

uint32_t
plumb_limit_find (const char *id)
{
  for (uint32_t i = 0; i < plumb_limit_count (); i++)
    if (strcmp (limits[i].id, id) == 0)
      return i;
  return PLUMB_NO_INDEX;
}

static const PlumbCheckInfo checks[] = {
#define CHECK(name, id, family, step, label) { id, PLUMB_FAMILY_##family, PLUMB_STEP_##step, label },
  PLUMB_CHECKS (CHECK)
};

const PlumbCheckInfo *
plumb_check_info (PlumbCheck check)
{
  return &checks[check];
}

static const PlumbFigureInfo figures[] = {
#define FIGURE(member, name, count, unit, meaning) { name, count, unit, meaning },
  PLUMB_FIGURES (FIGURE)
};

const PlumbFigureInfo *
plumb_figure_info (PlumbFigure figure)
{
  return &figures[figure];
}
