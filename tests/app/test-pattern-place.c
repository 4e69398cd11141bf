#include <string.h>

#include "app-fixture.h"
#include "bw-pattern-place.h"
#include "bw-words-pattern.h"

/* The place where somebody's written pattern is audited. */

typedef struct
{
  BwReference    *reference;
  GtkWidget      *window;
  BwPatternPlace *place;
} Fixture;

static void
set_up (Fixture       *fixture,
        gconstpointer  data G_GNUC_UNUSED)
{
  fixture->reference = bw_reference_builtin (NULL);
  fixture->window = gtk_window_new ();
  fixture->place = g_object_new (BW_TYPE_PATTERN_PLACE, NULL);
  bw_pattern_place_set_reference (fixture->place, fixture->reference);
  gtk_window_set_default_size (GTK_WINDOW (fixture->window), 1000, 700);
  gtk_window_set_child (GTK_WINDOW (fixture->window), GTK_WIDGET (fixture->place));
  gtk_window_present (GTK_WINDOW (fixture->window));
  gtk_test_widget_wait_for_draw (fixture->window);
}

static void
tear_down (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  bw_reference_free (fixture->reference);
}

static char *
our_text (Fixture *fixture)
{
  g_autoptr (BwDesign) design = fixture_design (fixture->reference, "lugger");
  BwGrading *grading = bw_grade (fixture->reference, design, NULL);
  g_autoptr (GPtrArray) blocks = bw_words_pattern (grading, -1, BW_PATTERN_FOLDED);
  char *text = bw_words_pattern_text (blocks);

  bw_grading_free (grading);

  return text;
}

static void
show (Fixture    *fixture,
      const char *text)
{
  gtk_text_buffer_set_text (bw_pattern_place_get_buffer (fixture->place), text, -1);
  bw_pattern_place_audit (fixture->place);
}

static char *
shown (Fixture *fixture)
{
  GtkTextIter start;
  GtkTextIter end;

  gtk_text_buffer_get_bounds (bw_pattern_place_get_buffer (fixture->place), &start, &end);

  return gtk_text_buffer_get_text (bw_pattern_place_get_buffer (fixture->place), &start, &end,
                                   TRUE);
}

/* Characters that are marked. */
static guint
n_marked (Fixture *fixture)
{
  GtkTextIter iter;
  guint n = 0;

  gtk_text_buffer_get_start_iter (bw_pattern_place_get_buffer (fixture->place), &iter);
  do
    {
      GSList *tags = gtk_text_iter_get_tags (&iter);

      n += tags != NULL;
      g_slist_free (tags);
    }
  while (gtk_text_iter_forward_char (&iter));

  return n;
}

static void
test_marks (Fixture       *fixture,
            gconstpointer  data G_GNUC_UNUSED)
{
  guint clean;
  guint n;

  show (fixture, "Terms: UK terms\n\nRnd 1: 6 dc in ring (6 sts)\nRnd 2: 2 dc in each st around "
                 "(12 sts)\nRnd 3: [dc, 2 dc in next st] 6 times (18 sts)\n");
  clean = bw_pattern_place_get_n_findings (fixture->place);
  show (fixture, "Terms: UK terms\n\nRnd 1: 6 dc in ring (6 sts)\nRnd 2: 2 dc in each st around "
                 "(12 sts)\nRnd 3: [dc, 2 dc in next st] 6 times (19 sts)\n");
  n = bw_pattern_place_get_n_findings (fixture->place);
  g_assert_cmpuint (n, >, clean);
  g_assert_cmpuint (n_marked (fixture), >, 0);
  show (fixture, "");
  g_assert_cmpuint (bw_pattern_place_get_n_findings (fixture->place), ==, 0);
  g_assert_cmpuint (n_marked (fixture), ==, 0);
}

/* A mend that is suggested is written where the fault was, and is one fault less. */
static void
test_mend (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  guint before;
  gboolean mended = FALSE;

  show (fixture, "Terms: UK terms\n\nRnd 1: 6 dc in ring (6 sts)\nRnd 2: 2 dc in each st around "
                 "(12 sts)\nRnd 3: [dc, 2 dc in next st] 6 times (19 sts)\n");
  before = bw_pattern_place_get_n_findings (fixture->place);
  for (guint i = 0; i < before && !mended; i++)
    {
      g_autofree char *old = shown (fixture);
      g_autofree char *new = NULL;

      bw_pattern_place_mend (fixture->place, i);
      new = shown (fixture);
      mended = !g_str_equal (old, new);
    }
  if (!mended)
    {
      g_test_skip ("no mend is suggested for this fault");
      return;
    }
  g_assert_cmpuint (bw_pattern_place_get_n_findings (fixture->place), <, before);
}

/* What this program writes has nothing to mark, whatever characters stand in it. */
static void
test_ours (Fixture       *fixture,
           gconstpointer  data G_GNUC_UNUSED)
{
  g_autofree char *text = our_text (fixture);
  g_autofree char *path = NULL;
  g_autofree char *seen = NULL;
  g_autoptr (GFile) file = NULL;
  g_autoptr (GError) error = NULL;
  int fd = g_file_open_tmp ("brimwright-app-XXXXXX.txt", &path, NULL);

  g_assert_cmpint (fd, >=, 0);
  g_close (fd, NULL);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  file = g_file_new_for_path (path);
  g_assert_true (bw_pattern_place_open (fixture->place, file, &error));
  g_assert_no_error (error);
  seen = shown (fixture);
  g_assert_cmpstr (seen, ==, text);
  g_assert_cmpuint (bw_pattern_place_get_n_findings (fixture->place), ==, 0);
  g_unlink (path);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  if (!gtk_init_check ())
    {
      g_print ("1..0 # SKIP no display\n");
      return 0;
    }

#define ADD(name, function) \
  g_test_add ("/app/pattern-place/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("marks", test_marks);
  ADD ("mend", test_mend);
  ADD ("ours", test_ours);

  return g_test_run ();
}
