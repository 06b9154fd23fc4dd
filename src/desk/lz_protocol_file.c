// SPDX-License-Identifier: GPL-3.0-or-later
// Protocols as key files: from a template to commands, and from the station's own back to a file.
#include "lz_protocol_file.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "lz_error.h"
#include "lz_fields.h"
#include "lz_format.h"
#include "lz_text.h"

static gboolean
wrong(GError **error, const char *file, const char *group, const char *key, const char *what)
{
  g_set_error(error, LZ_DESK_ERROR, LZ_DESK_ERROR_USAGE, "%s: [%s]%s%s: %s", file, group,
              key ? " " : "", key ? key : "", what);
  return FALSE;
}

// A group's keys into a command, each checked to be a field of its kind.
static gboolean
take_group(GKeyFile *keys, const char *group, LzCommand *command, const char *file, GError **error)
{
  const LzKind *kind = lz_kind_find(lz_command_kind(command));
  lz_command_set_place(command, group); // a refusal names the group that a person has to mend
  g_auto(GStrv) names = g_key_file_get_keys(keys, group, NULL, error);
  if (!names)
    return FALSE;
  for (char **name = names; *name; name++) {
    g_autoptr(GError) bad = NULL; // set beside a value, too
    g_autofree char *value = g_key_file_get_string(keys, group, *name, &bad);
    if (bad)
      return wrong(error, file, group, *name,
                   _("a backslash is followed by what it cannot stand before; accepted are \\\\, "
                     "\\n, \\r, \\s and \\t"));
    if (!lz_kind_field(kind, *name))
      return wrong(error, file, group, *name, _("there is no such field"));
    lz_command_set(command, *name, g_strstrip(value));
  }
  return TRUE;
}

typedef struct {
  GKeyFile *keys;
  const char *file;
  char *name; // "Name/2"
  GPtrArray *out;
} Loading;

static gboolean
load_protocol(Loading *l, GError **error)
{
  LzCommand *command = lz_command_new("protocol");
  g_ptr_array_add(l->out, command);
  if (!g_key_file_has_group(l->keys, "protocol"))
    return wrong(error, l->file, "protocol", NULL, _("the group is missing"));
  if (!take_group(l->keys, "protocol", command, l->file, error))
    return FALSE;
  const char *name = lz_command_get(command, "name"), *version = lz_command_get(command, "version");
  if (!name)
    return wrong(error, l->file, "protocol", "name", _("nothing was given"));
  if (!version)
    lz_command_set(command, "version", "1");
  l->name = g_strdup_printf("%s/%s", name, version ? version : "1");
  return TRUE;
}

static gboolean
load_phase(Loading *l, const char *group, int phase, GError **error)
{
  LzCommand *command = lz_command_new("phase");
  g_autofree char *position = g_strdup_printf("%d", phase);
  g_ptr_array_add(l->out, command);
  lz_command_set(command, "protocol", l->name);
  lz_command_set(command, "position", position);
  return take_group(l->keys, group, command, l->file, error);
}

static gboolean
load_band(Loading *l, const char *group, int phase, GError **error)
{
  LzCommand *command = lz_command_new("band");
  g_autofree char *of = g_strdup_printf("%s/%d", l->name, phase);
  g_ptr_array_add(l->out, command);
  lz_command_set(command, "phase", of);
  return take_group(l->keys, group, command, l->file, error);
}

static gboolean
load_groups(Loading *l, GError **error)
{
  g_auto(GStrv) groups = g_key_file_get_groups(l->keys, NULL);
  int expected = 1;
  for (char **group = groups; *group; group++) {
    int phase = 0, band = 0, used = 0;
    if (strcmp(*group, "protocol") == 0)
      continue;
    if (sscanf(*group, "phase %d band %d%n", &phase, &band, &used) == 2 && (*group)[used] == '\0') {
      if (phase != expected - 1)
        return wrong(error, l->file, *group, NULL, _("a band stands behind its phase"));
      if (!load_band(l, *group, phase, error))
        return FALSE;
    } else if (sscanf(*group, "phase %d%n", &phase, &used) == 1 && (*group)[used] == '\0') {
      if (phase != expected)
        return wrong(error, l->file, *group, NULL, _("phases are numbered 1, 2, 3 in their order"));
      if (!load_phase(l, *group, phase, error))
        return FALSE;
      expected++;
    } else {
      return wrong(error, l->file, *group, NULL,
                   _("accepted are [protocol], [phase N] and [phase N band M]"));
    }
  }
  return expected > 1 || wrong(error, l->file, "phase 1", NULL, _("the group is missing"));
}

