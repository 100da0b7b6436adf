// SPDX-License-Identifier: GPL-3.0-or-later
// The projector is a pinhole camera run backwards. From the lens goes the ray
//   f + (a + s_h) / t r + (b + s_v) / (A t) w
// so a point at d from the lens, z = d.f before it, has the panel coordinates
//   a = t d.r / z - s_h,   b = A t d.w / z - s_v.
uniform vec3 u_lens;
uniform vec3 u_right;   // t r
uniform vec3 u_up;      // A t w
uniform vec3 u_forward; // f
uniform vec2 u_shift;
uniform vec3 u_map;     // shadow map: share of it that the panel takes, then depth = y + z / distance
uniform highp sampler2DShadow u_shadow;

vec3
panel_of (vec3 position)
{
  vec3 d = position - u_lens;
  float z = dot (d, u_forward);
  float s = z > 1e-4 ? 1.0 / z : 0.0;
  return vec3 (vec2 (dot (d, u_right), dot (d, u_up)) * s - u_shift, z);
}

vec3
map_place (vec3 panel)
{
  return vec3 (panel.xy * u_map.x + 0.5, u_map.y + u_map.z / max (panel.z, 1e-4));
}
