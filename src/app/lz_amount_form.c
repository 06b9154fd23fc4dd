// SPDX-License-Identifier: GPL-3.0-or-later
// One table says which question has which field: a field that means something else in another
// question has a row of its own there, with its own words and unit.
#include "lz_amount_form.h"

#include <glib/gi18n.h>
#include <lz_error.h>
#include <math.h>
#include <string.h>

#include "lz_access.h"
#include "lz_amount_lots.h"
#include "lz_digits.h"
#include "lz_task_form.h"
#include "lz_type_ahead.h"

typedef enum { SYSTEM, LOTS, BATH, ANALYTE, BOTTLE, AS, NUMBER, FLAG } Input;

#define Q(kind)   (1u << LZ_QUESTION_##kind)
#define AT(field) offsetof(LzQuestion, field)

static const struct {
  Input input;
  const char *field, *label, *unit;
  unsigned asks;
  size_t at;
  double scale; // typed × scale = the question's own number
} rows[] = {
    {SYSTEM, "system", N_("Water"), "", ~Q(BATH), 0, 1},
    {BATH, "bath", N_("Kind of bath"), "", Q(BATH), 0, 1},
    {SYSTEM, "system", N_("For the fish in"), "", Q(BATH), 0, 1},
    {LOTS, "lots", N_("For the lots"), "", Q(BATH) | Q(FEED), 0, 1},
    {ANALYTE, "analyte", N_("Medicine"), "", Q(RAISE) | Q(REPLACE) | Q(LOWER), 0, 1},
    {BOTTLE, "bottle", N_("Bottle"), "", Q(RAISE) | Q(REPLACE) | Q(FRESHEN) | Q(BATH) | Q(FEED), 0,
     1},
    {NUMBER, "strength", N_("Strength, if no bottle"), "mg/mL", Q(RAISE) | Q(REPLACE), AT(strength),
     1},
    {AS, "as", N_("Its label counts"), "", Q(RAISE) | Q(REPLACE), 0, 1},
    {NUMBER, "strength", N_("Available chlorine"), "g/L", Q(BLEACH), AT(strength), 1},
    {NUMBER, "strength", N_("Strength of the stock"), "mg/mL", Q(BATH), AT(strength), 1},
    {NUMBER, "volume", N_("Net volume"), "L", ~(Q(BATH) | Q(FEED)), AT(volume_l), 1},
    {NUMBER, "volume", N_("Vessel"), "L", Q(BATH), AT(volume_l), 1},
    {NUMBER, "level", N_("Level now"), "mg/L", Q(RAISE) | Q(REPLACE) | Q(LOWER), AT(level), 1},
    {NUMBER, "level", N_("Salinity now"), "ppt", Q(FRESHEN) | Q(SALT), AT(level), 1},
    {NUMBER, "level", N_("Chlorine in it"), "mg/L", Q(NEUTRALISE), AT(level), 1},
    {NUMBER, "target", N_("Level wanted"), "mg/L", Q(RAISE) | Q(LOWER), AT(target), 1},
    {NUMBER, "target", N_("Level wanted"), "mg/L", Q(REPLACE), AT(target), 1},
    {NUMBER, "target", N_("Salinity wanted"), "ppt", Q(FRESHEN) | Q(SALT), AT(target), 1},
    {NUMBER, "target", N_("Chlorine wanted"), "mg/L", Q(BLEACH), AT(target), 1},
    {NUMBER, "target", N_("Level in the bath"), "mg/L", Q(BATH), AT(target), 1},
    {NUMBER, "litres", N_("To be changed"), "L", Q(REPLACE), AT(litres), 1},
    {NUMBER, "new_level", N_("Level in the new water"), "mg/L", Q(REPLACE) | Q(LOWER),
     AT(new_level), 1},
    {NUMBER, "new_level", N_("Salinity of the new water"), "ppt", Q(FRESHEN) | Q(SALT),
     AT(new_level), 1},
    {NUMBER, "step", N_("Largest single step"), "mg/L", Q(RAISE), AT(step), 1},
    {NUMBER, "step", N_("Largest single step"), "ppt", Q(FRESHEN) | Q(SALT), AT(step), 1},
    {NUMBER, "step", N_("Largest change in a day"), "%", Q(LOWER), AT(step), 0.01},
    {NUMBER, "step_hours", N_("Between two steps"), "h", Q(RAISE) | Q(FRESHEN) | Q(SALT),
     AT(step_hours), 1},
    {NUMBER, "copper_target", N_("Copper wanted"), "mg/L", Q(FRESHEN), AT(copper_target), 1},
    {NUMBER, "minutes", N_("Time"), "min", Q(BATH), AT(minutes), 1},
    {NUMBER, "temperature", N_("Temperature"), "°C", Q(BATH), AT(temperature), 1},
    {NUMBER, "mg_per_kg", N_("For 1 kg of fish a day"), "mg", Q(FEED), AT(mg_per_kg), 1},
    {NUMBER, "ration", N_("Feed a day, of their mass"), "%", Q(FEED), AT(ration), 0.01},
    {NUMBER, "active_share", N_("Active in the product"), "%", Q(FEED), AT(active_share), 0.01},
    {FLAG, "drip", N_("Changed continuously"), "", Q(REPLACE), AT(drip), 1},
    {FLAG, "after", N_("Dosed after the change"), "", Q(REPLACE), AT(after), 1},
    {FLAG, "by_change", N_("By changes with saltier water"), "", Q(SALT), AT(by_change), 1},
    {FLAG, "air", N_("Air is on"), "", Q(BATH), AT(air), 1},
};

