/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The design file: one live SQLite database, always saved, every edit undoable for ever. */
#pragma once

#include <gio/gio.h>

#include "design/model.h"

#define BL_DESIGN_APPLICATION_ID 0x42444C4E /* "BDLN" */
#define BL_DESIGN_VERSION 2

#define BL_TYPE_DESIGN (bl_design_get_type ())
G_DECLARE_FINAL_TYPE (BlDesign, bl_design, BL, DESIGN, GObject)

/* What an edit touched, for signal "changed" (BlDamage *). */
typedef enum
{
  BL_TOUCHED_TEXTS = 1 << 0,        /* title, client, units, language ... */
  BL_TOUCHED_SITE = 1 << 1,
  BL_TOUCHED_PHOTO = 1 << 2,
  BL_TOUCHED_KNOWNS = 1 << 3,       /* and tape: everything on the ground may have moved */
  BL_TOUCHED_FEATURES = 1 << 4,
  BL_TOUCHED_BEDS = 1 << 5,
  BL_TOUCHED_ALTERNATIVES = 1 << 6,
  BL_TOUCHED_PLANTINGS = 1 << 7,
  BL_TOUCHED_PLANTS = 1 << 8,
  BL_TOUCHED_PRICES = 1 << 9,       /* price book and overrides */
  BL_TOUCHED_CARE = 1 << 10,
  BL_TOUCHED_DRAWING = 1 << 11,     /* what lies on it may have moved */
  BL_TOUCHED_ALL = (1 << 12) - 1
} BlTouched;

typedef struct
{
  BlTouched touched;
  BlRect plan;         /* metres; empty when nothing drawn changed */
} BlDamage;

typedef struct
{
  gint64 seq;
  char *label;         /* "Move 3 plants" */
  char *when;          /* ISO 8601, UTC */
  gboolean undone;
} BlHistoryEntry;
void bl_history_entry_free (BlHistoryEntry *entry);

/* Makes a new file; refuses an existing one (BL_ERROR_FILE). NULL @path: in memory only. */
BlDesign *bl_design_create (const char *path, GError **error);
/* Opens a file. One that is not a design, damaged, hostile (triggers, views, unknown tables), or
 * being written elsewhere is refused with one sentence; a newer version or a file that cannot be
 * written opens read-only (bl_design_read_only_reason). */
BlDesign *bl_design_open (const char *path, GError **error);
const char *bl_design_get_path (BlDesign *design);       /* NULL in memory */
const char *bl_design_read_only_reason (BlDesign *design); /* NULL when writable */
/* The present state: borrowed, valid until the next edit; take a ref for a thread. */
BlModel *bl_design_get_model (BlDesign *design);
/* Another program's edits: reloads and emits "changed" when the file moved on. TRUE if it did. */
gboolean bl_design_refresh (BlDesign *design, GError **error);

/* An edit: begin, any number of puts and removes, commit. All or nothing, one step of undo. The
 * model does not change until commit, which emits "changed" (BlDamage *). A failed put or commit
 * rolls the whole edit back. Nested begins are programmer errors. A begin (or undo, redo, go-to)
 * on a file that another program changed reads it again, emits "changed" and fails with
 * BL_ERROR_BUSY, so that nothing is written over unseen. From begin to commit other programs cannot
 * write: begin when the drag ends, not when it starts. */
gboolean bl_design_begin (BlDesign *design, const char *label, GError **error);
gboolean bl_design_commit (BlDesign *design, GError **error);
void bl_design_rollback (BlDesign *design);

