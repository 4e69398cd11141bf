#pragma once

#include "bw-cli.h"
#include "bw-publish-kind.h"

G_BEGIN_DECLS

/* What verbs that write files of a design have in common. */
typedef struct
{
  char    *terms;      /* uk, us or both; NULL = the design's */
  char    *photograph;
  gboolean full;
  gboolean large_print;
  gboolean low_ink;
} BwCliEdition;

#define BW_CLI_EDITION_OPTIONS(edition) \
  { "photograph", 0, 0, G_OPTION_ARG_FILENAME, &(edition)->photograph, NULL, NULL }, \
  { "full", 0, 0, G_OPTION_ARG_NONE, &(edition)->full, NULL, NULL }, \
  { "large-print", 0, 0, G_OPTION_ARG_NONE, &(edition)->large_print, NULL, NULL }, \
  { "low-ink", 0, 0, G_OPTION_ARG_NONE, &(edition)->low_ink, NULL, NULL }

gboolean   bw_cli_edition_check (const BwCliEdition *asked);
gboolean   bw_cli_edition_date  (gint64             *date);
BwEdition *bw_cli_edition_new   (const BwCliEdition *asked,
                                 const BwDesign     *design,
                                 gint64              date) G_GNUC_WARN_UNUSED_RESULT;
guint      bw_cli_edition_terms (const BwCliEdition *asked,
                                 const BwDesign     *design,
                                 BwTerms             terms[2]);
void       bw_cli_edition_clear (BwCliEdition       *asked);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BwCliEdition, bw_cli_edition_clear)

G_END_DECLS
