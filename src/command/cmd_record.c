// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE record KIND FIELD=VALUE ...: one act, through the same checks as the window's.
#include "lzc.h"
#include "lzc_act.h"
#include "lzc_foresight.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include <lz_fields.h>

static int
print_kinds(void)
{
  guint n;
  const LzKind *kinds = lz_kinds(&n);
  for (guint i = 0; i < n; i++) {
    printf("%s", kinds[i].name);
    for (guint f = 0; f < kinds[i].n_fields; f++)
      printf(kinds[i].fields[f].needed ? " %s=" : " [%s=]", kinds[i].fields[f].name);
    printf("\n");
  }
  return LZC_DONE;
}

static int
print_kind(const LzKind *kind)
{
  for (guint f = 0; f < kind->n_fields; f++)
    printf("%-20s %s %s\n", kind->fields[f].name, kind->fields[f].needed ? "*" : " ",
           kind->fields[f].help);
  return LZC_DONE;
}

static int
set_fields(LzCommand *command, const LzKind *kind, char **fields)
{
  for (char **field = fields; *field; field++) {
    char *equals = strchr(*field, '=');
    if (!equals)
      return lzc_wrong(_("“%s” is not understood. Accepted: FIELD=VALUE."), *field);
    g_autofree char *name = g_strndup(*field, equals - *field);
    if (!lz_kind_field(kind, name)) {
      g_autoptr(GString) names = g_string_new(NULL);
      for (guint f = 0; f < kind->n_fields; f++)
        g_string_append_printf(names, "%s%s", f ? ", " : "", kind->fields[f].name);
      return lzc_wrong(_("%s has no field “%s”. Accepted: %s."), kind->name, name, names->str);
    }
    lz_command_set(command, name, equals + 1);
  }
  return LZC_DONE;
}

typedef struct {
  LzcActOptions act;
  gboolean dry_run, kinds;
} RecordOptions;

static void
free_options(RecordOptions *o)
{
  lzc_act_clear(&o->act);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(RecordOptions, free_options)

static LzCommand *
command_of(LzDesk *desk, const LzKind *kind, char **fields, const RecordOptions *o, int *status)
{
  g_autoptr(LzCommand) command = lz_command_new(kind->name);
  lzc_act_apply(desk, &o->act, command);
  *status = set_fields(command, kind, fields);
  return *status == LZC_DONE ? g_steal_pointer(&command) : NULL;
}

static void
print_notes(LzCommand *command)
{
  for (const char *const *note = lz_command_notes(command); note && *note; note++)
    fprintf(stderr, "lazaretctl: %s\n", *note);
}

// Checks, and says what would be different: the dates that move, a sighting's contacts.
static int
dry_run(LzDesk *desk, const LzKind *kind, LzCommand *command, LzCommand *again)
{
  GError *error = NULL;
  LzCommand *one[] = {command}, *two[] = {again};
  if (!lz_desk_check(desk, one, 1, &error))
    return lzc_fail(error);
  print_notes(command);
  printf("%s\n", _("Accepted, nothing written."));
  g_autoptr(LzForesight) f = lz_desk_foresee(desk, two, 1, NULL);
  if (f)
    g_ptr_array_set_size(f->notes, 0); // they have been said
  if (f && (!kind->setup || f->lots->len || f->conflicts->len))
    lzc_foresight_put(&(LzcForesight){.desk = desk}, "", f);
  return LZC_DONE;
}

static int
record(const char *path, const LzKind *kind, char **fields, const RecordOptions *o)
{
  int status = LZC_DONE;
  GError *error = NULL;
  g_autoptr(LzDesk) desk = lzc_open(path, &status);
  if (!desk)
    return status;
  g_autoptr(LzCommand) command = command_of(desk, kind, fields, o, &status);
  if (!command)
    return status;
  if (o->dry_run) {
    g_autoptr(LzCommand) again = command_of(desk, kind, fields, o, &status);
    return dry_run(desk, kind, command, again);
  }
  if (!lz_desk_submit_one(desk, command, &error))
    return lzc_fail(error);
  print_notes(command);
  printf("#%" G_GINT64_FORMAT "\n", lz_command_id(command));
  return LZC_DONE;
}

int
lzc_record(const char *path, int argc, char **argv)
{
  g_auto(RecordOptions) o = {0};
  int status = LZC_DONE;
  GOptionEntry entries[] = {
      {"dry-run", 0, 0, G_OPTION_ARG_NONE, &o.dry_run, N_("check only, write nothing"), NULL},
      {"kinds", 0, 0, G_OPTION_ARG_NONE, &o.kinds, N_("print all kinds and their fields"), NULL},
      {NULL}};
  if (!lzc_act_options("record", "KIND FIELD=VALUE ...",
                       _("Enters something that happened, or set-up."), entries, &o.act, &argc,
                       &argv, &status))
    return status;
  if (o.kinds)
    return argc > 1 && lz_kind_find(argv[1]) ? print_kind(lz_kind_find(argv[1])) : print_kinds();
  if (argc < 2)
    return lzc_wrong(_("record wants a KIND and its fields; record --kinds lists them."));
  const LzKind *kind = lz_kind_find(argv[1]);
  if (!kind)
    return lzc_wrong(_("There is no kind “%s”; record --kinds lists them."), argv[1]);
  return record(path, kind, argv + 2, &o);
}
