/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form-picture.h"

#include <math.h>

#include "app/style.h"

/* The drawings are made for this size and scaled to the form's width. */
#define WIDTH 284.0
#define HEIGHT 132.0
#define SMALL_PX 11.0

typedef struct {
  cairo_t *cr;
  PangoLayout *layout;
  PlumbRecordKind kind;
  int marked;
} Pen;

typedef struct {
  PlumbRecordKind kind;
  const char *name; /* what a screen reader says */
  void (*draw) (Pen *pen);
} Picture;

struct _PlumbFormPicture {
  GtkWidget parent_instance;
  const Picture *picture;
  int marked;
};

G_DEFINE_FINAL_TYPE (PlumbFormPicture, plumb_form_picture, GTK_TYPE_WIDGET)

/* ---- strokes ------------------------------------------------------------------------- */

static void
stroke (Pen *pen, PlumbDrawColour role, double width)
{
  plumb_style_set_source (pen->cr, role);
  cairo_set_line_width (pen->cr, width);
  cairo_stroke (pen->cr);
}

static void
line (Pen *pen, double x0, double y0, double x1, double y1, PlumbDrawColour role, double width)
{
  cairo_move_to (pen->cr, x0, y0);
  cairo_line_to (pen->cr, x1, y1);
  stroke (pen, role, width);
}

static void
box (Pen *pen, double x, double y, double width, double height, PlumbDrawColour fill, PlumbDrawColour edge)
{
  cairo_rectangle (pen->cr, x, y, width, height);
  plumb_style_set_source (pen->cr, fill);
  cairo_fill_preserve (pen->cr);
  stroke (pen, edge, 1.4);
}

/* A wall's face with hatching on the far side of it: along x at y, or along y
 * at x. */
static void
wall (Pen *pen, double x0, double y0, double x1, double y1, double into_x, double into_y)
{
  const double length = hypot (x1 - x0, y1 - y0);

  for (double s = 4; s < length; s += 7)
    line (pen, x0 + (x1 - x0) * s / length, y0 + (y1 - y0) * s / length, x0 + (x1 - x0) * (s - 6) / length + into_x,
          y0 + (y1 - y0) * (s - 6) / length + into_y, PLUMB_COLOUR_HATCH, 0.7);
  line (pen, x0, y0, x1, y1, PLUMB_COLOUR_WALL, 2.2);
}

static void
words (Pen *pen, const char *text, double x, double y, double share_x, PlumbDrawColour role, gboolean on_ground)
{
  int width, height;

  pango_layout_set_text (pen->layout, text, -1);
  pango_layout_get_pixel_size (pen->layout, &width, &height);
  const double left = CLAMP (x - width * share_x, 1.0, WIDTH - width - 1.0), top = y - height / 2.0;
  if (on_ground)
    {
      cairo_rectangle (pen->cr, left - 2, top, width + 4, height);
      plumb_style_set_source (pen->cr, PLUMB_COLOUR_PAPER);
      cairo_fill (pen->cr);
    }
  plumb_style_set_source (pen->cr, role);
  cairo_move_to (pen->cr, left, top);
  pango_cairo_show_layout (pen->cr, pen->layout);
}

static void
tick (Pen *pen, double x, double y, PlumbDrawColour role)
{
  line (pen, x - 3, y + 3, x + 3, y - 3, role, 1.6);
}

/* A dimension with its field's name on it. share_x: which part of the name
 * stands at the middle of an upright line. */
static void
measure (Pen *pen, double x0, double y0, double x1, double y1, int field, double share_x)
{
  const gboolean marked = pen->marked == field, level = fabs (y1 - y0) < 1.0;
  const PlumbDrawColour role = marked ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_INK2;
  const double x = (x0 + x1) / 2, y = (y0 + y1) / 2;

  line (pen, x0, y0, x1, y1, role, marked ? 1.8 : 0.9);
  tick (pen, x0, y0, role);
  tick (pen, x1, y1, role);
  words (pen, plumb_record_info (pen->kind)->fields[field].label, level ? x : x + (share_x > 0.5 ? -5 : 5),
         level ? y - 8 : y, level ? 0.5 : share_x, role, TRUE);
}

static void
cross (Pen *pen, double x, double y)
{
  line (pen, x - 5, y, x + 5, y, PLUMB_COLOUR_INK, 1.4);
  line (pen, x, y - 5, x, y + 5, PLUMB_COLOUR_INK, 1.4);
}

