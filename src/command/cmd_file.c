// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE verify and backup: what concerns the file as a whole.
#include "lzc.h"

#include <glib/gi18n.h>
#include <inttypes.h>
#include <stdio.h>

#include <lz_backups.h>

int
lzc_verify(const char *path, int argc, char **argv)
{
  int status = LZC_DONE;
  GError *error = NULL;
  LzVerify result;
  if (!lzc_options("verify", "", _("Checks every hash, row and reference of the file."), NULL,
                   &argc, &argv, &status))
    return status;
  if (argc > 1)
    return lzc_wrong(_("“%s” is not understood. Accepted: options only."), argv[1]);
  g_autoptr(LzDesk) desk = lzc_open_reading(path, NULL, &status);
  if (!desk)
    return status;
  lz_desk_set_progress(desk, lzc_progress(), _("Verifying"));
  if (!lz_desk_verify(desk, &result, &error))
    return lzc_fail(error);
  printf(_("%" PRId64 " entries of %" PRId64 " PCs verify. Head: %s\n"), result.entries,
         result.chains, result.head);
  if (result.photos)
    printf(ngettext("%" PRId64 " photograph is as it was kept.\n",
                    "%" PRId64 " photographs are as they were kept.\n", (gulong)result.photos),
           result.photos);
  if (result.photos_missing)
    printf(ngettext("%" PRId64 " photograph that an entry names is not in this file.\n",
                    "%" PRId64 " photographs that entries name are not in this file.\n",
                    (gulong)result.photos_missing),
           result.photos_missing);
  if (result.salvaged)
    printf(_("Salvaged: at %" PRId64 " places entries before are lost or doubtful.\n"),
           result.salvaged);
  if (lz_desk_is_practice(desk))
    printf("%s\n", _("Practice: this file was written under a clock that was handed in."));
  return LZC_DONE;
}

// Into the folder in which the window makes its own.
static int
back_up_usually(const char *path)
{
  GError *error = NULL;
  g_autofree char *folder = lz_backups_usual_folder(), *made = NULL;
  if (!lz_backups_make(path, folder, g_get_real_time() / (60 * G_USEC_PER_SEC), &made, &error))
    return lzc_fail(error);
  printf(_("Copied to %s; the copy verifies.\n"), made);
  return LZC_DONE;
}

int
lzc_backup(const char *path, int argc, char **argv)
{
  int status = LZC_DONE;
  GError *error = NULL;
  if (!lzc_options("backup", "[TO]", _("Copies the file while it is in use; the copy is verified."),
                   NULL, &argc, &argv, &status))
    return status;
  if (argc == 1)
    return back_up_usually(path);
  if (argc != 2)
    return lzc_wrong(_("backup wants the name of the copy, or nothing for the usual folder."));
  g_autoptr(LzDesk) desk = lzc_open_file(path, &status);
  if (!desk)
    return status;
  lz_desk_set_progress(desk, lzc_progress(), _("Copying and verifying"));
  if (!lz_desk_backup(desk, argv[1], &error))
    return lzc_fail(error);
  printf(_("Copied to %s; the copy verifies.\n"), argv[1]);
  return LZC_DONE;
}
