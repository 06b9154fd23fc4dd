// SPDX-License-Identifier: GPL-3.0-or-later
// See lz_effect.h.
#include <glib/gi18n-lib.h>

#include "lz_command_private.h"
#include "lz_desk_private.h"
#include "lz_effect.h"
#include "lz_place.h"
#include "lz_words.h"

static gboolean
is_act_of_a_lot(lzs_kind kind)
{
  switch (kind) {
  case LZS_COUNT:
  case LZS_DEATH:
  case LZS_FEED:
  case LZS_SIGN:
  case LZS_ACCEPT:
  case LZS_ACCEPT_OPEN:
  case LZS_SPLIT:
  case LZS_MOVE:
  case LZS_MERGE:
  case LZS_STOP:
  case LZS_COURSE:
  case LZS_RELEASE:
  case LZS_BATH: return TRUE;
  default: return FALSE;
  }
}

// The lot came, or was split off, in that very minute, by an act that counts after this one.
static gboolean
came_in_that_minute(LzModel *m, const lzq_ignored *i)
{
  return i->why == LZQ_IGNORED_NOT_HERE && lz_place_of(m, i->lot, i->at).received &&
         !lz_place_of(m, i->lot, i->at - 1).received;
}

static void
note(LzDesk *desk, LzCommand *command, const lzq_ignored *i)
{
  if (came_in_that_minute(desk->model, i))
    lz_command_note(
        command,
        // Translators: kind of entry, lot
        g_strdup_printf(_("kept, and it changes nothing: of one minute, %1$s counts before the act "
                          "that made lot %2$s; correct it to a minute later"),
                        lz_words_kind(command->kind), lz_desk_name(desk, "lot", i->lot)));
  else
    lz_command_note(command, g_strdup_printf(_("kept, and it changes nothing: %s"),
                                             lz_words_ignored((lzq_ignored_why)i->why)));
}

// Fish whose transfers or doses lie too far apart are set back by a merge: told, not prevented.
static void
note_set_back(LzDesk *desk, LzCommand *command, const LzEntry *entry, const lzq_plan *plan)
{
  const LzEntity *into = lz_model_entity(desk->model, lz_entry_int(entry, "into"));
  const lzq_lot_credit *lot = into ? &plan->credit->lots[into->index] : NULL;
  for (uint32_t i = 0; lot && i < lot->n_visits; i++) {
    const lzq_visit *visit = &lot->visits[i];
    if (visit->left != LZQ_LEFT_APART || visit->end != entry->at)
      continue;
    const lzq_because why = lzq_because_left(lz_desk_snapshot(desk), visit);
    g_autofree char *words = lz_words_because(desk, &why);
    lz_command_note(command, g_strdup_printf("%s: %s", into->label, words));
  }
}

void
lz_effect_note(LzDesk *desk, LzCommand *const *commands, gsize n)
{
  const GPtrArray *entries = desk->model->entries;
  const guint begin = entries->len - (guint)n;
  gboolean any = FALSE;
  for (gsize k = 0; k < n; k++)
    any |= is_act_of_a_lot(((const LzEntry *)entries->pdata[begin + k])->kind);
  if (!any)
    return;
  lzq_arena arena;
  lzq_arena_init(&arena, lzq_allocator_libc(), 0);
  const lzq_plan *plan = lz_desk_make_plan(desk, desk->now, &arena, NULL);
  for (size_t i = 0; plan && i < plan->credit->n_ignored; i++) {
    const lzq_ignored *ignored = &plan->credit->ignored[i];
    const int64_t id = (int64_t)(ignored->entry / LZ_RECORDS_PER_ENTRY);
    for (gsize k = 0; k < n; k++) {
      const LzEntry *entry = entries->pdata[begin + k];
      if ((entry->corrects ? entry->corrects : entry->id) == id)
        note(desk, commands[k], ignored);
    }
  }
  for (gsize k = 0; plan && k < n; k++)
    if (((const LzEntry *)entries->pdata[begin + k])->kind == LZS_MERGE)
      note_set_back(desk, commands[k], entries->pdata[begin + k], plan);
  lzq_arena_free(&arena);
}
