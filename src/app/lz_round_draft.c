// SPDX-License-Identifier: GPL-3.0-or-later
// Half-typed numbers: kept by the desk outside the ledger, shown with their age, and not trusted
// for a dose once the water may have changed underneath.
#include <glib/gi18n.h>
#include <lz_desk.h>
#include <lz_format.h>
#include <string.h>

#include "lz_round_line_private.h"

#define SAVE_AFTER_MS   600
#define STALE_AFTER_MIN 10 // then the water is read again before a dose is given

static char *
key_of(LzRoundLine *self)
{
  return g_strdup_printf("round %s", lz_row_key(LZ_ROW(self->row)));
}

// A bath's other fields stand before its amount.
static char *
text_of(LzRoundLine *self)
{
  g_autofree char *bath = lz_round_bath_text(self->bath);
  const char *typed = lz_number_entry_text(self->entry);
  return *bath ? g_strconcat(bath, typed, NULL) : g_strdup(typed);
}

static void
show_text(LzRoundLine *self, const char *text)
{
  const char *amount = strrchr(text, ';');
  lz_round_bath_set_text(self->bath, amount ? text : "");
  lz_number_entry_set_text(self->entry, amount ? amount + 1 : text);
}

static void
show_age(LzRoundLine *self, int64_t at_ms)
{
  int64_t minutes = (lz_clock_now_ms(lz_desk_clock(self->desk)) - at_ms) / 60000;
  g_autofree char *clock = lz_format_clock(lz_desk_zone(self->desk), at_ms / 60000);
  g_autofree char *ago = lz_format_duration(MAX(0, minutes));
  g_autofree char *text = NULL;
  if (minutes >= STALE_AFTER_MIN && g_strcmp0(self->form->kind, "dose") == 0)
    text = g_strdup_printf(_("Typed at %s, %s ago: read the water again before it is given."),
                           clock, ago);
  else
    text = g_strdup_printf(_("Typed at %s, not recorded yet."), clock);
  gtk_label_set_label(self->age, text);
}

void
lz_round_draft_load(LzRoundLine *self)
{
  int64_t at_ms = 0;
  g_autofree char *key = key_of(self);
  g_autofree char *typed = lz_desk_draft(self->desk, key, &at_ms);
  gtk_label_set_label(self->age, "");
  show_text(self, typed ? typed : "");
  if (typed && *typed)
    show_age(self, at_ms);
}

void
lz_round_draft_save(LzRoundLine *self)
{
  g_clear_handle_id(&self->draft_timer, g_source_remove);
  if (!self->row || lz_desk_is_read_only(self->desk))
    return;
  g_autofree char *key = key_of(self);
  g_autofree char *typed = text_of(self);
  g_autoptr(GError) error = NULL;
  if (!lz_desk_set_draft(self->desk, key, *typed ? typed : NULL, &error))
    g_debug("draft: %s", error->message); // the field itself still holds what was typed
}

static gboolean
on_timer(gpointer data)
{
  LzRoundLine *self = data;
  self->draft_timer = 0;
  lz_round_draft_save(self);
  return G_SOURCE_REMOVE;
}

void
lz_round_draft_save_soon(LzRoundLine *self)
{
  g_clear_handle_id(&self->draft_timer, g_source_remove);
  self->draft_timer = g_timeout_add(SAVE_AFTER_MS, on_timer, self);
}

void
lz_round_draft_drop(LzRoundLine *self)
{
  g_clear_handle_id(&self->draft_timer, g_source_remove);
  if (!self->row)
    return;
  g_autofree char *key = key_of(self);
  lz_desk_set_draft(self->desk, key, NULL, NULL);
  gtk_label_set_label(self->age, "");
}
