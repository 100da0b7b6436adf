/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Content as a texture: its size, its mean and its smaller copies. */
#include "view3d/view3d-private.h"

/* sRGB to linear (IEC 61966-2-1). */
static float
linear (uint8_t c)
{
  float s = (float) c / 255.0f;
  return s <= 0.04045f ? s / 12.92f : powf ((s + 0.055f) / 1.055f, 2.4f);
}

/* Every 7th pixel is enough for a mean. */
static void
set_mean (float mean[3], const uint8_t *rgba, gsize n)
{
  double sum[3] = { 0.0, 0.0, 0.0 };
  gsize count = 0;

  for (gsize i = 0; i < n; i += 7, count++)
    for (int k = 0; k < 3; k++)
      sum[k] += (double) linear (rgba[4 * i + (gsize) k]);
  for (int k = 0; k < 3; k++)
    mean[k] = (float) (sum[k] / (double) MAX (count, 1));
}

/* Without what is see-through (black shows there), made smaller by whole
 * steps until OpenGL takes it. */
uint8_t *
plumb_content_fitted (const uint8_t *rgba, int *width_px, int *height_px, int most_px)
{
  int step = 1, w = *width_px;
  while (*width_px / step > most_px || *height_px / step > most_px)
    step++;
  *width_px /= step;
  *height_px /= step;
  uint8_t *out = g_malloc ((gsize) *width_px * (gsize) *height_px * 4), *to = out;
  for (int y = 0; y < *height_px; y++)
    for (int x = 0; x < *width_px; x++, to += 4)
      {
        const uint8_t *from = rgba + 4 * ((gsize) (y * step) * (gsize) w + (gsize) (x * step));
        for (int k = 0; k < 3; k++)
          to[k] = (uint8_t) ((from[k] * from[3] + 127) / 255);
        to[3] = 255;
      }
  return out;
}

/* ---- smaller copies, for pictures that are seen from afar ------------------------------- */

#define CODES 1024

typedef struct {
  float linear[256];
  uint8_t code[CODES + 1]; /* of the square root of what is linear: even steps for the eye */
} Tables;

static void
set_tables (Tables *tables)
{
  for (int i = 0; i < 256; i++)
    tables->linear[i] = linear ((uint8_t) i);
  for (int i = 0, c = 0; i <= CODES; i++)
    {
      float share = (float) i / CODES;
      while (c < 255 && tables->linear[c + 1] <= share * share)
        c++;
      tables->code[i] = (uint8_t) c;
    }
}

/* Half the size, at least one pixel; the light of four goes into one. */
static uint8_t *
halved (const Tables *tables, const uint8_t *rgba, int *width_px, int *height_px)
{
  int w = *width_px, h = *height_px, half_w = MAX (w / 2, 1), half_h = MAX (h / 2, 1);
  uint8_t *out = g_malloc ((gsize) half_w * (gsize) half_h * 4), *to = out;

  for (int y = 0; y < half_h; y++)
    for (int x = 0; x < half_w; x++, to += 4)
      {
        const uint8_t *above = rgba + 4 * ((gsize) (2 * y) * (gsize) w + (gsize) (2 * x));
        gsize right = 2 * x + 1 < w ? 4 : 0, below = 2 * y + 1 < h ? 4 * (gsize) w : 0;
        for (gsize k = 0; k < 3; k++)
          {
            float sum = tables->linear[above[k]] + tables->linear[above[right + k]]
                        + tables->linear[above[below + k]] + tables->linear[above[below + right + k]];
            to[k] = tables->code[(int) (CODES * sqrtf (0.25f * sum) + 0.5f)];
          }
        to[3] = 255;
      }
  *width_px = half_w;
  *height_px = half_h;
  return out;
}

/* Here and not by the driver: in software it would compile a program for each
 * size, which takes longer than all the rest of the first picture. */
static void
put_levels (const uint8_t *rgba, int width_px, int height_px)
{
  Tables tables;
  uint8_t *level = NULL;

  set_tables (&tables);
  for (int i = 0;; i++)
    {
      glTexImage2D (GL_TEXTURE_2D, i, GL_SRGB8_ALPHA8, width_px, height_px, 0, GL_RGBA, GL_UNSIGNED_BYTE,
                    level != NULL ? level : rgba);
      if (width_px == 1 && height_px == 1)
        break;
      uint8_t *next = halved (&tables, level != NULL ? level : rgba, &width_px, &height_px);
      g_free (level);
      level = next;
    }
  g_free (level);
}

void
plumb_content_upload (PlumbGl *gl, const uint8_t *rgba, int width_px, int height_px)
{
  if (gl->content == 0)
    glGenTextures (1, &gl->content);
  glBindTexture (GL_TEXTURE_2D, gl->content);
  glPixelStorei (GL_UNPACK_ALIGNMENT, 4);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR_MIPMAP_LINEAR);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
  glTexParameteri (GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
  /* After the filters: the driver sees that there will be smaller copies, and
   * makes room for them at once. */
  put_levels (rgba, width_px, height_px);
  glBindTexture (GL_TEXTURE_2D, 0);
  set_mean (gl->content_mean, rgba, (gsize) width_px * (gsize) height_px);
}
