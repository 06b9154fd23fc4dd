// SPDX-License-Identifier: GPL-3.0-or-later
// See stage_look.h.
#include "stage_look.h"

#include "stage.h"

gboolean
look_has_state(AtspiAccessible *accessible, AtspiStateType state)
{
  g_autoptr(AtspiStateSet) set = atspi_accessible_get_state_set(accessible);
  return set && atspi_state_set_contains(set, state);
}

char *
stage_text(AtspiAccessible *accessible)
{
  g_autofree char *name = atspi_accessible_get_name(accessible, NULL);
  g_autoptr(AtspiText) text = atspi_accessible_get_text_iface(accessible);
  // GTK 4.8 returns nothing for an end of -1
  int n = text ? atspi_text_get_character_count(text, NULL) : 0;
  if (n <= 0)
    return name ? g_steal_pointer(&name) : g_strdup("");
  return atspi_text_get_text(text, 0, n, NULL);
}

char *
look_said(AtspiAccessible *accessible)
{
  g_autofree char *name = atspi_accessible_get_name(accessible, NULL);
  g_autofree char *text = stage_text(accessible);
  g_autofree char *more = atspi_accessible_get_description(accessible, NULL);
  GString *all = g_string_new(name ? name : "");
  if (g_strcmp0(name, text) != 0 && *text)
    g_string_append_printf(all, " [%s]", text);
  if (more && *more)
    g_string_append_printf(all, " (%s)", more);
  return g_string_free(all, FALSE);
}

static gboolean
is_hit(AtspiComponent *whole, int x, int y, AtspiAccessible *wanted)
{
  AtspiAccessible *hit =
      atspi_component_get_accessible_at_point(whole, x, y, ATSPI_COORD_TYPE_WINDOW, NULL);
  while (hit && hit != wanted) {
    AtspiAccessible *parent = atspi_accessible_get_parent(hit, NULL);
    g_object_unref(hit);
    hit = parent;
  }
  gboolean found = hit != NULL;
  g_clear_object(&hit);
  return found;
}

static AtspiAccessible *
window_of(AtspiAccessible *root, AtspiAccessible *accessible)
{
  AtspiAccessible *at = g_object_ref(accessible);
  while (at) {
    AtspiAccessible *parent = atspi_accessible_get_parent(at, NULL);
    if (parent == root) {
      g_object_unref(parent);
      return at;
    }
    g_object_unref(at);
    at = parent;
  }
  return NULL;
}

// GTK 4.8 tells nobody which page of a stack is shown, so ask what lies where the page would be.
static gboolean
is_on_top(AtspiAccessible *root, AtspiAccessible *page)
{
  g_autoptr(AtspiAccessible) window = window_of(root, page);
  g_autoptr(AtspiAccessible) child = atspi_accessible_get_child_at_index(page, 0, NULL);
  g_autoptr(AtspiComponent) area = child ? atspi_accessible_get_component_iface(child) : NULL;
  g_autoptr(AtspiComponent) whole = window ? atspi_accessible_get_component_iface(window) : NULL;
  if (!area || !whole)
    return FALSE;
  g_autofree AtspiRect *box = atspi_component_get_extents(area, ATSPI_COORD_TYPE_WINDOW, NULL);
  if (!box || box->width <= 0 || box->height <= 0)
    return FALSE;
  for (int i = 1; i < 64; i++) // not every point answers: step along a diagonal and back
    if (is_hit(whole, box->x + box->width * i / 64, box->y + box->height * (i * 23 % 64) / 64,
               child))
      return TRUE;
  return FALSE;
}

static gboolean
is_hidden_page(AtspiAccessible *root, AtspiAccessible *accessible)
{
  g_autofree char *name = atspi_accessible_get_name(accessible, NULL);
  return g_strcmp0(name, "GtkStackPage") == 0 && !is_on_top(root, accessible);
}

gboolean
look_walk(AtspiAccessible *root, AtspiAccessible *accessible, int depth, LookVisit visit,
          gpointer data)
{
  if (depth > 0 && is_hidden_page(root, accessible))
    return FALSE;
  if (depth > 0 && visit(accessible, depth, data))
    return TRUE;
  int n = atspi_accessible_get_child_count(accessible, NULL);
  for (int i = 0; i < n; i++) {
    g_autoptr(AtspiAccessible) child = atspi_accessible_get_child_at_index(accessible, i, NULL);
    if (child && look_walk(root, child, depth + 1, visit, data))
      return TRUE;
  }
  return FALSE;
}
