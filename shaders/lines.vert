// SPDX-License-Identifier: GPL-3.0-or-later
layout (location = 0) in vec3 position;
layout (location = 1) in vec4 tint;
layout (location = 2) in float along_m;
layout (location = 3) in float kind; // 0 plain, 1 dashed, 2 ends where the projector's light ends
uniform mat4 view_projection;
uniform mat4 throw_matrix;
out vec4 hue;
out float way_m;
out vec4 thrown_at;
flat out int sort;

void main ()
{
  hue = tint;
  way_m = along_m;
  sort = int (kind + 0.5);
  thrown_at = throw_matrix * vec4 (position, 1.0);
  gl_Position = view_projection * vec4 (position, 1.0);
}
