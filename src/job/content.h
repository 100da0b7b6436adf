/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pictures as files: the user's image that is thrown as content, and the
 * pictures that the program writes. Rows from the top, RGBA, 8 bits each,
 * sRGB, not premultiplied. No display is needed.
 */
#pragma once

#include <glib.h>
#include <stdbool.h>
#include <stdint.h>

/* What may be read: beyond it nothing is allocated. */
#define PLUMB_CONTENT_MAX_BYTES (64 * 1024 * 1024)
#define PLUMB_CONTENT_MAX_SIDE_PX 32768
#define PLUMB_CONTENT_MAX_PX (100 * 1000 * 1000)
/* A larger image is made smaller while it is read: more than any panel shows,
 * and no more than every graphics driver takes as a texture. */
#define PLUMB_CONTENT_KEPT_SIDE_PX 4096
/* Longest side of a picture that is written. */
#define PLUMB_PICTURE_MAX_SIDE_PX 16384

typedef struct {
  int width_px, height_px;
  uint8_t *rgba; /* width × height × 4 */
} PlumbContent;

/* A PNG or JPEG, turned as its camera says. False with a sentence that does
 * not name the file; codes are those of PLUMB_JOB_ERROR. */
bool plumb_content_read (PlumbContent *content, const char *path, GError **error);
void plumb_content_clear (PlumbContent *content);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PlumbContent, plumb_content_clear)

/* Writes a PNG; the file is replaced only by a whole one. The rows are turned
 * into cairo's order on the way, so the buffer is of no use afterwards. */
bool plumb_picture_write (const char *path, uint8_t *rgba, int width_px, int height_px, GError **error);

/* "1600x1000" or "1600×1000", each side from 1 to PLUMB_PICTURE_MAX_SIDE_PX;
 * otherwise an error that says so. */
bool plumb_picture_size_from_text (const char *text, int *width_px, int *height_px, GError **error);
