// SPDX-License-Identifier: GPL-3.0-or-later
uniform vec4 u_colour;

out vec4 o_colour;

void
main ()
{
  o_colour = u_colour;
}
