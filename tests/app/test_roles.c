// SPDX-License-Identifier: GPL-3.0-or-later
// docs/roles.md as the window keeps it: a form that is not for whoever is here says so at its head
// and cannot be recorded, a field or button that is not for them is shut with the reason beside it.
// `command-roles` proves the same table at the ledger.
#include <string.h>

#include "lz_app_station.h"
#include "lz_app_test.h"
#include "lz_application.h"
#include "lz_form_private.h"
#include "lz_place.h"
#include "lz_window.h"

static LzAppStation station;
static GtkApplication *application;
static GtkWidget *form;

static const char *const initials[] = {"OT", "MK", "VV"}; // keeper, lead, veterinarian
enum { N_ROLES = G_N_ELEMENTS(initials) };

static void
setup(void)
{
  lz_app_station_open(&station);
  lz_app_station_lot(&station);
  lz_app_submit(&station, "lot", "code", "0413", "tank", "Blue-2/2", "heads", "4", NULL);
  lz_app_submit(&station, "person", "role", "keeper", "name", "Otto", "initials", "OT", NULL);
  lz_app_submit(&station, "person", "role", "vet", "name", "Vera", "initials", "VV", NULL);
  form = g_object_ref_sink(lz_form_new());
}

static void
teardown(void)
{
  g_assert_finalize_object(form);
  lz_app_station_close(&station);
}

static void
be(int role)
{
  lz_desk_set_actor(station.desk, lz_desk_find(station.desk, "person", initials[role]));
}

// What a cell's first words add to the kind: who or what it is about, and the field.
typedef struct {
  const char *words, *about, *lot, *field;
} Part;

static const Part parts[] = {
    {"", NULL, NULL, NULL},
    {": one's own initials, contact, PIN", "own", NULL, NULL},
    {": one's own role", "own", NULL, "role"},
    {": its `limit_level`", "C-14", NULL, "limit_level"},
    {": the record proves it", NULL, "0412", NULL},
    {": fish that were never under a protocol", NULL, "0413", NULL},
};

// Not in any form of the window: these rows are `command-roles`' alone.
static const char *const elsewhere[] = {": signed off", ": as the veterinarian",
                                        ": of a file with real entries"};

static const Part *
part_of(const char *words)
{
  for (guint i = 0; i < G_N_ELEMENTS(parts); i++)
    if (strcmp(parts[i].words, words) == 0)
      return &parts[i];
  for (guint i = 0; i < G_N_ELEMENTS(elsewhere); i++)
    if (strcmp(elsewhere[i], words) == 0)
      return NULL;
  ck_abort_msg("docs/roles.md says %s, which nothing here looks at", words);
}

static void
open_part(const char *kind, const Part *part, int role)
{
  GVariantBuilder fields;
  g_variant_builder_init(&fields, G_VARIANT_TYPE("a{ss}"));
  if (part->lot)
    g_variant_builder_add(&fields, "{ss}", "lot", part->lot);
  g_autoptr(GVariant) begin = g_variant_ref_sink(g_variant_builder_end(&fields));
  const char *about = g_strcmp0(part->about, "own") == 0 ? initials[role] : part->about;
  lz_form_open(LZ_FORM(form), station.desk, kind, 0, about, begin);
}

static gboolean
is_open(const char *field)
{
  LzForm *self = LZ_FORM(form);
  LzFormField *input = field ? lz_form_find(self, field) : NULL;
  GtkWidget *widget = input ? input->input : GTK_WIDGET(self->record);
  gboolean open = gtk_widget_get_sensitive(widget);
  // never shut without a word
  const char *said =
      field ? gtk_widget_get_tooltip_text(widget) : gtk_label_get_label(self->for_whom);
  ck_assert_msg(open || g_str_has_prefix(said, "For a "), "%s", said);
  ck_assert_int_eq(gtk_widget_get_visible(GTK_WIDGET(self->for_whom)),
                   !gtk_widget_get_sensitive(GTK_WIDGET(self->record)));
  return open;
}

