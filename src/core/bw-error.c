#define G_LOG_DOMAIN "bw-core"

#include "bw-error.h"

G_DEFINE_QUARK (bw-error-quark, bw_error)
