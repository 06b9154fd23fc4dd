// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of systems in walking order: levels carried to now, and how they stand in what the fish in
// that water need.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>

#include "lz_carry.h"
#include "lz_format.h"
#include "lz_new_water.h"
#include "lz_rows_private.h"
#include "lz_words.h"

#define LOW_SALT 0.9 // of the source water; below this share the basin is underlined

static gboolean
beyond(const lzq_band *band, double level, double edge)
{
  if (isnan(edge))
    return FALSE;
  return band->side == LZQ_AT_OR_BELOW ? level < edge - LZQ_EDGE : level > edge + LZQ_EDGE;
}

static gboolean
on_edge(double level, double edge)
{
  return fabs(level - edge) <= LZQ_EDGE; // false for an edge that is NAN
}

LzMark
lz_rows_mark(const lzq_band *band, double level, lzq_minute read_at, lzq_minute now)
{
  gboolean below_serves = band->side == LZQ_AT_OR_BELOW;
  double far = band->side == LZQ_BETWEEN ? band->works_high : NAN;
  if (isnan(level) || read_at == LZQ_LONG_AGO)
    return LZ_MARK_UNREAD;
  if (!isnan(band->harm) && (beyond(band, level, band->harm) || on_edge(level, band->harm)))
    return LZ_MARK_HARM;
  if (now - read_at > band->gap_min)
    return LZ_MARK_OLD;
  if (on_edge(level, band->works) || on_edge(level, far) || on_edge(level, band->plan))
    return LZ_MARK_EDGE;
  if (below_serves ? level > band->works : level < band->works)
    return below_serves ? LZ_MARK_HIGH : LZ_MARK_LOW;
  if (level > far || beyond(band, level, band->plan))
    return below_serves ? LZ_MARK_LOW : LZ_MARK_HIGH;
  return LZ_MARK_IN_BAND;
}

static void
last_good(const GArray *steps, double *value, lzq_minute *at)
{
  *value = NAN;
  *at = LZQ_LONG_AGO;
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_READING && step->good) {
      *value = step->after;
      *at = step->at;
      return;
    }
  }
}

static void
fill_levels(LzDesk *desk, LzSystemInfo *info)
{
  LzModel *m = desk->model;
  const lzq_system *system = &g_array_index(m->systems, lzq_system, info->index);
  for (int a = LZQ_COPPER; a <= LZQ_SALINITY; a++) {
    g_autoptr(GArray) steps = lz_carry_now(m, info->index, (lzq_analyte)a, desk->now);
    info->level[a] = lz_carry_level(steps);
    last_good(steps, &info->read[a], &info->read_at[a]);
    if (steps->len)
      info->volume_l = g_array_index(steps, LzCarryStep, steps->len - 1).volume_l;
    if (a == LZQ_SALINITY)
      continue;
    const LzCarryStep *open = lz_carry_open_dose(m, info->index, steps);
    if (open) {
      info->open_dose_at = open->at;
      info->open_dose_mg = g_array_index(m->records, lzq_record, open->record).amount;
    }
    // what was dosed and then lost sight of may still be there
    gboolean lost = isnan(info->level[a]) && info->read_at[a] != LZQ_LONG_AGO;
    info->copper_in = info->level[a] > LZQ_NONE_LEFT || open != NULL || lost;
  }
  info->salt_low = info->level[LZQ_SALINITY] < LOW_SALT * system->source_salinity;
  g_autoptr(GArray) warmth = lz_carry_now(m, info->index, LZQ_TEMPERATURE, desk->now);
  info->temperature = lz_carry_level(warmth);
}

// A reading in doubt at the harm edge is an alarm too, until a repeat says otherwise.
static LzMark
mark_of(LzDesk *desk, const LzSystemInfo *info, int a)
{
  const lzq_band *band = &info->band[a];
  g_autoptr(GArray) steps = lz_carry_now(desk->model, info->index, (lzq_analyte)a, desk->now);
  const double doubtful = lz_carry_doubtful(steps);
  const LzMark mark = lz_rows_mark(band, info->level[a], info->read_at[a], desk->now);
  if (mark != LZ_MARK_HARM && !isnan(doubtful) &&
      lz_rows_mark(band, doubtful, desk->now, desk->now) == LZ_MARK_HARM)
    return LZ_MARK_DOUBT;
  return mark;
}

