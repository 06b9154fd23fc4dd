// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_text_table.h"

#include <math.h>
#include <string.h>

struct _LzTextRow {
  GObject parent;
  gint64 id;
  guint n;
  char *cells[LZ_TEXT_ROW_MAX];
  double order[LZ_TEXT_ROW_MAX];
};

G_DEFINE_FINAL_TYPE(LzTextRow, lz_text_row, G_TYPE_OBJECT)

LzTextRow *
lz_text_row_new(gint64 id, const char *const *cells, guint n)
{
  LzTextRow *self = g_object_new(LZ_TYPE_TEXT_ROW, NULL);
  self->id = id;
  self->n = MIN(n, LZ_TEXT_ROW_MAX);
  for (guint i = 0; i < self->n; i++)
    self->cells[i] = g_strdup(cells[i] ? cells[i] : "");
  return self;
}

const char *
lz_text_row_cell(LzTextRow *self, guint i)
{
  g_return_val_if_fail(LZ_IS_TEXT_ROW(self), "");
  return i < self->n ? self->cells[i] : "";
}

void
lz_text_row_set_order(LzTextRow *self, guint i, double order)
{
  g_return_if_fail(LZ_IS_TEXT_ROW(self) && i < LZ_TEXT_ROW_MAX);
  self->order[i] = order;
}

double
lz_text_row_order(LzTextRow *self, guint i)
{
  g_return_val_if_fail(LZ_IS_TEXT_ROW(self), NAN);
  return i < LZ_TEXT_ROW_MAX ? self->order[i] : NAN;
}

gboolean
lz_text_row_equal(LzTextRow *a, LzTextRow *b)
{
  if (a->id != b->id || a->n != b->n)
    return FALSE;
  for (guint i = 0; i < a->n; i++)
    if (strcmp(a->cells[i], b->cells[i]) != 0 ||
        (a->order[i] != b->order[i] && !(isnan(a->order[i]) && isnan(b->order[i]))))
      return FALSE;
  return TRUE;
}

char *
lz_text_row_words(LzTextRow *self)
{
  g_return_val_if_fail(LZ_IS_TEXT_ROW(self), NULL);
  GString *all = g_string_new(NULL);
  for (guint i = 0; i < self->n; i++)
    if (*self->cells[i])
      g_string_append_printf(all, "%s%s", all->len ? ", " : "", self->cells[i]);
  return g_string_free(all, FALSE);
}

gint64
lz_text_row_id(LzTextRow *self)
{
  g_return_val_if_fail(LZ_IS_TEXT_ROW(self), 0);
  return self->id;
}

static void
lz_text_row_finalize(GObject *object)
{
  LzTextRow *self = LZ_TEXT_ROW(object);
  for (guint i = 0; i < self->n; i++)
    g_free(self->cells[i]);
  G_OBJECT_CLASS(lz_text_row_parent_class)->finalize(object);
}

static void
lz_text_row_class_init(LzTextRowClass *klass)
{
  G_OBJECT_CLASS(klass)->finalize = lz_text_row_finalize;
}

static void
lz_text_row_init(LzTextRow *self)
{
  for (guint i = 0; i < LZ_TEXT_ROW_MAX; i++)
    self->order[i] = NAN;
}
