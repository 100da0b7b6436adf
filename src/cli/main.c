/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "cli-private.h"

static const char help[] = "Usage:\n"
                           "  plumbeam check FILE [--json] [--strict] [--arrangement ID] [--set KEY=VALUE]...\n"
                           "  plumbeam trial FILE [--json|--csv] [--arrangement ID] [--set KEY=VALUE]...\n"
                           "  plumbeam export FILE -o OUT(.svg|.pdf) [--view plan|side|picture|ceiling]\n"
                           "                  [--paper a4|a3|letter] [--arrangement ID] [--set KEY=VALUE]...\n"
                           "  plumbeam COMMAND --help\n"
                           "  plumbeam --version\n"
                           "\n"
                           "check    works out an arrangement of a job and says what holds, is tight, fails\n"
                           "         or is unknown; --arrangement all takes every one in turn\n"
                           "trial    tries every machine and lens at every place, one line each\n"
                           "export   draws a sheet of the job\n"
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
  { "map", NULL },
  { "sheets", NULL },
  { "picture", NULL },
  { "square", NULL },
};

static PlumbExit
run_named (char **arguments)
{
  const char *name = arguments[0];
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      if (strcmp (name, commands[i].name) != 0)
        continue;
      if (commands[i].run != NULL)
        return commands[i].run (arguments);
      plumb_cli_complain ("this version has no command “%s”", name);
      return PLUMB_EXIT_USAGE;
    }
  if (g_str_has_suffix (name, ".plumbeam"))
    plumb_cli_complain ("this version has no window to open “%s” in; try: plumbeam check FILE", name);
  else
    plumb_cli_complain ("there is no command “%s”; see: plumbeam --help", name);
  return PLUMB_EXIT_USAGE;
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  if (argc < 2)
    {
      plumb_cli_complain ("this version has no window; see: plumbeam --help");
      return PLUMB_EXIT_USAGE;
    }
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0)
    return (int) plumb_cli_print (help);
  if (strcmp (argv[1], "--version") == 0)
    return (int) plumb_cli_print ("plumbeam " PLUMB_VERSION "\n");
  return (int) run_named (argv + 1);
}
