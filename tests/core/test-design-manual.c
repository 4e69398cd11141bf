#include <string.h>

#include "bw-design-fields.h"
#include "bw-reference-builtin.h"

/* The manual page of the design file says of every group and key what the
 * program does: its words, range and default are in the page, and every example
 * in the page is one that the program takes. */

static BwReference *reference;
static char        *page; /* escapes undone */

static void
replace_all (GString    *text,
             const char *what,
             const char *with)
{
  g_string_replace (text, what, with, 0);
}

static char *
load_page (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "..", "data", "man",
                                                 "brimwright-design.5", NULL);
  g_autofree char *raw = NULL;
  g_autoptr (GError) error = NULL;
  GString *text;

  g_file_get_contents (path, &raw, NULL, &error);
  g_assert_no_error (error);
  text = g_string_new (raw);
  replace_all (text, "\\-", "-");
  replace_all (text, "\\(dq", "\"");
  replace_all (text, "\\e", "\\");

  return g_string_free (text, FALSE);
}

/* From the end of @start to the first of @ends. */
static char *
between (const char        *text,
         const char        *start,
         const char *const *ends)
{
  const char *from = strstr (text, start);
  const char *to;

  if (from == NULL)
    g_error ("“%s” is not in the page", start);

  from += strlen (start);
  to = from + strlen (from);
  for (guint i = 0; ends[i] != NULL; i++)
    {
      const char *end = strstr (from, ends[i]);

      if (end != NULL && end < to)
        to = end;
    }

  return g_strndup (from, (gsize) (to - from));
}

static char *
section_of (const BwFieldGroup *group)
{
  static const char *const ends[] = { "\n.Ss ", "\n.Sh ", NULL };
  g_autofree char *start = g_strdup_printf ("\n.Ss [%s%s", group->name, group->many ? " " : "]");

  return between (page, start, ends);
}

static char *
entry_of (BwGroupId      id,
          const BwField *field,
          const char    *section)
{
  static const char *const ends[] = { "\n.It ", "\n.El", NULL };
  g_autofree char *start = NULL;

  if (id == BW_GROUP_PINS)
    start = g_strdup_printf ("\n.It Ar SIZE Ns Cm .%s Ns = Ns Ar ", field->key);
  else
    start = g_strdup_printf ("\n.It Cm %s Ns = Ns Ar ", field->key);

  return between (section, start, ends);
}

static void
assert_says (const BwField *field,
             const char    *entry,
             const char    *what)
{
  if (strstr (entry, what) == NULL)
    g_error ("the page does not say “%s” for %s:\n%s", what, field->key, entry);
}

/* ---- structures with the defaults -------------------------------------- */

typedef struct
{
  BwDesign     *design;
  BwColour      colour;
  BwSwatch      swatch;
  BwSizeChoice  choice;
  BwBand        band;
  BwPin         pin;
} Defaults;

static void
defaults_init (Defaults *defaults)
{
  memset (defaults, 0, sizeof *defaults);
  defaults->design = bw_design_new ();
  bw_colour_init (&defaults->colour, "", 0x808080);
  bw_swatch_init (&defaults->swatch, "id", "");
  bw_size_choice_init (&defaults->choice, bw_field_blank_size ("the id"));
  bw_band_init (&defaults->band, "");
}

static void
defaults_clear (Defaults *defaults)
{
  bw_design_free (defaults->design);
  bw_colour_clear (&defaults->colour);
  bw_swatch_clear (&defaults->swatch);
  bw_size_choice_clear (&defaults->choice);
  bw_band_clear (&defaults->band);
}

static gpointer
defaults_of (Defaults  *defaults,
             BwGroupId  id)
{
  switch (id)
    {
    case BW_GROUP_COLOUR:
      return &defaults->colour;

    case BW_GROUP_SWATCH:
      return &defaults->swatch;

    case BW_GROUP_SIZE:
      return &defaults->choice;

    case BW_GROUP_BAND:
      return &defaults->band;

    case BW_GROUP_PINS:
      return &defaults->pin;

    default:
      return defaults->design;
    }
}

