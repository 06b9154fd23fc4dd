// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_access.h"
#include "lz_form.h"

#include <glib/gi18n.h>
#include <lz_error.h>
#include <lz_fields.h>
#include <lz_words.h>

#include "lz_digits.h"
#include "lz_form_private.h"
#include "lz_form_shown.h"
#include "lz_lookup.h"
#include "lz_reasons.h"
#include "lz_second_person.h"
#include "lz_tall.h"

G_DEFINE_FINAL_TYPE(LzForm, lz_form, GTK_TYPE_WIDGET)

enum { DONE, CANCELLED, N_SIGNALS };
static guint signals[N_SIGNALS];

void
lz_form_say(LzForm *self, const char *sentence)
{
  gtk_label_set_label(self->message, sentence ? sentence : "");
  gtk_widget_set_visible(GTK_WIDGET(self->message), sentence != NULL);
}

static gboolean
is_asking(LzForm *self)
{
  return gtk_widget_get_visible(self->asking);
}

// Between the fields and what they would cost.
static void
ask(LzForm *self, gboolean asking)
{
  gtk_widget_set_visible(self->asking, asking);
  gtk_widget_set_visible(GTK_WIDGET(self->fields), !asking);
  const char *title = lz_form_title(self->kind->name);
  g_autofree char *words = self->corrects ? g_strdup_printf(_("Correction: %s"), title)
                           : asking       ? g_strdup_printf(_("%s: nothing is recorded yet"), title)
                                          : g_strdup(title);
  g_autofree char *others = lz_form_also_names(self);
  // Translators: title of a form; lots that the same is entered for
  g_autofree char *all = others ? g_strdup_printf(_("%1$s (and the same for %2$s)"), words, others)
                                : g_steal_pointer(&words);
  gtk_label_set_label(self->title, all);
  gtk_button_set_label(self->cancel, asking ? _("_Back to the form") : _("_Cancel"));
  gtk_button_set_label(self->record, asking ? _("_Record all the same") : _("_Record"));
}

static void
append(LzForm *self, GtkWidget *box)
{
  GtkWidget *child = gtk_flow_box_child_new();
  gtk_flow_box_child_set_child(GTK_FLOW_BOX_CHILD(child), box);
  gtk_widget_set_focusable(child, FALSE); // Tab goes from input to input
  gtk_flow_box_append(self->fields, child);
}

static GtkEntry *
add_extra(LzForm *self, const char *label, const char *placeholder,
          GtkWidget *(*beside)(GtkEntry *entry))
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2), *entry = gtk_entry_new();
  GtkWidget *words = g_object_new(GTK_TYPE_LABEL, "label", label, "xalign", 0.0, NULL);
  gtk_widget_add_css_class(words, "axis");
  gtk_editable_set_width_chars(GTK_EDITABLE(entry), 22); // a time with its zone
  gtk_entry_set_placeholder_text(GTK_ENTRY(entry), placeholder);
  gtk_box_append(GTK_BOX(box), words);
  gtk_box_append(GTK_BOX(box), beside ? beside(GTK_ENTRY(entry)) : entry);
  gtk_accessible_update_property(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect_object(entry, "activate", G_CALLBACK(lz_form_submit), self, G_CONNECT_SWAPPED);
  append(self, box);
  return GTK_ENTRY(entry);
}

static void
add_field(LzForm *self, const LzField *field)
{
  LzFormField *input = lz_form_field_new(self->desk, self->kind->name, field);
  g_ptr_array_add(self->inputs, input);
  append(self, input->box);
  if (GTK_IS_ENTRY(input->input))
    g_signal_connect_object(input->input, "activate", G_CALLBACK(lz_form_submit), self,
                            G_CONNECT_SWAPPED);
}

