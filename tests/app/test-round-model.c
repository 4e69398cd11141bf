#include <string.h>

#include "app-fixture.h"
#include "bw-round-model.h"

/* The rounds as a list: only what changed is told, equal rounds fold, text. */

typedef struct
{
  BwReference  *reference;
  BwDesign     *design;
  BwGrading    *grading;
  BwRoundModel *model;
  guint         notified;
  guint         moved;
} Fixture;

static void
set_up (Fixture       *fixture,
        gconstpointer  data G_GNUC_UNUSED)
{
  fixture->reference = bw_reference_builtin (NULL);
  fixture->design = fixture_design (fixture->reference, "lugger");
  fixture->grading = bw_grade (fixture->reference, fixture->design, NULL);
  fixture->model = bw_round_model_new ();
}

static void
tear_down (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  g_assert_finalize_object (fixture->model);
  bw_grading_free (fixture->grading);
  bw_design_free (fixture->design);
  bw_reference_free (fixture->reference);
}

static const BwGradedSize *
size_at (Fixture *fixture,
         guint    k)
{
  return fixture->grading->sizes->pdata[k];
}

static void
test_fold (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  GListModel *list = G_LIST_MODEL (fixture->model);
  guint next = 0;

  bw_round_model_show (fixture->model, fixture->grading, 6, FALSE);
  g_assert_cmpuint (g_list_model_get_n_items (list), ==, size_at (fixture, 6)->rounds->rounds->len);

  bw_round_model_show (fixture->model, fixture->grading, 6, TRUE);
  g_assert_cmpuint (g_list_model_get_n_items (list), <, size_at (fixture, 6)->rounds->rounds->len);
  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (BwRoundLine) line = g_list_model_get_item (list, i);

      g_assert_cmpuint (bw_round_line_get_first (line), ==, next);
      next += bw_round_line_get_n (line);
      g_assert_cmpuint (bw_round_model_find (fixture->model, (int) next - 1), ==, i);
    }
  g_assert_cmpuint (next, ==, size_at (fixture, 6)->rounds->rounds->len);
  g_assert_cmpuint (bw_round_model_find (fixture->model, -1), ==, G_MAXUINT);
  g_assert_cmpuint (bw_round_model_find (fixture->model, (int) next), ==, G_MAXUINT);
}

static void
notify_cb (GObject    *line G_GNUC_UNUSED,
           GParamSpec *pspec G_GNUC_UNUSED,
           Fixture    *fixture)
{
  fixture->notified++;
}

static void
moved_cb (GListModel *list G_GNUC_UNUSED,
          guint       position G_GNUC_UNUSED,
          guint       removed,
          guint       added,
          Fixture    *fixture)
{
  fixture->moved += removed + added;
}

static void
listen (Fixture *fixture)
{
  GListModel *list = G_LIST_MODEL (fixture->model);

  g_signal_connect (list, "items-changed", G_CALLBACK (moved_cb), fixture);
  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (BwRoundLine) line = g_list_model_get_item (list, i);

      g_signal_connect (line, "notify", G_CALLBACK (notify_cb), fixture);
    }
}

static void
test_only_changes (Fixture       *fixture,
                   gconstpointer  data G_GNUC_UNUSED)
{
  g_autoptr (BwRoundLine) line = NULL;
  g_autoptr (BwRoundLine) same = NULL;

  bw_round_model_show (fixture->model, fixture->grading, 6, TRUE);
  line = g_list_model_get_item (G_LIST_MODEL (fixture->model), 3);
  listen (fixture);

  bw_round_model_show (fixture->model, fixture->grading, 6, TRUE);
  g_assert_cmpuint (fixture->notified, ==, 0);
  g_assert_cmpuint (fixture->moved, ==, 0);

  /* A colour's name is in the lines of that colour and nowhere else */
  bw_grading_free (fixture->grading);
  g_free (g_array_index (fixture->design->colours, BwColour, 1).name);
  g_array_index (fixture->design->colours, BwColour, 1).name = g_strdup ("Rust");
  fixture->grading = bw_grade (fixture->reference, fixture->design, NULL);
  bw_round_model_show (fixture->model, fixture->grading, 6, TRUE);
  g_assert_cmpuint (fixture->notified, ==, 1);
  g_assert_cmpuint (fixture->moved, ==, 0);
  same = g_list_model_get_item (G_LIST_MODEL (fixture->model), 3);
  g_assert_true (line == same);

  bw_round_model_show (fixture->model, NULL, 0, TRUE);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (fixture->model)), ==, 0);
}

static void
test_done (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  gboolean done;

  bw_round_model_show (fixture->model, fixture->grading, 6, FALSE);
  bw_round_model_set_current (fixture->model, 4);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (fixture->model)); i++)
    {
      g_autoptr (BwRoundLine) line = g_list_model_get_item (G_LIST_MODEL (fixture->model), i);

      g_object_get (line, "done", &done, NULL);
      g_assert_cmpint (done, ==, i < 4);
    }
}

/* Every line of the table has the same number of fields, whatever stands in them. */
static void
test_text (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  g_autofree char *csv = NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  guint n;

  bw_round_model_show (fixture->model, fixture->grading, 6, TRUE);
  n = g_list_model_get_n_items (G_LIST_MODEL (fixture->model));
  csv = bw_round_model_to_text (fixture->model, TRUE);
  lines = g_strsplit (csv, "\r\n", -1);
  g_assert_cmpuint (g_strv_length (lines), ==, n + 2);
  for (guint i = 0; i < n + 1; i++)
    {
      guint commas = 0;
      gboolean quoted = FALSE;

      for (const char *p = lines[i]; *p != '\0'; p++)
        {
          if (*p == '"')
            quoted = !quoted;
          else if (*p == ',' && !quoted)
            commas++;
        }
      g_assert_cmpuint (commas, ==, 7);
    }

  text = bw_round_model_to_text (fixture->model, FALSE);
  g_assert_nonnull (strstr (text, "Rnd 1: "));
  g_assert_nonnull (strstr (text, " sts)\n"));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function) \
  g_test_add ("/app/round-model/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("fold", test_fold);
  ADD ("only-changes", test_only_changes);
  ADD ("done", test_done);
  ADD ("text", test_text);

  return g_test_run ();
}
