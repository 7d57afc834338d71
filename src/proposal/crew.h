/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the crew pack: the set-out table and what the plan shows of it. */
#pragma once

#include "proposal/book.h"
#include "proposal/setout.h"

/* The fixed points that rows use, in the order in which they get their letters: (element-type
 * guint). */
GArray *bl_crew_points (const BlSetout *setout);
/* Their letters as marks on the plan: (element-type BlPlanMark). */
GArray *bl_crew_marks (const BlSetout *setout);
/* "EP 7" for each row: (element-type utf8). */
GPtrArray *bl_crew_names (const BlBookPart *part, const BlSetout *setout);
/* A tape reading: feet, inches and quarters, or metres to the centimetre. */
char *bl_crew_tape (const BlBook *book, double metres);
/* The pages of the table. */
void bl_crew_setout (BlBook *book, const BlBookPart *part, const BlSetout *setout);
