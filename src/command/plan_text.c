// SPDX-License-Identifier: GPL-3.0-or-later
// The plan for people: each lot's way, its credit, why it may not go yet; then the tasks.
#include "lzc_machine.h"
#include "lzc_plan.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>

#include <lz_contacts.h>
#include <lz_format.h>
#include <lz_words.h>

static char *
when(const LzcPlan *p, lzq_minute at)
{
  return at == LZQ_NEVER || at == LZQ_LONG_AGO ? g_strdup(_("not known"))
                                               : lz_format_full(lz_desk_zone(p->desk), at);
}

static const char *
phase_name(const LzcPlan *p, uint32_t protocol, uint32_t phase)
{
  const lzq_snapshot *s = lz_desk_snapshot(p->desk);
  if (protocol >= s->n_protocols || phase >= s->protocols[protocol].n_phases)
    return "";
  return lz_desk_name(p->desk, "phase", s->protocols[protocol].first_phase + phase);
}

static void
print_past(const LzcPlan *p, uint32_t lot)
{
  const lzq_lot_credit *credit = &p->plan->credit->lots[lot];
  for (uint32_t v = 0; v < credit->n_visits; v++) {
    const lzq_visit *visit = &credit->visits[v];
    g_autofree char *from = when(p, visit->start);
    g_autofree char *to = visit->end == LZQ_NEVER ? g_strdup(_("now")) : when(p, visit->end);
    g_autofree char *served = lz_format_duration(visit->credit_min);
    g_autofree char *open = lz_format_duration(visit->open_min);
    const char *end = visit->left == LZQ_LEFT_SIGHTING ? _("set back by a sighting")
                      : visit->left == LZQ_LEFT_LATE ? _("set back: the transfer or dose was late")
                      : visit->left == LZQ_LEFT_APART
                          ? _("set back: merged with fish too far apart")
                      : visit->left == LZQ_LEFT_STOPPED  ? _("stopped")
                      : visit->left == LZQ_LEFT_NOT      ? _("running")
                      : visit->left == LZQ_LEFT_RELEASED ? _("released in it")
                      : visit->left == LZQ_LEFT_DEAD     ? _("no fish left")
                      : visit->firm_at == LZQ_NEVER ? _("ended, provisional until the next test")
                                                    : _("ended");
    g_autofree char *accepted = lz_format_duration(visit->accepted_min);
    printf(_("  %-14s %s to %s  credit %s, of that open %s; %s"),
           phase_name(p, visit->protocol, visit->phase), from, to, served, open, end);
    if (visit->accepted_min > 0)
      printf(_("; %s accepted by a person"), accepted);
    printf("\n");
  }
}

static void
print_gaps(const LzcPlan *p, uint32_t lot)
{
  const lzq_snapshot *s = lz_desk_snapshot(p->desk);
  const lzq_lot_credit *credit = &p->plan->credit->lots[lot];
  for (uint32_t i = 0; i < credit->n_spans; i++) {
    const lzq_span *span = &credit->spans[i];
    const lzq_visit *visit = &credit->visits[span->visit];
    const lzq_protocol *protocol = &s->protocols[visit->protocol];
    if (span->why == LZQ_WHY_NONE || visit->phase >= protocol->n_phases)
      continue;
    const lzq_phase *phase = &s->phases[protocol->first_phase + visit->phase];
    g_autofree char *why =
        lz_words_why(span->why, span->band < phase->n_bands ? &phase->bands[span->band] : NULL);
    g_autofree char *from = when(p, span->from);
    g_autofree char *length = lz_format_duration(span->to - span->from);
    printf(_("    no credit from %s, %s: %s\n"), from, length, why);
  }
}

static void
print_ahead(const LzcPlan *p, uint32_t lot)
{
  const lzq_lot_plan *way = &p->plan->lots[lot];
  for (uint32_t i = 0; i < way->n_segments; i++) {
    const lzq_segment *segment = &way->segments[i];
    if (segment->past)
      continue;
    g_autofree char *from = when(p, segment->start);
    g_autofree char *to = when(p, segment->end);
    g_autofree char *because = lz_words_because(p->desk, &segment->because);
    printf(_("  %-14s %s to %s  planned%s%s  %s\n"),
           phase_name(p, segment->protocol, segment->phase), from, to,
           segment->system == LZQ_NONE ? "" : ", ",
           segment->system == LZQ_NONE ? "" : lz_desk_name(p->desk, "system", segment->system),
           because);
  }
}

