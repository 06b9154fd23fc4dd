// SPDX-License-Identifier: GPL-3.0-or-later
// Finds the verb and runs it; opening of files and saying of errors, alike for all verbs.
#include "lzc.h"

#include <glib/gi18n.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include <lz_tables.h>
#include <lz_words.h>

static const struct {
  const char *name;
  lzc_verb run;
  const char *what;
} verbs[] = {
    {"new", lzc_new, N_("make a station file")},
    {"demo", lzc_demo, N_("make the demo station, from today's date")},
    {"protocol", lzc_protocol, N_("list the shipped protocols, or add one")},
    {"import", lzc_import, N_("read a table from CSV")},
    {"export", lzc_export, N_("write a table as CSV")},
    {"record", lzc_record, N_("enter something that happened, or set-up")},
    {"plan", lzc_plan, N_("the plan: dates, credit and tasks")},
    {"water", lzc_water, N_("what each water holds and needs")},
    {"dose", lzc_dose, N_("what to add, with the working")},
    {"reach", lzc_reach, N_("every lot that a batch of medicine reached")},
    {"whatif", lzc_whatif, N_("what acts would change for every lot, before anybody confirms")},
    {"print", lzc_print, N_("print a sheet to PDF")},
    {"retention", lzc_retention, N_("what is past the years for which it must be kept")},
    {"verify", lzc_verify, N_("check every hash and row of the file")},
    {"backup", lzc_backup, N_("copy the file while it is in use")},
    {"restore", lzc_restore, N_("put a back-up in the station's place, in two steps")},
    {"salvage", lzc_salvage, N_("make a new file of what is sound in a damaged one")},
    {"seal", lzc_seal, N_("make a copy that only a passphrase opens")},
    {"unseal", lzc_unseal, N_("open a sealed copy")},
};

static void
print_help(FILE *out)
{
  fprintf(out, "%s\n\n", _("Usage: lazaretctl FILE VERB [options]"));
  for (gsize i = 0; i < G_N_ELEMENTS(verbs); i++)
    fprintf(out, "  %-10s %s\n", verbs[i].name, _(verbs[i].what));
  fprintf(out, "\n%s\n", _("lazaretctl FILE VERB --help tells the options of a verb."));
  fprintf(out, "%s\n",
          _("Exit status: 0 done, 1 refused, 2 wrong call, 3 could not (disk, lock, I/O)."));
}

int
lzc_run(int argc, char **argv)
{
  // Options and messages in the person's language and character set; numbers stay as in C.
  setlocale(LC_ALL, "");
  setlocale(LC_NUMERIC, "C");
  lz_words_init();
  if (argc >= 2 && (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0)) {
    print_help(stdout);
    return LZC_DONE;
  }
  if (argc >= 2 && strcmp(argv[1], "--version") == 0) {
    printf("lazaretctl %s\n", LAZARET_VERSION);
    return LZC_DONE;
  }
  if (argc < 3) {
    print_help(stderr);
    return LZC_USAGE;
  }
  for (gsize i = 0; i < G_N_ELEMENTS(verbs); i++)
    if (strcmp(argv[2], verbs[i].name) == 0)
      return verbs[i].run(argv[1], argc - 2, argv + 2);
  g_autoptr(GString) names = g_string_new(NULL);
  for (gsize i = 0; i < G_N_ELEMENTS(verbs); i++)
    g_string_append_printf(names, "%s%s", i ? ", " : "", verbs[i].name);
  return lzc_wrong(_("There is no verb “%s”. Accepted: %s."), argv[2], names->str);
}

int
lzc_fail(GError *error)
{
  int status = lz_error_exit_status(error);
  fprintf(stderr, "lazaretctl: %s\n", error ? error->message : _("unknown error"));
  g_clear_error(&error);
  return status;
}

int
lzc_wrong(const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_autofree char *message = g_strdup_vprintf(format, args);
  va_end(args);
  fprintf(stderr, "lazaretctl: %s\n", message);
  return LZC_USAGE;
}