#define F(record, member) PLUMB_FIELD_##record##_##member

/* ---- the drawings -------------------------------------------------------------------------- */

/* Corners in their order, and how x and y run. */
static void
draw_wall (Pen *pen)
{
  static const double corner[4][2] = { { 82, 112 }, { 218, 112 }, { 218, 24 }, { 82, 24 } };
  static const char *const number[4] = { "1", "2", "3", "4" };

  for (int i = 0; i < 4; i++)
    line (pen, corner[i][0], corner[i][1], corner[(i + 1) % 4][0], corner[(i + 1) % 4][1], PLUMB_COLOUR_WALL, 2.2);
  for (int i = 0; i < 4; i++)
    words (pen, number[i], corner[i][0] + (i == 1 || i == 2 ? 9 : -9), corner[i][1], i == 1 || i == 2 ? 0 : 1,
           PLUMB_COLOUR_INK, FALSE);
  words (pen, N_ ("wall 1"), 150, 102, 0.5, PLUMB_COLOUR_INK2, FALSE);
  words (pen, N_ ("wall 2"), 212, 68, 1, PLUMB_COLOUR_INK2, FALSE);
  const PlumbDrawColour x = pen->marked == F (wall, x_m) ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_INK2;
  const PlumbDrawColour y = pen->marked == F (wall, y_m) ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_INK2;
  line (pen, 20, 112, 52, 112, x, 1.1);
  line (pen, 47, 109, 52, 112, x, 1.1);
  line (pen, 47, 115, 52, 112, x, 1.1);
  words (pen, "x", 58, 112, 0, x, FALSE);
  line (pen, 20, 112, 20, 80, y, 1.1);
  line (pen, 17, 85, 20, 80, y, 1.1);
  line (pen, 23, 85, 20, 80, y, 1.1);
  words (pen, "y", 20, 70, 0.5, y, FALSE);
}

static void
draw_ceiling (Pen *pen)
{
  line (pen, 30, 116, 262, 116, PLUMB_COLOUR_WALL, 2.2);
  line (pen, 30, 84, 250, 22, PLUMB_COLOUR_WALL, 2.2);
  cairo_move_to (pen->cr, 30, 84);
  cairo_line_to (pen->cr, 120, 84);
  cairo_set_dash (pen->cr, (double[]){ 3, 3 }, 2, 0);
  stroke (pen, PLUMB_COLOUR_INK2, 0.9);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_arc_negative (pen->cr, 30, 84, 70, 0, -atan2 (62, 220));
  stroke (pen, pen->marked == F (ceiling, slope_rad) ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_INK2, 1.1);
  words (pen, plumb_record_info (pen->kind)->fields[F (ceiling, slope_rad)].label, 108, 74, 0,
         pen->marked == F (ceiling, slope_rad) ? PLUMB_COLOUR_ACCENT : PLUMB_COLOUR_INK2, FALSE);
  measure (pen, 190, 116, 190, 39, F (ceiling, height_m), 0);
}

/* A face in a wall, seen from the room: across, up, wide and high. */
static void
draw_face (Pen *pen, int across, int bottom, int width, int height)
{
  const gboolean is_screen = pen->kind == PLUMB_RECORD_SCREEN;

  line (pen, 14, 8, 14, 122, PLUMB_COLOUR_WALL, 2.2);
  line (pen, 14, 122, 270, 122, PLUMB_COLOUR_WALL, 2.2);
  box (pen, 100, 26, 110, 62, PLUMB_COLOUR_SHEET, is_screen ? PLUMB_COLOUR_PICTURE : PLUMB_COLOUR_WALL);
  measure (pen, 100, 14, 210, 14, width, 0.5);
  measure (pen, 224, 26, 224, 88, height, 0);
  measure (pen, 128, 122, 128, 88, bottom, 0);
  measure (pen, 14, 66, 155, 66, across, 0.5);
  line (pen, 155, 26, 155, 88, PLUMB_COLOUR_INK2, 0.7);
}

static void
draw_screen (Pen *pen)
{
  draw_face (pen, F (screen, across_m), F (screen, bottom_m), F (screen, width_m), F (screen, height_m));
}

static void
draw_port (Pen *pen)
{
  draw_face (pen, F (port, along_m), F (port, sill_m), F (port, width_m), F (port, height_m));
}

