// SPDX-License-Identifier: GPL-3.0-or-later
// Floating until the difference is under 2 °C: Lim, Dhert & Sorgeloos (2003), Aquaculture Research
// 34, 923-935 (extract). A bag's pH falls under way; air drives it up again and with it the free
// ammonia: Carberry (2014). Salinity within 1 ppt as the same: common practice, no source.
#include "lz_receive_side.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_room.h>
#include <lz_rows.h>
#include <lz_words.h>
#include <lzq_ammonia.h>
#include <math.h>
#include <string.h>

#include "lz_lookup.h"
#include "lz_task_form.h"

#define FLOAT_UNDER_C    2.0
#define SAME_PPT         1.0
#define SAME_PH          0.3
#define READ_WITHIN_DAYS 14

static void
bag_line_free(gpointer data)
{
  LzBagLine *line = data;
  g_free(line->what);
  g_free(line->bag);
  g_free(line->water);
  g_free(line->words);
  g_free(line);
}

// The last reading of a fortnight; NAN = none.
static double
last_reading(LzDesk *desk, int64_t system, lzq_analyte analyte)
{
  g_autofree char *word = lz_field_word("reading", "analyte", analyte);
  lzq_minute now = lz_desk_now(desk);
  g_autoptr(GPtrArray) facts =
      lz_desk_facts(desk, "reading", now - READ_WITHIN_DAYS * 1440, now + 1);
  for (guint i = facts->len; i-- > 0;) {
    LzEntry *entry = g_ptr_array_index(facts, i);
    if (lz_entry_int(entry, "system") == system &&
        g_strcmp0(lz_entry_text(entry, "analyte"), word) == 0)
      return lz_entry_number(entry, "value");
  }
  return NAN;
}

static LzBagLine *
add_line(GPtrArray *lines, const char *what, lzq_analyte analyte, double bag, double water)
{
  LzBagLine *line = g_new0(LzBagLine, 1);
  line->what = g_strdup(what);
  line->bag = lz_format_level(analyte, bag);
  line->water = lz_format_level(analyte, water);
  g_ptr_array_add(lines, line);
  return line;
}

// Takes the words for water that is too far from the bag's.
static void
say_apart(LzBagLine *line, double apart, double same, char *too_far)
{
  g_autofree char *words = too_far;
  line->heed = fabs(apart) > same;
  if (isnan(apart))
    line->words = g_strdup(_("the water was not read"));
  else
    line->words = line->heed ? g_steal_pointer(&words) : g_strdup(_("the same"));
}

// Free ammonia at the pH of the bag, and what it becomes once the pH is that of the water.
static void
say_ammonia(LzBagLine *line, double tan, double salinity, double t_c, double ph, double water_ph)
{
  double now = NAN, then = NAN;
  lzq_ammonia_unionised(tan, salinity, t_c, ph, LZQ_PH_NBS, &now);
  lzq_ammonia_unionised(tan, salinity, t_c, water_ph, LZQ_PH_NBS, &then);
  if (isnan(now)) {
    line->words = g_strdup(_("free ammonia needs temperature, salinity and pH of the bag"));
    return;
  }
  g_autofree char *free_now = lz_format_number(now, 3), *free_then = lz_format_number(then, 3);
  g_autofree char *shown_ph = lz_format_short(water_ph, 2);
  // Translators: free ammonia (mg/L N) in the bag; the same at the water's pH; that pH
  line->words = isnan(then) ? g_strdup_printf(_("free NH₃ %s mg/L N in the bag"), free_now)
                            : g_strdup_printf(_("free NH₃ %1$s mg/L N now, %2$s at pH %3$s"),
                                              free_now, free_then, shown_ph);
  line->heed = then > 2 * now;
}

GPtrArray *
lz_receive_compare(LzDesk *desk, const LzReceiveBox *box, int64_t system)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func(bag_line_free);
  const LzSystemInfo *info = lz_desk_system_info(desk, lz_desk_index(desk, "system", system));
  double t = lz_receive_box_number(box, LZ_BOX_TEMPERATURE);
  double s = lz_receive_box_number(box, LZ_BOX_SALINITY);
  double ph = lz_receive_box_number(box, LZ_BOX_PH);
  double tan = lz_receive_box_number(box, LZ_BOX_AMMONIA);
  if (!info)
    return lines;
  double water_t = info->temperature, water_s = info->level[1];
  double water_ph = last_reading(desk, system, LZQ_PH);
  g_autofree char *t_apart = lz_format_short(fabs(t - water_t), 1);
  g_autofree char *s_apart = lz_format_short(fabs(s - water_s), 1);
  g_autofree char *ph_apart = lz_format_short(fabs(ph - water_ph), 1);
  if (!isnan(t))
    say_apart(add_line(lines, _("Temperature"), LZQ_TEMPERATURE, t, water_t), t - water_t,
              FLOAT_UNDER_C, g_strdup_printf(_("%s °C apart: float until under 2 °C"), t_apart));
  if (!isnan(s))
    say_apart(add_line(lines, _("Salinity"), LZQ_SALINITY, s, water_s), s - water_s, SAME_PPT,
              g_strdup_printf(_("%s ppt apart: match the water before they go in"), s_apart));
  if (!isnan(ph))
    say_apart(add_line(lines, _("pH"), LZQ_PH, ph, water_ph), ph - water_ph, SAME_PH,
              g_strdup_printf(_("%s apart: do not air the bag"), ph_apart));
  if (!isnan(tan))
    say_ammonia(
        add_line(lines, _("Ammonia"), LZQ_AMMONIA, tan, last_reading(desk, system, LZQ_AMMONIA)),
        tan, s, t, ph, water_ph);
  return lines;
}

