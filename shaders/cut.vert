// SPDX-License-Identifier: GPL-3.0-or-later
// Cut faces: flat. The last component tells the marks which way a cut faces.
layout (location = 0) in vec3 a_position;
layout (location = 1) in vec3 a_normal;

uniform mat4 u_to_clip;

flat out float v_way;

void
main ()
{
  vec3 n = abs (a_normal);
  v_way = n.z > n.x && n.z > n.y ? 0.0 : n.x > n.y ? 0.1 : 0.2;
  gl_Position = u_to_clip * vec4 (a_position, 1.0);
}
