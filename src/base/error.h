/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one error domain of the computing library. */
#pragma once

#include <glib.h>

/* Every code says which kind of thing went wrong, so that the edge (command line, studio) can
 * choose an exit status or an action; the message is one sentence for the person: what is wrong,
 * where, and what to do. */
typedef enum
{
  BL_ERROR_INPUT,     /* what was typed or written in a sheet is not acceptable */
  BL_ERROR_FILE,      /* a file is missing, unreadable, not of its kind, damaged */
  BL_ERROR_VERSION,   /* written by a newer Bedline */
  BL_ERROR_READ_ONLY, /* the file can be read but not written */
  BL_ERROR_BUSY,      /* another program is writing to it */
  BL_ERROR_UNSOLVED,  /* what is known is too little or contradicts itself */
  BL_ERROR_NOT_FOUND, /* no such plant, bed, alternative */
  BL_ERROR_CANCELLED, /* the person cancelled */
  BL_ERROR_FAILED     /* the system refused: disk full, no memory for the picture, ... */
} BlErrorCode;

#define BL_ERROR (bl_error_quark ())
GQuark bl_error_quark (void);
