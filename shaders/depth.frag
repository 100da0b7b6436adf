// SPDX-License-Identifier: GPL-3.0-or-later
// Distance before the eye's plane out of the depth buffer, in 24 bits of a
// colour: OpenGL ES cannot read depth back. Nothing there: all white.
uniform highp sampler2D u_depth;
uniform vec2 u_range; // near, far

out vec4 o_colour;

void
main ()
{
  float ndc = 2.0 * texelFetch (u_depth, ivec2 (gl_FragCoord.xy), 0).r - 1.0;
  float z = 2.0 * u_range.x * u_range.y / (u_range.y + u_range.x - ndc * (u_range.y - u_range.x));
  uint n = ndc >= 1.0 ? 0xffffffu : uint (z / u_range.y * 16777214.0);
  o_colour = vec4 (float (n & 255u), float (n >> 8 & 255u), float (n >> 16 & 255u), 255.0) / 255.0;
}
