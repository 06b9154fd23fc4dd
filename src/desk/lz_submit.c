// SPDX-License-Identifier: GPL-3.0-or-later
// The one way in: commands are checked against the model with those before them already applied,
// written in one transaction, and only then shown. Whatever fails leaves file and model as they
// were.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "lz_check.h"
#include "lz_effect.h"
#include "lz_error.h"
#include "lz_format.h"
#include "lz_photo_private.h"

// Applies a person's name beside the entry, so that later commands of the same submission find it.
static void
name_person(LzDesk *desk, const LzCommand *command, const LzEntry *entry)
{
  const char *name = lz_command_get(command, "name"),
             *initials = lz_command_get(command, "initials"),
             *contact = lz_command_get(command, "contact");
  int64_t id = entry->entity ? entry->entity : (entry->corrects ? entry->corrects : entry->id);
  if (entry->kind == LZS_PERSON && lz_command_get(command, "erase")) {
    lz_model_name_person(desk->model, id, NULL, NULL, NULL);
    return;
  }
  const LzPerson *before = lz_model_person(desk->model, id);
  if (entry->kind != LZS_PERSON || (!name && !initials && !contact))
    return;
  g_autofree char *old_name = g_strdup(before ? before->name : NULL);
  g_autofree char *old_initials = g_strdup(before ? before->initials : NULL);
  g_autofree char *old_contact = g_strdup(before ? before->contact : NULL);
  lz_model_name_person(desk->model, id, name ? name : old_name, initials ? initials : old_initials,
                       contact ? contact : old_contact);
}

// A file written under a handed-in clock, or with a time ahead of the clock, is a practice file for
// good.
static LzCommand *
practice_command(LzDesk *desk, LzCommand *const *commands, gsize n)
{
  gboolean ahead = FALSE;
  lzq_minute now = lz_clock_now(desk->clock);
  if (desk->model->practice)
    return NULL;
  for (gsize i = 0; i < n; i++) {
    if (g_str_equal(commands[i]->kind, "practice")) // says so in its own words
      return NULL;
    lzq_minute at = now;
    if (commands[i]->has_at)
      at = commands[i]->at;
    else if (commands[i]->at_text)
      lz_zone_parse(desk->model->zone, commands[i]->at_text, now, &at, NULL);
    ahead |= commands[i]->ahead && at > now + 5;
  }
  if (lz_clock_is_real(desk->clock) && !ahead)
    return NULL;
  return lz_command_build("practice", "words",
                          ahead ? "an entry was made ahead of the clock"
                                : "written under a clock that was handed in",
                          NULL);
}

// Where a refusal stands among several commands.
static void
name_place(const LzCommand *command, gsize i, gsize n, GError **why)
{
  g_autofree char *line = command->line ? g_strdup_printf(_("line %u"), command->line) : NULL;
  if (line)
    g_prefix_error(why, "%s: ", line);
  else if (command->place)
    g_prefix_error(why, "%s: ", command->place);
  else if (n > 1)
    g_prefix_error(why, "%s %d: ", command->kind, (int)i + 1);
}

// Entries for all commands, applied to the model with the ids that they will have; -1 on refusal.
// Rows of a table stand beside each other: every one that is wrong is said, to be mended in one go.
static int
apply_all(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error)
{
  int applied = 0;
  guint refused = 0;
  for (gsize i = 0; i < n; i++) {
    GError *why = NULL;
    if (!lz_desk_tell(desk, (guint)i, (guint)n, &why)) {
      g_clear_error(error);
      g_propagate_error(error, why);
      refused = 1;
      break;
    }
    LzEntry *entry = lz_check_command(desk, commands[i], lz_model_last_id(desk->model) + 1, &why);
    if (entry) {
      lz_model_apply(desk->model, entry);
      name_person(desk, commands[i], entry);
      applied++;
      continue;
    }
    name_place(commands[i], i, n, &why);
    lz_error_join(error, why, &refused);
    if (!commands[i]->as_written)
      break;
  }
  if (!refused)
    return applied;
  lz_error_join_end(error, refused);
  lz_model_drop(desk->model, (guint)applied);
  return -1;
}

