/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "job/job.h"

#include <errno.h>
#include <fcntl.h>
#include <float.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "source-private.h"

G_DEFINE_QUARK (plumb - job - error - quark, plumb_job_error)

/* Unknown keys that are listed; a file may hold any number. */
#define MOST_UNKNOWN 100

/* ---- the object ------------------------------------------------------------------ */

/* Takes both. */
static PlumbJobFile *
file_new (const PlumbScene *scene, PlumbJobSource *source)
{
  PlumbJobFile *file = g_new (PlumbJobFile, 1);

  *file = (PlumbJobFile){ scene, source };
  return file;
}

PlumbJobFile *
plumb_job_new (void)
{
  PlumbScene *scene = plumb_scene_new ();

  if (scene != NULL && plumb_scene_commit (scene))
    return file_new (scene, NULL);
  plumb_scene_unref (scene);
  return NULL;
}

void
plumb_job_file_free (PlumbJobFile *file)
{
  if (file == NULL)
    return;
  plumb_scene_unref (file->scene);
  plumb_job_source_unref (file->source);
  g_free (file);
}

const PlumbScene *
plumb_job_scene (const PlumbJobFile *file)
{
  return file->scene;
}

PlumbJobFile *
plumb_job_with_scene (const PlumbJobFile *file, const PlumbScene *scene)
{
  return file_new (plumb_scene_ref (scene), file->source != NULL ? plumb_job_source_ref (file->source) : NULL);
}

/* ---- reading ------------------------------------------------------------------------ */

/* Takes the text, which is closed by a 0. */
static PlumbJobFile *
load_text (char *text, gsize size, GError **error)
{
  PlumbJson *json = plumb_json_scan (text, size, error);
  PlumbJobSource *source = json != NULL ? plumb_job_source_read (json, error) : NULL;

  return source != NULL ? file_new (plumb_scene_ref (source->scene), source) : NULL;
}

static bool
refuse_big (gsize size, GError **error)
{
  if (size <= PLUMB_JOB_MAX_BYTES)
    return false;
  g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_TOO_BIG, "the file has more than %d bytes, which no job needs",
               PLUMB_JOB_MAX_BYTES);
  return true;
}

PlumbJobFile *
plumb_job_load_bytes (const void *bytes, gsize size, GError **error)
{
  if (refuse_big (size, error))
    return NULL;
  char *text = g_malloc (size + 1);
  if (size > 0)
    memcpy (text, bytes, size);
  text[size] = '\0';
  return load_text (text, size, error);
}

static void
set_read_error (GError **error, const char *path, const char *why)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_READ, "cannot read %s: %s", shown, why);
}

/* The file's bytes and a closing 0. It may be longer or shorter by now than it
 * was said to be. */
static char *
read_all (int fd, const char *path, gsize *size, GError **error)
{
  g_autofree char *text = g_malloc (PLUMB_JOB_MAX_BYTES + 2);

  *size = 0;
  while (*size <= PLUMB_JOB_MAX_BYTES)
    {
      ssize_t more = read (fd, text + *size, PLUMB_JOB_MAX_BYTES + 1 - *size);
      if (more < 0 && errno == EINTR)
        continue;
      if (more < 0)
        {
          set_read_error (error, path, g_strerror (errno));
          return NULL;
        }
      if (more == 0)
        break;
      *size += (gsize) more;
    }
  if (refuse_big (*size, error))
    return NULL;
  text[*size] = '\0';
  return g_realloc (g_steal_pointer (&text), *size + 1);
}

PlumbJobFile *
plumb_job_load (const char *path, GError **error)
{
  struct stat about;
  gsize size;
  char *text = NULL;
  /* A pipe without a writer must not hold the program up. */
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);

  if (fd < 0 || fstat (fd, &about) < 0)
    set_read_error (error, path, g_strerror (errno));
  else if (!S_ISREG (about.st_mode))
    set_read_error (error, path, S_ISDIR (about.st_mode) ? "it is a folder" : "it is not a regular file");
  else
    text = read_all (fd, path, &size, error);
  if (fd >= 0)
    close (fd);
  return text != NULL ? load_text (text, size, error) : NULL;
}

/* ---- what no record knows -------------------------------------------------------------- */

