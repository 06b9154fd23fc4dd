// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_print_view.h"

#include <glib/gi18n.h>
#include <lz_rows.h>
#include <lz_words.h>
#include <string.h>

#include "lz_access.h"
#include "lz_digits.h"
#include "lz_files.h"
#include "lz_page_preview.h"
#include "lz_place.h"
#include "lz_print.h"
#include "lz_type_ahead.h"

static const char *const subject_kinds[] = {"system", "lot"};

struct _LzPrintView {
  GtkWidget parent;
  LzDesk *desk;
  LzrPages *pages;                             // NULL = the message says why
  char *from;                                  // place
  char *subjects[G_N_ELEMENTS(subject_kinds)]; // chosen there; NULL = none
  char **languages;                            // of the second-language list; [0] is none
  gboolean filling;
  GtkWidget *box, *read_back;
  GtkLabel *about_label, *number_label, *first_label, *until_label, *volume_label, *strength_label,
      *protocol_label;
  GtkLabel *message;
  GtkDropDown *sheet, *about, *protocol, *paper, *also;
  GtkEntry *number, *first, *until, *volume, *strength;
  LzPagePreview *preview;
};

static void place_iface(LzPlaceInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE(LzPrintView, lz_print_view, GTK_TYPE_WIDGET,
                              G_IMPLEMENT_INTERFACE(LZ_TYPE_PLACE, place_iface))

static const LzrSheet *
sheet_of(LzPrintView *self)
{
  guint n, i = gtk_drop_down_get_selected(self->sheet);
  const LzrSheet *sheets = lzr_sheets(&n);
  return i < n ? &sheets[i] : &sheets[0];
}

static const char *
typed(GtkEntry *entry)
{
  return gtk_widget_get_visible(GTK_WIDGET(entry)) ? gtk_editable_get_text(GTK_EDITABLE(entry))
                                                   : NULL;
}

static LzPrintChoice
choice_of(LzPrintView *self)
{
  guint language = gtk_drop_down_get_selected(self->also);
  return (LzPrintChoice){
      .sheet = sheet_of(self)->name,
      .about =
          gtk_widget_get_visible(GTK_WIDGET(self->about)) ? lz_print_selected(self->about) : NULL,
      .from = typed(self->first),
      .until = typed(self->until),
      .volume = typed(self->volume),
      .strength = typed(self->strength),
      .protocol = gtk_widget_get_visible(GTK_WIDGET(self->protocol)) &&
                          gtk_drop_down_get_selected(self->protocol) > 0
                      ? lz_print_selected(self->protocol)
                      : NULL,
      .number = typed(self->number),
      .also = language == GTK_INVALID_LIST_POSITION ? NULL : self->languages[language],
      .paper = gtk_drop_down_get_selected(self->paper) == 1 ? LZR_LETTER : LZR_A4};
}

static void
lay(LzPrintView *self, gboolean first)
{
  g_autoptr(GError) error = NULL;
  LzPrintChoice choice = choice_of(self);
  lz_page_preview_set(self->preview, NULL, NULL, FALSE);
  g_clear_pointer(&self->pages, lzr_pages_free);
  self->pages = lz_print_lay(self->desk, &choice, &error);
  gtk_label_set_label(self->message, error ? error->message : "");
  gtk_widget_set_visible(GTK_WIDGET(self->message), error != NULL);
  lz_page_preview_set(self->preview, self->pages, sheet_of(self)->title, first);
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "print.run", self->pages != NULL);
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "print.save", self->pages != NULL);
}

static void
refresh(LzPrintView *self)
{
  if (!self->filling && self->desk)
    lay(self, FALSE);
}

static void
on_desk_changed(LzPrintView *self)
{
  if (gtk_widget_get_mapped(GTK_WIDGET(self)))
    refresh(self);
}

static void
show_field(GtkLabel *label, gpointer field, gboolean visible)
{
  gtk_widget_set_visible(GTK_WIDGET(label), visible);
  gtk_widget_set_visible(GTK_WIDGET(field), visible);
}

