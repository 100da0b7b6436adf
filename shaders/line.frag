// SPDX-License-Identifier: GPL-3.0-or-later
in vec4 v_colour;
in vec3 v_position;
in vec4 v_place;
flat in vec2 v_dash;

out vec4 o_colour;

void
main ()
{
  vec2 place = v_place.xy / v_place.z;
  float alpha = clamp (v_place.w + 0.5 - abs (place.y), 0.0, 1.0) * min (1.0, 2.0 * v_place.w);
  if (v_dash.y > 0.0)
    {
      float at = mod (place.x, v_dash.x + v_dash.y);
      alpha *= clamp (0.5 + min (at, v_dash.x - at), 0.0, 1.0);
    }
#ifdef BEAM
  vec3 panel = panel_of (v_position);
  panel.xy = clamp (panel.xy, -0.4985, 0.4985);
  alpha *= texture (u_shadow, map_place (panel));
#endif
  o_colour = vec4 (v_colour.rgb, v_colour.a * alpha);
}