static void
add_unknown (const PlumbJobFile *file, uint32_t object, const char *where, GPtrArray *keys)
{
  const PlumbJson *json = file->source->json;

  for (uint32_t n = 0, i = object + 1; n < json->values[object].count && keys->len < MOST_UNKNOWN;
       n++, i = json->values[i].next)
    {
      const PlumbJsonValue *value = &json->values[i];
      if (value->what == PLUMB_WHAT_UNKNOWN)
        {
          g_autofree char *key = plumb_json_quote (json->text + value->key_at + 1, value->key_length - 2);
          g_ptr_array_add (keys, g_strconcat (where, key, NULL));
        }
      else if (PLUMB_IS_KIND (value->what) && value->type == PLUMB_JSON_ARRAY)
        for (uint32_t k = 0, record = i + 1; k < value->count; k++, record = json->values[record].next)
          {
            const char *name = plumb_record_info (PLUMB_KIND_OF (value->what))->key;
            g_autofree char *inner = g_strdup_printf ("%s%s[%u].", where, name, k);
            add_unknown (file, record, inner, keys);
          }
      else if (PLUMB_IS_KIND (value->what))
        add_unknown (file, i, "job.", keys);
    }
}

char **
plumb_job_unknown_keys (const PlumbJobFile *file)
{
  GPtrArray *keys = g_ptr_array_new ();

  if (file->source != NULL)
    add_unknown (file, 0, "", keys);
  g_ptr_array_add (keys, NULL);
  return (char **) g_ptr_array_free (keys, FALSE);
}

/* ---- the text, and the proof that it reads back --------------------------------------------- */

/* Some doubles in SI are no product of a key value and its factor; then the
 * nearest product, a rounding or two away, stands in the file. */
static bool
same_number (double a, double b)
{
  return a == b || fabs (a - b) <= 4.0 * DBL_EPSILON * fabs (a);
}

static bool
same_field (const PlumbField *field, const char *a, const char *b)
{
  if (field->type != PLUMB_TYPE_NUM)
    return memcmp (a + field->offset, b + field->offset, field->size) == 0;

  double x, y;
  memcpy (&x, a + field->offset, sizeof x);
  memcpy (&y, b + field->offset, sizeof y);
  return same_number (x, y);
}

/* NULL, or the first key that differs. */
static const char *
find_difference (const PlumbRecordInfo *info, const void *a, const void *b)
{
  const PlumbRecordHead *head_a = a, *head_b = b;

  if (head_a->typed != head_b->typed || (info->parent != PLUMB_RECORD_NONE && head_a->owner != head_b->owner))
    return info->key;
  for (int field = 0; field < info->n_fields; field++)
    if (!same_field (&info->fields[field], a, b))
      return info->fields[field].key;
  return NULL;
}

static bool
check_same (const PlumbScene *written, const PlumbScene *read, GError **error)
{
  for (int k = 0; k < PLUMB_N_RECORDS; k++)
    {
      PlumbRecordKind kind = (PlumbRecordKind) k;
      const PlumbRecordInfo *info = plumb_record_info (kind);
      uint32_t count, n_read;
      plumb_scene_records (written, kind, &count);
      plumb_scene_records (read, kind, &n_read);
      const char *key = count != n_read ? info->key : NULL;
      uint32_t i;
      for (i = 0; i < count && key == NULL; i++)
        key = find_difference (info, plumb_scene_record (written, kind, i), plumb_scene_record (read, kind, i));
      if (key == NULL)
        continue;
      g_set_error (error, PLUMB_JOB_ERROR, PLUMB_JOB_ERROR_CONTENT, "%s[%u]: %s would not read back as it is",
                   info->key, i > 0 ? i - 1 : 0, key);
      return false;
    }
  return true;
}

char *
plumb_job_to_text (const PlumbJobFile *file, gsize *size, GError **error)
{
  g_autoptr (GString) text = plumb_job_write (file);
  g_autoptr (PlumbJobFile) read = plumb_job_load_bytes (text->str, text->len, error);

  if (read == NULL || !check_same (file->scene, read->scene, error))
    return NULL;
  if (size != NULL)
    *size = text->len;
  return g_string_free (g_steal_pointer (&text), FALSE);
}
