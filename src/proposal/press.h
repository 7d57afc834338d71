/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting pages: paper, type, running text, tables and pictures on a PDF. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "base/color.h"
#include "base/date.h"
#include "draw/fresh-file.h"
#include "geometry/point.h"

/* Everything on paper is in PDF points (1/72 inch), y down from the top edge. */
#define BL_POINTS_PER_METRE (72.0 / 0.0254)

typedef enum
{
  BL_PAPER_LETTER,
  BL_PAPER_TABLOID,
  BL_PAPER_A4,
  BL_PAPER_A3,
  BL_PAPER_N
} BlPaperSize;

const char *bl_paper_name (BlPaperSize size); /* "Letter" */
/* Points, upright. */
void bl_paper_size (BlPaperSize size, double *width, double *height);
gboolean bl_paper_from_name (const char *name, BlPaperSize *size);

typedef enum
{
  BL_TYPE_STYLE_TITLE,    /* display face, the cover */
  BL_TYPE_STYLE_HEADING,  /* display face, one a page */
  BL_TYPE_STYLE_SUBHEAD,  /* display italic */
  BL_TYPE_STYLE_LABEL,    /* small spaced capitals */
  BL_TYPE_STYLE_BODY,     /* text face, figures that hang */
  BL_TYPE_STYLE_SMALL,
  BL_TYPE_STYLE_TIGHT,    /* names beside a chart */
  BL_TYPE_STYLE_NUMBER,   /* a plant's key and number on a plan */
  BL_TYPE_STYLE_TABLE,    /* tabular figures */
  BL_TYPE_STYLE_STRONG,   /* table, bold */
  BL_TYPE_STYLE_CAPTION,  /* display italic, small */
  BL_TYPE_STYLE_FIGURE,   /* a large number */
  BL_TYPE_STYLE_LARGE,    /* care sheet: where much must go on it */
  BL_TYPE_STYLE_BIG,      /* care sheet: large text */
  BL_TYPE_STYLE_N
} BlTypeStyle;

typedef enum { BL_ALIGN_LEFT, BL_ALIGN_RIGHT, BL_ALIGN_CENTRE } BlAlign;

/* What was set where, for tests: the box it was given and the ink it left. */
typedef struct
{
  int page;
  double width, height; /* of that page */
  BlRect box, ink;
} BlPressBox;

/* A place that the outline and the contents lead to. */
typedef struct
{
  char *title;
  int page;
} BlPressMark;

typedef struct
{
  cairo_surface_t *surface;           /* NULL in what bl_press_borrow() gives */
  cairo_t *cr;
  double zoom;                        /* a large sheet is a Letter or A4 page enlarged: points of
                                         the sheet in one of ours */
  BlPaperSize paper;
  double width, height;               /* of the page */
  double left, right, top, bottom;    /* of the text area: positions, not widths */
  double y;                           /* where the next thing goes */
  int page;                           /* 1 = first */
  char *running;                      /* running title */
  char *footer;
  gboolean is_svg;                    /* one page, without outline and metadata */
  gboolean bare;                      /* this page has no running title and number (the cover) */
  char *path;
  BlFreshFile *file;                  /* NULL: only measuring, nothing is written */
  GArray *marks;                      /* BlPressMark */
  int n_pages;                        /* of the whole, 0 = not known */
  GArray *boxes;                      /* BlPressBox; NULL = not kept */
  GCancellable *cancellable;
  void (*progress) (double share, gpointer data);
  gpointer progress_data;
} BlPress;

typedef struct
{
  const char *title, *author, *subject, *keywords;
  BlDay day;                          /* date in the file's metadata */
  BlPaperSize paper;
  const char *running, *footer;
  int n_pages;                        /* of the whole, 0 = not known */
  GArray *boxes;                      /* element-type BlPressBox; filled for tests; may be NULL */
} BlPressSetup;

/* Starts a PDF, or an SVG of one page where @path ends in .svg, that replaces @path only when finished;
 * without @path pages are set, counted and
 * thrown away. */
