// SPDX-License-Identifier: GPL-3.0-or-later
out vec2 uv;

void main ()
{
  vec2 corner = vec2 (float (gl_VertexID & 1), float (gl_VertexID >> 1)) * 2.0;
  uv = corner;
  gl_Position = vec4 (corner * 2.0 - 1.0, 0.0, 1.0);
}
