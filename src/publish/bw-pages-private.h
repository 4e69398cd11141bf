#pragma once

#include "bw-page-flow.h"
#include "bw-pages.h"

G_BEGIN_DECLS

struct _BwPages
{
  BwPageFlow *flow;
  char       *title;
  char       *designer;
  char       *summary;
  char       *tags;      /* keywords of the file */
  char       *running;   /* at the foot of every page */
  gint64      date;
  GPtrArray  *remarks;   /* of char *: what could not be done as asked */
};

void bw_pages_draw_tagged (const BwPages *pages,
                           guint          n,
                           gboolean       tagged,
                           cairo_t       *cr);

G_END_DECLS
