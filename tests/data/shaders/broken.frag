// SPDX-License-Identifier: GPL-3.0-or-later
// No shader: what the pane says when a driver takes none is tested with it.
void main ()
{
  this is not a shader
}
