#include <string.h>

#include "bw-design-fields.h"
#include "bw-reference-builtin.h"
#include "random-design.h"

/* The design as a value: made, copied, compared, freed, searched. */

static BwReference *reference;

static void
test_defaults (void)
{
  g_autoptr (BwDesign) design = bw_design_new ();
  const BwColour *colour = &g_array_index (design->colours, BwColour, 0);

  g_assert_cmpfloat (design->body_ease.fraction, ==, -0.07);
  g_assert_cmpfloat (design->brim_ease.fraction, ==, -0.18);
  g_assert_cmpfloat (design->yarn_margin, ==, 0.10);
  g_assert_cmpfloat (design->mm_per_inch, ==, BW_MM_PER_INCH);
  g_assert_cmpfloat (design->rules.girth_tolerance_mm, ==, 10.0);
  g_assert_cmpfloat (design->rules.girth_limit_mm, ==, 25.0);
  g_assert_cmpfloat (design->finishing.tail_mm, ==, 150.0);
  g_assert_cmpuint (design->rules.least_step, ==, 1);
  g_assert_cmpuint (design->colours->len, ==, 1);
  g_assert_cmpstr (colour->name, ==, "Main");
  g_assert_cmpstr (design->crown.fabric, ==, "plain-low");
  g_assert_cmpstr (design->body_fabric, ==, "plain-low");
  g_assert_cmpint (design->crown.profile, ==, BW_CROWN_ROUND);
  g_assert_cmpuint (design->sizes->len, ==, 0);
}

static void
test_copy_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);

  for (guint i = 0; i < 500; i++)
    {
      g_autoptr (BwDesign) design = random_design (rand, reference);
      g_autoptr (BwDesign) other = random_design (rand, reference);
      g_autoptr (BwDesign) copy = bw_design_copy (design);
      g_autoptr (BwDesign) again = NULL;

      g_assert_true (bw_design_equal (design, design));
      g_assert_true (bw_design_equal (design, copy));
      g_assert_true (bw_design_equal (copy, design));
      g_assert_false (bw_design_equal (design, other));

      /* a copy outlives what it was copied from */
      g_clear_pointer (&design, bw_design_free);
      again = bw_design_copy (copy);
      g_assert_true (bw_design_equal (again, copy));
    }
}

/* ---- every key matters to equality ------------------------------------- */

static void
change_text (char **text)
{
  char *changed = g_strconcat (*text != NULL ? *text : "", "x", NULL);

  g_free (*text);
  *text = changed;
}

static void
change_array (const BwField *field,
              GArray        *array)
{
  if (field->kind == BW_FIELD_USE)
    {
      BwSizeChoice choice;

      bw_size_choice_init (&choice, bw_size_new ("more", "more", 900, 300));
      g_array_append_val (array, choice);
    }
  else if (field->kind == BW_FIELD_STRIPE)
    {
      BwStripeStep step = { 0, 1 };

      g_array_append_val (array, step);
    }
  else if (field->kind == BW_FIELD_COUNTS)
    {
      guint count = 7;

      g_array_append_val (array, count);
    }
  else
    {
      BwReading reading = { .count = 1, .span_mm = 10 };

      reading.direction = field->kind == BW_FIELD_ROUNDS ? BW_READING_ROUNDS : BW_READING_STITCHES;
      g_array_append_val (array, reading);
    }
}

static void
change (const BwField *field,
        gpointer       base)
{
  gpointer value = bw_field_value (field, base);

  switch (field->kind)
    {
    case BW_FIELD_LINE:
    case BW_FIELD_PROSE:
    case BW_FIELD_ID:
      change_text (value);
      break;

    case BW_FIELD_COUNT:
    case BW_FIELD_INTEGER:
    case BW_FIELD_RGB:
      *(guint *) value += 1;
      break;

    case BW_FIELD_SWITCH:
    case BW_FIELD_WORD:
      *(int *) value ^= 1;
      break;

    case BW_FIELD_LETTER:
      *(guint8 *) value += 1;
      break;

    case BW_FIELD_OWN_EASE:
      G_STRUCT_MEMBER (gboolean, base, field->flag_offset) ^= TRUE;
      break;

    case BW_FIELD_EASE:
      ((BwEase *) value)->length_mm += 1.0;
      break;

    default:
      if (bw_field_is_list (field->kind))
        change_array (field, *(GArray **) value);
      else
        *(double *) value += 1.0;
    }
}

