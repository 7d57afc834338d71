/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one door to GEOS: a context of its own a call, and its messages as a GError. */
#include "config.h"

#include "geometry/geos-private.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"

static void
message_came (const char *message, void *data)
{
  BlGeos *geos = data;

  g_free (geos->message);
  geos->message = g_strdup (message);
}

/* Notices are remarks on what GEOS repaired by itself; the result says the same. */
static void
notice_came (const char *message G_GNUC_UNUSED, void *data G_GNUC_UNUSED)
{
}

void
bl_geos_init (BlGeos *geos)
{
  geos->message = NULL;
  geos->handle = GEOS_init_r ();
  GEOSContext_setErrorMessageHandler_r (geos->handle, message_came, geos);
  GEOSContext_setNoticeMessageHandler_r (geos->handle, notice_came, geos);
}

void
bl_geos_clear (BlGeos *geos)
{
  g_clear_pointer (&geos->handle, GEOS_finish_r);
  g_clear_pointer (&geos->message, g_free);
}

gboolean
bl_geos_fail (BlGeos *geos, const char *doing, GError **error)
{
  g_set_error (error, BL_ERROR, BL_ERROR_INPUT,
               _("Could not %s: the outline is not a clean shape (%s); check its points."), doing,
               geos->message != NULL ? geos->message : _("no reason given"));
  return FALSE;
}