/* id 0 inserts and sets the id; otherwise replaces. All validate their input. */
gboolean bl_design_put_bed (BlDesign *design, BlBed *bed, GError **error);
gboolean bl_design_put_feature (BlDesign *design, BlFeature *feature, GError **error);
gboolean bl_design_put_known (BlDesign *design, BlKnown *known, GError **error);
gboolean bl_design_put_alternative (BlDesign *design, BlAlternative *alternative, GError **error);
gboolean bl_design_put_planting (BlDesign *design, BlPlanting *planting, GError **error);
gboolean bl_design_put_override (BlDesign *design, BlOverride *override, GError **error);
gboolean bl_design_put_care_mark (BlDesign *design, BlCareMark *mark, GError **error);
gboolean bl_design_put_own_task (BlDesign *design, BlOwnTask *task, GError **error);
gboolean
bl_design_put_plant (BlDesign *design, BlPlant *plant, GError **error); /* copy of a record */
gboolean
bl_design_put_tape (BlDesign *design, const BlTape *tape, GError **error); /* NULL removes */
gboolean bl_design_put_price_item (BlDesign *design, const BlPriceItem *item, GError **error);
gboolean bl_design_put_price_book (BlDesign *design, const BlPriceBook *book, GError **error);
gboolean bl_design_put_site (BlDesign *design, const BlSite *site, GError **error);
gboolean bl_design_put_photo_info (BlDesign *design, const BlPhotoInfo *info, GError **error);
/* Stores photo bytes and what the metadata says (focal length, place if the site has none). */
gboolean bl_design_put_photo (BlDesign *design, GBytes *bytes, const char *name, GError **error);
/* Stores the picture of a base drawing (an SVG is drawn to one first, see bl_drawing_picture()). What
 * is known of the drawing before it goes: it was of another picture. */
gboolean bl_design_put_drawing (BlDesign *design, GBytes *bytes, const char *name, GError **error);
/* The known length, the place and the turn of the drawing there is; name and size stay. */
gboolean bl_design_put_drawing_info (BlDesign *design, const BlDrawing *drawing, GError **error);
/* Beds and features traced on it stay, without a size. */
gboolean bl_design_remove_drawing (BlDesign *design, GError **error);
/* Texts: "title", "client", "place", "designer", "notes", "units", "currency", "language",
 * "planting_day" (ISO date or empty), "id" (which a design has from the start). */
gboolean bl_design_put_text (BlDesign *design, const char *name, const char *value, GError **error);
/* Kinds: "bed", "feature", "known", "alternative", "planting", "override", "care_mark",
 * "own_task". Removing an alternative or a bed removes its plantings. */
gboolean bl_design_remove (BlDesign *design, const char *kind, gint64 id, GError **error);
/* A copy of an alternative with all its plantings; NULL @name: the next free letter. */
gint64 bl_design_copy_alternative (BlDesign *design, gint64 id, const char *name, GError **error);

gboolean bl_design_undo (BlDesign *design, GError **error);
gboolean bl_design_redo (BlDesign *design, GError **error);
const char *bl_design_undo_label (BlDesign *design); /* NULL when there is nothing to undo */
const char *bl_design_redo_label (BlDesign *design);
/* (transfer full) (element-type BlHistoryEntry): oldest first. */
GPtrArray *bl_design_history (BlDesign *design, GError **error);
/* Undoes or redoes until @seq is the last edit done (0 = the beginning). */
gboolean bl_design_go_to (BlDesign *design, gint64 seq, GError **error);

/* The photo's bytes; NULL without @error when there is none. */
GBytes *bl_design_photo_bytes (BlDesign *design, GError **error);
/* Likewise of the base drawing. */
GBytes *bl_design_drawing_bytes (BlDesign *design, GError **error);
/* Either, as it stands in the file at @path, by a connection of its own: for another thread than the
 * design's, as tens of megabytes take their time. */
GBytes *bl_design_read_picture (const char *path, gboolean drawing, GError **error);
/* A copy by SQLite's backup, never by reading the file. Refuses an existing one (BL_ERROR_FILE): it
 * may be open elsewhere. */
gboolean bl_design_save_copy (BlDesign *design, const char *path, GError **error);

/* View state that is kept but is not an edit: small key/value texts ("moment", "view"). */
char *bl_design_get_state (BlDesign *design, const char *key);
void bl_design_set_state (BlDesign *design, const char *key, const char *value);

/* The numbered invariants (see design.c), checked on the stored rows: (transfer full)
 * (element-type utf8) one sentence a breach, empty when all hold. */
GPtrArray *bl_design_check (BlDesign *design);
/* `bedline verify`: opens, checks integrity, schema, invariants, history. */
GPtrArray *bl_design_verify (const char *path, GError **error);
