// SPDX-License-Identifier: GPL-3.0-or-later
// What the opened line shows of its task: asked, worked out, choices, instrument.
#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_format.h>
#include <lz_roles.h>
#include <lz_words.h>

#include "lz_amount_record.h"
#include "lz_lookup.h"
#include "lz_round_line_private.h"
#include "lz_round_row.h"
#include "lz_working_grid.h"

// The instrument that read this analyte last; people rarely change it.
void
lz_round_line_choose_instrument(LzRoundLine *self, lzq_analyte analyte)
{
  lzq_minute now = lz_desk_now(self->desk);
  g_autoptr(GPtrArray) readings =
      lz_desk_facts(self->desk, "reading", now - (lzq_minute)30 * LZQ_DAY, now + 1);
  g_autofree char *code = lz_field_word("reading", "analyte", analyte);
  int64_t id = 0;
  for (guint i = readings->len; i-- > 0 && !id;) {
    LzEntry *entry = g_ptr_array_index(readings, i);
    if (g_strcmp0(lz_entry_text(entry, "analyte"), code) == 0)
      id = lz_entry_int(entry, "instrument");
  }
  GListModel *all = lz_desk_instruments(self->desk);
  for (guint i = 0; i < g_list_model_get_n_items(all); i++) {
    g_autoptr(LzInstrumentRow) row = g_list_model_get_item(all, i);
    if (lz_instrument_row_info(row)->id == id)
      gtk_drop_down_set_selected(self->instrument, i);
  }
}

void
lz_round_line_show_choices(LzRoundLine *self)
{
  lz_grid_clear(self->choices);
  gtk_widget_set_visible(GTK_WIDGET(self->choices), self->form->words != NULL);
  if (!self->form->words)
    return;
  g_auto(GStrv) words = g_strsplit(self->form->words, "|", -1);
  for (int i = 0; words[i]; i++) {
    g_autofree char *shown = lz_word_shown(words[i]);
    char key[2] = {(char)('1' + i), 0};
    GtkWidget *cap = gtk_label_new(key), *label = gtk_label_new(shown);
    gtk_widget_add_css_class(cap, "key-cap");
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    if (g_strcmp0(words[i], self->choice) == 0)
      gtk_widget_add_css_class(label, "strong");
    gtk_grid_attach(self->choices, cap, i % 2 * 2, i / 2, 1, 1);
    gtk_grid_attach(self->choices, label, i % 2 * 2 + 1, i / 2, 1, 1);
  }
}

// What the vessel takes, once somebody has said how large it is.
static void
show_asked_bath(LzRoundLine *self, const LzTaskInfo *info)
{
  g_autoptr(LzAnswer) answer = self->alone_now ? NULL : lz_round_bath_answer(self->bath, NULL);
  g_autofree char *bottle = lz_round_bath_of(self->bath);
  LzQuestion ask;
  lz_question_init(&ask, LZ_QUESTION_BATH);
  g_autofree char *amount =
      answer && answer->unit != LZQ_UNIT_MIN // as it is measured: never beyond the limit
          ? lz_format_amount(lz_amount_measured(&ask, answer), answer->unit)
          : NULL;
  g_autofree char *both = amount ? g_strdup_printf("%s, %s", amount, info->amount) : NULL;
  gtk_widget_set_visible(self->asked_row, TRUE);
  gtk_label_set_label(self->asked, both ? both : info->amount);
  gtk_label_set_label(self->bottle, bottle);
}

static void
show_asked(LzRoundLine *self, const LzTaskInfo *info)
{
  if (lz_round_bath_is_on(self->bath)) {
    show_asked_bath(self, info);
    return;
  }
  const lzq_task *task = info->task;
  g_autofree char *bottle = NULL;
  if (task->bottle != LZQ_NONE && task->kind == LZQ_TASK_DOSE)
    bottle = g_strdup_printf(_("bottle %s"), lz_desk_name(self->desk, "bottle", task->bottle));
  const char *amount = self->alone_now ? "" : info->amount;
  gtk_widget_set_visible(self->asked_row, *amount != 0);
  gtk_label_set_label(self->asked, amount);
  gtk_label_set_label(self->bottle, bottle ? bottle : "");
}

void
lz_round_line_show_form(LzRoundLine *self)
{
  const lzq_task *task = lz_task_row_info(self->row)->task;
  int64_t lot = task->lot == LZQ_NONE ? 0 : lz_desk_id(self->desk, "lot", task->lot);
  g_free(self->why_not);
  self->why_not =
      self->form->kind ? lz_desk_why_not(self->desk, self->form->kind, lot, NULL) : NULL;
  gboolean number = self->form->field && !self->form->words && !self->why_not;
  gtk_widget_set_visible(GTK_WIDGET(self->entry), number);
  gtk_widget_set_visible(GTK_WIDGET(self->alone), !self->form->field || self->why_not);
  gtk_widget_set_visible(self->instrument_row, g_strcmp0(self->form->kind, "reading") == 0);
  if (self->why_not)
    gtk_label_set_label(self->alone, self->why_not);
  else if (!self->form->kind)
    gtk_label_set_label(self->alone, _("Not recorded here; − says why it was not done."));
  else if (g_strcmp0(self->form->kind, "sighting") == 0)
    gtk_label_set_label(self->alone, _("Enter: nothing seen. * if you see something."));
  else
    gtk_label_set_label(self->alone, _("Enter: done."));
}

void
lz_round_line_refresh(LzRoundLine *self)
{
  const LzTaskInfo *info = lz_task_row_info(self->row);
  g_autofree char *by = lz_round_by(self->desk, info);
  g_autofree char *by_words = g_strdup_printf(C_("deadline", "by %s"), by);
  g_autofree char *state = info->task->state == LZQ_TASK_DUE
                               ? g_strdup(_("Now"))
                               : lz_round_state_word(self->desk, info);
  gboolean late = info->task->state == LZQ_TASK_LATE;
  gtk_widget_remove_css_class(GTK_WIDGET(self->state), late ? "accent" : "alarm");
  gtk_widget_add_css_class(GTK_WIDGET(self->state), late ? "alarm" : "accent");
  gtk_label_set_label(self->state, state);
  lz_round_where_set(self->basin, self->desk, info);
  gtk_label_set_label(self->what, info->what);
  gtk_label_set_label(self->by, by_words);
  // the mL in 100 L are as good as the amount to whoever works it out alone
  const char *why = self->alone_now && lz_round_bath_is_on(self->bath) ? "" : info->why;
  gtk_label_set_label(self->why, why);
  show_asked(self, info);
  self->has_advice = info->task->kind == LZQ_TASK_DOSE;
  if (self->has_advice)
    self->advice = lz_desk_advise_dose(self->desk, info->task->system,
                                       (lzq_analyte)info->task->analyte, info->task->with_change_l);
  lz_round_line_show_working(self);
  g_autofree char *name =
      g_strdup_printf("%s, %s %s", info->where, info->what, self->alone_now ? "" : info->amount);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                 GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, why, -1);
}