static void
print_lot(const LzcPlan *p, uint32_t lot)
{
  const lzq_lot_plan *way = &p->plan->lots[lot];
  const lzq_lot_credit *credit = &p->plan->credit->lots[lot];
  g_autofree char *heads =
      g_strdup_printf(ngettext("%d fish", "%d fish", credit->heads), credit->heads);
  const char *system = credit->tank == LZQ_NONE ? "-" : lz_desk_name(p->desk, "tank", credit->tank);
  printf(_("Lot %s, %s, in %s"), lz_desk_name(p->desk, "lot", lot), heads, system);
  if (credit->has_course || credit->served)
    printf(", %s", lz_desk_name(p->desk, "protocol", credit->protocol));
  printf("\n");
  print_past(p, lot);
  print_gaps(p, lot);
  if (credit->released) {
    g_autofree char *at = when(p, credit->released_at);
    if (way->n_waits && way->waits[0].code == LZQ_BECAUSE_SHORT) {
      g_autofree char *why = lz_words_because(p->desk, &way->waits[0]);
      printf(_("  released %1$s; %2$s\n"), at, why);
      return;
    }
    printf(_("  released %s\n"), at);
    return;
  }
  if (credit->merged || credit->dead) {
    g_autofree char *gone = lz_words_because(p->desk, &way->because);
    printf("  %s\n", gone);
    return;
  }
  print_ahead(p, lot);
  g_autofree char *earliest = when(p, way->release_earliest);
  g_autofree char *late = when(p, way->release_late);
  g_autofree char *why = lz_words_because(p->desk, &way->because);
  printf(_("  release at the earliest %s, late %s. %s\n"), earliest, late, why);
  for (uint32_t i = 1; i < way->n_waits; i++) {
    g_autofree char *more = lz_words_because(p->desk, &way->waits[i]);
    printf("    %s\n", more);
  }
}

static void
print_task(const LzcPlan *p, const lzq_task *task)
{
  g_autofree char *at = when(p, task->at);
  g_autofree char *where = lz_words_task_where(p->desk, task);
  g_autofree char *what = lz_words_task(p->desk, task);
  g_autofree char *amount = lz_words_task_amount(p->desk, task);
  g_autofree char *why = lz_words_because(p->desk, &task->because);
  printf("  %s  %-8s %-12s %s%s%s. %s\n", at, lz_words_task_state(task->state), where, what,
         *amount ? ": " : "", amount, why);
}

static void
print_matters(const LzcPlan *p)
{
  g_autoptr(GPtrArray) all = lz_matters_list(p->desk, p->plan);
  gboolean any = FALSE;
  for (guint i = 0; i < all->len; i++) {
    const LzMatterInfo *c = &((LzMatterItem *)all->pdata[i])->info;
    if (!lzc_plan_shows_matter(p, c))
      continue;
    if (!any)
      printf("%s\n", _("To look at"));
    any = TRUE;
    if (*c->customer) // Translators: lot, customer, what happened
      printf(_("  lot %1$s, customer %2$s: %3$s"), c->code, c->customer, c->what);
    else
      printf(_("  lot %1$s: %2$s"), c->code, c->what);
    g_autofree char *most = lz_format_duration(c->acceptable_min);
    if (c->acceptable_min > 0)
      printf(_("; a named person may accept %s"), most);
    printf("\n");
  }
}

static void
print_contacts(const LzcPlan *p)
{
  g_autoptr(GPtrArray) all = lz_contacts_list(p->desk, p->plan->credit);
  int64_t sighting = 0;
  for (guint i = 0; i < all->len; i++) {
    const LzContactInfo *c = &((LzContact *)all->pdata[i])->info;
    if (!lzc_plan_shows_contact(p, c))
      continue;
    g_autofree char *at = when(p, c->seen_at);
    if (c->sighting != sighting)
      printf(_("Contacts of the sighting in %1$s on %2$s\n"),
             lz_desk_name(p->desk, "system", c->seen_in), at);
    sighting = c->sighting;
    printf(_("  lot %1$s %2$s; %3$s\n"), c->code, c->what, *c->now_in ? c->now_in : _("gone"));
  }
}

static void
print_way(const LzcPlan *p, uint32_t system, const LzWay *way)
{
  g_autofree char *release = when(p, way->release);
  const char *water = lz_desk_name(p->desk, "system", system);
  if (isnan(way->fish_days)) {
    // Translators: system, what could be done
    printf(_("  %1$s: %2$s: a lot has no date then\n"), water, way->words);
    return;
  }
  g_autofree char *days = lz_format_short(way->days, 1);
  g_autofree char *fish_days = lz_format_short(way->fish_days, 1);
  // Translators: system, what could be done, days and fish-days that it costs, last release
  printf(_("  %1$s: %2$s: %3$s days, %4$s fish-days later than alone there, last release %5$s\n"),
         water, way->words, days, fish_days, release);
}

void
lzc_plan_text(const LzcPlan *p)
{
  g_autofree char *now = when(p, p->plan->now);
  printf(_("%s, plan of %s\n"), lz_desk_station_name(p->desk), now);
  if (lz_desk_is_practice(p->desk))
    printf("%s\n", _("Practice: this file was written under a clock that was handed in."));
  for (uint32_t lot = 0; lot < p->plan->credit->n_lots; lot++)
    if (lzc_plan_shows_lot(p, lot))
      print_lot(p, lot);
  print_matters(p);
  print_contacts(p);
  if (lzc_plan_torn(p))
    printf("%s\n", _("Ways out where no level serves all lots"));
  lzc_plan_ways(p, print_way);
  printf("%s\n", _("Tasks"));
  guint shown = 0;
  for (uint32_t i = 0; i < p->plan->n_tasks; i++)
    if (lzc_plan_shows_task(p, &p->plan->tasks[i])) {
      print_task(p, &p->plan->tasks[i]);
      shown++;
    }
  if (!shown)
    printf("  %s\n", _("none"));
  printf("%s\n", _("Local rules and a veterinarian decide on medicines."));
}
