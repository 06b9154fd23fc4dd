// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: any words behind `lazaretctl FILE` end with one of the four exit statuses. Each
// line is a word. Files are made in a folder of the target's own: words that could lead out of it
// are left out, and so are the verbs that take a second on purpose (the demo, Argon2id).
#include <glib/gstdio.h>
#include <lzc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "scratch.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

#define MOST_WORDS 24

static const char *const verbs[] = {"import", "export", "record", "plan",   "water",   "dose",
                                    "reach",  "whatif", "print",  "verify", "protocol"};
static char *folder;

static void
begin(void)
{
  GBytes *station = scratch_station();
  folder = scratch_path("calls");
  g_setenv("XDG_DATA_HOME", folder, TRUE);
  g_setenv("LAZARET_WHO", "MK", TRUE);
  if (g_mkdir(folder, 0700) != 0 || chdir(folder) != 0 || !freopen("/dev/null", "w", stdout) ||
      !freopen("/dev/null", "r", stdin))
    abort();
  if (!g_file_set_contents("sound", g_bytes_get_data(station, NULL),
                           (gssize)g_bytes_get_size(station), NULL))
    abort();
  g_bytes_unref(station);
}

static void
fresh(void)
{
  g_autoptr(GDir) dir = g_dir_open(".", 0, NULL);
  g_autofree char *bytes = NULL;
  gsize n;
  for (const char *name; (name = g_dir_read_name(dir)) != NULL;)
    if (strcmp(name, "sound") != 0 && strcmp(name, "lazaret") != 0)
      g_remove(name);
  if (!g_file_get_contents("sound", &bytes, &n, NULL) ||
      !g_file_set_contents("any.lazaret", bytes, (gssize)n, NULL))
    abort();
}

static gboolean
may_lead_out(const char *word)
{
  const char *value = strchr(word, '=');
  return *word == '/' || *word == '~' || strstr(word, "..") || strstr(word, ":/") ||
         (value && value[1] == '/') || strcmp(word, "sound") == 0;
}

int
LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
  if (!folder)
    begin();
  if (size == 0)
    return 0;
  g_autofree char *text = g_strndup((const char *)bytes + 1, size - 1);
  g_auto(GStrv) words = g_strsplit(text, "\n", MOST_WORDS);
  static char program[] = "lazaretctl", file[] = "any.lazaret";
  g_autofree char *verb = g_strdup(verbs[bytes[0] % G_N_ELEMENTS(verbs)]);
  char *argv[MOST_WORDS + 4] = {program, file, verb};
  int argc = 3;
  for (char **word = words; *word; word++)
    if (!may_lead_out(*word))
      argv[argc++] = *word;
  fresh();
  int status = lzc_run(argc, argv);
  if (status < LZC_DONE || status > LZC_COULD_NOT)
    abort();
  return 0;
}
