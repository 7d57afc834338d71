/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window's commands of a person's own plan symbol. */
#pragma once

#include "studio/window.h"

void bl_window_choose_symbol (BlWindow *window);
void bl_window_forget_symbol (BlWindow *window);
