// SPDX-License-Identifier: GPL-3.0-or-later
// One direction of a blur with two radii at once. What is not there is left out.
uniform mediump sampler2D u_level;
uniform ivec2 u_step;
uniform ivec2 u_radius; // in steps of one and of u_stride
uniform int u_stride;

out vec4 o_colour;

vec2
level_at (ivec2 at)
{
  vec4 c = texelFetch (u_level, clamp (at, ivec2 (0), textureSize (u_level, 0) - 1), 0) * 255.0;
  return c.rb + 256.0 * c.ga;
}

vec2
packed_level (float n)
{
  n = floor (n + 0.5);
  return vec2 (mod (n, 256.0), floor (n / 256.0)) / 255.0;
}

void
main ()
{
  ivec2 at = ivec2 (gl_FragCoord.xy);
  vec2 sum = vec2 (0.0), weight = vec2 (0.0);
  for (int i = -u_radius.x; i <= u_radius.x; i++)
    {
      float n = level_at (at + i * u_step).x;
      float w = n > 0.0 ? float (u_radius.x + 1 - abs (i)) : 0.0;
      sum.x += w * n;
      weight.x += w;
    }
  for (int i = -u_radius.y; i <= u_radius.y; i++)
    {
      float n = level_at (at + i * u_stride * u_step).y;
      float w = n > 0.0 ? float (u_radius.y + 1 - abs (i)) : 0.0;
      sum.y += w * n;
      weight.y += w;
    }
  o_colour = vec4 (packed_level (sum.x / max (weight.x, 1.0)), packed_level (sum.y / max (weight.y, 1.0)));
}
