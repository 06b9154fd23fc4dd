// SPDX-License-Identifier: GPL-3.0-or-later
// A reading as an instrument shows it, into the analyte's one unit. Specific gravity always has a
// reference: 1.016 is 21.3 on a 25/25 scale, 20.9 on 60/60 °F and 23.5 on 20/4.
#include <glib/gi18n-lib.h>
#include <lzq_seawater.h>
#include <lzq_units.h>
#include <math.h>
#include <string.h>

#include "lz_error.h"
#include "lz_format.h"
#include "lz_value.h"

static gboolean
refuse(GError **error, const char *text, const char *accepted)
{
  return lz_value_refuse(error, "value", text, accepted);
}

static gboolean
find_scale(const char *mark, lzq_sg_scale *out)
{
  static const char *const marks[LZQ_N_SG_SCALES] = {[LZQ_SG_60_60F] = "60/60f",
                                                     [LZQ_SG_20_20] = "20/20",
                                                     [LZQ_SG_25_25] = "25/25",
                                                     [LZQ_SG_20_4] = "20/4"};
  for (int i = 0; mark && i < LZQ_N_SG_SCALES; i++)
    if (g_ascii_strcasecmp(mark, marks[i]) == 0) {
      *out = (lzq_sg_scale)i;
      return TRUE;
    }
  // hydrometers marked 60/60 mean degrees F: ISO/R 650:1968
  *out = LZQ_SG_60_60F;
  return g_strcmp0(mark, "60/60") == 0;
}

// A glass hydrometer is read at the water's temperature; every other instrument shows its scale's
// own.
static gboolean
from_sg(const LzModel *m, const char *text, double sg, const char *unit, int64_t instrument,
        double temperature, double *out, GError **error)
{
  const LzEntity *entity = lz_model_entity(m, instrument);
  const char *mark = unit + 2;
  lzq_sg_scale scale;
  while (*mark == ' ')
    mark++;
  if (!find_scale(*mark ? mark : (entity ? lz_entry_text(entity->now, "scale") : NULL), &scale))
    return refuse(
        error, text,
        _("a specific gravity with its scale: SG 60/60F, SG 20/20, SG 25/25 or SG 20/4, or "
          "an instrument whose scale is entered"));
  gboolean glass = entity && g_strcmp0(lz_entry_text(entity->now, "method"), "hydrometer") == 0;
  lzq_status status = glass && isfinite(temperature)
                          ? lzq_salinity_from_hydrometer(sg, temperature, scale, out)
                          : lzq_salinity_from_sg(sg, scale, out);
  if (status != LZQ_OK)
    return refuse(error, text, _("a specific gravity of sea water, 1.000 to 1.031"));
  return TRUE;
}

static gboolean
read_salinity(const LzModel *m, const char *text, double value, const char *unit,
              int64_t instrument, double temperature, double *out, GError **error)
{
  static const char *const plain[] = {"", "psu", "ppt", "pss", "s", "g/kg", NULL};
  if (g_strv_contains(plain, unit)) {
    *out = value;
    if (value > 0.99 && value < 1.05)
      return refuse(error, text,
                    _("a practical salinity; for a specific gravity give SG as its unit"));
    return TRUE;
  }
  if (g_str_has_prefix(unit, "sg"))
    return from_sg(m, text, value, unit, instrument, temperature, out, error);
  if (g_str_equal(unit, "ms/cm")) {
    double t = isfinite(temperature) ? temperature : 25; // a meter that corrects to 25 °C
    if (lzq_salinity_from_conductivity(value, t, out) == LZQ_OK)
      return TRUE;
    return refuse(error, text, _("a conductivity in mS/cm of water of salinity 2 to 42"));
  }
  return refuse(error, text, _("a salinity without unit or in ppt, SG with its scale, or mS/cm"));
}

static gboolean
read_temperature(const char *text, double value, const char *unit, double *out, GError **error)
{
  if (!*unit || g_str_equal(unit, "c") || g_str_equal(unit, "°c"))
    *out = value;
  else if (g_str_equal(unit, "f") || g_str_equal(unit, "°f"))
    *out = lzq_to_canonical(LZQ_MEASURE_FAHRENHEIT, value);
  else
    return refuse(error, text, _("a temperature in C or F"));
  return TRUE;
}

static gboolean
read_level(const char *text, double value, const char *unit, double *out, GError **error)
{
  static const char *const one[] = {"", "mg/l", "ppm", "g/m3", "mg/l n", "mmol/l", NULL};
  if (g_strv_contains(one, unit))
    *out = value;
  else if (g_str_equal(unit, "ug/l") || g_str_equal(unit, "µg/l") || g_str_equal(unit, "ppb"))
    *out = value / 1000;
  else
    return refuse(error, text, _("a level in mg/L or ug/L"));
  return TRUE;
}

// The scale is kept with the reading: in sea water the two are 0.10 to 0.14 apart.
static gboolean
read_ph(const char *text, double value, const char *unit, double *out, GError **error)
{
  static const char *const scales[] = {"", "ph", "nbs", "total", NULL};
  *out = value;
  return g_strv_contains(scales, unit) ||
         refuse(
             error, text,
             _("a pH without unit, or the scale of its meter: NBS (the usual buffers) or total"));
}

static gboolean
check_range(lzq_analyte analyte, const char *text, double value, GError **error)
{
  double low = analyte == LZQ_TEMPERATURE ? -2 : 0, high = 10000;
  if (analyte == LZQ_TEMPERATURE)
    high = 45;
  else if (analyte == LZQ_PH)
    high = 14;
  else if (analyte == LZQ_SALINITY)
    high = 60;
  else if (analyte == LZQ_COPPER)
    high = 100;
  if (value >= low && value <= high)
    return TRUE;
  g_autofree char *accepted = g_strdup_printf(_("a number from %g to %g"), low, high);
  return refuse(error, text, accepted);
}

gboolean
lz_value_reading(const LzModel *m, lzq_analyte analyte, const char *text, const char *unit,
                 int64_t instrument, double temperature, double *out, char **unit_out,
                 GError **error)
{
  double value;
  const char *rest = "";
  g_autoptr(GError) why = NULL;
  g_autofree char *prefixed = NULL;
  // "SG 1.016" and "SG 1.016 25/25" as well as "1.016 SG" and "1.016 SG 25/25"
  if (g_ascii_strncasecmp(text, "sg", 2) == 0) {
    const char *number = text + 2 + strspn(text + 2, " ");
    const gsize digits = strcspn(number, " ");
    prefixed = g_strdup_printf("%.*s SG%s", (int)digits, number, number + digits);
    text = prefixed;
  }
  if (!lz_parse_number(text, &value, &rest, &why)) {
    g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, "value: %s", why->message);
    return FALSE;
  }
  g_autofree char *own = g_utf8_strdown(*rest ? rest : (unit ? unit : ""), -1);
  g_strstrip(own);
  gboolean ok;
  if (analyte == LZQ_SALINITY)
    ok = read_salinity(m, text, value, own, instrument, temperature, out, error);
  else if (analyte == LZQ_TEMPERATURE)
    ok = read_temperature(text, value, own, out, error);
  else if (analyte == LZQ_PH)
    ok = read_ph(text, value, own, out, error);
  else
    ok = read_level(text, value, own, out, error);
  if (ok && unit_out)
    *unit_out = g_strdup(*rest ? rest : unit);
  return ok && check_range(analyte, text, *out, error);
}
