/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The four drawings of a job: plan, side, picture, ceiling, on any cairo
 * context, and their sheets.
 *
 * A drawing reads a committed scene and an evaluation of it; it never works
 * out optics. Whatever the scene holds it draws what there is: faulty
 * outlines, missing screens and unsolved beams only leave something out.
 *
 * Three planes follow each other:
 *   room    metres, the survey's frame;
 *   view    metres on the drawing's plane, x to the right and y up the page;
 *   device  px on a screen, pt (1/72 in) on paper, x right and y *down*.
 *
 * Plan: from above, the picture at the top, so left and right are the
 * viewer's. Side: section on the picture's centre line, picture wall at the
 * left. Picture: as the viewer sees it. Ceiling: from below, the picture at
 * the top, so the viewer's left is at the right.
 */
#pragma once

#include <cairo.h>
#include <glib.h>

#include "draw/theme.h"
#include "plumbeam/seat-question.h"

typedef enum {
  PLUMB_DRAW_PLAN,
  PLUMB_DRAW_SIDE,
  PLUMB_DRAW_PICTURE,
  PLUMB_DRAW_CEILING,
  PLUMB_N_DRAW_KINDS
} PlumbDrawKind;

/* "plan", "side", "picture", "ceiling": the word on the command line. */
const char *plumb_draw_kind_word (PlumbDrawKind kind);
/* False when the word is none of them. */
bool plumb_draw_kind_from_word (const char *word, PlumbDrawKind *kind);
/* "Ceiling, as seen from below". */
const char *plumb_draw_kind_title (PlumbDrawKind kind);

/* Height of the plan's cut above the floor of the picture's space: over
 * tables and sills, under lintels. */
#define PLUMB_PLAN_CUT_M 1.6

/* ---- planes ------------------------------------------------------------------ */

/* The drawing's plane in the room. right, up, towards are orthonormal,
 * right × up = towards, which points from the drawing to its reader. */
typedef struct {
  PlumbVec3 right, up, towards;
  double cut_m;     /* room·towards of the cut: what lies beyond it is cut off towards the reader */
  bool has_picture; /* turned by a screen, not by a guess */
} PlumbDrawPlane;

/* The plane of a kind for an evaluation (may be NULL). Without a screen the
 * picture is taken to lie towards +y. */
PlumbDrawPlane plumb_draw_plane (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind);
PlumbVec2 plumb_draw_plane_from_room (const PlumbDrawPlane *plane, PlumbVec3 point_m);
/* depth_m: room·towards of the point, metres. Inverse of the former. */
PlumbVec3 plumb_draw_plane_to_room (const PlumbDrawPlane *plane, PlumbVec2 point_m, double depth_m);
double plumb_draw_plane_depth_m (const PlumbDrawPlane *plane, PlumbVec3 point_m);

/* ---- what is shown ------------------------------------------------------------- */

typedef enum {
  PLUMB_LAYER_SHADOWS = 1 << 0,  /* picture: outlines of what stands in the light */
  PLUMB_LAYER_LIGHT = 1 << 1,    /* picture: isolines of lux, or of luminance where that is asked for */
  PLUMB_LAYER_HIDDEN = 1 << 2,   /* picture: what is hidden from the seat below or the chosen one */
  PLUMB_LAYER_OFF_AXIS = 1 << 3, /* plan: limits beside the picture's axis; always where they are asked for */
} PlumbDrawLayer;

typedef struct {
  PlumbQuestion question; /* what the plan says of every seat */
  unsigned layers;        /* PLUMB_LAYER_* */
  uint32_t seat;          /* resolved seat for luminance and what is hidden; PLUMB_NO_INDEX: the chosen one, and for
                             a question about either the worst */
} PlumbDrawShown;

/* All checks; shadows, light, and what is hidden from a chosen seat. */
PlumbDrawShown plumb_draw_shown_default (void);

/* ---- view -------------------------------------------------------------------- */

typedef enum { PLUMB_MEDIUM_SCREEN, PLUMB_MEDIUM_PAPER } PlumbDrawMedium;

#define PLUMB_PX_PER_M (96.0 / 0.0254) /* device-independent pixels */
#define PLUMB_PT_PER_M (72.0 / 0.0254)
#define PLUMB_PT_PER_MM (72.0 / 25.4)

typedef struct {
  PlumbDrawKind kind;
  const PlumbDrawTheme *theme;
  PlumbDrawMedium medium;
  double scale_per_m;    /* device units per metre, > 0 */
  PlumbVec2 centre_m;    /* view point in the middle of the device area */
  double width, height;  /* device area, from 0, 0 */
  bool text;             /* words and figures; off for comparing pictures */
  bool title;            /* the view's own title line; a sheet has its own */
  PlumbSubject selected; /* kind PLUMB_RECORD_NONE: nothing */
  PlumbDrawShown shown;
} PlumbDrawView;

