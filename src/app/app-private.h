/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The running program: one document, one window, what it watches and keeps. */
#pragma once

#include <gtk/gtk.h>

#include "app/document.h"
#include "app/window.h"

typedef struct {
  GtkApplication *application;
  PlumbDocument *document;
  PlumbWindow *window; /* NULL until the first job is open: parts are filled once */
  GKeyFile *state;
  GtkFileChooserNative *chooser; /* while one is open */

  char *waiting[3]; /* what, where, kept: to be said when there is a window */

  char *demo; /* path of the demo when that is what is open, else NULL */

  /* what is on the disc */
  GFileMonitor *monitor;
  char *watched;
  gint64 stamp_us, stamp_bytes; /* of the file as we know it; -1: none */
  guint autosave_timer;
  gboolean autosave_troubled; /* said so once */
} PlumbApp;

/* ---- app-file.c: opening, saving, watching, keeping ------------------------------------ */

/* Opens a file; says so when it cannot, and then the open job stays. */
gboolean plumb_app_open (PlumbApp *app, const char *path);
/* The last job, else the demo, else a new one. */
void plumb_app_open_usual (PlumbApp *app);
void plumb_app_open_demo (PlumbApp *app);
/* FALSE when it could not and said so. path NULL: the document's own. */
gboolean plumb_app_save (PlumbApp *app, const char *path);
/* Starts to watch the file and to keep what is not saved. */
void plumb_app_begin_keeping (PlumbApp *app);
void plumb_app_end_keeping (PlumbApp *app);
/* Writes a copy of what is not saved. */
void plumb_app_keep (PlumbApp *app);

/* ---- app-copies.c: work that was not saved --------------------------------------------- */

/* Offers what an earlier run left behind. */
void plumb_app_offer_copies (PlumbApp *app);
/* Another job was opened over changes of this path (NULL: never saved): the way back. */
void plumb_app_offer_left_behind (PlumbApp *app, const char *path);
/* The job was saved: copies of it are of no more use. */
void plumb_app_drop_copies (const char *path);

/* Before there is a window it waits for it. */
void plumb_app_say (PlumbApp *app, const char *what, const char *where, const char *kept);
void plumb_app_say_waiting (PlumbApp *app);
void plumb_app_hush (PlumbApp *app);
/* "net-loft.plumbeam: seats[3].eye_height_m: 12 is above 2.2"; the caller's. */
char *plumb_app_place_of (const char *path, const GError *error);

/* ---- app-recent.c: files opened before, the demo ------------------------------------------ */

void plumb_app_add_recent (PlumbApp *app, const char *path);
void plumb_app_show_recent (PlumbApp *app);
/* The newest that is still there, or NULL; the caller's. */
char *plumb_app_last_path (PlumbApp *app);
/* The demo of the installation or of the source tree, or NULL; the caller's. */
char *plumb_app_demo_path (void);

/* ---- app-actions.c ------------------------------------------------------------------------ */

void plumb_app_add_actions (PlumbApp *app);
void plumb_app_update_actions (PlumbApp *app);

/* ---- sheet-actions.c: app.survey, app.sheets, app.print -------------------------------------- */

void plumb_app_add_sheet_actions (PlumbApp *app);
