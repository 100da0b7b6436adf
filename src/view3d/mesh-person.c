/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "view3d/mesh-person-private.h"

/* Parts flow into each other over this much (the drawn style's 50 mm). */
#define FLOW_M 0.05
#define MOST_PARTS 24
/* Head: ANSUR II, about the median man: breadth 154, chin to crown 236 mm. */
#define HEAD_HALF_LENGTH_M 0.097
#define HEAD_HALF_BREADTH_M 0.078
#define HEAD_HALF_HEIGHT_M 0.118
/* The eye lies this far before the head's middle. */
#define EYE_FORWARD_M 0.08
#define SHOULDER_HALF_M 0.215
/* Of the neck's root. */
#define HEAD_FORWARD_M 0.03
/* Median eye height over the seat of a mixed population, ANSUR II: 775 mm. */
#define EYE_OVER_SEAT_M 0.775
#define LEAST_SEAT_M 0.12

/* Ellipsoid (r: half sizes) or a rod of radius r.x from a to b. */
typedef struct {
  bool rod;
  PlumbVec3 a, b, r;
} Part;

typedef struct {
  int n;
  Part part[MOST_PARTS];
} Shape;

static void
egg (Shape *shape, double x, double y, double z, double rx, double ry, double rz)
{
  shape->part[shape->n++] = (Part){ false, { x, y, z }, { 0, 0, 0 }, { rx, ry, rz } };
}

static void
rod (Shape *shape, PlumbVec3 a, PlumbVec3 b, double radius)
{
  shape->part[shape->n++] = (Part){ true, a, b, { radius, radius, radius } };
}

/* The same rod on both sides. */
static void
rods (Shape *shape, PlumbVec3 a, PlumbVec3 b, double radius)
{
  rod (shape, a, b, radius);
  rod (shape, plumb_vec3 (a.x, -a.y, a.z), plumb_vec3 (b.x, -b.y, b.z), radius);
}

double
plumb_person_seat_m (const PlumbPersonMeasure *measure)
{
  return fmax (measure->height_m - EYE_OVER_SEAT_M, LEAST_SEAT_M);
}

static void
head_and_arms (Shape *shape, double back_x, double crown_z, double shoulder_z)
{
  double head_x = back_x + HEAD_FORWARD_M;

  egg (shape, head_x, 0.0, crown_z - HEAD_HALF_HEIGHT_M, HEAD_HALF_LENGTH_M, HEAD_HALF_BREADTH_M, HEAD_HALF_HEIGHT_M);
  rod (shape, plumb_vec3 (head_x - 0.025, 0.0, crown_z - 0.17), plumb_vec3 (back_x, 0.0, shoulder_z), 0.05);
  rod (shape, plumb_vec3 (back_x, SHOULDER_HALF_M - 0.06, shoulder_z - 0.02),
       plumb_vec3 (back_x, 0.06 - SHOULDER_HALF_M, shoulder_z - 0.02), 0.055);
}

static void
shape_sitting (Shape *shape, const PlumbPersonMeasure *measure)
{
  double crown = measure->height_m + measure->head_above_eye_m, seat = plumb_person_seat_m (measure);
  double x = -EYE_FORWARD_M - 0.03, shoulder = fmax (crown - 0.32, seat + 0.3);
  double chest = (shoulder + seat) / 2.0 + 0.05;

  head_and_arms (shape, x, crown, shoulder);
  egg (shape, x, 0.0, chest, 0.11, 0.165, (shoulder - seat) / 2.0);
  egg (shape, x + 0.01, 0.0, seat + 0.11, 0.12, 0.17, 0.115);
  rods (shape, plumb_vec3 (x, 0.172, shoulder - 0.04), plumb_vec3 (x + 0.06, 0.178, seat + 0.23), 0.038);
  rods (shape, plumb_vec3 (x + 0.06, 0.178, seat + 0.23), plumb_vec3 (x + 0.30, 0.12, seat + 0.165), 0.033);
  rods (shape, plumb_vec3 (x + 0.03, 0.09, seat + 0.08), plumb_vec3 (x + 0.43, 0.10, seat + 0.065), 0.068);
  rods (shape, plumb_vec3 (x + 0.44, 0.10, seat + 0.04), plumb_vec3 (x + 0.45, 0.10, 0.07), 0.046);
  rods (shape, plumb_vec3 (x + 0.43, 0.10, 0.036), plumb_vec3 (x + 0.58, 0.11, 0.034), 0.033);
}

