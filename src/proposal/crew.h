/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the crew pack: the set-out table, and the plans that show what it speaks of. */
#pragma once

#include "proposal/book.h"
#include "proposal/setout.h"

/* The fixed points that rows use, in the order in which they get their letters: (element-type
 * guint). */
GArray *bl_crew_points (const BlSetout *setout, BlSetoutWays ways);
/* The letters of @point among @used. */
void bl_crew_letter (const GArray *used, guint point, char letter[4]);
/* Their letters as marks on the plan: (element-type BlPlanMark). */
GArray *bl_crew_marks (const BlSetout *setout, BlSetoutWays ways);
/* "EP 7" for each row of a plant: (element-type utf8). */
GPtrArray *bl_crew_names (const BlBookPart *part, const BlSetout *setout);
/* "EP c" for each corner of a drift, "5" for one of a bed line: (element-type utf8). */
GPtrArray *bl_crew_corner_names (const BlBookPart *part, const BlSetout *setout);
/* A tape reading: feet, inches and quarters, or metres to the centimetre. */
char *bl_crew_tape (const BlBook *book, double metres);
/* The pages of the table. */
void bl_crew_setout (BlBook *book, const BlBookPart *part, const BlSetout *setout,
                     BlSetoutWays ways);

/* A page for a plan of the part, on its side where the beds are wider than high. */
void bl_plan_page (BlBook *book, const BlBookPart *part, const char *title);
/* The kinds of a part, tall to low. (element-type BlPlant, borrowed) */
GPtrArray *bl_plan_kinds (const BlBookPart *part);
/* Every key with its plant and number at the foot of the page; returns the height it needs, and sets
 * nothing where @draw is FALSE. */
double bl_plan_key (BlBook *book, const BlBookPart *part, const GPtrArray *kinds, gboolean draw);
/* The plans of the crew pack: with every plant numbered, and of the outlines to mark. */
void bl_crew_plans (BlBook *book, const BlBookPart *part, const BlSetout *setout, BlSetoutWays ways);
