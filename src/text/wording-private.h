/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The statements that findings are worded from, and how they are filled in.
 *
 * A statement is the middle of a sentence: it begins small, has no full stop,
 * and tells what is, not what to do. Words in braces are replaced:
 *
 *   {figure} {spread} {least} {most}  of the finding, with their units
 *   {range}    both limits, or the one where they are the same
 *   {limit}    the limit that is nearer to the figure
 *   {beyond}   how far the figure is from that limit, without a sign
 *   {subject}  the subject's name
 *   {n0:UNIT}  number[0] to number[5] in a unit ("m", "rad", "share", "ratio",
 *              "count", "px"); UNIT may be a record's name ("wall"): then the number is
 *              an index and the record's name is put in; "sideways" and
 *              "upwards" are shares with their direction: 12.0 % left
 *
 * Words in square brackets that begin with n0? to n5? stand only where that
 * number is over 0: [n2?; a tilt of {n0:rad} would do]. They do not nest.
 */
#pragma once

#include "text/findings.h"

typedef struct {
  PlumbCheck check;
  uint8_t variant;
  const char *holds; /* and tight */
  const char *fails;
  const char *bare; /* unknown, or there is no figure to speak of */
} PlumbWording;

/* Never NULL: an unknown variant has the wording of the check's first. */
const PlumbWording *plumb_wording_find (PlumbCheck check, uint8_t variant);
/* All of them in turn; NULL behind the last. */
const PlumbWording *plumb_wording_at (gsize i);
/* Replaces the words in braces; the caller's. */
char *plumb_wording_fill (const char *statement, const PlumbScene *scene, const PlumbFinding *finding,
                          PlumbWords words);