static void
draw_opening (Pen *pen)
{
  draw_face (pen, F (opening, along_m), F (opening, sill_m), F (opening, width_m), F (opening, height_m));
}

/* At the left from above, at the right from the side. */
static void
draw_place (Pen *pen)
{
  wall (pen, 16, 22, 164, 22, 0, -8);
  wall (pen, 16, 22, 16, 124, -8, 0);
  box (pen, 103, 83, 18, 18, PLUMB_COLOUR_SHEET, PLUMB_COLOUR_INK);
  cross (pen, 112, 92);
  measure (pen, 16, 42, 112, 42, F (place, along_m), 0.5);
  measure (pen, 112, 22, 112, 92, F (place, off_m), 0);
  wall (pen, 190, 22, 276, 22, 0, -8);
  line (pen, 208, 52, 258, 52, PLUMB_COLOUR_INK, 2.2);
  line (pen, 233, 52, 233, 96, PLUMB_COLOUR_INK, 1.4);
  box (pen, 213, 99, 40, 18, PLUMB_COLOUR_SHEET, PLUMB_COLOUR_INK);
  measure (pen, 200, 22, 200, 52, F (place, height_m), 0);
  measure (pen, 264, 52, 264, 96, F (place, drop_m), 1);
}

/* From above and from the side, the cross is the hole pattern. */
static void
draw_machine (Pen *pen)
{
  box (pen, 84, 34, 80, 62, PLUMB_COLOUR_SHEET, PLUMB_COLOUR_INK);
  box (pen, 132, 20, 16, 14, PLUMB_COLOUR_SHEET, PLUMB_COLOUR_INK);
  cross (pen, 104, 60);
  measure (pen, 104, 88, 140, 88, F (machine, lens_right_m), 0.5);
  line (pen, 104, 65, 104, 88, PLUMB_COLOUR_INK2, 0.7);
  measure (pen, 140, 60, 140, 20, F (machine, lens_forward_m), 0);
  measure (pen, 84, 118, 164, 118, F (machine, width_m), 0.5);
  measure (pen, 70, 34, 70, 96, F (machine, depth_m), 1);
  box (pen, 222, 62, 54, 32, PLUMB_COLOUR_SHEET, PLUMB_COLOUR_INK);
  box (pen, 212, 68, 10, 14, PLUMB_COLOUR_SHEET, PLUMB_COLOUR_INK);
  cross (pen, 254, 94);
  measure (pen, 232, 94, 232, 75, F (machine, lens_up_m), 0);
  line (pen, 212, 75, 238, 75, PLUMB_COLOUR_INK2, 0.7);
  words (pen, N_ ("from above"), 110, 8, 0.5, PLUMB_COLOUR_INK3, FALSE);
  words (pen, N_ ("from the side"), 246, 8, 0.5, PLUMB_COLOUR_INK3, FALSE);
}

/* From the side: axis, picture, and the three things that data sheets call
 * offset. */
static void
draw_lens (Pen *pen)
{
  box (pen, 22, 86, 26, 22, PLUMB_COLOUR_SHEET, PLUMB_COLOUR_INK);
  cairo_set_dash (pen->cr, (double[]){ 14, 3, 2, 3 }, 4, 0);
  line (pen, 22, 97, 262, 97, PLUMB_COLOUR_INK2, 0.7);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  line (pen, 48, 97, 190, 18, PLUMB_COLOUR_PICTURE, 1.1);
  line (pen, 48, 97, 190, 84, PLUMB_COLOUR_PICTURE, 1.1);
  line (pen, 190, 18, 190, 84, PLUMB_COLOUR_LAMP, 4);
  measure (pen, 48, 118, 190, 118, F (lens, throw_wide_ratio), 0.5);
  words (pen, N_ ("axis"), 276, 106, 1, PLUMB_COLOUR_INK3, FALSE);
  words (pen, N_ ("far edge"), 200, 18, 0, PLUMB_COLOUR_INK2, FALSE);
  words (pen, N_ ("centre"), 200, 51, 0, PLUMB_COLOUR_INK2, FALSE);
  words (pen, N_ ("near edge"), 200, 83, 0, PLUMB_COLOUR_INK2, FALSE);
}

