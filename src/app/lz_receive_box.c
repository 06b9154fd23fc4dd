// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_receive_box.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <math.h>

static const struct {
  const char *name, *head, *spoken;
  int width;
  gboolean number;
} fields[LZ_N_BOX_FIELDS] = {
    [LZ_BOX_TEMPERATURE] = {"bag_temperature", N_("°C"), N_("Temperature in the bag, °C"), 4, TRUE},
    [LZ_BOX_SALINITY] = {"bag_salinity", N_("ppt"), N_("Salinity in the bag, ppt"), 4, TRUE},
    [LZ_BOX_PH] = {"bag_ph", N_("pH"), N_("pH in the bag"), 4, TRUE},
    [LZ_BOX_AMMONIA] = {"bag_ammonia", N_("TAN mg/L"), N_("Ammonia in the bag, mg/L N"), 4, TRUE},
    [LZ_BOX_SPECIES] = {"species", N_("species as counted"), N_("Species"), 18, FALSE},
    [LZ_BOX_INVOICED] = {"invoiced", N_("invoiced"), N_("Invoiced"), 4, TRUE},
    [LZ_BOX_COUNTED] = {"heads", N_("alive"), N_("Counted alive"), 4, TRUE},
    [LZ_BOX_DEAD] = {"dead_on_arrival", N_("dead"), N_("Dead on arrival"), 4, TRUE},
    [LZ_BOX_WEAK] = {"weak", N_("weak"), N_("Weak"), 4, TRUE},
    [LZ_BOX_MASS] = {"mean_mass_g", N_("g each"), N_("Grams of one fish"), 4, TRUE},
    [LZ_BOX_TANK] = {"tank", N_("into tank"), N_("Into tank"), 8, FALSE},
    [LZ_BOX_LOT] = {"code", N_("lot"), N_("Number of the lot"), 6, FALSE},
};

const char *
lz_box_field_name(LzBoxField field)
{
  return fields[field].name;
}

gboolean
lz_box_field_is_number(LzBoxField field)
{
  return fields[field].number;
}

static GtkWidget *
cell(const char *text, const char *style, double xalign)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), (float)xalign);
  gtk_widget_add_css_class(label, style);
  return label;
}

void
lz_receive_heads(GtkGrid *grid)
{
  gtk_grid_attach(grid, cell(_("box"), "axis", 0), 0, 0, 1, 1);
  for (int i = 0; i < LZ_N_BOX_FIELDS; i++)
    gtk_grid_attach(grid, cell(_(fields[i].head), "axis", fields[i].number), i + 1, 0, 1, 1);
}

LzReceiveBox *
lz_receive_box_new(GtkGrid *grid, guint number)
{
  LzReceiveBox *box = g_new0(LzReceiveBox, 1);
  g_autofree char *text = g_strdup_printf("%u", number);
  box->number = number;
  box->label = cell(text, "row-name", 0);
  gtk_grid_attach(grid, box->label, 0, (int)number, 1, 1);
  for (int i = 0; i < LZ_N_BOX_FIELDS; i++) {
    GtkWidget *entry = gtk_entry_new();
    // Translators: a field of a box of fish, for a screen reader.
    g_autofree char *spoken = g_strdup_printf(_("Box %1$u: %2$s"), number, _(fields[i].spoken));
    gtk_editable_set_width_chars(GTK_EDITABLE(entry), fields[i].width);
    gtk_editable_set_max_width_chars(GTK_EDITABLE(entry), fields[i].width);
    gtk_widget_set_hexpand(entry, i == LZ_BOX_SPECIES);
    if (fields[i].number) {
      gtk_entry_set_alignment(GTK_ENTRY(entry), 1);
      gtk_entry_set_input_purpose(GTK_ENTRY(entry), GTK_INPUT_PURPOSE_NUMBER);
    }
    gtk_accessible_update_property(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                   -1);
    gtk_grid_attach(grid, entry, i + 1, (int)number, 1, 1);
    box->fields[i] = GTK_ENTRY(entry);
  }
  return box;
}

void
lz_receive_box_remove(LzReceiveBox *box, GtkGrid *grid)
{
  gtk_grid_remove(grid, box->label);
  for (int i = 0; i < LZ_N_BOX_FIELDS; i++)
    gtk_grid_remove(grid, GTK_WIDGET(box->fields[i]));
  g_free(box);
}

const char *
lz_receive_box_text(const LzReceiveBox *box, LzBoxField field)
{
  return gtk_editable_get_text(GTK_EDITABLE(box->fields[field]));
}

void
lz_receive_box_set(LzReceiveBox *box, LzBoxField field, const char *text)
{
  gtk_editable_set_text(GTK_EDITABLE(box->fields[field]), text ? text : "");
}

double
lz_receive_box_number(const LzReceiveBox *box, LzBoxField field)
{
  double value;
  return lz_parse_number(lz_receive_box_text(box, field), &value, NULL, NULL) ? value : NAN;
}

gboolean
lz_receive_box_is_empty(const LzReceiveBox *box)
{
  for (int i = 0; i < LZ_N_BOX_FIELDS; i++)
    if (i != LZ_BOX_LOT && *lz_receive_box_text(box, i))
      return FALSE;
  return TRUE;
}

LzBoxField
lz_receive_box_field_of(const LzReceiveBox *box, GtkWidget *widget)
{
  for (int i = 0; widget && i < LZ_N_BOX_FIELDS; i++)
    if (widget == GTK_WIDGET(box->fields[i]) ||
        gtk_widget_is_ancestor(widget, GTK_WIDGET(box->fields[i])))
      return i;
  return LZ_N_BOX_FIELDS;
}
