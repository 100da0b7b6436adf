/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "house.h"

#define DEG (PLUMB_PI / 180.0)

House *
house_new (void)
{
  House *house = g_new0 (House, 1);

  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    house->records[kind] = g_array_new (FALSE, TRUE, (guint) plumb_record_info ((PlumbRecordKind) kind)->size);
  return house;
}

void
house_free (House *house)
{
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    g_array_unref (house->records[kind]);
  g_free (house);
}

uint32_t
house_count (const House *house, PlumbRecordKind kind)
{
  return house->records[kind]->len;
}

void *
house_add (House *house, PlumbRecordKind kind)
{
  GArray *array = house->records[kind];

  g_array_set_size (array, array->len + 1);
  void *record = array->data + (gsize) (array->len - 1) * plumb_record_info (kind)->size;
  plumb_record_default (kind, record);
  return record;
}

static void
name_last (const House *house, PlumbRecordKind kind, char letter, char *id)
{
  g_snprintf (id, PLUMB_ID_SIZE, "%c%u", letter, house_count (house, kind) - 1);
}

PlumbSpace *
house_space (House *house, double floor_z_m)
{
  PlumbSpace *space = house_add (house, PLUMB_RECORD_SPACE);

  name_last (house, PLUMB_RECORD_SPACE, 's', space->id);
  space->floor_z_m = floor_z_m;
  return space;
}

PlumbWall *
house_outline (House *house, const PlumbVec2 *corners, size_t n, double thickness_m)
{
  uint32_t first = house_count (house, PLUMB_RECORD_WALL);

  for (size_t i = 0; i < n; i++)
    {
      PlumbWall *wall = house_add (house, PLUMB_RECORD_WALL);
      name_last (house, PLUMB_RECORD_WALL, 'w', wall->id);
      name_last (house, PLUMB_RECORD_SPACE, 's', wall->space);
      wall->x_m = corners[i].x;
      wall->y_m = corners[i].y;
      wall->thickness_m = thickness_m;
    }
  return &g_array_index (house->records[PLUMB_RECORD_WALL], PlumbWall, first);
}

PlumbCeiling *
house_ceiling (House *house, PlumbVec2 at, double height_m, double slope_deg, double rise_deg)
{
  PlumbCeiling *ceiling = house_add (house, PLUMB_RECORD_CEILING);

  name_last (house, PLUMB_RECORD_CEILING, 'c', ceiling->id);
  name_last (house, PLUMB_RECORD_SPACE, 's', ceiling->space);
  ceiling->x_m = at.x;
  ceiling->y_m = at.y;
  ceiling->height_m = height_m;
  ceiling->slope_rad = slope_deg * DEG;
  ceiling->rise_direction_rad = rise_deg * DEG;
  return ceiling;
}

void
house_limit (House *house, const PlumbVec2 *corners, size_t n)
{
  for (size_t i = 0; i < n; i++)
    {
      PlumbCeilingPoint *point = house_add (house, PLUMB_RECORD_CEILING_POINT);
      point->head.owner = house_count (house, PLUMB_RECORD_CEILING) - 1;
      point->x_m = corners[i].x;
      point->y_m = corners[i].y;
    }
}

PlumbBlocker *
house_box (House *house, PlumbVec3 under, PlumbVec3 size, double yaw_deg, double pitch_deg)
{
  PlumbBlocker *box = house_add (house, PLUMB_RECORD_BLOCKER);

  name_last (house, PLUMB_RECORD_BLOCKER, 'b', box->id);
  box->shape = PLUMB_SHAPE_BOX;
  box->x_m = under.x;
  box->y_m = under.y;
  box->z_m = under.z;
  box->length_m = size.x;
  box->width_m = size.y;
  box->height_m = size.z;
  box->yaw_rad = yaw_deg * DEG;
  box->pitch_rad = pitch_deg * DEG;
  return box;
}

PlumbPort *
house_port (House *house, uint32_t wall, double along_m, double sill_m, double width_m, double height_m)
{
  PlumbPort *port = house_add (house, PLUMB_RECORD_PORT);

  name_last (house, PLUMB_RECORD_PORT, 'p', port->id);
  g_snprintf (port->wall, sizeof port->wall, "w%u", wall);
  port->along_m = along_m;
  port->sill_m = sill_m;
  port->width_m = width_m;
  port->height_m = height_m;
  return port;
}

PlumbScene *
house_scene (const House *house)
{
  PlumbScene *scene = plumb_scene_new ();

  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    if (kind != PLUMB_RECORD_JOB)
      g_assert_true (
          plumb_scene_fill (scene, (PlumbRecordKind) kind, house->records[kind]->data, house->records[kind]->len));
  g_assert_true (plumb_scene_commit (scene));
  return scene;
}

