// SPDX-License-Identifier: GPL-3.0-or-later
// One line for each thing in a plan; numbers that are not whole as hexadecimal, so that nothing is
// rounded.
#define _POSIX_C_SOURCE 200809L
#include "plan_print.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define I(value) fprintf(out, " " #value "=%" PRId64, (int64_t)(value))
#define D(value) fprintf(out, " " #value "=%a", (value))

static void
print_because(FILE *out, const lzq_because *why)
{
  fprintf(out, " why=%d(%a,%a,%a,%a)", (int)why->code, why->n[0], why->n[1], why->n[2], why->n[3]);
}

static void
print_course(FILE *out, const lzq_lot_credit *lot)
{
  for (uint32_t i = 0; i < lot->n_visits; i++) {
    const lzq_visit *v = &lot->visits[i];
    fprintf(out, " visit");
    I(v->protocol), I(v->phase), I(v->start), I(v->course_from), I(v->placed_at), I(v->given_at),
        I(v->end), I(v->credit_from);
    I(v->credit_min), I(v->open_min), I(v->accepted_min), I(v->firm_at), I(v->first_lapse);
    I(v->last_lapse), I(v->lapses), I(v->left);
    fputc('\n', out);
  }
  for (uint32_t i = 0; i < lot->n_spans; i++) {
    const lzq_span *s = &lot->spans[i];
    fprintf(out, " span");
    I(s->from), I(s->to), I(s->why), I(s->band), I(s->firm), I(s->system), I(s->visit);
    fputc('\n', out);
  }
  for (uint32_t i = 0; i < lot->n_stays; i++) {
    fprintf(out, " stay");
    I(lot->stays[i].from), I(lot->stays[i].to), I(lot->stays[i].system);
    fputc('\n', out);
  }
}

static void
print_credit(FILE *out, const lzq_credit *credit)
{
  for (uint32_t l = 0; l < credit->n_lots; l++) {
    const lzq_lot_credit *c = &credit->lots[l];
    fprintf(out, "lot %u", l);
    I(c->has_course), I(c->served), I(c->released), I(c->merged), I(c->dead), I(c->protocol);
    I(c->phase), I(c->system), I(c->tank), I(c->heads), I(c->received_at), I(c->credit_min);
    I(c->open_min), I(c->accepted_min), I(c->run_min), I(c->served_at), I(c->firm_at);
    I(c->releasable_at), I(c->released_at), I(c->held_by), I(c->last_sighting);
    fputc('\n', out);
    print_course(out, c);
  }
  for (size_t i = 0; i < credit->n_uncoursed; i++) {
    const lzq_uncoursed *u = &credit->uncoursed[i];
    I(u->at), I(u->lot), I(u->system);
    fputc('\n', out);
  }
  for (size_t i = 0; i < credit->n_ignored; i++) {
    const lzq_ignored *g = &credit->ignored[i];
    I(g->entry), I(g->at), I(g->lot), I(g->other), I(g->kind), I(g->why);
    fputc('\n', out);
  }
}

static void
print_lot(FILE *out, const lzq_lot_plan *lot)
{
  I(lot->release_earliest), I(lot->release_likely), I(lot->release_late), I(lot->served);
  I(lot->served_firm);
  print_because(out, &lot->because);
  for (uint32_t i = 0; i < lot->n_waits; i++)
    print_because(out, &lot->waits[i]);
  fputc('\n', out);
  for (uint32_t i = 0; i < lot->n_segments; i++) {
    const lzq_segment *s = &lot->segments[i];
    fprintf(out, " segment");
    I(s->lot), I(s->protocol), I(s->phase), I(s->system), I(s->tank), I(s->start), I(s->end);
    I(s->past), I(s->firm);
    print_because(out, &s->because);
    fputc('\n', out);
  }
}

static void
print_water(FILE *out, const lzq_water_plan *water)
{
  I(water->conflict_a), I(water->conflict_b), I(water->open_dose_at), D(water->open_dose_mg);
  for (int a = 0; a < 2; a++) {
    I(water->has_band[a]), I(water->read_at[a]), D(water->level[a]);
    if (water->has_band[a])
      D(water->band[a].works), D(water->band[a].target), I(water->band[a].gap_min);
    for (uint32_t i = 0; i < water->n_target[a]; i++)
      I(water->target[a][i].at), D(water->target[a][i].level);
  }
  fputc('\n', out);
}

static void
print_task(FILE *out, const lzq_task *t)
{
  fprintf(out, "task");
  I(t->kind), I(t->state), I(t->system), I(t->tank), I(t->lot), I(t->bottle), I(t->to_system);
  I(t->gear), I(t->analyte), I(t->at), I(t->deadline), D(t->amount), I(t->unit);
  D(t->level_before), D(t->level_after), D(t->dose_mg), D(t->with_change_l), D(t->new_salinity);
  I(t->walk);
  print_because(out, &t->because);
  fputc('\n', out);
}

// A text to print into; the stream is closed by finish.
static FILE *
begin(char **text, size_t *size)
{
  FILE *out = open_memstream(text, size);
  if (!out)
    abort();
  return out;
}

char *
lzt_print_credit(const lzq_credit *credit)
{
  char *text;
  size_t size;
  FILE *out = begin(&text, &size);
  print_credit(out, credit);
  fclose(out);
  return text;
}

char *
lzt_print_plan(const lzq_plan *plan, uint32_t n_systems)
{
  char *text;
  size_t size;
  FILE *out = begin(&text, &size);
  print_credit(out, plan->credit);
  for (uint32_t l = 0; l < plan->credit->n_lots; l++)
    print_lot(out, &plan->lots[l]);
  for (uint32_t i = 0; i < n_systems; i++) {
    fprintf(out, "water %u walk %d", i, plan->walk[i]);
    print_water(out, &plan->waters[i]);
  }
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    print_task(out, &plan->tasks[i]);
  fclose(out);
  return text;
}

const char *
lzt_print_difference(const char *a, const char *b)
{
  static char line[1200];
  size_t i = 0, start = 0;
  for (; a[i] && a[i] == b[i]; i++)
    if (a[i] == '\n')
      start = i + 1;
  if (a[i] == b[i])
    return NULL;
  snprintf(line, sizeof line, "%.*s <> %.*s", (int)strcspn(a + start, "\n"), a + start,
           (int)strcspn(b + start, "\n"), b + start);
  return line;
}
