// SPDX-License-Identifier: GPL-3.0-or-later
// The plan as CSV: a row per thing that begins, ends, lapses, goes back, is served, firm, released,
// waited for or to be done. New columns come last; a name is never reused.
#include "lzc_machine.h"
#include "lzc_plan.h"

#include <math.h>

#include <lz_contacts.h>
#include <lz_format.h>
#include <lz_words.h>

// Column of each cell and its name.
// clang-format off
#define COLUMNS(X) \
  X(C_LOT, "lot") X(C_PHASE, "phase") X(C_WHAT, "what") X(C_WHEN, "when") \
  X(C_CREDIT, "credit_min") X(C_SYSTEM, "system") X(C_AMOUNT, "amount") X(C_UNIT, "unit") \
  X(C_BECAUSE, "because") X(C_PROTOCOL, "protocol") X(C_LOCAL, "local") \
  X(C_PLANNED, "planned") X(C_TASK, "task") X(C_STATE, "state") X(C_TANK, "tank") \
  X(C_ANALYTE, "analyte") X(C_DEADLINE, "deadline") X(C_BOTTLE, "bottle") \
  X(C_BEFORE, "level_before") X(C_AFTER, "level_after") X(C_MG, "dose_mg") \
  X(C_LIKELY, "likely") X(C_LATE, "late") X(C_HEADS, "heads") X(C_KIND, "kind") \
  X(C_CODE, "because_code") X(C_CUSTOMER, "customer") X(C_OTHER, "other") \
  X(C_INSTRUMENT, "instrument")
// clang-format on
#define NAME_OF(column, name)   name,
#define COLUMN_OF(column, name) column,

static const char *const columns[] = {COLUMNS(NAME_OF)};
enum { COLUMNS(COLUMN_OF) N_COLUMNS };

typedef struct {
  char *cells[N_COLUMNS];
} Row;

static void
set(Row *row, int column, const char *text)
{
  g_free(row->cells[column]);
  row->cells[column] = g_strdup(text ? text : "");
}

static void
take(Row *row, int column, char *text)
{
  g_free(row->cells[column]);
  row->cells[column] = text;
}

static void
set_number(Row *row, int column, double value)
{
  take(row, column, lzc_number(value));
}

static void
set_iso(Row *row, int column, lzq_minute at)
{
  if (at != LZQ_NEVER)
    take(row, column, lz_format_iso(at));
}

static void
set_when(const LzcPlan *p, Row *row, lzq_minute at)
{
  if (at == LZQ_NEVER || at == LZQ_LONG_AGO)
    return;
  take(row, C_WHEN, lz_format_iso(at));
  take(row, C_LOCAL, lz_format_full(lz_desk_zone(p->desk), at));
}

static void
set_because(const LzcPlan *p, Row *row, const lzq_because *because)
{
  take(row, C_BECAUSE, lz_words_because(p->desk, because));
  set(row, C_CODE, lzc_word_because(because->code));
}

static void
set_name(const LzcPlan *p, Row *row, int column, const char *kind, uint32_t index)
{
  if (index != LZQ_NONE)
    set(row, column, lz_desk_name(p->desk, kind, index));
}

static void
set_place(const LzcPlan *p, Row *row, uint32_t system, uint32_t tank)
{
  set_name(p, row, C_SYSTEM, "system", system);
  set_name(p, row, C_TANK, "tank", tank);
}

static void
set_phase(const LzcPlan *p, Row *row, uint32_t protocol, uint32_t phase)
{
  const lzq_snapshot *s = lz_desk_snapshot(p->desk);
  if (protocol == LZQ_NONE || protocol >= s->n_protocols)
    return;
  set(row, C_PROTOCOL, lz_desk_name(p->desk, "protocol", protocol));
  if (phase < s->protocols[protocol].n_phases)
    set(row, C_PHASE, lz_desk_name(p->desk, "phase", s->protocols[protocol].first_phase + phase));
}

static Row
lot_row(const LzcPlan *p, uint32_t lot, const char *what, lzq_minute at)
{
  Row row = {{NULL}};
  set(&row, C_LOT, lz_desk_name(p->desk, "lot", lot));
  set(&row, C_WHAT, what);
  set_when(p, &row, at);
  set(&row, C_PLANNED, at > p->plan->now ? "yes" : "no");
  return row;
}

