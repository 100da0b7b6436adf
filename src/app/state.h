/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window remembers from one start to the next: a key file in the
 * user's configuration folder. Without it everything has a default. */
#pragma once

#include <glib.h>

/* Never NULL; empty when there is none or it cannot be read. */
GKeyFile *plumb_state_load (void);
/* A disc that refuses costs the sizes of the panes, so it is only logged. */
void plumb_state_save (GKeyFile *state);
int plumb_state_int (GKeyFile *state, const char *group, const char *key, int otherwise);
gboolean plumb_state_flag (GKeyFile *state, const char *group, const char *key, gboolean otherwise);
