/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The pen: a cairo context with what every drawing needs: scene, plane, view,
 * line kinds, lettering, hatching, and a list of taken boxes so that words do
 * not lie on each other. Points are view metres unless a name says device.
 */
#pragma once

#include <pango/pangocairo.h>

#include "draw/draw.h"

typedef enum {
  PLUMB_LINE_CUT,    /* cut wall, frame of a sheet */
  PLUMB_LINE_SOLID,  /* solid seen, machine, plate */
  PLUMB_LINE_CHOSEN, /* the chosen thing */
  PLUMB_LINE_BEAM,   /* beam edge */
  PLUMB_LINE_PORT,   /* beam edge beyond a port */
  PLUMB_LINE_RAW,    /* raw picture */
  PLUMB_LINE_ABOVE,  /* above the cut, in front of the wall */
  PLUMB_LINE_CENTRE, /* centre line, lens axis */
  PLUMB_LINE_THIN,   /* dimension, extension, hatch */
  PLUMB_LINE_TICK,   /* tick of a dimension */
  PLUMB_LINE_SIGHT,  /* sightline */
  PLUMB_LINE_LIMIT,  /* limit beside the picture's axis */
  PLUMB_LINE_LIGHT,  /* isoline of light */
  PLUMB_N_LINES
} PlumbLine;

typedef enum {
  PLUMB_LETTER_NOTE,
  PLUMB_LETTER_DIMENSION,
  PLUMB_LETTER_PLACE, /* letters of places */
  PLUMB_LETTER_TITLE,
  PLUMB_N_LETTERS
} PlumbLetter;

typedef enum {
  PLUMB_HATCH_45,
  PLUMB_HATCH_PAIRS,
  PLUMB_HATCH_DOTS, /* 45° lines with dots between: concrete */
  PLUMB_HATCH_ROOF, /* steep and wide */
  PLUMB_HATCH_20,   /* 20° up to the right: shadow */
  PLUMB_HATCH_DOWN, /* 45° down to the right: hidden from a seat */
} PlumbHatch;

/* Device units. soft: a line or face that a letter of a place may cross, and
 * any word for which there is no room otherwise. */
typedef struct {
  double x0, y0, x1, y1;
  bool soft;
} PlumbBox;

/* Where a label would rather stand. */
typedef enum { PLUMB_BESIDE_RIGHT, PLUMB_BESIDE_LEFT, PLUMB_BESIDE_ABOVE, PLUMB_BESIDE_BELOW } PlumbBeside;

typedef struct {
  cairo_t *cr;
  const PlumbScene *scene;
  const PlumbBuilding *building;     /* NULL before the commit */
  const PlumbResolved *resolved;     /* likewise */
  const PlumbEvaluation *evaluation; /* may be NULL */
  const PlumbDrawView *view;
  PlumbDrawPlane plane;
  double unit;    /* device units per px of the look's figures */
  int units;      /* PLUMB_UNITS_* */
  uint32_t space; /* the picture's, else the first; PLUMB_NO_INDEX if there is none */
  PlumbBox frame; /* device box of the drawing's bounds: dimension strings stand around it */
  PangoLayout *layout;
  char *set_text; /* what the layout holds, and in which letters */
  PlumbLetter set_letter;
  GArray *boxes;  /* of PlumbBox: taken by words */
  GArray *labels; /* waiting for plumb_pen_place_labels() */
} PlumbPen;

void plumb_pen_init (PlumbPen *pen, cairo_t *cr, const PlumbScene *scene, const PlumbEvaluation *evaluation,
                     const PlumbDrawView *view);
void plumb_pen_clear (PlumbPen *pen);

/* ---- colour and line ------------------------------------------------------------- */

void plumb_pen_colour (PlumbPen *pen, PlumbDrawColour role, double alpha);
/* An opaque mixture with the clear ground, for bodies of several strokes. */
void plumb_pen_tint (PlumbPen *pen, PlumbDrawColour role, double share);
void plumb_pen_line (PlumbPen *pen, PlumbLine line);
/* Whether something of this record is selected. */
bool plumb_pen_selected (const PlumbPen *pen, PlumbRecordKind kind, uint32_t index);
/* Whether the scale still shows hatching, studs and seat backs (1 : 150). */
bool plumb_pen_fine (const PlumbPen *pen);

/* Device point of a view point, held inside what cairo can take; a point
 * that is not finite becomes the middle of the view. */
