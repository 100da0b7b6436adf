// SPDX-License-Identifier: GPL-3.0-or-later
layout (location = 0) in vec3 position;
layout (location = 1) in vec3 normal;
layout (location = 2) in vec2 texture_m;
layout (location = 3) in float occlusion;
layout (location = 4) in float material;
uniform mat4 view_projection;
out vec3 at;
out vec3 out_of;
out vec2 grain_m;
out float open_share;
flat out int made_of;

void main ()
{
  at = position;
  out_of = normal;
  grain_m = texture_m;
  open_share = occlusion;
  made_of = int (material + 0.5);
  gl_Position = view_projection * vec4 (position, 1.0);
}
