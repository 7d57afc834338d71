/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Test data beside the source tree. */
#include "shared-fixture.h"

char *
shared_path (const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "..", "..", "shared", "data", name, NULL);

  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return g_steal_pointer (&path);
  g_test_skip ("skipped: the folder ../shared/data with the photographs is not here");
  return NULL;
}

JsonObject *
shared_json (const char  *name,
             JsonParser **parser)
{
  g_autofree char *path = shared_path (name);
  g_autoptr (GError) error = NULL;

  if (path == NULL)
    return NULL;
  *parser = json_parser_new ();
  json_parser_load_from_file (*parser, path, &error);
  g_assert_no_error (error);
  return json_node_get_object (json_parser_get_root (*parser));
}

BlPoint
shared_pair (JsonObject *object,
             const char *member)
{
  JsonArray *pair = json_object_get_array_member (object, member);

  return BL_POINT (json_array_get_double_element (pair, 0), json_array_get_double_element (pair, 1));
}
