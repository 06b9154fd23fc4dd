// SPDX-License-Identifier: GPL-3.0-or-later
// A lot's credit day by day, and the sentence above it.
#ifndef LZ_CREDIT_AREA_H
#define LZ_CREDIT_AREA_H

#include <gtk/gtk.h>
#include <lz_desk.h>

#define LZ_TYPE_CREDIT_AREA (lz_credit_area_get_type())
G_DECLARE_FINAL_TYPE(LzCreditArea, lz_credit_area, LZ, CREDIT_AREA, GtkWidget)

GtkWidget *lz_credit_area_new(void);
// FALSE where the lot's phases ask for no credit: the area is then empty.
gboolean lz_credit_area_set(LzCreditArea *self, LzDesk *desk, uint32_t lot);

#endif
