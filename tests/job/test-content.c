/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Pictures as files. What is written is read by ImageMagick and what is read
 * was written by it, since it shares no code with cairo and gdk-pixbuf but the
 * compression.
 */
#include "job/content.h"

#include <glib/gstdio.h>
#include <string.h>

#include "job/job.h"

#define WIDTH 23
#define HEIGHT 11
#define N (WIDTH * HEIGHT)

static char *folder;

static char *
path_of (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

static void
convert (const char *const *arguments)
{
  g_autoptr (GError) error = NULL;
  int status;
  g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_true (g_spawn_check_wait_status (status, NULL));
}

/* Every pixel another colour; alpha 255 or falling along the row. */
static void
fill (uint8_t rgba[N * 4], gboolean clear)
{
  for (int i = 0; i < N; i++)
    {
      rgba[i * 4] = (uint8_t) (i * 7 % 256);
      rgba[i * 4 + 1] = (uint8_t) (255 - i);
      rgba[i * 4 + 2] = (uint8_t) (i * i % 251);
      rgba[i * 4 + 3] = (uint8_t) (clear ? 255 - 5 * (i % WIDTH) : 255);
    }
}

static char *
size_words (void)
{
  return g_strdup_printf ("%dx%d", WIDTH, HEIGHT);
}

static void
write_and_compare (gboolean clear, int tolerance)
{
  g_autofree char *png = path_of ("written.png"), *raw = path_of ("written.rgba");
  g_autofree char *bytes = NULL, *to = g_strconcat ("rgba:", raw, NULL);
  uint8_t rgba[N * 4], wanted[N * 4];
  gsize size;
  fill (rgba, clear);
  fill (wanted, clear);
  g_assert_true (plumb_picture_write (png, rgba, WIDTH, HEIGHT, NULL));
  convert ((const char *const[]){ "convert", png, "-depth", "8", to, NULL });
  g_assert_true (g_file_get_contents (raw, &bytes, &size, NULL));
  g_assert_cmpuint (size, ==, sizeof wanted);
  for (gsize i = 0; i < size; i++)
    g_assert_cmpint (ABS ((int) (guint8) bytes[i] - (int) wanted[i]), <=, tolerance);
  g_remove (png);
  g_remove (raw);
}

static void
test_write (void)
{
  write_and_compare (FALSE, 0);
  /* Through premultiplied bytes and back: half a step either way, times
   * 255 / 145 at the clearest pixel. */
  write_and_compare (TRUE, 2);
}

static void
test_read (void)
{
  g_autofree char *raw = path_of ("made.rgba"), *png = path_of ("made.png"), *size = size_words ();
  g_autofree char *from = g_strconcat ("rgba:", raw, NULL);
  uint8_t rgba[N * 4];
  for (int clear = 0; clear < 2; clear++)
    {
      g_auto (PlumbContent) content = { 0 };
      fill (rgba, clear);
      g_assert_true (g_file_set_contents (raw, (const char *) rgba, sizeof rgba, NULL));
      convert ((const char *const[]){ "convert", "-size", size, "-depth", "8", from, png, NULL });
      g_assert_true (plumb_content_read (&content, png, NULL));
      g_assert_cmpint (content.width_px, ==, WIDTH);
      g_assert_cmpint (content.height_px, ==, HEIGHT);
      g_assert_cmpint (memcmp (content.rgba, rgba, sizeof rgba), ==, 0);
    }
  g_remove (raw);
  g_remove (png);
}

/* One larger than what is kept keeps its aspect. */
static void
test_large (void)
{
  g_autofree char *png = path_of ("large.png");
  g_auto (PlumbContent) content = { 0 };
  convert ((const char *const[]){ "convert", "-size", "8192x1024", "xc:#336699", png, NULL });
  g_assert_true (plumb_content_read (&content, png, NULL));
  g_assert_cmpint (content.width_px, ==, PLUMB_CONTENT_KEPT_SIDE_PX);
  g_assert_cmpint (content.height_px, ==, 512);
  const uint8_t wanted[] = { 0x33, 0x66, 0x99, 0xff };
  g_assert_cmpint (memcmp (content.rgba + 4 * 4096 * 200, wanted, sizeof wanted), ==, 0);
  g_remove (png);
}

static void
test_refused (void)
{
  static const struct {
    const char *name, *bytes;
    int code;
  } cases[] = {
    { "empty.png", "", PLUMB_JOB_ERROR_CONTENT },
    { "words.png", "no picture at all", PLUMB_JOB_ERROR_CONTENT },
    { "head.png", "\x89PNG\r\n\x1a\n", PLUMB_JOB_ERROR_CONTENT },
    { "head.jpg", "\xff\xd8\xff", PLUMB_JOB_ERROR_CONTENT },
  };
  g_autoptr (GError) error = NULL;
  PlumbContent content;
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = path_of (cases[i].name);
      g_assert_true (g_file_set_contents (path, cases[i].bytes, -1, NULL));
      g_assert_false (plumb_content_read (&content, path, &error));
      g_assert_error (error, PLUMB_JOB_ERROR, cases[i].code);
      g_assert_null (content.rgba);
      g_clear_error (&error);
      g_remove (path);
    }
  g_assert_false (plumb_content_read (&content, folder, &error));
  g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_READ);
}

static void
test_sizes (void)
{
  static const char *const bad[]
      = { "", "x", "1x", "x1", "0x1", "1x0", "16385x1", "1x1x1", " 1x1", "+1x1", "1,5x1", "4294967297x1" };
  g_autoptr (GError) error = NULL;
  int width, height;
  g_assert_true (plumb_picture_size_from_text ("1600x1000", &width, &height, NULL));
  g_assert_cmpint (width, ==, 1600);
  g_assert_cmpint (height, ==, 1000);
  g_assert_true (plumb_picture_size_from_text ("16384×1", &width, &height, NULL));
  g_assert_cmpint (width, ==, 16384);
  g_assert_cmpint (height, ==, 1);
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_assert_false (plumb_picture_size_from_text (bad[i], &width, &height, &error));
      g_assert_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_CONTENT);
      g_clear_error (&error);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  folder = g_dir_make_tmp ("plumbeam-XXXXXX", NULL);
  g_assert_nonnull (folder);
  g_test_add_func ("/content/write", test_write);
  g_test_add_func ("/content/read", test_read);
  g_test_add_func ("/content/large", test_large);
  g_test_add_func ("/content/refused", test_refused);
  g_test_add_func ("/content/sizes", test_sizes);
  int code = g_test_run ();
  g_rmdir (folder);
  g_free (folder);
  return code;
}
