// SPDX-License-Identifier: GPL-3.0-or-later
// What a person types into a question of the adviser: the same units as in a reading or a form.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "lz_adviser.h"
#include "lz_desk_private.h"
#include "lz_error.h"
#include "lz_format.h"
#include "lz_value.h"

// The reading's own refusal names its field “value”; here it is called otherwise.
static gboolean
level(const LzModel *m, lzq_analyte analyte, const char *name, const char *text, double *out,
      GError **error)
{
  g_autoptr(GError) why = NULL;
  if (lz_value_reading(m, analyte, text, "", 0, NAN, out, NULL, &why))
    return TRUE;
  const char *said = why->message;
  if (g_str_has_prefix(said, "value: "))
    said += strlen("value: ");
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, "%s: %s", name, said);
  return FALSE;
}

// A number in the unit that its field has, or in none.
static gboolean
plain(const char *const *taken, const char *name, double scale, const char *text, double *out,
      GError **error)
{
  const char *rest = "";
  g_autoptr(GError) why = NULL;
  if (!lz_parse_number(text, out, &rest, &why)) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, "%s: %s", name, why->message);
    return FALSE;
  }
  g_autofree char *unit = g_utf8_strdown(rest, -1);
  g_strstrip(unit);
  if (g_str_equal(unit, "%") && g_strv_contains(taken, "%")) {
    *out /= 100;
    return TRUE;
  }
  *out *= scale;
  if (!*unit || g_strv_contains(taken, unit))
    return TRUE;
  g_autofree char *list = g_strjoinv(", ", (char **)taken);
  g_autofree char *accepted = g_strdup_printf(_("a number alone or in %s"), list);
  return lz_value_refuse(error, name, text, accepted);
}

gboolean
lz_question_number(LzDesk *desk, const LzQuestion *ask, const char *field, const char *name,
                   double scale, const char *text, double *out, GError **error)
{
  static const char *const share[] = {"%", NULL}, *const ppt[] = {"ppt", "psu", "g/kg", NULL};
  static const char *const hours[] = {"h", NULL}, *const minutes[] = {"min", NULL};
  static const char *const fed[] = {"mg/kg", "mg", NULL};
  static const char *const levels[] = {"level", "target", "new_level", NULL};
  static const char *const shares[] = {"ration", "active_share", NULL};
  const gboolean salt = ask->kind == LZ_QUESTION_FRESHEN || ask->kind == LZ_QUESTION_SALT;
  // any level in mg/L is read as chlorine is: up to 10,000
  if (g_strv_contains(levels, field))
    return level(desk->model, salt ? LZQ_SALINITY : LZQ_CHLORINE, name, text, out, error);
  if (g_str_equal(field, "copper_target"))
    return level(desk->model, LZQ_COPPER, name, text, out, error);
  if (g_str_equal(field, "step") && salt)
    return plain(ppt, name, scale, text, out, error);
  if (g_str_equal(field, "step") && ask->kind == LZ_QUESTION_RAISE)
    return level(desk->model, LZQ_CHLORINE, name, text, out, error);
  if (g_str_equal(field, "step") || g_strv_contains(shares, field))
    return plain(share, name, scale, text, out, error);
  if (g_str_equal(field, "step_hours"))
    return plain(hours, name, scale, text, out, error);
  if (g_str_equal(field, "minutes"))
    return plain(minutes, name, scale, text, out, error);
  if (g_str_equal(field, "mg_per_kg"))
    return plain(fed, name, scale, text, out, error);
  return lz_value_amount(g_str_equal(field, "volume") ? "volume_l" : field, name, text, out, error);
}