// A protocol that comes in whole, with its phases, is judged as a whole.
static gboolean
check_protocols(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error)
{
  guint begin = desk->model->entries->len - (guint)n;
  for (gsize i = 0; i < n; i++) {
    const LzEntry *entry = desk->model->entries->pdata[begin + i];
    uint32_t index = entry->kind == LZS_PROTOCOL && !entry->corrects && !entry->entity
                         ? lz_model_index(desk->model, LZS_PROTOCOL, entry->id)
                         : LZQ_NONE;
    if (index == LZQ_NONE || lz_model_view(desk->model)->protocols[index].n_phases == 0)
      continue; // phases may follow; a course asks again
    if (!lz_check_protocol(desk, index, 0, commands[i], error)) {
      lz_model_drop(desk->model, (guint)n);
      return FALSE;
    }
  }
  return TRUE;
}

// Ids of the same submission as the store wants them: -1, -2 ... for the first, second ...
static int64_t
local_ref(int64_t id, int64_t first)
{
  return id >= first ? -(id - first + 1) : id;
}

static void
localise(lzs_entry *e, int64_t first)
{
  const lzs_kind_spec *spec = lzs_kind_get(e->kind);
  e->who = local_ref(e->who, first);
  e->witness = local_ref(e->witness, first);
  e->entity = local_ref(e->entity, first);
  e->corrects = local_ref(e->corrects, first);
  for (gsize f = 0; f < spec->n_fields; f++)
    if (spec->fields[f].type == LZS_T_REF && !e->v[f].null)
      e->v[f].i = local_ref(e->v[f].i, first);
  e->id = 0;
}

// Names and PINs go beside the chain once their entries are in it.
static gboolean
write_names(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error)
{
  for (gsize i = 0; i < n; i++) {
    const LzEntry *entry = lz_model_entry(desk->model, commands[i]->id);
    const char *pin = lz_command_get(commands[i], "pin");
    if (!entry || entry->kind != LZS_PERSON)
      continue;
    name_person(desk, commands[i], entry);
    int64_t id = entry->entity ? entry->entity : (entry->corrects ? entry->corrects : entry->id);
    const LzPerson *person = lz_model_person(desk->model, id);
    gboolean known = person && (*person->name || *person->initials || *person->contact);
    gboolean erase = lz_command_get(commands[i], "erase") != NULL;
    if (person && !lz_desk_set_person(desk, id, erase || !known ? NULL : person->name,
                                      person->initials, person->contact, error))
      return FALSE;
    if (erase && !lz_desk_set_pin(desk, id, NULL, error))
      return FALSE;
    if (pin && !lz_desk_set_pin(desk, id, pin, error))
      return FALSE;
  }
  return TRUE;
}

// The last entries of the model on their way into the file.
typedef struct {
  LzModel *m;
  guint begin;
  int64_t first; // the id that they expect
  int64_t *ids;  // that they got
} Written;

static void
give(void *ctx, size_t i, lzs_entry *entry)
{
  const Written *w = ctx;
  lz_entry_to_store(w->m->entries->pdata[w->begin + i], entry);
  localise(entry, w->first);
}

// Not where somebody wrote between: then they are taken off as they were.
static void
took(void *ctx, size_t i, const lzs_entry *entry)
{
  const Written *w = ctx;
  w->ids[i] = entry->id;
  if (entry->id == w->first + (int64_t)i)
    lz_entry_stamp(w->m->entries->pdata[w->begin + i], entry);
}

// Writes the last n entries of the model and gives back their ids; FALSE takes them off again.
static gboolean
append(LzDesk *desk, guint n, int64_t *ids, GError **error)
{
  LzModel *m = desk->model;
  lzs_error failure = {0};
  const guint begin = m->entries->len - n;
  Written w = {m, begin, ((LzEntry *)m->entries->pdata[begin])->id, ids};
  if (lzs_append_each(desk->store, n, give, took, &w, &failure) != LZS_OK) {
    lz_model_drop(m, n);
    lz_desk_store_error(desk, &failure, error);
    return FALSE;
  }
  if (ids[0] == w.first) {
    lz_model_stamped(m, n);
    return TRUE;
  }
  lz_model_drop(m, n); // somebody wrote between: read it all as it stands in the file
  return lz_desk_pull(desk, error) >= 0;
}

