// SPDX-License-Identifier: GPL-3.0-or-later
// From boxes to a shipment and its lots: supplier and species that are new here, the shipment, one
// lot a box, all in one transaction.
#include <glib/gi18n.h>
#include <lz_command.h>
#include <lz_error.h>
#include <lz_words.h>
#include <math.h>

#include "lz_cost.h"
#include "lz_receive_private.h"
#include "lz_receive_side.h"
#include "lz_task_form.h"

char *
lz_receive_next_code(LzDesk *desk, const char *kind, const char *first, guint ahead)
{
  g_autoptr(GArray) ids = lz_desk_entities(desk, kind);
  const char *best = first;
  guint64 highest = 0;
  for (guint i = 0; ids && i < ids->len; i++) {
    const char *name = lz_desk_name_of(desk, kind, g_array_index(ids, int64_t, i));
    const char *digits = name;
    while (*digits && !g_ascii_isdigit(*digits))
      digits++;
    char *end;
    guint64 number = g_ascii_strtoull(digits, &end, 10);
    if (end != digits && !*end && number > highest) {
      highest = number;
      best = name;
    }
  }
  const char *digits = best;
  while (*digits && !g_ascii_isdigit(*digits))
    digits++;
  return g_strdup_printf("%.*s%0*" G_GUINT64_FORMAT, (int)(digits - best), best,
                         (int)strlen(digits), highest + 1 + ahead);
}

static const char *
head_text(LzReceiveView *self, LzHead head)
{
  return gtk_editable_get_text(GTK_EDITABLE(lz_receive_head(self, head)));
}

static gboolean
made_already(GPtrArray *commands, const char *kind, const char *name)
{
  for (guint i = 0; i < commands->len; i++) {
    LzCommand *made = g_ptr_array_index(commands, i);
    if (g_str_equal(lz_command_kind(made), kind) &&
        g_strcmp0(lz_command_get(made, "name"), name) == 0)
      return TRUE;
  }
  return FALSE;
}

static void
add_shipment(LzReceiveView *self, GPtrArray *commands, guint n_boxes)
{
  const char *supplier = head_text(self, LZ_HEAD_SUPPLIER);
  if (*supplier && !lz_desk_find(self->desk, "supplier", supplier))
    g_ptr_array_add(commands, lz_command_build("supplier", "name", supplier, NULL));
  LzCommand *command = lz_command_build("shipment", "code", head_text(self, LZ_HEAD_CODE),
                                        "supplier", *supplier ? supplier : NULL, "certificate",
                                        head_text(self, LZ_HEAD_CERTIFICATE), "waybill",
                                        head_text(self, LZ_HEAD_WAYBILL), NULL);
  lz_command_set_number(command, "boxes", n_boxes);
  lz_command_set_place(command, _("shipment"));
  g_ptr_array_add(commands, command);
}

// FALSE: the name fits several species, and the error says which.
static gboolean
set_species(LzReceiveView *self, const LzReceiveBox *box, LzCommand *lot, GPtrArray *commands,
            GError **error)
{
  const char *typed = lz_receive_box_text(box, LZ_BOX_SPECIES);
  g_autofree char *several = NULL;
  int64_t id = lz_receive_species(self->desk, typed, &several);
  if (several) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE,
                _("Box %1$u: “%2$s” may be %3$s: type more of it."), box->number, typed, several);
    return FALSE;
  }
  if (id > 0) {
    g_autofree char *name = g_strdup_printf("#%" G_GINT64_FORMAT, id);
    lz_command_set(lot, "species", name);
    return TRUE;
  }
  if (*typed && !made_already(commands, "species", typed))
    g_ptr_array_add(commands, lz_command_build("species", "name", typed, NULL));
  lz_command_set(lot, "species", typed);
  return TRUE;
}

static gboolean
add_lot(LzReceiveView *self, const LzReceiveBox *box, GPtrArray *commands, GError **error)
{
  g_autofree char *place = g_strdup_printf(_("Box %u"), box->number);
  g_autofree char *number = g_strdup_printf("%u", box->number);
  g_autofree char *tank =
      lz_receive_tank(self->desk, lz_receive_box_text(box, LZ_BOX_TANK), lz_receive_system(self));
  g_autofree char *how =
      lz_field_word("lot", "acclimation", gtk_drop_down_get_selected(self->acclimation));
  g_autoptr(LzCommand) lot = lz_command_build("lot", "shipment", head_text(self, LZ_HEAD_CODE),
                                              "box", number, "acclimation", how, NULL);
  for (int f = 0; f < LZ_N_BOX_FIELDS; f++)
    lz_command_set(lot, lz_box_field_name(f), lz_receive_box_text(box, f));
  lz_command_set(lot, "tank", tank);
  lz_command_set_place(lot, place);
  if (gtk_widget_get_visible(self->why))
    lz_command_set_reason(lot, gtk_editable_get_text(GTK_EDITABLE(self->reason)));
  if (!set_species(self, box, lot, commands, error))
    return FALSE;
  g_ptr_array_add(commands, g_steal_pointer(&lot));
  return TRUE;
}

