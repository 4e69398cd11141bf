#pragma once

#include "bw-field-place.h"

G_BEGIN_DECLS

/* What may be chosen for a value that is not typed: texts as the design file
 * has them, and what people read instead. Both arrays run alike. */
typedef struct
{
  GPtrArray *values; /* of char * */
  GPtrArray *labels; /* of char * */
} BwFieldChoices;

gboolean bw_field_choices_fill  (BwFieldChoices     *choices,
                                 const BwFieldPlace *place,
                                 const BwReference  *reference,
                                 const BwDesign     *design);
void     bw_field_choices_clear (BwFieldChoices     *choices);
gboolean bw_field_choices_equal (const BwFieldChoices *a,
                                 const BwFieldChoices *b);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BwFieldChoices, bw_field_choices_clear)

G_END_DECLS