// The fields that the chosen sheet asks for.
static void
on_sheet(LzPrintView *self)
{
  const LzrSheet *sheet = sheet_of(self);
  gboolean handover = strcmp(sheet->name, "handover") == 0;
  gboolean home = strcmp(sheet->about, "volume") == 0, thing = *sheet->about && !home;
  if (!self->desk)
    return;
  self->filling = TRUE;
  if (thing) {
    g_autoptr(GtkStringList) names = lz_print_names(self->desk, sheet->about);
    gtk_drop_down_set_model(self->about, G_LIST_MODEL(names));
    gtk_label_set_label(self->about_label, lz_print_about_words(sheet->about));
    for (guint i = 0; i < G_N_ELEMENTS(subject_kinds); i++)
      if (strcmp(subject_kinds[i], sheet->about) == 0)
        lz_print_select(self->about, self->subjects[i]);
  }
  show_field(self->about_label, self->about, thing);
  show_field(self->number_label, self->number, handover);
  gtk_widget_set_visible(self->read_back, handover);
  show_field(self->first_label, self->first, sheet->range && !handover);
  show_field(self->until_label, self->until, sheet->range && !handover);
  if (home) {
    g_autoptr(GtkStringList) names = lz_print_protocols(self->desk);
    g_autofree char *chosen = g_strdup(lz_print_selected(self->protocol));
    gtk_drop_down_set_model(self->protocol, G_LIST_MODEL(names));
    lz_print_select(self->protocol, chosen);
  }
  show_field(self->protocol_label, self->protocol, home);
  show_field(self->volume_label, self->volume, home);
  show_field(self->strength_label, self->strength, home);
  self->filling = FALSE;
  lay(self, TRUE);
  lz_place_hints_changed(LZ_PLACE(self));
}

// A handover has come out: reading it back is one step from here.
static void
came_out(LzPrintView *self)
{
  const char *number = typed(self->number);
  if (!number)
    return;
  lz_print_set_printed(self->desk, (guint)g_ascii_strtoull(number, NULL, 10));
  gtk_widget_grab_focus(self->read_back);
}

static void
act_read_back(GtkWidget *widget, const char *name, GVariant *parameter)
{
  came_out(LZ_PRINT_VIEW(widget));
  gtk_widget_activate_action(widget, "win.hand-over", NULL);
}

static void
act_run(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzPrintView *self = LZ_PRINT_VIEW(widget);
  g_autoptr(GError) error = NULL;
  LzPrintChoice choice = choice_of(self);
  if (lz_print_run(GTK_WINDOW(gtk_widget_get_root(widget)), self->pages, choice.paper, &error))
    came_out(self);
  else if (error)
    gtk_widget_activate_action(widget, "win.notice", "s", error->message);
}

gboolean
lz_print_view_pdf(LzPrintView *self, const char *path, GError **error)
{
  g_return_val_if_fail(self->pages != NULL, FALSE);
  return lzr_pages_pdf(self->pages, path, error);
}

static void
on_path(GtkNativeDialog *dialog, int response, LzPrintView *self)
{
  g_autofree char *path = lz_files_saved_path(dialog, response);
  g_autoptr(GError) error = NULL;
  if (path && lz_print_view_pdf(self, path, &error)) {
    g_autofree char *done = g_strdup_printf(_("Saved: %s"), path);
    gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", done);
    came_out(self);
  } else if (error) {
    gtk_widget_activate_action(GTK_WIDGET(self), "win.notice", "s", error->message);
  }
}

static void
act_save(GtkWidget *widget, const char *name, GVariant *parameter)
{
  LzPrintView *self = LZ_PRINT_VIEW(widget);
  LzPrintChoice choice = choice_of(self);
  g_autofree char *file = lz_print_file_name(self->desk, &choice);
  GtkNativeDialog *dialog =
      lz_files_ask_save(GTK_WINDOW(gtk_widget_get_root(widget)), _("Save as PDF"), file);
  g_signal_connect_object(dialog, "response", G_CALLBACK(on_path), self, 0);
  gtk_native_dialog_show(dialog);
}

