// SPDX-License-Identifier: GPL-3.0-or-later
// Depth from the lens. Needs no colour.
layout (location = 0) in vec3 a_position;

uniform vec2 u_depth; // clip z = x distance + y

void
main ()
{
  vec3 d = a_position - u_lens;
  float z = dot (d, u_forward);
  vec2 panel = vec2 (dot (d, u_right), dot (d, u_up)) - u_shift * z;
  gl_Position = vec4 (2.0 * u_map.x * panel, u_depth.x * z + u_depth.y, z);
}
