// SPDX-License-Identifier: GPL-3.0-or-later
// What these fish had before they were this lot. A part of a split had all that its parent had
// until then, and carries on its phase (docs/engine/credit.md); of a lot that joined only its own
// fish had what it had, which is told and marked, too.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lzr_lot.h"

#define PARTS_MOST 64

static gboolean
counts_before(LzEntry *entry, lzq_minute until, int64_t before)
{
  return lz_entry_at(entry) < until || (lz_entry_at(entry) == until && lz_entry_id(entry) < before);
}

static gboolean
is_known(const GArray *parts, uint32_t lot, lzq_minute until, gboolean some)
{
  for (guint i = 0; i < parts->len; i++) {
    const LzrPart *part = &g_array_index(parts, LzrPart, i);
    if (part->lot == lot && part->until >= until && (some || !part->some))
      return TRUE;
  }
  return FALSE;
}

// Its own, then those that it comes from, then those that joined it: what all of the fish had goes
// before what some had.
static void
add_parts(LzrBuild *build, GArray *parts, LzrPart part)
{
  if (part.lot == LZQ_NONE || parts->len >= PARTS_MOST ||
      is_known(parts, part.lot, part.until, part.some))
    return;
  LzEntry *origin = lzr_origin(build, part.lot);
  part.stays = lzr_stays(build, part.lot);
  g_array_append_val(parts, part);
  if (origin && strcmp(lz_entry_kind(origin), "split") == 0)
    add_parts(
        build, parts,
        (LzrPart){.lot = lzr_index(build, origin, "lot", "lot"),
                  .until = MIN(part.until, lz_entry_at(origin)),
                  .before = lz_entry_at(origin) <= part.until ? lz_entry_id(origin) : part.before,
                  .some = part.some});
  g_autoptr(GPtrArray) merges =
      lz_desk_facts(build->desk, "merge", 0, lz_desk_now(build->desk) + 1);
  for (guint i = 0; i < merges->len; i++)
    if (lzr_index(build, merges->pdata[i], "into", "lot") == part.lot &&
        counts_before(merges->pdata[i], part.until, part.before))
      add_parts(build, parts,
                (LzrPart){.lot = lzr_index(build, merges->pdata[i], "lot", "lot"),
                          .until = lz_entry_at(merges->pdata[i]),
                          .before = lz_entry_id(merges->pdata[i]),
                          .some = TRUE});
}

static int
by_from(gconstpointer a, gconstpointer b)
{
  const LzrStay *sa = a, *sb = b;
  return sa->from < sb->from ? -1 : sa->from > sb->from;
}

static GArray *
way_of(const GArray *parts)
{
  GArray *way = g_array_new(FALSE, FALSE, sizeof(LzrStay));
  for (guint i = 0; i < parts->len; i++) {
    const LzrPart *part = &g_array_index(parts, LzrPart, i);
    for (guint k = 0; !part->some && k < part->stays->len; k++) {
      LzrStay stay = g_array_index(part->stays, LzrStay, k);
      stay.to = MIN(stay.to, part->until);
      if (stay.from < part->until)
        g_array_append_val(way, stay);
    }
  }
  g_array_sort(way, by_from);
  return way;
}

const LzrPart *
lzr_lot_part(LzrBuild *build, const LzrLot *lot, LzEntry *fact)
{
  for (guint i = 0; i < lot->parts->len; i++) {
    const LzrPart *part = &g_array_index(lot->parts, LzrPart, i);
    if (counts_before(fact, part->until, lz_entry_has(fact, "lot") ? part->before : 0) &&
        lzr_lot_has(build, part->lot, part->stays, fact))
      return part;
  }
  return NULL;
}

GPtrArray *
lzr_family_facts(LzrBuild *build, const LzrLot *lot, const char *kind)
{
  GPtrArray *out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, kind, 0, lz_desk_now(build->desk) + 1);
  for (guint i = 0; i < facts->len; i++)
    if (lzr_lot_part(build, lot, facts->pdata[i]))
      g_ptr_array_add(out, lz_entry_ref(facts->pdata[i]));
  return out;
}