static void
note_test(LzSystemInfo *info, const lzq_task *test)
{
  if (test->state != LZQ_TASK_LATE) {
    info->next_test = MIN(info->next_test, test->at);
  } else if (test->at < info->late_test) {
    info->late_test = test->at;
    info->late_analyte = (lzq_analyte)test->analyte;
  }
}

static void
fill_plan(LzDesk *desk, LzSystemInfo *info, GPtrArray *texts)
{
  const lzq_plan *plan = desk->plan;
  const lzq_water_plan *water = &plan->waters[info->index];
  for (int a = LZQ_COPPER; a <= LZQ_SALINITY; a++) {
    info->has_band[a] = water->has_band[a];
    info->band[a] = water->band[a];
    if (water->has_band[a])
      info->mark[a] = mark_of(desk, info, a);
  }
  for (uint32_t i = 0; i < plan->n_tasks; i++)
    if (plan->tasks[i].kind == LZQ_TASK_TEST && plan->tasks[i].system == info->index)
      note_test(info, &plan->tasks[i]);
  if (water->conflict_a != LZQ_NONE && water->conflict_b != LZQ_NONE)
    info->why = lz_keep(texts, g_strdup_printf(_("No water serves both lot %1$s and lot %2$s"),
                                               lz_desk_name(desk, "lot", water->conflict_a),
                                               lz_desk_name(desk, "lot", water->conflict_b)));
}

static lzq_state
state_of(LzDesk *desk, const LzSystemInfo *info)
{
  const LzModel *m = desk->model;
  lzq_state state = LZQ_STATE_EMPTY;
  lzq_minute said = LZQ_LONG_AGO;
  for (guint k = 0; info->lots == 0 && k < m->states->len; k++) {
    const uint32_t i = g_array_index(m->states, uint32_t, k);
    const lzq_record *r = &g_array_index(m->records, lzq_record, i);
    if (r->system == info->index && r->at <= desk->now && r->at >= said &&
        lz_model_record_holds(m, i)) {
      said = r->at;
      state = (lzq_state)r->state;
    }
  }
  return info->lots > 0 ? LZQ_STATE_STOCKED : state;
}

static const char *
mark_words(LzMark mark)
{
  switch (mark) {
  case LZ_MARK_IN_BAND: return _("in its band");
  case LZ_MARK_EDGE: return _("on the edge of its band");
  case LZ_MARK_HIGH: return _("above its band");
  case LZ_MARK_LOW: return _("below its band");
  case LZ_MARK_OLD: return _("last reading too old");
  case LZ_MARK_HARM: return _("harmful: change water now");
  case LZ_MARK_DOUBT: return _("may be harmful: test again at once");
  default: return "";
  }
}

static void
append_level(GString *out, const LzSystemInfo *info, lzq_analyte a)
{
  const char *unit = lz_words_analyte_unit(a);
  if (isnan(info->level[a]) && !info->has_band[a])
    return;
  g_string_append(out, out->len ? "; " : "");
  if (isnan(info->level[a])) {
    g_string_append_printf(
        out, info->read_at[a] == LZQ_LONG_AGO ? _("%s never read") : _("%s unknown, test it"),
        lz_words_analyte(a));
    return;
  }
  g_autofree char *level = lz_format_level(a, info->level[a]);
  g_string_append_printf(out, "%s %s%s%s", lz_words_analyte(a), level, *unit ? " " : "", unit);
  if (*mark_words(info->mark[a]))
    g_string_append_printf(out, ", %s", mark_words(info->mark[a]));
}

// The late test was made, and what it read bears no witness.
static gboolean
read_in_doubt(LzDesk *desk, const LzSystemInfo *info)
{
  g_autoptr(GArray) steps = lz_carry_now(desk->model, info->index, info->late_analyte, desk->now);
  for (guint i = steps->len; i-- > 0;) {
    const LzCarryStep *step = &g_array_index(steps, LzCarryStep, i);
    if (step->kind == LZQ_REC_READING)
      return !step->good && step->at >= info->late_test - LZ_BEGUN_MIN;
  }
  return FALSE;
}

// Copper that was mixed into new water, and no change has brought in.
static void
append_new_water(LzDesk *desk, const LzSystemInfo *info, GString *out)
{
  g_autoptr(GArray) steps = lz_carry_now(desk->model, info->index, LZQ_COPPER, desk->now);
  const LzNewWater in = lz_new_water(steps);
  if (!(in.mg > 0))
    return;
  g_autofree char *mg = lz_format_short(in.mg, 1);
  g_autofree char *when = lz_format_when(lz_desk_zone(desk), in.at, desk->now);
  // Translators: mg of copper; when it was mixed in
  g_string_append_printf(
      out,
      _("; %1$s mg of copper wait in new water since %2$s: the level counts them once the change "
        "is on record"),
      mg, when);
}

