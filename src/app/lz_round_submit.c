// SPDX-License-Identifier: GPL-3.0-or-later
// From a typed number to an entry. The desk decides; a refusal opens the gate beside the line, and
// what was typed stays.
#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_error.h>
#include <lz_format.h>
#include <lz_words.h>
#include <math.h>

#include "lz_cost.h"
#include "lz_lookup.h"
#include "lz_round_line_private.h"
#include "lz_second_person.h"
#include "lz_spell.h"

static const char *
typed_value(LzRoundLine *self)
{
  return self->form->words ? self->choice : lz_number_entry_text(self->entry);
}

static GPtrArray *
commands(LzRoundLine *self, const char *typed)
{
  const LzTaskInfo *info = lz_task_row_info(self->row);
  GPtrArray *all = lz_task_commands(self->desk, info, self->form, typed ? typed : "",
                                    lz_round_line_instrument(self));
  for (guint i = 0; i < all->len; i++) {
    LzCommand *command = g_ptr_array_index(all, i);
    if (lz_round_bath_is_on(self->bath))
      lz_round_bath_fill(self->bath, command);
    lz_command_set_reason(command, self->reason);
    lz_second_person_set(command, self->witness);
  }
  return all;
}

// Where the typed dose would take the copper, for the scale of the gate.
static gboolean
scale_of(LzRoundLine *self, const char *typed, LzGateScale *out)
{
  const lzq_task *task = lz_task_row_info(self->row)->task;
  double ml;
  if (!self->has_advice || self->advice.analyte != LZQ_COPPER || !(self->advice.ml > 0) ||
      !lz_parse_number(typed, &ml, NULL, NULL))
    return FALSE;
  double from = self->advice.change_l > 0 ? self->advice.level_changed : self->advice.level_before;
  const LzSystemInfo *system = lz_desk_system_info(self->desk, task->system);
  *out = (LzGateScale){.low = NAN, .high = NAN, .asked = self->advice.level_after};
  out->typed = from + (self->advice.level_after - from) * ml / self->advice.ml;
  if (system && system->has_band[0]) {
    out->low = system->band[0].works;
    out->high = system->band[0].plan;
  }
  return TRUE;
}

static void
open_gate(LzRoundLine *self, LzGateKind kind, const char *sentence, const char *typed)
{
  LzGateScale scale;
  gboolean has_scale = scale_of(self, typed, &scale);
  lz_gate_set(self->gate, kind, sentence, has_scale ? &scale : NULL);
  lz_round_line_changed(self);
}

void
lz_round_line_ask(LzRoundLine *self, LzAsk ask)
{
  static const char *const prompts[] = {
      [LZ_ASK_SKIP] = N_("Why it cannot be done"),
      [LZ_ASK_REASON] = N_("The reason"),
      [LZ_ASK_WITNESS] = N_("Initials of the second person"),
  };
  gboolean words = ask == LZ_ASK_SKIP || ask == LZ_ASK_REASON || ask == LZ_ASK_WITNESS;
  self->ask = ask;
  gtk_widget_set_visible(GTK_WIDGET(self->entry), self->form->field && !self->form->words &&
                                                      !self->why_not &&
                                                      !(self->alone_now && ask == LZ_ASK_WITNESS));
  gtk_widget_set_visible(GTK_WIDGET(self->words), words);
  gtk_editable_set_text(GTK_EDITABLE(self->words), "");
  if (words) {
    gtk_entry_set_placeholder_text(self->words, _(prompts[ask]));
    gtk_accessible_update_property(GTK_ACCESSIBLE(self->words), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                   _(prompts[ask]), -1);
    gtk_widget_grab_focus(GTK_WIDGET(self->words));
  } else {
    lz_round_line_take_focus(self);
  }
  lz_round_line_changed(self);
}

// A second number is wanted in the same field; the first is remembered.
static void
ask_again(LzRoundLine *self, LzAsk ask, const char *typed)
{
  g_free(self->first);
  self->first = g_strdup(typed);
  self->loading = TRUE;
  lz_number_entry_set_text(self->entry, "");
  self->loading = FALSE;
  lz_round_line_ask(self, ask);
}

// Beside the field that it is about, by the name that the screen has for it.
static void
say_at_field(LzRoundLine *self, const GError *error)
{
  g_autofree char *sentence = lz_words_error(self->form->kind, error->message);
  if (!lz_round_bath_say(self->bath, error->message, sentence))
    lz_number_entry_set_echo(self->entry, sentence, TRUE);
}

