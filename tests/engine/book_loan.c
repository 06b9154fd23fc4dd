// SPDX-License-Identifier: GPL-3.0-or-later
// See book_loan.h.
#include "book_loan.h"

#include <stdlib.h>
#include <string.h>

bool
lzt_loan_take(void *ctx, const void *bytes, size_t size)
{
  lzt_loan *l = ctx;
  if (l->most && size > l->most - l->size)
    return false;
  unsigned char *grown = realloc(l->bytes, l->size + size);
  if (!grown)
    return false;
  memcpy(grown + l->size, bytes, size);
  l->bytes = grown;
  l->size += size;
  return true;
}
