/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ellipses on the picture's plane and the silhouettes that are made of them. */
#pragma once

#include "silhouette-private.h"

/* centre + major cos t + minor sin t, counter-clockwise. */
typedef struct {
  PlumbVec2 centre, major, minor;
} PlumbEllipse;

/* The angle t of a point on the ellipse. */
double plumb_ellipse_angle (const PlumbEllipse *ellipse, PlumbVec2 point);

/* The whole rectangle. */
void plumb_outline_whole (const PlumbRect *rect, PlumbSilhouette *out);
/* Hull of points, clipped to the rectangle before corners are thinned out. */
bool plumb_outline_from_points (PlumbVec2 *points, size_t n, const PlumbRect *rect, PlumbSilhouette *out);

bool plumb_silhouette_ellipsoid (const PlumbSightFrame *frame, const PlumbRect *picture, const PlumbOccluder *body,
                                 PlumbSilhouette *out);
bool plumb_silhouette_cylinder (PlumbVec3 from, const PlumbSightFrame *frame, const PlumbRect *picture,
                                const PlumbOccluder *body, PlumbSilhouette *out);
