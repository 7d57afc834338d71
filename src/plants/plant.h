/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One plant record: what a planting designer must know of a taxon. */
#pragma once

#include <glib.h>

#include "base/color.h"
#include "site/site.h"

typedef enum
{
  BL_TYPE_PERENNIAL, BL_TYPE_GRASS, BL_TYPE_SHRUB, BL_TYPE_EVERGREEN_SHRUB, BL_TYPE_CONIFER,
  BL_TYPE_TREE, BL_TYPE_GROUND_COVER, BL_TYPE_BULB, BL_TYPE_VINE, BL_TYPE_ANNUAL, BL_TYPE_FERN,
  BL_TYPE_N
} BlPlantType;

/* Growth forms: how it is drawn, from the side and from above. */
typedef enum
{
  BL_FORM_UPRIGHT_CLUMP,     /* leafy upright stems: Phlox, Monarda, Amsonia */
  BL_FORM_MOUND,             /* rounded leafy mound: Nepeta, Geranium, Heuchera */
  BL_FORM_MAT,               /* flat carpet: Thymus, Phlox subulata */
  BL_FORM_CUSHION,           /* tight low dome: Dianthus, Armeria, Festuca glauca (as grass: TUSSOCK) */
  BL_FORM_FOUNTAIN_GRASS,    /* arching grass: Pennisetum, Sporobolus, Hakonechloa */
  BL_FORM_UPRIGHT_GRASS,     /* vertical grass: Calamagrostis, Panicum, Schizachyrium */
  BL_FORM_TUSSOCK,           /* low tufted grass or sedge: Carex, Festuca */
  BL_FORM_VASE_SHRUB,        /* Ilex verticillata, Clethra, Hamamelis */
  BL_FORM_GLOBE_SHRUB,       /* Buxus, Spiraea japonica, Potentilla */
  BL_FORM_ARCHING_SHRUB,     /* Forsythia, Spiraea ×vanhouttei, Itea */
  BL_FORM_COLUMN,            /* narrow evergreen or tree: Juniperus virginiana (column), Thuja */
  BL_FORM_CONE_CONIFER,      /* Picea, Abies, Thuja (pyramid) */
  BL_FORM_SPREADING_CONIFER, /* Juniperus horizontalis, J. sabina */
  BL_FORM_MOUND_CONIFER,     /* Pinus mugo, Picea abies 'Nidiformis' */
  BL_FORM_MULTISTEM_TREE,    /* Amelanchier, Betula nigra, Cercis */
  BL_FORM_ROUND_TREE,        /* one trunk, round head: Malus, Crataegus */
  BL_FORM_SPIRE_CLUMP,       /* spires over leaves: Salvia, Veronica, Liatris, Baptisia */
  BL_FORM_STRAP_CLUMP,       /* strap leaves: Hemerocallis, Iris, Kniphofia */
  BL_FORM_ROSETTE_WANDS,     /* basal rosette, bare wands: Yucca, Heuchera in flower, Gaura */
  BL_FORM_DAISY_CLUMP,       /* Echinacea, Rudbeckia, Coreopsis, Aster */
  BL_FORM_UMBEL_CLUMP,       /* flat or domed heads: Achillea, Hylotelephium, Eutrochium */
  BL_FORM_BULB,              /* Narcissus, Tulipa, Allium, Crocus */
  BL_FORM_FERN,
  BL_FORM_CLIMBER,           /* on its support */
  BL_FORM_HEDGE,             /* clipped run */
  BL_FORM_N
} BlForm;

typedef enum
{
  BL_FLOWER_NONE, BL_FLOWER_DAISY, BL_FLOWER_SPIKE, BL_FLOWER_PLUME, BL_FLOWER_GLOBE,
  BL_FLOWER_TRUMPET, BL_FLOWER_UMBEL, BL_FLOWER_PANICLE, BL_FLOWER_BELL, BL_FLOWER_CUP,
  BL_FLOWER_STAR, BL_FLOWER_CATKIN, BL_FLOWER_N
} BlFlowerShape;

typedef enum
{
  BL_LEAF_OVAL, BL_LEAF_LANCE, BL_LEAF_LINEAR, BL_LEAF_STRAP, BL_LEAF_ROUND, BL_LEAF_LOBED,
  BL_LEAF_PINNATE, BL_LEAF_NEEDLE, BL_LEAF_SCALE, BL_LEAF_FROND, BL_LEAF_HEART, BL_LEAF_N
} BlLeafShape;

