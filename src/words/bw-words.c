#define G_LOG_DOMAIN "bw-words"

#include "bw-words-private.h"

#include <math.h>
#include <string.h>

/**
 * bw_words_size_name:
 * @choice: a size of a design
 *
 * Returns: (transfer none): its name as people read it; its id when it has none
 */
const char *
bw_words_size_name (const BwSizeChoice *choice)
{
  const char *name = choice->size->name;

  return name != NULL && *name != '\0' ? name : choice->size->id;
}

/**
 * bw_words_find_size:
 * @design: a design
 * @name: id or name of one of its sizes
 *
 * Ids win over names, so that every size can be reached.
 *
 * Returns: the size's index, -1 when there is none
 */
int
bw_words_find_size (const BwDesign *design,
                    const char     *name)
{
  for (guint k = 0; k < design->sizes->len; k++)
    if (g_str_equal (g_array_index (design->sizes, BwSizeChoice, k).size->id, name))
      return (int) k;

  for (guint k = 0; k < design->sizes->len; k++)
    if (g_strcmp0 (g_array_index (design->sizes, BwSizeChoice, k).size->name, name) == 0)
      return (int) k;

  return -1;
}

/**
 * bw_words_terms:
 * @terms: UK or US
 *
 * Returns: (transfer none): "UK terms"
 */
const char *
bw_words_terms (BwTerms terms)
{
  return terms == BW_TERMS_UK ? _("UK terms") : _("US terms");
}

/**
 * bw_words_unit:
 * @design: a design
 *
 * Returns: (transfer none): the abbreviation that stands over columns of lengths
 */
const char *
bw_words_unit (const BwDesign *design)
{
  return design->units == BW_UNITS_INCH ? _("in") : _("cm");
}

/**
 * bw_words_brim:
 * @kind: a kind of brim
 *
 * Returns: (transfer none): what it is called
 */
const char *
bw_words_brim (BwBrimKind kind)
{
  switch (kind)
    {
    case BW_BRIM_SLIP_RIB:
      return _("sideways slip stitch rib");
    case BW_BRIM_LOW_RIB:
      return _("sideways back-loop rib");
    case BW_BRIM_POST_RIB:
      return _("post stitch rib in the round");
    case BW_BRIM_ROLLED:
      return _("rolled edge");
    case BW_BRIM_NONE:
    default:
      return _("no brim");
    }
}

/**
 * bw_words_crown:
 * @profile: a crown's profile
 *
 * Returns: (transfer none): what it is called
 */
const char *
bw_words_crown (BwCrownProfile profile)
{
  switch (profile)
    {
    case BW_CROWN_FLAT:
      return _("flat top");
    case BW_CROWN_ROUND:
      return _("round crown");
    case BW_CROWN_TAPERED:
      return _("tapered crown");
    case BW_CROWN_POINTED:
      return _("pointed crown");
    case BW_CROWN_GATHERED:
      return _("gathered crown");
    case BW_CROWN_OWN:
    default:
      return _("crown of the designer's own counts");
    }
}

/**
 * bw_words_severity:
 * @severity: how bad a finding is
 *
 * Returns: (transfer none): the word for it
 */
const char *
bw_words_severity (BwSeverity severity)
{
  switch (severity)
    {
    case BW_SEVERITY_REFUSAL:
      return _("Refused");
    case BW_SEVERITY_ERROR:
      return _("Error");
    case BW_SEVERITY_WARNING:
      return _("Warning");
    case BW_SEVERITY_NOTE:
    default:
      return _("Note");
    }
}

/**
 * bw_words_length:
 * @design: whose units and inch are used
 * @mm: a length
 *
 * Returns: (transfer full): "44.8 cm"
 */
char *
bw_words_length (const BwDesign *design,
                 double          mm)
{
  return bw_units_format_length (mm, design->units, design->mm_per_inch);
}

/**
 * bw_words_length_value:
 * @design: whose units and inch are used
 * @mm: a length
 *
 * For columns that have their unit in the heading.
 *
 * Returns: (transfer full): "44.8", or "17.64" in inches
 */
char *
bw_words_length_value (const BwDesign *design,
                       double          mm)
{
  if (design->units == BW_UNITS_INCH)
    return bw_units_format_number (mm / design->mm_per_inch, 2);
  return bw_units_format_number (mm / 10, 1);
}