// A lot is received and put on its protocol in one act: only so can its cost be foreseen.
static void
add_begins(LzForm *self)
{
  self->begins_field = *lz_kind_field(lz_kind_find("course"), "protocol");
  self->begins_field.name = "@begins";
  self->begins_field.needed = FALSE;
  self->begins = lz_form_field_new(self->desk, "course", &self->begins_field);
  gtk_label_set_label(self->begins->label, _("Begins with protocol"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->begins->input), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Begins with protocol"), -1);
  append(self, self->begins->box);
}

static void
build(LzForm *self)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->fields))))
    gtk_flow_box_remove(self->fields, child);
  g_ptr_array_set_size(self->inputs, 0);
  self->when = self->reason = self->witness = self->again = NULL;
  g_clear_pointer(&self->alone, g_free);
  g_hash_table_remove_all(self->along);
  g_clear_pointer(&self->begins, lz_form_field_free);
  const char *const *shown = lz_form_shown(self->kind->name);
  for (guint i = 0; shown && shown[i]; i++) {
    const LzField *field = lz_kind_field(self->kind, shown[i]);
    if (field)
      add_field(self, field);
  }
  for (guint i = 0; !shown && i < self->kind->n_fields; i++)
    add_field(self, &self->kind->fields[i]);
  if (g_str_equal(self->kind->name, "lot") && !self->corrects && !self->entity)
    add_begins(self);
  self->when = add_extra(self, _("When"), _("now"), NULL);
  if (self->corrects)
    self->reason = add_extra(self, _("Why it is corrected"), _("needed"), lz_reasons_beside);
}

char *
lz_form_text(LzForm *self, const char *field)
{
  LzFormField *input = lz_form_find(self, field);
  return input ? lz_form_field_text(input) : NULL;
}

void
lz_form_set_text(LzForm *self, const char *field, const char *text)
{
  if (g_str_equal(field, "@also")) {
    g_strfreev(self->also);
    self->also = *text ? g_strsplit(text, "\n", -1) : NULL;
    return;
  }
  LzFormField *input = g_str_equal(field, "@begins") ? self->begins : lz_form_find(self, field);
  GtkEntry *extra = g_str_equal(field, "@when")     ? self->when
                    : g_str_equal(field, "@reason") ? self->reason
                                                    : NULL;
  if (input)
    lz_form_field_set(input, text);
  else if (extra)
    gtk_editable_set_text(GTK_EDITABLE(extra), text);
  else if (lz_kind_field(self->kind, field))
    g_hash_table_replace(self->along, g_strdup(field), g_strdup(text));
}

void
lz_form_open(LzForm *self, LzDesk *desk, const char *kind, gint64 corrects, const char *entity,
             GVariant *fields)
{
  g_return_if_fail(LZ_IS_FORM(self));
  lz_form_follow(self, desk);
  self->kind = lz_kind_find(kind);
  g_clear_pointer(&self->also, g_strfreev);
  self->corrects = corrects;
  g_free(self->entity);
  self->entity = g_strdup(entity);
  g_return_if_fail(self->kind != NULL);
  ask(self, FALSE);
  lz_form_say(self, NULL);
  build(self);
  lz_form_fill_known(self);
  GVariantIter iter;
  const char *name, *text;
  if (fields) {
    g_variant_iter_init(&iter, fields);
    while (g_variant_iter_next(&iter, "{&s&s}", &name, &text))
      lz_form_set_text(self, name, text);
  }
  lz_form_bottle_follow(self);
  lz_form_show_right(self);
  ask(self, FALSE);                               // the title names the lots
  for (guint i = 0; i < self->inputs->len; i++) { // the first that is still empty
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    g_autofree char *has = lz_form_field_text(input);
    if (!*has || i + 1 == self->inputs->len) {
      gtk_widget_grab_focus(input->input);
      break;
    }
  }
}