static void
refused(LzRoundLine *self, const GError *error, const char *typed)
{
  g_autofree char *sentence = lz_words_error(self->form->kind, error->message);
  if (error->domain != LZ_DESK_ERROR) {
    lz_number_entry_set_echo(self->entry, sentence, TRUE);
    return;
  }
  // Who works it out alone does not see what the first came to, nor where it leads.
  if (lz_second_person_works(error)) {
    gboolean again = error->code == LZ_DESK_ERROR_NEEDS_SECOND_PERSON;
    open_gate(self, again ? LZ_GATE_ALONE : LZ_GATE_STOP, sentence, "");
    if (again)
      lz_round_line_begin_alone(self, typed);
    else
      lz_round_line_disagreed(self);
    return;
  }
  switch ((LzDeskError)error->code) {
  case LZ_DESK_ERROR_REFUSED: open_gate(self, LZ_GATE_STOP, sentence, typed); break;
  case LZ_DESK_ERROR_NEEDS_READBACK:
    open_gate(self, LZ_GATE_READ_BACK, sentence, typed);
    ask_again(self, LZ_ASK_READ_BACK, typed);
    break;
  case LZ_DESK_ERROR_NEEDS_SECOND_PERSON:
    open_gate(self, LZ_GATE_WITNESS, sentence, typed);
    lz_round_line_ask(self, LZ_ASK_WITNESS);
    break;
  case LZ_DESK_ERROR_NEEDS_REASON:
    open_gate(self, LZ_GATE_REASON, sentence, typed);
    lz_round_line_ask(self, LZ_ASK_REASON);
    break;
  case LZ_DESK_ERROR_BUSY:
  case LZ_DESK_ERROR_IO: {
    g_autofree char *kept = g_strdup_printf(_("Not saved yet, 1 waiting: %s"), sentence);
    gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", kept);
    break;
  }
  default: say_at_field(self, error);
  }
}

// What was typed, in the record's own unit.
static gboolean
recorded_value(LzRoundLine *self, const char *typed, double *out)
{
  LzFieldCheck check;
  if (!self->form->typed_in)
    return lz_parse_number(typed, out, NULL, NULL);
  g_autoptr(GPtrArray) all = commands(self, typed);
  gboolean read = all->len > 0 && lz_desk_check_field(self->desk, g_ptr_array_index(all, 0),
                                                      self->form->field, typed, &check, NULL);
  if (read)
    *out = check.value;
  return read;
}

static gboolean
is_odd(LzRoundLine *self, const char *typed, double *predicted)
{
  const lzq_task *task = lz_task_row_info(self->row)->task;
  double value;
  return task->kind == LZQ_TASK_TEST && task->system != LZQ_NONE &&
         recorded_value(self, typed, &value) &&
         lz_desk_reading_is_odd(self->desk, task->system, task->analyte, value, predicted);
}

static void
ask_repeat(LzRoundLine *self, const char *typed, double predicted)
{
  const lzq_task *task = lz_task_row_info(self->row)->task;
  g_autofree char *expected = lz_format_level(task->analyte, predicted);
  g_autofree char *sentence = g_strdup_printf(
      _("%s is far from what was expected, about %s %s."), typed, expected,
      self->form->typed_in ? lz_words_analyte_unit(task->analyte) : self->form->unit);
  open_gate(self, LZ_GATE_REPEAT, sentence, typed);
  ask_again(self, LZ_ASK_REPEAT, typed);
}

static gboolean
submit(LzRoundLine *self, GPtrArray *all, GError **error)
{
  return lz_desk_submit(self->desk, (LzCommand *const *)all->pdata, all->len, error);
}

// Two readings that agree are both kept, the second confirming the first; where the second is as
// expected the first was a slip of the fingers and is not kept.
static gboolean
submit_repeat(LzRoundLine *self, const char *second, GError **error)
{
  double predicted;
  g_autoptr(GPtrArray) later = commands(self, second);
  if (!is_odd(self, second, &predicted))
    return submit(self, later, error);
  g_autoptr(GPtrArray) earlier = commands(self, self->first);
  LzCommand *first = g_ptr_array_index(earlier, 0);
  lz_command_set(first, "suspect", "yes");
  if (!submit(self, earlier, error))
    return FALSE;
  g_autofree char *id = g_strdup_printf("#%" G_GINT64_FORMAT, lz_command_id(first));
  lz_command_set(g_ptr_array_index(later, 0), "confirms", id);
  return submit(self, later, error);
}

// A move or a course that delays others is shown first; FALSE: nobody else is touched.
static gboolean
shows_cost(LzRoundLine *self, const char *typed)
{
  if (self->ask == LZ_ASK_COST || lz_task_row_info(self->row)->task->kind != LZQ_TASK_MOVE)
    return FALSE;
  const char *own[] = {lz_desk_name(self->desk, "lot", lz_task_row_info(self->row)->task->lot),
                       NULL};
  g_autoptr(GPtrArray) all = commands(self, typed);
  g_autoptr(LzForesight) foresight =
      lz_desk_foresee(self->desk, (LzCommand *const *)all->pdata, all->len, NULL);
  if (!foresight || !lz_cost_touches_others(foresight, own))
    return FALSE;
  g_autofree char *sentence = lz_cost_sentence(self->desk, foresight);
  open_gate(self, LZ_GATE_COST, sentence, typed);
  lz_round_line_ask(self, LZ_ASK_COST);
  return TRUE;
}

