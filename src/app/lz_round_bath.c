// SPDX-License-Identifier: GPL-3.0-or-later
// Number fields as the amount's own, only smaller: digits, the pad and the digits to press all work
// in them, and the arrows still walk.
#include "lz_round_bath.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_words.h>
#include <math.h>
#include <string.h>

#include "lz_number_entry.h"

typedef enum { VESSEL, TEMPERATURE, MINUTES, FISH, N_NUMBERS } Number;
typedef enum { AIR, EARLY, N_FLAGS } Flag;

static const struct {
  const char *field, *label, *unit;
  gboolean before, needed;
} numbers[N_NUMBERS] = {
    [VESSEL] = {"litres", N_("Vessel"), "L", TRUE, TRUE},
    [TEMPERATURE] = {"temperature", N_("Temperature"), "°C", TRUE, FALSE},
    [MINUTES] = {"minutes", N_("In it"), "min", FALSE, TRUE},
    [FISH] = {"heads", N_("Fish, if not all"), "", FALSE, FALSE},
};
static const struct {
  const char *field, *label;
} flags[N_FLAGS] = {
    [AIR] = {"air", N_("Air is on")},
    [EARLY] = {"stopped", N_("Ended early, because of signs")},
};

struct _LzRoundBath {
  LzDesk *desk; // not owned: the line lives with it
  GtkWidget *before, *after;
  LzNumberEntry *numbers[N_NUMBERS];
  GtkWidget *flags[N_FLAGS];
  LzQuestion ask;
  gboolean on, filling, has_answer; // has_answer: the adviser knows this bath
  LzRoundBathCall changed, enter;
  gpointer data;
};

static void
on_edit(LzRoundBath *bath)
{
  if (!bath->filling)
    bath->changed(bath->data);
}

// Enter ticks it and goes on; space alone changes it, as everywhere.
static gboolean
on_flag_key(GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
            LzRoundBath *bath)
{
  if (keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter)
    return GDK_EVENT_PROPAGATE;
  gtk_check_button_set_active(
      GTK_CHECK_BUTTON(gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(keys))), TRUE);
  bath->enter(bath->data);
  return GDK_EVENT_STOP;
}

static void
add_flag(LzRoundBath *bath, GtkBox *box, Flag flag)
{
  GtkWidget *check = gtk_check_button_new_with_label(_(flags[flag].label));
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(on_flag_key), bath);
  gtk_widget_add_controller(check, keys);
  g_signal_connect_swapped(check, "toggled", G_CALLBACK(on_edit), bath);
  gtk_box_append(box, check);
  bath->flags[flag] = check;
}

static void
add_numbers(LzRoundBath *bath, GtkBox *box, gboolean before)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_box_set_homogeneous(GTK_BOX(row), TRUE);
  for (int i = 0; i < N_NUMBERS; i++) {
    if (numbers[i].before != before)
      continue;
    bath->numbers[i] = LZ_NUMBER_ENTRY(lz_number_entry_new());
    lz_number_entry_set_small(bath->numbers[i]);
    lz_number_entry_set_field(bath->numbers[i], _(numbers[i].label), numbers[i].unit);
    g_signal_connect_swapped(bath->numbers[i], "changed", G_CALLBACK(on_edit), bath);
    g_signal_connect_swapped(bath->numbers[i], "activate", G_CALLBACK(bath->enter), bath->data);
    gtk_box_append(GTK_BOX(row), GTK_WIDGET(bath->numbers[i]));
  }
  gtk_box_append(box, row);
}

LzRoundBath *
lz_round_bath_new(GtkBox *before, GtkBox *after, LzRoundBathCall changed, LzRoundBathCall enter,
                  gpointer data)
{
  LzRoundBath *bath = g_new0(LzRoundBath, 1);
  *bath = (LzRoundBath){.before = GTK_WIDGET(before),
                        .after = GTK_WIDGET(after),
                        .changed = changed,
                        .enter = enter,
                        .data = data};
  add_numbers(bath, before, TRUE);
  add_flag(bath, before, AIR);
  add_numbers(bath, after, FALSE);
  add_flag(bath, after, EARLY);
  return bath;
}

void
lz_round_bath_free(LzRoundBath *bath)
{
  if (!bath)
    return;
  for (int i = 0; i < N_NUMBERS; i++) {
    g_signal_handlers_disconnect_by_data(bath->numbers[i], bath);
    g_signal_handlers_disconnect_by_data(bath->numbers[i], bath->data);
  }
  for (int i = 0; i < N_FLAGS; i++)
    g_signal_handlers_disconnect_by_data(bath->flags[i], bath);
  g_free(bath);
}

// Of fresh water the minutes are its amount.
static gboolean
is_fresh(const LzRoundBath *bath)
{
  return bath->has_answer && bath->ask.bath == LZ_BATH_FRESHWATER;
}

void
lz_round_bath_set(LzRoundBath *bath, LzDesk *desk, const lzq_task *task)
{
  bath->desk = desk;
  bath->on = task && task->kind == LZQ_TASK_BATH;
  bath->has_answer = bath->on && lz_question_of_bath(desk, task, &bath->ask);
  gtk_widget_set_visible(bath->before, bath->on);
  gtk_widget_set_visible(bath->after, bath->on);
  gtk_widget_set_visible(GTK_WIDGET(bath->numbers[MINUTES]), !is_fresh(bath));
  lz_round_bath_set_text(bath, "");
}

