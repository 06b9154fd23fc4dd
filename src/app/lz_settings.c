// SPDX-License-Identifier: GPL-3.0-or-later
// Where the schema is looked for: the system's folders first, then share/ beside bin/, then the
// data folder of a build, so that neither an install nor an environment variable is needed.
#include "lz_settings.h"

#include <lz_format.h>

static GSettingsSchema *
schema_beside_program(const char *relative)
{
  g_autofree char *program = g_file_read_link("/proc/self/exe", NULL);
  if (!program)
    return NULL;
  g_autofree char *folder = g_path_get_dirname(program);
  g_autofree char *dir = g_build_filename(folder, relative, NULL);
  g_autoptr(GSettingsSchemaSource) source = g_settings_schema_source_new_from_directory(
      dir, g_settings_schema_source_get_default(), FALSE, NULL);
  return source ? g_settings_schema_source_lookup(source, LZ_APP_ID, FALSE) : NULL;
}

static GSettingsSchema *
find_schema(void)
{
  GSettingsSchemaSource *usual = g_settings_schema_source_get_default();
  GSettingsSchema *schema = usual ? g_settings_schema_source_lookup(usual, LZ_APP_ID, TRUE) : NULL;
  static const char *const places[] = {"../share/glib-2.0/schemas", "../../data"};
  for (size_t i = 0; !schema && i < G_N_ELEMENTS(places); i++)
    schema = schema_beside_program(places[i]);
  return schema;
}

GSettings *
lz_settings(void)
{
  static GSettings *settings = NULL;
  if (g_once_init_enter(&settings)) {
    g_autoptr(GSettingsSchema) schema = find_schema();
    if (!schema)
      g_error("The settings schema %s is not installed.", LZ_APP_ID);
    g_once_init_leave(&settings, g_settings_new_full(schema, NULL, NULL));
  }
  return settings;
}

void
lz_settings_apply_language(void)
{
  g_autofree char *language = g_settings_get_string(lz_settings(), "language");
  if (*language)
    g_setenv("LANGUAGE", language, TRUE);
}

char
lz_settings_decimal(void)
{
  switch ((LzDecimal)g_settings_get_enum(lz_settings(), "decimal")) {
  case LZ_DECIMAL_POINT: return '.';
  case LZ_DECIMAL_COMMA: return ',';
  case LZ_DECIMAL_LANGUAGE: break;
  }
  return lz_format_login_decimal();
}

const char *
lz_settings_typed_unit(lzq_analyte analyte)
{
  if (analyte == LZQ_TEMPERATURE && g_settings_get_enum(lz_settings(), "temperature"))
    return "F";
  if (analyte == LZQ_SALINITY && g_settings_get_enum(lz_settings(), "salinity"))
    return "SG";
  return NULL;
}

int
lz_settings_first_day(void)
{
  return g_settings_get_enum(lz_settings(), "first-day");
}