static gpointer
first_of (BwGroupId  id,
          BwDesign  *design)
{
  switch (id)
    {
    case BW_GROUP_COLOUR:
      return design->colours->data;

    case BW_GROUP_SWATCH:
      return design->swatches->data;

    case BW_GROUP_SIZE:
      return design->sizes->data;

    case BW_GROUP_BAND:
      return design->bands->len > 0 ? design->bands->data : NULL;

    case BW_GROUP_PINS:
      return design->pins->len > 0 ? design->pins->data : NULL;

    default:
      return design;
    }
}

static void
test_every_key_counts (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);
  guint changed = 0;

  for (guint round = 0; round < 20; round++)
    {
      g_autoptr (BwDesign) design = random_design (rand, reference);

      for (guint id = 0; id < BW_N_GROUPS; id++)
        for (guint i = 0; i < bw_field_group (id)->n_fields; i++)
          {
            const BwField *field = &bw_field_group (id)->fields[i];
            g_autoptr (BwDesign) copy = bw_design_copy (design);
            gpointer base = first_of (id, copy);

            if (base == NULL || field->kind == BW_FIELD_FORMAT)
              continue;

            change (field, base);
            if (bw_design_equal (design, copy))
              g_error ("[%s] %s does not count", bw_field_group (id)->name, field->key);
            changed++;
          }
    }

  g_assert_cmpuint (changed, >, 20 * 70);
}

/* ---- finding ----------------------------------------------------------- */

static void
append_size (BwDesign   *design,
             const char *id,
             const char *name,
             double      head_mm)
{
  BwSizeChoice choice;

  bw_size_choice_init (&choice, bw_size_new (id, name, head_mm, 200));
  g_array_append_val (design->sizes, choice);
}

static void
test_find (void)
{
  g_autoptr (BwDesign) design = bw_design_new ();
  BwSwatch swatch;
  BwPin pin = { .kind = BW_PIN_CROWN_START, .value = 72 };

  append_size (design, "small", "large", 500);
  append_size (design, "large", "Big", 600);
  bw_swatch_init (&swatch, "body", "plain-low");
  g_array_append_val (design->swatches, swatch);
  pin.size = g_strdup ("small");
  g_array_append_val (design->pins, pin);

  g_assert_cmpstr (bw_design_find_size (design, "small")->size->id, ==, "small");
  g_assert_cmpstr (bw_design_find_size (design, "Big")->size->id, ==, "large");
  /* an id wins over another size's name */
  g_assert_cmpstr (bw_design_find_size (design, "large")->size->id, ==, "large");
  g_assert_null (bw_design_find_size (design, "medium"));

  g_assert_cmpstr (bw_design_find_swatch (design, "body")->fabric, ==, "plain-low");
  g_assert_null (bw_design_find_swatch (design, ""));

  g_assert_cmpuint (bw_design_find_pin (design, "small", BW_PIN_CROWN_START)->value, ==, 72);
  g_assert_null (bw_design_find_pin (design, "small", BW_PIN_BRIM_COUNT));
  g_assert_null (bw_design_find_pin (design, "large", BW_PIN_CROWN_START));

  bw_design_free (NULL);
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

  g_test_add_func ("/core/design/defaults", test_defaults);
  g_test_add_func ("/core/design/copy-random", test_copy_random);
  g_test_add_func ("/core/design/every-key-counts", test_every_key_counts);
  g_test_add_func ("/core/design/find", test_find);

  status = g_test_run ();
  bw_reference_free (reference);

  return status;
}