gboolean
lzc_options(const char *verb, const char *rest, const char *summary, const GOptionEntry *entries,
            int *argc, char ***argv, int *status)
{
  g_autofree char *usage = g_strdup_printf("%s%s%s", verb, *rest ? " " : "", rest);
  g_autoptr(GOptionContext) context = g_option_context_new(NULL);
  g_autoptr(GError) error = NULL;
  gboolean help = FALSE;
  GOptionEntry own[] = {{"help", 'h', 0, G_OPTION_ARG_NONE, &help, N_("show this help"), NULL},
                        {NULL}};
  g_option_context_set_help_enabled(context, FALSE);
  g_option_context_set_summary(context, summary);
  if (entries)
    g_option_context_add_main_entries(context, entries, LZ_GETTEXT_DOMAIN);
  g_option_context_add_main_entries(context, own, LZ_GETTEXT_DOMAIN);
  g_option_context_set_translation_domain(context, LZ_GETTEXT_DOMAIN);
  g_set_prgname("lazaretctl");
  if (!g_option_context_parse(context, argc, argv, &error)) {
    *status = lzc_wrong("%s", error->message);
    return FALSE;
  }
  if (help) {
    g_autofree char *text = g_option_context_get_help(context, TRUE, NULL);
    const char *body = strchr(text, '\n');
    printf("%s lazaretctl FILE %s%s", _("Usage:"), usage, body ? body : "\n");
    *status = LZC_DONE;
    return FALSE;
  }
  return TRUE;
}

// Whoever acts where --who does not say: the one named in LAZARET_WHO, else the station's only
// person.
static void
choose_actor(LzDesk *desk)
{
  g_autoptr(GArray) people = lz_desk_entities(desk, "person");
  const char *named = g_getenv("LAZARET_WHO");
  if (named)
    lz_desk_set_actor(desk, lz_desk_find(desk, "person", named));
  else if (people->len == 1)
    lz_desk_set_actor(desk, g_array_index(people, int64_t, 0));
}

LzDesk *
lzc_open(const char *path, int *status)
{
  GError *error = NULL;
  LzDeskOptions options = {0};
  LzDesk *desk = lz_desk_open(path, &options, &error);
  if (desk)
    choose_actor(desk);
  else
    *status = lzc_fail(error);
  return desk;
}

LzDesk *
lzc_open_file(const char *path, int *status)
{
  GError *error = NULL;
  const LzDeskOptions options = {.read_only = TRUE, .file_only = TRUE};
  LzDesk *desk = lz_desk_open(path, &options, &error);
  if (!desk)
    *status = lzc_fail(error);
  return desk;
}

LzDesk *
lzc_open_reading(const char *path, const char *at, int *status)
{
  GError *error = NULL;
  LzDeskOptions options = {.read_only = TRUE};
  g_autoptr(LzDesk) desk = lz_desk_open(path, &options, &error);
  lzq_minute minute;
  if (!desk) {
    *status = lzc_fail(error);
    return NULL;
  }
  if (!at)
    return g_steal_pointer(&desk);
  if (!lz_zone_parse(lz_desk_zone(desk), at, lz_desk_now(desk), &minute, &error)) {
    *status = lzc_fail(error);
    return NULL;
  }
  g_clear_object(&desk);
  g_autoptr(LzClock) clock = lz_clock_new_fixed(minute);
  options.clock = clock;
  desk = lz_desk_open(path, &options, &error);
  if (!desk)
    *status = lzc_fail(error);
  return g_steal_pointer(&desk);
}

void
lzc_csv(const char *const *cells, gsize n)
{
  g_autoptr(GString) line = g_string_new(NULL);
  lz_csv_append(line, cells, n, TRUE);
  fwrite(line->str, 1, line->len, stdout);
}

gboolean
lzc_format_is_csv(const char *format, gboolean *csv, int *status)
{
  *csv = format && strcmp(format, "csv") == 0;
  if (*csv || !format || strcmp(format, "text") == 0)
    return TRUE;
  *status = lzc_wrong(_("--format is “%s”. Accepted: text, csv."), format);
  return FALSE;
}
