/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one door to GEOS: a context of its own a call, and its messages as a GError. */
#pragma once

#include <geos_c.h>
#include <glib.h>

typedef struct
{
  GEOSContextHandle_t handle;
  char *message; /* the last thing GEOS complained of */
} BlGeos;

void bl_geos_init (BlGeos *geos);
void bl_geos_clear (BlGeos *geos);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BlGeos, bl_geos_clear)
/* Always FALSE; @doing completes "could not ...". */
gboolean bl_geos_fail (BlGeos *geos, const char *doing, GError **error);
