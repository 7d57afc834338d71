/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The help pages. */
#pragma once

#include <gtk/gtk.h>

/* Shows page @id ("index") and all that it links to, in the person's language. */
GtkWidget *bl_help_new (const char *id);
