// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_second_person.h"

#include <glib/gi18n.h>
#include <lz_error.h>
#include <lz_fields.h>
#include <string.h>

gboolean
lz_second_person_works(const GError *error)
{
  return error && error->domain == LZ_DESK_ERROR && g_str_has_prefix(error->message, "check_ml:");
}

const char *
lz_second_person_prompt(gboolean works)
{
  return works ? _("Second person: initials, and the mL that they came to alone, such as TA 17.5")
               : _("Initials of the second person");
}

void
lz_second_person_set(LzCommand *command, const char *text)
{
  g_auto(GStrv) parts = g_strsplit_set(text ? text : "", " \t", 2);
  const LzKind *kind = lz_kind_find(lz_command_kind(command));
  lz_command_set_witness(command, parts[0]);
  if (parts[0] && parts[1] && kind && lz_kind_field(kind, "check_ml"))
    lz_command_set(command, "check_ml", g_strstrip(parts[1]));
}