static void
shape_standing (Shape *shape, double stature)
{
  double k = stature / 1.75, shoulder = stature - 0.32 * k, hip = 0.93 * k;

  /* The head's middle stands over the feet, as the sums have it. */
  head_and_arms (shape, -HEAD_FORWARD_M, stature, shoulder);
  egg (shape, 0.0, 0.0, (shoulder + hip) / 2.0 + 0.06, 0.11, 0.165, (shoulder - hip) / 2.0);
  egg (shape, 0.0, 0.0, hip + 0.04, 0.11, 0.165, 0.13);
  rods (shape, plumb_vec3 (0.0, 0.172, shoulder - 0.04), plumb_vec3 (-0.01, 0.19, hip + 0.17), 0.038);
  rods (shape, plumb_vec3 (-0.01, 0.19, hip + 0.17), plumb_vec3 (0.04, 0.19, hip - 0.09), 0.033);
  rods (shape, plumb_vec3 (0.0, 0.09, hip), plumb_vec3 (0.0, 0.09, 0.48 * k), 0.07);
  rods (shape, plumb_vec3 (0.0, 0.09, 0.48 * k), plumb_vec3 (-0.01, 0.09, 0.07), 0.05);
  rods (shape, plumb_vec3 (-0.02, 0.09, 0.036), plumb_vec3 (0.15, 0.10, 0.034), 0.033);
}

static double
part_distance (const Part *part, PlumbVec3 p)
{
  PlumbVec3 v = plumb_vec3_sub (p, part->a);

  if (part->rod)
    {
      PlumbVec3 way = plumb_vec3_sub (part->b, part->a);
      double t = plumb_clamp (plumb_vec3_dot (v, way) / plumb_vec3_dot (way, way), 0.0, 1.0);
      return plumb_vec3_length (plumb_vec3_along (v, way, -t)) - part->r.x;
    }
  /* First-order distance, exact on the surface. */
  PlumbVec3 q = { v.x / part->r.x, v.y / part->r.y, v.z / part->r.z };
  PlumbVec3 g = { q.x / part->r.x, q.y / part->r.y, q.z / part->r.z };
  double k = plumb_vec3_length (q), slope = plumb_vec3_length (g);
  return slope > 1e-9 ? k * (k - 1.0) / slope : -fmin (part->r.x, fmin (part->r.y, part->r.z));
}

static double
distance (const Shape *shape, PlumbVec3 p)
{
  double least = part_distance (&shape->part[0], p);

  for (int i = 1; i < shape->n; i++)
    {
      double d = part_distance (&shape->part[i], p);
      double flow = fmax (FLOW_M - fabs (d - least), 0.0) / FLOW_M;
      least = fmin (least, d) - flow * flow * FLOW_M / 4.0;
    }
  return least;
}

static PlumbVec3
slope_at (const Shape *shape, PlumbVec3 p)
{
  const double e = 1e-4;
  PlumbVec3 g;

  g.x = distance (shape, plumb_vec3 (p.x + e, p.y, p.z)) - distance (shape, plumb_vec3 (p.x - e, p.y, p.z));
  g.y = distance (shape, plumb_vec3 (p.x, p.y + e, p.z)) - distance (shape, plumb_vec3 (p.x, p.y - e, p.z));
  g.z = distance (shape, plumb_vec3 (p.x, p.y, p.z + e)) - distance (shape, plumb_vec3 (p.x, p.y, p.z - e));
  return plumb_vec3_scale (g, 1.0 / (2.0 * e));
}

/* ---- the surface, one corner per cell that it passes ------------------------- */

typedef struct {
  PlumbVec3 least;
  double step;
  int n[3]; /* samples each way */
  double *value;
  uint32_t *corner; /* by cell, its corner + 1 */
} Grid;

static int
at (const Grid *grid, int x, int y, int z)
{
  return (z * grid->n[1] + y) * grid->n[0] + x;
}

static void
sample (Grid *grid, const Shape *shape, double top)
{
  PlumbVec3 most = { 0.56, 0.30, top + 0.06 };
  grid->least = plumb_vec3 (-0.36, -0.30, -0.05);
  grid->n[0] = (int) ceil ((most.x - grid->least.x) / grid->step) + 1;
  grid->n[1] = (int) ceil ((most.y - grid->least.y) / grid->step) + 1;
  grid->n[2] = (int) ceil ((most.z - grid->least.z) / grid->step) + 1;
  gsize total = (gsize) grid->n[0] * (gsize) grid->n[1] * (gsize) grid->n[2];
  grid->value = g_new (double, total);
  grid->corner = g_new0 (uint32_t, total);
  for (int z = 0; z < grid->n[2]; z++)
    for (int y = 0; y < grid->n[1]; y++)
      for (int x = 0; x < grid->n[0]; x++)
        {
          PlumbVec3 p = plumb_vec3_add (grid->least, plumb_vec3 (x * grid->step, y * grid->step, z * grid->step));
          grid->value[at (grid, x, y, z)] = distance (shape, p);
        }
}

