#pragma once

#include "bw-edition.h"

G_BEGIN_DECLS

/* The kinds of files that a design is published as. */

typedef struct
{
  const char *name;      /* as people type it: "html" */
  const char *ending;    /* of its file's name: "-listing.txt" */
  gboolean    one_size;  /* a file for each size */
  gboolean    worded;    /* UK and US terms differ in it */
  gboolean    text;      /* fit for a terminal */
  char     *(*make) (const BwGrading  *grading,
                     const BwEdition  *edition,
                     gsize            *length,
                     GError          **error);
} BwPublishKind;

const BwPublishKind *bw_publish_kind_at       (guint       index);
const BwPublishKind *bw_publish_kind_find     (const char *name);
const BwPublishKind *bw_publish_kind_for_file (const char *path);
char                *bw_publish_kind_names    (void) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
