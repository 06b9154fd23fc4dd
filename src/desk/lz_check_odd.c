// SPDX-License-Identifier: GPL-3.0-or-later
// A reading held against its prediction when it is entered: one out of expectation is flagged and a
// repeat asked for; a repeat within the hour that agrees confirms the one before it. What a person
// said about either stands. History brought in as written is not judged: nobody can repeat it.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_check.h"
#include "lz_estimate.h"
#include "lz_format.h"
#include "lz_words.h"

#define REPEAT_MIN 60  // house rule: a later reading is another one, not a repeat
#define AGREE_SD   3.0 // |y2 - y| < 3 sqrt(R + R2): docs/engine/estimate.md

typedef struct {
  uint32_t system, instrument;
  lzq_analyte analyte;
  double value, error;
  lzq_minute at;
} Entered;

static double
variance(const LzModel *m, uint32_t instrument, double value, double error)
{
  lzq_bank_reading reading = {.y = value};
  if (instrument < m->instruments->len) {
    const lzq_instrument *i = &g_array_index(m->instruments, lzq_instrument, instrument);
    reading.sa = i->error_abs;
    reading.srel = i->error_rel;
    reading.res = i->resolution;
  }
  if (!isnan(error)) {
    reading.sa = error;
    reading.srel = 0;
  }
  return lzq_reading_variance(&reading);
}

static gboolean
is_confirmed(const LzModel *m, uint64_t first)
{
  for (guint i = 0; i < m->records->len; i++) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->kind == LZQ_REC_READING && r->confirms == first)
      return TRUE;
  }
  return FALSE;
}

// The suspect reading of the last hour that this one repeats and agrees with; 0 = there is none.
static int64_t
repeats(LzModel *m, const Entered *e)
{
  const GArray *own = m->of_water->pdata[e->system];
  for (guint i = own->len; i-- > 0;) {
    uint32_t index = g_array_index(own, uint32_t, i);
    const lzq_record *r = &g_array_index(m->records, lzq_record, index);
    if (r->kind != LZQ_REC_READING || r->analyte != e->analyte || !r->suspect || r->at > e->at ||
        r->at < e->at - REPEAT_MIN || !lz_model_record_holds(m, index))
      continue;
    uint64_t first = r->corrects ? r->corrects : r->id;
    double apart = AGREE_SD * sqrt(variance(m, r->instrument, r->value, r->error) +
                                   variance(m, e->instrument, e->value, e->error));
    if (fabs(e->value - r->value) < apart && !is_confirmed(m, first))
      return (int64_t)(first / LZ_RECORDS_PER_ENTRY);
  }
  return 0;
}

static void
flag(LzDraft *d, const Entered *e, double predicted)
{
  g_autofree char *value = lz_format_level(e->analyte, e->value);
  g_autofree char *expected = lz_format_level(e->analyte, predicted);
  lz_draft_set_yes(d, "suspect");
  lz_command_note(d->command,
                  g_strdup_printf(_("kept as suspect: %1$s %2$s is far from what was expected, "
                                    "about %3$s. Repeat the test within the hour; if the two "
                                    "agree, both count"),
                                  lz_words_analyte(e->analyte), value, expected));
}

void
lz_check_odd_reading(LzDraft *d)
{
  const LzEntity *system = lz_model_entity(d->model, lz_draft_ref(d, "system"));
  const LzEntity *instrument = lz_model_entity(d->model, lz_draft_ref(d, "instrument"));
  double error = lz_draft_number(d, "error");
  gboolean said = !lz_draft_value(d, "suspect")->null || !lz_draft_value(d, "confirms")->null;
  if (!system || said || d->command->as_written || d->entry.corrects)
    return;
  Entered e = {.system = system->index,
               .instrument = instrument ? instrument->index : LZQ_NONE,
               .analyte = (lzq_analyte)lz_draft_word(d, "analyte"),
               .value = lz_draft_number(d, "value"),
               .error = error,
               .at = d->entry.happened_min};
  // without an error that somebody states there is nothing to hold it against
  if (isnan(e.value) || !(variance(d->model, e.instrument, e.value, e.error) > 0))
    return;
  int64_t first = repeats(d->model, &e);
  if (first) {
    lz_draft_set_ref(d, "confirms", first);
    return;
  }
  LzJudgement judged =
      lz_desk_judge_reading(d->desk, e.system, e.analyte, e.value, e.error, e.instrument, e.at);
  if (judged.odd)
    flag(d, &e, judged.predicted);
}