/* Three-step words with an honest fourth. */
typedef enum { BL_GRADE_UNKNOWN, BL_GRADE_LOW, BL_GRADE_MEDIUM, BL_GRADE_HIGH } BlGrade;
/* Reported harm; NO_REPORT is not "safe". */
typedef enum { BL_HARM_UNKNOWN, BL_HARM_NO_REPORT, BL_HARM_MILD, BL_HARM_TOXIC, BL_HARM_SEVERE } BlHarm;
typedef enum { BL_BROWSE_UNKNOWN, BL_BROWSE_RARELY, BL_BROWSE_SOMETIMES, BL_BROWSE_OFTEN } BlBrowse;
typedef enum { BL_LEAVES_DECIDUOUS, BL_LEAVES_SEMI_EVERGREEN, BL_LEAVES_EVERGREEN } BlLeaves;
/* Care groups: data/plants/README says what each means. */
typedef enum
{
  BL_CARE_P1, BL_CARE_P2, BL_CARE_P3, BL_CARE_P4, BL_CARE_P5, BL_CARE_P6, BL_CARE_G1, BL_CARE_G2,
  BL_CARE_H1, BL_CARE_H2, BL_CARE_H3, BL_CARE_H4, BL_CARE_B1, BL_CARE_V1, BL_CARE_V2, BL_CARE_A,
  BL_CARE_N
} BlCareGroup;

#define BL_LIGHT_BIT(l) (1u << (l))    /* bit set of BlLight */
#define BL_MOISTURE_BIT(m) (1u << (m)) /* bit set of BlMoisture */
#define BL_SOIL_BIT(s) (1u << (s))     /* bit set of BlSoil */

/* A size it is sold in. */
typedef struct
{
  char *name;           /* "plug", "quart", "#1", "#3", "#5", "bulb", "B&B 1.5 in" */
  double height, spread; /* metres when planted */
  gint64 price;         /* minor units; invented until a firm puts its own */
} BlPlantSize;

typedef struct
{
  char *where, *what, *by, *when; /* "PA", "noxious weed, class B", "PA Department of Agriculture", "2021-10" */
} BlRegulation;

/* The person's own cut-out picture of a plant, which stands where a drawn figure would. */
typedef struct
{
  char *sha256;             /* of the picture, in small hexadecimal digits */
  double height;            /* metres: how high the plant stands that it shows */
  double foot_x, foot_y;    /* where it meets the ground: shares of what is not empty in it, from
                               its left and its top */
  int from, to;             /* months (zone 6) in which it is shown; 0 = all year */
  GBytes *bytes;            /* PNG or SVG; NULL while it is not at hand: then the figure is drawn */
  GMutex lock;
  gpointer art;             /* what the drawing made of @bytes, under @lock */
  GDestroyNotify art_free;
} BlCutout;

#define BL_MAX_SIZES 6
#define BL_MAX_COLORS 4

