#pragma once

#include "bw-cli.h"
#include "bw-edition.h"

G_BEGIN_DECLS

/* Which edition is published. */
typedef struct
{
  char    *terms;      /* uk, us or both; NULL = each design's */
  gboolean large_print;
  gboolean low_ink;
} BwCliEdition;

gboolean   bw_cli_edition_check (const BwCliEdition *asked);
gboolean   bw_cli_edition_date  (gint64             *date);
guint      bw_cli_edition_terms (const BwCliEdition *asked,
                                 BwTerms             terms[2]);
void       bw_cli_edition_clear (BwCliEdition       *asked);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BwCliEdition, bw_cli_edition_clear)

G_END_DECLS
