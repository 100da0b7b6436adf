// SPDX-License-Identifier: GPL-3.0-or-later
// The faces of the beam: corner 0 is the lens, 1 to 4 the panel's corners.
layout (location = 0) in vec3 a_ray; // panel a, b; 0 at the lens and 1 far out

uniform mat4 u_to_clip;
uniform vec2 u_scale;  // t, A t
uniform float u_far_m; // how far along the axis

out vec3 v_position;

void
main ()
{
  // u_right is t r and u_up is A t w, so the ray's parts are over t^2 and (A t)^2.
  vec2 side = (a_ray.xy + u_shift) / (u_scale * u_scale);
  v_position = u_lens + a_ray.z * u_far_m * (u_forward + side.x * u_right + side.y * u_up);
  gl_Position = u_to_clip * vec4 (v_position, 1.0);
}
