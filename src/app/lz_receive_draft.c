// SPDX-License-Identifier: GPL-3.0-or-later
// A half-unpacked shipment as text beside the ledger, and back.
#include "lz_receive_private.h"

#define KEY           "receive"
#define SAVE_AFTER_MS 600

static const char *const heads[LZ_N_HEADS] = {"code", "supplier", "certificate", "waybill"};

static char *
group_of(guint i)
{
  return g_strdup_printf("box %u", i + 1);
}

static gboolean
is_untouched(LzReceiveView *self)
{
  for (guint i = 0; i < self->boxes->len; i++)
    if (!lz_receive_box_is_empty(g_ptr_array_index(self->boxes, i)))
      return FALSE;
  for (int i = LZ_HEAD_SUPPLIER; i < LZ_N_HEADS; i++)
    if (*gtk_editable_get_text(GTK_EDITABLE(lz_receive_head(self, i))))
      return FALSE;
  return TRUE;
}

static char *
written_out(LzReceiveView *self)
{
  g_autoptr(GKeyFile) file = g_key_file_new();
  for (int i = 0; i < LZ_N_HEADS; i++)
    g_key_file_set_string(file, "shipment", heads[i],
                          gtk_editable_get_text(GTK_EDITABLE(lz_receive_head(self, i))));
  g_key_file_set_int64(file, "shipment", "system", lz_receive_system(self));
  g_key_file_set_integer(file, "shipment", "acclimation",
                         (int)gtk_drop_down_get_selected(self->acclimation));
  for (guint i = 0; i < self->boxes->len; i++) {
    g_autofree char *group = group_of(i);
    for (int f = 0; f < LZ_N_BOX_FIELDS; f++)
      g_key_file_set_string(file, group, lz_box_field_name(f),
                            lz_receive_box_text(g_ptr_array_index(self->boxes, i), f));
  }
  return g_key_file_to_data(file, NULL, NULL);
}

void
lz_receive_draft_save(LzReceiveView *self)
{
  g_clear_handle_id(&self->draft_timer, g_source_remove);
  if (lz_desk_is_read_only(self->desk))
    return;
  g_autofree char *text = is_untouched(self) ? NULL : written_out(self);
  g_autoptr(GError) error = NULL;
  if (!lz_desk_set_draft(self->desk, KEY, text, &error))
    g_debug("draft: %s", error->message); // the fields themselves still hold what was typed
}

static gboolean
on_timer(gpointer data)
{
  LzReceiveView *self = data;
  self->draft_timer = 0;
  lz_receive_draft_save(self);
  return G_SOURCE_REMOVE;
}

void
lz_receive_draft_save_soon(LzReceiveView *self)
{
  g_clear_handle_id(&self->draft_timer, g_source_remove);
  self->draft_timer = g_timeout_add(SAVE_AFTER_MS, on_timer, self);
}

void
lz_receive_draft_drop(LzReceiveView *self)
{
  g_clear_handle_id(&self->draft_timer, g_source_remove);
  lz_desk_set_draft(self->desk, KEY, NULL, NULL);
}

static void
load_heads(LzReceiveView *self, GKeyFile *file)
{
  for (int i = 0; i < LZ_N_HEADS; i++) {
    g_autofree char *text = g_key_file_get_string(file, "shipment", heads[i], NULL);
    gtk_editable_set_text(GTK_EDITABLE(lz_receive_head(self, i)), text ? text : "");
  }
  int64_t system = g_key_file_get_int64(file, "shipment", "system", NULL);
  for (guint i = 0; i < self->systems->len; i++)
    if (g_array_index(self->systems, int64_t, i) == system)
      gtk_drop_down_set_selected(self->system, i);
  gtk_drop_down_set_selected(self->acclimation,
                             (guint)g_key_file_get_integer(file, "shipment", "acclimation", NULL));
}

void
lz_receive_draft_load(LzReceiveView *self)
{
  int64_t at_ms;
  g_autofree char *text = lz_desk_draft(self->desk, KEY, &at_ms);
  g_autoptr(GKeyFile) file = g_key_file_new();
  if (!text || !g_key_file_load_from_data(file, text, (gsize)-1, G_KEY_FILE_NONE, NULL))
    return;
  load_heads(self, file);
  for (guint i = 0;; i++) {
    g_autofree char *group = group_of(i);
    if (!g_key_file_has_group(file, group))
      return;
    LzReceiveBox *box =
        i < self->boxes->len ? g_ptr_array_index(self->boxes, i) : lz_receive_add_box(self);
    for (int f = 0; f < LZ_N_BOX_FIELDS; f++) {
      g_autofree char *value = g_key_file_get_string(file, group, lz_box_field_name(f), NULL);
      lz_receive_box_set(box, f, value);
    }
  }
}