static gboolean
submit_number(LzRoundLine *self, const char *typed, GError **error)
{
  if (self->ask == LZ_ASK_REPEAT)
    return submit_repeat(self, typed, error);
  gboolean again = self->ask == LZ_ASK_READ_BACK;
  g_autoptr(GPtrArray) all = commands(self, again ? self->first : typed);
  if (all->len == 0) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, "%s",
                _("Nothing here can be recorded; − says why it was not done."));
    return FALSE;
  }
  if (again)
    lz_command_set_readback(g_ptr_array_index(all, 0), typed);
  return submit(self, all, error);
}

static gboolean
submit_skip(LzRoundLine *self, GError **error)
{
  const char *reason = gtk_editable_get_text(GTK_EDITABLE(self->words));
  g_autoptr(GPtrArray) all = lz_task_skips(self->desk, lz_task_row_info(self->row), reason);
  return submit(self, all, error);
}

void
lz_round_line_submit(LzRoundLine *self)
{
  if (!self->row || lz_round_line_goes_on(self))
    return;
  gboolean second = self->alone_now && self->ask == LZ_ASK_WITNESS;
  g_autofree char *typed = g_strdup(second ? self->first : typed_value(self));
  g_autoptr(GError) error = NULL;
  const char *words = gtk_editable_get_text(GTK_EDITABLE(self->words));
  double predicted = NAN;
  if (self->ask == LZ_ASK_REASON)
    g_free(self->reason), self->reason = g_strdup(words);
  if (self->ask == LZ_ASK_WITNESS)
    g_free(self->witness), self->witness = g_strdup(words);
  if (self->ask != LZ_ASK_SKIP && self->form->field && !(typed && *typed)) {
    lz_number_entry_set_echo(self->entry, _("Nothing typed yet."), TRUE);
    return;
  }
  if (self->ask == LZ_ASK_NOTHING && typed && is_odd(self, typed, &predicted)) {
    ask_repeat(self, typed, predicted);
    return;
  }
  if (self->ask != LZ_ASK_SKIP && typed && shows_cost(self, typed))
    return;
  g_object_ref(self);
  g_autoptr(LzTaskRow) row = g_object_ref(self->row);
  gboolean done =
      self->ask == LZ_ASK_SKIP ? submit_skip(self, &error) : submit_number(self, typed, &error);
  if (done)
    lz_round_line_recorded(self);
  else
    refused(self, error, self->ask == LZ_ASK_READ_BACK ? self->first : typed);
  g_object_unref(self);
}

static char *
spelled(LzRoundLine *self, const char *typed)
{
  double value;
  return lz_parse_number(typed, &value, NULL, NULL) ? lz_spell(value, self->form->unit, NULL)
                                                    : NULL;
}

void
lz_round_line_check(LzRoundLine *self)
{
  const char *typed = lz_number_entry_text(self->entry);
  g_autoptr(GError) error = NULL;
  LzFieldCheck check;
  if (!self->row || !self->form->field || self->form->words)
    return;
  if (self->ask == LZ_ASK_COST) // another tank costs something else
    self->ask = LZ_ASK_NOTHING;
  if (self->ask == LZ_ASK_NOTHING)
    lz_gate_set(self->gate, LZ_GATE_OPEN, NULL, NULL);
  if (!*typed)
    return;
  g_autoptr(GPtrArray) all = commands(self, typed);
  if (all->len == 0)
    return;
  LzCommand *command = g_ptr_array_index(all, 0);
  const char *text = lz_command_get(command, self->form->field);
  if (!lz_desk_check_field(self->desk, command, self->form->field, text, &check, &error)) {
    g_autofree char *sentence = lz_words_error(self->form->kind, error->message);
    lz_number_entry_set_echo(self->entry, sentence, TRUE);
    return;
  }
  g_autofree char *words = spelled(self, typed);
  g_autofree char *both =
      words && self->form->typed_in ? g_strdup_printf("%s = %s", words, check.echo) : NULL;
  lz_number_entry_set_echo(self->entry, both ? both : words ? words : check.echo, FALSE);
  const gboolean gives =
      g_strcmp0(self->form->kind, "dose") == 0 || lz_round_bath_is_on(self->bath);
  if (self->ask == LZ_ASK_NOTHING && gives &&
      !lz_desk_check(self->desk, (LzCommand *const *)all->pdata, all->len, &error) &&
      g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_REFUSED))
    open_gate(self, LZ_GATE_STOP, error->message, typed);
}