const char *
lzr_as_words(LzrBuild *build, const LzrLot *lot, LzEntry *fact)
{
  const LzrPart *part = lzr_lot_part(build, lot, fact);
  return part && part->lot != lot->lot
             ? lzr_printf(build, _("lot %s"), lz_desk_name(build->desk, "lot", part->lot))
             : NULL;
}

// --- the course

static const lzq_lot_credit *
credit_of(LzrBuild *build, uint32_t lot)
{
  const lzq_plan *plan = lz_desk_plan(build->desk);
  return plan && lot < plan->credit->n_lots ? &plan->credit->lots[lot] : NULL;
}

static guint
same_stay(const GArray *visits, const lzq_visit *visit)
{
  guint i = 0;
  for (; i < visits->len; i++) {
    const lzq_visit *one = &g_array_index(visits, LzrVisit, i).visit;
    if (one->protocol == visit->protocol && one->phase == visit->phase &&
        one->start == visit->start)
      break;
  }
  return i;
}

static void
add_span(LzrLot *out, const lzq_span *span, guint visit, lzq_minute until)
{
  lzq_span clipped = *span;
  clipped.to = MIN(clipped.to, until);
  clipped.visit = visit;
  if (clipped.from < clipped.to)
    g_array_append_val(out->spans, clipped);
}

// What all of the fish were in: the stays that ended before the split, and of the one that went on
// in both parts the minutes before it.
static void
add_whole(LzrLot *out, const LzrPart *part, const lzq_lot_credit *credit)
{
  g_autofree guint *place = g_new(guint, credit->n_visits + 1);
  for (uint32_t i = 0; i < credit->n_visits; i++) {
    const LzrVisit own = {.visit = credit->visits[i], .lot = part->lot};
    place[i] = same_stay(out->visits, &own.visit);
    if (place[i] == out->visits->len && own.visit.start < part->until &&
        (part->until == LZQ_NEVER || own.visit.end <= part->until))
      g_array_append_val(out->visits, own);
    else if (place[i] == out->visits->len)
      place[i] = G_MAXUINT;
  }
  for (uint32_t i = 0; i < credit->n_spans; i++)
    if (place[credit->spans[i].visit] != G_MAXUINT)
      add_span(out, &credit->spans[i], place[credit->spans[i].visit], part->until);
}

// A lot that joined and was further behind: its stay goes on as that of all, and its minutes with
// it. Where the two were in one phase the smaller counts, and each record has its own minutes.
static void
add_joined(LzrLot *out, const LzrPart *part, const lzq_lot_credit *credit, const GArray *bare)
{
  for (uint32_t i = 0; i < credit->n_spans; i++) {
    const guint visit = same_stay(out->visits, &credit->visits[credit->spans[i].visit]);
    if (visit < bare->len && g_array_index(bare, lzq_minute, visit) >= part->until)
      add_span(out, &credit->spans[i], visit, part->until);
  }
}

// First minute of each stay that a span of these fish tells of.
static GArray *
first_told(const LzrLot *lot)
{
  GArray *first = g_array_new(FALSE, FALSE, sizeof(lzq_minute));
  const lzq_minute never = LZQ_NEVER;
  for (guint i = 0; i < lot->visits->len; i++)
    g_array_append_val(first, never);
  for (guint i = 0; i < lot->spans->len; i++) {
    const lzq_span *span = &g_array_index(lot->spans, lzq_span, i);
    lzq_minute *at = &g_array_index(first, lzq_minute, span->visit);
    *at = MIN(*at, span->from);
  }
  return first;
}

static int
by_start(gconstpointer a, gconstpointer b, gpointer visits)
{
  const LzrVisit *va = &g_array_index((GArray *)visits, LzrVisit, *(const guint *)a);
  const LzrVisit *vb = &g_array_index((GArray *)visits, LzrVisit, *(const guint *)b);
  if (va->visit.start != vb->visit.start)
    return va->visit.start < vb->visit.start ? -1 : 1;
  return *(const guint *)a < *(const guint *)b ? -1 : 1;
}

