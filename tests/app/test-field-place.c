#include "app-fixture.h"
#include "bw-field-place.h"

/* Values by name: every value of every demo prints so that it reads back. */

static void
check_field (const BwReference *reference,
             const BwDesign    *design,
             BwGroupId          group,
             guint              at,
             const BwField     *field)
{
  BwFieldPlace place = { group, at, field };
  g_autofree char *text = bw_field_place_print (&place, reference, design);
  g_autoptr (BwDesign) copy = bw_design_copy (design);
  g_autoptr (GError) error = NULL;

  if (field->kind == BW_FIELD_FORMAT || field->kind == BW_FIELD_GAUGE ||
      field->kind == BW_FIELD_USE)
    return;
  if (!bw_field_place_read (&place, reference, copy, text, &error))
    {
      /* An empty value may be one that is not there */
      g_assert_cmpstr (text, ==, "");
      return;
    }
  if (!bw_design_equal (copy, design))
    g_test_fail_printf ("%s: \"%s\" reads back differently", field->key, text);
}

static void
test_round_trip (gconstpointer data)
{
  g_autoptr (BwReference) reference = bw_reference_builtin (NULL);
  g_autoptr (BwDesign) design = fixture_design (reference, data);
  guint checked = 0;

  for (guint g = 0; g < BW_GROUP_PINS; g++)
    {
      const BwFieldGroup *group = bw_field_group (g);
      BwFieldPlace place = { g, 0, NULL };

      for (; bw_field_place_base (&place, design) != NULL; place.place++)
        {
          for (guint i = 0; i < group->n_fields; i++, checked++)
            check_field (reference, design, g, place.place, &group->fields[i]);
          if (!group->many)
            break;
        }
    }
  g_assert_cmpuint (checked, >, 100);
}

static void
test_names (void)
{
  BwFieldPlace place;

  g_assert_true (bw_field_place_parse ("brim:height", &place));
  g_assert_cmpint (place.group, ==, BW_GROUP_BRIM);
  g_assert_cmpstr (place.field->key, ==, "height");
  g_assert_true (bw_field_place_parse ("band/2:stripe", &place));
  g_assert_cmpuint (place.place, ==, 2);
  g_assert_false (bw_field_place_parse ("brim:nothing", &place));
  g_assert_false (bw_field_place_parse ("nothing:height", &place));
  g_assert_false (bw_field_place_parse ("brim", &place));
  g_assert_false (bw_field_place_parse ("", &place));
}

/* An empty entry takes back what may be left out. */
static void
test_empty (void)
{
  g_autoptr (BwReference) reference = bw_reference_builtin (NULL);
  g_autoptr (BwDesign) design = fixture_design (reference, "lugger");
  BwFieldPlace place;

  g_assert_true (bw_field_place_parse ("finishing:pompom", &place));
  g_assert_true (bw_field_place_read (&place, reference, design, "  ", NULL));
  g_assert_cmpfloat (design->finishing.pompom_mm, ==, 0);

  g_assert_true (bw_field_place_parse ("size/0:body-ease", &place));
  g_assert_true (bw_field_place_read (&place, reference, design, "", NULL));
  g_assert_false (g_array_index (design->sizes, BwSizeChoice, 0).own_body_ease);

  g_assert_true (bw_field_place_parse ("yarn:thickness", &place));
  g_assert_true (bw_field_place_read (&place, reference, design, "", NULL));
  g_assert_cmpint (design->yarn.weight_class, ==, -1);

  g_assert_true (bw_field_place_parse ("brim:height", &place));
  g_assert_false (bw_field_place_read (&place, reference, design, "", NULL));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/app/field-place/round-trip/coble", "coble", test_round_trip);
  g_test_add_data_func ("/app/field-place/round-trip/lugger", "lugger", test_round_trip);
  g_test_add_data_func ("/app/field-place/round-trip/smack", "smack", test_round_trip);
  g_test_add_func ("/app/field-place/names", test_names);
  g_test_add_func ("/app/field-place/empty", test_empty);

  return g_test_run ();
}
