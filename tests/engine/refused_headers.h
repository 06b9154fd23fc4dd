// SPDX-License-Identifier: GPL-3.0-or-later
// What the engine's public headers declare, as text.
#ifndef LZT_REFUSED_HEADERS_H
#define LZT_REFUSED_HEADERS_H

#include <stdbool.h>
#include <stddef.h>

typedef bool (*lzt_listed)(const char *name, size_t length);

// How many calls hand in memory, and may therefore be refused some; each must be listed. `folder`
// is the engine's.
int lzt_headers_ask(const char *folder, lzt_listed listed);

#endif
