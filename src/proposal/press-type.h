/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The type styles: one Pango layout a piece of text. */
#pragma once

#include <pango/pangocairo.h>

#include "proposal/press.h"

/* A layout in @style, @width points wide (0 = one line). The caller unrefs it. */
PangoLayout *bl_press_layout (BlPress *press, BlTypeStyle style, double width, BlAlign align,
                              const char *markup);
BlColor bl_press_style_color (BlTypeStyle style);
