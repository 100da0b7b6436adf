// SPDX-License-Identifier: GPL-3.0-or-later
in vec4 hue;
in float way_m;
in vec4 thrown_at;
flat in int sort;
uniform highp sampler2DShadow throw_depth;
out vec4 colour;

void main ()
{
  if (sort == 1 && fract (way_m / 0.16) > 0.5)
    discard;
  if (sort == 2)
    {
      // A hair inside the panel's edge, where the map has something to say.
      vec3 map = vec3 (0.499 * thrown_at.xy / thrown_at.w + 0.5, 0.5 * thrown_at.z / thrown_at.w + 0.5);
      if (texture (throw_depth, map) < 0.5)
        discard;
    }
  colour = hue;
}
