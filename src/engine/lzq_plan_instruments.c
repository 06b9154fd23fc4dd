// SPDX-License-Identifier: GPL-3.0-or-later
// When an instrument is checked again: at the round with which its days are over, at once after a
// check that it failed, and once before it is first relied on. An instrument without such days has
// no rhythm and no task (common practice, no source: against a standard, the day written down).
#include "lzq_book_work.h"
#include "lzq_plan_work.h"

// The last good check up to now, and whether a later one failed.
static lzq_minute
last_good(const lzq_work *work, uint32_t instrument, bool *failed)
{
  const lzq_book *book = work->book;
  lzq_minute good = LZQ_LONG_AGO;
  *failed = false;
  for (size_t i = book->check_first[instrument]; i < book->check_first[instrument + 1]; i++) {
    const lzq_check *check = &book->check_items[i];
    if (check->at > work->now)
      break;
    *failed = !check->ok;
    if (check->ok)
      good = check->at;
  }
  return good;
}

static void
check_due(lzq_work *work, uint32_t instrument, int32_t days)
{
  bool failed;
  const lzq_minute good = last_good(work, instrument, &failed);
  const lzq_minute due =
      failed || good == LZQ_LONG_AGO ? work->now : lzq_later(good, (int64_t)days * LZQ_DAY);
  if (due > work->now + LZQ_LOOK_MIN)
    return;
  lzq_task *task = lzq_task_add(work, LZQ_TASK_CALIBRATE, LZQ_NONE,
                                lzq_visit_next(work, lzq_latest(due, work->now), false));
  if (!task)
    return;
  task->instrument = instrument;
  task->walk = -1; // before the first water that is read with it
  task->state = due < work->now - LZQ_DAY ? LZQ_TASK_LATE : LZQ_TASK_DUE;
  task->because = (lzq_because){LZQ_BECAUSE_CHECK_DUE, {(double)good, days, failed, 0}};
}

void
lzq_checks_due(lzq_work *work)
{
  if (!lzq_book_checks(work->book)) {
    work->failed = true;
    return;
  }
  for (uint32_t i = 0; i < work->snap->n_instruments && !work->failed; i++)
    if (work->snap->instruments[i].check_days > 0)
      check_due(work, i, work->snap->instruments[i].check_days);
}
