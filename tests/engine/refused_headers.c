// SPDX-License-Identifier: GPL-3.0-or-later
// See refused_headers.h.
#include "refused_headers.h"

#include <check.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

// What stands from the mark to the end of its line, away.
static void
strip(char *text, const char *mark)
{
  for (char *at = text; (at = strstr(at, mark));)
    while (*at && *at != '\n')
      *at++ = ' ';
}

static char *
text_of(const char *folder, const char *name)
{
  char path[1024];
  snprintf(path, sizeof path, "%s/%s", folder, name);
  FILE *file = fopen(path, "r");
  ck_assert_msg(file != NULL, "%s", path);
  char *text = calloc(1, 1 << 17);
  ck_assert_uint_lt(fread(text, 1, (1 << 17) - 1, file), (1 << 17) - 1);
  fclose(file);
  strip(text, "//");
  return text;
}

// Declarations of a header: those that hand in memory, and may therefore be refused some.
static int
ask_header(const char *folder, const char *header, lzt_listed listed)
{
  int found = 0;
  char *text = text_of(folder, header), *next;
  strip(text, "#");
  for (char *at = strtok_r(text, ";{}", &next); at; at = strtok_r(NULL, ";{}", &next)) {
    char *open = strchr(at, '(');
    if (!open || strstr(at, "typedef"))
      continue;
    const char *end = open, *name;
    for (name = end; name > at && (isalnum(name[-1]) || name[-1] == '_'); name--)
      ;
    while (isspace(*at))
      at++;
    const bool has_book = strstr(open, "lzq_book *") && !strstr(open, "const lzq_book *");
    const bool hands_memory =
        strstr(open, "lzq_arena *") || strstr(open, "lzq_allocator ") || has_book;
    const bool gives_nothing = strncmp(at, "void ", 5) == 0 && at[5] != '*';
    if (!hands_memory || gives_nothing)
      continue;
    ck_assert_msg(listed(name, (size_t)(end - name)), "%s: %.*s is not in the list of this test",
                  header, (int)(end - name), name);
    found++;
  }
  free(text);
  return found;
}

int
lzt_headers_ask(const char *folder, lzt_listed listed)
{
  int found = 0;
  char *all = text_of(folder, "lz_engine.h");
  for (char *at = all; (at = strstr(at, "#include \""));) {
    char header[64];
    at += strlen("#include \"");
    ck_assert_int_eq(sscanf(at, "%63[^\"]", header), 1);
    found += ask_header(folder, header, listed);
  }
  free(all);
  return found;
}