// Who works it out alone does not see what the first came to: it leaves the field, which a screen
// reader would still read, until both agree. Where they disagree both begin again.
static void
keep_apart(LzForm *self, gboolean second)
{
  LzFormField *amount = lz_form_find(self, "amount_ml");
  if (!amount || !GTK_IS_ENTRY(amount->input))
    return;
  if (second && !self->alone)
    self->alone = lz_form_field_text(amount);
  else if (!second)
    g_clear_pointer(&self->alone, g_free);
  lz_form_field_set(amount, "");
  gtk_entry_set_placeholder_text(GTK_ENTRY(amount->input), second ? "••••" : NULL);
  gtk_widget_set_sensitive(amount->input, !second);
  lz_form_bottle_shut(self, second);
  if (self->again)
    gtk_editable_set_text(GTK_EDITABLE(self->again), "");
  if (second)
    return;
  if (self->witness)
    gtk_editable_set_text(GTK_EDITABLE(self->witness), "");
  gtk_widget_grab_focus(amount->input);
}

// The desk asks for something more: a field for it appears, and the focus goes there.
static void
ask_more(LzForm *self, const GError *error)
{
  GtkEntry *entry = NULL;
  if (lz_second_person_works(error))
    keep_apart(self, error->code == LZ_DESK_ERROR_NEEDS_SECOND_PERSON);
  if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NEEDS_REASON))
    entry = self->reason = self->reason ? self->reason : add_extra(self, _("Reason"), NULL, NULL);
  else if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NEEDS_SECOND_PERSON))
    entry = self->witness =
        self->witness
            ? self->witness
            : add_extra(self, lz_second_person_prompt(lz_second_person_works(error)), NULL, NULL);
  else if (g_error_matches(error, LZ_DESK_ERROR, LZ_DESK_ERROR_NEEDS_READBACK))
    entry = self->again =
        self->again ? self->again : add_extra(self, _("The amount again"), NULL, lz_digits_beside);
  if (entry)
    gtk_widget_grab_focus(GTK_WIDGET(entry));
}

// TRUE if it costs others something and stands there to be confirmed now.
static gboolean
shows_cost(LzForm *self, GPtrArray *commands, GError **error)
{
  static const char *const kinds[] = {"lot", "move", "split", "course", "merge", "stop", NULL};
  if (!g_strv_contains(kinds, self->kind->name) || self->corrects || self->entity)
    return FALSE;
  g_autoptr(LzForesight) foresight =
      lz_desk_foresee(self->desk, (LzCommand *const *)commands->pdata, commands->len, error);
  const char *lot = lz_command_get(g_ptr_array_index(commands, 0), "lot");
  g_autoptr(GPtrArray) own = g_ptr_array_new();
  g_ptr_array_add(
      own, lot && lot[0] == '#'
               ? (gpointer)lz_desk_name_of(self->desk, "lot", g_ascii_strtoll(lot + 1, NULL, 10))
               : (gpointer)lot);
  for (char **also = self->also; also && *also; also++)
    g_ptr_array_add(own, *also);
  g_ptr_array_add(own, NULL);
  if (!foresight || !lz_cost_touches_others(foresight, (const char *const *)own->pdata))
    return FALSE;
  lz_cost_set(self->cost, self->desk, foresight, FALSE);
  ask(self, TRUE);
  lz_form_say(self, NULL);
  gtk_widget_grab_focus(GTK_WIDGET(self->record));
  return TRUE;
}

void
lz_form_submit(LzForm *self)
{
  g_return_if_fail(LZ_IS_FORM(self));
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) commands = lz_form_commands(self);
  if (!is_asking(self) && shows_cost(self, commands, &error))
    return;
  lz_form_mark_wrong(self, NULL);
  if (!error &&
      lz_desk_submit(self->desk, (LzCommand *const *)commands->pdata, commands->len, &error)) {
    lz_form_say(self, NULL);
    g_signal_emit(self, signals[DONE], 0, lz_command_id(g_ptr_array_index(commands, 0)));
    return;
  }
  ask(self, FALSE);
  g_autofree char *sentence = lz_words_error(self->kind->name, error->message);
  lz_form_say(self, sentence);
  lz_form_mark_wrong(self, error);
  ask_more(self, error);
}

