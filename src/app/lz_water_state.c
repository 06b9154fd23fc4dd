// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_water_state.h"

#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_estimate.h>
#include <lz_format.h>
#include <lz_other_water.h>
#include <lz_words.h>
#include <math.h>

#include "lz_lookup.h"
#include "lz_sign.h"
#include "lz_task_form.h"
#include "lz_water_dose.h"
#include "lz_working_grid.h"

typedef struct {
  GtkLabel *name, *value, *word, *interval, *read, *leaves;
  LzSign *mark;
} Level;

struct _LzWaterState {
  GtkWidget parent;
  GtkWidget *scroll, *advice_box;
  Level level[2];
  GtkLabel *copper_name, *copper_value, *copper_word, *copper_interval, *copper_read,
      *copper_leaves;
  GtkLabel *salinity_name, *salinity_value, *salinity_word, *salinity_interval, *salinity_read,
      *salinity_leaves;
  LzSign *copper_mark, *salinity_mark;
  GtkGrid *others;
};

G_DEFINE_FINAL_TYPE(LzWaterState, lz_water_state, GTK_TYPE_WIDGET)

static char *
band_text(lzq_analyte analyte, const lzq_band *band)
{
  g_autofree char *works = lz_format_level(analyte, band->works);
  double other = band->side == LZQ_BETWEEN ? band->works_high : band->plan;
  g_autofree char *end = lz_format_level(analyte, other);
  if (isnan(other))
    return g_strdup_printf(_("band from %s"), works);
  return band->side == LZQ_AT_OR_BELOW ? g_strdup_printf(_("band %s to %s"), end, works)
                                       : g_strdup_printf(_("band %s to %s"), works, end);
}

// "80 %: 0.471 to 0.495; band 0.45 to 0.60"
static char *
interval_text(const LzSystemInfo *info, int i, const LzChartData *data)
{
  lzq_analyte analyte = i ? LZQ_SALINITY : LZQ_COPPER;
  GString *out = g_string_new(NULL);
  guint n = data ? data->estimate->len : 0;
  if (n) {
    const LzChartPoint *last = &g_array_index(data->estimate, LzChartPoint, n - 1);
    g_autofree char *low = lz_format_level(analyte, last->low);
    g_autofree char *high = lz_format_level(analyte, last->high);
    if (last->high > last->low)
      g_string_append_printf(out, _("80 %%: %s to %s"), low, high);
  }
  if (info->has_band[i]) {
    g_autofree char *band = band_text(analyte, &info->band[i]);
    g_string_append_printf(out, "%s%s", out->len ? "; " : "", band);
  }
  return g_string_free(out, FALSE);
}

static char *
read_text(LzDesk *desk, const LzSystemInfo *info, int i, const LzChartData *data)
{
  lzq_minute now = lz_desk_now(desk);
  if (info->read_at[i] == LZQ_LONG_AGO)
    return g_strdup(_("never read"));
  g_autofree char *when = lz_format_when(lz_desk_zone(desk), info->read_at[i], now);
  g_autofree char *ago = lz_format_duration(MAX(0, now - info->read_at[i]));
  const char *name = "";
  for (guint r = data ? data->readings->len : 0; r-- > 0;) {
    const LzChartReading *reading = &g_array_index(data->readings, LzChartReading, r);
    if (reading->at == info->read_at[i]) {
      lz_chart_instrument_mark(desk, reading->instrument, &name);
      break;
    }
  }
  g_autofree char *words = *name ? g_strdup_printf(_("read %s, %s ago, %s"), when, ago, name)
                                 : g_strdup_printf(_("read %s, %s ago"), when, ago);
  // the large figure above is what the water holds now: where something was done since, say both
  lzq_analyte analyte = i ? LZQ_SALINITY : LZQ_COPPER;
  g_autofree char *level = lz_format_level(analyte, info->level[i]);
  g_autofree char *read = lz_format_level(analyte, info->read[i]);
  return g_str_equal(level, read)
             ? g_steal_pointer(&words)
             : g_strdup_printf(_("now, estimated; %1$s was %2$s"), read, words);
}

