/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "content.h"

#include <cairo.h>
#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gstdio.h>
#include <string.h>

#include "source-private.h"

/* ---- reading ----------------------------------------------------------------------- */

static bool
fail_read (GError **error, int code, const char *words)
{
  g_set_error_literal (error, PLUMB_JOB_ERROR, code, words);
  return false;
}

static bool
is_a_readable_size (const char *path, GError **error)
{
  GStatBuf info;
  if (g_stat (path, &info) != 0 || !S_ISREG (info.st_mode))
    return fail_read (error, PLUMB_JOB_ERROR_READ, "there is no such image file");
  if (info.st_size > PLUMB_CONTENT_MAX_BYTES)
    return fail_read (error, PLUMB_JOB_ERROR_TOO_BIG, "the image file is larger than 64 MB");
  return true;
}

/* By what is in it, not by its name; other formats have readers of any age and
 * care. */
static bool
is_known (const char *path, int *width_px, int *height_px, GError **error)
{
  GdkPixbufFormat *format = gdk_pixbuf_get_file_info (path, width_px, height_px);
  g_autofree char *name = format != NULL ? gdk_pixbuf_format_get_name (format) : NULL;
  if (g_strcmp0 (name, "png") != 0 && g_strcmp0 (name, "jpeg") != 0)
    return fail_read (error, PLUMB_JOB_ERROR_CONTENT, "the image is neither PNG nor JPEG");
  if (*width_px < 1 || *height_px < 1)
    return fail_read (error, PLUMB_JOB_ERROR_CONTENT, "the image has no size");
  if (*width_px > PLUMB_CONTENT_MAX_SIDE_PX || *height_px > PLUMB_CONTENT_MAX_SIDE_PX
      || (gint64) *width_px * *height_px > PLUMB_CONTENT_MAX_PX)
    return fail_read (error, PLUMB_JOB_ERROR_TOO_BIG, "the image has more than 100 million pixels");
  return true;
}

static uint8_t *
rgba_of (const GdkPixbuf *pixbuf)
{
  const guint8 *from = gdk_pixbuf_read_pixels (pixbuf);
  gsize stride = (gsize) gdk_pixbuf_get_rowstride (pixbuf), channels = (gsize) gdk_pixbuf_get_n_channels (pixbuf);
  gsize width = (gsize) gdk_pixbuf_get_width (pixbuf), height = (gsize) gdk_pixbuf_get_height (pixbuf);
  uint8_t *rgba = g_try_malloc_n (height, width * 4);
  if (rgba == NULL)
    return NULL;
  for (gsize y = 0; y < height; y++)
    for (gsize x = 0; x < width; x++)
      {
        uint8_t *to = rgba + (y * width + x) * 4;
        memcpy (to, from + y * stride + x * channels, 3);
        to[3] = channels == 4 ? from[y * stride + x * channels + 3] : 255;
      }
  return rgba;
}

static GdkPixbuf *
load (const char *path, int width_px, int height_px, GError **error)
{
  const int most = PLUMB_CONTENT_KEPT_SIDE_PX;
  g_autoptr (GError) trouble = NULL;
  g_autoptr (GdkPixbuf) read = width_px > most || height_px > most
                                   ? gdk_pixbuf_new_from_file_at_scale (path, most, most, TRUE, &trouble)
                                   : gdk_pixbuf_new_from_file (path, &trouble);
  if (read == NULL)
    {
      g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_CONTENT, "the image cannot be read: %s", trouble->message);
      return NULL;
    }
  return gdk_pixbuf_apply_embedded_orientation (read);
}

bool
plumb_content_read (PlumbContent *content, const char *path, GError **error)
{
  int width_px = 0, height_px = 0;
  *content = (PlumbContent){ 0 };
  if (!is_a_readable_size (path, error) || !is_known (path, &width_px, &height_px, error))
    return false;
  g_autoptr (GdkPixbuf) pixbuf = load (path, width_px, height_px, error);
  if (pixbuf == NULL)
    return false;
  content->rgba = rgba_of (pixbuf);
  if (content->rgba == NULL)
    return fail_read (error, PLUMB_JOB_ERROR_MEMORY, "there is not enough memory for the image");
  content->width_px = gdk_pixbuf_get_width (pixbuf);
  content->height_px = gdk_pixbuf_get_height (pixbuf);
  return true;
}

void
plumb_content_clear (PlumbContent *content)
{
  g_free (content->rgba);
  *content = (PlumbContent){ 0 };
}

/* ---- writing -------------------------------------------------------------------------- */

/* Cairo's pixels are words of the machine's own byte order, premultiplied. */
static void
turn_into_words (uint8_t *rgba, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      const uint8_t *from = rgba + i * 4;
      uint32_t alpha = from[3];
      uint32_t red = (from[0] * alpha + 127) / 255, green = (from[1] * alpha + 127) / 255,
               blue = (from[2] * alpha + 127) / 255;
      uint32_t word = alpha << 24 | red << 16 | green << 8 | blue;
      memcpy (rgba + i * 4, &word, sizeof word);
    }
}

static bool
is_opaque (const uint8_t *rgba, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (rgba[i * 4 + 3] != 255)
      return false;
  return true;
}

static cairo_status_t
append_cb (void *closure, const unsigned char *data, unsigned int length)
{
  GByteArray *bytes = closure;
  if (length > G_MAXUINT - bytes->len)
    return CAIRO_STATUS_WRITE_ERROR;
  g_byte_array_append (bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

bool
plumb_picture_write (const char *path, uint8_t *rgba, int width_px, int height_px, GError **error)
{
  gsize n = (gsize) width_px * (gsize) height_px;
  cairo_format_t format = is_opaque (rgba, n) ? CAIRO_FORMAT_RGB24 : CAIRO_FORMAT_ARGB32;
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_return_val_if_fail (width_px > 0 && height_px > 0, false);
  turn_into_words (rgba, n);
  cairo_surface_t *surface = cairo_image_surface_create_for_data (rgba, format, width_px, height_px, width_px * 4);
  cairo_status_t status = cairo_surface_write_to_png_stream (surface, append_cb, bytes);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_WRITE, "the picture could not be made: %s",
                   cairo_status_to_string (status));
      return false;
    }
  return plumb_job_replace (path, (const char *) bytes->data, bytes->len, 0, error);
}

/* ---- sizes ---------------------------------------------------------------------------------- */

static const char *
side_from_text (const char *text, int *side_px)
{
  gint64 value = 0;
  const char *at = text;
  for (; g_ascii_isdigit (*at) && at - text < 9; at++)
    value = value * 10 + g_ascii_digit_value (*at);
  *side_px = (int) value;
  return at > text && value >= 1 && value <= PLUMB_PICTURE_MAX_SIDE_PX ? at : NULL;
}

bool
plumb_picture_size_from_text (const char *text, int *width_px, int *height_px, GError **error)
{
  const char *at = side_from_text (text, width_px);
  if (at != NULL && (*at == 'x' || *at == 'X'))
    at = side_from_text (at + 1, height_px);
  else if (at != NULL && g_str_has_prefix (at, "×"))
    at = side_from_text (at + strlen ("×"), height_px);
  else
    at = NULL;
  if (at != NULL && *at == '\0')
    return true;
  g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_CONTENT,
               "%s: a size is WIDTHxHEIGHT in pixels, each from 1 to %d, such as 1600x1000", text,
               PLUMB_PICTURE_MAX_SIDE_PX);
  return false;
}
