// SPDX-License-Identifier: GPL-3.0-or-later
// See stage.h. The tree is read afresh at each look: libatspi keeps nothing.
#include "stage.h"

#include <check.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "stage_look.h"
#include "stage_private.h"

#define DEADLINE_S 60 // two cores shared with a whole test run
#define LOOK_US    40000

void
stage_drain(void)
{
  while (g_main_context_iteration(NULL, FALSE))
    ;
}

static gboolean
is_ours(AtspiAccessible *application, GPid pid)
{
  return application && (GPid)atspi_accessible_get_process_id(application, NULL) == pid;
}

static gboolean
find_root(Stage *stage, gpointer data)
{
  AtspiAccessible *desktop = atspi_get_desktop(0);
  atspi_accessible_clear_cache(desktop);
  int n = atspi_accessible_get_child_count(desktop, NULL);
  for (int i = 0; i < n && !stage->root; i++) {
    g_autoptr(AtspiAccessible) child = atspi_accessible_get_child_at_index(desktop, i, NULL);
    if (is_ours(child, stage->app))
      stage->root = g_steal_pointer(&child);
  }
  g_object_unref(desktop);
  if (!stage->root)
    return FALSE;
  atspi_accessible_set_cache_mask(stage->root, ATSPI_CACHE_NONE);
  return TRUE;
}

static gboolean
add_words(AtspiAccessible *accessible, int depth, gpointer data)
{
  g_autofree char *role = atspi_accessible_get_role_name(accessible, NULL);
  g_autofree char *words = look_said(accessible);
  gboolean focus = look_has_state(accessible, ATSPI_STATE_FOCUSED);
  if (focus || (*words && !g_str_has_prefix(words, "Gtk")))
    g_string_append_printf(data, "%*s%s: %s%s\n", depth, "", role, words, focus ? " <focus>" : "");
  return FALSE;
}

char *
stage_words(Stage *stage)
{
  GString *all = g_string_new(NULL);
  stage_drain();
  look_walk(stage->root, stage->root, 0, add_words, all);
  return g_string_free(all, FALSE);
}

void
stage_until(Stage *stage, const char *what, StageTest test, gpointer data)
{
  gint64 deadline = g_get_monotonic_time() + DEADLINE_S * G_USEC_PER_SEC;
  do {
    stage_drain();
    if (test(stage, data))
      return;
    g_usleep(LOOK_US);
    ck_assert_msg(waitpid(stage->app, NULL, WNOHANG) == 0, "the program ended; waited for: %s",
                  what);
  } while (g_get_monotonic_time() < deadline);
  g_autofree char *words = stage->root ? stage_words(stage) : g_strdup("nothing");
  ck_abort_msg("waited %d s for: %s\nshown:\n%.3000s", DEADLINE_S, what, words);
}

static gboolean
has_words(AtspiAccessible *accessible, int depth, gpointer data)
{
  g_autofree char *words = look_said(accessible);
  return strstr(words, data) != NULL;
}

static gboolean
shows(Stage *stage, gpointer words)
{
  return look_walk(stage->root, stage->root, 0, has_words, words);
}

static gboolean
shows_not(Stage *stage, gpointer words)
{
  return !look_walk(stage->root, stage->root, 0, has_words, words);
}

gboolean
stage_shows(Stage *stage, const char *words)
{
  stage_drain();
  return shows(stage, (gpointer)words);
}

void
stage_wait(Stage *stage, const char *words)
{
  stage_until(stage, words, shows, (gpointer)words);
}

void
stage_wait_gone(Stage *stage, const char *words)
{
  g_autofree char *what = g_strconcat("no more: ", words, NULL);
  stage_until(stage, what, shows_not, (gpointer)words);
}

typedef struct {
  AtspiRole role;
  const char *name;
  gboolean focused;
  AtspiAccessible *found;
} Wanted;

static gboolean
is_wanted(AtspiAccessible *accessible, int depth, gpointer data)
{
  Wanted *wanted = data;
  if (atspi_accessible_get_role(accessible, NULL) != wanted->role)
    return FALSE;
  if (wanted->focused && !look_has_state(accessible, ATSPI_STATE_FOCUSED))
    return FALSE;
  g_autofree char *words = look_said(accessible);
  if (!strstr(words, wanted->name))
    return FALSE;
  wanted->found = g_object_ref(accessible);
  return TRUE;
}

static gboolean
find(Stage *stage, gpointer data)
{
  return look_walk(stage->root, stage->root, 0, is_wanted, data);
}

AtspiAccessible *
stage_find(Stage *stage, AtspiRole role, const char *name)
{
  Wanted wanted = {.role = role, .name = name};
  g_autofree char *role_name = atspi_role_get_name(role);
  g_autofree char *what = g_strdup_printf("%s \"%s\"", role_name, name);
  stage_until(stage, what, find, &wanted);
  return wanted.found;
}

void
stage_wait_focus(Stage *stage, AtspiRole role, const char *name)
{
  Wanted wanted = {.role = role, .name = name, .focused = TRUE};
  g_autofree char *role_name = atspi_role_get_name(role);
  g_autofree char *what = g_strdup_printf("the focus on %s \"%s\"", role_name, name);
  stage_until(stage, what, find, &wanted);
  g_clear_object(&wanted.found);
}

