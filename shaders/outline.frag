// SPDX-License-Identifier: GPL-3.0-or-later
// Round what is chosen (red) and what the pointer is over (green), outside of it.
uniform mediump sampler2D u_mask;
uniform vec3 u_accent;
uniform vec2 u_width_px;
uniform int u_reach;

out vec4 o_colour;

void
main ()
{
  ivec2 at = ivec2 (gl_FragCoord.xy), last = textureSize (u_mask, 0) - 1;
  vec2 here = texelFetch (u_mask, at, 0).rg, near = vec2 (0.0);
  for (int y = -u_reach; y <= u_reach; y++)
    for (int x = -u_reach; x <= u_reach; x++)
      {
        vec2 there = texelFetch (u_mask, clamp (at + ivec2 (x, y), ivec2 (0), last), 0).rg;
        near = max (near, there * clamp (u_width_px + 0.5 - length (vec2 (x, y)), 0.0, 1.0));
      }
  vec2 alpha = near * (1.0 - here);
  o_colour = vec4 (u_accent, max (alpha.x, alpha.y));
}
