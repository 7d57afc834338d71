/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A filled design file in a folder of its own, and what its signal said last. */
#pragma once

#include "yard.h"

typedef struct
{
  char *folder, *path;
  BlDesign *design;
  guint changes;    /* times "changed" was emitted */
  BlDamage damage;  /* of the last */
} Fixture;

static void
design_changed_cb (BlDesign *design,
                   BlDamage *damage,
                   Fixture  *fixture)
{
  fixture->changes++;
  fixture->damage = *damage;
}

static void
set_up (Fixture      *fixture,
        gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  fixture->folder = yard_folder ();
  fixture->path = yard_path (fixture->folder, "yard.bedline");
  fixture->design = bl_design_create (fixture->path, &error);
  g_assert_no_error (error);
  yard_fill (fixture->design);
  g_signal_connect (fixture->design, "changed", G_CALLBACK (design_changed_cb), fixture);
}

static void
tear_down (Fixture      *fixture,
           gconstpointer data)
{
  g_clear_object (&fixture->design);
  g_free (fixture->path);
  yard_remove_folder (fixture->folder);
}

static void
reopen (Fixture *fixture)
{
  g_autoptr(GError) error = NULL;

  g_clear_object (&fixture->design);
  fixture->design = bl_design_open (fixture->path, &error);
  g_assert_no_error (error);
}
