// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers for people: decimal sign as set, narrow no-break space between thousands, a leading zero.
#include "lz_format.h"

#include <langinfo.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#define DASH  "\xe2\x80\x93" // en dash: nothing to say
#define THIN  "\xe2\x80\xaf" // narrow no-break space
#define MINUS "\xe2\x88\x92" // minus sign

static char decimal_sign = '.';

void
lz_format_set_decimal(char sign)
{
  decimal_sign = sign == ',' ? ',' : '.';
}

char
lz_format_decimal(void)
{
  return decimal_sign;
}

char
lz_format_login_decimal(void)
{
  // LC_NUMERIC stays C inside; the login's own locale says what people here are used to.
  locale_t locale = newlocale(LC_NUMERIC_MASK, "", (locale_t)0);
  if (!locale)
    return '.';
  char sign = *nl_langinfo_l(RADIXCHAR, locale);
  freelocale(locale);
  return sign == ',' ? ',' : '.';
}

// Groups the whole part of "1234567.8" and sets sign and separator.
static char *
dress(const char *plain)
{
  gboolean negative = plain[0] == '-' && strpbrk(plain, "123456789");
  if (plain[0] == '-')
    plain++;
  const char *point = strchr(plain, '.');
  gsize whole = point ? (gsize)(point - plain) : strlen(plain);
  GString *out = g_string_new(negative ? MINUS : "");
  for (gsize i = 0; i < whole; i++) {
    if (i > 0 && (whole - i) % 3 == 0)
      g_string_append(out, THIN);
    g_string_append_c(out, plain[i]);
  }
  if (point) {
    g_string_append_c(out, decimal_sign);
    g_string_append(out, point + 1);
  }
  return g_string_free(out, FALSE);
}

static void
print_plain(char *buffer, int size, double value, int decimals)
{
  char format[8];
  g_snprintf(format, sizeof format, "%%.%df", CLAMP(decimals, 0, 9));
  g_ascii_formatd(buffer, size, format, value);
}

char *
lz_format_number(double value, int decimals)
{
  char plain[400];
  if (!isfinite(value))
    return g_strdup(DASH);
  print_plain(plain, sizeof plain, value, decimals);
  return dress(plain);
}

char *
lz_format_short(double value, int max_decimals)
{
  char plain[400];
  if (!isfinite(value))
    return g_strdup(DASH);
  print_plain(plain, sizeof plain, value, max_decimals);
  if (strchr(plain, '.')) {
    gsize n = strlen(plain);
    while (plain[n - 1] == '0')
      plain[--n] = '\0';
    if (plain[n - 1] == '.')
      plain[n - 1] = '\0';
  }
  return dress(plain);
}

char *
lz_format_level(lzq_analyte analyte, double value)
{
  switch (analyte) {
  case LZQ_COPPER:
  case LZQ_AMMONIA:
  case LZQ_NITRITE: return lz_format_number(value, 3);
  case LZQ_PH:
  case LZQ_CHLORINE:
  case LZQ_PRAZIQUANTEL:
  case LZQ_OXYGEN:
  case LZQ_ALKALINITY: return lz_format_number(value, 2);
  case LZQ_SALINITY:
  case LZQ_TEMPERATURE:
  case LZQ_NITRATE:
  case LZQ_CHLOROQUINE: return lz_format_number(value, 1);
  default: return lz_format_number(value, 0);
  }
}

static const char *
unit_text(lzq_unit unit)
{
  switch (unit) {
  case LZQ_UNIT_ML: return " mL";
  case LZQ_UNIT_L: return " L";
  case LZQ_UNIT_G: return " g";
  case LZQ_UNIT_KG: return " kg";
  case LZQ_UNIT_MIN: return " min";
  default: return "";
  }
}

// Decimals that a hand can measure: a syringe shows tenths of a mL, a marked basin whole litres.
static int
amount_decimals(double value, lzq_unit unit)
{
  switch (unit) {
  case LZQ_UNIT_ML: return value < 1000 ? 1 : 0;
  case LZQ_UNIT_L: return value < 10 ? 1 : 0;
  case LZQ_UNIT_G: return value < 100 ? 1 : 0;
  case LZQ_UNIT_KG: return value < 10 ? 2 : 1;
  default: return 0;
  }
}

char *
lz_format_amount(double value, lzq_unit unit)
{
  if (!isfinite(value))
    return g_strdup(DASH);
  if (unit == LZQ_UNIT_G && value != 0 && fabs(value) < 1) { // never 0.0 g of a medicine
    g_autofree char *mg = lz_format_number(value * 1000, fabs(value) < 0.1 ? 1 : 0);
    return g_strconcat(mg, " mg", NULL);
  }
  g_autofree char *number = lz_format_number(value, amount_decimals(fabs(value), unit));
  return g_strconcat(number, unit_text(unit), NULL);
}

char *
lz_format_machine(double value)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];
  if (!isfinite(value))
    return g_strdup("");
  if (value == 0)
    return g_strdup("0");
  // No exponent for numbers that people may meet: 1800, never 1.8e+03.
  gboolean plain = fabs(value) < 1e15 && fabs(value) >= 1e-4;
  for (int digits = plain ? 0 : 1; digits <= 17; digits++) {
    char format[8];
    g_snprintf(format, sizeof format, plain ? "%%.%df" : "%%.%dg", digits);
    g_ascii_formatd(buffer, sizeof buffer, format, value);
    if (g_ascii_strtod(buffer, NULL) == value)
      return g_strdup(buffer);
  }
  return g_strdup(g_ascii_dtostr(buffer, sizeof buffer, value));
}