typedef struct
{
  gatomicrefcount refs;
  char *slug;               /* "echinacea-purpurea" */
  /* Name parts, ICN and ICNCP. */
  char *genus, *species, *rank, *infra, *cultivar; /* NULL where none; rank "subsp.", "var.", "f." */
  gboolean hybrid_genus, hybrid_species;
  char *common, *common_es; /* common_es may be NULL */
  BlPlantType type;
  BlForm form;
  BlLeafShape leaf;
  double leaf_size;         /* metres, length of a leaf (or leaflet) */
  double height_low, height_high, height; /* metres, mature, flowers included; design value last */
  double spread_low, spread_high, spread;
  double foliage_height;    /* metres; = height where flowers do not stand above */
  double years;             /* to mature size */
  BlGrade growth;           /* slow, medium, fast */
  BlPlantSize sizes[BL_MAX_SIZES];
  guint n_sizes;            /* the first is the default */
  BlZone zone_low, zone_high;
  int heat_low, heat_high;  /* bands of days above 30 °C, see bl_heat_zone_for_days(); 0 = unknown */
  guint light, moisture, soil; /* bit sets */
  double ph_low, ph_high;   /* 0 = unknown */
  BlGrade drought;          /* once established */
  BlGrade soil_salt, spray_salt, snow_load, wind; /* tolerance */
  BlBrowse deer, rabbit;
  BlGrade juglone;          /* LOW = reported sensitive, HIGH = reported tolerant */
  BlGrade root_risk;        /* near pavement: lifting, heaving */
  gboolean runs, seeds;     /* spreads by runner, by seed */
  gboolean thorns;
  BlHarm harm_people, harm_dogs, harm_cats, harm_livestock;
  char *harm_note;          /* the usual caution; may be NULL */
  char *allergen;           /* may be NULL */
  BlRegulation *regulations;
  guint n_regulations;
  char *invasive;           /* reports in words, may be NULL */
  gboolean native;          /* eastern or central North America */
  char *origin;
  BlLeaves leaves;
  int emerges;              /* month of new shoots in zone 6 */
  gboolean spring_only;     /* dies down by summer: spring bulbs, ephemerals */
  BlColor leaf_spring, leaf_summer, leaf_autumn, leaf_winter;
  BlColor stem;
  BlFlowerShape flower;
  BlColor flower_colors[BL_MAX_COLORS];
  guint n_flower_colors;
  char *flower_color_name;  /* "purple pink"; NULL when no flower of note */
  int flower_from, flower_to; /* months in zone 6, 0 = none; may wrap over the year's end */
  double flower_size;       /* metres: one head, spike or plume */
  BlColor seed_color;       /* seed heads */
  gboolean has_fruit;
  BlColor fruit_color;
  int fruit_from, fruit_to; /* months, 0 = none */
  char *winter_interest;    /* may be NULL */
  char *wildlife;           /* may be NULL */
  double spacing;           /* metres on centre */
  char *support;            /* NULL, "stake", "trellis" */
  char **companions, **avoid; /* slugs or genera, NULL-terminated, may be NULL */
  BlCareGroup care;
  char *care_note;          /* may be NULL */
  int divide_low, divide_high; /* years; 0 = do not */
  char *basis;              /* on what the facts rest; doubts */
  char *text;               /* the record as written, for copies in design files */
  guint64 mark;             /* tells one text from another, for what is kept of it */
  BlCutout *cutout;         /* NULL: drawn */
} BlPlant;

/* Reads one record: the group @slug of a key file text (see data/plants/README). */
BlPlant *bl_plant_parse (const char *slug, const char *record, GError **error);
/* The keys of a record in their order, NULL-terminated. */
const char *const *bl_plant_keys (void);
/* Everything that is wrong with a record, for a form: key → sentence without the key. What holds
 * between several keys is looked at only when each is right by itself. Empty when all is well.
 * (transfer full) (element-type utf8 utf8) */
GHashTable *bl_plant_faults (const char *slug, const char *record);
/* Gives the picture that the record speaks of; others and NULL are no matter. Before the plant is
 * shared. */
void bl_plant_lend_picture (BlPlant *plant, GBytes *bytes);
BlPlant *bl_plant_ref (BlPlant *plant);
void bl_plant_unref (BlPlant *plant);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPlant, bl_plant_unref)

/* One taxon's words are well formed by ICN and ICNCP: capital genus, lower-case epithets, rank
 * "subsp.", "var." or "f.", cultivar in capitals of main words without quotes or "cv.". */
gboolean bl_plant_name_check (const BlPlant *plant, GError **error);
/* "nepeta-x-faassenii-six-hills-giant": the slug that its name calls for. */
char *bl_plant_name_slug (const BlPlant *plant);
/* "Nepeta ×faassenii 'Six Hills Giant'" with typographic quotes, plain text. */
char *bl_plant_name (const BlPlant *plant);
/* The common name in @language ("es") where one is in use, else in English. Borrowed. */
const char *bl_plant_common (const BlPlant *plant, const char *language);
/* The same as Pango markup: genus and epithets in <i>, the rest roman. */
char *bl_plant_name_markup (const BlPlant *plant);
const char *bl_plant_type_name (BlPlantType type);
const char *bl_form_name (BlForm form);        /* the record's word: "upright-clump" */
const char *bl_care_group_name (BlCareGroup group);
const char *bl_flower_shape_name (BlFlowerShape shape);
const char *bl_harm_name (BlHarm harm);
const char *bl_grade_name (BlGrade grade);
const char *bl_browse_name (BlBrowse browse);
const char *bl_leaf_shape_name (BlLeafShape leaf);
const char *bl_leaves_name (BlLeaves leaves);
/* Is @month within @from..@to, wrapping over the year's end; FALSE when from is 0. */
gboolean bl_months_include (int from, int to, int month);
