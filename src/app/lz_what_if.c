// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_what_if.h"

#include <glib/gi18n.h>
#include <lz_fields.h>

#include "lz_cost.h"
#include "lz_form_field.h"
#include "lz_lookup.h"

typedef struct {
  const char *words, *kind; // kind NULL: tests that are missed
  const char *fields[4];
  const char *until; // label of its time
} Act;

static const Act acts[] = {
    {N_("A lot moves"), "move", {"lot", "tank"}, N_("When")},
    {N_("New fish arrive"), "lot", {"tank", "heads"}, N_("When")},
    {N_("A protocol is stopped"), "stop", {"lot"}, N_("When")},
    {N_("Another protocol begins"), "course", {"lot", "protocol", "keep"}, N_("When")},
    {N_("Something is seen"), "sighting", {"system", "sign"}, N_("When")},
    {N_("Tests are missed"), NULL, {"system"}, N_("Until")},
};

struct _LzWhatIf {
  GtkWidget parent;
  LzDesk *desk;
  const Act *act;
  GPtrArray *inputs;   // LzFormField
  LzFormField *begins; // of new fish
  LzField begins_field;
  LzForesight *foresight;
  GtkWidget *box;
  GtkStack *stack;
  GtkBox *choices, *fields;
  GtkLabel *title, *message, *seen_title;
  GtkEntry *when;
  LzCost *cost;
  GtkButton *record;
};

G_DEFINE_FINAL_TYPE(LzWhatIf, lz_what_if, GTK_TYPE_WIDGET)

enum { SEEN, CLOSED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
say(LzWhatIf *self, const char *sentence)
{
  gtk_label_set_label(self->message, sentence ? sentence : "");
  gtk_widget_set_visible(GTK_WIDGET(self->message), sentence != NULL);
}

static void
forget(LzWhatIf *self)
{
  gboolean had = self->foresight != NULL;
  g_clear_pointer(&self->foresight, lz_foresight_free);
  if (had)
    g_signal_emit(self, signals[SEEN], 0);
}

static gboolean
is_page(LzWhatIf *self, const char *page)
{
  return g_strcmp0(gtk_stack_get_visible_child_name(self->stack), page) == 0;
}

static LzFormField *
add_input(LzWhatIf *self, const char *kind, const LzField *field)
{
  LzFormField *input = lz_form_field_new(self->desk, kind, field);
  gtk_box_append(self->fields, input->box);
  return input;
}

static void
clear_fields(LzWhatIf *self)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(self->fields))))
    gtk_box_remove(self->fields, child);
  g_ptr_array_set_size(self->inputs, 0);
  g_clear_pointer(&self->begins, lz_form_field_free);
}

static void
add_when(LzWhatIf *self)
{
  GtkWidget *label = gtk_label_new(_(self->act->until));
  self->when = GTK_ENTRY(gtk_entry_new());
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_widget_add_css_class(label, "axis");
  gtk_entry_set_placeholder_text(self->when,
                                 self->act->kind ? _("now") : _("for example 2027-03-09 17:00"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->when), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _(self->act->until), -1);
  gtk_widget_set_tooltip_text(GTK_WIDGET(self->when), _("Year-month-day and hour:minute"));
  gtk_box_append(self->fields, label);
  gtk_box_append(self->fields, GTK_WIDGET(self->when));
}

static void on_see(LzWhatIf *self);

static void
fill(LzWhatIf *self, const Act *act)
{
  const LzKind *kind = lz_kind_find(act->kind ? act->kind : "sighting"); // both name a system
  self->act = act;
  clear_fields(self);
  gtk_label_set_label(self->title, _(act->words));
  for (guint i = 0; i < G_N_ELEMENTS(act->fields) && act->fields[i]; i++)
    g_ptr_array_add(self->inputs, add_input(self, kind->name, lz_kind_field(kind, act->fields[i])));
  if (act->kind && g_str_equal(act->kind, "lot")) {
    self->begins_field = *lz_kind_field(lz_kind_find("course"), "protocol");
    self->begins_field.needed = FALSE;
    self->begins = add_input(self, "course", &self->begins_field);
    gtk_label_set_label(GTK_LABEL(gtk_widget_get_first_child(self->begins->box)),
                        _("Begins with protocol"));
  }
  if (act->kind && g_str_equal(act->kind, "sighting"))
    lz_form_field_set(g_ptr_array_index(self->inputs, 1), "white_spot");
  add_when(self);
  for (guint i = 0; i < self->inputs->len; i++) {
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    if (GTK_IS_ENTRY(input->input))
      g_signal_connect_object(input->input, "activate", G_CALLBACK(on_see), self,
                              G_CONNECT_SWAPPED);
  }
  g_signal_connect_object(self->when, "activate", G_CALLBACK(on_see), self, G_CONNECT_SWAPPED);
  say(self, NULL);
  gtk_stack_set_visible_child_name(self->stack, "fill");
  gtk_widget_grab_focus(((LzFormField *)g_ptr_array_index(self->inputs, 0))->input);
}

