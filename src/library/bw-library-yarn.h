#pragma once

#include "bw-library.h"

G_BEGIN_DECLS

typedef struct
{
  char   *fibre;
  double  percent;
} BwFibre;

typedef struct
{
  char   *lot;     /* dye lot as the band has it */
  char   *colour;
  double  balls;   /* in stock; part-balls count as parts */
} BwYarnLot;

/* A yarn with its lots. Strings are owned and never NULL; 0 = not known. */
typedef struct
{
  gint64  id;            /* 0 = not in the library yet */
  char   *name;
  char   *maker;
  int     weight_class;  /* 0 to 7; -1 = not known */
  char   *uk_name;
  double  metres_per_ball;
  double  grams_per_ball;
  double  price_per_ball;
  char   *currency;
  char   *care;
  GArray *fibres;        /* of BwFibre; none, or they add up to 100 */
  GArray *lots;          /* of BwYarnLot */
} BwLibraryYarn;

BwLibraryYarn *bw_library_yarn_new     (const char           *name) G_GNUC_WARN_UNUSED_RESULT;
void           bw_library_yarn_free    (BwLibraryYarn        *yarn);
void           bw_library_yarn_add_fibre (BwLibraryYarn      *yarn,
                                        const char           *fibre,
                                        double                percent);
void           bw_library_yarn_add_lot (BwLibraryYarn        *yarn,
                                        const char           *lot,
                                        const char           *colour,
                                        double                balls);

gboolean       bw_library_save_yarn    (BwLibrary            *library,
                                        BwLibraryYarn        *yarn,
                                        GError              **error);
BwLibraryYarn *bw_library_get_yarn     (BwLibrary            *library,
                                        gint64                id,
                                        GError              **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean       bw_library_find_yarn    (BwLibrary            *library,
                                        const char           *name,
                                        gint64               *id,
                                        GError              **error);
GPtrArray     *bw_library_list_yarns   (BwLibrary            *library,
                                        const char           *typed,
                                        GError              **error) G_GNUC_WARN_UNUSED_RESULT;
gboolean       bw_library_remove_yarn  (BwLibrary            *library,
                                        gint64                id,
                                        GError              **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (BwLibraryYarn, bw_library_yarn_free)

G_END_DECLS