void
stage_walk(Stage *stage, LookVisit visit, gpointer data)
{
  stage_drain();
  look_walk(stage->root, stage->root, 0, visit, data);
}

gboolean
stage_has_focus(Stage *stage, AtspiRole role, const char *name)
{
  Wanted wanted = {.role = role, .name = name, .focused = TRUE};
  stage_drain();
  gboolean found = find(stage, &wanted);
  g_clear_object(&wanted.found);
  return found;
}

void
stage_keys(Stage *stage, const char *keys)
{
  g_auto(GStrv) each = g_strsplit(keys, " ", -1);
  g_autofree char *line = g_strdup_printf("xdotool key --delay 8 %s", keys);
  session_run(stage->session, line);
  stage->n_keys += g_strv_length(each);
}

void
stage_type(Stage *stage, const char *text)
{
  g_autofree char *quoted = g_shell_quote(text);
  g_autofree char *line = g_strdup_printf("xdotool type --delay 8 -- %s", quoted);
  session_run(stage->session, line);
  stage->n_keys += (guint)g_utf8_strlen(text, -1);
}

void
stage_pad(Stage *stage, const char *digits)
{
  g_autoptr(GString) keys = g_string_new(NULL);
  for (const char *c = digits; *c; c++) {
    if (g_ascii_isdigit(*c))
      g_string_append_printf(keys, "%sKP_%c", keys->len ? " " : "", *c);
    else
      g_string_append_printf(keys, "%sKP_Decimal", keys->len ? " " : "");
  }
  stage_keys(stage, keys->str);
}

guint
stage_n_keys(Stage *stage)
{
  return stage->n_keys;
}

GPid
stage_pid(Stage *stage)
{
  return stage->app;
}

void
stage_run(Stage *stage, const char *line)
{
  session_run(stage->session, line);
}

Ctl *
stage_ctl(Stage *stage)
{
  return stage->ctl;
}

static gboolean
has_focus_state(AtspiAccessible *accessible, int depth, gpointer data)
{
  return look_has_state(accessible, ATSPI_STATE_FOCUSED);
}

// Keys pressed before the window has the focus would go nowhere.
static gboolean
takes_keys(Stage *stage, gpointer data)
{
  return look_walk(stage->root, stage->root, 0, has_focus_state, NULL);
}

char *
stage_call(Stage *stage, const char *clock)
{
  g_autofree char *file = g_shell_quote(stage->ctl->file);
  g_autofree char *option = clock ? g_strdup_printf("--clock %s", clock) : g_strdup("");
  return g_strdup_printf("%s %s %s", g_getenv("LAZARET"), option,
                         stage->arguments ? stage->arguments : file);
}

void
stage_launch(Stage *stage, const char *clock)
{
  g_autofree char *line = stage_call(stage, clock);
  stage->app = session_spawn(stage->session, line, NULL);
  stage_until(stage, "the program on the accessibility bus", find_root, NULL);
  stage_wait(stage, "Lazaret");
  stage_until(stage, "the focus somewhere in the window", takes_keys, NULL);
}

static gboolean
has_ended(Stage *stage, gpointer status)
{
  return waitpid(stage->app, status, WNOHANG) == stage->app;
}

// Ctrl+Q, and the program ends with 0.
static void
quit(Stage *stage)
{
  int status = -1;
  gint64 deadline = g_get_monotonic_time() + DEADLINE_S * G_USEC_PER_SEC;
  g_clear_object(&stage->root);
  stage_keys(stage, "ctrl+q");
  while (!has_ended(stage, &status) && g_get_monotonic_time() < deadline) {
    stage_drain();
    g_usleep(LOOK_US);
  }
  ck_assert_msg(status == 0, "the program ended with %d", status);
}

Stage *
stage_start(Ctl *c, const char *clock, const char *arguments)
{
  Stage *stage = g_new0(Stage, 1);
  stage->ctl = c;
  stage->arguments = g_strdup(arguments);
  stage->session = session_start(c->folder);
  ck_assert_int_le(atspi_init(), 1);
  stage_launch(stage, clock);
  return stage;
}

void
stage_reopen(Stage *stage, const char *clock)
{
  quit(stage);
  stage_launch(stage, clock);
}

void
stage_kill(Stage *stage, const char *clock)
{
  g_clear_object(&stage->root);
  kill(stage->app, SIGKILL);
  ck_assert_int_eq(waitpid(stage->app, NULL, 0), stage->app);
  stage_launch(stage, clock);
}

void
stage_end(Stage *stage)
{
  quit(stage);
  session_end(stage->session);
  g_free(stage->arguments);
  g_free(stage);
}

typedef struct {
  const char *table;
  guint n;
  Table *rows;
} Rows;

static gboolean
has_rows(Stage *stage, gpointer data)
{
  Rows *wanted = data;
  g_clear_pointer(&wanted->rows, table_free);
  wanted->rows = ctl_table(stage->ctl, "export %s", wanted->table);
  return wanted->rows->rows->len == wanted->n;
}

Table *
stage_rows(Stage *stage, const char *table, guint n)
{
  Rows wanted = {.table = table, .n = n};
  g_autofree char *what = g_strdup_printf("%u rows of %s in the file", n, table);
  stage_until(stage, what, has_rows, &wanted);
  return wanted.rows;
}
