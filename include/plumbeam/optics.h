/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The optics of one projector: a pinhole camera run backwards.
 *
 * Panel coordinates a, b run over [-1/2, 1/2], right and up as the viewer
 * sees the picture. From the lens point (the exit pupil) goes the ray
 *
 *     f + (a + shift_h) / t · r + (b + shift_v) / (A t) · w
 *
 * with throw ratio t, panel aspect A and the shift as a share of the square-on
 * raw picture's full width and height. Everything else follows from this map.
 * Nothing here knows of a room, a screen record or a file; nothing allocates.
 *
 * Corners always run bottom left, bottom right, top right, top left as the
 * viewer sees them.
 */
#pragma once

#include "plumbeam/vec.h"

/* A plane with axes: the picture frame of a screen, or any other plane.
 * u to the right for a viewer in front, v up in the plane, n towards the
 * viewer; orthonormal, u × v = n. Points are origin + U u + V v, metres. */
typedef struct {
  PlumbVec3 origin_m;
  PlumbVec3 u, v, n;
} PlumbPlaneFrame;

/* Axes of the beam: forward, and right and up *as the viewer sees the
 * picture*. */
typedef struct {
  PlumbVec3 f, r, w;
} PlumbBeamAxes;

/* A solved beam. lens_m is the exit pupil in the room. */
typedef struct {
  PlumbVec3 lens_m;
  PlumbBeamAxes axes;
  double throw_ratio;  /* t > 0 */
  double panel_aspect; /* A > 0, width over height */
  double shift_h_share, shift_v_share;
} PlumbBeam;

/* Row-major 3 × 3; maps (a, b, 1) to (U, V, 1) up to scale. Built so that the
 * third component is positive exactly where the plane is in front of the
 * lens and the lens in front of the plane's n side. */
typedef struct {
  double m[9];
} PlumbHomography;

typedef struct {
  PlumbVec2 corner[4];
} PlumbQuad;

/* Attitude to axes (design, 2): yaw to the viewer's right, pitch up, roll
 * clockwise for the viewer, all positive; zero is square-on to the frame.
 * rear: light comes from behind, put -n for n. */
PlumbBeamAxes plumb_beam_axes (const PlumbPlaneFrame *screen, bool rear, double yaw_rad, double pitch_rad,
                               double roll_rad);

/* The inverse: yaw, pitch, roll of axes relative to the frame. pitch is in
 * [-π/2, π/2]; at ±π/2 yaw is 0 and roll takes the rest. */
void plumb_beam_attitude (const PlumbPlaneFrame *screen, bool rear, const PlumbBeamAxes *axes, double *yaw_rad,
                          double *pitch_rad, double *roll_rad);

/* Direction (not unit) of the ray through panel point (a, b). */
PlumbVec3 plumb_beam_ray (const PlumbBeam *beam, PlumbVec2 panel);

/* Panel point whose ray has this direction; false if the direction does not
 * point forward. */
bool plumb_beam_panel_of (const PlumbBeam *beam, PlumbVec3 direction, PlumbVec2 *panel);

/* Panel → plane. For a plane lit from its back (rear) the same frame is used;
 * `rear` only tells on which side the lens has to be. False when the lens
 * lies in the plane or on the wrong side of it. */
bool plumb_homography_to_plane (const PlumbBeam *beam, const PlumbPlaneFrame *plane, bool rear,
                                PlumbHomography *out);

/* The inverse map, up to scale, third component positive for points that the
 * forward map reached; false when singular. */
bool plumb_homography_invert (const PlumbHomography *map, PlumbHomography *out);

/* Applies a map; false when the point goes to infinity or behind (third
 * component not positive): the caller makes a finding of it. */
bool plumb_homography_apply (const PlumbHomography *map, PlumbVec2 point, PlumbVec2 *out);

/* Homography through four point pairs, exact; false when three points of a
 * side lie on one line. Textbook direct linear transform. */
bool plumb_homography_from_quads (const PlumbQuad *from, const PlumbQuad *to, PlumbHomography *out);

/* The raw picture on a plane; false when a corner ray never meets it; then
 * *missing (may be NULL) has bit i set for corner i. */
bool plumb_raw_picture (const PlumbHomography *map, PlumbQuad *out, unsigned *missing);

/* Signed area, positive when counter-clockwise. */
double plumb_polygon_area (const PlumbVec2 *points, size_t n_points);

/* Convex polygon ∩ half plane {p : normal·p <= offset}, in place capacity
 * permitting: writes at most n + 1 points to out and returns their number
 * (0 when nothing is left). in and out may not overlap. */
size_t plumb_polygon_clip (const PlumbVec2 *in, size_t n_in, PlumbVec2 normal, double offset, PlumbVec2 *out);

