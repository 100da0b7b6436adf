// SPDX-License-Identifier: GPL-3.0-or-later
// Materials by light of the room, and the thrown picture: panel coordinates
// come from the projector's matrix alone.
in vec3 at;
in vec3 out_of;
in vec2 grain_m;
in float open_share;
flat in int made_of;
out vec4 colour;

uniform vec3 eye;
uniform vec3 key_way;
uniform float room_light;
uniform vec3 cut_colour;
uniform vec3 albedo[16];
// The projector.
uniform float thrown;
uniform vec3 lens;
uniform vec3 forward;
uniform mat4 throw_matrix;
uniform float throw_scale; // to 1 on the middle of the picture
uniform float dims;        // 1 when the screen is lit from behind
uniform highp sampler2DShadow throw_depth;
uniform float shadow_step;
// The look-up of the content: panel to the picture's unit square, letterbox.
uniform mat3 panel_to_content;
uniform vec2 letterbox;
uniform sampler2D content;
uniform float white_share;
uniform float black_share;

const int FLOOR = 1, TIMBER = 3, RISER = 4, SCREEN = 12, CUT = 15;

float hash (vec2 p)
{
  return fract (sin (dot (p, vec2 (12.9898, 78.233))) * 43758.5453);
}

// Boards of a width along texture x, 2.4 m long, tone within 4 %, joints darker; fades out under 0.7 px.
float boards (float width_m)
{
  float row = floor (grain_m.y / width_m);
  float along = grain_m.x / 2.4 + hash (vec2 (row, 3.0));
  float tone = 1.0 + 0.08 * (hash (vec2 (row, floor (along))) - 0.5);
  float px = fwidth (grain_m.y);
  float joint = min (fract (grain_m.y / width_m), 1.0 - fract (grain_m.y / width_m)) * width_m;
  float line = 1.0 - smoothstep (0.0012, 0.0012 + px, joint);
  return mix (tone * (1.0 - 0.16 * line), 0.985, clamp (px / (0.7 * width_m) , 0.0, 1.0));
}

float tone_of_material ()
{
  if (made_of == FLOOR)
    return boards (0.16);
  if (made_of == RISER)
    return boards (0.14);
  if (made_of == TIMBER)
    return 1.0 + 0.035 * sin (grain_m.y * 260.0 + 3.0 * sin (grain_m.x * 3.0)) * (1.0 - clamp (fwidth (grain_m.y) * 120.0, 0.0, 1.0));
  return 1.0;
}

// Light that arrives through the panel, per light on the middle of the picture; the content's colour with it.
vec3 thrown_light (vec3 n, out float lit)
{
  vec3 way = at - lens;
  // What shines through a screen is caught on its back, on the same ray: look there for shadows.
  bool through = made_of == SCREEN && dims > 0.5;
  vec3 caught = through ? at - way * min (0.03 / max (abs (dot (n, way)), 1e-3), 0.5) : at + n * 0.002;
  vec4 clip = throw_matrix * vec4 (caught, 1.0);
  float ahead = dot (way, forward);
  lit = 0.0;
  if (thrown < 0.5 || ahead < 0.02)
    return vec3 (0.0);
  vec2 panel = 0.5 * clip.xy / clip.w;
  // Half a pixel of softness where the panel ends.
  vec2 edge = fwidth (panel);
  vec2 inside = clamp ((vec2 (0.5) - abs (panel)) / max (edge, vec2 (1e-6)) + 0.5, 0.0, 1.0);
  float facing = dot (n, -way) / length (way);
  if (made_of == SCREEN && dims > 0.5)
    facing = abs (facing);
  if (inside.x * inside.y <= 0.0 || facing <= 0.0)
    return vec3 (0.0);
  vec3 map = vec3 (panel + 0.5, 0.5 * clip.z / clip.w + 0.5 - 0.00002);
  float seen = 0.0;
  for (int i = 0; i < 4; i++)
    seen += texture (throw_depth, map + vec3 (vec2 (float (i & 1) - 0.5, float (i >> 1) - 0.5) * shadow_step, 0.0));
  lit = 0.25 * seen * inside.x * inside.y;
  float cosine = ahead / length (way);
  float strength = min (throw_scale * facing / (cosine * ahead * ahead), 6.0);
  vec3 place = panel_to_content * vec3 (panel, 1.0);
  vec2 uv = (place.xy / place.z - 0.5) * letterbox + 0.5;
  vec3 shown = texture (content, vec2 (uv.x, 1.0 - uv.y)).rgb;
  if (place.z <= 0.0 || any (lessThan (uv, vec2 (0.0))) || any (greaterThan (uv, vec2 (1.0))))
    shown = vec3 (0.0);
  return (shown * (white_share - black_share) + black_share) / white_share * strength;
}

vec3 shoulder (vec3 c)
{
  vec3 over = max (c - 0.72, 0.0);
  return min (c, 0.72) + 0.28 * (1.0 - exp (-over / 0.28));
}

vec3 to_srgb (vec3 c)
{
  return mix (12.92 * c, 1.055 * pow (max (c, 0.0031308), vec3 (1.0 / 2.4)) - 0.055, step (0.0031308, c));
}

void main ()
{
  if (made_of == CUT)
    {
      colour = vec4 (cut_colour, 0.0);
      return;
    }
  vec3 n = normalize (out_of);
  // What is cut open shows its inside.
  if (dot (n, eye - at) < 0.0 && made_of != SCREEN)
    n = -n;
  vec3 base = albedo[made_of] * tone_of_material ();
  float sky = 0.62 * open_share * (0.78 + 0.22 * n.z);
  float key = 0.45 * max (dot (n, key_way), 0.0) * (0.4 + 0.6 * open_share);
  float lit;
  vec3 beam = thrown_light (n, lit);
  vec3 cool = mix (vec3 (0.90, 0.95, 1.06), vec3 (1.0), clamp (room_light, 0.0, 1.0));
  vec3 light = room_light * (sky + key) * cool * (1.0 - 0.72 * lit);
  colour = vec4 (to_srgb (shoulder (base * (light + lit * beam * 0.95))), 1.0);
}