static void
put(Row *row)
{
  for (int c = 0; c < N_COLUMNS; c++)
    row->cells[c] = row->cells[c] ? row->cells[c] : g_strdup("");
  lzc_csv((const char *const *)row->cells, N_COLUMNS);
  for (int c = 0; c < N_COLUMNS; c++)
    g_free(row->cells[c]);
}

// System in which the lot stood at the beginning or the end of a visit.
static uint32_t
visit_system(const lzq_lot_credit *credit, uint32_t visit, gboolean last)
{
  uint32_t system = LZQ_NONE;
  for (uint32_t i = 0; i < credit->n_spans; i++)
    if (credit->spans[i].visit == visit && (last || system == LZQ_NONE))
      system = credit->spans[i].system;
  return system == LZQ_NONE ? credit->system : system;
}

static void
put_visit(const LzcPlan *p, uint32_t lot, uint32_t index, const char *what, lzq_minute at,
          int64_t credit_min)
{
  const lzq_lot_credit *credit = &p->plan->credit->lots[lot];
  const lzq_visit *visit = &credit->visits[index];
  Row row = lot_row(p, lot, what, at);
  set_phase(p, &row, visit->protocol, visit->phase);
  set_place(p, &row, visit_system(credit, index, at != visit->start), LZQ_NONE);
  take(&row, C_CREDIT, g_strdup_printf("%" G_GINT64_FORMAT, credit_min));
  put(&row);
}

static void
put_past(const LzcPlan *p, uint32_t lot)
{
  static const char *const left[] = {
      [LZQ_LEFT_ENDED] = "end",       [LZQ_LEFT_SIGHTING] = "back", [LZQ_LEFT_LATE] = "back",
      [LZQ_LEFT_STOPPED] = "stopped", [LZQ_LEFT_RELEASED] = "end",  [LZQ_LEFT_DEAD] = "end",
      [LZQ_LEFT_APART] = "back"};
  const lzq_lot_credit *credit = &p->plan->credit->lots[lot];
  for (uint32_t v = 0; v < credit->n_visits; v++) {
    const lzq_visit *visit = &credit->visits[v];
    put_visit(p, lot, v, "start", visit->start, 0);
    if (visit->lapses > 0)
      put_visit(p, lot, v, "lapse", visit->last_lapse, visit->credit_min);
    if (visit->left != LZQ_LEFT_NOT)
      put_visit(p, lot, v, left[visit->left], visit->end, visit->credit_min);
    if (visit->left == LZQ_LEFT_ENDED && visit->firm_at != LZQ_NEVER)
      put_visit(p, lot, v, "firm", visit->firm_at, visit->credit_min);
  }
}

static void
put_segment(const LzcPlan *p, uint32_t lot, const lzq_segment *segment, const char *what,
            lzq_minute at)
{
  const lzq_snapshot *s = lz_desk_snapshot(p->desk);
  const lzq_lot_credit *credit = &p->plan->credit->lots[lot];
  Row row = lot_row(p, lot, what, at);
  set_phase(p, &row, segment->protocol, segment->phase);
  set_place(p, &row, segment->system, segment->tank);
  set(&row, C_PLANNED, "yes");
  int64_t need = 0;
  if (segment->protocol < s->n_protocols &&
      segment->phase < s->protocols[segment->protocol].n_phases)
    need = s->phases[s->protocols[segment->protocol].first_phase + segment->phase].min_credit_min;
  if (at == segment->start)
    need = segment->phase == credit->phase ? credit->credit_min : 0;
  take(&row, C_CREDIT, g_strdup_printf("%" G_GINT64_FORMAT, need));
  set_because(p, &row, &segment->because);
  put(&row);
}

static void
put_ahead(const LzcPlan *p, uint32_t lot)
{
  const lzq_lot_plan *way = &p->plan->lots[lot];
  for (uint32_t i = 0; i < way->n_segments; i++) {
    const lzq_segment *segment = &way->segments[i];
    if (segment->past)
      continue;
    // A phase may be planned in two waters: its start and end are said once.
    gboolean first = i == 0 || way->segments[i - 1].phase != segment->phase ||
                     way->segments[i - 1].protocol != segment->protocol;
    gboolean last = i + 1 == way->n_segments || way->segments[i + 1].phase != segment->phase;
    if (first && segment->start > p->plan->now)
      put_segment(p, lot, segment, "start", segment->start);
    if (last)
      put_segment(p, lot, segment, "end", segment->end);
  }
  for (uint32_t i = 1; i < way->n_waits; i++) { // beside the reason of its release
    Row row = lot_row(p, lot, "waits", p->plan->now);
    set_because(p, &row, &way->waits[i]);
    put(&row);
  }
}

