/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The studio's entry. */

#include "config.h"

#include "studio/studio.h"

#include "studio/app.h"

#include <locale.h>

int
bl_studio_run (int argc, char **argv)
{
  g_autoptr (BlSettings) settings = bl_settings_new (NULL);
  g_autofree char *language = bl_settings_get (settings, "language");
  g_autoptr (BlApp) app = NULL;

  /* The language chosen in the program goes before that of the session. */
  if (language != NULL && language[0] != '\0')
    {
      g_setenv ("LANGUAGE", language, TRUE);
      setlocale (LC_ALL, "");
    }
  app = bl_app_new ();
  return g_application_run (G_APPLICATION (app), argc, argv);
}