static char *
input_text(LzWhatIf *self, guint i)
{
  return lz_form_field_text(g_ptr_array_index(self->inputs, i));
}

// Nobody acts, so nobody is asked who or why; a time ahead is what this is for.
static LzCommand *
begin(LzWhatIf *self, const char *kind)
{
  LzCommand *command = lz_command_new(kind);
  const char *when = gtk_editable_get_text(GTK_EDITABLE(self->when));
  g_autoptr(GArray) people = lz_desk_entities(self->desk, "person");
  if (!lz_desk_actor(self->desk) && people && people->len) {
    g_autofree char *anybody =
        g_strdup_printf("#%" G_GINT64_FORMAT, g_array_index(people, int64_t, 0));
    lz_command_set_actor(command, anybody);
  }
  if (*when)
    lz_command_set_at_text(command, when);
  lz_command_set_reason(command, _("what if"));
  lz_command_set_ahead(command, TRUE);
  return command;
}

static GPtrArray *
commands_of(LzWhatIf *self)
{
  GPtrArray *all = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  LzCommand *command = begin(self, self->act->kind);
  for (guint i = 0; i < self->inputs->len; i++) {
    const LzFormField *input = g_ptr_array_index(self->inputs, i);
    g_autofree char *text = input_text(self, i);
    lz_command_set(command, input->field->name, text);
  }
  g_ptr_array_add(all, command);
  g_autofree char *protocol = self->begins ? lz_form_field_text(self->begins) : NULL;
  if (self->begins)
    lz_command_set(command, "code", _("new"));
  if (protocol && *protocol) {
    LzCommand *course = begin(self, "course");
    lz_command_set(course, "lot", _("new"));
    lz_command_set(course, "protocol", protocol);
    g_ptr_array_add(all, course);
  }
  return all;
}

static LzForesight *
missed(LzWhatIf *self, GError **error)
{
  g_autofree char *system = input_text(self, 0);
  lzq_minute until = lz_desk_now(self->desk);
  int64_t id = system && *system ? lz_desk_find(self->desk, "system", system) : 0;
  uint32_t index = id ? lz_desk_index(self->desk, "system", id) : LZQ_NONE;
  const char *when = gtk_editable_get_text(GTK_EDITABLE(self->when));
  if (!*when) { // the next day's first test
    until += LZQ_DAY;
  } else if (!lz_zone_parse(lz_desk_zone(self->desk), when, until, &until, error)) {
    return NULL;
  }
  return lz_desk_foresee_missed(self->desk, index, until, error);
}

static void
on_see(LzWhatIf *self)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) commands = self->act->kind ? commands_of(self) : NULL;
  forget(self);
  self->foresight = commands ? lz_desk_foresee(self->desk, (LzCommand *const *)commands->pdata,
                                               commands->len, &error)
                             : missed(self, &error);
  if (!self->foresight) {
    say(self, error->message);
    return;
  }
  say(self, NULL);
  gtk_label_set_label(self->seen_title, _(self->act->words));
  lz_cost_set(self->cost, self->desk, self->foresight, TRUE);
  gtk_widget_set_visible(GTK_WIDGET(self->record), self->act->kind != NULL);
  gtk_stack_set_visible_child_name(self->stack, "seen");
  gtk_widget_grab_focus(self->act->kind ? GTK_WIDGET(self->record) : GTK_WIDGET(self->cost));
  g_signal_emit(self, signals[SEEN], 0);
}

static void
close_it(LzWhatIf *self)
{
  self->act = NULL;
  forget(self);
  g_signal_emit(self, signals[CLOSED], 0);
}

// The form that records it, filled as here; it shows its cost once more before it does.
static void
on_record(LzWhatIf *self)
{
  GVariantBuilder fields;
  g_variant_builder_init(&fields, G_VARIANT_TYPE("a{ss}"));
  for (guint i = 0; i < self->inputs->len; i++) {
    const LzFormField *input = g_ptr_array_index(self->inputs, i);
    g_autofree char *text = input_text(self, i);
    g_variant_builder_add(&fields, "{ss}", input->field->name, text);
  }
  g_autofree char *protocol = self->begins ? lz_form_field_text(self->begins) : NULL;
  if (protocol)
    g_variant_builder_add(&fields, "{ss}", "@begins", protocol);
  const char *kind = self->act->kind;
  close_it(self);
  gtk_widget_activate_action(GTK_WIDGET(self), "win.record", "(sxa{ss})", kind, (gint64)0, &fields);
}

