#define G_LOG_DOMAIN "bw-core"

#include "bw-stats.h"
