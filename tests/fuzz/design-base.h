/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small design file with every table filled, to be damaged. */
#pragma once

#include "design/design.h"

/* The file's bytes; made once from base.sheet.json and three edits. */
GBytes *design_base (void);
/* Opens @path, which may be damaged in any way, and uses what opens: checks, undo and redo over the
 * whole history, and the sheet. */
void design_base_use (const char *path);
