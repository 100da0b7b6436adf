// SPDX-License-Identifier: GPL-3.0-or-later
in vec3 v_position;

uniform vec3 u_colour;
uniform vec3 u_fade; // alpha at the lens, at the end, distance of the end

out vec4 o_colour;

void
main ()
{
  vec3 panel = panel_of (v_position);
  // Just inside the edge, or the light beside the beam would count.
  panel.xy = clamp (panel.xy, -0.4985, 0.4985);
  float lit = texture (u_shadow, map_place (panel));
  float way = clamp (panel.z / u_fade.z, 0.0, 1.0);
  o_colour = vec4 (u_colour, lit * mix (u_fade.x, u_fade.y, sqrt (way)));
}
