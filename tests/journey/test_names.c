// SPDX-License-Identifier: GPL-3.0-or-later
// What a screen reader finds: every place and every panel is walked on the accessibility bus, what
// can take the focus has a role and a name, and the tables of roles and names are kept as files
// beside this one (digits as #). LAZARET_WRITE_TABLES=1 writes them anew, to be read
// before they are kept.
#include <string.h>

#include "journey.h"
#include "stage_look.h"

static const struct {
  const char *file, *key, *shows;
} pages[] = {{"round", "F2", "Morning round"},
             {"water", "F3", "What is in the water"},
             {"lots", "F4", "Not released yet, because"},
             {"plan", "F5", "Plan"},
             {"station", "F6", "Sections"},
             {"ledger", "F7", "Every entry as it was written"},
             {"receive", "ctrl+b", "Room for all boxes"},
             {"handover", "ctrl+h", "Read back and taken over by"},
             {"power", "slash p o w e r Return", "first aid"},
             {"amount", "F3 ctrl+m", "nothing is recorded here"},
             {"form-reading", "F2 ctrl+r", "New reading"},
             {"print", "F2 ctrl+p", "Sheet"},
             {"person", "F2 ctrl+u", "Initials"},
             {"preferences", "ctrl+comma", "Size of text, percent"},
             {"set-up", "ctrl+n", "1. The station"},
             {"what-if", "F5 Insert", "nothing is recorded"},
             {"go-to", "F2 slash", "Go to"},
             {"keys", "F2 F1", "Shortcuts"}};

typedef struct {
  const char *page;
  GString *table;
} Found;

// Rows, drawings and boxes to tick speak of the record: they must have a name, and the table keeps
// their role alone.
static gboolean
speaks_of_the_record(AtspiRole role)
{
  return role == ATSPI_ROLE_LIST_ITEM || role == ATSPI_ROLE_TABLE_ROW || role == ATSPI_ROLE_IMAGE ||
         role == ATSPI_ROLE_CHECK_BOX || role == ATSPI_ROLE_PANEL;
}

static gboolean
add_focusable(AtspiAccessible *accessible, int depth, gpointer data)
{
  Found *found = data;
  if (!look_has_state(accessible, ATSPI_STATE_FOCUSABLE))
    return FALSE;
  g_autofree char *role = atspi_accessible_get_role_name(accessible, NULL);
  g_autofree char *name = atspi_accessible_get_name(accessible, NULL);
  ck_assert_msg(name && *name && !g_str_has_prefix(name, "Gtk"),
                "%s: a %s that takes the focus has no name", found->page, role);
  gboolean alone = speaks_of_the_record(atspi_accessible_get_role(accessible, NULL)) ||
                   g_str_has_suffix(name, ": correct"); // an entry's own words
  g_autofree char *line = g_strdup_printf("%s: %s\n", role, alone ? "…" : name);
  for (char *c = line; *c; c++)
    if (g_ascii_isdigit(*c))
      *c = '#';
  if (!strstr(found->table->str, line)) // equal lines once
    g_string_append(found->table, line);
  return FALSE;
}

static void
compare(const char *file, const char *found)
{
  g_autofree char *name = g_strconcat(file, ".txt", NULL);
  g_autofree char *path = g_build_filename(g_getenv("JOURNEY_TABLES"), name, NULL);
  g_autofree char *kept = NULL;
  if (g_getenv("LAZARET_WRITE_TABLES"))
    ck_assert_msg(g_file_set_contents(path, found, -1, NULL), "cannot write %s", path);
  ck_assert_msg(g_file_get_contents(path, &kept, NULL, NULL), "no %s", path);
  ck_assert_msg(strcmp(kept, found) == 0, "%s differs; found:\n%s", path, found);
}

// Windows and popovers of their own, which Escape closes.
static gboolean
is_over_the_place(const char *file)
{
  static const char *const over[] = {"person", "preferences", "set-up", "keys", NULL};
  return g_strv_contains(over, file);
}

static Ctl *
station(void)
{
  Ctl *c = case_ionic("pause", "metal");
  case_read(c, "2027-03-04 08:00 0.19\n2027-03-05 07:00 0.19\n");
  return c;
}

START_TEST(test_every_page_has_roles_and_names)
{
  Ctl *c = station();
  Stage *s = stage_start(c, "2027-03-05T07:40+01:00", NULL);
  for (size_t i = 0; i < G_N_ELEMENTS(pages); i++) {
    Found found = {pages[i].file, g_string_new(NULL)};
    stage_keys(s, pages[i].key);
    stage_wait(s, pages[i].shows);
    stage_walk(s, add_focusable, &found);
    compare(pages[i].file, found.table->str);
    g_string_free(found.table, TRUE);
    stage_keys(s, "Escape");
    if (is_over_the_place(pages[i].file))
      stage_wait_gone(s, pages[i].shows); // or the next key would go to what is closing
  }
  stage_end(s);
  ctl_free(c);
}
END_TEST

// Before any station is there.
START_TEST(test_start_has_roles_and_names)
{
  Ctl *c = ctl_new();
  Stage *s = stage_start(c, NULL, "");
  Found found = {"start", g_string_new(NULL)};
  stage_wait(s, "Set up your own");
  stage_walk(s, add_focusable, &found);
  compare("start", found.table->str);
  g_string_free(found.table, TRUE);
  stage_end(s);
  ctl_free(c);
}
END_TEST

int
main(void)
{
  const TTest *const tests[] = {test_every_page_has_roles_and_names, test_start_has_roles_and_names,
                                NULL};
  return journey_run("journey: roles and names", tests);
}
