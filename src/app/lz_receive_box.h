// SPDX-License-Identifier: GPL-3.0-or-later
// One box of a shipment while it is unpacked: a row of fields in the receiving page's grid, in the
// order in which a hand meets them: water in the bag, fish, where they go.
#ifndef LZ_RECEIVE_BOX_H
#define LZ_RECEIVE_BOX_H

#include <gtk/gtk.h>
#include <lz_desk.h>

typedef enum {
  LZ_BOX_TEMPERATURE,
  LZ_BOX_SALINITY,
  LZ_BOX_PH,
  LZ_BOX_AMMONIA,
  LZ_BOX_SPECIES,
  LZ_BOX_INVOICED,
  LZ_BOX_COUNTED,
  LZ_BOX_DEAD,
  LZ_BOX_WEAK,
  LZ_BOX_MASS,
  LZ_BOX_TANK,
  LZ_BOX_LOT,
  LZ_N_BOX_FIELDS
} LzBoxField;

typedef struct {
  guint number; // 1, 2, 3 as on the box
  GtkWidget *label;
  GtkEntry *fields[LZ_N_BOX_FIELDS];
} LzReceiveBox;

// Widgets belong to the grid, row `number` of it. The signals "changed" and "activate" of every
// entry are the page's to connect.
LzReceiveBox *lz_receive_box_new(GtkGrid *grid, guint number);
// Takes its widgets off the grid.
void lz_receive_box_remove(LzReceiveBox *box, GtkGrid *grid);
// Heads of the columns, row 0.
void lz_receive_heads(GtkGrid *grid);

const char *lz_receive_box_text(const LzReceiveBox *box, LzBoxField field);
void lz_receive_box_set(LzReceiveBox *box, LzBoxField field, const char *text);
double lz_receive_box_number(const LzReceiveBox *box, LzBoxField field); // NAN = none, or no number
// Nothing about fish has been typed: what the program fills in itself does not count.
gboolean lz_receive_box_is_empty(const LzReceiveBox *box);
// The field of the lot's kind, as the draft and the command name it.
const char *lz_box_field_name(LzBoxField field);
gboolean lz_box_field_is_number(LzBoxField field);
// Which of its fields this widget is (or is inside of); LZ_N_BOX_FIELDS = none.
LzBoxField lz_receive_box_field_of(const LzReceiveBox *box, GtkWidget *widget);

#endif
