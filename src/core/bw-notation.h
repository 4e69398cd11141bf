#pragma once

#include <glib.h>

#include "bw-instruction.h"

G_BEGIN_DECLS

/* Reads and prints the instruction of one round in trade notation:
 *
 *   instruction = item { "," item }
 *   item        = count stitch | stitch | stitch "in each st around"
 *               | count stitch "in next st" | group
 *   group       = "[" instruction "]" ( count "times" | "around" | "to last" count "sts" )
 *               | "(" instruction ")" "in next" ( "st" | "ch-sp" )
 *
 * The complete grammar stands in bw-notation.c and in the manual page
 * brimwright-design(5).
 */

gboolean bw_notation_read_round  (const BwStitchDictionary *dictionary,
                                  const char               *text,
                                  gssize                    length,
                                  BwTerms                   terms,
                                  GArray                   *items,
                                  GError                  **error);
void     bw_notation_print_round (const BwStitchDictionary *dictionary,
                                  const BwItem             *items,
                                  gsize                     n_items,
                                  guint                     available,
                                  gboolean                  row,
                                  BwTerms                   terms,
                                  GString                  *out);

G_END_DECLS