PlumbVec2 plumb_pen_device (const PlumbPen *pen, PlumbVec2 point_m);
PlumbVec2 plumb_pen_project (const PlumbPen *pen, PlumbVec3 room_m);
void plumb_pen_path (PlumbPen *pen, const PlumbVec2 *points, size_t n, bool close);
void plumb_pen_stroke_line (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b);
/* Fills (fill < PLUMB_N_COLOURS) and strokes (line < PLUMB_N_LINES). */
void plumb_pen_polygon (PlumbPen *pen, const PlumbVec2 *points, size_t n, PlumbDrawColour fill, double alpha,
                        PlumbLine line, PlumbDrawColour stroke);
void plumb_pen_hatch (PlumbPen *pen, const PlumbVec2 *points, size_t n, PlumbHatch hatch, PlumbDrawColour role);
/* The same over what is clipped to. */
void plumb_pen_hatch_clip (PlumbPen *pen, PlumbHatch hatch, PlumbDrawColour role);
/* Both diagonals of a box about the points: 'above the cut', cut timber. */
void plumb_pen_cross (PlumbPen *pen, const PlumbVec2 *points, size_t n);

/* ---- words --------------------------------------------------------------------------- */

/* The text with narrow no-break spaces made wide; the caller frees it. */
char *plumb_wide_spaces (const char *text);
double plumb_pen_letter_size (const PlumbPen *pen, PlumbLetter letter);
double plumb_pen_text_width (PlumbPen *pen, const char *text, PlumbLetter letter);
/* Box of a text whose baseline begins at (x, y), turned to read from the
 * right when `upright` is false. */
PlumbBox plumb_pen_text_box (PlumbPen *pen, const char *text, PlumbLetter letter, double x, double y, bool turned);
/* Draws at once and takes the box; nothing when the view is without text. */
void plumb_pen_text (PlumbPen *pen, const char *text, PlumbLetter letter, PlumbDrawColour role, double x, double y,
                     bool turned, bool halo);
/* The same turned by an angle (clockwise on the page) about its middle, without
 * a halo; takes no box. */
void plumb_pen_text_turned (PlumbPen *pen, const char *text, PlumbLetter letter, PlumbDrawColour role,
                            PlumbVec2 middle, double angle_rad);
bool plumb_pen_box_free (const PlumbPen *pen, PlumbBox box, bool over_soft);
bool plumb_pen_box_inside (const PlumbPen *pen, PlumbBox box);
void plumb_pen_take (PlumbPen *pen, PlumbBox box);
/* A line in device units, `half` its half width; soft. */
void plumb_pen_take_line (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b, double half);
void plumb_pen_take_polygon (PlumbPen *pen, const PlumbVec2 *points, size_t n);
/* Asks for a label at a device point. `gap` keeps it off the thing; a label
 * that must stay (`must`) is put even where nothing is free. */
void plumb_pen_label (PlumbPen *pen, const char *text, PlumbLetter letter, PlumbDrawColour role, PlumbVec2 device,
                      double gap, PlumbBeside beside, bool must);
/* The same with gaps across and up the page: for the middle of a long thing. */
void plumb_pen_label_off (PlumbPen *pen, const char *text, PlumbLetter letter, PlumbDrawColour role, PlumbVec2 device,
                          PlumbVec2 gap, PlumbBeside beside, bool must);
/* Puts all waiting labels where they lie on no other words; one that had to
 * move away gets a leader. */
void plumb_pen_place_labels (PlumbPen *pen);

/* ---- dimensions ------------------------------------------------------------------------ */

typedef enum { PLUMB_EDGE_LEFT, PLUMB_EDGE_RIGHT, PLUMB_EDGE_TOP, PLUMB_EDGE_BOTTOM } PlumbEdge;

/* A string of dimensions outside the frame; level 1 is next to the drawing.
 * at_m: view x (top, bottom) or y (left, right), in any order; words[i]
 * belongs to at_m[i] … at_m[i + 1] and may be NULL, as may `words`. Points
 * that fall together are left out. */
void plumb_pen_dimensions (PlumbPen *pen, PlumbEdge edge, int level, const double *at_m, const char *const *words,
                           size_t n);
/* A single one between two room points, ticks at both ends, its figure on a
 * leader. */
void plumb_pen_gap (PlumbPen *pen, PlumbVec2 a, PlumbVec2 b, const char *text, PlumbDrawColour role);
/* Distance of a level's line from the frame, and of its far text edge. */
double plumb_pen_level (const PlumbDrawView *view, int level);
/* A length as dimensions write it: 2.950, 92 mm, 9′ 8 1/8″. */
char *plumb_pen_length (const PlumbPen *pen, double metres);

/* ---- shapes ---------------------------------------------------------------------------- */

/* Convex hull, counter-clockwise, of points in place; returns their number. */
size_t plumb_hull (PlumbVec2 *points, size_t n);
