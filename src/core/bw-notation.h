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

/* Numbers of several sizes side by side: number i of size k is
 * counts[i * n_sizes + k], and means something only where works[k]. */
typedef struct
{
  guint           n_sizes;
  const gboolean *works;
  const guint32  *counts;
} BwSizes;

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
void     bw_notation_print_many  (const BwStitchDictionary *dictionary,
                                  const BwItem             *items,
                                  gsize                     n_items,
                                  const BwSizes            *sizes,
                                  const guint              *available,
                                  gboolean                  row,
                                  BwTerms                   terms,
                                  GString                  *out);
void     bw_notation_print_sizes (const BwSizes            *sizes,
                                  gsize                     index,
                                  GString                  *out);

G_END_DECLS
