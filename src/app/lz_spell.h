// SPDX-License-Identifier: GPL-3.0-or-later
// A number in words, in the language of the program, so that a slip of ten is seen before Enter.
#ifndef LZ_SPELL_H
#define LZ_SPELL_H

// "six hundred eighty-four mL"; newly allocated, NULL where `value` has no words. language is a
// code such as "de"; NULL = the language of the program. unit may be "".
char *lz_spell(double value, const char *unit, const char *language);

#endif
