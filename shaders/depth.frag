// SPDX-License-Identifier: GPL-3.0-or-later
uniform vec4 plain;
out vec4 colour;

void main ()
{
  colour = plain;
}
