/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The price book of a design: its items, its rules, CSV, the firm's own book. */
#pragma once

#include "studio/part.h"

/* The whole page; a part. */
GtkWidget *bl_price_book_page_new (void);
/* Its halves, each a part. */
GtkWidget *bl_price_items_new (void);
GtkWidget *bl_price_rules_new (void);
/* A window of its own over @parent. */
GtkWidget *bl_price_book_window_new (GtkWindow *parent, BlBoard *board);

gboolean bl_board_put_prices (BlBoard *board, const char *label, const BlPriceBook *book);
/* Files; what goes wrong is reported by the board. TRUE when done. */
gboolean bl_board_read_prices (BlBoard *board, const char *path);
gboolean bl_board_write_prices (BlBoard *board, const char *path);
gboolean bl_board_keep_firm_prices (BlBoard *board);
gboolean bl_board_take_firm_prices (BlBoard *board);
/* For a new design, within an edit: the firm's book where there is one in the design's currency. One
 * that cannot be read is told in @trouble, and the design keeps the starting figures. */
gboolean bl_design_begin_with_firm_prices (BlDesign *design, char **trouble, GError **error);
