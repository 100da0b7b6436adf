/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decimals in files: read right, written short. No locale. */
#pragma once

#include <glib.h>

/* Nearest double to a JSON number; infinite if it is too large. A byte that
 * is no part of a number must follow the `length` bytes. */
double plumb_decimal_read (const char *text, size_t length);
/* The shortest decimal d with d × factor = member as doubles, where fifteen
 * digits suffice as they do for whatever people type; else one of up to
 * seventeen. A member that is no such product gives the nearest. It must be
 * finite. */
void plumb_decimal_shortest (double member, double factor, char out[G_ASCII_DTOSTR_BUF_SIZE]);
