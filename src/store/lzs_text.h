// SPDX-License-Identifier: GPL-3.0-or-later
// Internal: what the store asks of text. Normalisation (NFC) is the desk's.
#ifndef LZS_TEXT_H
#define LZS_TEXT_H

#include <stdbool.h>
#include <stddef.h>

// Well-formed UTF-8 (RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF).
bool lzs_text_valid(const char *text);

// Whether text is one of words, which are separated by '|'.
bool lzs_text_one_of(const char *text, const char *words);

#endif
