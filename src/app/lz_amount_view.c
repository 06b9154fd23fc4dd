// SPDX-License-Identifier: GPL-3.0-or-later
// Works out while it is typed; nothing is recorded here. Enter opens the form of the entry.
#include "lz_amount_view.h"

#include <glib/gi18n.h>
#include <lz_adviser.h>
#include <lz_format.h>
#include <math.h>

#include "lz_access.h"
#include "lz_amount_form.h"
#include "lz_amount_record.h"
#include "lz_place.h"
#include "lz_type_ahead.h"
#include "lz_working_grid.h"

struct _LzAmountView {
  GtkWidget parent;
  LzDesk *desk;
  LzAmountForm *form;
  LzQuestion ask;
  LzAnswer *answer; // NULL = something is missing
  char *from;
  GtkWidget *box;
  GtkDropDown *question;
  GtkGrid *fields, *working;
  GtkLabel *amount, *missing, *source;
  GtkBox *cautions;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzAmountView, lz_amount_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static const char *const questions[LZ_N_QUESTIONS] = {
    [LZ_QUESTION_RAISE] = N_("Medicine up to a level"),
    [LZ_QUESTION_REPLACE] = N_("Put back what a change takes out"),
    [LZ_QUESTION_LOWER] = N_("Medicine down by changes"),
    [LZ_QUESTION_FRESHEN] = N_("Salinity down"),
    [LZ_QUESTION_SALT] = N_("Salinity up"),
    [LZ_QUESTION_BLEACH] = N_("Disinfect with bleach"),
    [LZ_QUESTION_NEUTRALISE] = N_("Take chlorine out"),
    [LZ_QUESTION_BATH] = N_("A bath in its own vessel"),
    [LZ_QUESTION_FEED] = N_("Medicine in the feed"),
};

static void
show_cautions(LzAmountView *self)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->cautions))))
    gtk_box_remove(self->cautions, child);
  for (guint i = 0; self->answer && i < self->answer->cautions->len; i++) {
    GtkWidget *label = gtk_label_new(g_ptr_array_index(self->answer->cautions, i));
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_box_append(self->cautions, label);
  }
  gtk_widget_set_visible(GTK_WIDGET(self->cautions),
                         gtk_widget_get_first_child(GTK_WIDGET(self->cautions)) != NULL);
}

static void
show(LzAmountView *self, const char *missing)
{
  LzAnswer *answer = self->answer;
  g_autoptr(GPtrArray) none = lz_working_new();
  double measured = answer ? lz_amount_measured(&self->ask, answer) : NAN;
  g_autofree char *amount =
      answer && isfinite(measured) ? lz_format_amount(measured, answer->unit) : NULL;
  g_autofree char *source =
      answer && *answer->source ? g_strdup_printf(_("Source: %s"), answer->source) : NULL;
  gtk_label_set_label(self->amount, amount ? amount : "");
  gtk_widget_set_visible(GTK_WIDGET(self->amount), amount != NULL);
  gtk_label_set_label(self->missing, missing ? missing : "");
  gtk_widget_set_visible(GTK_WIDGET(self->missing), missing != NULL);
  gtk_label_set_label(self->source, source ? source : "");
  gtk_widget_set_visible(GTK_WIDGET(self->source), source != NULL);
  lz_working_grid_fill(self->working, answer ? answer->lines : none);
  gtk_widget_set_visible(GTK_WIDGET(self->working), answer != NULL);
  show_cautions(self);
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "amount.record", answer != NULL);
}

static void
work_out(gpointer data)
{
  LzAmountView *self = data;
  g_autoptr(GError) error = NULL;
  g_clear_pointer(&self->answer, lz_answer_free);
  if (lz_amount_form_read(self->form, &self->ask, &error))
    self->answer = lz_desk_answer(self->desk, &self->ask, &error);
  g_autofree char *missing = error ? lz_amount_form_sentence(self->form, error->message) : NULL;
  show(self, missing);
}

static void
record(gpointer data)
{
  LzAmountView *self = data;
  work_out(self); // the water may have changed since
  if (self->answer)
    lz_amount_record(GTK_WIDGET(self), self->desk, &self->ask, self->answer);
}

static void
on_question(LzAmountView *self)
{
  lz_amount_form_ask(self->form, (LzQuestionKind)gtk_drop_down_get_selected(self->question));
  work_out(self);
}

static void
on_desk_changed(LzAmountView *self)
{
  if (gtk_widget_get_mapped(GTK_WIDGET(self)))
    work_out(self);
}