static const lzq_short *
short_of(const LzcPlan *p, uint32_t lot)
{
  for (size_t i = 0; i < p->plan->n_shorts; i++)
    if (p->plan->shorts[i].lot == lot)
      return &p->plan->shorts[i];
  return NULL;
}

static void
put_release(const LzcPlan *p, uint32_t lot)
{
  const lzq_lot_plan *way = &p->plan->lots[lot];
  const lzq_lot_credit *credit = &p->plan->credit->lots[lot];
  if ((!credit->has_course && !credit->served) || credit->dead || credit->merged)
    return;
  gboolean ended = credit->served && credit->n_visits > 0;
  Row served = lot_row(p, lot, "served", way->served);
  take(&served, C_CREDIT,
       g_strdup_printf("%" G_GINT64_FORMAT, ended ? credit->visits[credit->n_visits - 1].credit_min
                                                  : credit->credit_min));
  const lzq_short *found = short_of(p, lot);
  if (found) {
    set_phase(p, &served, found->protocol, found->phase);
    take(&served, C_AMOUNT, g_strdup_printf("%" G_GINT64_FORMAT, found->short_min));
    set(&served, C_UNIT, lzc_word_unit(LZQ_UNIT_MIN));
    set_because(p, &served, &way->waits[0]);
  }
  put(&served);
  if (credit->served && credit->firm_at != LZQ_NEVER) {
    Row firm = lot_row(p, lot, "firm", credit->firm_at);
    put(&firm);
  }
  Row release =
      lot_row(p, lot, "release", credit->released ? credit->released_at : way->release_earliest);
  set(&release, C_PLANNED, credit->released ? "no" : "yes");
  set_iso(&release, C_LIKELY, credit->released ? LZQ_NEVER : way->release_likely);
  set_iso(&release, C_LATE, credit->released ? LZQ_NEVER : way->release_late);
  take(&release, C_AMOUNT, g_strdup_printf("%d", credit->heads));
  set(&release, C_UNIT, lzc_word_unit(LZQ_UNIT_HEADS));
  take(&release, C_HEADS, g_strdup_printf("%d", credit->heads));
  set_place(p, &release, credit->system, credit->tank);
  set_because(p, &release, &way->because);
  put(&release);
}

static void
put_task(const LzcPlan *p, const lzq_task *task)
{
  static const char *const states[] = {"due", "late", "blocked", "waits"};
  Row row = {{NULL}};
  set_name(p, &row, C_LOT, "lot", task->lot);
  set(&row, C_WHAT, "task");
  set_when(p, &row, task->at);
  set_place(p, &row, task->system, task->tank);
  set_number(&row, C_AMOUNT, task->unit == LZQ_UNIT_NONE ? NAN : task->amount);
  set(&row, C_UNIT, lzc_word_unit(task->unit));
  set(&row, C_KIND, lzc_word_task(task->kind));
  set_because(p, &row, &task->because);
  set(&row, C_PLANNED, "yes");
  take(&row, C_TASK, lz_words_task(p->desk, task));
  set(&row, C_STATE, task->state < G_N_ELEMENTS(states) ? states[task->state] : "");
  if (task->kind == LZQ_TASK_TEST || task->kind == LZQ_TASK_DOSE)
    set(&row, C_ANALYTE, lzc_word_analyte((lzq_analyte)task->analyte));
  set_iso(&row, C_DEADLINE, task->deadline);
  set_name(p, &row, C_BOTTLE, "bottle", task->bottle);
  set_name(p, &row, C_INSTRUMENT, "instrument", task->instrument);
  set_number(&row, C_BEFORE, task->level_before);
  set_number(&row, C_AFTER, task->level_after);
  set_number(&row, C_MG, task->kind == LZQ_TASK_DOSE ? task->dose_mg : NAN);
  put(&row);
}