static GPtrArray *
commands_of(LzReceiveView *self, guint *n_boxes, GError **error)
{
  g_autoptr(GPtrArray) commands = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  *n_boxes = 0;
  for (guint i = 0; i < self->boxes->len; i++)
    *n_boxes += !lz_receive_box_is_empty(g_ptr_array_index(self->boxes, i));
  if (*n_boxes == 0) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, "%s", _("No box has been opened yet."));
    return NULL;
  }
  add_shipment(self, commands, *n_boxes);
  for (guint i = 0; i < self->boxes->len; i++) {
    const LzReceiveBox *box = g_ptr_array_index(self->boxes, i);
    if (!lz_receive_box_is_empty(box) && !add_lot(self, box, commands, error))
      return NULL;
  }
  return g_steal_pointer(&commands);
}

static char *
done_words(LzReceiveView *self, guint n_boxes)
{
  double alive = 0, dead = 0;
  for (guint i = 0; i < self->boxes->len; i++) {
    double heads = lz_receive_box_number(g_ptr_array_index(self->boxes, i), LZ_BOX_COUNTED);
    double gone = lz_receive_box_number(g_ptr_array_index(self->boxes, i), LZ_BOX_DEAD);
    alive += isnan(heads) ? 0 : heads;
    dead += isnan(gone) ? 0 : gone;
  }
  // Translators: shipment; boxes; fish alive; fish dead on arrival
  return g_strdup_printf(ngettext("%1$s is recorded: %2$u box, %3$d alive, %4$d dead on arrival.",
                                  "%1$s is recorded: %2$u boxes, %3$d alive, %4$d dead on arrival.",
                                  n_boxes),
                         head_text(self, LZ_HEAD_CODE), n_boxes, (int)alive, (int)dead);
}

static void
say(LzReceiveView *self, const char *sentence)
{
  gtk_label_set_label(self->message, sentence);
  gtk_widget_set_visible(GTK_WIDGET(self->message), TRUE);
  lz_receive_draft_save(self);
}

// What it costs the lots that stand there already, said before it is recorded; recording the same
// again confirms it. TRUE: said now.
static gboolean
says_cost(LzReceiveView *self, GPtrArray *commands)
{
  g_autoptr(LzForesight) foresight =
      lz_desk_foresee(self->desk, (LzCommand *const *)commands->pdata, commands->len, NULL);
  if (!foresight || !lz_cost_touches_others(foresight, NULL))
    return FALSE;
  g_autofree char *cost = lz_cost_sentence(self->desk, foresight);
  if (g_strcmp0(cost, self->cost_said) == 0)
    return FALSE;
  GString *words = g_string_new(_("Nothing is recorded yet."));
  for (guint i = 0; i < foresight->rooms->len; i++) {
    g_string_append_printf(words, " ");
    g_string_append_printf(words, _("%s holds no fish and would delay nobody."),
                           (const char *)g_ptr_array_index(foresight->rooms, i));
  }
  g_string_append_printf(words, " %s %s", cost, _("Record again to do it all the same."));
  say(self, words->str);
  g_string_free(words, TRUE);
  g_free(self->cost_said);
  self->cost_said = g_steal_pointer(&cost);
  return TRUE;
}

static void
ask_reason(LzReceiveView *self, gboolean ask)
{
  if (!ask)
    gtk_editable_set_text(GTK_EDITABLE(self->reason), "");
  gtk_widget_set_visible(self->why, ask);
  if (ask)
    gtk_widget_grab_focus(GTK_WIDGET(self->reason));
}

static void
refused(LzReceiveView *self, const GError *error)
{
  g_autofree char *sentence = lz_words_error("lot", error->message);
  say(self, sentence);
  if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NEEDS_REASON))
    ask_reason(self, TRUE);
}

void
lz_receive_submit(LzReceiveView *self)
{
  g_autoptr(GError) error = NULL;
  guint n_boxes;
  g_autoptr(GPtrArray) commands = commands_of(self, &n_boxes, &error);
  if (commands && says_cost(self, commands))
    return;
  if (commands)
    lz_desk_submit(self->desk, (LzCommand *const *)commands->pdata, commands->len, &error);
  if (error) {
    refused(self, error);
    return;
  }
  ask_reason(self, FALSE);
  g_autofree char *done = done_words(self, n_boxes);
  g_clear_pointer(&self->cost_said, g_free);
  lz_receive_draft_drop(self);
  lz_receive_clear(self);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", done);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.place", "s", "round");
}