/* A view of the kind, 640 × 480 px, light theme, 50 px per metre. */
PlumbDrawView plumb_draw_view_default (PlumbDrawKind kind);
PlumbVec2 plumb_draw_view_to_device (const PlumbDrawView *view, PlumbVec2 point_m);
PlumbVec2 plumb_draw_view_from_device (const PlumbDrawView *view, PlumbVec2 device);
/* 50 for 1 : 50. */
double plumb_draw_view_ratio (const PlumbDrawView *view);
/* Zooms by a factor and keeps the view point under `device` where it is. The
 * scale stays between 1 : 1 and 1 : 20 000. */
void plumb_draw_view_zoom (PlumbDrawView *view, PlumbVec2 device, double factor);

/* What a drawing covers, dimensions not counted; never empty. */
typedef struct {
  PlumbVec2 least_m, greatest_m;
} PlumbDrawBounds;
PlumbDrawBounds plumb_draw_bounds (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind);
/* Room that dimension strings, scale bar and words take around the bounds,
 * device units. */
typedef struct {
  double left, right, top, bottom;
} PlumbDrawMargins;
PlumbDrawMargins plumb_draw_margins (const PlumbScene *scene, const PlumbDrawView *view);
/* Centre and greatest scale with which bounds and margins fit the area. */
void plumb_draw_view_fit (PlumbDrawView *view, const PlumbScene *scene, const PlumbEvaluation *evaluation);
/* Puts bounds and margins into the middle of the area; the scale stays. */
void plumb_draw_view_centre (PlumbDrawView *view, const PlumbScene *scene, const PlumbEvaluation *evaluation);

/* Draws the view into 0, 0 … width, height; the context's own matrix stays in
 * force, so a caller may have moved it. evaluation may be NULL. */
void plumb_draw_view (cairo_t *cr, const PlumbScene *scene, const PlumbEvaluation *evaluation,
                      const PlumbDrawView *view);

/* ---- scales --------------------------------------------------------------------- */

/* The largest standard scale whose ratio is at least `ratio` (50 for 1 : 50);
 * units as PLUMB_UNITS_*. */
double plumb_draw_scale_at_least (double ratio, int units);
/* "1 : 50", "1/4″ = 1′", "1″ = 20′"; the caller frees it. */
char *plumb_draw_scale_words (double ratio, int units);

/* ---- sheets --------------------------------------------------------------------- */

typedef enum { PLUMB_PAPER_A4, PLUMB_PAPER_A3, PLUMB_PAPER_LETTER, PLUMB_N_PAPERS } PlumbPaper;
typedef enum { PLUMB_SHEET_PDF, PLUMB_SHEET_SVG } PlumbSheetFormat;

/* "A4", "A3", "Letter". */
const char *plumb_paper_name (PlumbPaper paper);
/* Takes "a4", "a3", "letter" in any case. */
bool plumb_paper_from_word (const char *word, PlumbPaper *paper);

/* Where a sheet puts things. */
typedef struct {
  double width_mm, height_mm; /* of the paper, turned as it will be used */
  double frame_x_mm, frame_y_mm, frame_w_mm, frame_h_mm;
  double area_x_mm, area_y_mm, area_w_mm, area_h_mm; /* the drawing */
  double ratio;                                      /* 50 for 1 : 50; 0: the page has no drawing */
  unsigned page, pages;                              /* which page of how many, from 1 */
} PlumbSheetLayout;

/* Portrait or landscape, whichever lets the drawing be larger; when both are
 * the same, the one that it fills better. */
PlumbSheetLayout plumb_draw_sheet_layout (const PlumbScene *scene, const PlumbEvaluation *evaluation,
                                          PlumbDrawKind kind, PlumbPaper paper);
/* Draws the sheet in points from the paper's upper left corner. */
void plumb_draw_sheet (cairo_t *cr, const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind,
                       const PlumbDrawShown *shown, PlumbPaper paper, const PlumbSheetLayout *layout);
/* Writes one sheet, replacing the file only when it is whole. With
 * SOURCE_DATE_EPOCH set, the PDF's date is that and equal jobs give equal
 * files; else it is now. */
bool plumb_draw_sheet_export (const PlumbScene *scene, const PlumbEvaluation *evaluation, PlumbDrawKind kind,
                              const PlumbDrawShown *shown, const char *path, PlumbSheetFormat format, PlumbPaper paper,
                              GError **error);
