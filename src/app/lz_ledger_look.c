// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_ledger_look.h"

#include <glib/gi18n.h>
#include <lz_format.h>
#include <lz_retention.h>

#include "lz_ledger_rows.h"
#include "lz_text_table.h"

#define LINES_MOST 1000   // more cannot be read; the filters bring it down
#define AT_ONCE_US 40000  // while nobody notices
#define SLICE_US   12000  // less than a frame
#define TELL_US    400000 // between two words about how far it is

struct LzLedgerLook {
  LzDesk *desk;
  LzLedgerLooked looked;
  gpointer data;
  char *asked;            // what is wanted, in one line; NULL = nothing yet
  int64_t last;           // the newest entry when the search began
  LzLedgerSearch *search; // one of the two, while it runs
  LzRetention *past;
  guint slices; // source of the main loop, 0 = none
  gint64 told_us;
  gboolean whole; // the rows are what an ended search found
  GListStore *rows;
  char *words;
};

static void
stop(LzLedgerLook *look)
{
  g_clear_handle_id(&look->slices, g_source_remove);
  g_clear_pointer(&look->search, lz_ledger_search_free);
  g_clear_pointer(&look->past, lz_retention_free);
}

LzLedgerLook *
lz_ledger_look_new(LzDesk *desk, LzLedgerLooked looked, gpointer data)
{
  LzLedgerLook *look = g_new0(LzLedgerLook, 1);
  look->desk = g_object_ref(desk);
  look->looked = looked;
  look->data = data;
  look->rows = g_list_store_new(LZ_TYPE_TEXT_ROW);
  look->words = g_strdup("");
  return look;
}

void
lz_ledger_look_free(LzLedgerLook *look)
{
  stop(look);
  g_object_unref(look->rows);
  g_object_unref(look->desk);
  g_free(look->asked);
  g_free(look->words);
  g_free(look);
}

GListModel *
lz_ledger_look_rows(LzLedgerLook *look)
{
  return G_LIST_MODEL(look->rows);
}

char *
lz_ledger_look_words(LzLedgerLook *look)
{
  return g_strdup(look->words);
}

static void
show_lines(LzLedgerLook *look)
{
  const GPtrArray *lines = lz_ledger_search_lines(look->search);
  g_list_store_remove_all(look->rows);
  for (guint i = 0; i < lines->len; i++)
    lz_ledger_append(look->rows, g_ptr_array_index(lines, i));
}

static char *
found_words(const LzLedgerSearch *search)
{
  guint shown = lz_ledger_search_lines(search)->len, fitting = lz_ledger_search_fitting(search);
  g_autofree char *some = lz_format_number(shown, 0), *all = lz_format_number(fitting, 0);
  return shown < fitting ? g_strdup_printf(_("The newest %1$s of %2$s entries."), some, all)
                         : g_strdup_printf(ngettext("%s entry.", "%s entries.", fitting), all);
}

// What an earlier search found stays until this one knows better.
static void
show_so_far(LzLedgerLook *look)
{
  double share =
      look->search ? lz_ledger_search_share(look->search) : lz_retention_share(look->past);
  g_free(look->words);
  // xgettext:no-c-format
  look->words = g_strdup_printf(_("Looking through the ledger: %d %%."), (int)(100 * share));
  if (!look->whole && look->search)
    show_lines(look);
}

static void
show_end(LzLedgerLook *look)
{
  g_autoptr(GError) error = NULL;
  g_free(look->words);
  look->words = NULL;
  look->whole = TRUE;
  if (look->search) {
    show_lines(look);
    look->words = found_words(look->search);
  } else {
    g_list_store_remove_all(look->rows);
    look->words = lz_ledger_append_past(look->rows, look->desk, look->past);
  }
  if (!lz_desk_readable(look->desk, &error)) {
    g_free(look->words);
    look->words = g_strdup(error->message);
  }
  stop(look);
}

// TRUE = there is more.
static gboolean
go(LzLedgerLook *look, gint64 us)
{
  const gint64 until = g_get_monotonic_time() + us;
  return look->search ? lz_ledger_search_go(look->search, until)
                      : lz_retention_go(look->past, until);
}

static gboolean
on_slice(gpointer data)
{
  LzLedgerLook *look = data;
  const gint64 now = g_get_monotonic_time();
  if (!go(look, SLICE_US)) {
    look->slices = 0;
    show_end(look);
    look->looked(look->data); // may ask for something else, which is another source
    return G_SOURCE_REMOVE;
  }
  if (now - look->told_us >= TELL_US) {
    look->told_us = now;
    show_so_far(look);
    look->looked(look->data);
  }
  return G_SOURCE_CONTINUE;
}

static char *
in_one_line(const LzLedgerFilter *f)
{
  return f ? g_strdup_printf(
                 "%s\n%s\n%" G_GINT64_FORMAT "\n%s\n%" G_GINT64_FORMAT "\n%" G_GINT64_FORMAT "\n%c",
                 f->words ? f->words : "", f->kind ? f->kind : "", f->person,
                 f->about ? f->about : "", (gint64)f->from, (gint64)f->until, lz_format_decimal())
           : g_strdup("past keeping");
}

void
lz_ledger_look_for(LzLedgerLook *look, const LzLedgerFilter *filter, GError **error)
{
  g_autofree char *asked = in_one_line(filter);
  gboolean same = g_strcmp0(asked, look->asked) == 0;
  if (same && (look->slices || look->last == lz_desk_last_id(look->desk)))
    return;
  stop(look);
  look->whole = look->whole && same;
  g_free(look->asked);
  look->asked = g_steal_pointer(&asked);
  look->last = lz_desk_last_id(look->desk);
  if (filter)
    look->search = lz_ledger_search_new(look->desk, filter, LINES_MOST, error);
  else
    look->past = lz_retention_new(look->desk);
  if (!look->search && !look->past) {
    g_clear_pointer(&look->asked, g_free);
    g_list_store_remove_all(look->rows);
    return;
  }
  look->told_us = g_get_monotonic_time();
  if (go(look, AT_ONCE_US)) {
    show_so_far(look);
    look->slices = g_idle_add(on_slice, look);
  } else {
    show_end(look);
  }
}
