#pragma once

#include "bw-edition.h"
#include "bw-library-design.h"
#include "bw-publish-kind.h"

G_BEGIN_DECLS

/* Many designs of a library, each to a folder of its own. A design that fails
 * is told and the rest goes on. */

typedef struct
{
  gint64   id;
  char    *name;
  char    *stem;      /* of its folder and its files */
  char    *problem;   /* why it failed; NULL = it did not */
  char    *notice;    /* what is missing though it was published; NULL = nothing */
  char    *warnings;  /* codes of findings that do not stop it: "B07, B12"; empty = none */
  guint    number;    /* of its revision; 0 = a draft, or not published */
  gboolean is_new;    /* the revision was made now */
  gboolean done;      /* FALSE: stopped before it */
  guint    n_files;
} BwPublished;

typedef struct
{
  const char           *folder;
  const BwPublishKind **kinds;    /* NULL-terminated */
  BwTerms               terms[2];
  guint                 n_terms;  /* 0 = each design's own */
  BwEditionForm         form;
  const char           *note;     /* of new revisions */
  gboolean              draft;    /* without a number: nothing is frozen */
  const char           *photos;   /* folder with STEM.png or STEM.jpg; NULL = none */
  gint64                date;     /* of the files */
  guint                 jobs;     /* designs at once */
  const int            *stop;     /* set from elsewhere, it stops between files; NULL = never */

  /* called for each design when it is through, one at a time, from any thread */
  void                (*progress) (const BwPublished *published,
                                   guint              n_done,
                                   guint              n,
                                   gpointer           data);
  gpointer              data;
} BwPublishMany;

void       bw_published_free  (BwPublished         *published);
GPtrArray *bw_publish_many    (BwLibrary           *library,
                               const BwReference   *reference,
                               const GPtrArray     *entries,
                               const BwPublishMany *many) G_GNUC_WARN_UNUSED_RESULT;
char      *bw_publish_stem    (const char          *name) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