// --- what somebody must look at

static const char *
matter_word(LzMatter matter)
{
  static const char *const words[] = {
      [LZ_MATTER_RELEASED_SHORT] = "released_short", [LZ_MATTER_UNPROVEN] = "released_unproven",
      [LZ_MATTER_RELEASED_HELD] = "released_held",   [LZ_MATTER_LEFT_SHORT] = "left_short",
      [LZ_MATTER_UNCOURSED] = "uncoursed",           [LZ_MATTER_IGNORED] = "ignored"};
  return words[matter];
}

static void
put_matter(const LzcPlan *p, const LzMatterInfo *c)
{
  Row row = {{NULL}};
  gboolean is_short = c->matter <= LZ_MATTER_LEFT_SHORT;
  set(&row, C_LOT, c->code);
  set(&row, C_PHASE, c->phase);
  set(&row, C_WHAT, is_short ? "short" : matter_word(c->matter));
  set(&row, C_KIND, matter_word(c->matter));
  set_when(p, &row, c->at);
  set_place(p, &row, c->system, LZQ_NONE);
  set(&row, C_PLANNED, "no");
  if (is_short) {
    take(&row, C_AMOUNT, g_strdup_printf("%" G_GINT64_FORMAT, c->short_min));
    set(&row, C_UNIT, lzc_word_unit(LZQ_UNIT_MIN));
    set(&row, C_CODE, lzc_word_because(LZQ_BECAUSE_SHORT));
  }
  set(&row, C_BECAUSE, c->what);
  set(&row, C_CUSTOMER, c->customer);
  put(&row);
}

static void
put_contact(const LzcPlan *p, const LzContactInfo *c)
{
  Row row = {{NULL}};
  set(&row, C_LOT, c->code);
  set(&row, C_WHAT, "contact");
  set(&row, C_KIND, lzc_word_contact(c->how));
  set_when(p, &row, c->seen_at);
  set(&row, C_SYSTEM, lz_desk_name(p->desk, "system", c->seen_in));
  set(&row, C_OTHER, c->where);
  set(&row, C_STATE, c->gone ? "gone" : c->set_back ? "set_back" : c->uncoursed ? "uncoursed" : "");
  set(&row, C_PLANNED, "no");
  set(&row, C_BECAUSE, c->what);
  put(&row);
}

static void
put_way(const LzcPlan *p, uint32_t system, const LzWay *way)
{
  Row row = {{NULL}};
  set(&row, C_WHAT, "way_out");
  set_place(p, &row, system, LZQ_NONE);
  set_when(p, &row, way->release);
  set(&row, C_PLANNED, "yes");
  set_number(&row, C_AMOUNT, way->fish_days);
  set(&row, C_UNIT, "fish_days");
  set(&row, C_BECAUSE, way->words);
  put(&row);
}

static void
put_looks(const LzcPlan *p)
{
  g_autoptr(GPtrArray) matters = lz_matters_list(p->desk, p->plan);
  for (guint i = 0; i < matters->len; i++) {
    const LzMatterInfo *c = &((LzMatterItem *)matters->pdata[i])->info;
    if (lzc_plan_shows_matter(p, c))
      put_matter(p, c);
  }
  g_autoptr(GPtrArray) contacts = lz_contacts_list(p->desk, p->plan->credit);
  for (guint i = 0; i < contacts->len; i++) {
    const LzContactInfo *c = &((LzContact *)contacts->pdata[i])->info;
    if (lzc_plan_shows_contact(p, c))
      put_contact(p, c);
  }
}

void
lzc_plan_csv(const LzcPlan *p)
{
  lzc_csv(columns, N_COLUMNS);
  for (uint32_t lot = 0; lot < p->plan->credit->n_lots; lot++)
    if (lzc_plan_shows_lot(p, lot)) {
      put_past(p, lot);
      const lzq_lot_credit *c = &p->plan->credit->lots[lot];
      if (!c->released && !c->dead && !c->merged)
        put_ahead(p, lot);
      put_release(p, lot);
    }
  for (uint32_t i = 0; i < p->plan->n_tasks; i++)
    if (lzc_plan_shows_task(p, &p->plan->tasks[i]))
      put_task(p, &p->plan->tasks[i]);
  put_looks(p);
  lzc_plan_ways(p, put_way);
}