struct _LzAmountForm {
  LzDesk *desk;
  LzQuestionKind kind;
  GtkWidget *labels[G_N_ELEMENTS(rows)], *inputs[G_N_ELEMENTS(rows)], *units[G_N_ELEMENTS(rows)];
  LzAmountChanged changed, enter;
  gpointer data;
  gboolean filling;
  GArray *lots; // chosen when last read
};

static gboolean
is_shown(const LzAmountForm *form, guint i)
{
  return (rows[i].asks & (1u << form->kind)) != 0;
}

static void
on_edit(LzAmountForm *form)
{
  if (!form->filling)
    form->changed(form->data);
}

static void
on_enter(LzAmountForm *form)
{
  form->enter(form->data);
}

// --- lists

static void
add_names(LzDesk *desk, const char *kind, GtkStringList *list)
{
  g_autoptr(GArray) ids = lz_desk_entities(desk, kind);
  for (guint i = 0; ids && i < ids->len; i++)
    gtk_string_list_append(list, lz_desk_name_of(desk, kind, g_array_index(ids, int64_t, i)));
}

static void
add_words(const char *kind, const char *field, guint n, GtkStringList *list)
{
  for (guint i = 0; i < n; i++) {
    g_autofree char *word = lz_field_word(kind, field, i);
    g_autofree char *shown = word ? lz_word_shown(word) : NULL;
    if (shown)
      gtk_string_list_append(list, shown);
  }
}

static GListModel *
choices(LzDesk *desk, Input input)
{
  GtkStringList *list = gtk_string_list_new(NULL);
  switch (input) {
  case SYSTEM:
    gtk_string_list_append(list, _("none: numbers only"));
    add_names(desk, "system", list);
    break;
  case BOTTLE:
    gtk_string_list_append(list, _("the newest that fits"));
    add_names(desk, "bottle", list);
    break;
  case BATH: add_words("bath", "bath", LZ_N_BATHS, list); break;
  case ANALYTE: add_words("dose", "analyte", LZQ_N_READ, list); break;
  default: gtk_string_list_append(list, _("metal")); gtk_string_list_append(list, _("salt"));
  }
  return G_LIST_MODEL(list);
}

static GtkWidget *
drop_down(LzAmountForm *form, Input input)
{
  g_autoptr(GtkExpression) string =
      gtk_property_expression_new(GTK_TYPE_STRING_OBJECT, NULL, "string");
  GtkWidget *drop = gtk_drop_down_new(choices(form->desk, input), NULL);
  gtk_drop_down_set_expression(GTK_DROP_DOWN(drop), string);
  lz_type_ahead_add(GTK_DROP_DOWN(drop));
  g_signal_connect_swapped(drop, "notify::selected", G_CALLBACK(on_edit), form);
  return drop;
}

static guint
selected(GtkWidget *drop)
{
  guint at = gtk_drop_down_get_selected(GTK_DROP_DOWN(drop));
  return at == GTK_INVALID_LIST_POSITION ? 0 : at;
}

// --- fields

// What an empty field stands for.
static const char *
when_empty(guint i)
{
  unsigned published = Q(BATH) | Q(BLEACH), asked = Q(RAISE) | Q(LOWER) | Q(FRESHEN) | Q(SALT);
  gboolean of_water = rows[i].at == AT(level) || rows[i].at == AT(volume_l);
  if (of_water && !(rows[i].asks == Q(BATH) || rows[i].asks == Q(NEUTRALISE)))
    return _("as recorded");
  if (rows[i].at == AT(target) && rows[i].asks == Q(REPLACE))
    return _("as it is now");
  if ((rows[i].at == AT(target) && (rows[i].asks & published)))
    return _("as published");
  if ((rows[i].at == AT(target) && (rows[i].asks & Q(RAISE))) ||
      (rows[i].at == AT(step) && (rows[i].asks & asked)))
    return _("as the protocol");
  return NULL;
}

