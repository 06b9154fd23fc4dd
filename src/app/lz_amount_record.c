// SPDX-License-Identifier: GPL-3.0-or-later
// What is filled in is what the syringe or the balance gives, not the exact sum: that goes along as
// the computed amount. The gates look at the entry like at any other.
#include "lz_amount_record.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <math.h>

#include "lz_record.h"
#include "lz_task_form.h"

// Of one answer, as text for the fields of a form; NULL = leave it empty.
typedef struct {
  const char *system;
  char *bottle, *exact, *measured, *litres, *fresh, *level;
} Filled;

static char *
text_of(double value)
{
  return isfinite(value) ? lz_format_machine(value) : NULL;
}

double
lz_amount_measured(const LzQuestion *ask, const LzAnswer *answer)
{
  double step = answer->unit == LZQ_UNIT_ML  ? ask->syringe.step
                : answer->unit == LZQ_UNIT_G ? ask->balance.step
                                             : 0.1;
  if (!isfinite(answer->amount) || !(step > 0))
    return NAN;
  if (ask->kind == LZ_QUESTION_BATH)
    return lzq_measure_down(answer->amount, step);
  double whole = round(1 / step); // 0.2 has no exact double, 5 has
  return round(answer->amount * whole) / whole;
}

static char *
bottle_of(LzDesk *desk, const LzQuestion *ask)
{
  uint32_t bottle = ask->bottle;
  if (bottle == LZQ_NONE && ask->system != LZQ_NONE && isnan(ask->strength))
    bottle = lz_desk_advise_dose(desk, ask->system, ask->analyte, 0).bottle;
  return bottle == LZQ_NONE ? NULL : g_strdup(lz_desk_name(desk, "bottle", bottle));
}

// The first lot of the answer, NULL = it is about none; and the others, one a line, each with what
// differs: newly allocated, NULL = no others.
static const char *
lots_of(LzDesk *desk, const LzAnswer *answer, const char *field, char **others)
{
  GString *also = g_string_new(NULL);
  for (guint i = 1; i < answer->each->len; i++) {
    const LzAnswerLot *one = &g_array_index(answer->each, LzAnswerLot, i);
    g_autofree char *text = text_of(round(one->amount));
    g_string_append_printf(also, "%s%s", i > 1 ? "\n" : "", lz_desk_name(desk, "lot", one->lot));
    if (field)
      g_string_append_printf(also, "\t%s=%s", field, text);
  }
  *others = g_string_free(also, also->len == 0);
  return answer->each->len
             ? lz_desk_name(desk, "lot", g_array_index(answer->each, LzAnswerLot, 0).lot)
             : NULL;
}

static void
record_bath(GtkWidget *from, LzDesk *desk, const LzQuestion *ask, const LzAnswer *answer,
            const Filled *f)
{
  gboolean liquid = answer->unit == LZQ_UNIT_ML, solid = answer->unit == LZQ_UNIT_G;
  g_autofree char *minutes = text_of(ask->minutes), *temperature = text_of(ask->temperature);
  g_autofree char *mg = solid ? text_of(answer->amount * 1000) : NULL;
  g_autofree char *others = NULL;
  const char *lot = lots_of(desk, answer, NULL, &others);
  lz_record_open(from, "bath", "lot", lot, "@also", others, "bath", lz_bath_name(ask->bath),
                 "bottle", f->bottle, "litres", f->litres, "amount_ml", liquid ? f->measured : NULL,
                 "computed_ml", liquid ? f->exact : NULL, "amount_mg", mg, "minutes", minutes,
                 "temperature", temperature, "air", ask->air ? "yes" : NULL, NULL);
}

static void
record_feed(GtkWidget *from, LzDesk *desk, const LzAnswer *answer, const Filled *f)
{
  g_autofree char *others = NULL;
  const char *lot = lots_of(desk, answer, "medicine_mg", &others);
  g_autofree char *mg =
      lot ? text_of(round(g_array_index(answer->each, LzAnswerLot, 0).amount)) : NULL;
  lz_record_open(from, "feed", "lot", lot, "@also", others, "bottle", f->bottle, "medicine_mg", mg,
                 NULL);
}

static void
record_chlorine(GtkWidget *from, const LzQuestion *ask, const LzAnswer *answer, const Filled *f)
{
  g_autofree char *amount = lz_format_amount(answer->amount, answer->unit);
  if (ask->kind == LZ_QUESTION_BLEACH) {
    lz_record_open(from, "state", "system", f->system, "state", "disinfecting", "agent", "bleach",
                   "agent_mg_l", f->level ? f->level : "200", "contact_min", "60", NULL);
    return;
  }
  g_autofree char *words = g_strdup_printf(_("Thiosulfate against chlorine: %s"), amount);
  lz_record_open(from, "note", "words", words, "system", f->system, NULL);
}

static void
record_one(GtkWidget *from, LzDesk *desk, const LzQuestion *ask, const LzAnswer *answer,
           const Filled *f)
{
  switch (ask->kind) {
  case LZ_QUESTION_RAISE:
  case LZ_QUESTION_REPLACE:
    lz_record_open(from, "dose", "system", f->system, "bottle", f->bottle, "amount_ml", f->measured,
                   "computed_ml", f->exact, "in_new_water",
                   ask->kind == LZ_QUESTION_REPLACE && !ask->after ? "yes" : NULL, NULL);
    break;
  case LZ_QUESTION_LOWER:
    lz_record_open(from, "change", "system", f->system, "litres", f->measured, "new_copper",
                   ask->analyte == LZQ_COPPER ? f->fresh : NULL, NULL);
    break;
  case LZ_QUESTION_SALT:
    if (answer->unit == LZQ_UNIT_KG) {
      lz_record_open(from, "dose", "system", f->system, "salt_kg", f->exact, "analyte", "salinity",
                     NULL);
      break;
    }
    G_GNUC_FALLTHROUGH;
  case LZ_QUESTION_FRESHEN:
    lz_record_open(from, "change", "system", f->system, "litres", f->measured, "new_salinity",
                   f->fresh, NULL);
    break;
  case LZ_QUESTION_BLEACH:
  case LZ_QUESTION_NEUTRALISE: record_chlorine(from, ask, answer, f); break;
  case LZ_QUESTION_BATH: record_bath(from, desk, ask, answer, f); break;
  default: record_feed(from, desk, answer, f);
  }
}

void
lz_amount_record(GtkWidget *from, LzDesk *desk, const LzQuestion *ask, const LzAnswer *answer)
{
  double fresh = isfinite(ask->new_level) ? ask->new_level : ask->by_change ? 35 : 0;
  Filled f = {
      .system = ask->system == LZQ_NONE ? NULL : lz_desk_name(desk, "system", ask->system),
      .bottle = bottle_of(desk, ask),
      .exact = text_of(answer->amount),
      .measured = text_of(lz_amount_measured(ask, answer)),
      .litres = text_of(ask->volume_l),
      .fresh = text_of(fresh),
      .level = text_of(ask->target),
  };
  record_one(from, desk, ask, answer, &f);
  g_free(f.bottle);
  g_free(f.exact);
  g_free(f.measured);
  g_free(f.litres);
  g_free(f.fresh);
  g_free(f.level);
}