/* Least c·x subject to a_i·x <= b_i in three unknowns with |x_k| <= bound.
 * Returns false when there is no feasible point. Exact up to rounding
 * (Seidel's incremental algorithm, constraints taken in the given order, so
 * the result is the same every time). rows: n × 4 numbers a0 a1 a2 b. */
bool plumb_linear_programme_3 (const double *rows, size_t n_rows, const double cost[3], double bound,
                               double solution[3]);

/* Greatest upright rectangle of this aspect inside a convex polygon (the raw
 * picture cut to the screen); ties go to the one nearest `centre`. False when
 * the polygon has no area. Closed set: it may touch the edges. */
typedef struct {
  PlumbVec2 centre_m;
  double width_m, height_m;
} PlumbRect;
bool plumb_greatest_rectangle (const PlumbVec2 *polygon, size_t n_points, double aspect, PlumbVec2 centre,
                               PlumbRect *out);

PlumbQuad plumb_rect_corners (const PlumbRect *rect);

/* Share of the panel that lights a rectangle on the plane: area of its
 * pre-image (exact, shoelace). NAN-free: 0 when a corner has no pre-image. */
double plumb_panel_share (const PlumbHomography *panel_to_plane, const PlumbRect *rect);

/* Least and greatest pixels per millimetre over a rectangle, along either
 * picture axis, for panel_px_w × panel_px_h pixels. Extremes of the local
 * scale sit on the rectangle's corners or edges. False when a corner has no
 * pre-image. */
bool plumb_pixel_density (const PlumbHomography *panel_to_plane, const PlumbRect *rect, double panel_px_w,
                          double panel_px_h, double *least_px_per_mm, double *greatest_px_per_mm);

/* -------------------------------------------------------------- lens data */

/* Printed forms of the vertical offset (facts, 1.3). */
typedef enum {
  PLUMB_OFFSET_FAR_EDGE,    /* axis → far edge over height; 50 % is centred, 100 % near edge on the axis */
  PLUMB_OFFSET_HALF_HEIGHT, /* 0 % centred, 100 % near edge on the axis */
  PLUMB_OFFSET_FULL_HEIGHT, /* 0 % centred, 50 % near edge on the axis */
  PLUMB_OFFSET_GAP,         /* axis → near edge over height; 0 % near edge on the axis */
  PLUMB_OFFSET_RATIO,       /* parts above : parts below the axis */
} PlumbOffsetForm;

/* Centre displacement in picture heights, positive = picture on the far side
 * of the axis. printed is a share (1.15 for 115 %); for the ratio form
 * printed is the upper and lower the lower part. False when upper + lower is
 * not positive. */
bool plumb_offset_centre (PlumbOffsetForm form, double printed, double lower, double *centre_heights);
/* The printed share of a form for a centre displacement; for the ratio form
 * the upper part of ten. */
double plumb_offset_printed (PlumbOffsetForm form, double centre_heights);

/* One printed line of a short-throw or mirror machine. */
typedef struct {
  double distance_m;
  double width_m;
  double gap_m; /* lens axis → near edge of the picture, positive = clear of the axis */
  bool has_gap;
  bool tele; /* which end of a zoom the line belongs to */
} PlumbLensPair;

typedef struct {
  double throw_ratio_wide, throw_ratio_tele;
  double pupil_behind_m; /* e: W = (D + e) / t */
  double offset_heights; /* centre displacement; valid when has_offset */
  bool has_offset;
  double worst_width_residual_m; /* greatest |W fitted - W printed| */
  double worst_gap_residual_m;
  double pupil_uncertainty_m; /* standard uncertainty of e, 0 when two lines fit exactly */
} PlumbLensFit;

/* Least squares in t (one or two ends) and e, then in the offset. False when
 * the pairs cannot tell them (fewer than two distances at an end that is
 * alone, equal distances, t <= 0). aspect: panel aspect, for the gap. */
bool plumb_lens_fit (const PlumbLensPair *pairs, size_t n_pairs, double aspect, PlumbLensFit *out);

/* The allowed shift: a convex set, never two separate maxima (facts, 1.4).
 * Coordinates are shares of full width and height. */
#define PLUMB_SHIFT_MAX_POINTS 48
typedef enum { PLUMB_SHIFT_KIND_POLYGON, PLUMB_SHIFT_KIND_ELLIPSE, PLUMB_SHIFT_KIND_CIRCLE } PlumbShiftSetKind;
typedef struct {
  PlumbShiftSetKind kind;
  size_t n_points; /* polygon, counter-clockwise; 1 point = no shift, 2 = a line */
  PlumbVec2 point[PLUMB_SHIFT_MAX_POINTS];
  PlumbVec2 centre; /* ellipse and circle */
  PlumbVec2 radius; /* ellipse: half axes; circle: half the panel, p = (1/2, 1/2), scaled with the set */
  /* circle: (p_x·A + |h|·A)² + (p_y + |v|)² <= R², in panel heights. */
  double circle_radius_heights, aspect;
} PlumbShiftSet;

