// SPDX-License-Identifier: GPL-3.0-or-later
// One triangle over the whole target, from the number of its corner alone.
void
main ()
{
  gl_Position = vec4 (float (gl_VertexID & 1) * 4.0 - 1.0, float (gl_VertexID & 2) * 2.0 - 1.0, 0.0, 1.0);
}
