// SPDX-License-Identifier: GPL-3.0-or-later
in vec3 v_light;
flat in float v_material;
#ifdef BOARDS
in vec2 v_texture;
#endif
#ifdef THROWN
in vec3 v_position;
in vec3 v_normal;
flat in vec3 v_albedo;

uniform mediump sampler2D u_content;
uniform mat3 u_look_up;    // panel to picture, +-1/2 at its edges; the digital correction is in it
uniform vec2 u_letterbox;  // half the share of the picture that the content takes
uniform vec4 u_throw;      // white, reference for the irradiance, share of the room's light left, lit from behind
uniform vec2 u_screen;     // what content adds on the screen, and black there
uniform int u_taps;
uniform float u_texel;
#endif

out vec4 o_colour;

#ifdef BOARDS
float
chance (int x, int y)
{
  uint h = uint (x) * 0x9e3779b9u ^ uint (y) * 0x85ebca6bu;
  h = (h ^ (h >> 15)) * 0x2c1b3c6du;
  h = (h ^ (h >> 12)) * 0x297a2d39u;
  return float ((h ^ (h >> 15)) & 0xffffu) / 65535.0;
}

// Share of a pixel that a joint takes; under 0.7 px it fades out.
float
joint (float at, float pitch, float pixel)
{
  const float width = 0.008;
  float off = abs (fract (at / pitch + 0.5) - 0.5) * pitch;
  return clamp ((0.5 * width + 0.5 * pixel - off) / max (pixel, 1e-6), 0.0, 1.0)
         * clamp (width / (0.7 * pixel), 0.0, 1.0);
}

// Boards 2.4 m long side by side; tone +-4 %, joints 16 % darker.
float
boards (float across)
{
  vec2 pixel = fwidth (v_texture);
  int row = int (floor (v_texture.y / across));
  float start = v_texture.x + 2.4 * chance (row, 7);
  float tone = 1.0 + 0.08 * (chance (row, int (floor (start / 2.4))) - 0.5);
  return tone * (1.0 - 0.16 * max (joint (v_texture.y, across, pixel.y), joint (start, 2.4, pixel.x)));
}

// Long streaks, +-3.5 %.
float
grain ()
{
  vec2 at = v_texture * vec2 (1.4, 55.0);
  float fade = clamp (1.5 - fwidth (at.y), 0.0, 1.0);
  int x = int (floor (at.x)), y = int (floor (at.y));
  vec2 f = smoothstep (0.0, 1.0, fract (at));
  float low = mix (chance (x, y), chance (x + 1, y), f.x), high = mix (chance (x, y + 1), chance (x + 1, y + 1), f.x);
  return 1.0 + 0.07 * fade * (mix (low, high, f.y) - 0.5);
}

float
tone ()
{
  if (v_material == FLOOR)
    return boards (0.16);
  return v_material == RISER ? boards (0.14) : grain ();
}
#endif

#ifdef THROWN
// Share of a pixel inside |at| <= half.
float
within (vec2 at, vec2 half_size)
{
  vec2 pixel = max (fwidth (at), vec2 (1e-6));
  vec2 share = clamp (0.5 + (half_size - abs (at)) / pixel, 0.0, 1.0);
  return share.x * share.y;
}

float
unshadowed (vec3 panel)
{
  vec3 at = map_place (panel);
  float sum = texture (u_shadow, at);
  if (u_taps > 1)
    {
      sum += texture (u_shadow, at + vec3 (0.75, 0.25, 0.0) * u_texel);
      sum += texture (u_shadow, at + vec3 (-0.75, -0.25, 0.0) * u_texel);
      sum += texture (u_shadow, at + vec3 (-0.25, 0.75, 0.0) * u_texel);
      sum += texture (u_shadow, at + vec3 (0.25, -0.75, 0.0) * u_texel);
      sum *= 0.2;
    }
  return sum;
}

vec3
content (vec2 panel)
{
  vec3 q = u_look_up * vec3 (panel, 1.0);
  vec2 at = q.z > 0.0 ? q.xy / q.z : vec2 (9.0);
  float share = within (at, u_letterbox);
  vec2 place = vec2 (0.5 + 0.5 * at.x / u_letterbox.x, 0.5 - 0.5 * at.y / u_letterbox.y);
  return share * texture (u_content, place).rgb;
}

vec3
with_picture (vec3 room)
{
  bool screen = v_material == SCREEN;
  bool through = screen && u_throw.w > 0.5;
  vec3 normal = normalize (v_normal);
  vec3 to_lens = u_lens - v_position;
  float distance_m = length (to_lens), facing = dot (normal, to_lens) / distance_m;
  // What shines through a screen is caught on its back: look there for shadows.
  vec3 caught = v_position + (through ? to_lens * (0.03 / max (abs (dot (normal, to_lens)), 1e-3)) : normal * 0.001);
  // Heads and trunks of the sums cast the shadows of people, who are drawn
  // within them: nobody stands in the own shadow.
  if (v_material == PERSON)
    caught = v_position + to_lens * min (0.35 / distance_m, 0.5);
  vec3 panel = panel_of (v_position);
  float inside = panel.z > 1e-3 ? within (panel.xy, vec2 (0.5)) : 0.0;
  float cosine = through ? abs (facing) : max (facing, 0.0);
  // The panel's light is uniform, so in a direction at phi from the axis there
  // goes A t^2 / cos^3 phi of it per solid angle, and a point at distance r
  // gets that times its own cosine over r^2, with cos phi = z / r.
  float z = max (panel.z, 1e-3);
  float irradiance = u_throw.y * cosine * distance_m / (z * z * z);
  float lit = inside * unshadowed (vec3 (panel.xy, panel_of (caught).z));
  vec3 thrown = v_albedo * (screen ? u_screen.x : u_throw.x) * irradiance * lit * content (panel.xy);
  if (screen && cosine > 0.0)
    room = room * (1.0 - inside * (1.0 - u_throw.z)) + v_albedo * (u_screen.y * inside);
  return room + thrown;
}
#endif

void
main ()
{
  vec3 light = v_light;
#ifdef BOARDS
  light *= tone ();
#endif
#ifdef THROWN
  light = with_picture (light);
#endif
  o_colour = vec4 (encode (shoulder (light)), 1.0);
}
