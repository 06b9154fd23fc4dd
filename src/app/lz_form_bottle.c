// SPDX-License-Identifier: GPL-3.0-or-later
// An amount that was worked out for one bottle is worked out anew when another is picked: the same
// mg of the same medicine. What a person typed themselves is left, and the form says what it would
// be.
#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_rows.h>
#include <math.h>

#include "lz_amount_record.h"
#include "lz_form_private.h"

static const LzBottleInfo *
info_of(LzForm *self, const char *code)
{
  GListModel *bottles = lz_desk_bottles(self->desk);
  const gint64 id = code && code[0] == '#' ? g_ascii_strtoll(code + 1, NULL, 10)
                                           : lz_desk_find(self->desk, "bottle", code ? code : "");
  for (guint i = 0; i < g_list_model_get_n_items(bottles); i++) {
    g_autoptr(LzBottleRow) row = g_list_model_get_item(bottles, i);
    const LzBottleInfo *info = lz_bottle_row_info(row);
    if (info->id == id)
      return info; // the list keeps the row
  }
  return NULL;
}

// As a syringe gives it: a bath never beyond what was asked.
static char *
measured(const LzForm *self, double ml)
{
  LzQuestion ask;
  const LzAnswer answer = {.amount = ml, .unit = LZQ_UNIT_ML};
  lz_question_init(&ask,
                   g_str_equal(self->kind->name, "bath") ? LZ_QUESTION_BATH : LZ_QUESTION_RAISE);
  return lz_format_machine(lz_amount_measured(&ask, &answer));
}

static void
set_computed(LzForm *self, const char *ml)
{
  if (ml)
    g_hash_table_replace(self->along, g_strdup("computed_ml"), g_strdup(ml));
  else
    g_hash_table_remove(self->along, "computed_ml");
}

static void
forget_amount(LzForm *self, const LzBottleInfo *to, gboolean untouched)
{
  g_autofree char *words = g_strdup_printf(
      _("The amount was worked out for another medicine or strength than that of %s: ask again how "
        "much."),
      to->name);
  set_computed(self, NULL);
  if (untouched)
    lz_form_set_text(self, "amount_ml", "");
  lz_form_say(self, words);
}

static void
on_bottle(LzForm *self)
{
  g_autofree char *code = lz_form_text(self, "bottle"), *typed = lz_form_text(self, "amount_ml");
  const char *computed = g_hash_table_lookup(self->along, "computed_ml");
  const LzBottleInfo *to = info_of(self, code), *from = info_of(self, self->worked_for);
  double ml;
  if (!to || !computed || to == from || !lz_parse_number(computed, &ml, NULL, NULL))
    return;
  const gboolean untouched = g_strcmp0(typed, self->offered) == 0;
  if (!from || from->analyte != to->analyte || from->form != to->form ||
      !(to->strength_mg_ml > 0)) {
    forget_amount(self, to, untouched);
    return;
  }
  ml *= from->strength_mg_ml / to->strength_mg_ml;
  g_autofree char *exact = lz_format_machine(ml), *given = measured(self, ml);
  g_autofree char *amount = lz_format_amount(ml, LZQ_UNIT_ML);
  g_autofree char *words =
      untouched ? g_strdup_printf(_("Worked out anew for bottle %1$s: %2$s."), to->name, amount)
                : g_strdup_printf(_("For bottle %1$s it would be %2$s; what you typed is left."),
                                  to->name, amount);
  set_computed(self, exact);
  if (untouched)
    lz_form_set_text(self, "amount_ml", given);
  g_free(self->worked_for);
  self->worked_for = g_steal_pointer(&code);
  g_free(self->offered);
  self->offered = g_steal_pointer(&given);
  lz_form_say(self, words);
}

void
lz_form_bottle_follow(LzForm *self)
{
  LzFormField *bottle = lz_form_find(self, "bottle");
  g_clear_pointer(&self->worked_for, g_free);
  g_clear_pointer(&self->offered, g_free);
  if (!bottle || !GTK_IS_DROP_DOWN(bottle->input) || !lz_form_find(self, "amount_ml"))
    return;
  self->worked_for = lz_form_text(self, "bottle");
  self->offered = lz_form_text(self, "amount_ml");
  g_signal_connect_object(bottle->input, "notify::selected", G_CALLBACK(on_bottle), self,
                          G_CONNECT_SWAPPED);
}

void
lz_form_bottle_shut(LzForm *self, gboolean shut)
{
  LzFormField *bottle = lz_form_find(self, "bottle");
  if (bottle)
    gtk_widget_set_sensitive(bottle->input, !shut);
}