PlumbShiftSet plumb_shift_set_none (void);
PlumbShiftSet plumb_shift_set_rectangle (double left, double right, double down, double up);
PlumbShiftSet plumb_shift_set_diamond (double left, double right, double down, double up);
/* h_at_v_max: how far sideways is left at full vertical shift, v_at_h_max the
 * other way; diagonal (may be 0,0 = none) adds a point per quadrant. The hull
 * of all is taken. */
PlumbShiftSet plumb_shift_set_corner_cut (double h_max, double v_max, double h_at_v_max, double v_at_h_max,
                                          PlumbVec2 diagonal);
/* Convex hull of the points; false with none, too many, or a point not finite. */
bool plumb_shift_set_polygon (const PlumbVec2 *points, size_t n_points, PlumbShiftSet *out);
PlumbShiftSet plumb_shift_set_ellipse (double h_max, double v_max);
/* v_max: vertical shift at h = 0 in heights; R follows. */
PlumbShiftSet plumb_shift_set_circle (double v_max, double aspect);
/* Scales about its origin, then moves by offset, then turns by 180° if
 * inverted, then mirrors h if rear. */
PlumbShiftSet plumb_shift_set_place (const PlumbShiftSet *set, double scale, PlumbVec2 offset, bool inverted,
                                     bool rear);
/* Signed room left, in shares in the metric (width_m, height_m): metres on
 * the screen to the set's edge, negative outside. */
double plumb_shift_set_room_m (const PlumbShiftSet *set, PlumbVec2 shift, double width_m, double height_m);
bool plumb_shift_set_holds (const PlumbShiftSet *set, PlumbVec2 shift, double tolerance_share);
/* Nearest point of the set in that metric. */
PlumbVec2 plumb_shift_set_nearest (const PlumbShiftSet *set, PlumbVec2 shift, double width_m, double height_m);
/* Convex polygon with at most `capacity` points for drawing and clipping;
 * exact for polygons, inscribed with 48 points for curved sets. Returns the
 * number of points. */
size_t plumb_shift_set_outline (const PlumbShiftSet *set, PlumbVec2 *points, size_t capacity);
/* Greatest h shift at a given v in the upper right quadrant of a set that is
 * symmetric about the origin; the form of the printed 51-row table. Negative
 * when v is outside. */
double plumb_shift_set_h_limit (const PlumbShiftSet *set, double v_share);

/* ---------------------------------------------------------- inverse forms */

/* Zoom and shift that put the raw picture on a rectangle: the smallest raw
 * picture that covers it with the beam's axes as they are. target corners in
 * room coordinates. tangent box: the rectangle as seen from the lens. False
 * when a corner is not in front. */
typedef struct {
  double throw_ratio;            /* greatest t that covers */
  double shift_h_share, shift_v_share; /* of the raw picture, at that t */
  double x_min, x_max, y_min, y_max; /* tangents along r and w */
} PlumbCover;
bool plumb_cover_solve (PlumbVec3 lens_m, const PlumbBeamAxes *axes, double panel_aspect,
                        const PlumbVec3 target_m[4], PlumbCover *out);
/* The shift that centres the box at another throw ratio. */
PlumbVec2 plumb_cover_shift_at (const PlumbCover *cover, double panel_aspect, double throw_ratio);
/* Whether some t in [t_wide, t_tele] and shift in the set covers the box;
 * set_wide and set_tele are the sets at the ends, between them the set is
 * interpolated. Returns the widest margin as a signed tangent (>= 0 covers)
 * and the t and shift that give it. Convex search, residual 1e-12 in t. */
double plumb_cover_margin (const PlumbCover *cover, double panel_aspect, double t_wide, double t_tele,
                           const PlumbShiftSet *set_wide, const PlumbShiftSet *set_tele, double *best_t,
                           PlumbVec2 *best_shift);

/* Whether that margin is at least -tolerance: the same answer sooner, since a
 * search may stop as soon as it is clear. */
bool plumb_cover_reaches (const PlumbCover *cover, double panel_aspect, double t_wide, double t_tele,
                          const PlumbShiftSet *set_wide, const PlumbShiftSet *set_tele, double tolerance);

/* Slab of lens distances (square-on) at which a picture of raw width W is in
 * the zoom range: [t_wide W, t_tele W]. */
void plumb_distance_slab (double raw_width_m, double t_wide, double t_tele, double *least_m, double *greatest_m);
