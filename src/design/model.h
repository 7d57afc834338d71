/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A snapshot of a design: everything the person decided, and what follows from it at once. */
#pragma once

#include "design/pricebook.h"
#include "geometry/outline.h"
#include "photo/solve.h"
#include "plants/plant.h"
#include "plants/season.h"
#include "site/site.h"
#include "survey/drawing.h"
#include "survey/tape.h"

#include "base/units.h"

/* In which space an outline was stated. */
typedef enum
{
  BL_FROM_PLAN,  /* metres */
  BL_FROM_PHOTO, /* pixels of the upright photo */
  BL_FROM_TAPE,  /* names of tape points */
  BL_FROM_DRAWING /* pixels of the base drawing */
} BlSource;

/* What lies on a bed between its plants. */
typedef enum
{
  BL_COVER_BARK,  /* shredded bark mulch */
  BL_COVER_GRAVEL
} BlCover;

typedef struct
{
  gint64 id;
  char *name;
  BlSource source;
  BlOutline *outline;  /* as stated, in its space; NULL when from tape points */
  char **tape_points;  /* when from tape points */
  gboolean *tape_sharp; /* one a tape point: is it a sharp corner; NULL = none is */
  BlCover cover;       /* of what the mulch is */
  double mulch_depth;  /* metres; 0 = none: bare soil */
  double soil_depth;   /* metres of planting mix or compost worked in; 0 = none */
  double sun_hours;    /* stated hours of direct sun here, growing season; NAN = as the site says */
  char *edging;        /* price book key of the edging, NULL = none */
  double
      edging_share; /* 0..1 of the perimeter that is edged (a wall side needs none); 1 by default */
  /* Derived: */
  BlOutline *ground;   /* in the plan, metres; NULL while it cannot be known */
  BlPoints *ring;      /* @ground flattened to 2 mm, counter-clockwise */
  BlMeasured area, perimeter; /* m², m; sd 0 when stated exactly */
  char *problem;       /* why @ground is NULL, one sentence */
} BlBed;

typedef enum
{
  BL_FEATURE_WALL,
  BL_FEATURE_FENCE,
  BL_FEATURE_POST,
  BL_FEATURE_TREE,
  BL_FEATURE_KERB,
  BL_FEATURE_WALK,
  BL_FEATURE_DRIVE,
  BL_FEATURE_UTILITY_BOX,
  BL_FEATURE_TRANSFORMER,
  BL_FEATURE_HYDRANT,
  BL_FEATURE_BURIED_LINE,
  BL_FEATURE_SNOW_PILE,
  BL_FEATURE_SALTED_EDGE,
  BL_FEATURE_SIGHT_TRIANGLE,
  BL_FEATURE_WALNUT,
  BL_FEATURE_IN_FRONT,    /* photo outline that hides plants */
  BL_FEATURE_STONE,       /* a stone or paving inside a bed: not planted, not mulched */
  BL_FEATURE_FIXED_POINT, /* a point the crew can tape from */
  BL_FEATURE_DOOR,        /* a line along its sill: people pass here */
  BL_FEATURE_N
} BlFeatureKind;

typedef struct
{
  gint64 id;
  BlFeatureKind kind;
  char *name;         /* may be NULL */
  BlSource source;
  BlOutline *outline; /* open for lines; one point for a post, tree, hydrant */
  double height;      /* metres; 0 = flat */
  double tolerance;   /* metres: half width of a buried line's zone, clearance of a box; 0 = the
                         kind's usual */
  /* Derived: */
  BlOutline *ground;  /* NULL when it cannot be known */
} BlFeature;

typedef struct
{
  gint64 id;
  int position;   /* order among the alternatives */
  char *name;     /* "A" */
  char *idea;     /* the designer's words, may be empty */
  char *colors;   /* intended flower colours in words, "blue, purple, silver"; empty = any */
} BlAlternative;

typedef enum
{
  BL_PLANTING_SPECIMEN, BL_PLANTING_ROW, BL_PLANTING_DRIFT, BL_PLANTING_FILL
} BlPlantingForm;

typedef struct
{
  gint64 id;
  gint64 alternative_id, bed_id;
  char *slug;          /* of BlModel.plants */
  char *size;          /* size bought; NULL = the record's first */
  BlPlantingForm form;
  BlOutline
      *shape; /* plan metres: 1 point (specimen), open line (row), outline (drift), NULL (fill) */
  double spacing;      /* metres; 0 = the record's */
  gboolean square;     /* square instead of staggered */
  gboolean locked;
  gint64 group;        /* plantings that move together; 0 = none */
  char *note;          /* remark in the schedule; may be NULL */
  BlPoints *stood;     /* of a drift or fill: where its plants stood when the bed line was last moved,
                          plan metres; those that still fit stay there. NULL = nothing to go by */
} BlPlanting;

/* The person's figure in place of a computed one. */
typedef struct
{
  gint64 id;
  gint64 alternative_id;
  char *line;          /* key of the estimate line */
  char *field; /* "quantity" or "rate"; "optional": the client may tick the line, @value 1 */
  double value;
  char *note;
} BlOverride;

typedef struct
{
  gint64 id;
  char *uid;           /* of the care task */
  BlDay done, moved;   /* 0 = not */
  gboolean dropped;
} BlCareMark;

typedef struct
{
  gint64 id;
  char *title;
  BlDay day;
  gboolean yearly;
  double hours;
} BlOwnTask;

typedef struct
{
  char *name;          /* file name it came with */
  int width, height;   /* upright pixels; 0 = no photo */
  double focal_35mm;   /* as read or stated; 0 = unknown */
  double click_px;     /* sd of a click; 0 = default */
  double slope, slope_direction; /* stated fall of the ground, see BlPhotoPrior */
} BlPhotoInfo;