static char *
detail_of(LzDesk *desk, const LzSystemInfo *info)
{
  GString *out = g_string_new(info->why ? info->why : NULL);
  append_level(out, info, LZQ_COPPER);
  append_level(out, info, LZQ_SALINITY);
  g_string_append(out, out->len ? "; " : "");
  if (info->lots > 0) {
    g_autofree char *heads =
        g_strdup_printf(ngettext("%d fish", "%d fish", (unsigned long)info->heads), info->heads);
    g_string_append_printf(
        out, ngettext("%1$s in %2$d lot", "%1$s in %2$d lots", (unsigned long)info->lots), heads,
        info->lots);
  } else {
    g_string_append(out, _("no fish in it"));
  }
  if (info->late_test != LZQ_NEVER && read_in_doubt(desk, info)) {
    g_string_append_printf(out, _("; %s read in doubt, repeat"),
                           lz_words_analyte(info->late_analyte));
  } else if (info->late_test != LZQ_NEVER) {
    g_autofree char *when = lz_format_when(lz_desk_zone(desk), info->late_test, desk->now);
    g_string_append_printf(out, _("; %1$s not tested %2$s"), lz_words_analyte(info->late_analyte),
                           when);
  }
  if (info->next_test != LZQ_NEVER) {
    g_autofree char *when = lz_format_when(lz_desk_zone(desk), info->next_test, desk->now);
    g_string_append_printf(out, _("; next test %s"), when);
  }
  append_new_water(desk, info, out);
  return lz_rows_sentence(g_string_free(out, FALSE));
}

static void
count(LzDesk *desk, LzSystemInfo *info)
{
  const LzModel *m = desk->model;
  for (uint32_t i = 0; i < m->tanks->len; i++)
    info->tanks += g_array_index(m->tanks, lzq_tank, i).system == info->index;
  for (uint32_t i = 0; i < desk->standing->len; i++) {
    const LzStanding *s = lz_rows_standing(desk, i);
    if (s->system == info->index) {
      info->lots++;
      info->heads += s->heads;
    }
  }
}

static void
add_system(LzDesk *desk, LzRowList *list, uint32_t index)
{
  const LzEntity *entity = desk->model->by_kind[LZS_SYSTEM]->pdata[index];
  const lzq_system *system = &g_array_index(desk->model->systems, lzq_system, index);
  GPtrArray *texts = lz_rows_texts();
  LzSystemInfo info = {.index = index,
                       .id = entity->id,
                       .name = lz_rows_text(texts, entity->label),
                       .role = system->role,
                       .volume_l = system->volume_l,
                       .open_dose_at = LZQ_LONG_AGO,
                       .next_test = LZQ_NEVER,
                       .late_test = LZQ_NEVER};
  char key[24];
  g_snprintf(key, sizeof key, "%" G_GINT64_FORMAT, entity->id);
  count(desk, &info);
  fill_levels(desk, &info);
  info.state = state_of(desk, &info);
  if (desk->plan)
    fill_plan(desk, &info, texts);
  char *title = g_strdup_printf("%s, %s", entity->label, lz_words_role(system->role));
  lz_row_set(lz_row_list_row(list, key), title, detail_of(desk, &info), &info, sizeof info, texts);
}

typedef struct {
  int32_t walk;
  uint32_t index;
} Stop;

static int
by_walk(const void *a, const void *b)
{
  const Stop *p = a, *q = b;
  if (p->walk != q->walk)
    return p->walk < q->walk ? -1 : 1;
  return p->index < q->index ? -1 : p->index > q->index;
}

void
lz_rows_systems(LzDesk *desk)
{
  LzRowList *list = desk->lists[LZ_LIST_SYSTEMS];
  guint n = desk->model->by_kind[LZS_SYSTEM]->len;
  g_autofree Stop *stops = g_new(Stop, n + 1);
  for (uint32_t i = 0; i < n; i++)
    stops[i] = (Stop){desk->plan ? desk->plan->walk[i]
                                 : g_array_index(desk->model->systems, lzq_system, i).walk,
                      i};
  qsort(stops, n, sizeof *stops, by_walk);
  lz_row_list_begin(list);
  for (guint i = 0; i < n; i++)
    add_system(desk, list, stops[i].index);
  lz_row_list_end(list);
}
