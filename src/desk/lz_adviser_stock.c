// SPDX-License-Identifier: GPL-3.0-or-later
// From which bottle an answer is, and which one would be used up first.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "lz_adviser_private.h"
#include "lz_advice.h"
#include "lz_check.h"
#include "lz_medicine.h"
#include "lz_words.h"

// In date, and not known to be empty.
static gboolean
is_left(const LzAdvising *a, uint32_t index)
{
  const LzModel *m = a->desk->model;
  const lzq_bottle *b = &g_array_index(m->bottles, lzq_bottle, index);
  const double left =
      lz_medicine_left(a->desk, lz_model_entity_at(m, LZS_BOTTLE, index)->id, a->desk->now);
  return b->analyte == a->ask->analyte && !(left <= 0) &&
         (b->expires_at == 0 || a->desk->now < b->expires_at);
}

// "C-08 (ionic, 2027-06), A-01 (amine)", the first to expire first; NULL = no two forms differ.
static char *
forms_to_choose(const LzAdvising *a)
{
  const LzModel *m = a->desk->model;
  g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(uint32_t));
  gboolean differ = FALSE;
  for (uint32_t i = 0; i < m->bottles->len; i++) {
    guint at = 0;
    const lzq_bottle *b = &g_array_index(m->bottles, lzq_bottle, i), *other = NULL;
    if (!is_left(a, i))
      continue;
    for (; at < all->len; at++) {
      other = &g_array_index(m->bottles, lzq_bottle, g_array_index(all, uint32_t, at));
      differ |= other->form != b->form;
      if (b->expires_at != 0 && (other->expires_at == 0 || b->expires_at < other->expires_at))
        break;
    }
    g_array_insert_val(all, at, i);
    differ |= all->len > 1 && other && other->form != b->form;
  }
  g_autoptr(GString) out = g_string_new(NULL);
  for (guint i = 0; i < all->len; i++) {
    const uint32_t index = g_array_index(all, uint32_t, i);
    const LzEntity *bottle = lz_model_entity_at(m, LZS_BOTTLE, index);
    const char *expiry = lz_entry_text(bottle->now, "expiry");
    g_string_append_printf(out, "%s%s (%s%s%s)", i ? ", " : "", bottle->label,
                           lz_words_form(g_array_index(m->bottles, lzq_bottle, index).form),
                           expiry ? ", " : "", expiry ? expiry : "");
  }
  return differ ? g_string_free(g_steal_pointer(&out), FALSE) : NULL;
}

// One of the same form that expires before the one that was taken is used up first.
static void
caution_older(LzAdvising *a, uint32_t taken)
{
  const LzModel *m = a->desk->model;
  const lzq_bottle *own = &g_array_index(m->bottles, lzq_bottle, taken);
  uint32_t first = taken;
  for (uint32_t i = 0; i < m->bottles->len; i++) {
    const lzq_bottle *b = &g_array_index(m->bottles, lzq_bottle, i);
    const lzq_minute before = g_array_index(m->bottles, lzq_bottle, first).expires_at;
    if (is_left(a, i) && b->form == own->form && b->expires_at != 0 &&
        (before == 0 || b->expires_at < before))
      first = i;
  }
  if (first == taken)
    return;
  const LzEntity *bottle = lz_model_entity_at(m, LZS_BOTTLE, first);
  g_autofree char *words =
      // Translators: bottle; date; bottle that was taken
      g_strdup_printf(_("%1$s holds the same and expires sooner (%2$s): use it up first. The "
                        "amount above is of %3$s."),
                      bottle->label, lz_entry_text(bottle->now, "expiry"),
                      lz_model_entity_at(m, LZS_BOTTLE, taken)->label);
  lz_advising_caution(a, words);
}

// The newest that fits, of the form that the water asks for; where nothing says which form that is,
// a person does.
static gboolean
take_newest(LzAdvising *a, uint32_t *index, GError **error)
{
  *index = lz_advice_bottle(a->desk, a->ask->system, a->ask->analyte);
  g_autofree char *choose =
      a->ask->analyte == LZQ_COPPER && lz_advice_form(a->desk, a->ask->system) == LZQ_FORM_NONE
          ? forms_to_choose(a)
          : NULL;
  if (choose)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("bottle: several forms of copper are on the shelf, and nothing says which "
                       "is meant; accepted is one of %s"),
                     choose);
  if (*index < a->desk->model->bottles->len)
    caution_older(a, *index);
  return TRUE;
}

gboolean
lz_advising_stock(LzAdvising *a, lzq_stock *out, GError **error)
{
  const LzModel *m = a->desk->model;
  uint32_t index = a->ask->bottle;
  if (isfinite(a->ask->strength)) {
    *out = (lzq_stock){a->ask->strength, a->ask->as};
    return TRUE;
  }
  if (index == LZQ_NONE && !take_newest(a, &index, error))
    return FALSE;
  if (index >= m->bottles->len)
    return lz_refuse(error, LZ_DESK_ERROR_USAGE,
                     _("bottle: none holds %s; accepted is a bottle's number, or a strength"),
                     lz_words_analyte(a->ask->analyte));
  const LzEntity *bottle = lz_model_entity_at(m, LZS_BOTTLE, index);
  gboolean salt = g_strcmp0(lz_entry_text(bottle->now, "strength_as"), "salt") == 0;
  *out = (lzq_stock){lz_entry_number(bottle->now, "strength"),
                     salt ? LZQ_AS_COPPER_SULFATE_5H2O : LZQ_AS_ITSELF};
  lz_working_add(a->out->lines, _("Bottle"), "", bottle->label, FALSE);
  return TRUE;
}
