// SPDX-License-Identifier: GPL-3.0-or-later
// Block 6 of the handover: what nobody has begun. Tests of one water at one time are one line, as
// one walk to it makes them.
#include "lzr_handover.h"

#include <glib/gi18n-lib.h>

#include <lz_format.h>
#include <lz_words.h>

#define LINES_MOST 14        // of a shift: what is beyond them is read on the round
#define AHEAD      (16 * 60) // the coming shift and the night after it

static guint
most_lines(const LzrBuild *build)
{
  static const guint most[LZR_DENSEST + 1] = {LINES_MOST, LINES_MOST, LINES_MOST, 11, 8, 6, 3};
  const guint asked = build->cut[LZR_CUT_TASKS].most;
  return asked ? MIN(asked, LINES_MOST) : most[build->density];
}

// The daily look at fish that are watched is on the round; here only the one that was missed.
static gboolean
is_open(const lzq_plan *plan, const lzq_task *task)
{
  if (task->kind == LZQ_TASK_INSPECT && task->state != LZQ_TASK_LATE)
    return FALSE;
  if (task->because.code == LZQ_BECAUSE_EXPECTED)
    return FALSE; // told with its test
  return task->at <= plan->now + AHEAD && task->state != LZQ_TASK_BLOCKED;
}

// Tests, or switches of equipment, that belong together: same water, same time. They are told once,
// by the first.
static gboolean
same_walk(const lzq_task *a, const lzq_task *b)
{
  return (a->kind == LZQ_TASK_TEST || a->kind == LZQ_TASK_GEAR) && a->kind == b->kind &&
         a->system == b->system && a->at == b->at && a->state == b->state;
}

static gboolean
told_before(const lzq_plan *plan, uint32_t i)
{
  for (uint32_t j = 0; j < i; j++)
    if (same_walk(&plan->tasks[j], &plan->tasks[i]))
      return TRUE;
  return FALSE;
}

// Equipment to switch, on first, as one list each.
static void
add_gear(GString *text, const lzq_plan *plan, uint32_t first, gboolean on)
{
  gboolean any = FALSE;
  for (uint32_t j = first; j < plan->n_tasks; j++) {
    const lzq_task *task = &plan->tasks[j];
    if ((j != first && !same_walk(task, &plan->tasks[first])) || (task->because.n[1] == 1) != on)
      continue;
    const char *begin = on ? _("Switch on: ") : _("Switch off or take out: ");
    g_string_append_printf(text, "%s%s%s", any || !text->len ? "" : "; ", any ? ", " : begin,
                           lz_words_gear((lzq_gear)task->gear));
    any = TRUE;
  }
}

static const char *
what_words(LzrBuild *build, const lzq_plan *plan, uint32_t i)
{
  const lzq_task *task = &plan->tasks[i];
  g_autoptr(GString) text = g_string_new(NULL);
  if (task->kind == LZQ_TASK_GEAR) {
    add_gear(text, plan, i, TRUE);
    add_gear(text, plan, i, FALSE);
    return lzr_keep(build, g_strdup(text->str));
  }
  if (task->kind != LZQ_TASK_TEST)
    return lzr_keep(build, lz_words_task(build->desk, task));
  for (uint32_t j = i; j < plan->n_tasks; j++)
    if (j == i || same_walk(&plan->tasks[j], task))
      g_string_append_printf(text, "%s%s", text->len ? ", " : "",
                             lz_words_analyte((lzq_analyte)plan->tasks[j].analyte));
  return lzr_printf(build, _("Test %s"), text->str);
}

// The top-up that a test is expected to ask for stands in the line of the test; NULL = none.
static const lzq_task *
top_up_of(const lzq_plan *plan, const lzq_task *test)
{
  for (uint32_t j = 0; test->kind == LZQ_TASK_TEST && j < plan->n_tasks; j++) {
    const lzq_task *task = &plan->tasks[j];
    if (task->because.code == LZQ_BECAUSE_EXPECTED && task->system == test->system &&
        task->at == test->at)
      return task;
  }
  return NULL;
}

// A test that keeps the count running says until when.
static const char *
why_words(LzrBuild *build, const lzq_task *task)
{
  if (task->kind != LZQ_TASK_TEST || build->density > 0)
    return NULL;
  return lzr_keep(build, lz_words_because(build->desk, &task->because));
}