guint
lz_print_view_n_pages(LzPrintView *self)
{
  return self->pages ? lzr_pages_count(self->pages) : 0;
}

gboolean
lz_print_view_choose(LzPrintView *self, const char *sheet, const char *about)
{
  guint n;
  const LzrSheet *sheets = lzr_sheets(&n);
  for (guint i = 0; i < n; i++) {
    if (strcmp(sheets[i].name, sheet) != 0)
      continue;
    gtk_drop_down_set_selected(self->sheet, i);
    on_sheet(self);
    return !about || lz_print_select(self->about, about);
  }
  return FALSE;
}

void
lz_print_view_called_from(LzPrintView *self, const char *from, LzPlace *place)
{
  const char *sheet = lz_print_meant(from);
  if (g_strcmp0(from, "print") == 0)
    return;
  g_free(self->from);
  self->from = g_strdup(from);
  for (guint i = 0; i < G_N_ELEMENTS(subject_kinds); i++) {
    g_free(self->subjects[i]);
    self->subjects[i] = g_strdup(place ? lz_place_subject(place, subject_kinds[i]) : NULL);
  }
  if (sheet)
    lz_print_view_choose(self, sheet, NULL);
}

static bool
lz_print_view_back(LzPlace *place)
{
  LzPrintView *self = LZ_PRINT_VIEW(place);
  return gtk_widget_activate_action(GTK_WIDGET(place), "win.show", "(ss)",
                                    self->from ? self->from : "round", "");
}

static void
lz_print_view_enter(LzPlace *place)
{
  LzPrintView *self = LZ_PRINT_VIEW(place);
  g_autofree char *number = g_strdup_printf("%u", lz_print_next_number(self->desk));
  self->filling = TRUE;
  gtk_editable_set_text(GTK_EDITABLE(self->number), number);
  self->filling = FALSE;
  refresh(self);
  gtk_widget_grab_focus(GTK_WIDGET(self->sheet));
}

// "lot-record 0412"
static void
lz_print_view_show(LzPlace *place, const char *name)
{
  g_auto(GStrv) parts = g_strsplit(name, " ", 2);
  if (parts[0])
    lz_print_view_choose(LZ_PRINT_VIEW(place), parts[0], parts[1]);
}

static GPtrArray *
lz_print_view_hints(LzPlace *place)
{
  GPtrArray *hints = lz_hints_new();
  lz_hints_add(hints, "↑↓", _("choose"), NULL);
  lz_hints_add(hints, "Tab", _("next field"), NULL);
  lz_hints_add(hints, _("Page ↑↓"), _("turn the page"), NULL);
  lz_hints_add(hints, _("Ctrl P"), _("print"), "win.print");
  lz_hints_add(hints, _("Ctrl Shift P"), _("save as PDF"), "win.save-pdf");
  if (gtk_widget_get_visible(LZ_PRINT_VIEW(place)->read_back))
    lz_hints_add(hints, _("Ctrl H"), _("read it back"), "win.hand-over");
  lz_hints_add(hints, "Esc", _("one step back"), NULL);
  return hints;
}

static void
place_iface(LzPlaceInterface *iface)
{
  iface->back = lz_print_view_back;
  iface->enter = lz_print_view_enter;
  iface->show = lz_print_view_show;
  iface->hints = lz_print_view_hints;
}

