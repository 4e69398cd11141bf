#define G_LOG_DOMAIN "bw-reference"

#include "bw-reference-builtin.h"
