// SPDX-License-Identifier: GPL-3.0-or-later
// What of a lot's record must be looked at again: sightings that it may have had a part in, with
// the other lots in contact, and what was found short by what is known now.
#include <glib/gi18n-lib.h>
#include <string.h>

#include <lz_contacts.h>

#include "lzr_lot.h"

#define OTHERS_MOST 24

// How the lot itself was in contact, a line for each way; "" if it was in none.
static const char *
own_words(LzrBuild *build, uint32_t lot, const GPtrArray *contacts)
{
  const char *words = "";
  for (guint i = 0; i < contacts->len; i++) {
    const LzContactInfo *info = &((LzContact *)contacts->pdata[i])->info;
    if (info->lot == lot && !strstr(words, info->what))
      words = lzr_printf(build, "%s%s%s", words, *words ? "\n" : "", info->what);
  }
  return words;
}

static const char *
other_lots(LzrBuild *build, uint32_t lot, const GPtrArray *contacts)
{
  g_autoptr(GPtrArray) codes = g_ptr_array_new();
  g_autoptr(GString) text = g_string_new(NULL);
  for (guint i = 0; i < contacts->len; i++) {
    const LzContactInfo *info = &((LzContact *)contacts->pdata[i])->info;
    if (info->lot == lot || g_ptr_array_find_with_equal_func(codes, info->code, g_str_equal, NULL))
      continue;
    g_ptr_array_add(codes, (gpointer)info->code);
    if (codes->len <= OTHERS_MOST)
      g_string_append_printf(text, "%s%s", text->len ? ", " : "", info->code);
  }
  if (codes->len > OTHERS_MOST)
    g_string_append_printf(text, _(" and %u more"), codes->len - OTHERS_MOST);
  return text->len ? lzr_keep(build, g_strdup(text->str)) : _("none");
}

// Several reports of one minute and water are one sighting.
static gboolean
told_before(LzrBuild *build, const GPtrArray *sightings, guint n)
{
  LzEntry *one = sightings->pdata[n];
  for (guint i = 0; i < n; i++)
    if (lz_entry_at(sightings->pdata[i]) == lz_entry_at(one) &&
        lzr_index(build, sightings->pdata[i], "system", "system") ==
            lzr_index(build, one, "system", "system"))
      return TRUE;
  return FALSE;
}

// What was seen and what a scrape found, by time.
static GPtrArray *
sightings_of(LzrBuild *build, lzq_minute from)
{
  GPtrArray *out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_entry_unref);
  g_autoptr(GPtrArray) facts = lz_desk_facts(build->desk, NULL, from, lz_desk_now(build->desk) + 1);
  for (guint i = 0; i < facts->len; i++) {
    const char *kind = lz_entry_kind(facts->pdata[i]);
    if (strcmp(kind, "sighting") == 0 || strcmp(kind, "scrape") == 0)
      g_ptr_array_add(out, lz_entry_ref(facts->pdata[i]));
  }
  return out;
}

void
lzr_lot_contacts(LzrBuild *build, const LzrLot *lot)
{
  lzd_column columns[] = {{_("seen"), 98, LZD_START},
                          {C_("place", "in"), 60, LZD_START},
                          {_("this lot"), 0, LZD_START},
                          {_("other lots in contact"), 170, LZD_START}};
  const lzq_plan *plan = lz_desk_plan(build->desk);
  gboolean any = FALSE;
  lzr_heading(build, NULL, _("Contacts"),
              _("sightings that this lot had been near: by water, nets or reach"));
  g_autoptr(GPtrArray) sightings =
      sightings_of(build, lot->way->len ? g_array_index(lot->way, LzrStay, 0).from : LZQ_NEVER);
  for (guint i = 0; plan && i < sightings->len; i++) {
    LzEntry *sighting = sightings->pdata[i];
    if (told_before(build, sightings, i))
      continue;
    g_autoptr(GPtrArray) contacts =
        lz_contacts_of(build->desk, plan->credit, lz_entry_id(sighting));
    const char *own = own_words(build, lot->lot, contacts);
    if (!*own)
      continue;
    const LzContactInfo *seen = &((LzContact *)contacts->pdata[0])->info;
    lzd_cell cells[] = {{.text = lzr_stamp(build, sighting)},
                        {.text = lz_desk_name(build->desk, "system", seen->seen_in)},
                        {.text = own, .bold = true},
                        {.text = other_lots(build, lot->lot, contacts)}};
    if (!any) {
      lzr_begin(build);
      lzd_sheet_table(build->page, columns, G_N_ELEMENTS(columns), true);
    }
    any = TRUE;
    lzd_sheet_row(build->page, cells, G_N_ELEMENTS(cells));
  }
  if (any)
    lzd_sheet_end_table(build->page);
  lzr_none(build, _("None."));
}

void
lzr_lot_shorts(LzrBuild *build, const LzrLot *lot)
{
  GListModel *rows = lz_desk_matters(build->desk);
  for (guint i = 0; i < g_list_model_get_n_items(rows); i++) {
    g_autoptr(LzMatterRow) row = g_list_model_get_item(rows, i);
    const LzMatterInfo *info = lz_matter_row_info(row);
    if (info->lot == lot->lot)
      lzr_line(build, LZD_TASK_CONFLICT, _("Found later, to be looked at:"),
               lzr_printf(build, "%s.", info->what));
  }
}