// When it leaves its band, and which round must test; another volume that the doses speak for.
// NULL = nothing to say.
static char *
leaves_text(LzDesk *desk, const LzSystemInfo *info, lzq_analyte analyte)
{
  LzEstimate estimate;
  lzq_minute now = lz_desk_now(desk);
  if (!lz_desk_estimate(desk, info->index, analyte, now, &estimate))
    return NULL;
  g_autofree char *words = lz_estimate_exit_words(desk, &estimate, now);
  g_autofree char *volume = lz_estimate_volume_words(desk, info->index, &estimate);
  g_autofree char *leaves = words ? lz_capital(words) : NULL;
  if (!leaves || !volume)
    return g_strdup(leaves ? leaves : volume);
  return g_strdup_printf("%s\n%s", leaves, volume);
}

static void
show_level(LzWaterState *self, LzDesk *desk, const LzSystemInfo *info, int i,
           const LzChartModel *model)
{
  lzq_analyte analyte = i ? LZQ_SALINITY : LZQ_COPPER;
  const LzChartData *data = model ? lz_chart_model_data(model, (guint)i) : NULL;
  Level *level = &self->level[i];
  g_autofree char *value = lz_format_level(analyte, info->level[i]);
  g_autofree char *interval = interval_text(info, i, data);
  g_autofree char *read = read_text(desk, info, i, data);
  g_autofree char *leaves = leaves_text(desk, info, analyte);
  const char *word = lz_band_word(info->mark[i]);
  gboolean bad = info->mark[i] == LZ_MARK_HIGH || info->mark[i] == LZ_MARK_LOW ||
                 info->mark[i] == LZ_MARK_HARM || info->mark[i] == LZ_MARK_DOUBT;
  gtk_label_set_label(level->value, value);
  gtk_label_set_label(level->word, word);
  gtk_label_set_label(level->interval, interval);
  gtk_widget_set_visible(GTK_WIDGET(level->interval), *interval != 0);
  gtk_label_set_label(level->read, read);
  gtk_label_set_label(level->leaves, leaves ? leaves : "");
  gtk_widget_set_visible(GTK_WIDGET(level->leaves), leaves != NULL);
  lz_sign_set_mark(level->mark, lz_band_sign_at(info->mark[i], &info->band[i], info->level[i]),
                   LZD_PLAIN, 44, word);
  gtk_widget_set_visible(GTK_WIDGET(level->mark), info->mark[i] != LZ_MARK_NONE);
  if (bad)
    gtk_widget_add_css_class(GTK_WIDGET(level->word), "alarm");
  else
    gtk_widget_remove_css_class(GTK_WIDGET(level->word), "alarm");
}

static void
put_row(GtkGrid *grid, int row, const char *const cells[4])
{
  for (int c = 0; c < 4; c++) {
    GtkWidget *label = gtk_label_new(cells[c]);
    gtk_label_set_xalign(GTK_LABEL(label), c == 1 ? 1 : 0);
    gtk_widget_set_hexpand(label, c == 0);
    if (c > 1)
      gtk_widget_add_css_class(label, "second");
    if (c == 1)
      gtk_widget_add_css_class(label, "strong");
    gtk_grid_attach(grid, label, c, row, 1, 1);
  }
}

// What was worked out of the readings, and what each means where somebody has to do something.
static int
show_meanings(LzWaterState *self, LzDesk *desk, const LzSystemInfo *info, int row)
{
  lzq_minute now = lz_desk_now(desk);
  g_autoptr(GPtrArray) all = lz_desk_other_water(desk, info->index, now);
  for (guint i = 0; i < all->len; i++) {
    const LzOtherWater *item = all->pdata[i];
    g_autofree char *name = lz_capital(item->name);
    g_autofree char *value = lz_format_number(item->value, item->decimals);
    g_autofree char *when = lz_format_when(lz_desk_zone(desk), item->read_at, now);
    gboolean told = item->concern == LZ_CONCERN_WATCH || item->concern == LZ_CONCERN_ACT;
    if (item->concern == LZ_CONCERN_UNKNOWN || (item->as_read && !told))
      continue;
    if (!item->as_read)
      put_row(self->others, row++, (const char *const[]){name, value, item->unit, when});
    if (!told)
      continue;
    g_autofree char *words = g_strdup_printf("%s: %s", name, item->meaning);
    GtkWidget *label = gtk_label_new(words);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_max_width_chars(GTK_LABEL(label), 40);
    gtk_widget_add_css_class(label, item->concern == LZ_CONCERN_ACT ? "alarm" : "axis");
    gtk_grid_attach(self->others, label, 0, row++, 4, 1);
  }
  return row;
}

