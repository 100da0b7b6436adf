/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints docs/file-format.md from the record lists. */
#include <stdio.h>
#include <string.h>

#include "job/job.h"
#include "number-private.h"

static const char introduction[]
    = "# The job file\n"
      "\n"
      "<!-- Printed by src/job/write-format-page.c from include/plumbeam/record-lists.h. Change it there. -->\n"
      "\n"
      "One file, ending in `.plumbeam`, holds one job. It is JSON in UTF-8, so any text editor will do.\n"
      "\n"
      "## Rules\n"
      "\n"
      "- The file is one object. `\"plumbeam\": %d` says in which format it is; everything else is optional.\n"
      "- `job` is an object. Every other kind of record is an array of objects: `\"walls\": [ … ]`. Some records "
      "hold "
      "further ones, such as the lines of a lens's data sheet.\n"
      "- **A key that is absent is assumed**: its default holds, and findings that rest on it say so. A key that is "
      "present is typed, even if its value is the default.\n"
      "- A key carries its unit: `_m` metres, `_mm` millimetres, `_deg` degrees, `_pct` per cent, `_lm` lumens, "
      "`_lx` "
      "lux, `_kg` kilograms, `_w` watts, `_db` decibels, `_px` pixels. The file is metric even if the job is shown "
      "in "
      "feet and inches.\n"
      "- x and y are the survey's, on the floor; z is up. Outlines run counter-clockwise seen from above.\n"
      "- A record that others refer to has an `id` of its own: letters A to Z in either case, digits, `_`, `-` and "
      "`.`. "
      "No two records of one kind share an id. A reference to an id that is not there is no error of the file: the "
      "job "
      "opens and a finding says so.\n"
      "- A field that does not apply while another has some value may stand in the file; it is kept and has no "
      "effect.\n"
      "- A key that no record knows is kept, with its value and its place, and has no effect. The command line names "
      "it, since it may be a slip.\n"
      "- Numbers are finite and within the range given. Sizes: at most %d bytes, %d levels of nesting, %d records of "
      "one kind, %d values in all.\n"
      "- RFC 8259 holds strictly: no comments, no comma before a closing bracket, no key twice, no text after the "
      "end, "
      "no byte order mark, no `NaN`, no leading zeros.\n"
      "\n"
      "## Layout\n"
      "\n"
      "Saving keeps the order of keys and the spelling of every value that did not change, and lays the file out "
      "with "
      "one value a line, two blanks a level, nested records one a line. So one changed value is one changed line, "
      "and a "
      "new record touches at most the line before it. The file is replaced in one step; what it held before stands "
      "in "
      "a file of the same name with `~` behind it.\n"
      "\n"
      "## Versions\n"
      "\n"
      "A new field with a default does not raise the format version; a new name, meaning, unit or default does. "
      "Older "
      "formats are brought up to date on reading, newer ones are refused. This is format %d, the first. The column "
      "*since* says which format brought a key.\n"
      "\n"
      "## Setting a value on the command line\n"
      "\n"
      "`--set places.t2.drop_m=0.11` names the kind of record, the id and the key; `--set job.title=Loft` needs no "
      "id; "
      "`--set lenses.long.pairs.2.width_m=3.1` means the second line. Numbers are in the key's unit, with a point as "
      "decimal mark; a length may bring its own unit: `--set \"places.t2.drop_m=4 3/8 in\"`.\n";

static void
print_number (double value)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  plumb_decimal_shortest (value, 1.0, text);
  fputs (text, stdout);
}

static bool
is_number (const PlumbField *field)
{
  return field->type == PLUMB_TYPE_NUM || field->type == PLUMB_TYPE_COUNT;
}

static void
print_reference (const PlumbField *field)
{
  const char *between = "id in ";

  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    if ((field->ref_kinds >> kind & 1u) != 0)
      {
        printf ("%s`%s`", between, plumb_record_info ((PlumbRecordKind) kind)->key);
        between = " or ";
      }
}