START_TEST(every_cell_of_the_table)
{
  g_autofree char *name = g_build_filename(g_getenv("LAZARET_DOCS"), "roles.md", NULL), *text;
  ck_assert(g_file_get_contents(name, &text, NULL, NULL));
  g_auto(GStrv) lines = g_strsplit(text, "\n", -1);
  guint n = 0;
  for (char **line = lines; *line; line++) {
    if (!g_str_has_prefix(*line, "| `"))
      continue;
    g_auto(GStrv) cells = g_strsplit(*line, "|", -1);
    g_auto(GStrv) first = g_strsplit(g_strstrip(cells[1]), "`", 3);
    const Part *part = part_of(first[2]);
    for (int role = 0; part && role < N_ROLES; role++) {
      gboolean may = strcmp(g_strstrip(cells[2 + role]), "yes") == 0;
      be(role);
      open_part(first[1], part, role);
      ck_assert_msg(is_open(part->field) == may, "%s by %s: %s", cells[1], initials[role],
                    may ? "shut" : "open");
      n++;
    }
  }
  ck_assert_uint_ge(n, 3 * 40);
}
END_TEST

START_TEST(an_open_form_follows_who_is_here)
{
  be(0);
  lz_form_open(LZ_FORM(form), station.desk, "system", 0, NULL, NULL);
  ck_assert(!is_open(NULL));
  be(1);
  ck_assert(is_open(NULL));
  be(2);
  ck_assert(!is_open(NULL));
}
END_TEST

// The first widget below `root` that has this action.
static GtkWidget *
with_action(GtkWidget *root, const char *action, const char *target)
{
  if (GTK_IS_ACTIONABLE(root)) {
    GVariant *has = gtk_actionable_get_action_target_value(GTK_ACTIONABLE(root));
    if (g_strcmp0(gtk_actionable_get_action_name(GTK_ACTIONABLE(root)), action) == 0 &&
        (!target || (has && strcmp(g_variant_get_string(has, NULL), target) == 0)))
      return root;
  }
  GtkWidget *found = NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(root); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = with_action(child, action, target);
  return found;
}

START_TEST(places_shut_what_is_for_others)
{
  GtkWindow *window = GTK_WINDOW(lz_window_new(application));
  lz_window_set_desk(LZ_WINDOW(window), g_object_ref(station.desk));
  gtk_window_present(window);
  lz_wait_until(gtk_widget_get_mapped(GTK_WIDGET(window)));
  static const struct {
    const char *place, *show, *action, *target;
    gboolean may[N_ROLES];
  } shown[] = {
      {"station", "systems", "station.add", NULL, {FALSE, TRUE, FALSE}},
      {"station", "people", "station.add", NULL, {FALSE, TRUE, FALSE}},
      {"station", "species", "station.add", NULL, {FALSE, TRUE, TRUE}},
      {"station", "instruments", "station.add", NULL, {TRUE, TRUE, TRUE}},
      {"lots", "0413", "lots.act", "release", {FALSE, TRUE, TRUE}},
      {"lots", "0412", "lots.act", "release", {TRUE, TRUE, TRUE}},
      {"lots", "0413", "lots.act", "move", {TRUE, TRUE, TRUE}},
  };
  for (guint i = 0; i < G_N_ELEMENTS(shown); i++)
    for (int role = 0; role < N_ROLES; role++) {
      be(role);
      gtk_widget_activate_action(GTK_WIDGET(window), "win.show", "(ss)", shown[i].place,
                                 shown[i].show);
      GtkWidget *place = GTK_WIDGET(lz_window_place(LZ_WINDOW(window)));
      GtkWidget *button = with_action(place, shown[i].action, shown[i].target);
      ck_assert_ptr_nonnull(button);
      ck_assert_msg(gtk_widget_get_sensitive(button) == shown[i].may[role], "%s %s by %s",
                    shown[i].show, shown[i].action, initials[role]);
      if (!shown[i].may[role])
        ck_assert(g_str_has_prefix(gtk_widget_get_tooltip_text(button), "For a "));
    }
  gtk_window_destroy(window);
}
END_TEST

int
main(void)
{
  Suite *suite = suite_create("roles");
  TCase *roles = tcase_create("roles");
  if (!gtk_init_check())
    return 77;
  application = lz_application_new();
  g_application_set_flags(G_APPLICATION(application), G_APPLICATION_NON_UNIQUE);
  g_application_register(G_APPLICATION(application), NULL, NULL);
  tcase_set_timeout(roles, 60);
  tcase_add_checked_fixture(roles, setup, teardown);
  tcase_add_test(roles, every_cell_of_the_table);
  tcase_add_test(roles, an_open_form_follows_who_is_here);
  tcase_add_test(roles, places_shut_what_is_for_others);
  suite_add_tcase(suite, roles);
  return lz_app_test_run(suite, true);
}
