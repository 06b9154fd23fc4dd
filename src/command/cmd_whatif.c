// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE whatif: what acts would change for every lot, before anybody confirms; and every
// way on for the fish of one water, each with its dates. Writes nothing.
#include "lzc.h"
#include "lzc_machine.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include <lz_fields.h>
#include <lz_foresee.h>
#include <lz_format.h>

static const char *const columns[] = {"way",   "lot",       "before", "after",  "days_later",
                                      "heads", "fish_days", "added",  "because"};

typedef struct {
  LzDesk *desk;
  gboolean csv;
} Out;

static char *
when(const Out *out, lzq_minute at)
{
  if (at == LZQ_NEVER)
    return g_strdup(out->csv ? "" : _("not known"));
  return out->csv ? lz_format_iso(at) : lz_format_full(lz_desk_zone(out->desk), at);
}

static void
head(const Out *out)
{
  if (out->csv)
    lzc_csv(columns, G_N_ELEMENTS(columns));
}

static void
put_shift(const Out *out, const char *way, const LzShift *shift)
{
  g_autofree char *before = when(out, shift->before), *after = when(out, shift->after);
  g_autofree char *days = lzc_number((double)shift->later_min / LZQ_DAY);
  g_autofree char *fish = lzc_number(shift->fish_days);
  g_autofree char *heads = g_strdup_printf("%d", shift->heads);
  if (out->csv) {
    const char *cells[] = {way,           shift->lot, before, after,
                           days,          heads,      fish,   shift->added ? "yes" : "no",
                           shift->because};
    G_STATIC_ASSERT(G_N_ELEMENTS(cells) == G_N_ELEMENTS(columns));
    lzc_csv(cells, G_N_ELEMENTS(cells));
  } else if (shift->added) {
    printf(_("  lot %1$s (new): %2$s; %3$s\n"), shift->lot, after, shift->because);
  } else {
    // Translators: lot; release before and after; days, fish, fish-days; reason
    printf(_("  lot %1$s: %2$s -> %3$s, %4$s days x %5$s fish = %6$s fish-days; %7$s\n"),
           shift->lot, before, after, days, heads, fish, shift->because);
  }
}

static void
put(const Out *out, const char *way, const LzForesight *f)
{
  if (!out->csv && *way)
    printf("%s\n", way);
  for (guint i = 0; i < f->lots->len; i++)
    put_shift(out, way, f->lots->pdata[i]);
  if (out->csv)
    return;
  if (f->lots->len == 0)
    printf(_("  no date moves\n"));
  for (guint i = 0; i < f->conflicts->len; i++)
    printf(_("  %s: no level serves all lots there any more\n"),
           (const char *)f->conflicts->pdata[i]);
  for (guint i = 0; i < f->rooms->len; i++)
    printf(_("  %s holds no fish and would delay nobody\n"), (const char *)f->rooms->pdata[i]);
}

typedef struct {
  char *happened, *who, *at, *format, *ways;
} Options;

static void
free_options(Options *o)
{
  g_free(o->happened);
  g_free(o->who);
  g_free(o->at);
  g_free(o->format);
  g_free(o->ways);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Options, free_options)

static LzCommand *
begin(LzDesk *desk, const Options *o, const char *kind)
{
  LzCommand *command = lz_command_new(kind);
  lz_command_set_at_text(command, o->happened);
  g_autoptr(GArray) people = lz_desk_entities(desk, "person");
  g_autofree char *anybody =
      people->len // nobody acts: who would is not asked
          ? g_strdup_printf("#%" G_GINT64_FORMAT, g_array_index(people, int64_t, 0))
          : NULL;
  lz_command_set_actor(command, o->who ? o->who : anybody);
  lz_command_set_reason(command, _("what if"));
  lz_command_set_ahead(command, lz_desk_may_look_ahead(desk));
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
ways(const Out *out, const Options *o)
{
  int64_t id = lz_desk_find(out->desk, "system", o->ways);
  if (!id)
    return lzc_wrong(_("The station has no system “%s”."), o->ways);
  g_autoptr(GArray) all = lz_desk_entities(out->desk, "protocol");
  head(out);
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
      put(out, name, f);
    else if (out->csv)
      lzc_csv((const char *const[]){name, "", "", "", "", "", "", "", error->message},
              G_N_ELEMENTS(columns));
    else
      printf("%s\n  %s\n", name, error->message);
  }
  if (!out->csv)
    printf("%s\n", _("Nothing starts by itself; a veterinarian decides."));
  return LZC_DONE;
}

static int
acts(const Out *out, const Options *o, char **words)
{
  GError *error = NULL;
  g_autoptr(GPtrArray) commands = read_acts(out->desk, o, words);
  if (!commands)
    return LZC_USAGE;
  g_autoptr(LzForesight) f =
      lz_desk_foresee(out->desk, (LzCommand *const *)commands->pdata, commands->len, &error);
  if (!f)
    return lzc_fail(error);
  head(out);
  put(out, "", f);
  return LZC_DONE;
}

int
lzc_whatif(const char *path, int argc, char **argv)
{
  g_auto(Options) o = {0};
  int status = LZC_DONE;
  GOptionEntry entries[] = {
      {"happened", 0, 0, G_OPTION_ARG_STRING, &o.happened,
       N_("local time it would happen (default: now)"), N_("TIME")},
      {"at", 0, 0, G_OPTION_ARG_STRING, &o.at, N_("the same for --ways: as of this local time"),
       N_("TIME")},
      {"who", 0, 0, G_OPTION_ARG_STRING, &o.who, N_("who would do it"), N_("XY")},
      {"ways", 0, 0, G_OPTION_ARG_STRING, &o.ways,
       N_("every protocol of the station for the fish of this water, with dates"), N_("SYSTEM")},
      {"format", 0, 0, G_OPTION_ARG_STRING, &o.format, N_("text or csv"), N_("FORMAT")},
      {NULL}};
  Out out = {0};
  if (!lzc_options("whatif", "KIND FIELD=VALUE ... [+ KIND FIELD=VALUE ...]",
                   _("Tells what acts would change for every lot; writes nothing."), entries, &argc,
                   &argv, &status) ||
      !lzc_format_is_csv(o.format, &out.csv, &status))
    return status;
  if ((argc < 2) == !o.ways)
    return lzc_wrong(_("whatif wants a KIND and its fields, or --ways SYSTEM."));
  if (!o.happened)
    o.happened = g_strdup(o.at);
  g_autoptr(LzDesk) desk = lzc_open_reading(path, o.happened, &status);
  if (!desk)
    return status;
  out.desk = desk;
  return o.ways ? ways(&out, &o) : acts(&out, &o, argv + 1);
}
