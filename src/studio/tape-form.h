/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tape measurements between named points: a small form for the sheet of what is known. */
#pragma once

#include "studio/part.h"

GtkWidget *bl_tape_form_new (void);
void bl_tape_form_update (GtkWidget *form, BlBoard *board);