// Seen again with its first tank.
static void
on_room(LzWhatIf *self, const char *system)
{
  const char *tank = lz_lookup_first_tank(self->desk, system);
  for (guint i = 0; tank && i < self->inputs->len; i++) {
    LzFormField *input = g_ptr_array_index(self->inputs, i);
    if (g_str_equal(input->field->name, "tank"))
      lz_form_field_set(input, tank);
  }
  on_see(self);
}

static void
on_choice(GtkButton *button, LzWhatIf *self)
{
  fill(self, g_object_get_data(G_OBJECT(button), "act"));
}

static void
add_choice(LzWhatIf *self, guint i)
{
  GtkWidget *button = gtk_button_new(), *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12);
  g_autofree char *digit = g_strdup_printf("%u", i + 1);
  GtkWidget *cap = gtk_label_new(digit), *words = gtk_label_new(_(acts[i].words));
  gtk_widget_add_css_class(cap, "key-cap");
  gtk_widget_set_valign(cap, GTK_ALIGN_CENTER);
  gtk_label_set_xalign(GTK_LABEL(words), 0);
  gtk_box_append(GTK_BOX(row), cap);
  gtk_box_append(GTK_BOX(row), words);
  gtk_button_set_child(GTK_BUTTON(button), row);
  gtk_widget_add_css_class(button, "way");
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _(acts[i].words), GTK_ACCESSIBLE_PROPERTY_KEY_SHORTCUTS, digit,
                                 -1);
  g_object_set_data(G_OBJECT(button), "act", (gpointer)&acts[i]);
  g_signal_connect(button, "clicked", G_CALLBACK(on_choice), self);
  gtk_box_append(self->choices, button);
}

void
lz_what_if_open(LzWhatIf *self, LzDesk *desk)
{
  g_return_if_fail(LZ_IS_WHAT_IF(self));
  g_set_object(&self->desk, desk);
  forget(self);
  gtk_stack_set_visible_child_name(self->stack, "choose");
  gtk_widget_grab_focus(gtk_widget_get_first_child(GTK_WIDGET(self->choices)));
}

const LzForesight *
lz_what_if_foresight(LzWhatIf *self)
{
  return self->foresight;
}

bool
lz_what_if_key(LzWhatIf *self, LzPadKey key)
{
  bool chooses = is_page(self, "choose") && key.kind == LZ_PAD_DIGIT && key.digit >= 1 &&
                 key.digit <= (int)G_N_ELEMENTS(acts);
  if (chooses)
    fill(self, &acts[key.digit - 1]);
  return chooses;
}

bool
lz_what_if_back(LzWhatIf *self)
{
  if (!gtk_widget_get_visible(GTK_WIDGET(self)))
    return false;
  if (is_page(self, "seen")) {
    forget(self);
    gtk_stack_set_visible_child_name(self->stack, "fill");
    gtk_widget_grab_focus(GTK_WIDGET(self->when));
  } else if (is_page(self, "fill")) {
    lz_what_if_open(self, self->desk);
  } else {
    close_it(self);
  }
  return true;
}

static void
on_back(LzWhatIf *self)
{
  lz_what_if_back(self);
}

static void
lz_what_if_dispose(GObject *object)
{
  LzWhatIf *self = LZ_WHAT_IF(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->inputs, g_ptr_array_unref);
  g_clear_pointer(&self->begins, lz_form_field_free);
  g_clear_pointer(&self->foresight, lz_foresight_free);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_what_if_parent_class)->dispose(object);
}

static void
lz_what_if_class_init(LzWhatIfClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_what_if_dispose;
  g_type_ensure(LZ_TYPE_COST);
  signals[SEEN] =
      g_signal_new("seen", LZ_TYPE_WHAT_IF, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CLOSED] = g_signal_new("closed", LZ_TYPE_WHAT_IF, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_what_if.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzWhatIf, name)
  CHILD(box);
  CHILD(stack);
  CHILD(choices);
  CHILD(fields);
  CHILD(title);
  CHILD(message);
  CHILD(seen_title);
  CHILD(cost);
  CHILD(record);
#undef CHILD
  gtk_widget_class_bind_template_callback(widget, on_see);
  gtk_widget_class_bind_template_callback(widget, on_record);
  gtk_widget_class_bind_template_callback(widget, on_back);
  gtk_widget_class_bind_template_callback(widget, on_room);
  gtk_widget_class_bind_template_callback(widget, close_it);
}

static void
lz_what_if_init(LzWhatIf *self)
{
  self->inputs = g_ptr_array_new_with_free_func((GDestroyNotify)lz_form_field_free);
  gtk_widget_init_template(GTK_WIDGET(self));
  for (guint i = 0; i < G_N_ELEMENTS(acts); i++)
    add_choice(self, i);
}

GtkWidget *
lz_what_if_new(void)
{
  return g_object_new(LZ_TYPE_WHAT_IF, NULL);
}