static gboolean
has_part(LzEntry *species, const char *field, const char *folded, gboolean whole)
{
  const char *text = lz_entry_text(species, field);
  g_autofree char *has = g_utf8_casefold(text ? text : "", -1);
  return whole ? strcmp(has, folded) == 0 : strstr(has, folded) != NULL;
}

int64_t
lz_receive_species(LzDesk *desk, const char *typed, char **out_names)
{
  g_autoptr(GArray) ids = lz_desk_entities(desk, "species");
  g_autofree char *stripped = g_strstrip(g_strdup(typed));
  g_autofree char *folded = g_utf8_casefold(stripped, -1);
  g_autoptr(GString) names = g_string_new(NULL);
  int64_t found = 0;
  for (guint i = 0; ids && i < ids->len && *folded; i++) {
    int64_t id = g_array_index(ids, int64_t, i);
    LzEntry *species = lz_desk_entity(desk, "species", id);
    if (has_part(species, "name", folded, TRUE) || has_part(species, "common", folded, TRUE))
      return id;
    if (!has_part(species, "name", folded, FALSE) && !has_part(species, "common", folded, FALSE))
      continue;
    found = found ? -1 : id;
    g_string_append_printf(names, "%s%s", names->len ? ", " : "",
                           lz_desk_name_of(desk, "species", id));
  }
  if (found == -1 && out_names)
    *out_names = g_string_free(g_steal_pointer(&names), FALSE);
  return found;
}

char *
lz_receive_tank(LzDesk *desk, const char *typed, int64_t system)
{
  gboolean digits = *typed != 0;
  for (const char *c = typed; *c; c++)
    digits = digits && g_ascii_isdigit(*c);
  return digits && system ? g_strdup_printf("%s/%s", lz_desk_name_of(desk, "system", system), typed)
                          : g_strdup(typed);
}

static const LzTankInfo *
find_tank(LzDesk *desk, const char *name)
{
  GListModel *rows = lz_desk_tanks(desk);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzTankRow) row = g_list_model_get_item(rows, i); // the model keeps it alive
    if (g_ascii_strcasecmp(lz_tank_row_info(row)->name, name) == 0)
      return lz_tank_row_info(row);
  }
  return NULL;
}

// Up to three empty tanks in water without copper.
static char *
free_places(LzDesk *desk)
{
  GListModel *rows = lz_desk_tanks(desk);
  GString *all = g_string_new(NULL);
  for (guint i = 0, n = 0; i < g_list_model_get_n_items(rows) && n < 3; i++) {
    g_autoptr(LzTankRow) row = g_list_model_get_item(rows, i);
    const LzTankInfo *tank = lz_tank_row_info(row);
    const LzSystemInfo *system = lz_desk_system_info(desk, tank->system);
    if (tank->heads || !system || system->copper_in)
      continue;
    g_string_append_printf(all, "%s%s", n++ ? ", " : "", tank->name);
  }
  return g_string_free(all, FALSE);
}

static void
say_species(LzDesk *desk, GString *words, const char *typed, const LzSystemInfo *water)
{
  g_autofree char *several = NULL;
  int64_t id = lz_receive_species(desk, typed, &several);
  LzEntry *species = id > 0 ? lz_desk_entity(desk, "species", id) : NULL;
  if (several) {
    g_string_append_printf(words, _("“%1$s” may be %2$s: type more of it. "), typed, several);
    return;
  }
  if (!species) {
    if (*typed)
      g_string_append_printf(
          words, _("“%s” is new here; how it takes copper is not known: ask a veterinarian. "),
          typed);
    return;
  }
  const char *copper = lz_entry_text(species, "copper");
  g_string_append_printf(words, "%s. ", lz_desk_name_of(desk, "species", id));
  if (!water || !water->copper_in || !copper || strcmp(copper, "usual") == 0)
    return;
  g_autofree char *places = free_places(desk), *class = lz_word_shown(copper);
  // Translators: system; class of the species for copper ("avoid"); empty tanks
  g_string_append_printf(words,
                         _("%1$s holds copper; for this species: %2$s. Free without it: %3$s. "),
                         water->name, class, *places ? places : "–");
}