static void
task_row(LzrBuild *build, const lzq_plan *plan, uint32_t i)
{
  const lzq_task *task = &plan->tasks[i];
  gboolean late = task->state == LZQ_TASK_LATE;
  const lzq_task *top_up = top_up_of(plan, task), *dosed = top_up ? top_up : task;
  const char *what = what_words(build, plan, i), *why = why_words(build, task);
  if (top_up)
    what = lzr_printf(build, _("%s, then top up"), what);
  g_autofree char *when = lz_format_when(lz_desk_zone(build->desk), task->at, plan->now);
  lzd_cell cells[] = {
      {.text = lzr_keep(build, lz_words_task_where(build->desk, task)), .bold = true},
      {.text = why && *why ? lzr_printf(build, "%s; %s", what, why) : what},
      {.text = lzr_keep(build, lz_words_task_amount(build->desk, dosed)), .bold = true},
      {.text = late ? lzr_printf(build, _("late since %s"), lzr_handover_clock(build, task->at))
                    : lzr_keep(build, g_steal_pointer(&when)),
       .bold = true,
       .mark = late ? LZD_TASK_LATE : LZD_MARK_NONE},
      {.text = NULL},
  };
  lzd_sheet_tick_row(build->page, cells, G_N_ELEMENTS(cells));
}

// The same thing blocked for the same reason at another time: told once.
static gboolean
waits_before(const lzq_plan *plan, uint32_t i)
{
  const lzq_task *task = &plan->tasks[i];
  for (uint32_t j = 0; j < i; j++)
    if (plan->tasks[j].state == LZQ_TASK_BLOCKED && plan->tasks[j].kind == task->kind &&
        plan->tasks[j].system == task->system && plan->tasks[j].analyte == task->analyte &&
        plan->tasks[j].because.code == task->because.code)
      return TRUE;
  return FALSE;
}

// Whatever is blocked and is no move (block 3 has those).
static void
must_wait(LzrBuild *build, const lzq_plan *plan)
{
  guint shown = 0, most = build->density > 3 ? 2 : 4;
  for (uint32_t i = 0; i < plan->n_tasks && shown < most; i++) {
    const lzq_task *task = &plan->tasks[i];
    if (task->state != LZQ_TASK_BLOCKED || task->kind == LZQ_TASK_MOVE ||
        task->kind == LZQ_TASK_RELEASE || waits_before(plan, i))
      continue;
    g_autofree char *where = lz_words_task_where(build->desk, task);
    g_autofree char *what = lz_words_task(build->desk, task);
    g_autofree char *why = lz_words_because(build->desk, &task->because);
    lzr_line(build, LZD_TASK_BLOCKED, lzr_printf(build, _("%1$s, not now: %2$s;"), where, what),
             lzr_printf(build, "%s.", why));
    shown++;
  }
}

void
lzr_not_started(LzrBuild *build)
{
  lzd_column columns[] = {{NULL, 106, LZD_START},
                          {NULL, 0, LZD_START},
                          {NULL, 58, LZD_END},
                          {NULL, 108, LZD_START},
                          {NULL, 66, LZD_START}};
  const lzq_plan *plan = lz_desk_plan(build->desk);
  guint shown = 0, more = 0;
  lzr_heading(build, "6", _("Not started: yours now"), _("tick, time, initials"));
  for (uint32_t i = 0; plan && i < plan->n_tasks; i++) {
    if (!is_open(plan, &plan->tasks[i]) || told_before(plan, i))
      continue;
    if (shown >= most_lines(build)) {
      more++;
      continue;
    }
    if (!shown++) {
      lzr_begin(build);
      lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), false);
    }
    task_row(build, plan, i);
  }
  build->cut[LZR_CUT_TASKS].shown = shown;
  build->cut[LZR_CUT_TASKS].wanted = MIN(shown + more, LINES_MOST);
  lzd_sheet_end_table(build->page);
  lzr_none(build, _("Nothing is due before the shift after this one."));
  if (more)
    lzr_line(build, LZD_MARK_NONE, NULL,
             lzr_printf(build,
                        ngettext("and %u more line on the round.",
                                 "and %u more lines on the round.", more),
                        more));
  if (plan)
    must_wait(build, plan);
}
