// SPDX-License-Identifier: GPL-3.0-or-later
// What every program shares. The version line is put in front by the loader.

// Paper never burns out: straight up to 0.72, then it bends towards 1.
vec3
shoulder (vec3 c)
{
  vec3 over = max (c - 0.72, 0.0);
  return min (c, 0.72) + 0.28 * (1.0 - exp (-over / 0.28));
}

// Linear to sRGB (IEC 61966-2-1). Done here and not by the framebuffer, since
// what is shown takes the bytes as they are.
vec3
encode (vec3 c)
{
  c = clamp (c, 0.0, 1.0);
  return mix (12.92 * c, 1.055 * pow (max (c, 0.0031308), vec3 (1.0 / 2.4)) - 0.055, step (0.0031308, c));
}