static GtkWidget *
entry(LzAmountForm *form, guint i)
{
  GtkWidget *widget = gtk_entry_new();
  gtk_editable_set_width_chars(GTK_EDITABLE(widget), 10);
  gtk_editable_set_alignment(GTK_EDITABLE(widget), 1);
  const char *empty = when_empty(i);
  if (empty)
    gtk_entry_set_placeholder_text(GTK_ENTRY(widget), empty);
  g_signal_connect_swapped(widget, "changed", G_CALLBACK(on_edit), form);
  g_signal_connect_swapped(widget, "activate", G_CALLBACK(on_enter), form);
  return widget;
}

static GtkWidget *
flag(LzAmountForm *form, guint i)
{
  GtkWidget *widget = gtk_check_button_new_with_label(_(rows[i].label));
  g_signal_connect_swapped(widget, "toggled", G_CALLBACK(on_edit), form);
  return widget;
}

static void
name_input(LzAmountForm *form, guint i)
{
  g_autofree char *name = *rows[i].unit ? g_strdup_printf("%s, %s", _(rows[i].label), rows[i].unit)
                                        : g_strdup(_(rows[i].label));
  gtk_accessible_update_property(GTK_ACCESSIBLE(form->inputs[i]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 name, -1);
  if (GTK_IS_DROP_DOWN(form->inputs[i]))
    lz_access_inner(form->inputs[i], name);
}

static void
add_row(LzAmountForm *form, GtkGrid *grid, guint i)
{
  Input input = rows[i].input;
  form->inputs[i] = input == NUMBER ? entry(form, i)
                    : input == FLAG ? flag(form, i)
                    : input == LOTS ? lz_amount_lots_new(G_CALLBACK(on_edit), form)
                                    : drop_down(form, input);
  form->labels[i] = gtk_label_new(input == FLAG ? "" : _(rows[i].label));
  form->units[i] = gtk_label_new(rows[i].unit);
  gtk_label_set_xalign(GTK_LABEL(form->labels[i]), 0);
  gtk_label_set_xalign(GTK_LABEL(form->units[i]), 0);
  gtk_label_set_wrap(GTK_LABEL(form->labels[i]), TRUE);
  gtk_label_set_max_width_chars(GTK_LABEL(form->labels[i]), 24);
  gtk_widget_add_css_class(form->labels[i], "second");
  gtk_widget_add_css_class(form->units[i], "second");
  gtk_widget_set_hexpand(form->inputs[i], TRUE);
  gtk_grid_attach(grid, form->labels[i], 0, (int)i, 1, 1);
  gtk_grid_attach(grid,
                  input == NUMBER ? lz_digits_beside(GTK_ENTRY(form->inputs[i])) : form->inputs[i],
                  1, (int)i, input == NUMBER ? 1 : 2, 1);
  if (input == NUMBER)
    gtk_grid_attach(grid, form->units[i], 2, (int)i, 1, 1);
  else
    g_object_ref_sink(form->units[i]);
  name_input(form, i);
}

LzAmountForm *
lz_amount_form_new(LzDesk *desk, GtkGrid *grid, LzAmountChanged changed, LzAmountChanged enter,
                   gpointer data)
{
  LzAmountForm *form = g_new0(LzAmountForm, 1);
  *form = (LzAmountForm){
      .desk = desk, .changed = changed, .enter = enter, .data = data, .filling = TRUE};
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++)
    add_row(form, grid, i);
  form->filling = FALSE;
  return form;
}

void
lz_amount_form_free(LzAmountForm *form)
{
  if (!form)
    return;
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    g_signal_handlers_disconnect_by_data(form->inputs[i], form);
    if (rows[i].input == LOTS)
      lz_amount_lots_show(form->inputs[i], form->desk, LZQ_NONE); // none of them calls any more
    if (rows[i].input != NUMBER)
      g_object_unref(form->units[i]);
  }
  g_clear_pointer(&form->lots, g_array_unref);
  g_free(form);
}

void
lz_amount_form_ask(LzAmountForm *form, LzQuestionKind kind)
{
  form->kind = kind;
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    gtk_widget_set_visible(form->labels[i], is_shown(form, i));
    gtk_widget_set_visible(form->inputs[i], is_shown(form, i));
    gtk_widget_set_visible(form->units[i], is_shown(form, i));
  }
}

