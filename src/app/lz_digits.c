// SPDX-License-Identifier: GPL-3.0-or-later
// Laid out as the number pad beside it: 7 8 9 above, the decimal sign at the right of the nought.
#include "lz_digits.h"

#include <glib/gi18n.h>
#include <string.h>

#include "lz_settings.h"

#define KEY_PX 60 // a gloved finger; common practice, no source

typedef struct {
  GtkWidget *button;
  GtkWidget *popover; // NULL until it is first wanted
  GtkEditable *text;  // NULL = whichever has the focus
  LzDigitsLast last;
} Digits;

void
lz_digits_type(GtkEditable *text, const char *keys)
{
  gtk_editable_delete_selection(text);
  int position = gtk_editable_get_position(text);
  gtk_editable_insert_text(text, keys, -1, &position);
  gtk_editable_set_position(text, position);
}

// NULL = no number field has the focus.
static GtkEditable *
field_of(const Digits *digits)
{
  GtkRoot *root = gtk_widget_get_root(digits->button);
  GtkWidget *focus = root ? gtk_root_get_focus(root) : NULL;
  if (digits->text)
    return digits->text;
  return GTK_IS_TEXT(focus) &&
                 gtk_text_get_input_purpose(GTK_TEXT(focus)) == GTK_INPUT_PURPOSE_NUMBER
             ? GTK_EDITABLE(focus)
             : NULL;
}

// The cursor goes into the field that the digits are for; what is selected stays so.
static void
focus_field(const Digits *digits)
{
  if (GTK_IS_ENTRY(digits->text))
    gtk_entry_grab_focus_without_selecting(GTK_ENTRY(digits->text));
  else if (GTK_IS_TEXT(digits->text))
    gtk_text_grab_focus_without_selecting(GTK_TEXT(digits->text));
}

static void
take_last_away(GtkEditable *text)
{
  int n = (int)g_utf8_strlen(gtk_editable_get_text(text), -1);
  if (n > 0)
    gtk_editable_delete_text(text, n - 1, n);
}

// Below nought and back: what leaves a bottle, degrees.
static void
turn_sign(GtkEditable *text)
{
  int at = 0;
  if (gtk_editable_get_text(text)[0] == '-')
    gtk_editable_delete_text(text, 0, 1);
  else
    gtk_editable_insert_text(text, "-", 1, &at);
}

static void
press_last(Digits *digits, GtkEditable *text)
{
  if (digits->last == LZ_DIGITS_NEXT) {
    g_signal_emit_by_name(text, "activate");
    if (field_of(digits))
      return;
  }
  gtk_popover_popdown(GTK_POPOVER(digits->popover));
  if (digits->last == LZ_DIGITS_RECORD)
    gtk_widget_activate_action(digits->button, "win.pad", "s", "enter");
  else
    focus_field(digits);
}

static void
on_key(GtkButton *button, Digits *digits)
{
  const char *key = g_object_get_data(G_OBJECT(button), "key");
  GtkEditable *text = field_of(digits);
  if (!text)
    gtk_popover_popdown(GTK_POPOVER(digits->popover));
  else if (strcmp(key, "back") == 0)
    take_last_away(text);
  else if (strcmp(key, "minus") == 0)
    turn_sign(text);
  else if (strcmp(key, "last") == 0)
    press_last(digits, text);
  else
    lz_digits_type(text, key);
}

static void
add(GtkGrid *grid, Digits *digits, const char *key, const char *shown, const char *name, int at)
{
  GtkWidget *button = gtk_button_new_with_label(shown);
  gtk_widget_set_size_request(button, KEY_PX, KEY_PX);
  gtk_widget_set_focusable(button, FALSE);
  gtk_widget_add_css_class(button, "heading");
  g_object_set_data(G_OBJECT(button), "key", (gpointer)key);
  g_signal_connect(button, "clicked", G_CALLBACK(on_key), digits);
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_grid_attach(grid, button, at % 3, at / 3, key[0] == 'l' ? 15 - at : 1, 1);
}

