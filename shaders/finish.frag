// SPDX-License-Identifier: GPL-3.0-or-later
// Parts silhouettes by light, draws the edge of cut faces and the outline of
// what is chosen.
in vec2 uv;
uniform sampler2D picture;
uniform highp sampler2D depth;
uniform sampler2D mask;
uniform vec2 pixel;   // of the picture, in its own coordinates
uniform vec2 planes;  // near and far
uniform vec3 ink;
uniform vec3 accent;
uniform float softening;
uniform vec2 radii;   // of the softening, in pixels
out vec4 colour;

float distance_at (vec2 p)
{
  float z = 2.0 * texture (depth, p).r - 1.0;
  return 2.0 * planes.x * planes.y / (planes.y + planes.x - z * (planes.y - planes.x));
}

const vec2 way[8] = vec2[8] (vec2 (1.0, 0.0), vec2 (0.7071, 0.7071), vec2 (0.0, 1.0), vec2 (-0.7071, 0.7071),
                             vec2 (-1.0, 0.0), vec2 (-0.7071, -0.7071), vec2 (0.0, -1.0), vec2 (0.7071, -0.7071));

void main ()
{
  vec4 here = texture (picture, uv);
  vec3 c = here.rgb;
  if (softening > 0.5 && here.a > 0.5)
    {
      float own = distance_at (uv), dark = 0.0, rim = 0.0;
      for (int ring = 0; ring < 2; ring++)
        {
          float behind = 0.0, before = 0.0;
          for (int i = 0; i < 8; i++)
            {
              float other = distance_at (uv + way[i] * pixel * (ring == 0 ? radii.x : radii.y));
              behind += smoothstep (0.02, 0.25, (own - other) / own) * (1.0 - smoothstep (0.5, 0.9, (own - other) / own));
              before += smoothstep (0.02, 0.25, (other - own) / own);
            }
          dark += (ring == 0 ? 0.26 : 0.14) * behind / 8.0;
          rim += (ring == 0 ? 0.22 : 0.0) * before / 8.0;
        }
      c = c * (1.0 - dark) * (1.0 + 0.5 * rim);
    }
  float left = texture (picture, uv - vec2 (pixel.x, 0.0)).a, right = texture (picture, uv + vec2 (pixel.x, 0.0)).a;
  float down = texture (picture, uv - vec2 (0.0, pixel.y)).a, up = texture (picture, uv + vec2 (0.0, pixel.y)).a;
  float edge = clamp (max (abs (right - left), abs (up - down)), 0.0, 1.0);
  c = mix (c, ink, 0.7 * edge);
  // Two pixels outside what is chosen, one outside what is under the pointer.
  float own_mask = texture (mask, uv).r, chosen = 0.0, hovered = 0.0;
  for (int i = 0; i < 8; i++)
    {
      chosen = max (chosen, step (0.9, texture (mask, uv + way[i] * pixel * 2.0).r));
      hovered = max (hovered, step (0.4, texture (mask, uv + way[i] * pixel).r));
    }
  if (own_mask < 0.4)
    c = mix (c, accent, max (chosen, 0.8 * hovered));
  colour = vec4 (c, 1.0);
}
