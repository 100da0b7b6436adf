/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The door to the window; all that the command line sees of it. */
#pragma once

/* Opens the window, on the file that the arguments name if they do. Returns
 * the exit code: 0, or 3 when there is no display. */
int plumb_app_run (int argc, char **argv);
