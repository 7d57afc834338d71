/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A complete record for tests, and the records as authored. */
#pragma once

#include <string.h>

#include "plants/library.h"

static const char sample_record[] =
  "genus=Echinacea\nspecies=purpurea\ncommon=purple coneflower\ncommon_es=equinácea púrpura\n"
  "type=perennial\nform=daisy-clump\nleaf=lance 12\nheight=60 120 90\nspread=45 60 50\n"
  "foliage_height=60\nyears=3\ngrowth=medium\nsizes=plug:10:8:350; #1:35:25:1450\nzones=3a 8b\n"
  "heat=1 9\nlight=full part\nmoisture=dry medium\nsoil=sand loam clay\nph=6.0 7.5\n"
  "drought=medium\nsoil_salt=medium\nspray_salt=unknown\nsnow_load=high\nwind=high\n"
  "deer=sometimes\nrabbit=often\njuglone=unknown\nroot_risk=low\nspreads=seed\nthorns=no\n"
  "harm=no-report no-report no-report no-report\nnative=yes\n"
  "origin=eastern and central North America\nleaves=deciduous\nemerges=4\nspring_only=no\n"
  "leaf_colors=#7fa650 #4f7d3a #8a8a4a #7a6a4a\nstem=#6b5a3a\nflower=daisy 9\n"
  "flower_colors=#c76a9a #b0622f\nflower_color_name=purple pink\nflower_months=6 8\n"
  "seed_color=#3a2a1a\nwinter_interest=dark seed heads\nspacing=45\n"
  "companions=schizachyrium-scoparium\ncare=H1\ndivide=4 6\nbasis=common practice\n";

/* The sample with the line of @key replaced by @key=@value, or left out when @value is NULL. */
G_GNUC_UNUSED static char *
sample_with (const char *key, const char *value)
{
  g_auto (GStrv) lines = g_strsplit (sample_record, "\n", -1);
  g_autofree char *start = g_strconcat (key, "=", NULL);
  GString *text = g_string_new (NULL);
  guint i = 0;

  for (i = 0; lines[i] != NULL; i++)
    if (lines[i][0] != '\0' && !g_str_has_prefix (lines[i], start))
      g_string_append_printf (text, "%s\n", lines[i]);
  if (value != NULL)
    g_string_append_printf (text, "%s=%s\n", key, value);
  return g_string_free (text, FALSE);
}

G_GNUC_UNUSED static BlPlant *
sample_plant (const char *slug, const char *key, const char *value)
{
  g_autofree char *text = sample_with (key, value);
  g_autoptr (GError) error = NULL;
  BlPlant *plant = bl_plant_parse (slug, text, &error);

  g_assert_no_error (error);
  return plant;
}

/* Paths of the authored record files, NULL-terminated. */
G_GNUC_UNUSED static GStrv
record_files (void)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "..", "data", "plants", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  GPtrArray *files = g_ptr_array_new ();
  const char *name = NULL;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".plants"))
      g_ptr_array_add (files, g_build_filename (folder, name, NULL));
  g_ptr_array_add (files, NULL);
  return (GStrv) g_ptr_array_free (files, FALSE);
}
