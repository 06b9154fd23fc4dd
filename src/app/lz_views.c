// SPDX-License-Identifier: GPL-3.0-or-later
#include "lz_views.h"

#include <string.h>

#include "lz_amount_view.h"
#include "lz_handover_view.h"
#include "lz_lots_view.h"
#include "lz_plan_view.h"
#include "lz_power_view.h"
#include "lz_print_view.h"
#include "lz_receive_view.h"
#include "lz_round_view.h"
#include "lz_start_view.h"
#include "lz_station_view.h"
#include "lz_water_view.h"

GtkWidget *
lz_view_new(const char *name, LzDesk *desk)
{
  static const struct {
    const char *name;
    GtkWidget *(*make)(LzDesk *desk);
  } views[] = {{"round", lz_round_view_new},       {"water", lz_water_view_new},
               {"lots", lz_lots_view_new},         {"plan", lz_plan_view_new},
               {"station", lz_station_view_new},   {"receive", lz_receive_view_new},
               {"handover", lz_handover_view_new}, {"power", lz_power_view_new},
               {"print", lz_print_view_new},       {"amount", lz_amount_view_new}};
  for (size_t i = 0; desk && i < G_N_ELEMENTS(views); i++)
    if (strcmp(views[i].name, name) == 0)
      return views[i].make(desk);
  return lz_start_view_new();
}
