// SPDX-License-Identifier: GPL-3.0-or-later
// Text as the store accepts it: well-formed UTF-8, and the closed lists of words.
#include "lzs_text.h"

#include <string.h>

// Bytes of the character that starts at s, 0 if it is ill-formed (RFC 3629, section 4).
static size_t
character(const unsigned char *s)
{
  if (s[0] < 0x80)
    return 1;
  size_t n = s[0] >= 0xF0 ? 4 : s[0] >= 0xE0 ? 3 : 2;
  unsigned char low = 0x80, high = 0xBF; // range of the second byte
  switch (s[0]) {
  case 0xE0: low = 0xA0; break;
  case 0xED: high = 0x9F; break;
  case 0xF0: low = 0x90; break;
  case 0xF4: high = 0x8F; break;
  default:
    if (s[0] < 0xC2 || s[0] > 0xF4)
      return 0;
  }
  if (s[1] < low || s[1] > high)
    return 0;
  for (size_t i = 2; i < n; i++)
    if ((s[i] & 0xC0) != 0x80)
      return 0;
  return n;
}

bool
lzs_text_valid(const char *text)
{
  const unsigned char *s = (const unsigned char *)text;
  while (*s != 0) {
    size_t n = character(s);
    if (n == 0)
      return false;
    s += n;
  }
  return true;
}

bool
lzs_text_one_of(const char *text, const char *words)
{
  size_t n = strcspn(text, "|");
  if (text[n] == '|')
    return false;
  for (const char *w = words; n > 0 && w != NULL; w = strchr(w, '|')) {
    if (*w == '|')
      w++;
    if (strncmp(w, text, n) == 0 && (w[n] == '|' || w[n] == '\0'))
      return true;
  }
  return false;
}
