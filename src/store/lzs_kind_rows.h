// SPDX-License-Identifier: GPL-3.0-or-later
// How rows of the table of kinds are written: shared by lzs_kind_setup.c and lzs_kind_facts.c only.
#ifndef LZS_KIND_ROWS_H
#define LZS_KIND_ROWS_H

#include "lzs_kind.h"

#define TEXT(n, need, h)                                                                           \
  {                                                                                                \
    n, LZS_T_TEXT, 0, NULL, need, 0, 0, h                                                          \
  }
#define WORD(n, need, w, h)                                                                        \
  {                                                                                                \
    n, LZS_T_WORD, 0, w, need, 0, 0, h                                                             \
  }
#define REAL(n, need, lo, hi, h)                                                                   \
  {                                                                                                \
    n, LZS_T_REAL, 0, NULL, need, lo, hi, h                                                        \
  }
#define INT(n, need, lo, hi, h)                                                                    \
  {                                                                                                \
    n, LZS_T_INT, 0, NULL, need, lo, hi, h                                                         \
  }
#define BOOL(n, h)                                                                                 \
  {                                                                                                \
    n, LZS_T_BOOL, 0, NULL, false, 0, 1, h                                                         \
  }
#define REF(n, need, k, h)                                                                         \
  {                                                                                                \
    n, LZS_T_REF, k, NULL, need, 0, 0, h                                                           \
  }
#define END                                                                                        \
  {                                                                                                \
    0                                                                                              \
  }
#define KIND(k, n, p, setup, f, label)                                                             \
  {                                                                                                \
    k, n, p, setup, f, sizeof(f) / sizeof((f)[0]) - 1, label                                       \
  }

// Words that several kinds share.
#define W_ANALYTE                                                                                  \
  "copper|salinity|temperature|ph|ammonia|nitrite|nitrate|oxygen|alkalinity|chlorine|"             \
  "praziquantel|chloroquine|formalin|peroxide"
#define W_GIVEN W_ANALYTE "|reducing_agent" // what is given and never read comes last
#define W_FORM  "none|ionic|amine|chelated"
#define W_ROLE  "receiving|treatment|finishing|isolation|display"
#define W_GEAR  "skimmer|uv|carbon|resin|ozone|air|heater|pump"
#define W_SIGN  "nobody|person|vet"

// Both in the order of lzs_kind: set-up kinds are LZS_STATION .. LZS_LOT, the rest are facts.
extern const lzs_kind_spec lzs_kinds_setup[LZS_LOT + 1];
extern const lzs_kind_spec lzs_kinds_facts[LZS_N_KINDS - LZS_LOT - 1];

#endif
