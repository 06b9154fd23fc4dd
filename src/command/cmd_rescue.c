// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE salvage, restore, seal and unseal: files that are damaged, put back or sent.
#include "lzc.h"

#include <glib/gi18n.h>
#include <inttypes.h>
#include <stdio.h>
#include <string.h>
#include <termios.h>
#include <unistd.h>

#include <lz_format.h>
#include <lz_rescue.h>

static char *
pc_folder(void)
{
  char *folder = g_build_filename(g_get_user_data_dir(), "lazaret", NULL);
  g_mkdir_with_parents(folder, 0700);
  return folder;
}

static void
print_fate(gpointer data, int64_t id, const char *fate, const char *what)
{
  g_autofree char *number = g_strdup_printf("#%" PRId64, id);
  const char *cells[] = {number, fate, what};
  lzc_csv(cells, G_N_ELEMENTS(cells));
}

int
lzc_salvage(const char *path, int argc, char **argv)
{
  int status = LZC_DONE;
  GError *error = NULL;
  LzSalvage result;
  if (!lzc_options(
          "salvage", "NEW",
          _("Makes a new file of all that is sound in a damaged one; lists the rest as CSV."), NULL,
          &argc, &argv, &status))
    return status;
  if (argc != 2)
    return lzc_wrong(_("salvage wants the name of the new file."));
  g_autofree char *pc = pc_folder();
  const LzSalvageOptions options = {
      .pc_folder = pc, .each = print_fate, .progress = lzc_progress(), .hearer = _("Salvaging")};
  if (!lz_rescue_salvage(path, argv[1], &options, &result, &error))
    return lzc_fail(error);
  fprintf(stderr,
          _("%" PRId64 " entries are in %s, %" PRId64 " of them not proven and %" PRId64
            " doubtful; %" PRId64 " are left out. Compare with a back-up if there is one.\n"),
          result.kept, argv[1], result.unproven, result.doubtful, result.lost);
  return LZC_DONE;
}

static void
print_preview(const LzRestore *r)
{
  g_autofree char *last = lz_format_iso(r->last_minute), *first = lz_format_iso(r->first_lost_min);
  printf(_("The back-up holds %" PRId64 " entries and verifies; the last was made %s.\n"),
         r->entries, last);
  if (r->other_station)
    printf("%s\n", _("It is a back-up of another station: nothing of this one is in it."));
  if (r->would_lose < 0)
    printf("%s\n", _("The station's file cannot be read: what would be lost cannot be said."));
  else if (r->would_lose == 0)
    printf("%s\n", _("Nothing of the station would be lost."));
  else
    printf(_("%" PRId64
             " entries of the station are not in the back-up and would be lost from it; the "
             "earliest happened %s.\n"),
           r->would_lose, first);
}

int
lzc_restore(const char *path, int argc, char **argv)
{
  gboolean yes = FALSE;
  int status = LZC_DONE;
  GError *error = NULL;
  LzRestore preview;
  GOptionEntry entries[] = {{"yes", 0, 0, G_OPTION_ARG_NONE, &yes,
                             N_("do it; without this only tell what would be lost"), NULL},
                            {NULL}};
  if (!lzc_options("restore", "BACKUP",
                   _("Puts a back-up in the station's place; the present file is kept beside it."),
                   entries, &argc, &argv, &status))
    return status;
  if (argc != 2)
    return lzc_wrong(_("restore wants the name of the back-up."));
  if (!lz_rescue_preview(argv[1], path, lzc_progress(), _("Verifying"), &preview, &error))
    return lzc_fail(error);
  print_preview(&preview);
  if (!yes) {
    printf("%s\n", _("Nothing was changed. Say --yes to do it."));
    return LZC_REFUSED;
  }
  g_autofree char *pc = pc_folder(), *aside = NULL;
  if (!lz_rescue_restore(argv[1], path, pc, &aside, &error))
    return lzc_fail(error);
  if (aside)
    printf(_("Restored. The file as it was is now %s.\n"), aside);
  else
    printf("%s\n", _("Restored."));
  return LZC_DONE;
}

// One line without its end, from a terminal without showing it.
static char *
ask_passphrase(void)
{
  char line[1024] = "";
  struct termios shown, hidden;
  gboolean terminal = tcgetattr(STDIN_FILENO, &shown) == 0;
  if (terminal) {
    hidden = shown;
    hidden.c_lflag &= (tcflag_t)~ECHO;
    fputs(_("Passphrase: "), stderr);
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &hidden);
  }
  char *got = fgets(line, sizeof line, stdin);
  if (terminal) {
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &shown);
    fputc('\n', stderr);
  }
  if (got)
    line[strcspn(line, "\r\n")] = '\0';
  return g_strdup(line);
}

static char *
read_passphrase(const char *file, int *status)
{
  char *text = NULL;
  GError *error = NULL;
  if (!file)
    return ask_passphrase();
  if (!g_file_get_contents(file, &text, NULL, &error)) {
    *status = lzc_fail(error);
    return NULL;
  }
  text[strcspn(text, "\r\n")] = '\0';
  return text;
}

typedef gboolean (*Sealing)(const char *path, const char *to, const char *passphrase,
                            GError **error);

static int
run_sealing(const char *verb, const char *rest, const char *summary, int argc, char **argv,
            const char *path, gboolean out_is_path, Sealing sealing, const char *said)
{
  g_autofree char *file = NULL;
  int status = LZC_DONE;
  GError *error = NULL;
  GOptionEntry entries[] = {{"passphrase-file", 0, 0, G_OPTION_ARG_FILENAME, &file,
                             N_("take the passphrase from the first line of this file"),
                             N_("FILE")},
                            {NULL}};
  if (!lzc_options(verb, rest, summary, entries, &argc, &argv, &status))
    return status;
  if (argc != 2)
    return lzc_wrong(_("%s wants the name of the sealed file."), verb);
  g_autofree char *passphrase = read_passphrase(file, &status);
  if (!passphrase)
    return status;
  const char *to = out_is_path ? path : argv[1];
  if (!sealing(out_is_path ? argv[1] : path, to, passphrase, &error))
    return lzc_fail(error);
  printf(said, to);
  return LZC_DONE;
}

int
lzc_seal(const char *path, int argc, char **argv)
{
  return run_sealing(
      "seal", "OUT", _("Makes a verified copy that only a passphrase opens, for sending."), argc,
      argv, path, FALSE, lz_rescue_seal,
      _("Sealed in %s. Tell the passphrase over another way than the file takes.\n"));
}

int
lzc_unseal(const char *path, int argc, char **argv)
{
  return run_sealing("unseal", "SEALED", _("Makes the station file of a sealed copy."), argc, argv,
                     path, TRUE, lz_rescue_unseal, _("%s is there; verify it before use.\n"));
}
