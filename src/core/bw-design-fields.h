#pragma once

#include "bw-design-file.h"
#include "bw-error.h"

G_BEGIN_DECLS

/* Internal to the design file. One table says for every key where its value
 * lies, what it may be and how it is written; reading, writing, checking and
 * the test of the manual page all go through it, so they cannot disagree. */

typedef enum
{
  BW_FIELD_FORMAT,    /* no storage: BW_DESIGN_FILE_FORMAT */
  BW_FIELD_LINE,      /* char *, one line of text */
  BW_FIELD_PROSE,     /* char *, may have several lines */
  BW_FIELD_ID,        /* char *, letters, digits, - and _ */
  BW_FIELD_LENGTH,    /* double, mm */
  BW_FIELD_MASS,      /* double, g */
  BW_FIELD_YARN,      /* double, m */
  BW_FIELD_NUMBER,    /* double */
  BW_FIELD_FRACTION,  /* double, typed as a percentage */
  BW_FIELD_COUNT,     /* guint */
  BW_FIELD_INTEGER,   /* int */
  BW_FIELD_SWITCH,    /* gboolean, yes or no */
  BW_FIELD_WORD,      /* an enumeration, by words */
  BW_FIELD_INCH,      /* double, BW_MM_PER_INCH or BW_MM_PER_INCH_ROUND */
  BW_FIELD_LETTER,    /* guint8, a colour's letter */
  BW_FIELD_RGB,       /* guint32, #RRGGBB */
  BW_FIELD_EASE,      /* BwEase */
  BW_FIELD_OWN_EASE,  /* BwEase, and a gboolean at flag_offset that says it is there */
  BW_FIELD_STRIPE,    /* GArray of BwStripeStep */
  BW_FIELD_COUNTS,    /* GArray of guint */
  BW_FIELD_STITCHES,  /* GArray of BwReading: those across */
  BW_FIELD_ROUNDS,    /* GArray of BwReading: those upwards */
  BW_FIELD_GAUGE,     /* GArray of BwReading: both, from a stated gauge; never printed */
  BW_FIELD_USE,       /* GArray of BwSizeChoice: their ids */
  BW_N_FIELD_KINDS,
} BwFieldKind;

typedef enum
{
  BW_FIELD_REQUIRED = 1 << 0, /* reading refuses a group without it */
  BW_FIELD_ALWAYS   = 1 << 1, /* written even where it is the default */
  BW_FIELD_UNSAID   = 1 << 2, /* 0 (an integer: -1) means "not said" and is always allowed */
  BW_FIELD_SMALL    = 1 << 3, /* a length that people say in mm */
  BW_FIELD_OF_SIZE  = 1 << 4, /* offset is in the BwSize that the BwSizeChoice points to */
} BwFieldFlags;

typedef struct
{
  const char *word;
  int         value;
} BwFieldWord;

typedef struct
{
  const char        *key;
  BwFieldKind        kind;
  guint              flags;       /* BwFieldFlags */
  gsize              offset;      /* in the structure of the group */
  double             min;         /* smallest and largest value; of a list: of each value, */
  double             max;         /* of a text: max is its longest length in bytes */
  const BwFieldWord *words;       /* ends with a NULL word */
  gsize              flag_offset;
} BwField;

/* The order is the order of reading and writing. */
typedef enum
{
  BW_GROUP_DESIGN,    /* of BwDesign */
  BW_GROUP_YARN,      /* of BwDesign */
  BW_GROUP_COLOUR,    /* of BwColour; "Colour A" */
  BW_GROUP_SWATCH,    /* of BwSwatch; "Swatch ID" */
  BW_GROUP_SIZES,     /* of BwDesign */
  BW_GROUP_SIZE,      /* of BwSizeChoice; "Size ID" */
  BW_GROUP_BRIM,      /* of BwDesign */
  BW_GROUP_BAND,      /* of BwBand; "Band 1" */
  BW_GROUP_CROWN,     /* of BwDesign */
  BW_GROUP_FINISHING, /* of BwDesign */
  BW_GROUP_RULES,     /* of BwDesign */
  BW_GROUP_PINS,      /* of BwPin; keys are SIZE.KEY */
  BW_N_GROUPS,
} BwGroupId;

typedef struct
{
  const char    *name;
  gboolean       many;     /* the header goes on with a letter, a number or an id */
  const BwField *fields;
  guint          n_fields;
} BwFieldGroup;

/* What reading and writing a value needs to know besides the value. */
typedef struct
{
  const BwReference *reference;
  BwUnits            units;       /* of a bare length */
  double             mm_per_inch;
  const char        *group;       /* header, for messages */
  const char        *key;         /* for messages; NULL = the field's own */
} BwFieldContext;

#define BW_DESIGN_SWATCHES_MAX 40
#define BW_DESIGN_READINGS_MAX 200 /* of one swatch */
#define BW_DESIGN_ID_MAX       40  /* bytes */