void
lz_amount_form_refresh(LzAmountForm *form)
{
  form->filling = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    if (rows[i].input != SYSTEM && rows[i].input != BOTTLE)
      continue;
    guint at = selected(form->inputs[i]);
    g_autoptr(GListModel) model = choices(form->desk, rows[i].input);
    guint n = g_list_model_get_n_items(model);
    gtk_drop_down_set_model(GTK_DROP_DOWN(form->inputs[i]), model);
    gtk_drop_down_set_selected(GTK_DROP_DOWN(form->inputs[i]), at < n ? at : 0);
  }
  form->filling = FALSE;
}

void
lz_amount_form_set_system(LzAmountForm *form, const char *name)
{
  guint i = 0;
  while (rows[i].input != SYSTEM)
    i++;
  GtkStringList *list = GTK_STRING_LIST(gtk_drop_down_get_model(GTK_DROP_DOWN(form->inputs[i])));
  for (guint at = 1; at < g_list_model_get_n_items(G_LIST_MODEL(list)); at++)
    if (g_strcmp0(gtk_string_list_get_string(list, at), name) == 0)
      gtk_drop_down_set_selected(GTK_DROP_DOWN(form->inputs[i]), at);
}

// --- the question

static uint32_t
index_of(LzAmountForm *form, const char *kind, guint at)
{
  g_autoptr(GArray) ids = lz_desk_entities(form->desk, kind);
  return at == 0 || !ids || at > ids->len
             ? LZQ_NONE
             : lz_desk_index(form->desk, kind, g_array_index(ids, int64_t, at - 1));
}

static gboolean
read_number(LzAmountForm *form, guint i, LzQuestion *out, GError **error)
{
  const char *text = gtk_editable_get_text(GTK_EDITABLE(form->inputs[i]));
  double *to = (double *)(void *)((char *)out + rows[i].at);
  if (!*text)
    return TRUE;
  return lz_question_number(form->desk, out, rows[i].field, rows[i].field, rows[i].scale, text, to,
                            error);
}

// The row of the water stands before it.
static void
read_lots(LzAmountForm *form, guint i, LzQuestion *out)
{
  lz_amount_lots_show(form->inputs[i], form->desk, out->system);
  g_clear_pointer(&form->lots, g_array_unref);
  form->lots = lz_amount_lots_chosen(form->inputs[i]);
  out->lots = form->lots;
  gtk_widget_set_visible(form->inputs[i], form->lots != NULL);
  gtk_widget_set_visible(form->labels[i], form->lots != NULL);
}

static void
read_choice(LzAmountForm *form, guint i, LzQuestion *out)
{
  guint at = GTK_IS_DROP_DOWN(form->inputs[i]) ? selected(form->inputs[i]) : 0;
  switch (rows[i].input) {
  case LOTS: read_lots(form, i, out); break;
  case SYSTEM: out->system = index_of(form, "system", at); break;
  case BOTTLE: out->bottle = index_of(form, "bottle", at); break;
  case BATH: out->bath = (LzBath)at; break;
  case ANALYTE: out->analyte = (lzq_analyte)at; break;
  default: out->as = at ? LZQ_AS_COPPER_SULFATE_5H2O : LZQ_AS_ITSELF;
  }
}

gboolean
lz_amount_form_read(LzAmountForm *form, LzQuestion *out, GError **error)
{
  lz_question_init(out, form->kind);
  for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
    if (!is_shown(form, i))
      continue;
    if (rows[i].input == NUMBER) {
      if (!read_number(form, i, out, error))
        return FALSE;
    } else if (rows[i].input == FLAG) {
      *(gboolean *)(void *)((char *)out + rows[i].at) =
          gtk_check_button_get_active(GTK_CHECK_BUTTON(form->inputs[i]));
    } else {
      read_choice(form, i, out);
    }
  }
  if (form->kind == LZ_QUESTION_FRESHEN || form->kind == LZ_QUESTION_SALT)
    out->analyte = LZQ_SALINITY;
  return TRUE;
}

char *
lz_amount_form_sentence(LzAmountForm *form, const char *message)
{
  const char *colon = strstr(message, ": ");
  for (guint i = 0; colon && i < G_N_ELEMENTS(rows); i++)
    if (is_shown(form, i) && strlen(rows[i].field) == (size_t)(colon - message) &&
        g_str_has_prefix(message, rows[i].field))
      return g_strconcat(_(rows[i].label), colon, NULL);
  return g_strdup(message);
}
