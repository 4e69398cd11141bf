#pragma once

#include "bw-library-private.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* A library as full as nobody's, the same for the same seed. Each design has
 * all that a design can have; words come from a vocabulary of which few words
 * are frequent and many are rare. */

typedef struct
{
  guint   n_designs;
  guint   n_readings;
  guint32 seed;
} LibrarySize;

void  library_fill      (BwLibrary         *library,
                         const BwReference *reference,
                         const LibrarySize *size);
char *library_word      (GRand             *rand) G_GNUC_WARN_UNUSED_RESULT;

/* The set that some swatch of the library belongs to, at random. */
void  library_swatch_set (GRand            *rand,
                          char            **yarn,
                          double           *hook_mm,
                          const char      **fabric);

G_END_DECLS