static void
print_value (const PlumbField *field)
{
  switch (field->type)
    {
    case PLUMB_TYPE_NUM:
    case PLUMB_TYPE_COUNT:
      printf ("%s%s%s", field->type == PLUMB_TYPE_NUM ? "number" : "whole number",
              plumb_quantity_unit (field->quantity)[0] != '\0' ? ", " : "", plumb_quantity_unit (field->quantity));
      return;
    case PLUMB_TYPE_FLAG:
      fputs ("`true` or `false`", stdout);
      return;
    case PLUMB_TYPE_CHOICE:
      for (int i = 0; i < field->n_choices; i++)
        printf ("%s`\"%s\"` %s", i > 0 ? "<br>" : "", field->choices[i].word, field->choices[i].label);
      return;
    case PLUMB_TYPE_TEXT:
      printf ("text, at most %zu bytes", field->size - 1);
      return;
    case PLUMB_TYPE_REF:
      print_reference (field);
      return;
    }
}

static void
print_range (const PlumbField *field)
{
  if (!is_number (field))
    return;
  print_number (field->least);
  fputs (" to ", stdout);
  print_number (field->greatest);
}

static void
print_default (const PlumbField *field)
{
  if (strcmp (field->key, "id") == 0)
    fputs ("none, must be given", stdout);
  else if (is_number (field))
    print_number (field->default_number);
  else if (field->type == PLUMB_TYPE_FLAG)
    printf ("`%s`", field->default_number > 0.5 ? "true" : "false");
  else if (field->type == PLUMB_TYPE_CHOICE)
    printf ("`\"%s\"`", field->choices[(int) field->default_number].word);
  else
    printf ("`\"%s\"`", field->default_text);
}

static void
print_condition (const PlumbRecordInfo *info, const PlumbField *field)
{
  if (field->when_field < 0)
    return;
  const PlumbField *deciding = &info->fields[field->when_field];
  const char *between = "";
  printf (" Applies while `%s` is ", deciding->key);
  for (int value = 0; value <= (deciding->type == PLUMB_TYPE_CHOICE ? deciding->n_choices - 1 : 1); value++)
    if ((field->when_values >> value & 1u) != 0)
      {
        const char *flag = value != 0 ? "true" : "false";
        printf ("%s`%s`", between, deciding->type == PLUMB_TYPE_CHOICE ? deciding->choices[value].word : flag);
        between = " or ";
      }
  fputs (".", stdout);
}

static void
print_record (const PlumbRecordInfo *info)
{
  bool nested = info->parent != PLUMB_RECORD_NONE;

  printf ("\n%s `%s`: %s\n\n", nested ? "###" : "##", info->key, info->label);
  if (nested)
    printf ("Array in each record of `%s`, one line a record, in order.\n\n", plumb_record_info (info->parent)->key);
  fputs ("| key | value | range | default | meaning | since |\n| --- | --- | --- | --- | --- | --- |\n", stdout);
  for (int i = 0; i < info->n_fields; i++)
    {
      const PlumbField *field = &info->fields[i];
      printf ("| `%s` | ", field->key);
      print_value (field);
      fputs (" | ", stdout);
      print_range (field);
      fputs (" | ", stdout);
      print_default (field);
      printf (" | **%s.** %s", field->label, field->help);
      print_condition (info, field);
      printf (" | %d |\n", field->since);
    }
}

int
main (void)
{
  printf (introduction, PLUMB_FORMAT_VERSION, PLUMB_JOB_MAX_BYTES, PLUMB_JOB_MAX_DEPTH, PLUMB_MAX_RECORDS,
          PLUMB_JOB_MAX_VALUES, PLUMB_FORMAT_VERSION);
  for (int kind = 0; kind < PLUMB_N_RECORDS; kind++)
    print_record (plumb_record_info ((PlumbRecordKind) kind));
  return fflush (stdout) == 0 && !ferror (stdout) ? 0 : 3;
}
