// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_gate.h"

#include <glib/gi18n.h>
#include <string.h>

#include "lz_sign.h"

struct _LzGate {
  GtkWidget parent;
  LzGateKind kind;
  GtkWidget *frame;
  LzSign *sign;
  GtkLabel *title, *sentence, *way, *rest;
  LzGateScaleArea *scale;
};

G_DEFINE_FINAL_TYPE(LzGate, lz_gate, GTK_TYPE_WIDGET)

static const struct {
  const char *title, *way;
  gboolean alarm;
} texts[] = {
    [LZ_GATE_OPEN] = {"", "", FALSE},
    [LZ_GATE_REPEAT] = {N_("Read it again"), N_("Type the second reading and press Enter."), FALSE},
    [LZ_GATE_READ_BACK] = {N_("Read back"), N_("Type the same amount again and press Enter."),
                           FALSE},
    [LZ_GATE_WITNESS] = {N_("A second person"), N_("Their initials, then Enter."), FALSE},
    [LZ_GATE_ALONE] = {N_("A second person works it out"),
                       N_("Their initials and their own mL, then Enter. Esc begins again."), FALSE},
    [LZ_GATE_REASON] = {N_("Say why"), N_("A reason, then Enter."), FALSE},
    [LZ_GATE_COST] = {N_("What it costs others"),
                      N_("Enter records it all the same; Esc goes back."), FALSE},
    [LZ_GATE_STOP] = {N_("STOP"), N_("Type it again; − not done. Nobody can override this one."),
                      TRUE},
};

// What is wrong and what to do stand first; the other ways, why, and by whom it may be lifted are
// read below, and are what a small screen cuts.
static void
show_sentence(LzGate *self, const char *sentence)
{
  const char *end = strchr(sentence, '\n');
  g_autofree char *first = end ? g_strndup(sentence, (gsize)(end - sentence)) : g_strdup(sentence);
  gtk_label_set_label(self->sentence, first);
  gtk_label_set_label(self->rest, end ? end + 1 : "");
  gtk_widget_set_visible(GTK_WIDGET(self->rest), end != NULL);
}

void
lz_gate_set(LzGate *self, LzGateKind kind, const char *sentence, const LzGateScale *scale)
{
  g_return_if_fail(LZ_IS_GATE(self));
  self->kind = kind;
  gtk_widget_set_visible(self->frame, kind != LZ_GATE_OPEN);
  gtk_label_set_label(self->title, *texts[kind].title ? _(texts[kind].title) : "");
  gtk_label_set_label(self->way, *texts[kind].way ? _(texts[kind].way) : "");
  show_sentence(self, sentence ? sentence : "");
  lz_sign_set_mark(self->sign, LZD_TASK_BLOCKED, LZD_PLAIN, 22, NULL);
  if (texts[kind].alarm) {
    lz_sign_set_role(self->sign, LZD_ALARM);
    gtk_widget_add_css_class(self->frame, "stop");
  } else {
    lz_sign_set_role(self->sign, LZD_TEXT);
    gtk_widget_remove_css_class(self->frame, "stop");
  }
  lz_gate_scale_set(self->scale, kind == LZ_GATE_OPEN ? NULL : scale);
  g_autofree char *spoken =
      g_strdup_printf("%s. %s", gtk_label_get_label(self->title), sentence ? sentence : "");
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 kind == LZ_GATE_OPEN ? "" : spoken, -1);
}

LzGateKind
lz_gate_kind(LzGate *self)
{
  g_return_val_if_fail(LZ_IS_GATE(self), LZ_GATE_OPEN);
  return self->kind;
}

static void
lz_gate_dispose(GObject *object)
{
  LzGate *self = LZ_GATE(object);
  g_clear_pointer(&self->frame, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_gate_parent_class)->dispose(object);
}

static void
lz_gate_class_init(LzGateClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_gate_dispose;
  g_type_ensure(LZ_TYPE_SIGN);
  g_type_ensure(LZ_TYPE_GATE_SCALE);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  // A live region: what appears here is read out.
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_ALERT);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_gate.ui");
  gtk_widget_class_bind_template_child(widget, LzGate, frame);
  gtk_widget_class_bind_template_child(widget, LzGate, sign);
  gtk_widget_class_bind_template_child(widget, LzGate, title);
  gtk_widget_class_bind_template_child(widget, LzGate, sentence);
  gtk_widget_class_bind_template_child(widget, LzGate, way);
  gtk_widget_class_bind_template_child(widget, LzGate, rest);
  gtk_widget_class_bind_template_child(widget, LzGate, scale);
}

static void
lz_gate_init(LzGate *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  lz_gate_set(self, LZ_GATE_OPEN, NULL, NULL);
}
