#pragma once

#include "bw-library.h"
#include "bw-reference.h"

G_BEGIN_DECLS

/* The whole library in forms that need no program of ours: a folder with a
 * design file for each design, for people and for this program; and every
 * table as comma-separated values, from which the library can be made again.
 *
 *   designs/3-lugger.hat     what each design is now
 *   revisions/3-lugger-2.hat what was published
 *   photographs/swatch-2.jpg photographs that are kept in the library
 *   tables/reading.csv ...   everything; bytes as Base64 (RFC 4648, IETF)
 *
 * The undo history stays behind. */

gboolean bw_library_export_all (BwLibrary         *library,
                                const BwReference *reference,
                                const char        *folder,
                                GPtrArray         *problems,
                                GError           **error);
gboolean bw_library_import_all (BwLibrary         *library,
                                const char        *folder,
                                GError           **error);

G_END_DECLS
