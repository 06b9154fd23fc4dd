// SPDX-License-Identifier: GPL-3.0-or-later
// Code words of the ledger as people read them. docs/paper.md names what each German term of a sign
// or a finding was checked against.
#include <glib/gi18n-lib.h>

#include "lz_words.h"

// Named for the catalogue; any other word is shown as it is written.
static const char *const words[] = {
    // what was seen, what a scrape found
    N_("white spot"), N_("velvet"), N_("fluke"), N_("flashing"), N_("fast breathing"),
    N_("not eating"), N_("frayed fins"), N_("other"), N_("nothing"), N_("cryptocaryon"),
    N_("amyloodinium"), N_("brooklynella"), N_("uronema"), N_("bacteria"),
    // why a bottle holds more or less, why a course was stopped
    N_("delivered"), N_("spilled"), N_("disposed"), N_("counted"), N_("distress"), N_("vet"),
    N_("other parasite"),
    // visits and papers
    N_("health visit"), N_("surveillance"), N_("laboratory"), N_("instruction"), N_("inspection"),
    N_("biosecurity"),
    // a system between two uses
    N_("empty"), N_("disinfecting"), N_("cycling"), N_("stocked"), N_("bleach"), N_("drying"),
    N_("heat")};

char *
lz_words_code(const char *code)
{
  g_autofree char *spaced = g_strdelimit(g_strdup(code ? code : ""), "_", ' ');
  for (gsize i = 0; i < G_N_ELEMENTS(words); i++)
    if (g_str_equal(words[i], spaced))
      return g_strdup(_(words[i]));
  return g_steal_pointer(&spaced);
}
