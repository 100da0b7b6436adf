/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "app/app.h"
#include "cli-private.h"

static const char help[] = "Usage:\n"
                           "  plumbeam [FILE]\n"
                           "  plumbeam check FILE [--json] [--strict] [--arrangement ID] [--set KEY=VALUE]...\n"
                           "  plumbeam trial FILE [--json|--csv] [--arrangement ID] [--set KEY=VALUE]...\n"
                           "  plumbeam export FILE -o OUT(.svg|.pdf) [--view plan|side|picture|ceiling]\n"
                           "                  [--paper a4|a3|letter] [--arrangement ID] [--set KEY=VALUE]...\n"
                           "  plumbeam export FILE -o OUT.csv --table seats [--light STATE] [--arrangement ID]\n"
                           "                  [--set KEY=VALUE]...\n"
                           "  plumbeam sheets FILE -o OUT.pdf [--only NAME,...] [--paper a4|a3|letter]\n"
                           "                  [--arrangement ID] [--set KEY=VALUE]...\n"
                           "  plumbeam picture FILE -o OUT.png [--from room|front|lens|seat:ID] [--size WxH]\n"
                           "                  [--content IMAGE|grid|landscape|text] [--dark] [--arrangement ID]\n"
                           "                  [--set KEY=VALUE]...\n"
                           "  plumbeam COMMAND --help\n"
                           "  plumbeam --version\n"
                           "\n"
                           "Without a command the window opens, on FILE, the last job or a demo.\n"
                           "check    works out an arrangement of a job and says what holds, is tight, fails\n"
                           "         or is unknown; --arrangement all takes every one in turn\n"
                           "trial    tries every machine and lens at every place, one line each\n"
                           "export   draws a sheet of the job, or writes a table of it: seats, worst first\n"
                           "sheets   prints papers of the job into one PDF: survey (a blank to measure with),\n"
                           "         plan, side, picture, ceiling; --only survey takes that alone\n"
                           "picture  shows the room with the picture thrown in it, by OpenGL, on no display\n"
                           "\n"
                           "--set changes a value for this run only: --set places.t2.drop_m=0.11\n"
                           "The exit code is 0 when it is done (check: nothing fails), 1 when check found a\n"
                           "failure (with --strict also what is tight or unknown), 2 on bad input or usage,\n"
                           "3 when the computer could not do it.\n";

typedef struct {
  const char *name;
  PlumbExit (*run) (char **arguments); /* NULL: not in this version */
} Command;

static const Command commands[] = {
  { "check", plumb_cli_check },
  { "trial", plumb_cli_trial },
  { "export", plumb_cli_export },
  { "sheets", plumb_cli_sheets },
  { "map", NULL },
  { "picture", plumb_cli_picture },
  { "square", NULL },
};

static const Command *
find_command (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    if (strcmp (name, commands[i].name) == 0)
      return &commands[i];
  return NULL;
}

static PlumbExit
run_command (const Command *command, char **arguments)
{
  if (command->run != NULL)
    return command->run (arguments);
  plumb_cli_complain ("this version has no command “%s”", command->name);
  return PLUMB_EXIT_USAGE;
}

/* A mistyped command is no file. */
static gboolean
names_a_file (const char *argument)
{
  return g_str_has_suffix (argument, ".plumbeam")
         || (argument[0] != '-' && g_file_test (argument, G_FILE_TEST_IS_REGULAR));
}

static int
open_window (int argc, char **argv)
{
  if (argc <= 2)
    return plumb_app_run (argc, argv);
  plumb_cli_complain ("the window opens one job file, not %d; see: plumbeam --help", argc - 1);
  return PLUMB_EXIT_USAGE;
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  if (argc < 2)
    return open_window (argc, argv);
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0)
    return (int) plumb_cli_print (help);
  if (strcmp (argv[1], "--version") == 0)
    return (int) plumb_cli_print ("plumbeam " PLUMB_VERSION "\n");
  const Command *command = find_command (argv[1]);
  if (command != NULL)
    return (int) run_command (command, argv + 1);
  if (names_a_file (argv[1]))
    return open_window (argc, argv);
  plumb_cli_complain ("there is no command “%s”; see: plumbeam --help", argv[1]);
  return PLUMB_EXIT_USAGE;
}