/* ---- random houses --------------------------------------------------------------- */

/* Plan points of the house turn and move together. */
typedef struct {
  double cosine, sine;
  PlumbVec2 by;
} Turn;

static PlumbVec2
turned (const Turn *turn, double x, double y)
{
  return plumb_vec2 (turn->by.x + turn->cosine * x - turn->sine * y, turn->by.y + turn->sine * x + turn->cosine * y);
}

static void
turn_all (const Turn *turn, const PlumbVec2 *in, size_t n, PlumbVec2 *out)
{
  for (size_t i = 0; i < n; i++)
    out[i] = turned (turn, in[i].x, in[i].y);
}

/* The quarter 0 < x < 5, 0 < y < 4 is inside each of them, and the wall at
 * y = 0 from x = 0 to 7 is the first. */
static const PlumbVec2 rectangle[] = { { 0, 0 }, { 7, 0 }, { 7, 9 }, { 0, 9 } };
static const PlumbVec2 ell[] = { { 0, 0 }, { 7, 0 }, { 7, 4.2 }, { 5.1, 4.2 }, { 5.1, 9 }, { 0, 9 } };
static const PlumbVec2 bay[] = { { 0, 0 }, { 7, 0 }, { 7, 6 }, { 8.5, 7 }, { 7.5, 9 }, { 3, 10 }, { 0, 9 } };
static const PlumbVec2 yoke[]
    = { { 0, 0 }, { 7, 0 }, { 7, 9 }, { 5.2, 9 }, { 5.2, 5 }, { 2.1, 5 }, { 2.1, 8 }, { 0, 8 } };
static const struct {
  const PlumbVec2 *corners;
  size_t n;
} plans[] = { { rectangle, 4 }, { ell, 6 }, { bay, 7 }, { yoke, 8 } };

static double
between (GRand *rand, double least, double most)
{
  return g_rand_double_range (rand, least, most);
}

static void
add_ceilings (House *house, GRand *rand, const Turn *turn)
{
  static const PlumbVec2 corner[] = { { 0, 0 }, { 3, 0 }, { 3, 1.5 }, { 1.2, 1.5 }, { 1.2, 4 }, { 0, 4 } };
  int n_open = g_rand_int_range (rand, 1, 4), n_limited = g_rand_int_range (rand, 0, 4);

  for (int i = 0; i < n_open; i++)
    house_ceiling (house, turned (turn, between (rand, 0, 7), between (rand, 0, 9)), between (rand, 2.8, 4.5),
                   between (rand, 0, 1) < 0.4 ? 0.0 : between (rand, 0, 40), between (rand, -180, 180));
  for (int i = 0; i < n_limited; i++)
    {
      PlumbVec2 at = { between (rand, -2, 7), between (rand, -2, 9) }, limit[6];
      double size = between (rand, 0.5, 2.0);
      for (int k = 0; k < 6; k++)
        limit[k] = turned (turn, at.x + size * corner[k].x, at.y + size * corner[k].y);
      house_ceiling (house, turned (turn, at.x, at.y), between (rand, 2.6, 5.0), between (rand, 0, 20),
                     between (rand, -180, 180));
      house_limit (house, limit, 6);
    }
}

static void
add_prism (House *house, GRand *rand, const Turn *turn, double x, double y)
{
  static const PlumbVec2 outline[] = { { 0, 0 }, { 0.9, 0 }, { 0.9, 0.3 }, { 0.3, 0.3 }, { 0.3, 0.8 }, { 0, 0.8 } };
  PlumbBlocker *prism = house_box (house, plumb_vec3 (0, 0, between (rand, 0, 1.5)), plumb_vec3 (1, 1, 0.7), 0, 0);

  prism->shape = PLUMB_SHAPE_PRISM;
  for (int i = 0; i < 6; i++)
    {
      PlumbVec2 p = turned (turn, x + outline[i].x, y + outline[i].y);
      PlumbBlockerPoint *point = house_add (house, PLUMB_RECORD_BLOCKER_POINT);
      point->head.owner = house_count (house, PLUMB_RECORD_BLOCKER) - 1;
      point->x_m = p.x;
      point->y_m = p.y;
    }
}