typedef struct
{
  gatomicrefcount refs;
  guint64 revision;    /* number of the edit that made it; unique within a running program */
  char *title, *client, *place, *designer, *notes;
  BlUnits units;
  char *currency;      /* ISO 4217 */
  char *language;      /* "en", "es" */
  BlDay planting_day;  /* 0 = not set */
  BlSite site;
  BlPhotoInfo photo;
  BlDrawing drawing;       /* width 0 = none */
  char *id;            /* the same for the life of the design, whatever it is called; "" = not stored */
  GPtrArray *knowns;       /* BlKnown */
  BlTape *tape;            /* NULL = none; adjusted */
  GPtrArray *features;     /* BlFeature */
  GPtrArray *beds;         /* BlBed */
  GPtrArray *alternatives; /* BlAlternative, in order */
  GPtrArray *plantings;    /* BlPlanting, by id */
  GHashTable *plants;      /* slug -> BlPlant */
  BlPriceBook *prices;
  GPtrArray *overrides;    /* BlOverride */
  GPtrArray *care_marks;   /* BlCareMark */
  GPtrArray *own_tasks;    /* BlOwnTask */
  /* Derived: */
  BlSolution *solution;    /* NULL while the camera is not known */
  char *camera_problem;    /* why, one sentence; NULL when solved or no photo */
  BlCamera drawing_camera; /* sees the base drawing from above; not solved = there is none */
} BlModel;

BlModel *bl_model_new (void);
BlModel *bl_model_ref (BlModel *model);
void bl_model_unref (BlModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlModel, bl_model_unref)

/* Lookups return NULL when there is none. */
const BlBed *bl_model_bed (const BlModel *model, gint64 id);
const BlBed *bl_model_bed_named (const BlModel *model, const char *name);
const BlAlternative *bl_model_alternative (const BlModel *model, gint64 id);
/* The id of a design that was not given one: from what it is called. */
char *bl_model_first_id (const char *title, const char *client, const char *place);
const BlAlternative *bl_model_alternative_named (const BlModel *model, const char *name);
const BlPlanting *bl_model_planting (const BlModel *model, gint64 id);
const BlFeature *bl_model_feature (const BlModel *model, gint64 id);
const BlKnown *bl_model_known (const BlModel *model, gint64 id);
BlPlant *bl_model_plant (const BlModel *model, const char *slug);
/* The solved camera, or NULL. */
const BlCamera *bl_model_camera (const BlModel *model);
/* The camera of the photo or of the base drawing, whichever @source is in; NULL when there is none. */
const BlCamera *bl_model_camera_of (const BlModel *model, BlSource source);
/* The standard deviation of a click in the photo or on the base drawing, pixels. */
double bl_model_click_px (const BlModel *model, BlSource source);
/* Everything that is drawn or measured on the plan, metres; a 10 m square when empty. */
BlRect bl_model_extent (const BlModel *model);

BlBed *bl_bed_new (void);
BlBed *bl_bed_copy (const BlBed *bed);
void bl_bed_free (BlBed *bed);
BlFeature *bl_feature_new (void);
BlFeature *bl_feature_copy (const BlFeature *feature);
void bl_feature_free (BlFeature *feature);
BlAlternative *bl_alternative_copy (const BlAlternative *alternative);
void bl_alternative_free (BlAlternative *alternative);
/* Plantings are shared between snapshots: make them by new or copy, never on their own. */
BlPlanting *bl_planting_new (void);
BlPlanting *bl_planting_copy (const BlPlanting *planting);
BlPlanting *bl_planting_ref (BlPlanting *planting);
void bl_planting_free (BlPlanting *planting);
BlOverride *bl_override_copy (const BlOverride *override);
BlCareMark *bl_care_mark_copy (const BlCareMark *mark);
BlOwnTask *bl_own_task_copy (const BlOwnTask *task);
void bl_override_free (BlOverride *override);
void bl_care_mark_free (BlCareMark *mark);
void bl_own_task_free (BlOwnTask *task);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlBed, bl_bed_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlFeature, bl_feature_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlAlternative, bl_alternative_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPlanting, bl_planting_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlOverride, bl_override_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlCareMark, bl_care_mark_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlOwnTask, bl_own_task_free)

/* Where a planting is drawn, metres: its shape or, for a fill, its bed; grown by its plant's
 * spread. */
BlRect bl_planting_extent (const BlModel *model, const BlPlanting *planting);
/* What a feature of this kind is when a sheet or a tool does not say: a line, or closed. */
gboolean bl_feature_kind_is_line (BlFeatureKind kind);
const char *bl_source_name (BlSource source);              /* "plan", "photo", "tape", "drawing" */
gboolean bl_source_from_name (const char *name, BlSource *source);
const char *bl_cover_name (BlCover cover);                 /* "bark", "gravel" */
gboolean bl_cover_from_name (const char *name, BlCover *cover);
const char *bl_feature_kind_name (BlFeatureKind kind);     /* the sheet's word: "buried_line" */
gboolean bl_feature_kind_from_name (const char *name, BlFeatureKind *kind);
const char *bl_planting_form_name (BlPlantingForm form);   /* "drift" */
gboolean bl_planting_form_from_name (const char *name, BlPlantingForm *form);

/* Computes the derived fields: camera, tape, beds and features on the ground. @previous (may be
 * NULL) lends its solution when photo and knowns are the same. Never fails: problems are words. */
void bl_model_derive (BlModel *model, const BlModel *previous);
/* A snapshot as if @bed and @plantings (element-type BlPlanting; each may be NULL) had taken the
 * places of those with their ids. The rest is shared; any thread. */
BlModel *bl_model_variant (const BlModel *model, const BlBed *bed, const GPtrArray *plantings);