static GtkWidget *
popover_new(Digits *digits)
{
  static const char *const keys[] = {"7", "8", "9", "4", "5", "6", "1", "2", "3", "0"};
  GtkWidget *popover = gtk_popover_new(), *grid = gtk_grid_new();
  const char *sign = lz_settings_decimal() == ',' ? "," : ".";
  const char *last = digits->last == LZ_DIGITS_RECORD ? _("Record")
                     : digits->last == LZ_DIGITS_NEXT ? C_("key of a pad", "Next")
                                                      // Translators: puts the digits away
                                                      : _("Ready");
  gtk_grid_set_row_spacing(GTK_GRID(grid), 6);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 6);
  for (int i = 0; i < (int)G_N_ELEMENTS(keys); i++)
    add(GTK_GRID(grid), digits, keys[i], keys[i], keys[i], i);
  add(GTK_GRID(grid), digits, sign, sign, _("Decimal sign"), 10);
  add(GTK_GRID(grid), digits, "back", "⌫", _("Take the last digit away"), 11);
  gboolean signs = digits->last == LZ_DIGITS_READY;
  if (signs)
    add(GTK_GRID(grid), digits, "minus", "−", _("Below nought or above"), 12);
  add(GTK_GRID(grid), digits, "last", last, last, signs ? 13 : 12);
  gtk_popover_set_child(GTK_POPOVER(popover), grid);
  gtk_popover_set_position(GTK_POPOVER(popover), GTK_POS_RIGHT);
  gtk_popover_set_has_arrow(GTK_POPOVER(popover), FALSE);
  gtk_accessible_update_property(GTK_ACCESSIBLE(popover), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Digits to press"), -1);
  return popover;
}

static void
on_open(Digits *digits)
{
  g_clear_pointer(&digits->popover, gtk_widget_unparent); // the decimal sign may be another now
  focus_field(digits);
  digits->popover = popover_new(digits);
  gtk_widget_set_parent(digits->popover, digits->button);
  gtk_popover_popup(GTK_POPOVER(digits->popover));
}

static void
on_focus(Digits *digits)
{
  gtk_widget_set_sensitive(digits->button, field_of(digits) != NULL);
}

static void
on_root(Digits *digits)
{
  GtkRoot *root = gtk_widget_get_root(digits->button);
  if (root)
    g_signal_connect_data(root, "notify::focus-widget", G_CALLBACK(on_focus), digits, NULL,
                          G_CONNECT_SWAPPED);
  on_focus(digits);
}

static void
on_unroot(Digits *digits)
{
  GtkRoot *root = gtk_widget_get_root(digits->button);
  if (root)
    g_signal_handlers_disconnect_by_data(root, digits);
}

static void
on_destroy(Digits *digits)
{
  g_clear_pointer(&digits->popover, gtk_widget_unparent);
}

GtkWidget *
lz_digits_button_new(GtkEditable *text, LzDigitsLast last)
{
  Digits *digits = g_new0(Digits, 1);
  GtkWidget *button = gtk_button_new_with_label("123");
  *digits = (Digits){.button = button, .text = text, .last = last};
  g_object_set_data_full(G_OBJECT(button), "digits", digits, g_free);
  gtk_widget_set_focusable(button, FALSE);
  gtk_widget_set_focus_on_click(button, FALSE);
  gtk_widget_set_valign(button, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text(button, _("Digits to press"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Digits to press"), -1);
  g_signal_connect_swapped(button, "clicked", G_CALLBACK(on_open), digits);
  g_signal_connect_swapped(button, "destroy", G_CALLBACK(on_destroy), digits);
  if (text) {
    gtk_accessible_update_relation(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_RELATION_CONTROLS, text,
                                   NULL, -1);
    return button;
  }
  g_signal_connect_swapped(button, "realize", G_CALLBACK(on_root), digits);
  g_signal_connect_swapped(button, "unrealize", G_CALLBACK(on_unroot), digits);
  return button;
}

GtkWidget *
lz_digits_beside(GtkEntry *entry)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 4);
  GtkWidget *button = lz_digits_button_new(GTK_EDITABLE(entry), LZ_DIGITS_READY);
  gtk_entry_set_input_purpose(entry, GTK_INPUT_PURPOSE_NUMBER);
  gtk_widget_set_hexpand(GTK_WIDGET(entry), TRUE);
  gtk_box_append(GTK_BOX(box), GTK_WIDGET(entry));
  gtk_box_append(GTK_BOX(box), button);
  g_object_bind_property(entry, "visible", box, "visible", G_BINDING_SYNC_CREATE);
  g_object_bind_property(entry, "sensitive", button, "sensitive", G_BINDING_SYNC_CREATE);
  return box;
}

void
lz_digits_put_beside(GtkEntry *entry)
{
  GtkWidget *parent = gtk_widget_get_parent(GTK_WIDGET(entry));
  GtkWidget *before = gtk_widget_get_prev_sibling(GTK_WIDGET(entry));
  g_object_ref(entry);
  if (GTK_IS_GRID(parent)) {
    int column, row, width, height;
    gtk_grid_query_child(GTK_GRID(parent), GTK_WIDGET(entry), &column, &row, &width, &height);
    gtk_grid_remove(GTK_GRID(parent), GTK_WIDGET(entry));
    gtk_grid_attach(GTK_GRID(parent), lz_digits_beside(entry), column, row, width, height);
  } else {
    gtk_box_remove(GTK_BOX(parent), GTK_WIDGET(entry));
    gtk_box_insert_child_after(GTK_BOX(parent), lz_digits_beside(entry), before);
  }
  g_object_unref(entry);
}