/* The first row from above: the first eye, and how the seats run. */
static void
draw_row (Pen *pen)
{
  for (int r = 0; r < 2; r++)
    for (int i = 0; i < 5; i++)
      {
        const double x = 216 - 34 * i, y = 54 + 40 * r;
        box (pen, x - 11, y - 9, 22, 20, PLUMB_COLOUR_SHEET, PLUMB_COLOUR_INK3);
        cairo_arc (pen->cr, x, y, 5, 0, 2 * G_PI);
        plumb_style_set_source (pen->cr, r == 0 && i == 4 ? PLUMB_COLOUR_SIGHT : PLUMB_COLOUR_EDGE);
        cairo_fill (pen->cr);
      }
  words (pen, N_ ("to the picture"), 148, 10, 0.5, PLUMB_COLOUR_INK3, FALSE);
  words (pen, N_ ("first eye"), 62, 54, 1, PLUMB_COLOUR_SIGHT, FALSE);
  measure (pen, 114, 36, 148, 36, F (row, pitch_m), 0.5);
  measure (pen, 238, 54, 238, 94, F (row, row_spacing_m), 0.7);
}

static const Picture pictures[] = {
  { PLUMB_RECORD_WALL, N_ ("Corners run counter-clockwise seen from above"), draw_wall },
  { PLUMB_RECORD_CEILING, N_ ("A ceiling from the side: its height at a point, and its slope"), draw_ceiling },
  { PLUMB_RECORD_SCREEN, N_ ("A screen as the viewer sees it: across, lower edge, width, height"), draw_screen },
  { PLUMB_RECORD_PORT, N_ ("A beam port in its wall: along, sill, width, height"), draw_port },
  { PLUMB_RECORD_OPENING, N_ ("An opening in its wall: along, sill, width, height"), draw_opening },
  { PLUMB_RECORD_PLACE, N_ ("A place: along a wall and off it from above, height and drop from the side"),
    draw_place },
  { PLUMB_RECORD_MACHINE, N_ ("A machine: body and lens from the hole pattern"), draw_machine },
  { PLUMB_RECORD_LENS, N_ ("A picture off the lens axis: near edge, centre, far edge"), draw_lens },
  { PLUMB_RECORD_ROW, N_ ("Rows of seats from above: first eye, pitch, spacing"), draw_row },
};

/* ---- the widget -------------------------------------------------------------------------------- */

static void
plumb_form_picture_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                            int *minimum_baseline, int *natural_baseline)
{
  (void) widget;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = (int) (WIDTH * 0.6);
      *natural = (int) WIDTH;
    }
  else
    *minimum = *natural = (int) (for_size > 0 ? MIN (for_size, WIDTH) / WIDTH * HEIGHT : HEIGHT);
  *minimum_baseline = *natural_baseline = -1;
}

static GtkSizeRequestMode
plumb_form_picture_get_request_mode (GtkWidget *widget)
{
  (void) widget;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
plumb_form_picture_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PlumbFormPicture *self = PLUMB_FORM_PICTURE (widget);
  const double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  const double scale = MIN (MIN (width / WIDTH, height / HEIGHT), 1.0);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, NULL);
  g_autoptr (PangoFontDescription) font
      = pango_font_description_copy (pango_context_get_font_description (gtk_widget_get_pango_context (widget)));
  Pen pen = { gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height)), layout,
              self->picture->kind, self->marked };

  pango_font_description_set_absolute_size (font, SMALL_PX * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  cairo_translate (pen.cr, (width - WIDTH * scale) / 2, 0);
  cairo_scale (pen.cr, scale, scale);
  self->picture->draw (&pen);
  cairo_destroy (pen.cr);
}

static void
plumb_form_picture_class_init (PlumbFormPictureClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->measure = plumb_form_picture_measure;
  widget_class->get_request_mode = plumb_form_picture_get_request_mode;
  widget_class->snapshot = plumb_form_picture_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
plumb_form_picture_init (PlumbFormPicture *self)
{
  self->marked = -1;
}

GtkWidget *
plumb_form_picture_new (PlumbRecordKind kind)
{
  for (gsize i = 0; i < G_N_ELEMENTS (pictures); i++)
    if (pictures[i].kind == kind)
      {
        PlumbFormPicture *self = g_object_new (PLUMB_TYPE_FORM_PICTURE, NULL);
        self->picture = &pictures[i];
        gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, pictures[i].name, -1);
        return GTK_WIDGET (self);
      }
  return NULL;
}

void
plumb_form_picture_mark (PlumbFormPicture *self, int field)
{
  g_return_if_fail (PLUMB_IS_FORM_PICTURE (self));
  if (self->marked == field)
    return;
  self->marked = field;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
