// SPDX-License-Identifier: GPL-3.0-or-later
// Code words of the ledger as people read them. docs/paper.md names what each German term of a sign
// or a finding was checked against.
#include <glib/gi18n-lib.h>

#include "lz_words.h"

// Named for the catalogue, with those that only a list of words to choose from shows; any other
// word is shown as it is written. tests/layers/check_choices.py finds one that a language lacks.
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
    N_("heat"), N_("peroxide"),
    // instruments, and how a volume was found
    N_("conductivity"), N_("hydrometer"), N_("thermometer"), N_("meter"), N_("strip"),
    N_("measured"), N_("calculated"), N_("dose rise"),
    // what fish bear, what the station does about it, how boxes are opened
    N_("usual"), N_("caution"), N_("avoid"), N_("unknown"), N_("ask"), N_("refuse"), N_("allow"),
    N_("lift out"), N_("bind first"), N_("freshwater"),
    // phases of a protocol and their bands
    N_("rise"), N_("lower"), N_("raise"), N_("feed"), N_("medicate"), N_("observe"),
    N_("disinfect"), N_("stay"), N_("next clean"), N_("pause"), N_("restart"), N_("at or above"),
    N_("at or below"), N_("between"),
    // paper
    N_("a4"), N_("letter")};

char *
lz_words_code(const char *code)
{
  g_autofree char *spaced = g_strdelimit(g_strdup(code ? code : ""), "_", ' ');
  for (gsize i = 0; i < G_N_ELEMENTS(words); i++)
    if (g_str_equal(words[i], spaced))
      return g_strdup(_(words[i]));
  return g_steal_pointer(&spaced);
}
