// SPDX-License-Identifier: GPL-3.0-or-later
// See week.h.
#include "week.h"

#include <lz_protocol_file.h>

Lab lab;
lzt_prng prng;
static int64_t bottle;
static int64_t spare[2]; // a system and an instrument that nobody names

GArray *said;

static const char *const systems[] = {"Blue-1", "Blue-2", "Blue-3"};

void
week_begin(void)
{
  lab_open(&lab, "2027-03-01 08:00");
  lab_station(&lab);
  g_autofree char *path =
      g_build_filename(lz_data_dir(), "protocols", "complexed-copper-low-salinity.protocol", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) protocol = lz_protocol_load(path, &error);
  ck_assert_msg(protocol && lz_desk_submit(lab.desk, (LzCommand *const *)protocol->pdata,
                                           protocol->len, &error),
                "%s", error ? error->message : "?");
  said = g_array_new(FALSE, FALSE, sizeof(Said));
  spare[0] =
      lab_say(&lab, "system", NULL, "name", "Spare", "volume_l", "90", "role", "isolation", NULL);
  spare[1] = lab_say(&lab, "instrument", NULL, "name", "Old", "method", "conductivity", NULL);
  for (int i = 0; i < 3; i++) {
    lab_say(&lab, "system", NULL, "name", systems[i], "volume_l", "1800", "role",
            i == 2 ? "finishing" : "treatment", NULL);
    lab_say(&lab, "tank", NULL, "system", systems[i], "number", "1", NULL);
  }
  bottle = lab_say(&lab, "bottle", NULL, "name", "C-14", "analyte", "copper", "form", "amine",
                   "strength", "5.00", NULL);
  lab_say(&lab, "bottle", NULL, "name", "F-1", "analyte", "praziquantel", "strength", "100",
          "prescription", "R-7", "volume_ml", "500", NULL);
  lab_say(&lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "all",
          "error_abs", "0.02", NULL);
  lab_say(&lab, "instrument", NULL, "name", "M1", "method", "conductivity", "error_abs", "0.2",
          NULL);
  lab_say(&lab, "lot", NULL, "code", "L0", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(&lab, "course", NULL, "lot", "L0", "protocol", "Complexed copper with lowered salinity",
          NULL);
}

void
week_end(void)
{
  g_array_unref(said);
  lab_close(&lab);
}

static const char *
some_system(void)
{
  return systems[lzt_prng_range(&prng, 0, 2)];
}

static LzCommand *
draw_water(void)
{
  const int64_t luck = lzt_prng_range(&prng, 0, 9);
  g_autofree char *copper = g_strdup_printf("%.3f", lzt_prng_real(&prng, 0.1, 0.6));
  g_autofree char *salt = g_strdup_printf("%.1f", lzt_prng_real(&prng, 15, 34));
  g_autofree char *litres = g_strdup_printf("%.0f", lzt_prng_real(&prng, 20, 700));
  const char *system = some_system();
  if (luck < 4)
    return lz_command_build("reading", "system", system, "analyte", "copper", "value", copper,
                            "instrument", "P1", NULL);
  if (luck < 6)
    return lz_command_build("reading", "system", system, "analyte", "salinity", "value", salt,
                            "instrument", "M1", NULL);
  if (luck < 8)
    return lz_command_build("change", "system", system, "litres", litres, "new_salinity", salt,
                            "new_copper", copper, NULL);
  if (luck < 9)
    return lz_command_build("topup", "system", system, "litres", "12", NULL);
  return lz_command_build("dose", "system", system, "bottle", "C-14", "amount_ml", litres, NULL);
}

static LzCommand *
draw_lot(int step)
{
  g_autofree char *tank = g_strdup_printf("%s/1", some_system());
  g_autofree char *code = g_strdup_printf("L%d", step);
  const GPtrArray *lots = lab.desk->model->by_kind[LZS_LOT];
  const guint which = (guint)lzt_prng_range(&prng, 0, lots->len - 1);
  const char *lot = ((const LzEntity *)lots->pdata[which])->label;
  switch (lzt_prng_range(&prng, 0, 13)) {
  case 0: return lz_command_build("lot", "code", code, "tank", tank, "heads", "9", NULL);
  case 1:
    return lz_command_build("course", "lot", "L0", "protocol",
                            "Complexed copper with lowered salinity", NULL);
  case 2: return lz_command_build("move", "lot", "L0", "tank", tank, NULL);
  case 3: return lz_command_build("death", "lot", "L0", "heads", "1", NULL);
  case 4: return lz_command_build("sighting", "system", some_system(), "heads", "1", NULL);
  case 5:
    return lz_command_build("check", "instrument", lzt_prng_chance(&prng, 0.5) ? "P1" : "M1", "ok",
                            lzt_prng_chance(&prng, 0.8) ? "yes" : "no", NULL);
  case 6: return lz_command_build("split", "lot", "L0", "code", code, "heads", "2", NULL);
  case 7: return lz_command_build("merge", "lot", lot, "into", "L0", NULL);
  case 8: return lz_command_build("release", "lot", lot, NULL);
  case 9: return lz_command_build("count", "lot", lot, "heads", "7", NULL);
  case 10: return lz_command_build("stop", "lot", "L0", NULL);
  case 11:
    return lz_command_build("feed", "lot", "L0", "eaten_share", "0.8", "bottle", "F-1",
                            "medicine_mg", "40", NULL);
  default:
    return lz_command_build("feed", "lot", lzt_prng_chance(&prng, 0.5) ? lot : "L0", "eaten_share",
                            "0.9", NULL);
  }
}

// Something said before, taken back or said again; what it does not name stays as it was.
static LzCommand *
draw_back(void)
{
  const guint i = (guint)lzt_prng_range(&prng, 0, said->len - 1);
  const Said *of = &g_array_index(said, Said, i);
  LzCommand *c = lz_command_new(of->kind);
  if (g_str_equal(of->kind, "reading"))
    lz_command_set(c, "value", "0.21");
  if (g_str_equal(of->kind, "change") || g_str_equal(of->kind, "topup"))
    lz_command_set(c, "litres", "33");
  if (g_str_equal(of->kind, "feed") && lzt_prng_chance(&prng, 0.5)) {
    lz_command_set(c, "bottle", "F-1");
    lz_command_set(c, "medicine_mg", "20");
  }
  lz_command_set_corrects(c, of->id, lzt_prng_chance(&prng, 0.3));
  return c;
}

LzCommand *
week_bottle_anew(void)
{
  g_autofree char *strength = g_strdup_printf("%.2f", lzt_prng_real(&prng, 3, 7));
  LzCommand *c = lz_command_build("bottle", "name", "C-14", "analyte", "copper", "form", "amine",
                                  "strength", strength, NULL);
  lz_command_set_corrects(c, bottle, FALSE);
  lz_command_set_reason(c, "misread");
  return c;
}

// A system described anew: its volume counts from then on.
static LzCommand *
system_anew(void)
{
  LzCommand *c = lz_command_build("system", "volume_l", "1750", NULL);
  lz_command_set_entity(c, some_system());
  return c;
}

LzCommand *
week_without_spare(gboolean system)
{
  LzCommand *c = lz_command_new(system ? "system" : "instrument");
  lz_command_set_reason(c, "never built");
  lz_command_set_corrects(c, spare[system ? 0 : 1], TRUE);
  return c;
}

// Another thing said now, late, or in the place of what was said before.
LzCommand *
week_draw(int step, gboolean back)
{
  LzCommand *c = NULL;
  if (back)
    c = draw_back();
  else if (lzt_prng_chance(&prng, 0.03))
    c = week_bottle_anew();
  else if (lzt_prng_chance(&prng, 0.03))
    c = lz_command_build("volume", "system", some_system(), "volume_l", "1700", NULL);
  else if (lzt_prng_chance(&prng, 0.03))
    c = system_anew();
  else
    c = lzt_prng_chance(&prng, 0.75) ? draw_water() : draw_lot(step);
  lz_command_set_reason(c, "a random week");
  if (lzt_prng_chance(&prng, 0.25))
    lz_command_set_at(c, lz_clock_now(lab.clock) - lzt_prng_range(&prng, 1, 3000));
  return c;
}
