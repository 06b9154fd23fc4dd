// SPDX-License-Identifier: GPL-3.0-or-later
// One window of the program on a display of its own, driven as a person would: keys go through the
// X server, what is shown is read from the accessibility bus. Every wait is a condition with a
// deadline; a test fails with the words that are on the screen.
#ifndef STAGE_H
#define STAGE_H

#include <atspi/atspi.h>

#include "../command/ctl.h"

// libatspi 2.46 brings none.
G_DEFINE_AUTOPTR_CLEANUP_FUNC(AtspiAccessible, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(AtspiComponent, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(AtspiText, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(AtspiAction, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC(AtspiStateSet, g_object_unref)

typedef struct _Stage Stage;

// The program opens the station of `c` with its clock standing at `clock` (ISO 8601 with an
// offset), or with the real clock where it is NULL. `arguments` NULL = the station's file; "" = no
// file at all. One stage at a time, and a second login beside it.
Stage *stage_start(Ctl *c, const char *clock, const char *arguments);
// Somebody else's login at the same display, with settings of their own, opens the same file. Keys
// go to the window in front, which is the new one. stage_end it before the first.
Stage *stage_login(Stage *first, const char *clock);
void stage_to_front(Stage *stage);
gboolean stage_is_in_front(Stage *stage);
guint stage_n_windows(Stage *stage); // of the program
// The program is called again in the same login with the same file, by its name and by a link; it
// hands over and ends.
void stage_call_again(Stage *stage);
// Closes the window as Ctrl+Q does and waits for the program to end well.
void stage_end(Stage *stage);
// The same file again at another time, on the same display.
void stage_reopen(Stage *stage, const char *clock);
// The program is killed as by a power cut, and opened again at another time.
void stage_kill(Stage *stage, const char *clock);
GPid stage_pid(Stage *stage);
// Another program in the same session; waits for its end, which must be 0.
void stage_run(Stage *stage, const char *line);

// Keys by their X names, separated by spaces: "F4 Down ctrl+p".
void stage_keys(Stage *stage, const char *keys);
// Types text as letters; pad: digits, point and Return of the number pad.
void stage_type(Stage *stage, const char *text);
void stage_pad(Stage *stage, const char *digits);
guint stage_n_keys(Stage *stage); // pressed since the start

// All words that are shown now, one accessible a line as "role: name", newly allocated.
char *stage_words(Stage *stage);
gboolean stage_shows(Stage *stage, const char *words);
// Wait until (no) shown accessible has these words in its name, text or description.
void stage_wait(Stage *stage, const char *words);
void stage_wait_gone(Stage *stage, const char *words);
// Wait until the focus is on an accessible whose name has these words ("" = any), of this role.
void stage_wait_focus(Stage *stage, AtspiRole role, const char *name);
gboolean stage_has_focus(Stage *stage, AtspiRole role, const char *name); // now
// A shown accessible of this role, its name containing `name`; waits for it. Unref after use.
AtspiAccessible *stage_find(Stage *stage, AtspiRole role, const char *name);
// Its first action: a button is pressed.
void stage_press(Stage *stage, AtspiRole role, const char *name);
// The pointer goes to its near end and clicks.
void stage_click(Stage *stage, AtspiRole role, const char *name);
// Buttons of exactly these names, one after the other; NULL at the end.
void stage_press_all(Stage *stage, const char *const *names);
// What an accessible shows: its text, else its name. Newly allocated.
char *stage_text(AtspiAccessible *accessible);

// All that is shown, each accessible in turn; see look_walk.
void stage_walk(Stage *stage, gboolean (*visit)(AtspiAccessible *, int depth, gpointer),
                gpointer data);

// A condition of the test's own, tried until it holds or the deadline has passed.
typedef gboolean (*StageTest)(Stage *stage, gpointer data);
void stage_until(Stage *stage, const char *what, StageTest test, gpointer data);

Ctl *stage_ctl(Stage *stage);
// Waits until `lazaretctl FILE export TABLE` has n rows, and returns them.
Table *stage_rows(Stage *stage, const char *table, guint n);

#endif
