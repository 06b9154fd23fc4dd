// SPDX-License-Identifier: GPL-3.0-or-later
// Lock 2 of the layers: a program made of one layer's whole library and its own dependencies only.
// It is never run; that it links proves that the layer calls nothing from the layers above it.
int
main(void)
{
  return 0;
}