// A clock that was set back: the ledger's times never run backwards, so the entry carries the time
// of the one before it, and whoever typed it is told.
static void
tell_clock(LzDesk *desk, LzCommand *command)
{
  int64_t lag_min = lzs_clock_lag_ms(desk->store) / 60000;
  if (lag_min < 1 || !lz_clock_is_real(desk->clock))
    return;
  g_autofree char *lag = lz_format_duration(lag_min);
  lz_command_note(command,
                  g_strdup_printf(_("this PC's clock stands %s behind the last entry: set it. The "
                                    "entry was kept with the later time of writing"),
                                  lag));
}

int
lz_desk_try(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error)
{
  if (!lz_desk_take_in(desk, error)) // shown even if the commands are then refused
    return -1;
  int applied = apply_all(desk, commands, n, error);
  return applied < 0 || check_protocols(desk, commands, n, error) ? applied : -1;
}

static gboolean
keep_photos(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error)
{
  for (gsize i = 0; i < n; i++)
    if (!lz_photo_keep(desk, commands[i], error))
      return FALSE;
  return TRUE;
}

static gboolean
check_and_write(LzDesk *desk, LzCommand *const *commands, gsize n, gboolean write, GError **error)
{
  if (write && lz_desk_is_read_only(desk))
    return lz_refuse(error, LZ_DESK_ERROR_READ_ONLY, _("%s is open for reading only"), desk->path);
  g_autoptr(LzCommand) practice = write ? practice_command(desk, commands, n) : NULL;
  g_autoptr(GPtrArray) all = g_ptr_array_new();
  if (practice)
    g_ptr_array_add(all, practice);
  for (gsize i = 0; i < n; i++)
    g_ptr_array_add(all, commands[i]);
  lz_desk_part(desk, LZ_PART_READ, write ? LZ_PART_CHECKED : 1);
  int applied = lz_desk_try(desk, (LzCommand **)all->pdata, all->len, error);
  if (applied < 0)
    return FALSE;
  if (!lz_desk_readable(desk, error)) {
    lz_model_drop(desk->model, (guint)applied);
    return FALSE;
  }
  lz_effect_note(desk, commands, n);
  if (!write) {
    lz_model_drop(desk->model, (guint)applied);
    return TRUE;
  }
  g_autoptr(GArray) ids = g_array_new(FALSE, TRUE, sizeof(int64_t));
  g_array_set_size(ids, (guint)applied);
  if (!keep_photos(desk, commands, n, error)) {
    lz_model_drop(desk->model, (guint)applied);
    return FALSE;
  }
  lz_desk_part(desk, LZ_PART_CHECKED, 1);
  if (!append(desk, (guint)applied, (int64_t *)(void *)ids->data, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    commands[i]->id = g_array_index(ids, int64_t, i + all->len - n);
  tell_clock(desk, commands[0]);
  if (practice && lz_clock_is_real(desk->clock))
    lz_command_note(commands[0],
                    g_strdup(_("this lies ahead of the clock: the file is for practice "
                               "from now on, for good")));
  gboolean named = write_names(desk, commands, n, error);
  int others = lz_desk_pull(desk, NULL); // whoever wrote in the meantime
  if (others > 0)
    lz_desk_foreign(desk, (guint)others);
  lz_desk_refresh(desk);
  return named;
}

static gboolean
run(LzDesk *desk, LzCommand *const *commands, gsize n, gboolean write, GError **error)
{
  gboolean done = n == 0 || check_and_write(desk, commands, n, write, error);
  lz_desk_part(desk, 0, 1);
  return done;
}

gboolean
lz_desk_submit(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error)
{
  return run(desk, commands, n, TRUE, error);
}

gboolean
lz_desk_submit_one(LzDesk *desk, LzCommand *command, GError **error)
{
  return run(desk, &command, 1, TRUE, error);
}

gboolean
lz_desk_check(LzDesk *desk, LzCommand *const *commands, gsize n, GError **error)
{
  return run(desk, commands, n, FALSE, error);
}
