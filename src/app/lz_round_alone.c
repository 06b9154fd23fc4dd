// SPDX-License-Identifier: GPL-3.0-or-later
// A dose that two people work out, each alone. While the second works, the first amount is in no
// widget (a hidden one would still tell it to a screen reader), and neither is the program's own
// sum: only what one starts from. It stays so until both agree, or Esc drops it all.
#include <glib/gi18n.h>
#include <lz_words.h>
#include <lz_working.h>

#include "lz_round_line_private.h"
#include "lz_second_person.h"
#include "lz_working_grid.h"

static void
empty_entry(LzRoundLine *self)
{
  self->loading = TRUE;
  lz_number_entry_set_text(self->entry, "");
  self->loading = FALSE;
}

static GPtrArray *
given(LzRoundLine *self)
{
  return self->has_advice ? lz_working_given(self->desk, &self->advice) : lz_working_new();
}

// The cautions of a bath, or why it is not worked out; both stay while two people do it alone.
static GPtrArray *
working_of_bath(LzRoundLine *self)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(LzAnswer) answer = lz_round_bath_answer(self->bath, &error);
  g_autofree char *wrong = error ? lz_words_error("bath", error->message) : NULL;
  g_autofree char *cautions = NULL;
  if (answer) {
    g_ptr_array_add(answer->cautions, NULL);
    cautions = g_strjoinv("\n", (char **)answer->cautions->pdata);
  }
  const char *text = cautions ? cautions : wrong ? wrong : "";
  gtk_label_set_label(self->cautions, text);
  gtk_widget_set_visible(GTK_WIDGET(self->cautions), *text);
  if (self->alone_now)
    return lz_round_bath_given(self->bath);
  return answer ? g_ptr_array_ref(answer->lines) : lz_working_new();
}

static GPtrArray *
lines_of(LzRoundLine *self)
{
  if (lz_round_bath_is_on(self->bath))
    return working_of_bath(self);
  gtk_widget_set_visible(GTK_WIDGET(self->cautions), FALSE);
  return self->alone_now ? given(self)
                         : lz_working_task(self->desk, lz_task_row_info(self->row)->task);
}

void
lz_round_line_show_working(LzRoundLine *self)
{
  g_autoptr(GPtrArray) lines = lines_of(self);
  gtk_label_set_label(self->working_title,
                      self->alone_now ? _("What to work it out from") : _("How it is worked out"));
  lz_working_grid_fill(self->working, lines);
  gtk_widget_set_visible(GTK_WIDGET(self->working_title), lines->len > 0);
  gtk_widget_set_visible(self->working_box,
                         lines->len > 0 || gtk_widget_get_visible(GTK_WIDGET(self->cautions)));
}

void
lz_round_line_begin_alone(LzRoundLine *self, const char *typed)
{
  const char *prompt = lz_second_person_prompt(TRUE);
  if (!self->first)
    self->first = g_strdup(typed);
  self->alone_now = TRUE;
  lz_round_draft_drop(self); // walking away and back must not bring it up again
  empty_entry(self);
  lz_round_line_refresh(self);
  lz_round_line_ask(self, LZ_ASK_WITNESS);
  gtk_entry_set_placeholder_text(self->words, prompt);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->words), GTK_ACCESSIBLE_PROPERTY_LABEL, prompt,
                                 -1);
}

void
lz_round_line_disagreed(LzRoundLine *self)
{
  g_clear_pointer(&self->first, g_free);
  g_clear_pointer(&self->witness, g_free);
  lz_round_line_ask(self, LZ_ASK_NOTHING);
}

void
lz_round_line_end_alone(LzRoundLine *self)
{
  if (!self->alone_now)
    return;
  self->alone_now = FALSE;
  lz_round_line_disagreed(self);
  empty_entry(self);
  lz_round_line_refresh(self);
}
