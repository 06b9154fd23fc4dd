// SPDX-License-Identifier: GPL-3.0-or-later
// The error domain of the desk, and how its codes end a program.
#include "lz_error.h"

#include <glib/gi18n-lib.h>

#define IN_WORDS 20

G_DEFINE_QUARK(lz - desk - error - quark, lz_desk_error)

int
lz_error_exit_status(const GError *error)
{
  if (!error)
    return 0;
  if (error->domain != LZ_DESK_ERROR)
    return 3;
  switch ((LzDeskError)error->code) {
  case LZ_DESK_ERROR_REFUSED:
  case LZ_DESK_ERROR_NEEDS_READBACK:
  case LZ_DESK_ERROR_NEEDS_SECOND_PERSON:
  case LZ_DESK_ERROR_NEEDS_REASON: return 1;
  case LZ_DESK_ERROR_USAGE:
  case LZ_DESK_ERROR_AMBIGUOUS_TIME: return 2;
  default: return 3;
  }
}

void
lz_error_join(GError **all, GError *one, guint *n)
{
  if ((*n)++ == 0) {
    g_propagate_error(all, one);
    return;
  }
  if (all && *all && *n <= IN_WORDS) {
    g_autofree char *before = (*all)->message;
    (*all)->message = g_strconcat(before, "\n", one->message, NULL);
  }
  g_error_free(one);
}

void
lz_error_join_end(GError **all, guint n)
{
  if (!all || !*all || n <= IN_WORDS)
    return;
  g_autofree char *before = (*all)->message;
  g_autofree char *more = g_strdup_printf(
      ngettext("and %u more line", "and %u more lines", n - IN_WORDS), n - IN_WORDS);
  (*all)->message = g_strconcat(before, "\n", more, NULL);
}
