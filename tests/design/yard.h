/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small library, a small design and a folder of its own for each test of design files. */
#pragma once

#include <glib/gstdio.h>
#include <string.h>

#include "base/error.h"
#include "base/rng.h"
#include "design/design.h"
#include "design/dump.h"
#include "design/sheet.h"
#include "plants/library.h"

#define YARD_PLANTS 4
extern const char *const yard_slugs[YARD_PLANTS];

/* A fresh folder; yard_remove_folder takes it away with all in it. */
char *yard_folder (void);
void yard_remove_folder (char *folder);
char *yard_path (const char *folder, const char *name);
/* The bytes of @from as a file @to, in place of what stands there. */
void yard_copy_file (const char *from, const char *to);

/* The four plants of few.plants, compiled once a program. */
BlLibrary *yard_library (void);
void yard_end (void);

/* Puts the four plants' records; within an edit. */
void yard_put_plants (BlDesign *design);
/* A square bed on the plan with its corner at (@x, @y); within an edit. Returns its id. */
gint64 yard_put_bed (BlDesign *design, const char *name, double x, double y, double side);
gint64 yard_put_alternative (BlDesign *design, const char *name);
gint64
yard_put_specimen (
    BlDesign *design, gint64 alternative, gint64 bed, const char *slug, double x, double y);
/* Texts, bed "Strip", alternatives "A" and "B" with plantings of every form, prices, care: three
 * edits. */
void yard_fill (BlDesign *design);

/* The beginnings of edits that must go well. */
void yard_begin (BlDesign *design, const char *label);
void yard_commit (BlDesign *design);
/* Fails the test with the first breach of an invariant. */
void yard_assert_sound (BlDesign *design);
char *yard_dump (BlDesign *design);
/* Asserts that @error has @code and its message holds @part; frees it. */
void yard_assert_error (GError **error, int code, const char *part);
/* Does @work as a person without rights, for whom a mode of 0444 means something. */
void
yard_without_rights (
    void (*work) (const char *path, const char *part), const char *path, const char *part);
