// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_water_dose.h"

#include <glib/gi18n.h>
#include <lz_dose_now.h>
#include <lz_format.h>
#include <lz_words.h>
#include <lz_working.h>
#include <math.h>

#include "lz_task_form.h"
#include "lz_working_grid.h"

struct _LzWaterDose {
  GtkWidget parent;
  GtkWidget *box;
  GtkLabel *title, *amount, *of, *why, *caution;
  GtkGrid *working;
};

G_DEFINE_FINAL_TYPE(LzWaterDose, lz_water_dose, GTK_TYPE_WIDGET)

// The change that the plan has next for this water; 0 = none.
static double
next_change(LzDesk *desk, uint32_t system)
{
  const lzq_plan *plan = lz_desk_plan(desk);
  for (uint32_t i = 0; plan && i < plan->n_tasks; i++)
    if (plan->tasks[i].system == system && plan->tasks[i].kind == LZQ_TASK_CHANGE)
      return plan->tasks[i].amount;
  return 0;
}

static void
say(GtkLabel *label, const char *words)
{
  gtk_label_set_label(label, words ? words : "");
  gtk_widget_set_visible(GTK_WIDGET(label), words && *words);
}

// What an amount is of: a bottle, salt, fresh water, or what is weighed out.
static char *
words_of(LzDesk *desk, lzq_analyte analyte, const LzDoseNow *now)
{
  if (now->kind == LZQ_TASK_SALT)
    return g_strdup(_("of salt"));
  if (now->kind == LZQ_TASK_CHANGE && now->new_salinity == 0)
    return g_strdup(_("with fresh water"));
  if (now->kind == LZQ_TASK_CHANGE && isfinite(now->new_salinity)) {
    g_autofree char *level = lz_format_level(LZQ_SALINITY, now->new_salinity);
    return g_strdup_printf(_("with water of %s ppt"), level);
  }
  if (now->kind == LZQ_TASK_CHANGE)
    return NULL;
  if (now->bottle == LZQ_NONE)
    return g_strdup_printf(_("of %s"), lz_words_analyte(analyte));
  return g_strdup_printf(_("of bottle %s"), lz_desk_name(desk, "bottle", now->bottle));
}

static void
show(LzWaterDose *self, lzq_analyte analyte, const char *title, const char *amount, const char *of,
     GPtrArray *lines)
{
  g_autofree char *name = lz_capital(lz_words_analyte(analyte));
  g_autofree char *head = g_strdup_printf("%s: %s", name, title);
  g_autofree char *spoken = g_strdup_printf("%s %s", amount ? amount : "", of ? of : "");
  say(self->title, head);
  say(self->amount, amount);
  say(self->of, of);
  lz_working_grid_fill(self->working, lines);
  gtk_widget_set_visible(GTK_WIDGET(self->working), lines->len > 0);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL, head,
                                 GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, g_strstrip(spoken), -1);
}

static void
show_now(LzWaterDose *self, LzDesk *desk, uint32_t system, lzq_analyte analyte,
         const LzDoseNow *now)
{
  g_autoptr(GPtrArray) lines = lz_dose_now_working(desk, system, analyte, now);
  g_autofree char *amount = now->give ? lz_format_amount(now->amount, now->unit) : NULL;
  g_autofree char *of = now->give ? words_of(desk, analyte, now) : NULL;
  const char *title = !now->give                     ? _("nothing to add now")
                      : now->kind == LZQ_TASK_CHANGE ? _("to change now")
                                                     : _("to add now");
  show(self, analyte, title, amount, of, lines);
  g_autofree char *why = now->why ? lz_capital(now->why) : NULL;
  say(self->why, why);
  say(self->caution, now->give ? lz_dose_now_caution(analyte, now) : NULL);
}

// What goes in with a change that the plan asks for: replacement and what is lacking, together.
static gboolean
show_with_change(LzWaterDose *self, LzDesk *desk, uint32_t system)
{
  double litres = next_change(desk, system);
  LzDoseAdvice advice = {.possible = FALSE};
  if (litres > 0)
    advice = lz_desk_advise_dose(desk, system, LZQ_COPPER, litres);
  if (!advice.possible || !(advice.ml > 0) ||
      isfinite(advice.doubted)) // the plan asks for a repeat
    return FALSE;
  LzDoseNow now = {.kind = LZQ_TASK_DOSE, .bottle = advice.bottle};
  g_autoptr(GPtrArray) lines = lz_working_dose(desk, &advice);
  g_autofree char *change = lz_format_amount(litres, LZQ_UNIT_L);
  g_autofree char *title = g_strdup_printf(_("to add with the next change of %s"), change);
  g_autofree char *amount = lz_format_amount(advice.ml, LZQ_UNIT_ML);
  g_autofree char *of = words_of(desk, LZQ_COPPER, &now);
  show(self, LZQ_COPPER, title, amount, of, lines);
  say(self->why, advice.why);
  say(self->caution, lz_dose_now_caution(LZQ_COPPER, &now));
  return TRUE;
}

gboolean
lz_water_doses_fill(GtkBox *box, LzDesk *desk, const LzSystemInfo *info)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(GTK_WIDGET(box))))
    gtk_box_remove(box, child);
  lzq_arena arena;
  const lzq_plan *plan = lz_desk_plan_at_once(desk, &arena, NULL);
  for (int a = 0; a < LZQ_N_READ; a++) {
    g_auto(LzDoseNow) now = {0};
    lz_desk_dose_now(desk, plan, info->index, (lzq_analyte)a, &now);
    if (!now.asked && !now.give && !now.why)
      continue;
    LzWaterDose *dose = g_object_new(LZ_TYPE_WATER_DOSE, NULL);
    if (a != LZQ_COPPER || !show_with_change(dose, desk, info->index))
      show_now(dose, desk, info->index, (lzq_analyte)a, &now);
    gtk_box_append(box, GTK_WIDGET(dose));
  }
  lzq_arena_free(&arena);
  return gtk_widget_get_first_child(GTK_WIDGET(box)) != NULL;
}

static void
lz_water_dose_dispose(GObject *object)
{
  LzWaterDose *self = LZ_WATER_DOSE(object);
  g_clear_pointer(&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_water_dose_parent_class)->dispose(object);
}

static void
lz_water_dose_class_init(LzWaterDoseClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_water_dose_dispose;
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_water_dose.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzWaterDose, name)
  CHILD(box);
  CHILD(title);
  CHILD(amount);
  CHILD(of);
  CHILD(why);
  CHILD(caution);
  CHILD(working);
#undef CHILD
}

static void
lz_water_dose_init(LzWaterDose *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
}
