// SPDX-License-Identifier: GPL-3.0-or-later
// main() of lazaretctl: nothing but the call, so that tests can link the rest.
#include "lzc.h"

int
main(int argc, char **argv)
{
  return lzc_run(argc, argv);
}