// Last reading of every other analyte within a month.
static void
show_others(LzWaterState *self, LzDesk *desk, const LzSystemInfo *info)
{
  lzq_minute now = lz_desk_now(desk);
  g_autoptr(GPtrArray) readings =
      lz_desk_facts(desk, "reading", now - (lzq_minute)30 * LZQ_DAY, now + 1);
  LzEntry *last[LZQ_N_READ] = {NULL};
  char *codes[LZQ_N_READ];
  for (int a = 0; a < LZQ_N_READ; a++)
    codes[a] = lz_field_word("reading", "analyte", (guint)a);
  for (guint i = 0; i < readings->len; i++) {
    LzEntry *entry = g_ptr_array_index(readings, i);
    if (lz_entry_int(entry, "system") != info->id)
      continue;
    for (int a = LZQ_TEMPERATURE; a < LZQ_N_READ; a++)
      if (g_strcmp0(lz_entry_text(entry, "analyte"), codes[a]) == 0)
        last[a] = entry;
  }
  for (int a = 0; a < LZQ_N_READ; a++)
    g_free(codes[a]);
  lz_grid_clear(self->others);
  int row = 0;
  for (int a = LZQ_TEMPERATURE; a < LZQ_N_READ && row < 5; a++) {
    if (!last[a])
      continue;
    g_autofree char *value = lz_format_level((lzq_analyte)a, lz_entry_number(last[a], "value"));
    g_autofree char *ago = lz_format_when(lz_desk_zone(desk), lz_entry_at(last[a]), now);
    g_autofree char *name = lz_capital(lz_words_analyte((lzq_analyte)a));
    const char *unit = lz_words_analyte_unit((lzq_analyte)a);
    put_row(self->others, row++, (const char *const[]){name, value, unit, ago});
  }
  row = show_meanings(self, desk, info, row);
  gtk_widget_set_visible(GTK_WIDGET(self->others), row > 0);
}

void
lz_water_state_set(LzWaterState *self, LzDesk *desk, uint32_t system, const LzChartModel *model)
{
  g_return_if_fail(LZ_IS_WATER_STATE(self));
  const LzSystemInfo *info = lz_desk_system_info(desk, system);
  gtk_widget_set_visible(self->scroll, info != NULL);
  if (!info)
    return;
  for (int i = 0; i < 2; i++)
    show_level(self, desk, info, i, model);
  show_others(self, desk, info);
  gtk_widget_set_visible(self->advice_box,
                         lz_water_doses_fill(GTK_BOX(self->advice_box), desk, info));
}

static void
lz_water_state_dispose(GObject *object)
{
  LzWaterState *self = LZ_WATER_STATE(object);
  g_clear_pointer(&self->scroll, gtk_widget_unparent);
  G_OBJECT_CLASS(lz_water_state_parent_class)->dispose(object);
}

static void
lz_water_state_class_init(LzWaterStateClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
  G_OBJECT_CLASS(klass)->dispose = lz_water_state_dispose;
  g_type_ensure(LZ_TYPE_SIGN);
  gtk_widget_class_set_layout_manager_type(widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role(widget, GTK_ACCESSIBLE_ROLE_REGION);
  gtk_widget_class_set_template_from_resource(widget, "/net/lazaret/Lazaret/lz_water_state.ui");
#define CHILD(name) gtk_widget_class_bind_template_child(widget, LzWaterState, name)
  CHILD(scroll);
  CHILD(advice_box);
  CHILD(copper_name);
  CHILD(copper_value);
  CHILD(copper_word);
  CHILD(copper_interval);
  CHILD(copper_read);
  CHILD(copper_leaves);
  CHILD(copper_mark);
  CHILD(salinity_name);
  CHILD(salinity_value);
  CHILD(salinity_word);
  CHILD(salinity_interval);
  CHILD(salinity_read);
  CHILD(salinity_leaves);
  CHILD(salinity_mark);
  CHILD(others);
#undef CHILD
}

static void
lz_water_state_init(LzWaterState *self)
{
  gtk_widget_init_template(GTK_WIDGET(self));
  self->level[0] =
      (Level){self->copper_name, self->copper_value,  self->copper_word, self->copper_interval,
              self->copper_read, self->copper_leaves, self->copper_mark};
  self->level[1] = (Level){self->salinity_name,     self->salinity_value, self->salinity_word,
                           self->salinity_interval, self->salinity_read,  self->salinity_leaves,
                           self->salinity_mark};
}
