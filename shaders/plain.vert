// SPDX-License-Identifier: GPL-3.0-or-later
layout (location = 0) in vec3 a_position;

uniform mat4 u_to_clip;

void
main ()
{
  gl_Position = u_to_clip * vec4 (a_position, 1.0);
}