char *
lz_receive_box_words(LzDesk *desk, const LzReceiveBox *box, int64_t system)
{
  GString *words = g_string_new(NULL);
  double invoiced = lz_receive_box_number(box, LZ_BOX_INVOICED);
  double alive = lz_receive_box_number(box, LZ_BOX_COUNTED);
  double dead = lz_receive_box_number(box, LZ_BOX_DEAD);
  g_autofree char *name = lz_receive_tank(desk, lz_receive_box_text(box, LZ_BOX_TANK), system);
  const LzTankInfo *tank = find_tank(desk, name);
  const LzSystemInfo *water =
      lz_desk_system_info(desk, tank ? tank->system : lz_desk_index(desk, "system", system));
  int missing = (int)(invoiced - alive - (isnan(dead) ? 0 : dead));
  if (!isnan(invoiced) && !isnan(alive) && missing > 0)
    g_string_append_printf(words, ngettext("%d short. ", "%d short. ", (unsigned long)missing),
                           missing);
  else if (!isnan(invoiced) && !isnan(alive) && missing < 0)
    g_string_append_printf(
        words,
        ngettext("%d more than invoiced. ", "%d more than invoiced. ", (unsigned long)-missing),
        -missing);
  say_species(desk, words, lz_receive_box_text(box, LZ_BOX_SPECIES), water);
  if (*name && !tank)
    g_string_append_printf(words, _("There is no tank %s. "), name);
  else if (tank && tank->heads)
    g_string_append_printf(words,
                           ngettext("%1$d fish stands in %2$s already. ",
                                    "%1$d fish stand in %2$s already. ",
                                    (unsigned long)tank->heads),
                           tank->heads, name);
  return g_strchomp(g_string_free(words, FALSE));
}

// Where the fish of a box go: into the tank that it names, else into the shipment's system.
static uint32_t
water_of(LzDesk *desk, const LzReceiveBox *box, int64_t system)
{
  g_autofree char *name = lz_receive_tank(desk, lz_receive_box_text(box, LZ_BOX_TANK), system);
  const LzTankInfo *tank = *name ? find_tank(desk, name) : NULL;
  return tank ? tank->system : lz_desk_index(desk, "system", system);
}

static LzCrowd
crowd_into(LzDesk *desk, GPtrArray *boxes, int64_t system, uint32_t water)
{
  LzCrowd crowd = {0};
  for (guint i = 0; i < boxes->len; i++) {
    const LzReceiveBox *box = g_ptr_array_index(boxes, i);
    double alive = lz_receive_box_number(box, LZ_BOX_COUNTED);
    double mass = lz_receive_box_number(box, LZ_BOX_MASS);
    if (!(alive > 0) || water_of(desk, box, system) != water)
      continue;
    crowd.heads += (int)alive;
    if (!(mass > 0))
      continue;
    crowd.weighed += (int)alive;
    crowd.grams += (int)alive * mass;
  }
  return crowd;
}

static gboolean
say_room(LzDesk *desk, GString *words, const LzSystemInfo *info, const LzCrowd *coming)
{
  gboolean over;
  g_autofree char *litres = lz_format_amount(info->volume_l, LZQ_UNIT_L);
  g_autofree char *limits = lz_room_words(desk, info->index, coming, &over);
  g_autofree char *per_litre = lz_format_number(coming->grams / info->volume_l, 2);
  if (words->len)
    g_string_append_c(words, '\n');
  // Translators: system, its volume; heads in it now; heads with the boxes
  g_string_append_printf(words, _("%1$s, %2$s: %3$d fish now, %4$d with these boxes."), info->name,
                         litres, info->heads, info->heads + coming->heads);
  if (*limits)
    g_string_append_printf(words, "\n%s", limits);
  if (!coming->heads)
    return over;
  g_string_append_c(words, '\n');
  // Translators: grams per litre; fish that were weighed; fish in all
  g_string_append_printf(words,
                         _("These boxes add %1$s g per litre (weight known of %2$d of %3$d fish)."),
                         per_litre, coming->weighed, coming->heads);
  return over;
}

char *
lz_receive_room_words(LzDesk *desk, GPtrArray *boxes, int64_t system, gboolean *over)
{
  GString *words = g_string_new(NULL);
  uint32_t own = lz_desk_index(desk, "system", system);
  GListModel *systems = lz_desk_systems(desk);
  *over = FALSE;
  for (int pass = 0; pass < 2; pass++) // the shipment's own water first
    for (guint i = 0; i < g_list_model_get_n_items(systems); i++) {
      g_autoptr(LzSystemRow) row = g_list_model_get_item(systems, i);
      const LzSystemInfo *info = lz_system_row_info(row);
      LzCrowd coming = crowd_into(desk, boxes, system, info->index);
      gboolean is_own = info->index == own;
      if (is_own == (pass == 0) && (is_own || coming.heads))
        *over = say_room(desk, words, info, &coming) || *over;
    }
  return g_string_free(words, FALSE);
}