static void
add_solids (House *house, GRand *rand, const Turn *turn, HouseFlags flags)
{
  int n = g_rand_int_range (rand, 0, 21);

  for (int i = 0; i < n; i++)
    {
      double x = between (rand, 0.3, 6.5), y = between (rand, 2.6, 8.5), z = between (rand, 0, 2.4);
      PlumbVec2 at = turned (turn, x, y);
      if (g_rand_int_range (rand, 0, 5) == 0)
        {
          add_prism (house, rand, turn, x, y);
          continue;
        }
      PlumbBlocker *solid
          = house_box (house, plumb_vec3 (at.x, at.y, z),
                       plumb_vec3 (between (rand, 0.1, 1), between (rand, 0.1, 1), between (rand, 0.1, 1)),
                       between (rand, 0, 360), i % 3 == 0 ? between (rand, -90, 90) : 0.0);
      solid->diameter_m = between (rand, 0.05, 0.6);
      if ((flags & HOUSE_FLAT_SOLIDS) == 0)
        solid->shape = i % 3 == 1 ? PLUMB_SHAPE_CYLINDER : i % 5 == 2 ? PLUMB_SHAPE_ELLIPSOID : PLUMB_SHAPE_BOX;
    }
  if (g_rand_boolean (rand))
    {
      PlumbStructure *beam = house_add (house, PLUMB_RECORD_STRUCTURE);
      PlumbVec2 from = turned (turn, 0.2, 3.0), to = turned (turn, 4.9, 3.0);
      *beam = (PlumbStructure){ .head = beam->head,
                                .start_x_m = from.x,
                                .start_y_m = from.y,
                                .start_z_m = 2.3,
                                .end_x_m = to.x,
                                .end_y_m = to.y,
                                .end_z_m = 2.3 + between (rand, -0.3, 0.3),
                                .width_m = 0.08,
                                .depth_m = 0.2,
                                .count = 3,
                                .spacing_m = 1.1,
                                .spacing_direction_rad = atan2 (turn->cosine, -turn->sine),
                                .exposed = true };
    }
}

/* A room behind the first wall, seen through a port. */
static void
add_back_room (House *house, GRand *rand, const Turn *turn, double thickness_m)
{
  double gap_m = thickness_m + between (rand, 0.0, 0.04), z = between (rand, -0.3, 0.3);
  PlumbVec2 plan[] = { { 0.5, -gap_m - 3 }, { 6, -gap_m - 3 }, { 6, -gap_m }, { 0.5, -gap_m } }, corners[4];

  turn_all (turn, plan, 4, corners);
  house_space (house, z);
  house_outline (house, corners, 4, thickness_m);
  house_ceiling (house, corners[0], 3.8, between (rand, 0, 8), between (rand, -180, 180));
  house_port (house, 0, between (rand, 1.5, 4.5), between (rand, 0.8, 1.4), between (rand, 0.3, 1.5),
              between (rand, 0.3, 1.0));
}

House *
house_random (GRand *rand, HouseFlags flags, PlumbVec3 *lens_m)
{
  House *house = house_new ();
  double angle = between (rand, -PLUMB_PI, PLUMB_PI), thickness_m = between (rand, 0.08, 0.4);
  Turn turn = { cos (angle), sin (angle), { between (rand, -20, 20), between (rand, -20, 20) } };
  gint32 plan = g_rand_int_range (rand, 0, G_N_ELEMENTS (plans));
  PlumbVec2 corners[8];

  turn_all (&turn, plans[plan].corners, plans[plan].n, corners);
  house_space (house, 0.0);
  house_outline (house, corners, plans[plan].n, thickness_m);
  add_ceilings (house, rand, &turn);
  add_solids (house, rand, &turn, flags);
  if ((flags & HOUSE_ONE_ROOM) == 0 && g_rand_boolean (rand))
    add_back_room (house, rand, &turn, thickness_m);
  PlumbVec2 at = turned (&turn, between (rand, 1.0, 4.5), between (rand, 0.4, 1.9));
  *lens_m = plumb_vec3 (at.x, at.y, between (rand, 0.5, 2.0));
  return house;
}

PlumbBeam
house_beam (GRand *rand, PlumbVec3 lens_m)
{
  double facing = between (rand, -PLUMB_PI, PLUMB_PI);
  PlumbPlaneFrame frame
      = { { 0, 0, 0 }, { -sin (facing), cos (facing), 0 }, { 0, 0, 1 }, { cos (facing), sin (facing), 0 } };

  return (PlumbBeam){ .lens_m = lens_m,
                      .axes = plumb_beam_axes (&frame, false, 0.0, between (rand, -60, 60) * DEG,
                                               between (rand, -180, 180) * DEG),
                      .throw_ratio = between (rand, 0.3, 2.5),
                      .panel_aspect = between (rand, 1.2, 2.4),
                      .shift_h_share = between (rand, -0.5, 0.5),
                      .shift_v_share = between (rand, -0.5, 0.5) };
}
