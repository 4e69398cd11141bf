#pragma once

#include <glib/gstdio.h>

#include "bw-application.h"
#include "bw-design-file.h"
#include "bw-library-demo.h"
#include "bw-library-design.h"
#include "bw-reference-builtin.h"

/* What the tests of the window share: the tables, a demo design, a library in a
 * folder of its own. */

static inline BwDesign *
fixture_design (const BwReference *reference,
                const char        *name)
{
  g_autofree char *path = g_strconcat (g_getenv ("BW_DESIGNS"), "/", name, ".hat", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;
  BwDesign *design;

  g_file_get_contents (path, &text, &length, &error);
  g_assert_no_error (error);
  design = bw_design_from_text (reference, text, length, &error);
  g_assert_no_error (error);

  return design;
}

static inline char *
fixture_library_path (void)
{
  g_autofree char *folder = g_dir_make_tmp ("brimwright-app-XXXXXX", NULL);

  g_assert_nonnull (folder);

  return g_build_filename (folder, "library.db", NULL);
}

static inline void
fixture_remove (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  static const char *const suffixes[] = { "", "-wal", "-shm" };

  for (guint i = 0; i < G_N_ELEMENTS (suffixes); i++)
    {
      g_autofree char *file = g_strconcat (path, suffixes[i], NULL);

      g_unlink (file);
    }
  g_rmdir (folder);
}

/* Lets everything happen that is due within @ms. */
static inline gboolean
fixture_woken_cb (gpointer data)
{
  *(gboolean *) data = TRUE;

  return G_SOURCE_REMOVE;
}

static inline void
fixture_wait (guint ms)
{
  gboolean woken = FALSE;

  g_timeout_add (ms, fixture_woken_cb, &woken);
  while (!woken)
    g_main_context_iteration (NULL, TRUE);
}

/* A window that is being laid out has nothing to show: a busy machine takes time. */
static inline GskRenderNode *
fixture_take_node (GtkWidget *window)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (window);
  GskRenderNode *node = NULL;

  for (guint i = 0; i < 200 && node == NULL; i++)
    {
      GtkSnapshot *snapshot = gtk_snapshot_new ();

      gdk_paintable_snapshot (paintable, snapshot, gtk_widget_get_width (window),
                              gtk_widget_get_height (window));
      node = gtk_snapshot_free_to_node (snapshot);
      if (node == NULL)
        fixture_wait (20);
    }

  return node;
}

static inline void
fixture_save_picture (GtkWidget  *window,
                      const char *name)
{
  g_autofree char *folder = g_build_filename (g_getenv ("G_TEST_BUILDDIR"), "screenshots", NULL);
  g_autofree char *path = g_strconcat (folder, "/", name, ".png", NULL);
  g_autoptr (GdkTexture) texture = NULL;
  GskRenderNode *node = fixture_take_node (window);

  g_assert_nonnull (node);
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (window)), node,
                                         NULL);
  g_mkdir_with_parents (folder, 0755);
  g_assert_true (gdk_texture_save_to_png (texture, path));
  gsk_render_node_unref (node);
}

static inline void
fixture_stay_idle_cb (GApplication *application)
{
  g_signal_stop_emission_by_name (application, "activate");
}

/* Started by hand, an application is still left the proper way: it runs, finds
 * nothing to do, and shuts down. */
static inline void
fixture_leave (BwApplication *application)
{
  g_signal_connect (application, "activate", G_CALLBACK (fixture_stay_idle_cb), NULL);
  g_assert_cmpint (g_application_run (G_APPLICATION (application), 0, NULL), ==, 0);
  g_assert_finalize_object (application);
}