gboolean
lz_round_bath_is_on(const LzRoundBath *bath)
{
  return bath->on;
}

static gboolean
is_ticked(const LzRoundBath *bath, Flag flag)
{
  return gtk_check_button_get_active(GTK_CHECK_BUTTON(bath->flags[flag]));
}

// "100;20;;;1;0"
char *
lz_round_bath_text(const LzRoundBath *bath)
{
  GString *text = g_string_new(NULL);
  gboolean any = FALSE;
  for (int i = 0; i < N_NUMBERS; i++) {
    const char *typed = lz_number_entry_text(bath->numbers[i]);
    any = any || *typed;
    g_string_append_printf(text, "%s;", typed);
  }
  for (int i = 0; i < N_FLAGS; i++) {
    any = any || is_ticked(bath, (Flag)i);
    g_string_append_printf(text, "%d;", is_ticked(bath, (Flag)i));
  }
  if (!any)
    g_string_truncate(text, 0);
  return g_string_free(text, FALSE);
}

void
lz_round_bath_set_text(LzRoundBath *bath, const char *text)
{
  g_auto(GStrv) parts = g_strsplit(text, ";", -1);
  const gboolean whole = g_strv_length(parts) >= N_NUMBERS + N_FLAGS;
  bath->filling = TRUE;
  for (int i = 0; i < N_NUMBERS; i++)
    lz_number_entry_set_text(bath->numbers[i], whole ? parts[i] : "");
  for (int i = 0; i < N_FLAGS; i++)
    gtk_check_button_set_active(GTK_CHECK_BUTTON(bath->flags[i]),
                                whole && strcmp(parts[N_NUMBERS + i], "1") == 0);
  bath->filling = FALSE;
}

gboolean
lz_round_bath_say(LzRoundBath *bath, const char *message, const char *sentence)
{
  const char *colon = strchr(message, ':');
  for (int i = 0; bath->on && colon && i < N_NUMBERS; i++) {
    if (strlen(numbers[i].field) != (size_t)(colon - message) ||
        !g_str_has_prefix(message, numbers[i].field) ||
        !gtk_widget_get_visible(GTK_WIDGET(bath->numbers[i])))
      continue;
    lz_number_entry_set_echo(bath->numbers[i], sentence, TRUE);
    lz_number_entry_take_focus(bath->numbers[i]);
    return TRUE;
  }
  return FALSE;
}

GtkWidget *
lz_round_bath_next(const LzRoundBath *bath, GtkWidget *amount, gboolean amount_empty)
{
  if (!*lz_number_entry_text(bath->numbers[VESSEL]))
    return GTK_WIDGET(bath->numbers[VESSEL]);
  // formalin uses the oxygen up: its amount is worked out only with air on
  if (bath->has_answer && bath->ask.bath == LZ_BATH_FORMALIN && !is_ticked(bath, AIR) &&
      amount_empty)
    return bath->flags[AIR];
  if (amount_empty)
    return amount;
  if (is_fresh(bath) || *lz_number_entry_text(bath->numbers[MINUTES]))
    return NULL;
  return GTK_WIDGET(bath->numbers[MINUTES]);
}

static double
typed_number(const LzRoundBath *bath, Number number)
{
  double value;
  return lz_parse_number(lz_number_entry_text(bath->numbers[number]), &value, NULL, NULL) ? value
                                                                                          : NAN;
}

static LzQuestion
question(const LzRoundBath *bath)
{
  LzQuestion ask = bath->ask;
  double temperature = typed_number(bath, TEMPERATURE);
  ask.volume_l = typed_number(bath, VESSEL);
  ask.temperature = isnan(temperature) ? ask.temperature : temperature;
  ask.air = is_ticked(bath, AIR);
  return ask;
}

LzAnswer *
lz_round_bath_answer(LzRoundBath *bath, GError **error)
{
  LzQuestion ask;
  if (!bath->has_answer || isnan(typed_number(bath, VESSEL)))
    return NULL;
  ask = question(bath);
  return lz_desk_answer(bath->desk, &ask, error);
}

GPtrArray *
lz_round_bath_given(LzRoundBath *bath)
{
  LzQuestion ask = question(bath);
  return lz_question_given(bath->desk, &ask);
}

char *
lz_round_bath_of(LzRoundBath *bath)
{
  return bath->ask.bottle == LZQ_NONE
             ? g_strdup("")
             : g_strdup_printf(_("bottle %s"),
                               lz_desk_name(bath->desk, "bottle", bath->ask.bottle));
}

void
lz_round_bath_fill(LzRoundBath *bath, LzCommand *command)
{
  for (int i = 0; i < N_NUMBERS; i++) {
    const char *typed = lz_number_entry_text(bath->numbers[i]);
    if (*typed)
      lz_command_set(command, numbers[i].field, typed);
  }
  for (int i = 0; i < N_FLAGS; i++)
    if (is_ticked(bath, (Flag)i))
      lz_command_set(command, flags[i].field, "yes");
  if (!bath->has_answer || bath->ask.bottle == LZQ_NONE)
    return;
  lz_command_set(command, "bottle", lz_desk_name(bath->desk, "bottle", bath->ask.bottle));
  g_autoptr(LzAnswer) answer = lz_round_bath_answer(bath, NULL);
  if (answer && answer->unit == LZQ_UNIT_ML)
    lz_command_set_number(command, "computed_ml", answer->amount);
}
