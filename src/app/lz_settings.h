// SPDX-License-Identifier: GPL-3.0-or-later
// The settings of this PC (GSettings), found also when the program runs from where it was built.
#ifndef LZ_SETTINGS_H
#define LZ_SETTINGS_H

#include <gio/gio.h>
#include <lz_engine.h>

#define LZ_APP_ID "net.lazaret.Lazaret"

typedef enum {
  LZ_THEME_SYSTEM,
  LZ_THEME_LIGHT,
  LZ_THEME_DARK,
  LZ_THEME_CONTRAST, // black on white
  LZ_THEME_CONTRAST_DARK
} LzTheme;
typedef enum { LZ_DECIMAL_LANGUAGE, LZ_DECIMAL_POINT, LZ_DECIMAL_COMMA } LzDecimal;

// The one settings object of the process; owned by it.
GSettings *lz_settings(void);
// Sets LANGUAGE from the setting. Call before the first string is looked up.
void lz_settings_apply_language(void);
// The sign that separates decimals on screen, '.' or ','.
char lz_settings_decimal(void);
// What a number of this analyte typed without a unit is in: "F", "SG", or NULL = the record's own.
const char *lz_settings_typed_unit(lzq_analyte analyte);
// 1 Monday .. 7 Sunday.
int lz_settings_first_day(void);

#endif
