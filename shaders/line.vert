// SPDX-License-Identifier: GPL-3.0-or-later
// A line of a width in pixels: four corners round its two ends.
layout (location = 0) in vec3 a_from;
layout (location = 1) in vec3 a_to;
layout (location = 2) in vec2 a_corner; // end 0 or 1, side -1 or 1
layout (location = 3) in vec4 a_colour;
layout (location = 4) in vec3 a_style;  // width, dash, gap in pixels

uniform mat4 u_to_clip;
uniform vec2 u_size_px;
uniform float u_pixel; // device pixels of one

out vec4 v_colour;
out vec3 v_position;
// Times the clip w, so that they come out straight on the screen.
out vec4 v_place; // along, side, 1; half width
flat out vec2 v_dash;

vec4
before_eye (vec4 p, vec4 other)
{
  float here = p.z + p.w, there = other.z + other.w;
  return here > 0.0 || there <= 0.0 ? p : mix (p, other, (1e-4 - here) / (there - here));
}

void
main ()
{
  vec4 from = u_to_clip * vec4 (a_from, 1.0), to = u_to_clip * vec4 (a_to, 1.0);
  vec4 near_from = before_eye (from, to), near_to = before_eye (to, from);
  vec2 a = near_from.xy / near_from.w * 0.5 * u_size_px, b = near_to.xy / near_to.w * 0.5 * u_size_px;
  vec2 way = b - a;
  float long_px = max (length (way), 1e-4), half_px = 0.5 * a_style.x * u_pixel;
  vec2 across = vec2 (-way.y, way.x) / long_px * a_corner.y * (half_px + 0.75);
  vec4 p = a_corner.x < 0.5 ? near_from : near_to;
  p.xy += across * 2.0 / u_size_px * p.w;
  v_place = vec4 (a_corner.x * long_px, a_corner.y * (half_px + 0.75), 1.0, half_px) * vec4 (p.w, p.w, p.w, 1.0);
  v_colour = a_colour;
  v_position = a_corner.x < 0.5 ? a_from : a_to;
  v_dash = a_style.yz * u_pixel;
  gl_Position = p;
}
