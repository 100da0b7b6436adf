// SPDX-License-Identifier: GPL-3.0-or-later
// The still frame: silhouettes part by light, cut faces get their edge.
uniform mediump sampler2D u_picture; // alpha under 1/2: a cut face, and which way it looks
uniform mediump sampler2D u_blurred;
uniform highp sampler2D u_depth;
uniform vec2 u_near; // as in level.frag
uniform vec3 u_ink;
uniform vec3 u_paper;
uniform int u_edge_px;

out vec4 o_colour;

vec2
blurred (vec2 at)
{
  ivec2 size = textureSize (u_blurred, 0);
  vec4 c = texelFetch (u_blurred, clamp (ivec2 (at), ivec2 (0), size - 1), 0) * 255.0;
  return c.rb + 256.0 * c.ga;
}

// Four taps: the blurred picture is half as large.
vec2
around (vec2 pixel)
{
  vec2 at = pixel * 0.5 - 0.5, f = fract (at);
  return mix (mix (blurred (at), blurred (at + vec2 (1.0, 0.0)), f.x),
              mix (blurred (at + vec2 (0.0, 1.0)), blurred (at + vec2 (1.0, 1.0)), f.x), f.y);
}

// ndc: depth of the farthest thing in or beside the pixel. A pixel that an edge
// goes through has some of what is behind it, and would shine as a rim.
float
part (float ndc)
{
  float here = 1.0 + 65534.0 * min (u_near.x + u_near.y * ndc, 1.0);
  vec2 level = around (gl_FragCoord.xy), behind = (level - here) / max (level, vec2 (here));
  vec2 dark = clamp (behind * vec2 (2.2, 1.1), 0.0, 1.0) * vec2 (0.26, 0.14);
  float rim = clamp (-behind.x * 2.2, 0.0, 1.0) * 0.22;
  return (1.0 - dark.x) * (1.0 - dark.y) * (1.0 + rim);
}

void
main ()
{
  ivec2 at = ivec2 (gl_FragCoord.xy), last = textureSize (u_picture, 0) - 1;
  vec4 here = texelFetch (u_picture, at, 0);
  float own = texelFetch (u_depth, at, 0).r, farthest = own, edge = 0.0, seam = 0.0;
  for (int i = 0; i < 4; i++)
    {
      ivec2 step = ivec2 (i == 0 ? 1 : i == 1 ? -1 : 0, i == 2 ? 1 : i == 3 ? -1 : 0) * u_edge_px;
      ivec2 beside = clamp (at + step, ivec2 (0), last);
      float there = texelFetch (u_picture, beside, 0).a, depth = texelFetch (u_depth, beside, 0).r;
      farthest = max (farthest, depth < 1.0 ? depth : 0.0);
      edge = max (edge, there - here.a);
      // With a quarter of something else in the pixel the alpha says nothing of ways.
      bool both = step.x + step.y > 0 && here.a < 0.225 && there < 0.225;
      seam = max (seam, both ? abs (there - here.a) : 0.0);
    }
  vec3 colour = here.rgb;
  // The factor is for light; these are sRGB: its root, near enough.
  if (here.a > 0.5 && own < 1.0)
    colour *= sqrt (part (2.0 * farthest - 1.0));
  colour = mix (colour, u_paper, 0.5 * min (seam / 0.1, 1.0));
  o_colour = vec4 (mix (colour, u_ink, min (edge, 1.0)), 1.0);
}
