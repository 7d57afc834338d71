/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days in words of the window's language, whatever the machine's own way of dates is. */
#pragma once

#include "base/date.h"

/* @month from 1, 1 = January. (transfer full) */
char *bl_day_words (int month, int day);       /* "21 June" */
char *bl_day_words_short (int month, int day); /* "21 Jun" */
char *bl_day_words_year (BlDay day);           /* "21 Jun 2026" */
