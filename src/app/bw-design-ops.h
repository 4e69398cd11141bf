#pragma once

#include "bw-design-fields.h"

G_BEGIN_DECLS

/* Adding, taking away and moving what a design has several of. They change the
 * design they are given; whether the result will do is for grading to say. */

guint    bw_design_ops_count  (const BwDesign    *design,
                               BwGroupId          group);
char    *bw_design_ops_title  (const BwReference *reference,
                               const BwDesign    *design,
                               BwGroupId          group,
                               guint              place) G_GNUC_WARN_UNUSED_RESULT;
gboolean bw_design_ops_add    (const BwReference *reference,
                               BwDesign          *design,
                               BwGroupId          group);
gboolean bw_design_ops_remove (BwDesign          *design,
                               BwGroupId          group,
                               guint              place);
gboolean bw_design_ops_move   (BwDesign          *design,
                               BwGroupId          group,
                               guint              from,
                               guint              to);
gboolean bw_design_ops_can_move (BwGroupId        group);
void     bw_design_ops_pin    (BwDesign          *design,
                               const char        *size,
                               BwPinKind          kind,
                               guint              value);
gboolean bw_design_ops_unpin  (BwDesign          *design,
                               const char        *size,
                               BwPinKind          kind);

G_END_DECLS
