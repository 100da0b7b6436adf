// SPDX-License-Identifier: GPL-3.0-or-later
// Nearness (one over the distance) at half size, 16 bits twice: one for each
// radius. Where nothing stands: 0.
uniform highp sampler2D u_depth;
uniform vec2 u_near; // nearness = x + y depth; 1 at 0.3 m

out vec4 o_colour;

float
nearness (float ndc)
{
  return u_near.x + u_near.y * ndc;
}

void
main ()
{
  ivec2 at = min (ivec2 (gl_FragCoord.xy) * 2, textureSize (u_depth, 0) - 1);
  float ndc = 2.0 * texelFetch (u_depth, at, 0).r - 1.0;
  o_colour = vec4 (0.0);
  if (ndc < 1.0)
    {
      float n = 1.0 + 65534.0 * min (nearness (ndc), 1.0);
      o_colour.rg = vec2 (mod (floor (n), 256.0), floor (n / 256.0)) / 255.0;
      o_colour.ba = o_colour.rg;
    }
}
