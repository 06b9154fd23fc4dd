// SPDX-License-Identifier: GPL-3.0-or-later
// Who, when and why of an act on the command line.
#include "lzc_act.h"

#include <errno.h>
#include <glib/gi18n.h>

void
lzc_act_clear(LzcActOptions *o)
{
  g_free(o->happened);
  g_free(o->who);
  g_free(o->witness);
  g_free(o->reason);
  g_free(o->entity);
  g_free(o->readback);
}

// "#41", as `record` prints it, or "41".
static gboolean
read_id(const char *text, gint64 *out)
{
  const char *digits = text[0] == '#' ? text + 1 : text;
  char *end = NULL;
  errno = 0;
  *out = g_ascii_strtoll(digits, &end, 10);
  return g_ascii_isdigit(*digits) && !*end && !errno && *out > 0;
}

gboolean
lzc_act_options(const char *verb, const char *rest, const char *summary,
                const GOptionEntry *entries, LzcActOptions *o, int *argc, char ***argv, int *status)
{
  g_autofree char *corrects = NULL;
  const GOptionEntry own[] = {
      {"happened", 0, 0, G_OPTION_ARG_STRING, &o->happened,
       N_("local time it happened (default: now)"), N_("TIME")},
      {"who", 0, 0, G_OPTION_ARG_STRING, &o->who, N_("who did it"), N_("XY")},
      {"witness", 0, 0, G_OPTION_ARG_STRING, &o->witness, N_("the second person"), N_("XY")},
      {"reason", 0, 0, G_OPTION_ARG_STRING, &o->reason, N_("why"), N_("TEXT")},
      {"readback", 0, 0, G_OPTION_ARG_STRING, &o->readback, N_("a risky amount typed again"),
       N_("VALUE")},
      {"corrects", 0, 0, G_OPTION_ARG_STRING, &corrects,
       N_("id of the first entry that this replaces"), N_("ID")},
      {"void", 0, 0, G_OPTION_ARG_NONE, &o->voided, N_("with --corrects: take it away"), NULL},
      {"entity", 0, 0, G_OPTION_ARG_STRING, &o->entity, N_("set-up described anew from then on"),
       N_("NAME")}};
  g_autoptr(GArray) all = g_array_new(TRUE, TRUE, sizeof(GOptionEntry));
  g_array_append_vals(all, own, G_N_ELEMENTS(own));
  for (; entries->long_name; entries++)
    g_array_append_vals(all, entries, 1);
  if (!lzc_options(verb, rest, summary, (const GOptionEntry *)(void *)all->data, argc, argv,
                   status))
    return FALSE;
  if (corrects && !read_id(corrects, &o->corrects)) {
    *status = lzc_wrong(_("corrects: “%s” is not accepted; accepted is the id that record prints, "
                          "as #41"),
                        corrects);
    return FALSE;
  }
  if (!o->voided || o->corrects)
    return TRUE;
  *status = lzc_wrong(_("--void wants --corrects ID."));
  return FALSE;
}

void
lzc_act_apply(LzDesk *desk, const LzcActOptions *o, LzCommand *command)
{
  lz_command_set_at_text(command, o->happened);
  lz_command_set_actor(command, o->who);
  lz_command_set_witness(command, o->witness);
  lz_command_set_reason(command, o->reason);
  if (o->readback)
    lz_command_set_readback(command, o->readback);
  if (o->corrects)
    lz_command_set_corrects(command, o->corrects, o->voided);
  if (o->entity)
    lz_command_set_entity(command, o->entity);
  lz_command_set_ahead(command, lz_desk_may_look_ahead(desk));
}
