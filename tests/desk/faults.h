// SPDX-License-Identifier: GPL-3.0-or-later
// Faults that are made to happen to the desk of fault_lab, one function each, ending in the
// sentence of its row in docs/messages.md.
#ifndef FAULTS_H
#define FAULTS_H

#include "lab.h"

extern Lab fault_lab;

// A note by MK, not entered; how many there are.
LzCommand *fault_note(void);
guint fault_notes(void);
// Opening the file must give the sentence of the row `what`, with its path.
void fault_open_fails(const char *path, const char *what);

// faults_file.c
void fault_not_found(void);
void fault_exists(void);
void fault_not_a_station(void);
void fault_too_new(void);
void fault_cut_short(void);
void fault_changed_from_outside(void);

// faults_write.c
void fault_protected_file(void);
void fault_busy(void);
void fault_moved(void);
void fault_disk_full(void);
void fault_disk_fails(void);
void fault_network_drive(void);
void fault_another_wrote(void);
void fault_back_up_failed(void);

// faults_clock.c; what the wrapped calls of the C library and GLib answer is told there
void fault_clock_set_back(void);
void fault_zone_changed(void);
void fault_ahead_of_the_clock(void);
extern gboolean fault_on_network;

#endif
