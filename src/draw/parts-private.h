/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Things that more than one drawing shows: walls from above, solids, beam,
 * screen, machine, places, scale bar.
 */
#pragma once

#include "draw/solids-private.h"

/* ---- what is there ------------------------------------------------------------ */

bool plumb_has_target (const PlumbPen *pen);
bool plumb_has_machine (const PlumbPen *pen);
/* Index of the place in use, PLUMB_NO_INDEX. */
uint32_t plumb_used_place (const PlumbPen *pen);
/* The picture, else the raw picture, else the wanted one, else the screen's
 * face, in the room; false without a screen. lit: a beam makes it. */
bool plumb_picture_corners (const PlumbPen *pen, PlumbVec3 corner[4], bool *lit);
/* Corners of a rectangle about the target's centre. */
void plumb_target_rectangle (const PlumbPen *pen, double half_width_m, double half_height_m, PlumbVec3 corner[4]);
/* Label of a record, its id when it has none; "" for neither. */
const char *plumb_label_or_id (const char *label, const char *id);
/* A, B, … Z, A1, B1 …: the letter of a place on drawings. */
char *plumb_place_letter (uint32_t place);
/* Nearest inner wall face along a level direction, in the space that the point
 * is over: its distance and wall record. */
bool plumb_cast_to_wall (const PlumbPen *pen, PlumbVec3 from, PlumbVec3 direction, double *distance_m,
                         uint32_t *wall);
/* "the viewer's left wall" or with its name. */
char *plumb_wall_name (const PlumbPen *pen, uint32_t wall, const char *fallback);

/* ---- walls from above --------------------------------------------------------------- */

void plumb_draw_floors (PlumbPen *pen);
void plumb_draw_walls (PlumbPen *pen);
/* One space's, without hatching. */
void plumb_draw_walls_thin (PlumbPen *pen, uint32_t space);
/* Last of all words: where there is room. */
void plumb_draw_wall_names (PlumbPen *pen);
/* Whether a solid stands in the picture's space, by its middle. */
bool plumb_in_picture_space (const PlumbPen *pen, PlumbVec3 point);
/* The hatch of a construction over a polygon of cut wall; `across` is the
 * view's way through the wall. */
void plumb_draw_construction (PlumbPen *pen, int construction, const PlumbVec2 quad[4]);

/* ---- solids ----------------------------------------------------------------------------- */

void plumb_draw_platforms (PlumbPen *pen);
/* Blockers (not platforms) or structure on one side of the cut. */
void plumb_draw_blockers (PlumbPen *pen, PlumbSolidSide side);
void plumb_draw_structure (PlumbPen *pen, PlumbSolidSide side);

/* ---- light, screen, machine, places ------------------------------------------------------- */

/* Fills the beam's outline, fading from the lens. */
void plumb_draw_beam_fill (PlumbPen *pen, const PlumbVec2 *outline, size_t n, PlumbVec2 lens, PlumbVec2 far_end);
/* Hatches in `fails` what crosses the outline. */
void plumb_draw_beam_met (PlumbPen *pen, const PlumbVec2 *outline, size_t n);
/* The screen edge-on from a to b (border ends a0, b0), standing towards
 * `side`: lamp bar between, wall bar beyond. */
void plumb_draw_screen_edge (PlumbPen *pen, PlumbVec2 a0, PlumbVec2 a, PlumbVec2 b, PlumbVec2 b0, PlumbVec2 side);
void plumb_draw_machine (PlumbPen *pen);
void plumb_draw_lens_dot (PlumbPen *pen);
/* Circled crosses with letters; the place in use only gets its letter. */
void plumb_draw_places (PlumbPen *pen);

/* ---- round the drawing ------------------------------------------------------------------------ */

void plumb_draw_scale_bar (PlumbPen *pen);
void plumb_draw_to_picture (PlumbPen *pen);
void plumb_draw_view_title (PlumbPen *pen);

/* ---- the views ---------------------------------------------------------------------------------- */

void plumb_draw_seats_plan (PlumbPen *pen);
/* Answers of the seats and their key; after machine and places, which the
 * figures keep off. */
void plumb_draw_seat_figures (PlumbPen *pen);
/* Lines at the limits' angles from the picture, where they are asked for. */
void plumb_draw_off_axis_limits (PlumbPen *pen);
void plumb_draw_people_side (PlumbPen *pen);
/* View x of every row of eyes, nearest the picture first. */
size_t plumb_eye_rows (const PlumbPen *pen, double *at_m, size_t capacity);
void plumb_draw_plan (PlumbPen *pen);
void plumb_draw_side (PlumbPen *pen);
void plumb_draw_picture (PlumbPen *pen);
void plumb_draw_ceiling (PlumbPen *pen);
