// SPDX-License-Identifier: GPL-3.0-or-later
// Buttons pressed by their action, and anything else by the pointer itself.
#include <check.h>

#include "stage_private.h"

#define AGAIN_US 400000 // GTK drops a second activation within 250 ms of the first

typedef struct {
  const char *name;
  gboolean pressed;
} Key;

// The button of exactly this name: digits are parts of other names.
static gboolean
press_exact(AtspiAccessible *accessible, int depth, gpointer data)
{
  Key *key = data;
  g_autofree char *name = atspi_accessible_get_name(accessible, NULL);
  if (atspi_accessible_get_role(accessible, NULL) != ATSPI_ROLE_PUSH_BUTTON ||
      g_strcmp0(name, key->name) != 0)
    return FALSE;
  g_autoptr(AtspiAction) action = atspi_accessible_get_action_iface(accessible);
  key->pressed = action && atspi_action_do_action(action, 0, NULL);
  return key->pressed;
}

static gboolean
is_pressed(Stage *s, gpointer data)
{
  stage_walk(s, press_exact, data);
  return ((Key *)data)->pressed;
}

void
stage_press_all(Stage *s, const char *const *names)
{
  for (int i = 0; names[i]; i++) {
    if (i > 0 && g_str_equal(names[i], names[i - 1]))
      g_usleep(AGAIN_US);
    stage_until(s, names[i], is_pressed, &(Key){names[i], FALSE});
  }
}

void
stage_press(Stage *stage, AtspiRole role, const char *name)
{
  g_autoptr(AtspiAccessible) found = stage_find(stage, role, name);
  g_autoptr(AtspiAction) action = atspi_accessible_get_action_iface(found);
  ck_assert_msg(action && atspi_action_do_action(action, 0, NULL), "cannot press %s", name);
}

// GTK 4.8 gives a box to tick no action, so the pointer goes there.
void
stage_click(Stage *stage, AtspiRole role, const char *name)
{
  g_autoptr(AtspiAccessible) found = stage_find(stage, role, name);
  g_autoptr(AtspiComponent) area = atspi_accessible_get_component_iface(found);
  g_autofree AtspiRect *box =
      area ? atspi_component_get_extents(area, ATSPI_COORD_TYPE_WINDOW, NULL) : NULL;
  ck_assert_msg(box && box->width > 0, "nothing to click: %s", name);
  g_autofree char *line =
      g_strdup_printf("xdotool getactivewindow mousemove --window %%1 %d %d click 1",
                      box->x + box->height / 2, box->y + box->height / 2);
  session_run(stage->session, line);
}
