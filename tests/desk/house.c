// SPDX-License-Identifier: GPL-3.0-or-later
// See house.h.
#include "house.h"

#include <lz_protocol_file.h>
#include <string.h>

static const char protocol[] =
    "[protocol]\nname=House\nversion=1\nsource=invented for a test\n"
    "[phase 1]\nname=Hold\nkind=hold\nplace=stay\nmin_credit_min=30240\nsighting_to=1\n"
    "[phase 1 band 1]\nanalyte=copper\nform=ionic\nside=at_or_above\nworks=0.18\ntarget=0.19\n"
    "plan=0.21\nharm=0.25\ngap_min=1440\n";

void
house_open(Lab *lab)
{
  g_autoptr(GError) error = NULL;
  lab_open(lab, "2027-03-01 06:00");
  lab_station(lab);
  lab_say(lab, "system", NULL, "name", "Blue-1", "volume_l", "2400", "role", "treatment", NULL);
  lab_say(lab, "tank", NULL, "system", "Blue-1", "number", "1", NULL);
  lab_say(lab, "bottle", NULL, "name", "C-07", "analyte", "copper", "form", "ionic", "strength",
          "1.00", "strength_as", "metal", NULL);
  lab_say(lab, "instrument", NULL, "name", "P1", "method", "photometer", "sees", "all", "error_abs",
          "0.01", NULL);
  g_autoptr(GPtrArray) all = lz_protocol_parse(protocol, strlen(protocol), "House", &error);
  ck_assert_msg(all && lz_desk_submit(lab->desk, (LzCommand *const *)all->pdata, all->len, &error),
                "%s", error ? error->message : "");
}

void
house_reopen(Lab *lab)
{
  int64_t actor = lz_desk_actor(lab->desk);
  lab_reopen(lab);
  lz_desk_set_actor(lab->desk, actor);
}

void
house_course(Lab *lab, const char *at)
{
  lab_go(lab, at);
  lab_say(lab, "lot", NULL, "code", "0412", "tank", "Blue-1/1", "heads", "30", NULL);
  lab_say(lab, "course", NULL, "lot", "0412", "protocol", "House", NULL);
}

int64_t
house_read(Lab *lab, const char *at, const char *value)
{
  lab_go(lab, at);
  return lab_say(lab, "reading", NULL, "system", "Blue-1", "analyte", "copper", "value", value,
                 "instrument", "P1", NULL);
}
