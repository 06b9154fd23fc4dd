// SPDX-License-Identifier: GPL-3.0-or-later
// lazaretctl FILE protocol: the shipped templates; adding one makes it the station's own.
#include "lzc.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#include <lz_protocol_file.h>

static char *
base_of(const char *path)
{
  g_autofree char *base = g_path_get_basename(path);
  char *dot = strrchr(base, '.');
  return g_strndup(base, dot ? (gsize)(dot - base) : strlen(base));
}

static int
list_templates(void)
{
  g_autoptr(GPtrArray) files = lz_protocol_files();
  for (guint i = 0; files && i < files->len; i++) {
    g_autofree char *base = base_of(files->pdata[i]);
    printf("%s\n", base);
  }
  return LZC_DONE;
}

// A path as it is, or a template by the name that --list shows.
static char *
resolve(const char *name, gboolean *shipped)
{
  *shipped = FALSE;
  if (g_file_test(name, G_FILE_TEST_IS_REGULAR))
    return g_strdup(name);
  *shipped = TRUE;
  g_autoptr(GPtrArray) files = lz_protocol_files();
  for (guint i = 0; files && i < files->len; i++) {
    g_autofree char *base = base_of(files->pdata[i]);
    if (strcmp(base, name) == 0)
      return g_strdup(files->pdata[i]);
  }
  return NULL;
}

static int
dump(const char *path, const char *name)
{
  int status = LZC_DONE;
  g_autoptr(LzDesk) desk = lzc_open_reading(path, NULL, &status);
  if (!desk)
    return status;
  int64_t id = lz_desk_find(desk, "protocol", name);
  if (!id)
    return lzc_wrong(_("The station has no protocol “%s”. Accepted: NAME or NAME/VERSION."), name);
  g_autofree char *text = lz_protocol_dump(desk, id);
  printf("%s", text);
  return LZC_DONE;
}

int
lzc_protocol(const char *path, int argc, char **argv)
{
  gboolean list = FALSE, shipped = FALSE;
  g_autofree char *show = NULL, *who = NULL, *happened = NULL;
  int status = LZC_DONE;
  GError *error = NULL;
  GOptionEntry entries[] = {
      {"list", 0, 0, G_OPTION_ARG_NONE, &list, N_("list the shipped protocols"), NULL},
      {"show", 0, 0, G_OPTION_ARG_STRING, &show, N_("print one of the station's own as a file"),
       N_("NAME")},
      {"who", 0, 0, G_OPTION_ARG_STRING, &who, N_("who adds it"), N_("XY")},
      {"happened", 0, 0, G_OPTION_ARG_STRING, &happened,
       N_("local time from which it holds (default: now)"), N_("TIME")},
      {NULL}};
  if (!lzc_options("protocol", "[TEMPLATE|PROTOCOL-FILE]", _("Adds a protocol to the station."),
                   entries, &argc, &argv, &status))
    return status;
  if (list)
    return list_templates();
  if (show)
    return dump(path, show);
  if (argc != 2)
    return lzc_wrong(_("protocol wants a template of --list, or a protocol file."));
  g_autofree char *file = resolve(argv[1], &shipped);
  if (!file)
    return lzc_wrong(_("There is no protocol “%s”; protocol --list shows the shipped ones."),
                     argv[1]);
  g_autoptr(GPtrArray) commands = lz_protocol_load(file, &error);
  if (!commands)
    return lzc_fail(error);
  g_autoptr(LzDesk) desk = lzc_open(path, &status);
  if (!desk)
    return status;
  for (guint i = 0; i < commands->len; i++) {
    lz_command_set_actor(commands->pdata[i], who);
    lz_command_set_at_text(commands->pdata[i], happened);
    lz_command_set_ahead(commands->pdata[i], lz_desk_may_look_ahead(desk));
  }
  if (!lz_desk_submit(desk, (LzCommand *const *)commands->pdata, commands->len, &error))
    return lzc_fail(error);
  // a shipped one goes back as it does with intent (docs/protocols.md): nobody here wrote it
  const char *const *note = shipped ? NULL : lz_command_notes(commands->pdata[0]);
  for (; note && *note; note++)
    fprintf(stderr, "lazaretctl: %s\n", *note);
  printf("#%" G_GINT64_FORMAT "\n", lz_command_id(commands->pdata[0]));
  return LZC_DONE;
}
