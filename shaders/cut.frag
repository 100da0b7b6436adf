// SPDX-License-Identifier: GPL-3.0-or-later
flat in float v_way;

uniform vec3 u_colour;

out vec4 o_colour;

void
main ()
{
  o_colour = vec4 (u_colour, v_way);
}
