#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What the readers of our reference tables share: key files, read strictly. */

/* How a published value came to us. */
typedef enum
{
  BW_STATUS_UNSAID,    /* somebody's own figure: no claim is made */
  BW_STATUS_READ,      /* read in the source named */
  BW_STATUS_SECONDARY, /* read in a page that reproduces a standard */
  BW_STATUS_DERIVED,   /* worked out from values that were read */
  BW_STATUS_MEMORY,    /* from memory, not read */
} BwStatus;

/* From least to most; 0 = open at that end. */
typedef struct
{
  double least;
  double most;
} BwRange;

GKeyFile *bw_data_file_load     (const char         *text,
                                 gsize               length,
                                 const char         *what,
                                 GError            **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean  bw_data_file_keys     (GKeyFile           *file,
                                 const char         *group,
                                 const char *const  *known,
                                 GError            **error);
char     *bw_data_file_string   (GKeyFile           *file,
                                 const char         *group,
                                 const char         *key,
                                 GError            **error) G_GNUC_WARN_UNUSED_RESULT;
char     *bw_data_file_optional (GKeyFile           *file,
                                 const char         *group,
                                 const char         *key) G_GNUC_WARN_UNUSED_RESULT;
gboolean  bw_data_file_integer  (GKeyFile           *file,
                                 const char         *group,
                                 const char         *key,
                                 guint               most,
                                 guint              *value,
                                 GError            **error);
gboolean  bw_data_file_range    (GKeyFile           *file,
                                 const char         *group,
                                 const char         *key,
                                 BwRange            *range,
                                 GError            **error);
gboolean  bw_data_file_status   (GKeyFile           *file,
                                 const char         *group,
                                 const char         *key,
                                 BwStatus           *status,
                                 GError            **error);

G_END_DECLS