static void
act_record(GtkWidget *widget, const char *name, GVariant *parameter)
{
  record(widget);
}

static void
act_back(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzAmountView *self = LZ_AMOUNT_VIEW(widget);
  gtk_widget_activate_action(widget, "win.place", "s", self->from ? self->from : "water");
}

void
lz_amount_view_called_from(LzAmountView *self, const char *place, const char *system)
{
  g_return_if_fail(LZ_IS_AMOUNT_VIEW(self));
  if (g_strcmp0(place, "amount") != 0) {
    g_free(self->from);
    self->from = g_strdup(place);
  }
  lz_amount_form_refresh(self->form);
  if (system)
    lz_amount_form_set_system(self->form, system);
}

static bool
lz_amount_view_key(LzPlace *place, LzPadKey key)
{
  if (key.kind != LZ_PAD_ENTER)
    return false;
  record(place);
  return true;
}

static bool
lz_amount_view_back(LzPlace *place)
{
  act_back(GTK_WIDGET(place), NULL, NULL);
  return true;
}

static void
lz_amount_view_show(LzPlace *place, const char *name)
{
  lz_amount_view_called_from(LZ_AMOUNT_VIEW(place), NULL, name);
}

static void
lz_amount_view_enter(LzPlace *place)
{
  LzAmountView *self = LZ_AMOUNT_VIEW(place);
  lz_amount_form_refresh(self->form);
  work_out(self);
  gtk_widget_grab_focus(GTK_WIDGET(self->question));
}

static GPtrArray *
lz_amount_view_hints(LzPlace *place)
{
  GPtrArray *hints = lz_hints_new();
  lz_hints_add(hints, "↑↓", _("other question"), NULL);
  lz_hints_add(hints, "Tab", _("next field"), NULL);
  lz_hints_add(hints, "Enter", _("open the form that records it"), "amount.record");
  lz_hints_add(hints, "Esc", _("one step back"), "amount.back");
  return hints;
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->key = lz_amount_view_key;
  iface->back = lz_amount_view_back;
  iface->enter = lz_amount_view_enter;
  iface->show = lz_amount_view_show;
  iface->hints = lz_amount_view_hints;
}

static void
lz_amount_view_dispose(GObject *object)
{
  LzAmountView *self = LZ_AMOUNT_VIEW(object);
  if (self->question)
    g_signal_handlers_disconnect_by_data(self->question, self);
  g_clear_pointer(&self->form, lz_amount_form_free);
  g_clear_pointer(&self->answer, lz_answer_free);
  g_clear_pointer(&self->from, g_free);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_amount_view_parent_class)->dispose(object);
}

static void
lz_amount_view_class_init(LzAmountViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_amount_view_dispose;
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_install_action(widget, "amount.record", NULL, act_record);
  gtk_widget_class_install_action(widget, "amount.back", NULL, act_back);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_amount_view.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzAmountView, name)
  CHILD(box);
  CHILD(question);
  CHILD(fields);
  CHILD(working);
  CHILD(amount);
  CHILD(missing);
  CHILD(source);
  CHILD(cautions);
#undef CHILD
}

static void
lz_amount_view_init(LzAmountView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
}

static void
fill_questions(LzAmountView *self)
{
  GtkStringList *list = gtk_string_list_new(NULL);
  g_autoptr(GtkExpression) string =
      gtk_property_expression_new(GTK_TYPE_STRING_OBJECT, NULL, "string");
  for (guint i = 0; i < LZ_N_QUESTIONS; i++)
    gtk_string_list_append(list, _(questions[i]));
  gtk_drop_down_set_expression(self->question, string);
  gtk_drop_down_set_model(self->question, G_LIST_MODEL(list));
  g_object_unref(list);
  lz_type_ahead_add(self->question);
  lz_access_inner(GTK_WIDGET(self->question), _("Question"));
}

GtkWidget *
lz_amount_view_new(LzDesk *desk)
{
  LzAmountView *self = g_object_new(LZ_TYPE_AMOUNT_VIEW, NULL);
  self->desk = g_object_ref(desk);
  self->form = lz_amount_form_new(desk, self->fields, work_out, record, self);
  fill_questions(self);
  lz_amount_form_ask(self->form, LZ_QUESTION_RAISE);
  g_signal_connect_swapped(self->question, "notify::selected", G_CALLBACK(on_question), self);
  g_signal_connect_object(desk, "changed", G_CALLBACK(on_desk_changed), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET(self);
}