const BwFieldGroup *bw_field_group        (BwGroupId             id);
const BwField      *bw_field_find         (const BwFieldGroup   *group,
                                           const char           *key);

gboolean            bw_field_is_list      (BwFieldKind           kind);
gpointer            bw_field_value        (const BwField        *field,
                                           gpointer              base);
gboolean            bw_field_read         (const BwField        *field,
                                           const BwFieldContext *context,
                                           gpointer              base,
                                           const char           *text,
                                           GError              **error);
char               *bw_field_print        (const BwField        *field,
                                           const BwFieldContext *context,
                                           gconstpointer         base) G_GNUC_WARN_UNUSED_RESULT;
gboolean            bw_field_check        (const BwField        *field,
                                           const BwFieldContext *context,
                                           gconstpointer         base,
                                           GError              **error);
char               *bw_field_expectation  (const BwField        *field,
                                           const BwFieldContext *context) G_GNUC_WARN_UNUSED_RESULT;
gboolean            bw_field_is_typed     (double                value);
gboolean            bw_field_refuse       (const BwField        *field,
                                           const BwFieldContext *context,
                                           BwError               code,
                                           const char           *text,
                                           GError              **error);
void                bw_field_append_number (GString             *out,
                                            double               value);
void                bw_field_append_length (GString             *out,
                                            const BwFieldContext *context,
                                            double               mm,
                                            gboolean             in_mm);
void                bw_field_append_fraction (GString           *out,
                                              double             fraction);
gboolean            bw_field_parse_count  (const char           *text,
                                           double                min,
                                           double                max,
                                           guint                *count);

/* The kinds whose values are lists; see bw-design-list.c. */
gboolean            bw_field_list_read    (const BwField        *field,
                                           const BwFieldContext *context,
                                           gpointer              base,
                                           const char           *text,
                                           GError              **error);
void                bw_field_list_print   (const BwField        *field,
                                           const BwFieldContext *context,
                                           gconstpointer         base,
                                           GString              *out);
gboolean            bw_field_list_in_range (const BwField       *field,
                                            gconstpointer        base);

char              **bw_field_split        (const char           *text,
                                           const char           *separator)
                                           G_GNUC_WARN_UNUSED_RESULT;
BwSize             *bw_field_blank_size   (const char           *id) G_GNUC_WARN_UNUSED_RESULT;
gboolean            bw_field_readings_read (const BwField       *field,
                                            const BwFieldContext *context,
                                            GArray              *readings,
                                            const char          *text,
                                            GError             **error);
void                bw_field_readings_print (const BwField      *field,
                                             const BwFieldContext *context,
                                             const GArray       *readings,
                                             GString            *out);
gboolean            bw_field_readings_in_range (const BwField   *field,
                                                const GArray    *readings);

/* Names that must be known; see bw-design-names.c. */
gboolean bw_design_check_fabric (const BwReference  *reference,
                                 const char         *group,
                                 const char         *key,
                                 const char         *fabric,
                                 gboolean            may_be_brim,
                                 GError            **error);
gboolean bw_design_check_plain_fabric (const BwReference  *reference,
                                       const char         *group,
                                       const char         *key,
                                       const char         *id,
                                       GError            **error);
gboolean bw_design_check_swatch_name (const BwDesign  *design,
                                      const char      *group,
                                      const char      *key,
                                      const char      *id,
                                      GError         **error);
gboolean bw_design_check_letter (const BwDesign  *design,
                                 const char      *group,
                                 const char      *key,
                                 guint8           colour,
                                 GError         **error);
gboolean bw_design_check_stripe (const BwDesign  *design,
                                 const char      *group,
                                 const GArray    *stripe,
                                 GError         **error);

/* The nearest of several known names, for "did you mean". */
typedef struct
{
  const char *wanted;
  const char *best;     /* borrowed; NULL = nothing near enough yet */
  guint       distance;
} BwNearest;

void                bw_nearest_init       (BwNearest            *nearest,
                                           const char           *wanted);
void                bw_nearest_offer      (BwNearest            *nearest,
                                           const char           *known);
char               *bw_nearest_question   (const BwNearest      *nearest) G_GNUC_WARN_UNUSED_RESULT;
char               *bw_field_quote        (const char           *text) G_GNUC_WARN_UNUSED_RESULT;
gboolean            bw_design_id_is_valid (const char           *id);
void                bw_design_set_error   (GError              **error,
                                           BwError               code,
                                           const char           *group,
                                           const char           *key,
                                           const char           *format,
                                           ...) G_GNUC_PRINTF (5, 6);

gboolean            bw_design_scan        (const char           *text,
                                           gsize                 length,
                                           GError              **error);
gboolean            bw_design_identify_group (const char         *group,
                                              BwGroupId          *id,
                                              const char        **rest,
                                              guint              *place,
                                              GError            **error);
char               *bw_design_group_name  (BwGroupId             id,
                                           const BwDesign       *design,
                                           guint                 place) G_GNUC_WARN_UNUSED_RESULT;

G_END_DECLS
