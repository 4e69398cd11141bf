#pragma once

#include <glib.h>

#include "bw-instruction.h"

G_BEGIN_DECLS

/* A stitch pattern: rounds of instructions over a multiple of stitches.
 * Pure data (data/reference/stitch-patterns.ini): a new one needs no C. */
typedef struct
{
  char     *id;             /* "raised-thirds" */
  char     *name_uk;
  char     *name_us;
  char     *note;           /* one sentence on how it behaves; may be NULL */
  guint     multiple;       /* S = offset (mod multiple) */
  guint     offset;
  guint     n_start;        /* rounds worked once before the first repeat */
  guint     n_rounds;       /* rounds of one repeat; >= 1 */
  guint     colour_rounds;  /* a colour change looks right only after so many rounds; 1 = after any */
  guint     colours;        /* colours it is meant for; 1 = works in one */
  double    stretch;        /* usable stretch across, fraction; 0 = take the body's default */
  guint    *first_item;     /* n_start + n_rounds + 1 offsets into items */
  GArray   *items;          /* of BwItem; "around" repeats have count 0 */
  double   *round_height;   /* n_start + n_rounds, in heights of "low" */
} BwFabric;

typedef struct
{
  GPtrArray *fabrics; /* of BwFabric */
} BwFabricTable;

BwFabricTable  *bw_fabric_table_parse  (const BwStitchDictionary *dictionary,
                                        const char               *text,
                                        gsize                     length,
                                        GError                  **error) G_GNUC_WARN_UNUSED_RESULT;
void            bw_fabric_table_free   (BwFabricTable            *table);
const BwFabric *bw_fabric_find         (const BwFabricTable      *table,
                                        const char               *id);
guint           bw_fabric_round_index  (const BwFabric           *fabric,
                                        guint                     round);
const BwItem   *bw_fabric_round_items  (const BwFabric           *fabric,
                                        guint                     index,
                                        guint                    *n_items);
double          bw_fabric_height       (const BwFabric           *fabric,
                                        guint                     n_rounds);
guint           bw_fabric_whole_rounds (const BwFabric           *fabric,
                                        guint                     n_rounds);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwFabricTable, bw_fabric_table_free)

G_END_DECLS
