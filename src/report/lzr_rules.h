// SPDX-License-Identifier: GPL-3.0-or-later
// What rules on records name, and where on our paper it stands. A template, not legal advice: the
// rules' own duty depends on the holding, and national rules may ask for more.
#ifndef LZR_RULES_H
#define LZR_RULES_H

#include <glib.h>

typedef enum {
  LZR_KEPT,   // printed where `where` says
  LZR_LINKED, // the station keeps it elsewhere; the sheet leaves room to say where
} LzrKeeping;

typedef struct {
  const char *rule;  // "2016/429 art. 186(1)"
  const char *field; // what it names, in our words; translated by the caller
  const char *where; // "Receipts", or who keeps it
  LzrKeeping keeping;
} LzrRuleField;

// Regulation (EU) 2016/429 art. 186(1), Regulation (EU) 2019/6 art. 108(2) and Delegated
// Regulation (EU) 2020/691 art. 30, in the order of their points.
const LzrRuleField *lzr_rule_fields(guint *n);

#endif
