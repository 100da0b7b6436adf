// SPDX-License-Identifier: GPL-3.0-or-later
// The room: its own light is worked out at the corners, which stand close
// enough; the projector's light is not, see room.frag.
layout (location = 0) in vec3 a_position;
layout (location = 1) in vec3 a_normal;
layout (location = 2) in vec2 a_texture;
layout (location = 3) in vec2 a_shade; // occlusion, material

uniform mat4 u_to_clip;
uniform vec3 u_albedo[16];
uniform vec3 u_key;          // towards the key light
uniform vec3 u_room_light;   // hemisphere, key, all of it
uniform vec3 u_tint;
uniform vec3 u_glow;         // one bounce: the picture's mean colour
uniform vec3 u_glow_at;
uniform vec3 u_glow_normal;
uniform float u_glow_area_m2;

out vec3 v_light;
flat out float v_material;
#ifdef BOARDS
out vec2 v_texture;
#endif
#ifdef THROWN
out vec3 v_position;
out vec3 v_normal;
flat out vec3 v_albedo;
#endif

// From a patch of the screen's size at its middle.
vec3
bounce ()
{
  vec3 d = a_position - u_glow_at;
  float square = dot (d, d), away = max (dot (d, u_glow_normal), 0.0), met = max (-dot (d, a_normal), 0.0);
  return u_glow * (u_glow_area_m2 * away * met / (3.14159 * (square + 0.01) * (square + u_glow_area_m2)));
}

void
main ()
{
  int material = int (a_shade.y + 0.5);
  float open = a_shade.x;
  float sky = mix (0.80, 1.0, 0.5 + 0.5 * a_normal.z) * open;
  float key = max (0.0, 0.30 + 0.70 * dot (a_normal, u_key)) * mix (0.55, 1.0, open);
  vec3 albedo = u_albedo[material];
  v_light = albedo * (u_tint * u_room_light.z * (u_room_light.x * sky + u_room_light.y * key) + bounce () * open);
  v_material = a_shade.y;
#ifdef BOARDS
  v_texture = a_texture;
#endif
#ifdef THROWN
  v_position = a_position;
  v_normal = a_normal;
  v_albedo = albedo;
#endif
  gl_Position = u_to_clip * vec4 (a_position, 1.0);
}
