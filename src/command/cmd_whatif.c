// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE whatif: what acts would change for every lot, before anybody confirms; and every
// way on for the fish of one water, each with its dates. Writes nothing.
#include "lzc.h"
#include "lzc_act.h"
#include "lzc_foresight.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include <lz_fields.h>

typedef struct {
  LzcActOptions act;
  char *at, *format, *ways;
} Options;

static void
free_options(Options *o)
{
  lzc_act_clear(&o->act);
  g_free(o->at);
  g_free(o->format);
  g_free(o->ways);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Options, free_options)

static LzCommand *
begin(LzDesk *desk, const Options *o, const char *kind)
{
  LzCommand *command = lz_command_new(kind);
  lzc_act_apply(desk, &o->act, command);
  if (!o->act.reason) // dates are asked for: why it would be done is not
    lz_command_set_reason(command, _("what if"));
  g_autoptr(GArray) people = lz_desk_entities(desk, "person");
  if (!o->act.who && people->len) { // nobody acts: who would is not asked
    g_autofree char *anybody =
        g_strdup_printf("#%" G_GINT64_FORMAT, g_array_index(people, int64_t, 0));
    lz_command_set_actor(command, anybody);
  }
  return command;
}

// "KIND FIELD=VALUE ... + KIND FIELD=VALUE ..." into commands; NULL: said why.
static GPtrArray *
read_acts(LzDesk *desk, const Options *o, char **words)
{
  g_autoptr(GPtrArray) acts = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  LzCommand *command = NULL;
  for (char **word = words; *word; word++) {
    const char *equals = strchr(*word, '=');
    if (strcmp(*word, "+") == 0) {
      command = NULL;
    } else if (!command) {
      const LzKind *kind = lz_kind_find(*word);
      if (!kind) {
        lzc_wrong(_("There is no kind “%s”; record --kinds lists them."), *word);
        return NULL;
      }
      g_ptr_array_add(acts, command = begin(desk, o, kind->name));
    } else if (!equals) {
      lzc_wrong(_("“%s” is not understood. Accepted: FIELD=VALUE."), *word);
      return NULL;
    } else {
      g_autofree char *name = g_strndup(*word, (gsize)(equals - *word));
      lz_command_set(command, name, equals + 1);
    }
  }
  return g_steal_pointer(&acts);
}

// A course under that protocol for every lot that lives in that water.
static GPtrArray *
courses(LzDesk *desk, const Options *o, uint32_t system, const char *protocol)
{
  const lzq_plan *plan = lz_desk_plan(desk);
  GPtrArray *acts = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  for (uint32_t i = 0; plan && i < plan->credit->n_lots; i++) {
    const lzq_lot_credit *lot = &plan->credit->lots[i];
    if (lot->system != system || lot->released || lot->merged || lot->dead)
      continue;
    LzCommand *command = begin(desk, o, "course");
    lz_command_set(command, "lot", lz_desk_name(desk, "lot", i));
    lz_command_set(command, "protocol", protocol);
    g_ptr_array_add(acts, command);
  }
  return acts;
}

static int
ways(const LzcForesight *out, const Options *o)
{
  int64_t id = lz_desk_find(out->desk, "system", o->ways);
  if (!id)
    return lzc_wrong(_("The station has no system “%s”."), o->ways);
  g_autoptr(GArray) all = lz_desk_entities(out->desk, "protocol");
  lzc_foresight_head(out);
  for (guint i = 0; i < all->len; i++) {
    int64_t protocol = g_array_index(all, int64_t, i);
    g_autofree char *name = g_strdup(lz_desk_name_of(out->desk, "protocol", protocol));
    g_autofree char *bare = g_strndup(name, (gsize)(strrchr(name, '/') - name));
    if (lz_desk_find(out->desk, "protocol", bare) != protocol)
      continue; // an older version
    g_autoptr(GPtrArray) acts = courses(out->desk, o, lz_desk_index(out->desk, "system", id), name);
    g_autoptr(GError) error = NULL;
    g_autoptr(LzForesight) f =
        lz_desk_foresee(out->desk, (LzCommand *const *)acts->pdata, acts->len, &error);
    if (f)
      lzc_foresight_put(out, name, f);
    else
      lzc_foresight_refused(out, name, error->message);
  }
  if (!out->csv)
    printf("%s\n", _("Nothing starts by itself; a veterinarian decides."));
  return LZC_DONE;
}

static int
acts(const LzcForesight *out, const Options *o, char **words)
{
  GError *error = NULL;
  g_autoptr(GPtrArray) commands = read_acts(out->desk, o, words);
  if (!commands)
    return LZC_USAGE;
  g_autoptr(LzForesight) f =
      lz_desk_foresee(out->desk, (LzCommand *const *)commands->pdata, commands->len, &error);
  if (!f)
    return lzc_fail(error);
  lzc_foresight_head(out);
  lzc_foresight_put(out, "", f);
  return LZC_DONE;
}

int
lzc_whatif(const char *path, int argc, char **argv)
{
  g_auto(Options) o = {0};
  int status = LZC_DONE;
  GOptionEntry entries[] = {
      {"at", 0, 0, G_OPTION_ARG_STRING, &o.at, N_("the same for --ways: as of this local time"),
       N_("TIME")},
      {"ways", 0, 0, G_OPTION_ARG_STRING, &o.ways,
       N_("every protocol of the station for the fish of this water, with dates"), N_("SYSTEM")},
      {"format", 0, 0, G_OPTION_ARG_STRING, &o.format, N_("text or csv"), N_("FORMAT")},
      {NULL}};
  LzcForesight out = {0};
  if (!lzc_act_options("whatif", "KIND FIELD=VALUE ... [+ KIND FIELD=VALUE ...]",
                       _("Tells what acts would change for every lot; writes nothing."), entries,
                       &o.act, &argc, &argv, &status) ||
      !lzc_format_is_csv(o.format, &out.csv, &status))
    return status;
  if ((argc < 2) == !o.ways)
    return lzc_wrong(_("whatif wants a KIND and its fields, or --ways SYSTEM."));
  if (!o.act.happened)
    o.act.happened = g_strdup(o.at);
  g_autoptr(LzDesk) desk = lzc_open_reading(path, o.act.happened, &status);
  if (!desk)
    return status;
  out.desk = desk;
  return o.ways ? ways(&out, &o) : acts(&out, &o, argv + 1);
}
