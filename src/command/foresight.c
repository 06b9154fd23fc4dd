// SPDX-License-Identifier: GPL-3.0-or-later
// What acts would change, printed: for `whatif`, and for `record --dry-run`.
#include "lzc_foresight.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include <lz_format.h>

#include "lzc_machine.h"

static const char *const columns[] = {"way",   "lot",       "before", "after",  "days_later",
                                      "heads", "fish_days", "added",  "because"};

static char *
when(const LzcForesight *out, lzq_minute at)
{
  if (at == LZQ_NEVER)
    return g_strdup(out->csv ? "" : _("not known"));
  return out->csv ? lz_format_iso(at) : lz_format_full(lz_desk_zone(out->desk), at);
}

void
lzc_foresight_head(const LzcForesight *out)
{
  if (out->csv)
    lzc_csv(columns, G_N_ELEMENTS(columns));
}

static void
put_shift(const LzcForesight *out, const char *way, const LzShift *shift)
{
  g_autofree char *before = when(out, shift->before), *after = when(out, shift->after);
  gboolean dated = shift->before != LZQ_NEVER && shift->after != LZQ_NEVER;
  g_autofree char *days = dated ? lzc_number((double)shift->later_min / LZQ_DAY) : g_strdup("");
  g_autofree char *fish = dated ? lzc_number(shift->fish_days) : g_strdup("");
  g_autofree char *heads = g_strdup_printf("%d", shift->heads);
  if (out->csv) {
    const char *cells[] = {way,           shift->lot, before, after,
                           days,          heads,      fish,   shift->added ? "yes" : "no",
                           shift->because};
    G_STATIC_ASSERT(G_N_ELEMENTS(cells) == G_N_ELEMENTS(columns));
    lzc_csv(cells, G_N_ELEMENTS(cells));
  } else if (shift->heads == 0 && shift->after == LZQ_NEVER) { // it ends
    printf(_("  lot %1$s: %2$s\n"), shift->lot, shift->because);
  } else if (shift->added) {
    printf(_("  lot %1$s (new): %2$s; %3$s\n"), shift->lot, after, shift->because);
  } else if (!dated) {
    // Translators: lot; release before and after; reason
    printf(_("  lot %1$s: %2$s -> %3$s; %4$s\n"), shift->lot, before, after, shift->because);
  } else {
    g_autofree char *later = lz_format_short((double)shift->later_min / LZQ_DAY, 2);
    g_autofree char *sum = lz_format_short(shift->fish_days, 1);
    // Translators: lot; release before and after; days, fish, fish-days; reason
    printf(_("  lot %1$s: %2$s -> %3$s, %4$s days x %5$s fish = %6$s fish-days; %7$s\n"),
           shift->lot, before, after, later, heads, sum, shift->because);
  }
}

// A row of a way that has no lot of its own to tell of.
static void
put_words(const char *way, const char *words)
{
  const char *cells[] = {way, "", "", "", "", "", "", "", words};
  G_STATIC_ASSERT(G_N_ELEMENTS(cells) == G_N_ELEMENTS(columns));
  lzc_csv(cells, G_N_ELEMENTS(cells));
}

void
lzc_foresight_refused(const LzcForesight *out, const char *way, const char *why)
{
  if (out->csv)
    put_words(way, why);
  else
    printf("%s\n  %s\n", way, why);
}

void
lzc_foresight_put(const LzcForesight *out, const char *way, const LzForesight *f)
{
  if (!out->csv && *way)
    printf("%s\n", way);
  for (guint i = 0; i < f->lots->len; i++)
    put_shift(out, way, f->lots->pdata[i]);
  if (out->csv) {
    if (f->lots->len == 0)
      put_words(way, _("no date moves"));
    return;
  }
  if (f->lots->len == 0)
    printf(_("  no date moves\n"));
  for (guint i = 0; i < f->conflicts->len; i++)
    printf(_("  %s: no level serves all lots there any more\n"),
           (const char *)f->conflicts->pdata[i]);
  for (guint i = 0; i < f->rooms->len; i++)
    printf(_("  %s holds no fish and would delay nobody\n"), (const char *)f->rooms->pdata[i]);
  for (guint i = 0; i < f->contacts->len; i++)
    printf(_("  contact: %s\n"), (const char *)f->contacts->pdata[i]);
  for (guint i = 0; i < f->notes->len; i++)
    printf(_("  note: %s\n"), (const char *)f->notes->pdata[i]);
}
