/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a stored thing must be: the same rules for what is typed, read from a sheet or from a file.
 */
#pragma once

#include "design/model.h"

#define BL_MAX_POINTS 10000        /* of one outline */
#define BL_MAX_STOOD 20000         /* plants of one planting whose places are kept */
#define BL_MAX_NAME 400            /* bytes of a name or key */
#define BL_MAX_TEXT 40000          /* bytes of notes and ideas */
#define BL_MAX_RECORD 40000        /* bytes of a plant record */
#define BL_MAX_ROWS 200000         /* of one table */
#define BL_MAX_METRES 1e5          /* a plan coordinate */
#define BL_MAX_PIXELS 1e6          /* a photo coordinate */
#define BL_MAX_PICTURE (64 * 1024 * 1024) /* bytes of a photo */
#define BL_MAX_MINOR 1000000000000 /* of a price, minor units */

/* Each: TRUE, or BL_ERROR_INPUT with what is wrong and what to do. @thorough also looks whether an
 * outline crosses itself, which a file is trusted about when it is merely opened. */
gboolean bl_check_bed (const BlBed *bed, gboolean thorough, GError **error);
gboolean bl_check_feature (const BlFeature *feature, gboolean thorough, GError **error);
gboolean bl_check_known (const BlKnown *known, GError **error);
gboolean bl_check_alternative (const BlAlternative *alternative, GError **error);
gboolean bl_check_planting (const BlPlanting *planting, gboolean thorough, GError **error);
gboolean bl_check_override (const BlOverride *override, GError **error);
gboolean bl_check_care_mark (const BlCareMark *mark, GError **error);
gboolean bl_check_own_task (const BlOwnTask *task, GError **error);
gboolean bl_check_plant (const BlPlant *plant, GError **error);
gboolean bl_check_tape (const BlTape *tape, GError **error);
gboolean bl_check_price_item (const BlPriceItem *item, GError **error);
gboolean bl_check_site (const BlSite *site, GError **error);
gboolean bl_check_photo (const BlPhotoInfo *photo, GError **error);
gboolean bl_check_drawing (const BlDrawing *drawing, GError **error);
/* One of the named texts of a design: "title", "units" ... */
gboolean bl_check_text (const char *name, const char *value, GError **error);
/* What holds between the parts: names of beds and of alternatives are unique, every planting's bed,
 * alternative and plant are there. */
gboolean bl_check_whole (const BlModel *model, GError **error);
/* The names that bl_check_text knows, NULL-terminated. */
const char *const *bl_text_names (void);
/* A name in a message: short enough to read, "unnamed" for none. */
const char *bl_shown (const char *name);