BlPress *bl_press_new (const char *path, const BlPressSetup *setup, GError **error);
/* Writes the file; @press is freed in any case. */
gboolean bl_press_finish (BlPress *press, GError **error);
void bl_press_abandon (BlPress *press);
/* A press on @cr, for type in a picture of @width × @height: no pages. Free with abandon. */
BlPress *bl_press_borrow (cairo_t *cr, double width, double height);
gboolean bl_press_is_dry (const BlPress *press);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPress, bl_press_abandon)
/* FALSE with BL_ERROR_CANCELLED once cancelled; tells progress. */
gboolean bl_press_go_on (BlPress *press, double share, GError **error);

/* Ends the page and starts another; @bookmark (may be NULL) goes into the outline and @heading
 * (may be NULL) is set at its top. */
void bl_press_page (BlPress *press, const char *bookmark, const char *heading);
void bl_press_bare_page (BlPress *press, const char *bookmark);
/* As bl_press_page(), on its side: for a plan that is wider than high. */
void bl_press_turned_page (BlPress *press, const char *bookmark, const char *heading);
/* The page of a mark in @marks (of a measuring run), 0 when there is none. */
int bl_press_mark_page (const GArray *marks, const char *title);
/* A link over @box to @page. */
void bl_press_link (BlPress *press, BlRect box, int page);
double bl_press_room (const BlPress *press); /* points left on the page */
/* A new page unless @points are left; TRUE when it turned the page. */
gboolean bl_press_need (BlPress *press, double points);

/* Sets @markup (Pango markup) in a box of @width at (x, y); nothing flows. Returns the height.
 * @max_lines 0 = all; else the last line ends in an ellipsis. */
double bl_press_set (BlPress *press, BlTypeStyle style, double x, double y, double width,
                     BlAlign align, int max_lines, const char *markup);
/* As set, with plain text. */
double bl_press_set_plain (BlPress *press, BlTypeStyle style, double x, double y, double width,
                           BlAlign align, int max_lines, const char *text);
double bl_press_measure (BlPress *press, BlTypeStyle style, double width, const char *markup);
/* Runs text at the cursor over the full measure, turning pages, with at least two lines of a
 * paragraph on each side of a turn. */
void bl_press_flow (BlPress *press, BlTypeStyle style, double x, double width, const char *markup);
void bl_press_flow_plain (BlPress *press, BlTypeStyle style, double x, double width,
                          const char *text);
/* Subhead with room kept for what follows. */
void bl_press_subhead (BlPress *press, const char *text);
void bl_press_rule (BlPress *press, double x0, double x1, double y, double weight);
void bl_press_color (BlPress *press, BlColor color);
/* Remembers what was set, for the tests that measure ink against boxes. */
void bl_press_remember (BlPress *press, BlRect box, BlRect ink);
BlColor bl_press_ink (void);
BlColor bl_press_faint (void);
BlColor bl_press_accent (void);
BlColor bl_press_hair (void); /* lines between rows */
/* A box to tick. */
void bl_press_tick_box (BlPress *press, double x, double y, double side);

typedef struct
{
  const char *title;
  double share;       /* of the width */
  BlAlign align;
} BlPressColumn;

typedef enum
{
  BL_ROW_PLAIN,
  BL_ROW_SECTION,     /* a title across the table */
  BL_ROW_TOTAL        /* bold, ruled above */
} BlPressRowKind;

typedef struct
{
  BlPressRowKind kind;
  char **cells;       /* Pango markup, one a column; for a section only the first counts */
} BlPressRow;

typedef struct
{
  GArray *rows;       /* BlPressRow */
  double pad;         /* white above and below a row's text; less where that saves a page */
} BlPressTable;

BlPressTable *bl_press_table_new (void);
void bl_press_table_free (BlPressTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BlPressTable, bl_press_table_free)
/* Takes the cells: NULL-terminated strings of markup, each owned by the table. */
void bl_press_table_add (BlPressTable *table, BlPressRowKind kind, ...) G_GNUC_NULL_TERMINATED;
/* At the cursor over x .. x + width; heads repeat on each page, rows never break, a section's title
 * never stands last on a page. */
void bl_press_table_set (BlPress *press, const BlPressTable *table, const BlPressColumn *columns,
                         guint n_columns, double x, double width);
/* The same in @lanes columns side by side, filled one after the other, evenly on the last page. */
void bl_press_table_set_lanes (BlPress *press, const BlPressTable *table,
                               const BlPressColumn *columns, guint n_columns, guint lanes);
double bl_press_table_height (BlPress *press, const BlPressTable *table,
                              const BlPressColumn *columns, guint n_columns, double width);
