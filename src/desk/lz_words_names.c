// SPDX-License-Identifier: GPL-3.0-or-later
// The trade's words for the engine's enumerations.
#include <glib/gi18n-lib.h>
#include <locale.h>

#include "lz_words.h"

#define PICK(table, i) ((guint)(i) < G_N_ELEMENTS(table) && (table)[i] ? _((table)[i]) : "")

// The language asked for may be one whose locale this machine never generated. Catalogues need only
// a locale other than "C", which C.UTF-8 is, and LANGUAGE to name them.
static void
choose_locale(void)
{
  static const char *const names[] = {"LC_ALL", "LC_MESSAGES", "LANG"};
  const char *asked = NULL;
  if (!setlocale(LC_ALL, "")) {
    setlocale(LC_ALL, "C.UTF-8");
    for (gsize i = 0; i < G_N_ELEMENTS(names) && !(asked && *asked); i++)
      asked = g_getenv(names[i]);
    if (asked && *asked)
      g_setenv("LANGUAGE", asked, FALSE);
  }
  asked = g_getenv("LANGUAGE");
  if (asked && *asked && g_strcmp0(setlocale(LC_MESSAGES, NULL), "C") == 0)
    setlocale(LC_MESSAGES, "C.UTF-8");
  setlocale(LC_NUMERIC, "C"); // numbers are read and written by our own functions
}

void
lz_words_init(void)
{
  const char *folder = g_getenv("LAZARET_LOCALE_DIR");
  // GLib decides once, at the first word asked for, whether to translate at all, and says no where
  // there is no catalogue for the language of that moment. A sheet may want another language later:
  // ask while the locale is still "C", which decides for yes.
  g_dgettext(LZ_GETTEXT_DOMAIN, " ");
  choose_locale();
  bindtextdomain(LZ_GETTEXT_DOMAIN, folder ? folder : LAZARET_LOCALE_DIR);
  bind_textdomain_codeset(LZ_GETTEXT_DOMAIN, "UTF-8");
  textdomain(LZ_GETTEXT_DOMAIN);
}

const char *
lz_words_analyte(lzq_analyte analyte)
{
  static const char *const words[LZQ_N_ANALYTES] = {N_("copper"),
                                                    N_("salinity"),
                                                    N_("temperature"),
                                                    N_("pH"),
                                                    N_("ammonia"),
                                                    N_("nitrite"),
                                                    N_("nitrate"),
                                                    N_("oxygen"),
                                                    N_("alkalinity"),
                                                    N_("chlorine"),
                                                    N_("praziquantel"),
                                                    N_("chloroquine"),
                                                    N_("formalin"),
                                                    N_("hydrogen peroxide"),
                                                    N_("dechlorinator or ammonia binder")};
  return PICK(words, analyte);
}

const char *
lz_words_analyte_unit(lzq_analyte analyte)
{
  switch (analyte) {
  case LZQ_SALINITY:
  case LZQ_PH: return "";
  case LZQ_TEMPERATURE: return "°C";
  case LZQ_ALKALINITY: return "mmol/L";
  default: return "mg/L";
  }
}

const char *
lz_words_form(lzq_form form)
{
  static const char *const words[LZQ_N_FORMS] = {N_("no copper"), N_("ionic"),
                                                 N_("amine-complexed"), N_("chelated")};
  return PICK(words, form);
}

const char *
lz_words_role(lzq_role role)
{
  static const char *const words[LZQ_N_ROLES] = {N_("receiving"), N_("treatment"), N_("finishing"),
                                                 N_("isolation"), N_("display")};
  return PICK(words, role);
}

const char *
lz_words_state(lzq_state state)
{
  static const char *const words[LZQ_N_STATES] = {N_("empty"), N_("disinfecting"), N_("cycling"),
                                                  N_("stocked")};
  return PICK(words, state);
}

const char *
lz_words_gear(lzq_gear gear)
{
  static const char *const words[LZQ_N_GEAR] = {N_("skimmer"), N_("UV lamp"), N_("carbon"),
                                                N_("resin"),   N_("ozone"),   N_("air"),
                                                N_("heater"),  N_("pump")};
  return PICK(words, gear);
}

const char *
lz_words_phase_kind(lzq_phase_kind kind)
{
  static const char *const words[LZQ_N_PHASE_KINDS] = {
      N_("copper up"),  N_("hold"),        N_("salinity down"), N_("salinity up"),
      N_("copper out"), N_("transfer"),    N_("bath"),          N_("medicated feed"),
      N_("medicine"),   N_("observation"), N_("wait"),          N_("disinfection")};
  return PICK(words, kind);
}

const char *
lz_words_unit(lzq_unit unit)
{
  switch (unit) {
  case LZQ_UNIT_ML: return "mL";
  case LZQ_UNIT_L: return "L";
  case LZQ_UNIT_G: return "g";
  case LZQ_UNIT_KG: return "kg";
  case LZQ_UNIT_HEADS: return _("fish");
  case LZQ_UNIT_MIN: return "min";
  default: return "";
  }
}

const char *
lz_words_task_kind(lzq_task_kind kind)
{
  static const char *const words[LZQ_N_TASK_KINDS] = {
      N_("Test"),      N_("Dose"),   N_("Change water"),  N_("Add salt"),
      N_("Top up"),    N_("Move"),   N_("Bath"),          N_("Feed"),
      N_("Look at"),   N_("Scrape"), N_("Switch"),        N_("Check instrument"),
      N_("Disinfect"), N_("Fill"),   N_("Accept credit"), N_("Sign"),
      N_("Release"),   N_("Choose")};
  return PICK(words, kind);
}

const char *
lz_words_task_state(lzq_task_state state)
{
  static const char *const words[] = {N_("due"), N_("late"), N_("blocked"), N_("waits")};
  return PICK(words, state);
}

const char *
lz_words_kind(const char *kind)
{
  static const struct {
    const char *kind, *words;
  } table[] = {{"station", N_("station")},
               {"person", N_("person")},
               {"system", N_("system")},
               {"tank", N_("tank")},
               {"instrument", N_("instrument")},
               {"bottle", N_("bottle")},
               {"species", N_("species")},
               {"supplier", N_("supplier")},
               {"customer", N_("customer")},
               {"protocol", N_("protocol")},
               {"phase", N_("phase")},
               {"band", N_("band")},
               {"shipment", N_("shipment")},
               {"lot", N_("received")},
               {"volume", N_("volume")},
               {"state", N_("state")},
               {"check", N_("instrument check")},
               {"reading", N_("reading")},
               {"change", N_("water change")},
               {"topup", N_("top-up")},
               {"dose", N_("dose")},
               {"gear", N_("equipment")},
               {"sighting", N_("sighting")},
               {"scrape", N_("scrape")},
               {"count", N_("count")},
               {"death", N_("deaths")},
               {"feed", N_("feeding")},
               {"sign", N_("signature")},
               {"accept", N_("credit accepted")},
               {"accept_open", N_("open credit accepted")},
               {"split", N_("split")},
               {"move", N_("move")},
               {"merge", N_("merge")},
               {"stop", N_("stop")},
               {"course", N_("course")},
               {"release", N_("release")},
               {"note", N_("note")},
               {"skip", N_("not done")},
               {"handover", N_("handover")},
               {"stock", N_("stock")},
               {"practice", N_("practice mark")},
               {"bath", N_("bath")},
               {"visit", N_("visit or order")}};
  for (guint i = 0; i < G_N_ELEMENTS(table); i++)
    if (g_strcmp0(table[i].kind, kind) == 0)
      return _(table[i].words);
  return "";
}