static void
fill_lists(LzPrintView *self)
{
  g_autoptr(GtkStringList) titles = lz_print_titles();
  g_autoptr(GtkStringList) papers = lz_print_papers();
  self->filling = TRUE;
  gtk_drop_down_set_model(self->sheet, G_LIST_MODEL(titles));
  gtk_drop_down_set_model(self->paper, G_LIST_MODEL(papers));
  gtk_drop_down_set_selected(self->paper, lz_print_paper(self->desk) == LZR_LETTER);
  g_autoptr(GtkStringList) languages = lz_print_languages(&self->languages);
  gtk_drop_down_set_model(self->also, G_LIST_MODEL(languages));
  self->filling = FALSE;
}

GtkWidget *
lz_print_view_new(LzDesk *desk)
{
  LzPrintView *self = g_object_new(LZ_TYPE_PRINT_VIEW, NULL);
  self->desk = g_object_ref(desk);
  fill_lists(self);
  GtkDropDown *const drops[] = {self->about, self->protocol, self->paper, self->also};
  GtkEntry *const entries[] = {self->number, self->first, self->until, self->volume,
                               self->strength};
  g_signal_connect_object(self->sheet, "notify::selected", G_CALLBACK(on_sheet), self,
                          G_CONNECT_SWAPPED);
  for (guint i = 0; i < G_N_ELEMENTS(drops); i++)
    g_signal_connect_object(drops[i], "notify::selected", G_CALLBACK(refresh), self,
                            G_CONNECT_SWAPPED);
  for (guint i = 0; i < G_N_ELEMENTS(entries); i++)
    g_signal_connect_object(entries[i], "changed", G_CALLBACK(refresh), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "changed", G_CALLBACK(on_desk_changed), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET(self);
}

static void
lz_print_view_dispose(GObject *object)
{
  LzPrintView *self = LZ_PRINT_VIEW(object);
  if (self->preview)
    lz_page_preview_set(self->preview, NULL, NULL, FALSE);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  g_clear_pointer(&self->pages, lzr_pages_free);
  g_clear_pointer(&self->from, g_free);
  for (guint i = 0; i < G_N_ELEMENTS(subject_kinds); i++)
    g_clear_pointer(&self->subjects[i], g_free);
  g_clear_pointer(&self->languages, g_strfreev);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(lz_print_view_parent_class)->dispose(object);
}

static void
lz_print_view_class_init(LzPrintViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_print_view_dispose;
  g_type_ensure(LZ_TYPE_PAGE_PREVIEW);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_print_view.ui");
  gtk_widget_class_install_action(widget, "print.run", NULL, act_run);
  gtk_widget_class_install_action(widget, "print.save", NULL, act_save);
  gtk_widget_class_install_action(widget, "print.read-back", NULL, act_read_back);
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzPrintView, name)
  CHILD(box), CHILD(read_back), CHILD(preview), CHILD(message), CHILD(sheet), CHILD(paper),
      CHILD(also);
  CHILD(about), CHILD(about_label), CHILD(number), CHILD(number_label);
  CHILD(first), CHILD(first_label), CHILD(until), CHILD(until_label);
  CHILD(volume), CHILD(volume_label), CHILD(strength), CHILD(strength_label);
  CHILD(protocol), CHILD(protocol_label);
#undef CHILD
}

static void
lz_print_view_init(LzPrintView *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  lz_digits_put_beside(self->number);
  lz_digits_put_beside(self->volume);
  lz_digits_put_beside(self->strength);
  GtkDropDown *const drops[] = {self->sheet, self->about, self->protocol, self->paper, self->also};
  for (guint i = 0; i < G_N_ELEMENTS(drops); i++)
    lz_type_ahead_add(drops[i]);
  lz_access_inner(GTK_WIDGET(self->sheet), _("Sheet"));
  lz_access_inner(GTK_WIDGET(self->about), _("What it is about"));
  lz_access_inner(GTK_WIDGET(self->protocol), _("Course that the customer carries on"));
  lz_access_inner(GTK_WIDGET(self->paper), _("Paper"));
  lz_access_inner(GTK_WIDGET(self->also), _("Second language beside the first"));
  lz_page_preview_turn_by_keys(self->preview, GTK_WIDGET(self));
}