/**
 * bw_words_percent:
 * @fraction: 0.07 for 7 %
 * @decimals: digits after the dot, at most
 *
 * Returns: (transfer full): "7 %", with a minus sign where it is negative
 */
char *
bw_words_percent (double fraction,
                  guint  decimals)
{
  g_autofree char *number = bw_units_format_number (fabs (fraction) * 100, decimals);

  return g_strdup_printf ("%s%s %%", fraction < 0 ? "−" : "", number);
}

/**
 * bw_words_ease:
 * @design: whose units are used
 * @ease: an ease
 *
 * Returns: (transfer full): "−7 %", "−2.5 cm", "−7 % −2.5 cm" or "none"
 */
char *
bw_words_ease (const BwDesign *design,
               const BwEase   *ease)
{
  g_autofree char *percent = bw_words_percent (ease->fraction, 1);
  g_autofree char *length = bw_words_length (design, fabs (ease->length_mm));
  const char *sign = ease->length_mm < 0 ? "−" : "+";

  if (ease->fraction == 0 && ease->length_mm == 0)
    return g_strdup (_("none"));
  if (ease->length_mm == 0)
    return g_steal_pointer (&percent);
  if (ease->fraction == 0)
    return g_strconcat (sign, length, NULL);
  return g_strconcat (percent, " ", sign, length, NULL);
}

/**
 * bw_words_colour:
 * @design: a design
 * @colour: index of one of its colours
 *
 * Returns: (transfer full): "A (Harbour green)", or "A" when it has no name
 */
char *
bw_words_colour (const BwDesign *design,
                 guint           colour)
{
  const char *name = NULL;

  if (colour < design->colours->len)
    name = g_array_index (design->colours, BwColour, colour).name;
  if (name == NULL || *name == '\0')
    return g_strdup_printf ("%c", (char) ('A' + colour));
  return g_strdup_printf ("%c (%s)", (char) ('A' + colour), name);
}

/**
 * bw_words_fabric:
 * @grading: a grading
 * @id: a stitch pattern's id
 *
 * Returns: (transfer none): its name in the design's terms; @id when it has none
 */
const char *
bw_words_fabric (const BwGrading *grading,
                 const char      *id)
{
  const BwFabric *fabric = bw_fabric_find (grading->reference->fabrics, id);

  if (fabric == NULL)
    return id;
  return grading->design->terms == BW_TERMS_UK ? fabric->name_uk : fabric->name_us;
}

/**
 * bw_words_band:
 * @grading: a grading
 * @band: index of a band
 *
 * Returns: (transfer full): the band's heading: its own name or its stitch pattern's
 */
char *
bw_words_band (const BwGrading *grading,
               guint            band)
{
  const BwBand *b;

  if (band >= grading->design->bands->len)
    return g_strdup (_("Band"));

  b = &g_array_index (grading->design->bands, BwBand, band);
  if (b->name != NULL && *b->name != '\0')
    return g_strdup (b->name);
  return g_strdup (bw_words_fabric (grading, b->fabric));
}

/**
 * bw_words_part:
 * @grading: a grading
 * @section: a BwSection; anything else is the whole hat
 * @band: index of the band, where the section is a band
 *
 * Returns: (transfer full): heading of a part of the hat
 */
char *
bw_words_part (const BwGrading *grading,
               int              section,
               guint            band)
{
  switch (section)
    {
    case BW_SECTION_BRIM:
      return g_strdup (_("Brim"));
    case BW_SECTION_JOIN:
      return g_strdup (_("Joining the brim"));
    case BW_SECTION_PICK_UP:
      return g_strdup (grading->design->brim.kind == BW_BRIM_NONE ? _("First round")
                                                                  : _("Pick-up"));
    case BW_SECTION_ADJUST:
      return g_strdup (_("Adjusting round"));
    case BW_SECTION_BAND:
      return bw_words_band (grading, band);
    case BW_SECTION_SET_UP:
      return g_strdup (_("Set-up round"));
    case BW_SECTION_CROWN:
      return g_strdup (_("Crown"));
    case BW_SECTION_CLOSE:
      return g_strdup (_("Closing"));
    default:
      return g_strdup (_("Hat"));
    }
}
