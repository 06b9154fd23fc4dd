// SPDX-License-Identifier: GPL-3.0-or-later
// Letting go of a station's file. Of a large one this PC's copy is written now and then, which
// takes seconds: then the window is gone already, and the program stays until it is done.
#ifndef LZ_CLOSING_H
#define LZ_CLOSING_H

#include <lz_desk.h>

// desk (transfer full): nobody may use it any more. In the main thread.
void lz_closing_begin(LzDesk *desk);
// Until no file is being closed; not in the main thread.
void lz_closing_wait(void);

#endif