/* The mean of where the surface meets the cell's edges, then drawn onto it. */
static void
make_corner (PlumbPersonShape *figure, Grid *grid, const Shape *shape, int x, int y, int z)
{
  PlumbVec3 sum = { 0.0, 0.0, 0.0 };
  int met = 0;

  for (int axis = 0; axis < 3; axis++)
    for (int i = 0; i < 4; i++)
      {
        int from[3] = { 0, 0, 0 }, to[3];
        from[(axis + 1) % 3] = i & 1;
        from[(axis + 2) % 3] = i >> 1;
        for (int k = 0; k < 3; k++)
          to[k] = from[k] + (k == axis);
        double a = grid->value[at (grid, x + from[0], y + from[1], z + from[2])];
        double b = grid->value[at (grid, x + to[0], y + to[1], z + to[2])];
        if ((a < 0.0) == (b < 0.0))
          continue;
        double t = a / (a - b);
        sum = plumb_vec3_add (sum, plumb_vec3 (from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1]),
                                               from[2] + t * (to[2] - from[2])));
        met++;
      }
  if (met == 0)
    return;
  PlumbVec3 p = plumb_vec3_add (plumb_vec3 (x, y, z), plumb_vec3_scale (sum, 1.0 / met));
  p = plumb_vec3_along (grid->least, p, grid->step);
  for (int k = 0; k < 3; k++)
    {
      PlumbVec3 g = slope_at (shape, p);
      double square = fmax (plumb_vec3_dot (g, g), 0.05);
      double pull = plumb_clamp (distance (shape, p) / square, -grid->step / 2.0, grid->step / 2.0);
      p = plumb_vec3_along (p, g, -pull);
    }
  PlumbVec3 normal = plumb_vec3_unit (slope_at (shape, p));
  g_array_append_val (figure->points, p);
  g_array_append_val (figure->normals, normal);
  grid->corner[at (grid, x, y, z)] = figure->points->len;
}

static void
join (PlumbPersonShape *figure, const Grid *grid, const int cell[3], int axis)
{
  int end[3] = { cell[0], cell[1], cell[2] }, b = (axis + 1) % 3, c = (axis + 2) % 3;
  uint32_t quad[4];

  end[axis]++;
  if (end[axis] >= grid->n[axis] || cell[b] == 0 || cell[c] == 0)
    return;
  bool inside = grid->value[at (grid, cell[0], cell[1], cell[2])] < 0.0;
  if (inside == (grid->value[at (grid, end[0], end[1], end[2])] < 0.0))
    return;
  for (int i = 0; i < 4; i++)
    {
      int k[3] = { cell[0], cell[1], cell[2] };
      k[b] -= i == 0 || i == 3;
      k[c] -= i == 0 || i == 1;
      quad[i] = grid->corner[at (grid, k[0], k[1], k[2])];
      if (quad[i]-- == 0)
        return;
    }
  uint32_t front[6] = { quad[0], quad[1], quad[2], quad[0], quad[2], quad[3] };
  uint32_t behind[6] = { quad[0], quad[2], quad[1], quad[0], quad[3], quad[2] };
  g_array_append_vals (figure->indices, inside ? front : behind, 6);
}

/* Sums about heads rest on the crown: the topmost corner goes exactly there. */
static void
set_crown (PlumbPersonShape *figure, PlumbVec3 crown)
{
  guint top = 0;

  for (guint i = 1; i < figure->points->len; i++)
    if (g_array_index (figure->points, PlumbVec3, i).z > g_array_index (figure->points, PlumbVec3, top).z)
      top = i;
  if (figure->points->len == 0)
    return;
  g_array_index (figure->points, PlumbVec3, top) = crown;
  g_array_index (figure->normals, PlumbVec3, top) = plumb_vec3 (0.0, 0.0, 1.0);
}

PlumbPersonShape *
plumb_person_shape_new (const PlumbPersonMeasure *measure)
{
  PlumbPersonShape *figure = g_new0 (PlumbPersonShape, 1);
  Shape shape = { .n = 0 };
  Grid grid = { .step = measure->grain_m };

  figure->measure = *measure;
  figure->points = g_array_new (FALSE, FALSE, sizeof (PlumbVec3));
  figure->normals = g_array_new (FALSE, FALSE, sizeof (PlumbVec3));
  figure->indices = g_array_new (FALSE, FALSE, sizeof (uint32_t));
  if (measure->sitting)
    shape_sitting (&shape, measure);
  else
    shape_standing (&shape, measure->height_m);
  double crown_z = measure->height_m + (measure->sitting ? measure->head_above_eye_m : 0.0);
  sample (&grid, &shape, crown_z);
  for (int z = 0; z + 1 < grid.n[2]; z++)
    for (int y = 0; y + 1 < grid.n[1]; y++)
      for (int x = 0; x + 1 < grid.n[0]; x++)
        make_corner (figure, &grid, &shape, x, y, z);
  for (int z = 0; z < grid.n[2]; z++)
    for (int y = 0; y < grid.n[1]; y++)
      for (int x = 0; x < grid.n[0]; x++)
        for (int axis = 0; axis < 3; axis++)
          join (figure, &grid, (int[3]){ x, y, z }, axis);
  /* The head is the first part. */
  set_crown (figure, plumb_vec3 (shape.part[0].a.x, 0.0, crown_z));
  g_free (grid.value);
  g_free (grid.corner);
  return figure;
}

void
plumb_person_shape_free (gpointer data)
{
  PlumbPersonShape *figure = data;
  g_array_unref (figure->points);
  g_array_unref (figure->normals);
  g_array_unref (figure->indices);
  g_free (figure);
}