GPtrArray *
lz_protocol_parse(const char *text, gsize length, const char *name_for_messages, GError **error)
{
  g_autoptr(GKeyFile) keys = g_key_file_new();
  g_autoptr(GPtrArray) out = g_ptr_array_new_with_free_func((GDestroyNotify)lz_command_free);
  Loading l = {keys, name_for_messages, NULL, out};
  const char *from;
  if (!lz_text_check(text, length, &from, error) ||
      !g_key_file_load_from_data(keys, from, length - (gsize)(from - text), G_KEY_FILE_NONE,
                                 error)) {
    g_prefix_error(error, "%s: ", name_for_messages);
    return NULL;
  }
  gboolean ok = load_protocol(&l, error) && load_groups(&l, error);
  g_free(l.name);
  return ok ? g_steal_pointer(&out) : NULL;
}

GPtrArray *
lz_protocol_load(const char *path, GError **error)
{
  g_autofree char *text = NULL;
  gsize length;
  if (!g_file_get_contents(path, &text, &length, error))
    return NULL;
  return lz_protocol_parse(text, length, path, error);
}

const char *
lz_data_dir(void)
{
  const char *set = g_getenv("LAZARET_DATA_DIR");
  return set && *set ? set : LAZARET_DATA_DIR;
}

static int
by_name(gconstpointer a, gconstpointer b)
{
  return strcmp(*(char *const *)a, *(char *const *)b);
}

GPtrArray *
lz_protocol_files(void)
{
  GPtrArray *files = g_ptr_array_new_with_free_func(g_free);
  g_autofree char *folder = g_build_filename(lz_data_dir(), "protocols", NULL);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  const char *name;
  while (dir && (name = g_dir_read_name(dir)))
    if (g_str_has_suffix(name, ".protocol"))
      g_ptr_array_add(files, g_build_filename(folder, name, NULL));
  g_ptr_array_sort(files, by_name);
  return files;
}

// --- back to a file

static void
dump_fields(LzEntry *entry, const char *skip, GString *out)
{
  const LzKind *kind = lz_kind_find(lz_entry_kind(entry));
  for (guint i = 0; i < kind->n_fields; i++) {
    const LzField *field = &kind->fields[i];
    if (!lz_entry_has(entry, field->name) || field->type == LZ_FIELD_REF ||
        (skip && strcmp(field->name, skip) == 0))
      continue;
    g_autofree char *value = NULL;
    if (field->type == LZ_FIELD_TEXT || field->type == LZ_FIELD_WORD)
      value = g_strdup(lz_entry_text(entry, field->name));
    else if (field->type == LZ_FIELD_BOOL)
      value = g_strdup(lz_entry_int(entry, field->name) ? "yes" : "no");
    else
      value = lz_format_machine(lz_entry_number(entry, field->name));
    g_string_append_printf(out, "%s=%s\n", field->name, value);
  }
}

// Ids of the entities of a kind whose reference `field` is `to`, in order of making.
static GArray *
parts_of(LzDesk *desk, const char *kind, const char *field, int64_t to)
{
  g_autoptr(GArray) all = lz_desk_entities(desk, kind);
  GArray *parts = g_array_new(FALSE, FALSE, sizeof(int64_t));
  for (guint i = 0; i < all->len; i++) {
    int64_t id = g_array_index(all, int64_t, i);
    LzEntry *entry = lz_desk_entity(desk, kind, id);
    if (entry && lz_entry_int(entry, field) == to)
      g_array_append_val(parts, id);
  }
  return parts;
}

char *
lz_protocol_dump(LzDesk *desk, int64_t protocol)
{
  GString *out = g_string_new("[protocol]\n");
  LzEntry *entry = lz_desk_entity(desk, "protocol", protocol);
  if (entry)
    dump_fields(entry, NULL, out);
  g_autoptr(GArray) phases = parts_of(desk, "phase", "protocol", protocol);
  for (guint i = 0; i < phases->len; i++) {
    int64_t phase = g_array_index(phases, int64_t, i);
    LzEntry *described = lz_desk_entity(desk, "phase", phase);
    int position = (int)lz_entry_int(described, "position");
    g_string_append_printf(out, "\n[phase %d]\n", position);
    dump_fields(described, "position", out);
    g_autoptr(GArray) bands = parts_of(desk, "band", "phase", phase);
    for (guint b = 0; b < bands->len; b++) {
      g_string_append_printf(out, "\n[phase %d band %u]\n", position, b + 1);
      dump_fields(lz_desk_entity(desk, "band", g_array_index(bands, int64_t, b)), NULL, out);
    }
  }
  return g_string_free(out, FALSE);
}
