// SPDX-License-Identifier: GPL-3.0-or-later
// Which readings an instrument's checks let stand: see lz_trust.h.
#include "lz_trust.h"

struct _LzTrust {
  GPtrArray *checks; // per instrument: GArray of Check, by time; NULL = never checked
  gboolean trust_unchecked;
};

typedef struct {
  lzq_minute at;
  gboolean ok;
} Check;

static int
by_time(gconstpointer a, gconstpointer b)
{
  const Check *x = a, *y = b;
  return (x->at > y->at) - (x->at < y->at);
}

static void
free_checks(gpointer checks)
{
  if (checks)
    g_array_unref(checks);
}

LzTrust *
lz_trust_new(const LzModel *m, lzq_minute until)
{
  LzTrust *trust = g_new0(LzTrust, 1);
  trust->checks = g_ptr_array_new_with_free_func(free_checks);
  trust->trust_unchecked = m->rules.trust_unchecked;
  g_ptr_array_set_size(trust->checks, (int)m->instruments->len);
  for (guint k = 0; k < m->checks->len; k++) {
    const uint32_t i = g_array_index(m->checks, uint32_t, k);
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->instrument >= trust->checks->len || r->at > until || !lz_model_record_holds(m, i))
      continue;
    GArray *own = trust->checks->pdata[r->instrument];
    if (!own)
      trust->checks->pdata[r->instrument] = own = g_array_new(FALSE, FALSE, sizeof(Check));
    Check check = {r->at, r->ok};
    g_array_append_val(own, check);
  }
  // stable: of two checks in one minute the one entered later is the later one
  for (guint i = 0; i < trust->checks->len; i++)
    if (trust->checks->pdata[i])
      g_array_sort(trust->checks->pdata[i], by_time);
  return trust;
}

void
lz_trust_free(LzTrust *trust)
{
  if (!trust)
    return;
  g_ptr_array_unref(trust->checks);
  g_free(trust);
}

const LzTrust *
lz_trust_now(LzModel *m, lzq_minute until)
{
  if (!m->trust || m->trust_generation != m->generation || m->trust_records != m->records->len ||
      m->trust_until != until || m->trust->trust_unchecked != m->rules.trust_unchecked) {
    lz_trust_free(m->trust);
    m->trust = lz_trust_new(m, until);
    m->trust_generation = m->generation;
    m->trust_records = m->records->len;
    m->trust_until = until;
  }
  return m->trust;
}

// How many checks lie at or before a minute.
static guint
checks_until(const GArray *own, lzq_minute at)
{
  guint low = 0, high = own ? own->len : 0;
  while (low < high) {
    const guint middle = low + (high - low) / 2;
    if (g_array_index(own, Check, middle).at <= at)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

gboolean
lz_trust_reading(const LzTrust *trust, uint32_t instrument, lzq_minute at)
{
  if (instrument >= trust->checks->len)
    return TRUE;
  const GArray *own = trust->checks->pdata[instrument];
  const guint n = checks_until(own, at);
  const gboolean before = n ? g_array_index(own, Check, n - 1).ok : trust->trust_unchecked;
  return before && (!own || n == own->len || g_array_index(own, Check, n).ok);
}

lzq_minute
lz_trust_checked_at(const LzTrust *trust, uint32_t instrument, lzq_minute at)
{
  const GArray *own = instrument < trust->checks->len ? trust->checks->pdata[instrument] : NULL;
  for (guint n = checks_until(own, at); n > 0; n--)
    if (g_array_index(own, Check, n - 1).ok)
      return g_array_index(own, Check, n - 1).at;
  return LZQ_LONG_AGO;
}