gboolean
lz_form_back(LzForm *self)
{
  g_return_val_if_fail(LZ_IS_FORM(self), FALSE);
  if (!is_asking(self))
    return FALSE;
  ask(self, FALSE);
  lz_form_say(self, NULL);
  gtk_widget_child_focus(GTK_WIDGET(self->fields), GTK_DIR_TAB_FORWARD);
  return TRUE;
}

// Enter on a closed list or a box to tick records, as the key bar says.
static gboolean
on_key(GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state,
       LzForm *self)
{
  GtkWidget *focus = gtk_window_get_focus(GTK_WINDOW(gtk_widget_get_root(GTK_WIDGET(self))));
  if ((keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter) || !focus ||
      gtk_widget_get_ancestor(focus, GTK_TYPE_POPOVER) ||
      !(gtk_widget_get_ancestor(focus, GTK_TYPE_DROP_DOWN) || GTK_IS_CHECK_BUTTON(focus)))
    return GDK_EVENT_PROPAGATE;
  lz_form_submit(self);
  return GDK_EVENT_STOP;
}

static void
on_cancel(LzForm *self)
{
  if (!lz_form_back(self))
    g_signal_emit(self, signals[CANCELLED], 0);
}

// Its first tank takes the fish instead.
static void
on_room(LzForm *self, const char *system)
{
  const char *tank = lz_lookup_first_tank(self->desk, system);
  lz_form_back(self);
  if (tank) {
    lz_form_set_text(self, "tank", tank);
    lz_form_submit(self);
    return;
  }
  g_autofree char *none = g_strdup_printf(_("%s has no tank yet: add one in Station."), system);
  lz_form_say(self, none);
}

static void
lz_form_dispose(GObject *object)
{
  LzForm *self = LZ_FORM(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->inputs, g_ptr_array_unref);
  g_clear_pointer(&self->along, g_hash_table_unref);
  g_clear_pointer(&self->begins, lz_form_field_free);
  g_clear_pointer(&self->also, g_strfreev);
  g_clear_pointer(&self->entity, g_free);
  g_clear_pointer(&self->alone, g_free);
  g_clear_pointer(&self->worked_for, g_free);
  g_clear_pointer(&self->offered, g_free);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_form_parent_class)->dispose(object);
}

static void
lz_form_class_init(LzFormClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_form_dispose;
  signals[DONE] = g_signal_new("done", LZ_TYPE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                               G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[CANCELLED] = g_signal_new("cancelled", LZ_TYPE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_FORM);
  g_type_ensure(LZ_TYPE_COST);
  g_type_ensure(LZ_TYPE_TALL);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_form.ui");
  gtk_widget_class_bind_template_child(widget, LzForm, box);
  gtk_widget_class_bind_template_child(widget, LzForm, title);
  gtk_widget_class_bind_template_child(widget, LzForm, for_whom);
  gtk_widget_class_bind_template_child(widget, LzForm, message);
  gtk_widget_class_bind_template_child(widget, LzForm, fields);
  gtk_widget_class_bind_template_child(widget, LzForm, record);
  gtk_widget_class_bind_template_child(widget, LzForm, cancel);
  gtk_widget_class_bind_template_child(widget, LzForm, asking);
  gtk_widget_class_bind_template_child(widget, LzForm, cost);
  gtk_widget_class_bind_template_callback(widget, lz_form_submit);
  gtk_widget_class_bind_template_callback(widget, on_cancel);
  gtk_widget_class_bind_template_callback(widget, on_room);
}

static void
lz_form_init(LzForm *self)
{
  self->along = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
  self->inputs = g_ptr_array_new_with_free_func((GDestroyNotify)lz_form_field_free);
  gtk_widget_init_template(GTK_WIDGET(self));
  lz_access_plain(GTK_WIDGET(self));
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(on_key), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
}

GtkWidget *
lz_form_new(void)
{
  return g_object_new(LZ_TYPE_FORM, NULL);
}
