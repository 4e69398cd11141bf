#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Inside the program every length is in mm, every mass in g, every length of
 * yarn in m. What people type and read is converted here and nowhere else.
 */

#define BW_MM_PER_INCH       25.4 /* exact: international inch, 1959 */
#define BW_MM_PER_INCH_ROUND 25.0 /* house style: "4 in = 10 cm" inside a pattern */
#define BW_G_PER_OUNCE       28.349523125 /* exact: avoirdupois ounce */
#define BW_M_PER_YARD        0.9144       /* exact */

typedef enum
{
  BW_UNITS_CM,
  BW_UNITS_INCH,
} BwUnits;

gboolean bw_units_split          (const char  *text,
                                  double      *number,
                                  char       **word,
                                  GError     **error);
gboolean bw_units_parse_length   (const char  *text,
                                  BwUnits      bare,
                                  double       mm_per_inch,
                                  double      *mm,
                                  GError     **error);
gboolean bw_units_parse_mass     (const char  *text,
                                  double      *grams,
                                  GError     **error);
gboolean bw_units_parse_yarn     (const char  *text,
                                  double      *metres,
                                  GError     **error);
gboolean bw_units_parse_number   (const char  *text,
                                  double      *value,
                                  GError     **error);
gboolean bw_units_parse_fraction (const char  *text,
                                  double      *fraction,
                                  GError     **error);
char    *bw_units_format_length  (double       mm,
                                  BwUnits      units,
                                  double       mm_per_inch) G_GNUC_WARN_UNUSED_RESULT;
char    *bw_units_format_number  (double       value,
                                  guint        decimals) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
