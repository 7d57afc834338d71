/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The design sheet: a whole design as JSON, in and out. */
#pragma once

#include "design/design.h"
#include "plants/library.h"

/**
 * bl_sheet_draft:
 * @json: the sheet's text
 * @folder: where relative photo paths are looked up; paths may not leave it
 * @path: the new design file, NULL = in memory; written only when all is well
 * Returns: (transfer full) (nullable): BL_ERROR_INPUT names the place:
 *   "beds[1].outline: crosses itself between points 4 and 9"
 */
BlDesign *bl_sheet_draft (const char *json, gssize length, const char *folder, BlLibrary *library,
                          const char *path, GError **error);
/* The sheet of a design, pretty printed; drafting it again gives the same sheet. The photo is
 * named, not embedded. */
char *bl_sheet_write (BlDesign *design, GError **error);
/* The same, without the records of plants that @library holds word for word; bl_sheet_write and
 * a NULL @library embed them all, so that the sheet stands by itself. */
char *bl_sheet_write_with (BlDesign *design, BlLibrary *library, GError **error);
