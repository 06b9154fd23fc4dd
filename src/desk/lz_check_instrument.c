// SPDX-License-Identifier: GPL-3.0-or-later
// The check of an instrument against standards: passed or not by its own accuracy, zero and slope
// told apart by two standards, and which readings a failed check casts doubt on.
#include <glib/gi18n-lib.h>
#include <lzq_calibrate.h>
#include <math.h>

#include "lz_check.h"
#include "lz_format.h"

static guint
standards_of(const LzDraft *d, lzq_standard *out)
{
  static const char *const truth[] = {"expected", "expected_2"}, *const read[] = {"found",
                                                                                  "found_2"};
  guint n = 0;
  for (guint i = 0; i < G_N_ELEMENTS(truth); i++) {
    double t = lz_draft_number(d, truth[i]), r = lz_draft_number(d, read[i]);
    if (isfinite(t) && isfinite(r))
      out[n++] = (lzq_standard){t, r};
  }
  return n;
}

static gboolean
within_accuracy(const lzq_instrument *i, const lzq_standard *s, guint n)
{
  for (guint k = 0; k < n; k++)
    if (fabs(s[k].reading - s[k].truth) > i->error_abs + i->error_rel * fabs(s[k].truth) + 1e-9)
      return FALSE;
  return TRUE;
}

// One standard cannot say whether an instrument is off everywhere alike or in proportion.
static void
note_errors(LzDraft *d, const LzEntity *instrument, const lzq_standard *s, guint n)
{
  lzq_calibration c;
  if (n == 0 || lzq_calibrate(s, n, &c) != LZQ_OK)
    return;
  g_autofree char *zero = lz_format_short(c.zero, 3);
  g_autofree char *slope = lz_format_short(100 * (c.slope_alone - 1), 1);
  if (c.told_apart)
    lz_command_note(
        d->command,
        g_strdup_printf(_("%1$s: zero is off by %2$s, and slope by %3$s %%; setting the "
                          "zero cures only the first"),
                        instrument->label, zero, slope));
  else if (c.zero != 0 && isfinite(c.slope_alone))
    lz_command_note(d->command,
                    g_strdup_printf(_("%1$s: off by %2$s everywhere, or by %3$s %% of the reading: "
                                      "one standard cannot tell; check a second one, far from it"),
                                    instrument->label, zero, slope));
}

static guint
readings_since_good(const LzDraft *d, const LzEntity *instrument, lzq_minute *since)
{
  LzModel *m = d->model;
  lzq_minute now = d->entry.happened_min;
  guint n = 0;
  *since = LZQ_LONG_AGO;
  for (guint k = 0; k < m->checks->len; k++) {
    const uint32_t i = g_array_index(m->checks, uint32_t, k);
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->instrument == instrument->index && r->ok && r->at <= now && lz_model_record_holds(m, i))
      *since = MAX(*since, r->at);
  }
  for (guint i = 0; i < m->records->len; i++) {
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    n += r->kind == LZQ_REC_READING && r->instrument == instrument->index && r->at > *since &&
         r->at <= now && lz_model_record_holds(m, i);
  }
  return n;
}

static void
note_doubt(LzDraft *d, const LzEntity *instrument)
{
  lzq_minute since;
  guint n = readings_since_good(d, instrument, &since);
  if (n == 0)
    return;
  g_autofree char *when =
      since == LZQ_LONG_AGO ? g_strdup(_("it came")) : lz_format_time(d->model->zone, since);
  lz_command_note(
      d->command,
      g_strdup_printf(
          ngettext("%1$s failed: its %2$u reading since %3$s is in doubt; what rested on "
                   "it is worked out again",
                   "%1$s failed: its %2$u readings since %3$s are in doubt; what rested "
                   "on them is worked out again",
                   n),
          instrument->label, n, when));
}

gboolean
lz_check_instrument(LzDraft *d, GError **error)
{
  const LzEntity *instrument = lz_model_entity(d->model, lz_draft_ref(d, "instrument"));
  const lzq_instrument *i =
      &g_array_index(d->model->instruments, lzq_instrument, instrument->index);
  lzq_standard standards[2];
  guint n = standards_of(d, standards);
  const lzs_value *ok = lz_draft_value(d, "ok");
  gboolean passed = within_accuracy(i, standards, n);
  if (ok->null && n == 0)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("ok: nothing was given; accepted is yes or no, or expected and found"));
  if (ok->null) {
    int field = lzs_kind_field(d->spec, "ok");
    d->entry.v[field] = (lzs_value){.i = passed};
  } else if (ok->i && n > 0 && !passed) {
    return lz_refuse(
        error, LZ_DESK_ERROR_USAGE,
        _("ok: the values given lie outside the accuracy of %s; accepted is no, or its "
          "true accuracy"),
        instrument->label);
  }
  note_errors(d, instrument, standards, n);
  if (!lz_draft_value(d, "ok")->i)
    note_doubt(d, instrument);
  return TRUE;
}
