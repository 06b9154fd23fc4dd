// SPDX-License-Identifier: GPL-3.0-or-later
// What a course that moves a lot to another phase may keep: what would have earned then as well.
// Bands are compared by trying levels, not by comparing edges.
#include "oracle_lot.h"

static bool
earns(const lzq_band *band, double level)
{
  if (band->side == LZQ_BETWEEN)
    return level >= band->works && level <= band->works_high;
  return band->side == LZQ_AT_OR_BELOW ? level <= band->works : level >= band->works;
}

// Tried at each edge and to both sides of it.
static bool
earns_wherever(const lzq_band *before, const lzq_band *now)
{
  const double edges[] = {before->works, before->works_high, now->works, now->works_high};
  const double aside[] = {-1e6, -1e-9, 0, 1e-9, 1e6};
  for (int e = 0; e < 4; e++)
    for (int a = 0; a < 5; a++)
      if (earns(before, edges[e] + aside[a]) && !earns(now, edges[e] + aside[a]))
        return false;
  return true;
}

static bool
band_is_held(const lzq_phase *before, const lzq_band *now)
{
  for (uint32_t b = 0; b < before->n_bands; b++) {
    const lzq_band *had = &before->bands[b];
    bool same_thing =
        had->analyte == now->analyte && had->form == now->form && had->side == now->side;
    bool as_young = had->gap_min <= now->gap_min;
    bool as_sure = had->error_inside || !now->error_inside;
    if (same_thing && as_young && as_sure && earns_wherever(had, now))
      return true;
  }
  return false;
}

bool
lzt_may_keep(const lzq_phase *before, const lzq_phase *now)
{
  for (uint32_t b = 0; b < now->n_bands; b++)
    if (!band_is_held(before, &now->bands[b]))
      return false;
  if (before->kind != now->kind || before->place != now->place || before->medicine != now->medicine)
    return false;
  if (now->place == LZQ_PLACE_ROLE && before->role != now->role)
    return false;
  double cold = now->warm_from > 0 ? now->warm_from : 0,
         hot = now->warm_to > 0 ? now->warm_to : 1e9;
  double was_cold = before->warm_from > 0 ? before->warm_from : 0;
  double was_hot = before->warm_to > 0 ? before->warm_to : 1e9;
  if (was_cold < cold || was_hot > hot)
    return false;
  if ((now->dose_level > 0 && !(before->dose_level >= now->dose_level)) ||
      before->bath_min < now->bath_min ||
      lzt_waits_for_medicine(before) != lzt_waits_for_medicine(now))
    return false;
  if (now->lapse_min < 0)
    return true;
  bool restarts = before->lapse == LZQ_LAPSE_RESTART || now->lapse != LZQ_LAPSE_RESTART;
  return before->lapse_min >= 0 && before->lapse_min <= now->lapse_min && restarts;
}
