/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ellipses on the picture's plane and the silhouettes that are made of them. */
#pragma once

#include "silhouette-private.h"

/* centre + major cos t + minor sin t, counter-clockwise; conjugate half-axes, not square to each other. */
typedef struct {
  PlumbVec2 centre, major, minor;
} PlumbEllipse;

/* Σ = Σ axisᵢ halfᵢ² axisᵢᵀ of a quadric, and its centre, in local terms. */
typedef struct {
  PlumbVec3 centre;
  double s[3][3];
} PlumbQuadric;

PlumbQuadric plumb_quadric (const PlumbSightFrame *frame, PlumbVec3 centre_m, const PlumbVec3 *axis,
                            const double *half, int n_axes);
/* Whether all of it lies between the planes, well before the eye, and so near
 * and small that its ellipse keeps its digits. */
bool plumb_quadric_between (const PlumbSightFrame *frame, const PlumbQuadric *q);
/* Its projection; only for a quadric before the eye. */
PlumbEllipse plumb_quadric_project (const PlumbSightFrame *frame, const PlumbQuadric *q);
void plumb_outline_add_ellipse (PlumbSilhouette *out, const PlumbEllipse *ellipse);

/* The whole rectangle. */
void plumb_outline_whole (const PlumbRect *rect, PlumbSilhouette *out);
/* Hull of points, clipped to the rectangle before corners are thinned out. */
bool plumb_outline_from_points (PlumbVec2 *points, size_t n, const PlumbRect *rect, PlumbSilhouette *out);

bool plumb_silhouette_ellipsoid (const PlumbSightFrame *frame, const PlumbRect *picture, const PlumbOccluder *body,
                                 PlumbSilhouette *out);
bool plumb_silhouette_cylinder (PlumbVec3 from, const PlumbSightFrame *frame, const PlumbRect *picture,
                                const PlumbOccluder *body, PlumbSilhouette *out);