static BwFieldContext
context_of (BwGroupId id)
{
  return (BwFieldContext) {
    .reference = reference,
    .units = BW_UNITS_CM,
    .mm_per_inch = BW_MM_PER_INCH,
    .group = bw_field_group (id)->name,
  };
}

/* ---- tests ------------------------------------------------------------- */

static void
test_keys (void)
{
  for (guint id = 0; id < BW_N_GROUPS; id++)
    {
      const BwFieldGroup *group = bw_field_group (id);
      g_autofree char *section = section_of (group);
      guint n = 0;

      for (guint i = 0; i < group->n_fields; i++)
        {
          g_autofree char *entry = entry_of (id, &group->fields[i], section);

          g_assert_cmpuint (strlen (entry), >, 20);
        }

      /* and no key that the program does not know */
      for (const char *p = strstr (section, "\n.It "); p != NULL; p = strstr (p + 1, "\n.It "))
        n++;
      g_assert_cmpuint (n, ==, group->n_fields);
    }
}

/* What the program expects says "from 5 mm to 40 mm, with…"; the page must name
 * both figures in the same way. */
static void
assert_says_range (const BwField *field,
                   const char    *entry,
                   const char    *expected)
{
  const char *from = strstr (expected, "from ");
  const char *to = from != NULL ? strstr (from, " to ") : NULL;
  g_autofree char *range = NULL;

  if (to == NULL)
    return;

  to += strlen (" to ");
  range = g_strndup (from + strlen ("from "), (gsize) (to - from) - strlen ("from ") +
                                              strcspn (to, " ,"));
  assert_says (field, entry, range);
}

static void
test_ranges_and_words (void)
{
  for (guint id = 0; id < BW_N_GROUPS; id++)
    {
      const BwFieldGroup *group = bw_field_group (id);
      BwFieldContext context = context_of (id);
      g_autofree char *section = section_of (group);

      for (guint i = 0; i < group->n_fields; i++)
        {
          const BwField *field = &group->fields[i];
          g_autofree char *entry = entry_of (id, field, section);
          g_autofree char *expected = bw_field_expectation (field, &context);
          g_autofree char *bytes = g_strdup_printf ("At most %.0f bytes", field->max);

          assert_says_range (field, entry, expected);
          if (field->kind == BW_FIELD_LINE || field->kind == BW_FIELD_PROSE)
            assert_says (field, entry, bytes);
          if (field->flags & BW_FIELD_REQUIRED)
            assert_says (field, entry, "Required.");
          for (guint j = 0; field->words != NULL && field->words[j].word != NULL; j++)
            assert_says (field, entry, field->words[j].word);
        }
    }
}

static gboolean
has_default (BwGroupId      id,
             const BwField *field,
             const char    *text)
{
  if (id == BW_GROUP_PINS || (field->flags & (BW_FIELD_REQUIRED | BW_FIELD_UNSAID)))
    return FALSE;

  /* a size's own figures come from its table or are required */
  if ((field->flags & BW_FIELD_OF_SIZE) && field->kind == BW_FIELD_LENGTH)
    return FALSE;

  return text[0] != '\0';
}

static void
test_defaults (void)
{
  Defaults defaults;
  guint n = 0;

  defaults_init (&defaults);
  for (guint id = 0; id < BW_N_GROUPS; id++)
    {
      const BwFieldGroup *group = bw_field_group (id);
      BwFieldContext context = context_of (id);
      g_autofree char *section = section_of (group);

      for (guint i = 0; i < group->n_fields; i++)
        {
          const BwField *field = &group->fields[i];
          g_autofree char *entry = entry_of (id, field, section);
          g_autofree char *text = bw_field_print (field, &context, defaults_of (&defaults, id));
          g_autofree char *says = g_strdup_printf ("Default: %s.", text);

          if (has_default (id, field, text))
            {
              assert_says (field, entry, says);
              n++;
            }
          else
            {
              g_assert_null (strstr (entry, "Default:"));
            }
        }
    }
  defaults_clear (&defaults);

  g_assert_cmpuint (n, >, 35);
}