static int
by_minute(gconstpointer a, gconstpointer b)
{
  const lzq_span *sa = a, *sb = b;
  return sa->from < sb->from ? -1 : sa->from > sb->from;
}

// A split in the middle of a stretch does not end it.
static void
join_spans(GArray *spans)
{
  guint n = 0;
  for (guint i = 0; i < spans->len; i++) {
    const lzq_span span = g_array_index(spans, lzq_span, i);
    lzq_span *last = n ? &g_array_index(spans, lzq_span, n - 1) : NULL;
    if (last && last->to == span.from && last->visit == span.visit && last->why == span.why &&
        last->band == span.band && last->firm == span.firm && last->system == span.system)
      last->to = span.to;
    else
      g_array_index(spans, lzq_span, n++) = span;
  }
  g_array_set_size(spans, n);
}

static void
put_in_order(LzrLot *lot)
{
  const guint n = lot->visits->len;
  g_autofree guint *order = g_new(guint, n + 1), *place = g_new(guint, n + 1);
  GArray *sorted = g_array_sized_new(FALSE, FALSE, sizeof(LzrVisit), n);
  for (guint i = 0; i < n; i++)
    order[i] = i;
  g_qsort_with_data(order, (gint)n, sizeof *order, by_start, lot->visits);
  for (guint i = 0; i < n; i++) {
    place[order[i]] = i;
    g_array_append_val(sorted, g_array_index(lot->visits, LzrVisit, order[i]));
  }
  for (guint i = 0; i < lot->spans->len; i++) {
    lzq_span *span = &g_array_index(lot->spans, lzq_span, i);
    span->visit = place[span->visit];
  }
  g_array_sort(lot->spans, by_minute);
  join_spans(lot->spans);
  g_array_unref(lot->visits);
  lot->visits = sorted;
}

static void
open_course(LzrBuild *build, LzrLot *lot)
{
  for (guint i = 0; i < lot->parts->len; i++) {
    const LzrPart *part = &g_array_index(lot->parts, LzrPart, i);
    const lzq_lot_credit *credit = credit_of(build, part->lot);
    if (!part->some && credit)
      add_whole(lot, part, credit);
  }
  g_autoptr(GArray) bare = first_told(lot);
  for (guint i = 0; i < lot->parts->len; i++) {
    const LzrPart *part = &g_array_index(lot->parts, LzrPart, i);
    const lzq_lot_credit *credit = credit_of(build, part->lot);
    if (part->some && credit)
      add_joined(lot, part, credit, bare);
  }
  put_in_order(lot);
}

static void
clear_part(gpointer part)
{
  g_array_unref(((LzrPart *)part)->stays);
}

void
lzr_lot_open(LzrBuild *build, uint32_t lot, LzrLot *out)
{
  out->lot = lot;
  out->credit = credit_of(build, lot);
  out->parts = g_array_new(FALSE, FALSE, sizeof(LzrPart));
  g_array_set_clear_func(out->parts, clear_part);
  add_parts(build, out->parts, (LzrPart){.lot = lot, .until = LZQ_NEVER});
  out->stays = out->parts->len ? g_array_ref(g_array_index(out->parts, LzrPart, 0).stays)
                               : g_array_new(FALSE, FALSE, sizeof(LzrStay));
  out->way = way_of(out->parts);
  out->visits = g_array_new(FALSE, FALSE, sizeof(LzrVisit));
  out->spans = g_array_new(FALSE, FALSE, sizeof(lzq_span));
  open_course(build, out);
}

void
lzr_lot_clear(LzrLot *lot)
{
  g_array_unref(lot->parts);
  g_array_unref(lot->stays);
  g_array_unref(lot->way);
  g_array_unref(lot->visits);
  g_array_unref(lot->spans);
}
