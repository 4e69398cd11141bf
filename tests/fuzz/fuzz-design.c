#include <string.h>

#include "bw-design-file.h"
#include "bw-error.h"
#include "bw-reference-builtin.h"
#include "fuzz.h"

/* Any bytes are a design file or one error. What is accepted passes its own
 * checks, is written, and reads back as the same design; and bytes that are no
 * design can still be handed over as the text to edit. */

static const BwReference *
reference (void)
{
  static BwReference *builtin;

  if (builtin == NULL)
    builtin = bw_reference_builtin (NULL);
  g_assert (builtin != NULL);

  return builtin;
}

static void
check_accepted (const BwDesign *design,
                const char     *text)
{
  g_autofree char *written = bw_design_to_text (reference (), design, text, NULL);
  g_autoptr (BwDesign) back = NULL;
  g_autoptr (BwDesign) copy = bw_design_copy (design);

  back = bw_design_from_text (reference (), written, strlen (written), NULL);
  g_assert (bw_design_check (reference (), design, NULL));
  g_assert (back != NULL && bw_design_equal (back, design));
  g_assert (bw_design_equal (copy, design));
}

int
LLVMFuzzerTestOneInput (const guint8 *data,
                        gsize         size)
{
  g_autofree char *text = g_strndup ((const char *) data, size);
  g_autoptr (BwDesign) design = NULL;
  g_autoptr (GError) error = NULL;

  design = bw_design_from_text (reference (), (const char *) data, size, &error);
  if (design != NULL)
    {
      g_assert (error == NULL);
      check_accepted (design, text);
    }
  else
    {
      g_autoptr (BwDesign) blank = bw_design_new ();
      g_autofree char *written = bw_design_to_text (reference (), blank, text, NULL);

      g_assert (error != NULL && error->domain == BW_ERROR);
      g_assert (g_utf8_validate (error->message, -1, NULL));
      g_assert (written != NULL);
    }

  return 0;
}