static void
check_example (BwGroupId      id,
               const BwField *field,
               const char    *entry,
               gpointer       base)
{
  BwFieldContext context = context_of (id);
  g_autoptr (GError) error = NULL;
  g_autofree char *start = g_strdup_printf ("\n.Dl %s%s=", id == BW_GROUP_PINS ? "adult-m." : "",
                                            field->key);
  static const char *const ends[] = { "\n", NULL };
  g_autofree char *value = between (entry, start, ends);
  g_autofree char *file = g_strdup_printf ("[g]\nk=%s\n", value);
  g_autoptr (GKeyFile) key_file = g_key_file_new ();
  g_autofree char *text = NULL;

  g_key_file_load_from_data (key_file, file, strlen (file), G_KEY_FILE_NONE, &error);
  g_assert_no_error (error);
  text = g_key_file_get_string (key_file, "g", "k", &error);
  g_assert_no_error (error);

  bw_field_read (field, &context, base, text, &error);
  g_assert_no_error (error);
}

static void
test_examples (void)
{
  Defaults defaults;

  defaults_init (&defaults);
  for (guint id = 0; id < BW_N_GROUPS; id++)
    {
      const BwFieldGroup *group = bw_field_group (id);
      g_autofree char *section = section_of (group);

      for (guint i = 0; i < group->n_fields; i++)
        {
          g_autofree char *entry = entry_of (id, &group->fields[i], section);

          check_example (id, &group->fields[i], entry, defaults_of (&defaults, id));
        }
    }
  defaults_clear (&defaults);
}

static void
test_whole_example (void)
{
  static const char *const ends[] = { ".Ed", NULL };
  const char *examples = strstr (page, "\n.Sh EXAMPLES");
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BwDesign) design = NULL;

  g_assert_nonnull (examples);
  text = between (examples, ".Bd -literal -offset indent\n", ends);
  design = bw_design_from_text (reference, text, strlen (text), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (design->sizes->len, ==, 2);
}

/* The limits that the page states in prose. */
static void
test_limits (void)
{
  g_autofree char *bytes = g_strdup_printf ("at most %d bytes", BW_DESIGN_FILE_BYTES_MAX);
  g_autofree char *sizes = g_strdup_printf ("1 to %d of them", BW_DESIGN_SIZES_MAX);
  g_autofree char *swatches = g_strdup_printf ("each swatch, 1 to %d,", BW_DESIGN_SWATCHES_MAX);
  g_autofree char *bands = g_strdup_printf ("[Band %d]", BW_DESIGN_BANDS_MAX);
  g_autofree char *colours = g_strdup_printf ("[Colour %c]", 'A' + BW_STRIPE_COLOURS_MAX - 1);
  g_autofree char *readings = g_strdup_printf ("At most %d readings", BW_DESIGN_READINGS_MAX);

  g_assert_nonnull (strstr (page, bytes));
  g_assert_nonnull (strstr (page, sizes));
  g_assert_nonnull (strstr (page, swatches));
  g_assert_nonnull (strstr (page, bands));
  g_assert_nonnull (strstr (page, colours));
  g_assert_nonnull (strstr (page, readings));
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  reference = bw_reference_builtin (&error);
  g_assert_no_error (error);
  page = load_page ();

  g_test_add_func ("/core/design-manual/keys", test_keys);
  g_test_add_func ("/core/design-manual/ranges-and-words", test_ranges_and_words);
  g_test_add_func ("/core/design-manual/defaults", test_defaults);
  g_test_add_func ("/core/design-manual/examples", test_examples);
  g_test_add_func ("/core/design-manual/whole-example", test_whole_example);
  g_test_add_func ("/core/design-manual/limits", test_limits);

  status = g_test_run ();
  bw_reference_free (reference);
  g_free (page);

  return status;
}
